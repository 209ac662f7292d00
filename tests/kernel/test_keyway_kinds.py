"""Taper keys by B17.1 and Woodruff keys by B17.2: sizes, refusals, and a second way by the circle."""

from fractions import Fraction
from math import sqrt

import pytest

from calc.entries import read_entries
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange
from calc.kernel.keyway import keyway
from calc.kernel.keyway_woodruff import woodruff_keys
from calc.registry import get
from tests.kernel.test_keyway import codes, in_inches, inches, printed


def woodruff(shaft, number=None, **more):
    return keyway(
        shaft_diameter=inches(shaft),
        standard="b17.1",
        kind="woodruff",
        key_number=None if number is None else Fraction(number),
        **more,
    )


def test_taper_when_shaft_is_1_in_then_t_is_less_and_s_as_the_parallel_key_has_it():
    """ANSI B17.1, depth control, Machinery's Handbook 31, p. 2552: S 0.859, T 1.114 parallel, 1.089 taper."""
    one = keyway(shaft_diameter=inches("1"), standard="b17.1", kind="taper")
    parallel = keyway(shaft_diameter=inches("1"), standard="b17.1").results
    assert round(in_inches(one.results, "shaft_over_work"), 3) == 0.859
    assert round(in_inches(one.results, "hub_over_work"), 3) == 1.089
    assert round(in_inches(parallel, "hub_over_work"), 3) == 1.114
    assert one.results["taper_one_in"] == 12 / Fraction(1, 8)
    assert parallel["taper_one_in"] is None
    assert in_inches(one.results, "key_height_max") == pytest.approx(0.255)


@pytest.mark.parametrize("kind", ["taper", "woodruff"])
@pytest.mark.parametrize(("standard", "shaft"), [("bs46", "1"), ("iso773", "1")])
def test_kind_when_the_standard_was_not_read_for_it_then_no_solution_and_what_would_do(kind, standard, shaft):
    with pytest.raises(NoSolution) as refused:
        keyway(shaft_diameter=inches(shaft), standard=standard, kind=kind)
    assert any("B17" in offer for offer in refused.value.would_do)
    assert any("parallel" in offer for offer in refused.value.would_do)


@pytest.mark.parametrize("row", printed("b17_2", "keys"), ids=lambda row: row["key_no"])
def test_woodruff_when_looked_up_then_its_number_tells_width_and_diameter(row):
    """Last two figures: eighths of an inch; those before: thirty-seconds (the standard's own rule)."""
    number = row["key_no"]
    whole, _, half = number.partition(".")
    eighths = Fraction(whole[-2:]) + (Fraction(1, 2) if half else 0)
    results = woodruff("2 1/2", number).results
    assert results["key_number"] == number
    assert in_inches(results, "key_width") == pytest.approx(int(whole[:-2]) / 32)
    assert in_inches(results, "key_diameter") == pytest.approx(float(eighths / 8))
    # The flat is cut off half the circle: C at most = B / 2 - E, printed to a thousandth, some cut short.
    left = results["key_diameter_mm"] / 2 - results["key_flat_mm"]
    assert in_inches(results, "key_height_max") == pytest.approx(left / 25.4, abs=0.0007)
    # The rule gives every depth that was read, to the place printed, but that of 303.
    slack = 0.00013 if number == "303" else 0.000055
    width = float(inches(row["W"])) / 25.4
    assert in_inches(results, "shaft_side_depth") == pytest.approx(float(row["C_min"]) - width / 2, abs=slack)
    assert in_inches(results, "hub_side_depth") == pytest.approx(width / 2 + 0.006, abs=slack)


def test_woodruff_when_the_printed_depth_and_the_rule_disagree_then_the_printed_one_stands():
    """Mechanical Engineering Design, 9th ed., p. 393: 303 is 0.1202; the rule gives 0.120125."""
    assert in_inches(woodruff("1/2", "303").results, "shaft_side_depth") == pytest.approx(0.1202)


@pytest.mark.parametrize("number", [moon.number for moon, _ in woodruff_keys()])
def test_woodruff_seat_when_drawn_by_its_circle_then_the_key_stands_half_its_width_out(number):
    """Geometry of the circle: a least key on the floor of its seat stands W / 2 above the keyway walls."""
    shaft = 25.4 * 2.5
    results = woodruff("2 1/2", number).results
    half = results["key_width_mm"] / 2
    wall = sqrt((shaft / 2) ** 2 - half**2)  # the corner of the seat, from the middle of the shaft
    floor = shaft / 2 - results["shaft_crown_depth_mm"]
    assert wall - floor == pytest.approx(results["shaft_side_depth_mm"])
    top = floor + results["key_height_min_mm"]
    assert top - wall == pytest.approx(half, abs=0.0004 * 25.4 / 4)
    assert shaft - results["shaft_crown_depth_mm"] == pytest.approx(results["shaft_over_work_mm"])
    # And the fullest key leaves room under the floor of the hub's keyway.
    hub_floor = sqrt((shaft / 2) ** 2 - half**2) + results["hub_side_depth_mm"]
    assert hub_floor > floor + results["key_height_max_mm"]


def test_woodruff_when_the_shaft_takes_several_then_the_number_is_asked_for_with_those_that_suit():
    with pytest.raises(NotInTable) as refused:
        woodruff("3/8")
    assert refused.value.field == "key_number"
    for number in ("202 (1/16 × 1/4 in)", "202.5 (1/16 × 5/16 in)", "404 (1/8 × 1/2 in)"):
        assert number in str(refused.value)
    assert "606" not in str(refused.value)


@pytest.mark.parametrize(
    ("shaft", "more", "field"),
    [
        ("3/4", {"number": "405.5"}, "key_number"),
        ("3/4", {"number": "201"}, "key_number"),
        ("3/4", {"number": "1213"}, "key_number"),
        ("3/4", {"number": "1212"}, "key_number"),
        ("3", {}, "key_number"),
        ("3/4", {"number": "404", "key_width": inches("1/4")}, "key_width"),
        ("3/4", {"number": "404", "section": "square"}, "section"),
        ("3/4", {"number": "404", "fit": "1"}, "fit"),
    ],
)
def test_woodruff_when_an_entry_is_wrong_then_refused_by_its_name(shaft, more, field):
    with pytest.raises((NotInTable, OutOfRange)) as refused:
        woodruff(shaft, **more)
    assert refused.value.field == field


def test_number_when_the_key_is_parallel_then_refused_by_its_name():
    with pytest.raises(OutOfRange) as refused:
        keyway(shaft_diameter=inches("1"), standard="b17.1", key_number=Fraction(404))
    assert refused.value.field == "key_number"


def test_shaft_when_the_key_does_not_suit_it_then_warned_at_the_edges():
    """404 suits 3/8 to 1 1/2 in, both inclusive (Mechanical Engineering Design, 9th ed., table 7-8)."""
    for shaft, is_warned in (("3/8", False), ("1 1/2", False), ("1.5001", True), ("2", True)):
        assert ("key-not-by-shaft" in codes(woodruff(shaft, "404"))) == is_warned, shaft
    assert "shafts-not-read" in codes(woodruff("1", "707"))


def test_widths_when_they_were_not_read_then_none_and_said():
    one = woodruff("3/4", "404")
    assert one.results["shaft_width_min_mm"] is one.results["key_width_max_mm"] is None
    assert one.results["section"] is one.results["fit"] is None
    assert "cutter-fits-key" in codes(one)


@pytest.mark.parametrize("kind", ["taper", "woodruff"])
def test_shaft_when_typed_in_inches_or_millimetres_then_the_same_keyway(kind):
    calculation = get("keyway")
    entered = {"standard": "b17.1", "kind": kind} | ({"key_number": "404"} if kind == "woodruff" else {})
    one, other = (
        calculation.function(**read_entries(calculation, entered | {"shaft_diameter": shaft}).inputs)
        for shaft in ("3/4 in", "19.05 mm")
    )
    assert one.results == other.results
