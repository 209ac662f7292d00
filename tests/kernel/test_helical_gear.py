"""Helical gears against the pitch cylinder itself. Traps 9 and 10: rounded teeth; one pitch for another."""

from fractions import Fraction
from math import cos, pi, radians

import pytest

from calc.kernel import helical_gear_sizes as limits
from calc.kernel.errors import OutOfRange
from calc.kernel.helical_gear import helical_gear
from calc.kernel.spur_gear import spur_gear
from calc.kernel.spur_gear_entries import ANGLE_DEG, MODULE_MM, PITCH, SHIFT, TEETH
from tests.oracles_gears import formative_of_helix, helix_angle_of


def of(teeth=24, helix="30", *, module="2", **more):
    pitch = {} if "diametral_pitch" in more else {"module": Fraction(module)}
    numbers = ("diametral_pitch", "pressure_angle", "profile_shift")
    exact = {name: Fraction(value) if name in numbers else value for name, value in more.items()}
    return helical_gear(teeth=teeth, helix_angle=Fraction(helix), **pitch, **exact)


def codes(outcome):
    return {caution.code for caution in outcome.warnings}


def texts(outcome, code):
    return [caution.text for caution in outcome.warnings if caution.code == code]


@pytest.mark.parametrize("helix", ["1", "15", "30", "45", "60"])
def test_formative_when_the_pitch_cylinder_is_cut_square_to_the_tooth_then_its_circle_agrees(helix):
    results = of(40, helix).results
    around = formative_of_helix(float(results["pitch_diameter_mm"]), float(helix), 2.0)
    assert results["cutter_teeth"] == pytest.approx(around, rel=1e-5)


@pytest.mark.parametrize("helix", ["1", "20", "45", "60"])
def test_lead_when_the_tooth_is_run_round_the_pitch_cylinder_then_it_stands_at_the_helix_angle(helix):
    results = of(31, helix).results
    found = helix_angle_of(float(results["pitch_diameter_mm"]), results["lead_mm"])
    assert found == pytest.approx(float(helix), abs=1e-4)
    assert results["axial_pitch_mm"] == pytest.approx(results["lead_mm"] / 31)


def test_circumference_when_twenty_slots_at_a_half_inch_pitch_then_the_drum_is_as_printed():
    # US Navy manual, ch. 14: 10 in round with straight slots; at 19 degrees 22 minutes it must be 10.6.
    results = helical_gear(
        teeth=20, helix_angle=Fraction(19) + Fraction(22, 60), diametral_pitch=Fraction(2 * pi)
    ).results
    assert pi * float(results["pitch_diameter_mm"]) / 25.4 == pytest.approx(10.6, abs=0.05)
    assert pi * float(results["pitch_diameter_mm"]) / 25.4 == pytest.approx(10.5998, abs=5e-5)


def test_gear_when_the_helix_is_small_then_it_comes_to_the_spur_gear():
    helical = of(40, "1", mate_teeth=25).results
    spur = spur_gear(teeth=40, mate_teeth=25, module=Fraction(2)).results
    for name in ("outside_diameter_mm", "chordal_thickness_mm", "chordal_addendum_mm", "centre_distance_mm"):
        assert float(helical[name]) == pytest.approx(float(spur[name]), rel=3e-4)


def test_pitch_when_transverse_then_the_same_gear_comes_out_as_by_its_normal_pitch():
    normal = of(24, "45", diametral_pitch="16").results
    module = Fraction(normal["transverse_module_mm"])
    across = helical_gear(
        teeth=24, helix_angle=Fraction(45), module=module, pitch_in="transverse", depth_system="2.157"
    ).results
    for name in ("outside_diameter_mm", "lead_mm", "whole_depth_mm", "chordal_thickness_mm"):
        assert float(across[name]) == pytest.approx(float(normal[name]), rel=1e-9)


def test_mate_when_given_then_it_has_no_shift_and_half_the_diameters_are_the_centres():
    outcome = of(20, "15", mate_teeth=50, profile_shift="0.3")
    results = outcome.results
    both = float(results["pitch_diameter_mm"]) + float(results["mate"]["pitch_diameter_mm"])
    assert float(results["centre_distance_mm"]) == pytest.approx(both / 2)
    assert results["mate"]["addendum_mm"] == 2
    assert results["addendum_mm"] == pytest.approx(2.6)
    assert results["ratio"] == Fraction(5, 2)
    assert {"hands", "shifted-centres"} <= codes(outcome)


def test_results_when_there_is_no_mate_then_what_has_no_meaning_is_none():
    results = of().results
    assert results["centre_distance_mm"] is results["mate"] is results["ratio"] is None


def test_trap_9_formative_teeth_are_not_rounded_across_a_boundary():
    outcome = of(24, "12.5")
    assert f"{outcome.results['cutter_teeth']:.2f}" == "25.79"
    assert outcome.results["cutter_number"] == "5"
    text = texts(outcome, "cutter-between")[0]
    assert "25.79" in text
    assert "No. 4, 26 to 34" in text


def test_trap_9_at_sixty_degrees_the_number_is_whole_and_not_lost_by_a_float():
    # The cube of a half: eight times the teeth; 7 teeth are 56, where No. 2 has begun.
    assert of(7, "60").results["cutter_teeth"] == 56
    assert cos(radians(60)) != 0.5


def test_trap_9_the_rule_of_spur_and_of_bevel_gears_are_named_as_what_it_is_not():
    text = texts(of(24, "45"), "formative-rule")[0]
    assert "67.88" in text
    assert "24, would give No. 5" in text
    assert "33.94, would give No. 4" in text


def test_trap_10_a_transverse_pitch_is_not_the_cutters():
    # 16 DP along the face at 45 degrees is 22.63 DP square to the tooth; read in a textbook.
    outcome = of(24, "45", diametral_pitch="16", pitch_in="transverse")
    assert "22.63 DP" in texts(outcome, "transverse-pitch")[0]
    assert "transverse-pitch" not in codes(of(24, "45", diametral_pitch="16"))


def test_trap_11_both_depths_are_named():
    text = texts(of(), "depth-systems")[0]
    assert "4.500 mm by 2.25" in text
    assert "4.314 mm by 2.157" in text


def test_cutter_when_teeth_are_too_few_then_there_is_none():
    outcome = of(8, "10")
    assert outcome.results["cutter_number"] is None
    assert "no-cutter" in codes(outcome)


EDGES = [
    ("teeth", TEETH, 1, {}),
    ("mate_teeth", TEETH, 1, {}),
    ("helix_angle", limits.HELIX_DEG, Fraction(1, 3600), {}),
    ("pressure_angle", ANGLE_DEG, Fraction(1, 3600), {}),
    ("profile_shift", SHIFT, Fraction(1, 10**6), {}),
    ("module", MODULE_MM, Fraction(1, 10**6), {}),
    ("diametral_pitch", PITCH, Fraction(1, 10**6), {"module": None}),
]


@pytest.mark.parametrize(("name", "ends", "step", "beside"), EDGES, ids=[edge[0] for edge in EDGES])
def test_entry_when_at_its_limit_then_it_is_worked_and_a_step_outside_is_refused_by_name(
    name, ends, step, beside
):
    entered = {"teeth": 24, "helix_angle": Fraction(20), "module": Fraction(2)} | beside
    for end, outside in ((ends[0], ends[0] - step), (ends[1], ends[1] + step)):
        assert helical_gear(**entered | {name: end}).results["outside_diameter_mm"] > 0
        with pytest.raises(OutOfRange) as refused:
            helical_gear(**entered | {name: outside})
        assert refused.value.field == name
        assert refused.value.reason


@pytest.mark.parametrize("name", ["pitch_in", "depth_system", "cutter_set"])
def test_choice_when_it_is_none_of_them_then_it_is_refused_by_name(name):
    with pytest.raises(OutOfRange) as refused:
        of(**{name: "sideways"})
    assert refused.value.field == name


@pytest.mark.parametrize(
    ("pitch", "field"),
    [({}, "diametral_pitch"), ({"module": Fraction(2), "diametral_pitch": Fraction(8)}, "module")],
)
def test_pitch_when_none_or_both_are_given_then_it_is_refused(pitch, field):
    with pytest.raises(OutOfRange) as refused:
        helical_gear(teeth=24, helix_angle=Fraction(20), **pitch)
    assert refused.value.field == field
