"""Bevel differentials against side gears laid out tooth by tooth. Trap 15: a carrier for three pinions."""

from fractions import Fraction
from itertools import product

import pytest

from calc.kernel.bevel_differential import PINIONS, bevel_differential
from calc.kernel.errors import OutOfRange
from calc.kernel.spur_gear_entries import MODULE_MM, PITCH, TEETH
from tests.oracles_gears import bevel_cones, pinion_fits


def of(left=24, right=24, pinion=14, pinions=4, **more):
    exact = {name: Fraction(value) for name, value in more.items()}
    return bevel_differential(
        left_teeth=left, right_teeth=right, pinion_teeth=pinion, pinions=pinions, **exact
    )


def codes(outcome):
    return {caution.code for caution in outcome.warnings}


def test_pinions_when_the_side_gears_are_laid_out_tooth_by_tooth_then_the_same_go():
    for left, right in product((12, 20, 21, 22, 24, 25, 31, 36), (20, 21, 24, 25, 40)):
        outcome = of(left, right)
        laid_out = [number for number in range(2, 7) if pinion_fits(left, right, number)]
        assert outcome.results["pinions_that_go"] == laid_out


@pytest.mark.parametrize(("side", "go"), [(24, {2, 3, 4}), (25, {2}), (21, {2, 3}), (22, {2, 4})])
def test_equal_side_gears_when_of_these_teeth_then_of_two_to_four_pinions_these_go(side, go):
    # Derived: twice the teeth over the pinions is a whole number.
    assert set(of(side, side).results["pinions_that_go"]) & {2, 3, 4} == go


def test_trap_15_three_pinions_between_gears_not_divisible_by_three_are_an_answer_that_says_so():
    outcome = of(25, 25, pinions=3)
    assert outcome.results["goes_together"] is False
    text = next(caution.text for caution in outcome.warnings if caution.code == "does-not-go")
    assert "16 2/3" in text
    assert "24 or 27" in text
    assert "2 and 5 would go" in text
    for side in (24, 27):
        assert of(side, side, pinions=3).results["goes_together"] is True
        assert "does-not-go" not in codes(of(side, side, pinions=3))


def test_unequal_when_they_do_not_go_then_a_right_gear_that_does_is_named():
    outcome = of(20, 25, 12, 2)
    text = next(caution.text for caution in outcome.warnings if caution.code == "does-not-go")
    assert "24 or 26 teeth" in text
    for right in (24, 26):
        assert of(20, right, 12, 2).results["goes_together"] is True


def test_ratio_when_the_left_gear_is_held_then_the_speeds_balance():
    # left teeth x left + right teeth x right = (left + right teeth) x carrier, derived.
    for left, right in ((24, 24), (20, 25), (36, 18)):
        ratio = of(left, right).results["ratio"]
        assert right * ratio == left + right
    assert of().results["ratio"] == 2


@pytest.mark.parametrize(
    ("left", "right", "pinion"), [(24, 24, 14), (20, 25, 12), (36, 30, 20), (16, 18, 30)]
)
def test_cones_when_each_side_gear_and_pinion_are_laid_out_as_a_pair_then_they_share_the_cones(
    left, right, pinion
):
    results = of(left, right, pinion, diametral_pitch="8").results
    module = 25.4 / 8
    total = 0.0
    for side, teeth in (("left", left), ("right", right)):
        shaft = results["pinion_shaft_angle_deg"]
        shaft = shaft if side == "left" else 180 - shaft
        own, small = bevel_cones((teeth, pinion), shaft, module, module, module, taper=True)
        assert results[f"{side}_pitch_angle_deg"] == pytest.approx(own.pitch_angle, abs=1e-6)
        assert results["pinion_pitch_angle_deg"] == pytest.approx(small.pitch_angle, abs=1e-6)
        assert results[f"{side}_crown_to_apex_mm"] == pytest.approx(own.crown, abs=1e-6)
        assert results["pinion_crown_to_apex_mm"] == pytest.approx(small.crown, abs=1e-6)
        total += own.pitch_angle + small.pitch_angle
    assert total == pytest.approx(180, abs=1e-6)


def test_distances_when_there_is_no_pitch_then_they_are_none_and_the_angles_are_there():
    results = of().results
    assert results["cone_distance_mm"] is None
    assert results["left_mounting_mm"] is None
    assert results["left_pitch_angle_deg"] > 45


def test_mounting_when_side_gears_are_equal_then_each_stands_half_the_others_pitch_diameter_off():
    results = of(24, 24, 14, module="2").results
    assert results["left_mounting_mm"] == pytest.approx(14)
    assert results["pinion_mounting_mm"] == pytest.approx(24)


def test_cones_when_the_pinion_cannot_reach_both_then_there_are_none_and_it_is_said():
    outcome = of(20, 60, 10, 2, module="2")
    assert outcome.results["goes_together"] is True
    assert outcome.results["cone_distance_mm"] is None
    assert "no-cones" in codes(outcome)


def test_pinions_when_too_many_for_their_size_then_they_foul():
    assert "pinions-foul" not in codes(of(24, 24, 14, 4))
    outcome = of(24, 24, 22, 4)
    # The tips stand 42.51 + 3.52 degrees from each shaft, and the shafts 90 apart; derived.
    assert outcome.results["pinions_clear"] is False
    assert "pinions-foul" in codes(outcome)
    assert of(24, 24, 20, 4).results["pinions_clear"] is True


EDGES = [
    ("left_teeth", TEETH, 1),
    ("right_teeth", TEETH, 1),
    ("pinion_teeth", TEETH, 1),
    ("pinions", PINIONS, 1),
    ("module", MODULE_MM, Fraction(1, 10**6)),
    ("diametral_pitch", PITCH, Fraction(1, 10**6)),
]


@pytest.mark.parametrize(("name", "ends", "step"), EDGES, ids=[edge[0] for edge in EDGES])
def test_entry_when_at_its_limit_then_it_is_worked_and_a_step_outside_is_refused_by_name(name, ends, step):
    entered = {"left_teeth": 24, "right_teeth": 24, "pinion_teeth": 14, "pinions": 2}
    for end, outside in ((ends[0], ends[0] - step), (ends[1], ends[1] + step)):
        assert bevel_differential(**entered | {name: end}).working
        with pytest.raises(OutOfRange) as refused:
            bevel_differential(**entered | {name: outside})
        assert refused.value.field == name


def test_pitch_when_both_are_given_then_it_is_refused():
    with pytest.raises(OutOfRange) as refused:
        of(module="2", diametral_pitch="8")
    assert refused.value.field == "module"
