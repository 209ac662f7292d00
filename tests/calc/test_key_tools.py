"""The answers of broaching and of the strength of a key, the hub drawn after each pass, their entries."""

from math import hypot

import pytest

from calc import measures, quantities
from calc.answers.broaching import answer as broaching_answer
from calc.answers.broaching import tables
from calc.answers.key_strength import answer as strength_answer
from calc.answers.shapes import Case
from calc.entries import EntryErrors, read_entries
from calc.figures import Path, Text, to_svg
from calc.figures_broaching import WRITTEN, passes, written_on
from calc.pictures import drawing
from calc.registry import get

BROACHED = {
    "bore": "1.125 in", "key_width": "1/4 in", "hub_crown_depth": "0.116 in", "rise_per_pass": "0.045 in",
    "shims": "0.045, 0.020, 0.006 in", "hub_length": "1 3/4 in", "guide_length": "2 in",
}  # fmt: skip
LOADED = {
    "power": "5 hp", "speed": "210", "shaft": "1 1/8 in", "key_width": "1/4 in", "key_height": "1/4 in",
    "length": "1 1/4 in", "allowable_shear": "7000 psi", "allowable_crushing": "14000 psi",
}  # fmt: skip


def case_of(key, entered):
    calculation = get(key)
    read = read_entries(calculation, entered)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return Case(inputs=read.inputs, results=outcome.results, warnings=warnings, entered=entered)


def words(drawn):
    return [stroke.text for stroke in drawn.strokes if isinstance(stroke, Text)]


def test_broaching_when_answered_then_passes_sizes_and_dangers_stand_there():
    """By hand: 0.045 and 0.045 + 0.020 + 0.006 = 0.071 behind it, so 1.125 + 0.116 = 1.241."""
    case = case_of("broaching", BROACHED)
    shown = broaching_answer(case)
    assert shown["big"] == "3 passes, to 1.241 in"
    assert shown["big_small"] == "31.52 mm"
    assert "At the press" in [one["title"] for one in shown["beware"]]
    lines = {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}
    assert lines["Depth from the crown of the bore"] == ["0.116", "0.116"]
    assert lines["Depth at the wall"] == ["0.130", "0.130"]
    assert lines["Across the bore"] == ["1.241", "1.241"]
    rows = [row["cells"] for row in tables(case)[0]["rows"]]
    assert rows[0] == ["1", "no shim", "—", "0.045", "1.170"]
    assert rows[2] == ["3", "0.071", "0.045 + 0.02 + 0.006", "0.116", "1.241"]


def test_broaching_when_the_key_is_metric_then_in_millimetres():
    entered = {"bore": "30 mm", "key_width": "8 mm", "hub_crown_depth": "3.3 mm", "rise_per_pass": "3.4 mm"}
    shown = broaching_answer(case_of("broaching", entered))
    assert shown["big"] == "1 pass, to 33.40 mm"
    assert shown["units"] == "millimetres"
    calculation = get("broaching")
    case = case_of("broaching", entered)
    assert calculation.headline(dict(case.inputs), dict(case.results)) == (
        "1 pass, no shim: 33.40 mm across the bore"
    )


def test_strength_when_answered_then_the_length_wanted_is_in_both_units():
    """63,025 × 5/210 = 1500.6 lbf in; 2 × 1500.6/1.125 = 2667.7 lbf; /(0.25 × 7000) = 1.524 in."""
    shown = strength_answer(case_of("key-strength", LOADED))
    assert (shown["big"], shown["big_small"]) == ("1.524 in", "38.7 mm")
    assert "rounded ends are not counted" in shown["under"]
    # Half the height at twice the stress gives the same length in crushing.
    lines = {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}
    assert lines["Length for crushing"] == lines["Length for shear"] == ["38.7 mm", "1.524 in"]
    assert lines["Shear allowed"] == ["48.3 MPa", "7000 psi"]
    assert [one["title"] for one in shown["beware"]] == ["Too much in shear", "Too much in crushing"]
    assert len(strength_answer(case_of("key-strength", LOADED | {"length": ""}))["beware"]) == 0


@pytest.mark.parametrize("depths", [[1.5], [1.143, 2.286, 2.946], [0.3 * one for one in range(1, 13)]])
def test_hub_when_drawn_then_each_floor_is_to_scale_and_its_size_written(depths):
    drawn = passes(bore=28.575, key_width=6.35, depths=depths)
    cut = next(one for one in drawn.strokes if isinstance(one, Path) and one.role == "cut").points
    radius = max(hypot(x, y) for x, y in cut[:-2])
    scale = 2 * radius / 28.575
    floors = [one.points[0][1] for one in drawn.strokes if isinstance(one, Path) and one.role == "t0"]
    floors.append(cut[-1][1])
    assert [-floor - radius for floor in floors] == pytest.approx([depth * scale for depth in depths])
    assert cut[-1][0] - cut[-2][0] == pytest.approx(6.35 * scale)
    for place in written_on(len(depths)):
        assert f"{place + 1}: {(28.575 + depths[place]) / 25.4:.3f}" in words(drawn)
    assert len(written_on(len(depths))) == min(len(depths), WRITTEN)
    assert to_svg(drawn).startswith("<svg")


@pytest.mark.parametrize(
    "entered",
    [
        BROACHED,
        {"bore": "12 mm", "key_width": "6 mm", "hub_crown_depth": "5.9 mm", "rise_per_pass": "0.6 mm",
         "shims": "0.5, 0.5, 0.4, 0.6, 0.6, 0.6, 0.6, 0.6, 0.6, 0.6 mm"},
        {"bore": "300 mm", "key_width": "2 mm", "hub_crown_depth": "0.2 mm", "rise_per_pass": "0.2 mm"},
    ],
)  # fmt: skip
def test_hub_when_drawn_then_nothing_leaves_the_window(entered):
    drawn = drawing(broaching_answer(case_of("broaching", entered))["pictures"][0])
    for stroke in drawn.strokes:
        points = stroke.points if isinstance(stroke, Path) else [(stroke.x, stroke.y)]
        for x, y in points:
            assert drawn.x <= x <= drawn.x + drawn.width
            assert drawn.y <= y <= drawn.y + drawn.height
        if isinstance(stroke, Text):
            wide = 0.6 * stroke.size * len(stroke.text)
            ends = {"start": (0, wide), "end": (-wide, 0), "middle": (-wide / 2, wide / 2)}[stroke.anchor]
            assert drawn.x <= stroke.x + ends[0]
            assert stroke.x + ends[1] <= drawn.x + drawn.width


# ---- entries -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "text", "base", "echo"),
    [
        ("torque", "120 N m", 120, "120 N m = 88.507 lbf ft"),
        ("torque", "90 ft-lb", 122.0236, "90 lbf ft = 122.024 N m"),
        ("torque", "1080 lbf·in", 122.0236, "1080 lbf in = 122.024 N m"),
        ("power", "5 hp", 3728.4994, "5 hp = 3728.499 W"),
        ("power", "1 1/2 hp", 1118.5498, "1 1/2 hp = 1118.55 W"),
        ("power", "3kW", 3000, "3 kW = 4.023 hp"),
        ("stress", "3 ton/in2", 46.33277, "3 tonf/in² of 2,240 lb = 46.333 MPa"),
        ("stress", "50 N/mm²", 50, "50 MPa = 7251.887 psi"),
        ("stress", "4547 N/cm2", 45.47, "4547 N/cm² = 6594.866 psi"),
        ("rpm", "120", 120, "120 turns a minute"),
        ("rpm", "2 rev/s", 120, "2 turns a second = 120 turns a minute"),
    ],
)
def test_quantity_when_typed_then_read_in_its_unit_and_echoed_in_the_other(kind, text, base, echo):
    """550 ft lbf/s, 0.3048 m, 0.45359237 kg and 9.80665 m/s² by definition: 1 hp = 745.6999 W."""
    found = quantities.parse(kind, text)
    assert float(found.base) == pytest.approx(base)
    assert found.echo() == echo


@pytest.mark.parametrize(
    ("kind", "text", "base", "echo"),
    [
        ("torque", "90", 90, "90 N m = 66.381 lbf ft, taken as N m"),
        ("stress", "50", 50, "50 MPa = 7251.887 psi, taken as MPa"),
        ("rpm", "120", 120, "120 turns a minute"),
    ],
)
def test_quantity_when_bare_then_in_the_base_unit_and_the_reading_says_so(kind, text, base, echo):
    found = quantities.parse(kind, text)
    assert found.base == base
    assert found.echo() == echo


@pytest.mark.parametrize(
    ("kind", "text", "said"),
    [
        ("torque", "90 kg", "not what follows it"), ("power", "", "Nothing"), ("power", "5", "has no unit"),
        ("speed", "90", "has no unit"),
        ("power", "1e3 W", "not what follows it"), ("stress", "7,000 psi", "write 7.000 or 7000"),
        ("stress", "psi", "write"), ("rpm", "fast", "write"), ("power", "4*5 kW", "only plain figures"),
        ("torque", "12 34 N m", "not"), ("rpm", "120 mm", "not what follows it"),
    ],
)  # fmt: skip
def test_quantity_when_it_cannot_be_read_then_it_says_what_to_write(kind, text, said):
    with pytest.raises(measures.EntryError) as refused:
        quantities.parse(kind, text)
    assert said.lower() in refused.value.message.lower()


@pytest.mark.parametrize(
    ("text", "units"),
    [("0.058, 0.030 in, 1 mm", ["in", "in", "mm"]), ("58 thou, 20", ["thou", "thou"]),
     ("0.5, 1", ["mm", "mm"]), ("1/16 in, 1/32, 0.5 mm", ["in", "mm", "mm"])],
)  # fmt: skip
def test_lengths_when_one_is_bare_then_it_takes_the_unit_next_to_it(text, units):
    assert [one.unit for one in quantities.parse_lengths(text, "mm")] == units


@pytest.mark.parametrize(
    ("text", "said"),
    [("1,,2", "comma with nothing"), ("1 in, x", "cannot read"), ("1" * 1001, "are the most")],
)
def test_lengths_when_they_cannot_be_read_then_it_says_what_to_write(text, said):
    with pytest.raises(measures.EntryError) as refused:
        quantities.parse_lengths(text, "inch")
    assert said in refused.value.message


def test_shims_when_too_many_or_out_of_range_then_refused_by_name():
    for shims, said in (
        ("1 mm," * 12 + "1 mm", "12 are the most"),
        ("0.001 mm", "too small"),
        ("2 in", "too great"),
    ):
        with pytest.raises(EntryErrors) as refused:
            read_entries(get("broaching"), BROACHED | {"shims": shims})
        assert said in refused.value.messages["shims"]
