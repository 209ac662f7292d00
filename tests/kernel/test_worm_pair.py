"""Worms and wheels against the thread itself. Traps 10 and 11: pitches mixed; one diameter for another."""

from fractions import Fraction
from math import pi

import pytest

from calc.kernel import worm_pair_sizes as limits
from calc.kernel.errors import OutOfRange
from calc.kernel.spur_gear import spur_gear
from calc.kernel.spur_gear_entries import ANGLE_DEG, MODULE_MM, PITCH, TEETH
from calc.kernel.worm_pair import worm_pair
from tests.oracles_gears import helix_angle_of

INCH = Fraction(254, 10)


def of(starts=1, wheel=40, diameter="20", **more):
    numbers = ("module", "diametral_pitch", "axial_pitch", "pressure_angle")
    exact = {name: Fraction(value) if name in numbers else value for name, value in more.items()}
    if not set(numbers[:3]) & set(exact):
        exact["module"] = Fraction(2)
    return worm_pair(starts=starts, wheel_teeth=wheel, worm_diameter=Fraction(diameter), **exact)


def codes(outcome):
    return {caution.code for caution in outcome.warnings}


def text_of(outcome, code):
    return next(caution.text for caution in outcome.warnings if caution.code == code)


@pytest.mark.parametrize(("starts", "diameter"), [(1, "20"), (2, "22"), (4, "18"), (12, "60")])
def test_lead_angle_when_the_thread_is_run_round_the_worm_then_it_agrees(starts, diameter):
    results = of(starts, diameter=diameter).results
    found = 90 - helix_angle_of(float(Fraction(diameter)), float(results["lead_mm"]))
    assert results["lead_angle_deg"] == pytest.approx(found, abs=1e-3)


def test_wheel_when_the_worm_turns_once_then_its_pitch_circle_moves_by_the_lead():
    for starts in (1, 2, 3):
        results = of(starts).results
        turned = pi * float(results["wheel_pitch_diameter_mm"]) / float(results["ratio"])
        assert turned == pytest.approx(float(results["lead_mm"]))


def test_wheel_when_in_its_middle_plane_then_it_is_the_spur_gear_of_its_teeth():
    # A worm in the plane of its axis is a rack, and the wheel there a spur gear that runs with it.
    results = of(wheel=30).results
    spur = spur_gear(teeth=30, module=Fraction(2)).results
    assert results["throat_diameter_mm"] == spur["outside_diameter_mm"]
    assert results["wheel_pitch_diameter_mm"] == spur["pitch_diameter_mm"]
    assert results["whole_depth_mm"] == spur["whole_depth_mm"]
    assert results["undercut_limit_teeth"] == spur["undercut_limit_teeth"]


def test_worm_when_in_mesh_then_its_thread_clears_the_wheel_by_the_same_at_tip_and_root():
    results = of().results
    gap = (
        results["centre_distance_mm"] - (results["throat_diameter_mm"] + results["worm_root_diameter_mm"]) / 2
    )
    assert gap == results["whole_depth_mm"] - 2 * results["addendum_mm"]
    assert results["throat_radius_mm"] == 8


@pytest.mark.parametrize(
    "pitch",
    [{"diametral_pitch": "8"}, {"module": str(INCH / 8)}, {"axial_pitch": str(Fraction(pi / 8) * INCH)}],
)
def test_pitch_when_given_in_any_of_three_ways_then_the_sizes_are_the_same(pitch):
    results = of(2, 40, "25.4", depth_system="2.157", **pitch).results
    for name, inches in (
        ("lead_mm", pi / 4), ("wheel_pitch_diameter_mm", 5), ("worm_outside_diameter_mm", 1.25),
        ("throat_diameter_mm", 5.25), ("centre_distance_mm", 3), ("whole_depth_mm", 0.269625),
    ):  # fmt: skip
        assert float(results[name]) / 25.4 == pytest.approx(inches, rel=1e-9)


@pytest.mark.parametrize(
    ("axial", "unit", "system"), [("12.7", "in", "2.157"), ("5", "mm", "2.25"), ("3.175", "in", "2.157")]
)
def test_axial_pitch_when_it_is_plainer_in_inches_then_it_is_worked_in_inches(axial, unit, system):
    outcome = of(axial_pitch=axial)
    assert next(step.unit for step in outcome.working if step.label == "Lead") == unit
    assert outcome.results["depth_system"] == system


def test_trap_10_no_pitch_or_two_of_them_are_refused():
    with pytest.raises(OutOfRange) as none:
        worm_pair(starts=1, wheel_teeth=40, worm_diameter=Fraction(20))
    assert none.value.field == "axial_pitch"
    for pitch, field in (
        ({"axial_pitch": "5", "module": "2"}, "module"),
        ({"axial_pitch": "5", "diametral_pitch": "8"}, "diametral_pitch"),
        ({"module": "2", "diametral_pitch": "8"}, "module"),
    ):
        with pytest.raises(OutOfRange) as two:
            of(**pitch)
        assert two.value.field == field


def test_trap_11_the_worms_diameter_is_at_the_pitch_line_and_both_readings_are_shown():
    text = text_of(of(), "worm-diameter")
    assert "20.000 mm is at the pitch line" in text
    assert "over the threads it is 24.000 mm" in text
    assert "enter 16.000 mm" in text
    assert "4.314 mm by 2.157" in text_of(of(), "depth-systems")


def test_warnings_when_the_lead_is_flat_or_steep_then_it_is_said():
    flat, steep = of(1, diameter="30"), of(4)
    assert "do not trust it to hold" in text_of(flat, "holds")
    assert "lead-steep" in codes(steep)
    assert not {"holds", "lead-steep"} & codes(of(2, 41))


def test_warnings_when_threads_and_teeth_share_a_factor_or_teeth_are_few_then_it_is_said():
    assert "common-factor" in codes(of(4, 40))
    assert "common-factor" not in codes(of(4, 41))
    assert "undercut" in codes(of(wheel=17))
    assert "undercut" not in codes(of(wheel=18))


def test_worm_when_its_thread_would_leave_nothing_then_it_is_refused():
    # Twice the dedendum of 1.25 modules is 5 mm.
    assert of(diameter="5.001").results["worm_root_diameter_mm"] > 0
    with pytest.raises(OutOfRange) as refused:
        of(diameter="5")
    assert refused.value.field == "worm_diameter"


EDGES = [
    ("starts", limits.STARTS, 1, {}),
    ("wheel_teeth", TEETH, 1, {}),
    ("worm_diameter", limits.WORM_MM, Fraction(1, 10**6), {"module": Fraction(1, 5)}),
    ("pressure_angle", ANGLE_DEG, Fraction(1, 3600), {}),
    ("module", MODULE_MM, Fraction(1, 10**6), {}),
    ("diametral_pitch", PITCH, Fraction(1, 10**6), {"module": None}),
    ("axial_pitch", limits.AXIAL_MM, Fraction(1, 10**6), {"module": None}),
]


@pytest.mark.parametrize(("name", "ends", "step", "beside"), EDGES, ids=[edge[0] for edge in EDGES])
def test_entry_when_at_its_limit_then_it_is_worked_and_a_step_outside_is_refused_by_name(
    name, ends, step, beside
):
    entered = {"starts": 1, "wheel_teeth": 40, "worm_diameter": Fraction(200), "module": Fraction(2)} | beside
    for end, outside in ((ends[0], ends[0] - step), (ends[1], ends[1] + step)):
        assert worm_pair(**entered | {name: end}).results["centre_distance_mm"] > 0
        with pytest.raises(OutOfRange) as refused:
            worm_pair(**entered | {name: outside})
        assert refused.value.field == name
        assert refused.value.reason


def test_choice_when_it_is_none_of_them_then_it_is_refused_by_name():
    with pytest.raises(OutOfRange) as refused:
        of(depth_system="2.3")
    assert refused.value.field == "depth_system"
