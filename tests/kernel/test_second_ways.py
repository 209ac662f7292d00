"""Sums against slow and obvious second ways: by small steps, by trying everything, by another library."""

from fractions import Fraction
from math import pi, radians, tan

import pytest

from calc import quantities
from calc.kernel.errors import NoSolution
from calc.kernel.indexing import indexing
from calc.kernel.involute import angle_of_involute, involute
from calc.kernel.press_fit import press_fit
from calc.kernel.spur_gear import spur_gear
from calc.kernel.spur_gear_cutters import cutters
from tests.oracle_rings import press_fit_by_differences
from tests.oracles import GEARS, SET_A, SET_B, has_compound, plain_settings
from tests.oracles_integrals import (
    can_be_geared,
    cutter_lows,
    involute_summed,
    span_summed,
    summed,
    swept,
    trains,
    worth_by_pint,
)

# ---- the tooth -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("angle", [1, 14.5, 20, 25, 30, 45])
def test_involute_when_summed_in_small_steps_then_the_same_there_and_back(angle):
    value = involute_summed(radians(angle))
    assert involute(radians(angle)) == pytest.approx(value, rel=1e-9)
    assert angle_of_involute(value) == pytest.approx(radians(angle), rel=1e-9)


@pytest.mark.parametrize(("teeth", "angle"), [(17, 20), (57, 20), (84, 14.5)])
def test_flank_when_followed_from_the_base_circle_then_it_has_swept_the_involute(teeth, angle):
    base = teeth / 2 / (1 + tan(radians(angle)) ** 2) ** 0.5
    assert swept(base, teeth / 2) == pytest.approx(involute(radians(angle)), rel=1e-4)


@pytest.mark.parametrize(
    ("teeth", "angle", "shift", "backlash"),
    [(24, "20", "0", "0"), (17, "20", "0.3", "0"), (57, "14.5", "0", "0.05"), (84, "20", "-0.2", "0.02")],
)
def test_span_when_the_flank_is_swept_back_to_the_base_circle_then_it_agrees(teeth, angle, shift, backlash):
    found = spur_gear(
        teeth=teeth, module=Fraction(1), pressure_angle=Fraction(angle), profile_shift=Fraction(shift),
        backlash=Fraction(backlash),
    ).results  # fmt: skip
    alpha = radians(float(angle))
    thick = pi / 2 + 2 * float(shift) * tan(alpha) - float(backlash) / 2
    assert found["tooth_thickness_mm"] == pytest.approx(thick)
    assert found["span_mm"] == pytest.approx(span_summed(teeth, alpha, thick, found["span_teeth"]), abs=2e-4)
    # The chord is what is left across of the arc: small steps of arc, each seen square to the middle.
    half = thick / teeth
    across = 2 * summed(lambda turn: teeth / 2 * (1 - turn**2 / 2 + turn**4 / 24), 0.0, half)
    assert found["chordal_thickness_mm"] == pytest.approx(across, rel=1e-7)


def test_cutters_when_by_the_rule_of_1887_then_the_ranges_begin_close_by():
    """26.09, 54.5, 75 and 120 are printed there for 12 to 300 teeth and sixteen cutters."""
    rule = cutter_lows(12, 16, 300)
    assert [round(rule[place], 2) for place in (9, 13, 14, 15)] == [26.09, 54.55, 75, 120]
    begins = sorted(cutter.lowest for cutter in cutters("15"))
    assert all(any(abs(low / one - 1) < 0.13 for one in rule) for low in begins)
    assert all(any(abs(low - one) < 1.01 for one in rule) for low in begins if low <= 55)


# ---- press fits ------------------------------------------------------------------------------------------

STEEL, IRON, BRASS = (207000, 0.3), (100000, 0.25), (100000, 0.35)


@pytest.mark.parametrize(
    ("inner", "joint", "outer", "over", "hub", "shaft"),
    [
        (10, 25, 50, 0.02, STEEL, STEEL),
        (20, 60, 120, 0.045, IRON, STEEL),
        (30, 40, 44, 0.01, BRASS, STEEL),
        (200, 250, 300, 0.379, STEEL, STEEL),
    ],
)
def test_press_fit_when_both_rings_are_moved_in_steps_then_the_same(inner, joint, outer, over, hub, shaft):
    exact = {
        name: Fraction(str(value))
        for name, value in {
            "shaft_bore": inner, "interface": joint, "hub_outside": outer, "interference": over,
            "hub_e": hub[0], "hub_poisson": hub[1], "shaft_e": shaft[0], "shaft_poisson": shaft[1],
        }.items()
    }  # fmt: skip
    found = press_fit(**exact).results
    again = press_fit_by_differences(
        inner=inner, joint=joint, outer=outer, interference=over, hub=hub, shaft=shaft
    )
    assert found["pressure_mpa"] == pytest.approx(again["pressure"], rel=2e-3)
    assert found["hub_hoop_mpa"] == pytest.approx(again["hub_hoop"], rel=5e-3)
    assert found["shaft_hoop_mpa"] == pytest.approx(again["shaft_hoop"], rel=5e-3)


# ---- dividing --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("ratio", [40, 60, 72, 80, 90])
@pytest.mark.parametrize("faces", [SET_A, SET_B], ids=["A", "B"])
def test_compound_when_every_pair_of_moves_is_tried_then_there_is_one_or_none(ratio, faces):
    """Every count to 400 at 40 to 1, one in seven at other ratios; test_indexing tries the plain ones."""
    tried = 0
    for divisions in range(2 if ratio == 40 else 53, 401, 1 if ratio == 40 else 7):
        if plain_settings(divisions, ratio, faces):
            continue
        tried += 1
        try:
            rows = indexing(divisions=divisions, ratio=ratio, circles=faces).results["compound"]
        except NoSolution:
            rows = []
        assert bool(rows) == has_compound(divisions, ratio, faces), divisions
    assert tried > 10


def test_differential_when_every_train_is_tried_then_there_is_one_or_none():
    made = trains(GEARS)
    answers = []
    for divisions in range(51, 131):
        found = indexing(divisions=divisions, circles=SET_A, change_gears=GEARS).results["differential"]
        assert bool(found) == can_be_geared(divisions, 40, SET_A, made), divisions
        answers.append(bool(found))
    assert any(answers)


def test_differential_when_few_gears_are_owned_then_there_is_one_or_none():
    gears = (24, 40, 56, 72)
    made, answers = trains(gears), []
    for divisions in (*range(51, 131), 211, 223, 397):
        try:
            found = indexing(divisions=divisions, circles=SET_A[:1], change_gears=gears).results
        except NoSolution:
            found = {"differential": []}
        assert bool(found["differential"]) == can_be_geared(divisions, 40, SET_A[:1], made), divisions
        answers.append(bool(found["differential"]))
    assert any(answers)
    assert not all(answers)


# ---- units -----------------------------------------------------------------------------------------------

WORTH = [(kind, unit) for kind, units in quantities.UNITS.items() for unit in units.worth]


@pytest.mark.parametrize(("kind", "unit"), WORTH, ids=[f"{kind}-{unit}" for kind, unit in WORTH])
def test_unit_when_asked_of_another_library_then_it_is_worth_the_same(kind, unit):
    units = quantities.UNITS[kind]
    assert float(units.worth[unit]) == pytest.approx(worth_by_pint(unit, units.base), rel=1e-12)
