"""How a fit is shown: what is to be made, in the unit typed, both sides' sizes, and the zones to scale."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from calc import pictures, records, registry
from calc.catalogue.fit import FIT
from calc.entries import read_entries
from calc.figures import Drawing, Path, Text
from calc.figures_fit import signed, zones


def run(unit="inch", **entered):
    return records.run(registry.get("fit"), entered, unit=unit)


def answer(unit="inch", **entered):
    return records.answer_of(run(unit, **entered))


def facts(shown):
    return {fact["label"]: f"{fact['value']} {fact['small']}".strip() for fact in shown["facts"]}


def lines(shown):
    return {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}


# ---- the box and the sizes -------------------------------------------------------------------------------


def test_answer_of_a_press_fit_tells_the_shaft_the_hole_and_the_interference():
    """40 H7/p6: 40.000 to 40.025, 40.026 to 40.042, interference 0.001 to 0.042 (by hand from ISO 286-1)."""
    shown = answer(nominal="40 mm", hole="H7", shaft="p6")
    assert shown["over"] == "H7/p6 on 40 mm: shaft to be turned between"
    assert shown["big"] == "Shaft 40.026 to 40.042 mm"
    assert facts(shown) == {
        "Hole, H7": "40.000 to 40.025 mm",
        "Interference": "0.001 to 0.042 mm",
        "Kind": "interference fit",
    }
    assert "locating, interference" in shown["under"]
    assert "ISO 286-1, tables of standard tolerance grades" in shown["under"]
    assert shown["units"] == "millimetres"
    assert shown["sizes"]["columns"] == ["Hole H7", "Shaft p6"]
    assert lines(shown)["Upper limit, mm"] == ["40.025", "40.042"]
    assert lines(shown)["Lower deviation, µm"] == ["0", "26"]
    assert [line["label"] for line in shown["sizes"]["lines"] if line["finished"]] == [
        "Upper limit, mm", "Lower limit, mm",
    ]  # fmt: skip


def test_answer_of_a_hole_as_measured_tells_what_to_turn_in_inches_as_typed():
    """1 1/4 in H8/f7, hole 1.2530: shaft 1.2510 to 1.2520 in, clearance 0.0010 to 0.0020 (by hand)."""
    shown = answer(nominal="1 1/4", hole="H8", shaft="f7", hole_measured="1.2530")
    assert shown["over"] == "H8/f7 on 1 1/4 in: shaft to be turned to suit the hole as measured, between"
    assert shown["big"] == "Shaft 1.2510 to 1.2520 in"
    assert shown["big_small"] == "31.7762 to 31.8012 mm"
    assert facts(shown)["Hole as measured"] == "1.2530 in"
    assert facts(shown)["Hole, H8"] == "1.2500 to 1.2515 in"
    assert facts(shown)["Clearance"] == "0.0010 to 0.0020 in"
    assert "over its upper limit by 0.0372 mm (0.0015 in)" in shown["beware"][0]["text"]
    assert lines(shown)["To suit, upper limit, in"] == ["", "1.2520"]
    assert lines(shown)["By symbol, upper, in"] == ["1.2515", "1.2490"]


def test_answer_of_a_transition_tells_the_most_of_each_and_nothing_below_nought():
    found = facts(answer(nominal="100 mm", hole="H7", shaft="k6"))
    assert found["Greatest clearance"] == "0.032 mm"
    assert found["Greatest interference"] == "0.025 mm"
    assert not any("−" in value for value in found.values())


@pytest.mark.parametrize(
    ("entered", "big"),
    [
        ({"hole": "JS9"}, "Hole 24.974 to 25.026 mm"),
        ({"shaft": "h6"}, "Shaft 24.987 to 25.000 mm"),
        ({"hole": "K7", "shaft": "h6"}, "Hole 24.985 to 25.006 mm"),  # the shaft is stock
        ({"hole": "H7", "shaft": "h6"}, "Shaft 24.987 to 25.000 mm"),
        ({"hole": "H7", "shaft": "p6", "shaft_measured": "25.030 mm"}, "Hole 24.995 to 25.016 mm"),
    ],
)
def test_answer_when_sides_differ_then_big_is_the_one_to_be_worked_to_size(entered, big):
    """25 mm by hand from ISO 286-1: IT9 52, IT6 13, IT7 21, K7 −2 + 8, p6 35."""
    assert answer(nominal="25 mm", **entered)["big"] == big


@pytest.mark.parametrize(
    ("entered", "big"),
    [
        # 38.1 H7/p6 has 1 µm of interference at the least, 0.00004 in: four places would show none.
        ({"nominal": "1.5 in", "hole": "H7", "shaft": "p6"}, "Shaft 1.50102 to 1.50165 in"),
        # IT01 over 10 to 18 mm is 0.5 µm, 0.00002 in (Machine Drawing, Table 15.1).
        ({"nominal": "1/2 in", "shaft": "h01"}, "Shaft 0.49998 to 0.50000 in"),
        ({"nominal": "12 mm", "shaft": "h01"}, "Shaft 11.9995 to 12.0000 mm"),
        ({"nominal": "1 in", "hole": "H7", "shaft": "g6"}, "Shaft 0.9992 to 0.9997 in"),
    ],
)
def test_places_when_four_would_not_tell_limits_or_play_apart_then_more(entered, big):
    assert answer(**entered)["big"] == big


def test_notes_when_the_grade_is_from_memory_then_it_is_said_before_cutting():
    assert "from memory" in answer(nominal="600 mm", hole="H12")["notes"][0]


# ---- the working -----------------------------------------------------------------------------------------


def test_working_when_typed_in_inches_then_begins_with_the_conversion_and_in_millimetres_not():
    inches = run(nominal="1 1/4", hole="H8", shaft="f7", hole_measured="31.8262 mm").outcome.working
    assert (inches[0].figures, inches[0].value) == ("1.25 × 25.4", "31.750")
    assert "25.4" not in inches[1].figures
    assert "25.4" not in run(nominal="31.75 mm", hole="H8").outcome.working[0].figures
    assert "25.4" not in run("mm", nominal="31.75", hole="H8").outcome.working[0].figures


def test_working_when_the_command_prints_it_then_the_same_as_the_page():
    entered = {"nominal": "1 1/4", "hole": "H8", "shaft": "f7", "hole_measured": "1.2530"}
    out = StringIO()
    typed = [f"{name}={text}" for name, text in entered.items()]
    call_command("calculate", "fit", *typed, "--json", stdout=out)
    assert json.loads(out.getvalue()) == json.loads(json.dumps(records.as_json(run(**entered))))


@pytest.mark.parametrize(
    ("entered", "field", "says"),
    [
        (["nominal=10 mm", "shaft=t6"], "shaft", "does not define t6 at 10 mm"),
        (["nominal=40 mm", "hole=h7"], "hole", "Write H7 if the hole is meant"),
        (["nominal=3151 mm", "hole=H7"], "nominal", "3150 mm"),
        (["nominal=40 mm"], "hole", "a hole, a shaft or both"),
        (["hole=H7"], "nominal", "Nothing is entered"),
    ],
)
def test_command_when_an_entry_is_wrong_then_ends_with_2_and_names_it(entered, field, says):
    out = StringIO()
    with pytest.raises(SystemExit) as ended:
        call_command("calculate", "fit", *entered, "--json", stdout=out)
    assert ended.value.code == 2
    error = json.loads(out.getvalue())["error"]
    assert error["field"] == field
    assert says in error["message"]


# ---- the picture -----------------------------------------------------------------------------------------


def drawn(**entered) -> Drawing:
    return pictures.drawing(answer(**entered)["pictures"][0])


def words(drawing):
    return [stroke.text for stroke in drawing.strokes if isinstance(stroke, Text)]


def outlines(drawing):
    """Top and bottom of each zone, left to right."""
    found = [one for one in drawing.strokes if isinstance(one, Path) and one.role == "o" and one.closed]
    return [(min(y for _, y in one.points), max(y for _, y in one.points)) for one in found]


def test_zones_when_drawn_then_to_one_scale_about_the_zero_line():
    """40 H7/p6: 0 to 25 and 26 to 42."""
    hole, shaft = outlines(drawn(nominal="40 mm", hole="H7", shaft="p6"))
    unit = (hole[1] - hole[0]) / 25
    assert shaft[1] - shaft[0] == pytest.approx(16 * unit)
    assert hole[0] - shaft[1] == pytest.approx(unit)


@pytest.mark.parametrize(
    ("entered", "said"),
    [
        ({"hole": "H7", "shaft": "p6"}, ["+25", "0", "+42", "+26", "1 µm", "42 µm", "interference"]),
        ({"hole": "H7", "shaft": "g6"}, ["−9", "−25", "50 µm", "9 µm", "clearance", "greatest", "least"]),
        ({"hole": "H7", "shaft": "k6"}, ["+18", "+2", "23 µm", "18 µm", "clearance", "interference"]),
        ({"hole": "JS9"}, ["+31", "−31", "0", "tolerance", "62 µm"]),
        ({"shaft": "h6"}, ["0", "−16", "16 µm"]),
    ],
)
def test_zones_when_drawn_then_limits_and_play_are_written_beside(entered, said):
    """40 mm by hand from ISO 286-1: IT7 25, IT6 16, IT9 62; g −9, k +2, p +26."""
    drawing = drawn(nominal="40 mm", **entered)
    assert set(said) <= set(words(drawing))
    assert "zero line: 40 mm; figures in µm" in words(drawing)


def test_zones_when_the_hole_is_measured_then_a_line_stands_at_its_size():
    drawing = drawn(nominal="1 1/4 in", hole="H8", shaft="f7", hole_measured="1.2530 in")
    (line,) = [one for one in drawing.strokes if isinstance(one, Path) and one.role == "hl"]
    hole, shaft = outlines(drawing)
    unit = (hole[1] - hole[0]) / 39
    assert hole[1] - line.points[0][1] == pytest.approx(76.2 * unit, rel=1e-3)
    assert shaft[0] - line.points[0][1] == pytest.approx(25 * unit, rel=1e-3)
    assert {"+76.2", "strong line: the hole as measured"} <= set(words(drawing))


def test_figures_when_zones_are_thin_then_none_stands_on_another():
    drawing = zones(nominal="12 mm", hole="H14", shaft="h01", hole_um=(430, 0), shaft_um=(0, -0.5))
    places = [(one.x, one.y) for one in drawing.strokes if isinstance(one, Text)]
    beside = [(x, y) for x, y in places if y > 84 - 10]
    assert all(
        abs(y1 - y2) >= 17 or abs(x1 - x2) > 60
        for index, (x1, y1) in enumerate(beside)
        for x2, y2 in beside[index + 1 :]
    )


def test_strokes_when_drawn_then_all_inside_the_window():
    for entered in (
        {"hole": "H7", "shaft": "p6"},
        {"hole": "H11", "shaft": "c11"},
        {"hole": "JS9"},
        {"shaft": "u8"},
    ):
        drawing = drawn(nominal="75 mm", **entered)
        for stroke in drawing.strokes:
            for x, y in stroke.points if isinstance(stroke, Path) else [(stroke.x, stroke.y)]:
                assert 0 <= x <= drawing.width
                assert 0 <= y <= drawing.height


def test_label_when_read_aloud_then_it_tells_both_zones():
    drawing = drawn(nominal="40 mm", hole="H7", shaft="g6")
    assert drawing.label == (
        "Tolerance zones to scale, in micrometres from the nominal size: "
        "hole H7 from 0 to +25 and shaft g6 from −25 to −9"
    )
    assert [signed(value) for value in (12.5, 0, -0.04, -7)] == ["+12.5", "0", "0", "−7"]


@pytest.mark.parametrize(
    ("nominal", "said"),
    [
        ("2 in", "Fit, 2 in (50.8 mm) H7/p6"),
        ("1 1/4 in", "Fit, 1 1/4 in (31.75 mm) H7/p6"),
        ("50.8 mm", "Fit, 2 in (50.8 mm) H7/p6"),
        ("40 mm", "Fit, 40 mm H7/p6"),
        ("1.003 in", "Fit, 25.4762 mm H7/p6"),
    ],
)
def test_subject_when_the_size_is_of_the_inch_rule_then_it_is_named_so_as_well(nominal, said):
    read = read_entries(FIT, {"nominal": nominal, "hole": "H7", "shaft": "p6"})
    assert FIT.subject(read.inputs) == said
