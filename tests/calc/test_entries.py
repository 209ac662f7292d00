"""What is typed against what a calculation asks for: readings, clean inputs, and every fault at once."""

from dataclasses import replace
from fractions import Fraction

import pytest

from calc.calculation import Input
from calc.entries import EntryErrors, plain_json, read_entries, worked_json
from calc.registry import get

INDEXING = get("indexing")
BORE = Input(
    name="bore",
    label="Bore",
    kind="length",
    help="Of the hub.",
    low=Fraction(1),
    high=Fraction(254),
    reason="It fits.",
)
WITH_LENGTH = replace(INDEXING, inputs=(BORE,))


def errors_of(entered, calculation=INDEXING, **more):
    with pytest.raises(EntryErrors) as refused:
        read_entries(calculation, entered, **more)
    return refused.value.messages


def test_entries_when_read_then_inputs_are_in_base_units_and_each_is_echoed():
    read = read_entries(INDEXING, {"divisions": "84", "circles": "42 / 21,23", "change_gears": "24, 24"})
    assert read.inputs == {
        "divisions": 84, "angle": None, "ratio": 40, "circles": ((42,), (21, 23)),
        "change_gears": (24, 24), "keep_quarter": "no", "direct_circles": None,
    }  # fmt: skip
    assert read.readings == {
        "divisions": "84", "ratio": "40, as usual", "circles": "3 circles on 2 faces",
        "change_gears": "2: 24, 24", "keep_quarter": "no, as usual",
    }  # fmt: skip


def test_entries_when_several_are_wrong_then_every_one_is_named_and_nothing_is_read():
    messages = errors_of(
        {"divisions": "9**9", "ratio": "0", "circles": "", "angel": "3", "keep_quarter": "maybe"}
    )
    assert set(messages) == {"divisions", "ratio", "circles", "angel", "keep_quarter"}
    assert messages["ratio"].startswith("0 is too small: 1 to 360.")
    assert messages["circles"].startswith("Nothing is entered.")
    assert "angle" in messages["angel"]
    assert messages["keep_quarter"].endswith("write no or yes.")


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("divisions", "1", "1 is too small: 2 to 10000."),
        ("divisions", "10001", "10001 is too great: 2 to 10000."),
        ("divisions", "-84", "-84 is too small: 2 to 10000."),
        ("divisions", "9" * 40, "9999999999999999999… is too great"),
        ("angle", "0", "0° is too small: 1′ to 360°."),
        ("angle", "361", "361° is too great: 1′ to 360°."),
        ("circles", "1", "1 is too small: 2 to 1000."),
        (
            "circles",
            ",".join(map(str, range(10, 51))),
            "Face 1 has 41 circles, and 40 are the most on one face.",
        ),
        ("circles", "/".join(["20"] * 101), "There are 101 in the list, and 100 are the most."),
        ("change_gears", ",".join(["24"] * 31), "There are 31 in the list, and 30 are the most."),
    ],
)
def test_entry_when_outside_its_limit_then_the_message_names_limit_and_reason(name, text, said):
    message = errors_of({"divisions": "8", "circles": "20"} | {name: text})[name]
    assert message.startswith(said)
    assert len(message) > len(said)


@pytest.mark.parametrize(
    ("text", "unit", "value"), [("2", "inch", "50.8"), ("2", "mm", "2"), ("2 in", "mm", "50.8")]
)
def test_length_when_bare_then_it_takes_the_unit_given(text, unit, value):
    assert read_entries(WITH_LENGTH, {"bore": text}, unit=unit).inputs["bore"] == Fraction(value)


@pytest.mark.parametrize(("text", "limits"), [("11 in", "0.0394 in to 10 in"), ("0.5 mm", "1 mm to 254 mm")])
def test_length_when_outside_its_limit_then_the_limit_is_in_the_unit_typed(text, limits):
    assert limits in errors_of({"bore": text}, WITH_LENGTH)["bore"]


@pytest.mark.parametrize("text", ["yes", " Yes ", "YES"])
def test_choice_when_written_in_any_case_then_it_is_taken(text):
    entered = {"divisions": "8", "circles": "20", "keep_quarter": text}
    assert read_entries(INDEXING, entered).inputs["keep_quarter"] == "yes"


def test_json_when_made_then_it_has_the_names_of_the_contract_and_unrounded_numbers():
    entered = {"angle": "24'", "circles": "23"}
    inputs = read_entries(INDEXING, entered).inputs
    found = worked_json(INDEXING, entered, inputs, INDEXING.function(**inputs))
    assert list(found) == [
        "calculation", "revision", "entered", "inputs", "results", "working", "warnings", "sources",
    ]  # fmt: skip
    assert found["entered"] == entered
    assert found["inputs"]["angle"] == 0.4
    assert found["results"]["nearest"][0]["error_arcsec"] == float(Fraction(-720, 23))
    assert set(found["working"][0]) == {"label", "formula", "figures", "value", "unit", "source"}
    assert found["sources"][0]["key"] == "mh1916"


def test_plain_json_when_given_fractions_then_whole_ones_are_counts():
    assert plain_json({"a": Fraction(4, 2), "b": (Fraction(1, 2), None)}) == {"a": 2, "b": [0.5, None]}


# ---- pitch, module, bare figures, symbols ----------------------------------------------------------------


def of_kind(kind, **more):
    field = Input(name="it", label="It", kind=kind, help="Of the gear.", reason="So it is.", **more)
    return replace(INDEXING, inputs=(field,))


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("pitch", "8", Fraction(8)),
        ("module", "2", Fraction(2)),
        ("number", "-0.25", Fraction(-1, 4)),
        ("symbol", "js6", "js6"),
    ],
)
def test_entries_when_bare_then_only_a_length_takes_the_default_unit(kind, text, value, unit):
    assert read_entries(of_kind(kind), {"it": text}, unit=unit).inputs == {"it": value}


@pytest.mark.parametrize(
    ("kind", "text", "said"),
    [
        ("pitch", "400", "400 DP is too great: 1 DP to 200 DP. So it is."),
        ("module", "0.5", "0.5 MOD is too small: 1 mm to 200 mm. So it is."),
        ("number", "-3", "-3 is too small: 1 to 200. So it is."),
    ],
)
def test_entries_when_past_a_limit_then_the_limit_is_named_in_its_unit(kind, text, said):
    calculation = of_kind(kind, low=Fraction(1), high=Fraction(200))
    assert errors_of({"it": text}, calculation) == {"it": said}


def test_choice_when_none_is_made_then_the_choices_are_named_and_what_they_decide():
    with pytest.raises(EntryErrors) as refused:
        read_entries(get("keyway"), {"shaft_diameter": "1 in"})
    message = refused.value.messages["standard"]
    assert message.startswith("Nothing is chosen: bs46, b17.1 or iso773.")
    assert "standard the drawing names" in message
