"""Bevel pairs against cones laid out in space, what a builder is warned of, the traps, and the edges.

Traps are those of a list of common mistakes with gears: 8 large-end module for a spur cutter, 9 formative
teeth rounded across a boundary, 10 pitches and numberings mixed, 11 one size taken for another, 14 rounding
in the middle.
"""

from fractions import Fraction
from math import atan, degrees, pi

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel import bevel_pair_entries as limits
from calc.kernel.bevel_pair import bevel_pair
from calc.kernel.errors import OutOfRange
from calc.kernel.formative import next_cutter, snapped
from calc.kernel.spur_gear_cutters import cutter_for
from calc.kernel.spur_gear_entries import ANGLE_DEG, FACE_MM, MODULE_MM, PITCH, TEETH
from calc.registry import get
from tests.oracles_gears import bevel_cones, chord_in_space

INCH = Fraction(254, 10)


def of(teeth=20, mate_teeth=40, *, module="3", face="20", **more):
    pitch = {} if "diametral_pitch" in more else {"module": Fraction(module)}
    exact = {
        name: Fraction(value)
        if name in ("diametral_pitch", "shaft_angle", "pressure_angle") or name.startswith("cutter_th")
        else value
        for name, value in more.items()
    }
    return bevel_pair(teeth=teeth, mate_teeth=mate_teeth, face_width=Fraction(face), **pitch, **exact)


def codes(outcome):
    return {caution.code for caution in outcome.warnings}


def texts(outcome, code):
    return [caution.text for caution in outcome.warnings if caution.code == code]


def gears(outcome):
    return [outcome.results, outcome.results["mate"]]


# ---- against cones in space ------------------------------------------------------------------------------

LAID_OUT = [
    (20, 40, "90", "taper"), (36, 16, "90", "taper"), (30, 30, "90", "parallel"), (24, 24, "60", "taper"),
    (16, 48, "75", "parallel"), (40, 25, "120", "taper"), (12, 13, "130.5", "parallel"),
    (6, 200, "90", "taper"), (50, 14, "20", "taper"), (24, 36, "104", "parallel"),
]  # fmt: skip


@pytest.mark.parametrize(("teeth", "mate", "shaft", "depth"), LAID_OUT)
def test_blanks_when_both_gears_are_laid_out_in_space_then_they_agree(teeth, mate, shaft, depth):
    outcome = of(teeth, mate, face="4", shaft_angle=shaft, tooth_depth=depth)
    large, cut = float(outcome.results["module_large_mm"]), float(outcome.results["cutter_module_mm"])
    dedendum = 1.25 * cut
    found = bevel_cones((teeth, mate), float(shaft), large, cut, dedendum, taper=depth == "taper")
    for own, cone in zip(gears(outcome), found, strict=True):
        assert own["pitch_angle_deg"] == pytest.approx(cone.pitch_angle, abs=1e-6)
        assert float(own["pitch_diameter_mm"]) == pytest.approx(cone.pitch_diameter, rel=1e-9)
        assert own["outside_diameter_mm"] == pytest.approx(cone.outside_diameter, rel=1e-9)
        assert own["crown_to_apex_mm"] == pytest.approx(cone.crown, rel=1e-7)
        assert own["face_angle_deg"] == pytest.approx(cone.face_angle, abs=1e-6)
        assert own["root_angle_deg"] == pytest.approx(cone.root_angle, abs=1e-6)
        assert own["formative_teeth"] == pytest.approx(cone.formative, rel=1e-6)
        assert own["back_angle_deg"] == 90 - own["pitch_angle_deg"]


@pytest.mark.parametrize(("teeth", "mate", "shaft", "depth"), LAID_OUT)
def test_chords_when_a_tooth_is_laid_on_the_pitch_circle_then_both_ends_agree(teeth, mate, shaft, depth):
    outcome = of(teeth, mate, face="4", shaft_angle=shaft, tooth_depth=depth)
    for own, count in zip(gears(outcome), (teeth, mate), strict=True):
        for end in ("large", "small"):
            module = float(outcome.results[f"module_{end}_mm"])
            chord, sunk = chord_in_space(count, own["pitch_angle_deg"], module)
            addendum = float(outcome.results["module_small_mm"]) if depth == "parallel" else module
            # The printed rules stop at the square of the half angle: what is left off is of its fourth power.
            left_off = (pi / 2 / count) ** 2 / 10
            assert own[f"chordal_thickness_{end}_mm"] == pytest.approx(chord, rel=left_off**2)
            sunk_found = own[f"chordal_addendum_{end}_mm"] - addendum
            assert sunk_found == pytest.approx(sunk, rel=left_off)


def test_small_end_when_taper_then_all_of_it_is_one_part_of_the_large_end():
    results = of().results
    factor = results["small_end_factor"]
    assert factor == pytest.approx(1 - 20 / results["cone_distance_mm"])
    for own in gears(of()):
        for name in ("chordal_thickness", "chordal_addendum"):
            assert own[f"{name}_small_mm"] == pytest.approx(factor * own[f"{name}_large_mm"])
        assert own["outside_diameter_small_mm"] == pytest.approx(factor * own["outside_diameter_mm"])
        assert own["crown_to_apex_small_mm"] == pytest.approx(factor * own["crown_to_apex_mm"])
    assert results["whole_depth_small_mm"] == pytest.approx(factor * float(results["whole_depth_mm"]))


def test_parallel_when_worked_then_face_pitch_and_root_are_one_and_the_depth_is_kept():
    outcome = of(20, 30, module="2", face="18", tooth_depth="parallel")
    for own in gears(outcome):
        assert own["face_angle_deg"] == own["pitch_angle_deg"] == own["root_angle_deg"]
    results = outcome.results
    assert results["whole_depth_mm"] == results["whole_depth_small_mm"] == Fraction("4.5")
    assert results["outside_diameter_small_mm"] < results["outside_diameter_mm"]


def test_pair_when_the_final_drive_of_a_differential_then_cones_and_cutters_are_those_to_be_met():
    # 36 and 16 teeth: derived from tan = 36/16 and teeth over cosine.
    wheel, pinion = gears(of(36, 16, diametral_pitch="8", face="19"))
    assert (round(wheel["pitch_angle_deg"], 2), round(pinion["pitch_angle_deg"], 2)) == (66.04, 23.96)
    assert (round(wheel["formative_teeth"], 1), round(pinion["formative_teeth"], 1)) == (88.6, 17.5)
    assert (wheel["cutter_from_teeth"], wheel["cutter_to_teeth"]) == (55, 134)
    assert (pinion["cutter_from_teeth"], pinion["cutter_to_teeth"]) == (17, 20)


def test_mean_distance_when_of_the_textbook_pair_then_its_share_of_the_outer_is_as_printed():
    # Machine Elements in Mechanical Design, 4th ed., p. 337: 0.842.
    results = of(16, 48, diametral_pitch="8", face="25.4").results
    assert results["mean_cone_distance_mm"] / results["cone_distance_mm"] == pytest.approx(0.842, abs=5e-4)


def test_pitch_when_given_at_either_end_then_the_pair_is_the_same():
    large = of(24, 36, module="3", face="15").results
    small = bevel_pair(
        teeth=24, mate_teeth=36, face_width=Fraction(15), pitch_at="small",
        module=Fraction(large["module_small_mm"]), depth_system="2.25",
    ).results  # fmt: skip
    for name in ("cone_distance_mm", "outside_diameter_mm", "crown_to_apex_mm", "whole_depth_mm"):
        assert float(small[name]) == pytest.approx(float(large[name]), rel=1e-12)


# ---- set-over and roll -----------------------------------------------------------------------------------


def test_set_over_when_trimmed_then_the_flank_points_at_the_apex_and_leaves_half_the_pitch():
    thick, thin = 0.1745 * 25.4, 0.1453 * 25.4
    outcome = of(
        24, 24, shaft_angle="60", diametral_pitch="6", face="31.75",
        cutter_thickness_large=str(thick), cutter_thickness_small=str(thin),
    )  # fmt: skip
    results = outcome.results
    # From the centre plane the trimmed flank stands so far off at each end; produced, it meets the apex.
    large, small = (side / 2 - results["set_over_mm"] for side in (thick, thin))
    distance = results["cone_distance_mm"]
    assert large / distance == pytest.approx(small / (distance - 31.75))
    rolled = results["roll_deg"] / degrees(1) * float(results["pitch_diameter_mm"]) / 2
    quarter = float(results["module_large_mm"]) * pi / 4
    assert large + rolled == pytest.approx(quarter)
    text = texts(outcome, "set-over")[0]
    assert "opposite way" in text
    assert "same hand" in text


def test_set_over_when_the_cutter_is_no_bevel_cutter_of_this_gear_then_it_is_said():
    more = {"diametral_pitch": "6", "face": "31.75", "shaft_angle": "60"}
    wide = of(24, 24, cutter_thickness_large="6", cutter_thickness_small="5", **more)
    assert "gash-wide" in codes(wide)
    odd = of(24, 24, cutter_thickness_large="4.4", cutter_thickness_small="1", **more)
    assert "set-over-odd" in codes(odd)


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"cutter_thickness_large": "4"}, "cutter_thickness_small"),
        ({"cutter_thickness_small": "4"}, "cutter_thickness_large"),
        ({"cutter_thickness_large": "4", "cutter_thickness_small": "4.1"}, "cutter_thickness_small"),
        (
            {"cutter_thickness_large": "4", "cutter_thickness_small": "3", "tooth_depth": "parallel"},
            "cutter_thickness_large",
        ),
    ],
)
def test_thicknesses_when_they_do_not_go_together_then_the_field_is_named(entered, field):
    with pytest.raises(OutOfRange) as refused:
        of(**entered)
    assert refused.value.field == field


# ---- traps -----------------------------------------------------------------------------------------------


def test_trap_8_spur_cutter_of_the_large_end_in_the_parallel_method_is_named():
    outcome = of(20, 30, module="3", face="18", tooth_depth="parallel", pitch_at="large")
    assert "module 2.002" in texts(outcome, "pitch-other-end")[0]
    assert float(outcome.results["cutter_module_mm"]) == pytest.approx(2.0015, abs=2e-3)
    usual = of(20, 30, module="2", face="18", tooth_depth="parallel")
    assert "pitch-other-end" not in codes(usual)
    text = texts(usual, "one-kind")[0]
    assert "module 2" in text
    # The blank is by the large end's module, not by the cutter's: 20 x 2 would be 40 mm.
    assert float(usual.results["pitch_diameter_mm"]) == pytest.approx(59.97, abs=0.01)
    assert "2.9985" in text


def test_trap_8_taper_pitch_given_at_the_small_end_is_named():
    assert "pitch-other-end" in codes(of(pitch_at="small"))
    assert "pitch-other-end" not in codes(of(pitch_at="large"))


@pytest.mark.parametrize(
    ("teeth", "mate", "raw", "number", "other"),
    [
        (16, 48, "16.87", "7", "No. 6, 17 to 20"),
        (30, 20, "54.08", "3", "No. 2, 55 to 134"),
        (17, 30, "19.54", "6", None),
        (22, 40, "25.11", "5", "No. 4, 26 to 34"),
        (18, 33, "20.50", "6", "No. 5, 21 to 25"),
    ],
)
def test_trap_9_formative_teeth_are_never_rounded_across_a_boundary(teeth, mate, raw, number, other):
    outcome = of(teeth, mate)
    own = outcome.results
    assert f"{own['formative_teeth']:.2f}" == raw
    assert own["cutter_number"] == number
    said = [text for text in texts(outcome, "cutter-between") if text.startswith(f"The {teeth},")]
    assert bool(said) == bool(other)
    if other:
        assert raw in said[0]
        assert other in said[0]


def test_trap_9_a_number_that_is_whole_is_not_lost_by_a_float():
    # 108 and 144 teeth: 108 x 180/144 = 135 exactly, where the cutter to a rack begins.
    assert of(108, 144).results["formative_teeth"] == 135
    assert of(108, 144).results["cutter_number"] == "1"
    # Mitre gears at 120 degrees: twice the teeth.
    assert of(13, 13, shaft_angle="120", face="5").results["cutter_number"] == "4"
    assert snapped(134.99999999999997) == 135
    assert snapped(134.999) == 134.999
    assert next_cutter(135.0, "8") is None


def test_trap_9_the_wrong_function_is_named_as_what_it_is_not():
    # 20 and 40 teeth: 22.36 is right; 44.7 by the sine, 27.95 by the rule of helical gears; derived.
    pinion, wheel = texts(of(), "formative-rule")
    assert "22.36" in pinion
    assert "44.72, No. 3" in pinion
    assert "27.95, No. 4" in pinion
    assert "89.44" in wheel
    assert "44.72, No. 3" in wheel


def test_trap_10_a_module_as_a_diametral_pitch_or_both_are_refused():
    for entered, field in (
        ({"diametral_pitch": "2 MOD"}, "diametral_pitch"),
        ({"module": "8 DP"}, "module"),
    ):
        with pytest.raises(EntryErrors) as refused:
            read_entries(
                get("bevel-pair"), {"teeth": "20", "mate_teeth": "40", "face_width": "10 mm"} | entered
            )
        assert field in refused.value.messages
    with pytest.raises(OutOfRange) as both:
        bevel_pair(
            teeth=20, mate_teeth=40, face_width=Fraction(9), module=Fraction(2), diametral_pitch=Fraction(8)
        )
    assert both.value.field == "module"


def test_trap_10_the_metric_numbering_is_named_beside_the_range():
    assert "No. 4" in texts(of(), "numbered-other-way")[0]
    assert "numbered-other-way" not in codes(of(diametral_pitch="8"))
    assert "angle-unusual" in codes(of(pressure_angle="17"))


def test_trap_11_both_depths_are_named_and_the_outside_is_not_the_pitch_diameter():
    outcome = of()
    text = texts(outcome, "depth-systems")[0]
    assert "6.750 mm by 2.25" in text
    assert "6.471 mm by 2.157" in text
    assert outcome.results["outside_diameter_mm"] > float(outcome.results["pitch_diameter_mm"])


def test_trap_14_nothing_is_rounded_on_the_way():
    # 30 teeth, mitre, module 1 mm shown in inches: from 0.0394 and 0.8352 the angle would be 2.701 degrees.
    outcome = of(30, 30, module="1", face="5")
    step = next(one for one in outcome.working if one.label == "Addendum angle")
    assert step.value == "2.69895"
    assert degrees(atan(0.0394 / 0.8352)) == pytest.approx(2.701, abs=5e-4)
    assert float(step.value) == pytest.approx(outcome.results["face_angle_deg"] - 45, abs=5e-6)


# ---- warnings --------------------------------------------------------------------------------------------


def test_face_when_over_its_limit_then_it_is_said_and_which_limit():
    limit = of().results["face_width_limit_mm"]
    assert "face-wide" not in codes(of(face=str(Fraction(limit) - Fraction(1, 1000))))
    wide = of(face=str(Fraction(limit) + Fraction(1, 1000)))
    assert "a third of the cone distance" in texts(wide, "face-wide")[0]
    coarse = of(100, 100, module="1", face="11")
    assert coarse.results["face_width_limit_mm"] == 10
    assert "ten modules" in texts(coarse, "face-wide")[0]


def test_face_angle_when_taper_then_the_other_reading_is_named():
    # m 3, 20 and 40 teeth: 29.126 by the common apex, 29.765 by the mate's dedendum angle; derived.
    text = texts(of(), "face-angle")[0]
    assert "29.765°" in text
    assert "29.126°" in text
    assert "face-angle" not in codes(of(tooth_depth="parallel"))


def test_kind_when_taper_or_parallel_then_each_says_what_the_other_is_not():
    assert "do not run with parallel" in texts(of(), "one-kind")[0]
    assert "do not run with taper" in texts(of(tooth_depth="parallel"), "one-kind")[0]


def test_face_when_it_leans_past_flat_then_it_is_said():
    assert "face-past-flat" in codes(of(12, 80, face="5", shaft_angle="97.5"))
    assert "face-past-flat" not in codes(of())


def test_cutter_when_formative_teeth_are_too_few_then_there_is_none():
    outcome = of(9, 40)
    assert outcome.results["cutter_number"] is None
    assert "no-cutter" in codes(outcome)
    assert "undercut" in codes(outcome)
    assert cutter_for(outcome.results["formative_teeth"], "8") is None


def test_gears_when_equal_then_nothing_is_said_twice():
    outcome = of(20, 20)
    assert len(set(outcome.warnings)) == len(outcome.warnings)


# ---- edges -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("small", "large", "angle", "goes"),
    [(20, 40, "120", False), (20, 40, "119.99", True), (40, 20, "120", False), (30, 30, "175", True),
     (20, 21, "162", True), (20, 21, "163", False)],
)  # fmt: skip
def test_shafts_when_a_pitch_angle_would_be_square_or_more_then_they_are_refused(small, large, angle, goes):
    if goes:
        assert (
            max(own["pitch_angle_deg"] for own in gears(of(small, large, face="0.6", shaft_angle=angle))) < 90
        )
        return
    with pytest.raises(OutOfRange) as refused:
        of(small, large, face="0.6", shaft_angle=angle)
    assert refused.value.field == "shaft_angle"
    assert "less than" in refused.value.limit


def test_face_when_half_the_cone_distance_then_it_is_worked_and_a_hair_more_is_refused():
    half = of(30, 30, module="2").results["cone_distance_mm"] / 2
    assert of(30, 30, module="2", face=str(Fraction(half) - Fraction(1, 10**9)))
    with pytest.raises(OutOfRange) as refused:
        of(30, 30, module="2", face=str(Fraction(half) + Fraction(1, 10**6)))
    assert refused.value.field == "face_width"


EDGES = [
    ("teeth", TEETH, 1, {}),
    ("mate_teeth", TEETH, 1, {}),
    ("shaft_angle", limits.SHAFT_DEG, Fraction(1, 3600), {"teeth": 30, "mate_teeth": 30}),
    ("pressure_angle", ANGLE_DEG, Fraction(1, 3600), {}),
    ("module", MODULE_MM, Fraction(1, 10**6), {}),
    ("diametral_pitch", PITCH, Fraction(1, 10**6), {"module": None}),
    ("face_width", FACE_MM, Fraction(1, 10**6), {"module": Fraction(25), "teeth": 100}),
    (
        "cutter_thickness_large",
        limits.THICK_MM,
        Fraction(1, 10**6),
        {"cutter_thickness_small": Fraction(1, 20)},
    ),
    (
        "cutter_thickness_small",
        limits.THICK_MM,
        Fraction(1, 10**6),
        {"cutter_thickness_large": Fraction(100)},
    ),
]


@pytest.mark.parametrize(("name", "ends", "step", "beside"), EDGES, ids=[edge[0] for edge in EDGES])
def test_entry_when_at_its_limit_then_it_is_worked_and_a_step_outside_is_refused_by_name(
    name, ends, step, beside
):
    entered = {"teeth": 20, "mate_teeth": 40, "module": Fraction(2), "face_width": Fraction(1, 2)} | beside
    for end, outside in ((ends[0], ends[0] - step), (ends[1], ends[1] + step)):
        assert bevel_pair(**entered | {name: end}).results["outside_diameter_mm"] > 0
        with pytest.raises(OutOfRange) as refused:
            bevel_pair(**entered | {name: outside})
        assert refused.value.field == name
        assert refused.value.reason


@pytest.mark.parametrize("name", ["tooth_depth", "pitch_at", "depth_system", "cutter_set"])
def test_choice_when_it_is_none_of_them_then_it_is_refused_by_name(name):
    with pytest.raises(OutOfRange) as refused:
        of(**{name: "sideways"})
    assert refused.value.field == name
