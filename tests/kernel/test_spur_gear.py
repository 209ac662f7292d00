"""Spur gears against a tooth that is drawn and measured, what a builder is warned of, and the edges."""

from fractions import Fraction
from itertools import pairwise
from math import acos, cos, pi, radians, sin, tan

import pytest

from calc.kernel import spur_gear_entries as limits
from calc.kernel.errors import OutOfRange
from calc.kernel.involute import angle_of_involute, involute
from calc.kernel.spur_gear import spur_gear
from calc.kernel.spur_gear_cutters import cutter_for, cutters
from tests.oracles import drawn_chord, drawn_over_pins, drawn_span, rolled_contact

INCH = Fraction(254, 10)
#: Modern Machine-Shop Practice, 1887, the teeth each cutter of a set of eight is shaped for: an older table
#: than the one of 1914 that the ranges are read from, read in an e-text.
SHAPED_FOR_1887 = {"1": 200, "2": 68, "3": 40, "4": 29, "5": 22, "6": 18, "7": 16, "8": 13}


def of(teeth=24, *, module="1", **more):
    pitch = {} if "diametral_pitch" in more else {"module": Fraction(module)}
    exact = {name: Fraction(value) if isinstance(value, str) and name not in TEXT else value
             for name, value in more.items()}  # fmt: skip
    return spur_gear(teeth=teeth, **pitch, **exact)


TEXT = ("depth_system", "cutter_set")


def inches(results, name):
    return float(results[name]) / 25.4


def codes(outcome):
    return {caution.code for caution in outcome.warnings}


def text_of(outcome, code):
    return next(caution.text for caution in outcome.warnings if caution.code == code)


# ---- against a drawn tooth -------------------------------------------------------------------------------

DRAWN = [
    (24, "20", "0", "0"),
    (30, "20", "0", "0"),
    (24, "20", "0.4", "0"),
    (17, "20", "0.1", "0.04"),
    (31, "14.5", "-0.2", "0.1"),
    (84, "20", "0", "0.06"),
    (45, "25", "0", "0"),
]


@pytest.mark.parametrize(("teeth", "angle", "shift", "backlash"), DRAWN)
def test_measures_when_the_tooth_is_drawn_from_the_involute_then_they_agree(teeth, angle, shift, backlash):
    results = of(
        teeth, pressure_angle=angle, profile_shift=shift, backlash=backlash, pin_diameter="1.728"
    ).results
    alpha = radians(float(angle))
    thick = pi / 2 + 2 * float(shift) * tan(alpha) - float(backlash) / 2
    chord, out = drawn_chord(teeth, alpha, thick)
    assert results["chordal_thickness_mm"] == pytest.approx(chord, abs=1e-9)
    tip = teeth / 2 + 1 + float(shift)
    assert results["chordal_addendum_mm"] == pytest.approx(tip - out, abs=1e-9)
    span = drawn_span(teeth, alpha, thick, results["span_teeth"])
    assert results["span_mm"] == pytest.approx(span, abs=1e-9)
    pins = drawn_over_pins(teeth, alpha, thick, 1.728)
    assert results["over_pins_mm"] == pytest.approx(pins, abs=1e-7)


@pytest.mark.parametrize(
    ("teeth", "mate", "angle"), [(84, 18, 20), (57, 17, 20), (40, 40, 25), (60, 45, 14.5)]
)
def test_contact_when_each_gear_is_rolled_from_pitch_point_to_tip_then_the_ratio_agrees(teeth, mate, angle):
    results = of(teeth, mate_teeth=mate, pressure_angle=str(angle)).results
    rolled = rolled_contact((teeth, mate), (teeth / 2 + 1, mate / 2 + 1), radians(angle))
    assert results["contact_ratio"] == pytest.approx(rolled, abs=1e-12)


def test_contact_when_a_tip_reaches_past_the_base_circle_then_only_what_is_before_it_counts():
    outcome = of(100, mate_teeth=12)
    alpha = radians(20)
    # From the tip of the pinion to its mate's end of the line, which is the whole of its own side.
    approach = 12 / 2 * sin(alpha)
    recess = (7**2 - (6 * cos(alpha)) ** 2) ** 0.5 - 6 * sin(alpha)
    assert outcome.results["contact_ratio"] == pytest.approx((approach + recess) / (pi * cos(alpha)))
    assert "interference" in codes(outcome)
    assert "interference" not in codes(of(100, mate_teeth=18))


@pytest.mark.parametrize(("teeth", "shift"), [(24, "0"), (40, "0.3")])
def test_span_when_one_tooth_more_is_taken_then_it_grows_by_a_base_pitch(teeth, shift):
    spans = [
        of(teeth, module="2", span_teeth=over, profile_shift=shift).results["span_mm"] for over in range(2, 6)
    ]
    # Base pitch at module 2 and 20 degrees: 5.9043 mm, derived.
    assert [b - a for a, b in pairwise(spans)] == pytest.approx([5.9043] * 3, abs=5e-5)


def test_chord_when_teeth_are_many_then_it_comes_to_that_of_the_rack():
    # Elements of Metric Gear Technology, sec. 10: rack of module 3, chord 4.7124, height 3.0000.
    results = of(1000, module="3").results
    assert results["chordal_thickness_mm"] == pytest.approx(4.7124, abs=5e-5)
    assert results["chordal_addendum_mm"] == pytest.approx(3.0000, abs=2e-3)


@pytest.mark.parametrize("teeth", [17, 24, 60, 135])
def test_chordal_addendum_when_worked_by_the_quick_form_then_it_agrees_to_a_part_in_a_thousand(teeth):
    # (1 + 0.6169/z)/P, a handbook's quick form from memory, derived again from the series of the cosine.
    assert of(teeth).results["chordal_addendum_mm"] == pytest.approx(1 + 0.6169 / teeth, abs=1e-4)


@pytest.mark.parametrize("angle", [1e-3, 0.05, 0.2, 0.5, 1.0, 1.4, 1.55])
def test_angle_of_involute_when_turned_back_then_it_is_the_angle(angle):
    assert angle_of_involute(involute(angle)) == pytest.approx(angle, rel=1e-7)


def test_involute_when_of_the_two_usual_angles_then_as_tabled():
    # inv 20 degrees 0.0149044, inv 14.5 degrees 0.0055448: derived, and as handbooks have them, from memory.
    assert involute(radians(20)) == pytest.approx(0.0149044, abs=5e-8)
    assert involute(radians(14.5)) == pytest.approx(0.0055448, abs=5e-8)


# ---- the sizes -------------------------------------------------------------------------------------------


def test_sizes_when_exact_then_they_are_fractions_and_dedendum_is_depth_less_addendum():
    results = of(57, diametral_pitch="8", mate_teeth=17).results
    assert results["outside_diameter_mm"] == Fraction(59, 8) * INCH
    assert results["root_diameter_mm"] == results["outside_diameter_mm"] - 2 * results["whole_depth_mm"]
    assert results["centre_distance_mm"] == Fraction(74, 16) * INCH
    assert results["ratio"] == Fraction(57, 17)
    assert results["mate"]["pitch_diameter_mm"] == Fraction(17, 8) * INCH


def test_sizes_when_there_is_no_mate_and_no_pin_then_what_has_no_meaning_is_none():
    results = of().results
    for name in ("centre_distance_mm", "running_centre_distance_mm", "ratio", "contact_ratio", "mate"):
        assert results[name] is None
    assert results["over_pins_mm"] is None


@pytest.mark.parametrize(
    ("pitch", "system"), [({"diametral_pitch": "8"}, "2.157"), ({"module": "3"}, "2.25")]
)
def test_depth_when_no_system_is_asked_for_then_it_is_the_usual_one_of_the_pitch(pitch, system):
    outcome = of(24, **pitch)
    assert outcome.results["depth_system"] == system
    assert outcome.results["whole_depth_mm"] == Fraction(system) * outcome.results["module_mm"]


def test_depth_when_two_thou_go_with_it_then_they_are_of_an_inch_with_a_module_as_well():
    assert of(24, module="1", depth_system="2.2+0.002").results["whole_depth_mm"] == Fraction("2.2508")
    assert (
        of(24, diametral_pitch="24", depth_system="2.2+0.002").results["whole_depth_mm"]
        == (Fraction("2.2") / 24 + Fraction("0.002")) * INCH
    )


@pytest.mark.parametrize(("teeth", "span"), [(18, 2), (27, 3), (36, 4), (19, 3), (84, 10), (12, 2)])
def test_span_when_left_to_the_rule_then_teeth_times_angle_over_a_half_turn_is_rounded_up(teeth, span):
    assert of(teeth).results["span_teeth"] == span


def test_backlash_when_given_then_half_of_it_comes_off_each_tooth():
    plain, thin = (
        of(24, mate_teeth=36, backlash=play, pin_diameter="1.728").results for play in ("0", "0.1")
    )
    for tight, loose in ((plain, thin), (plain["mate"], thin["mate"])):
        assert tight["tooth_thickness_mm"] - loose["tooth_thickness_mm"] == pytest.approx(0.05)
        assert tight["span_mm"] - loose["span_mm"] == pytest.approx(0.05 * cos(radians(20)))
        assert loose["over_pins_mm"] < tight["over_pins_mm"]
    assert thin["outside_diameter_mm"] == plain["outside_diameter_mm"]


def test_shift_when_given_then_the_mate_has_none_and_the_pair_runs_further_apart():
    outcome = of(24, mate_teeth=36, profile_shift="0.4")
    results = outcome.results
    assert results["mate"]["outside_diameter_mm"] == 38
    assert results["centre_distance_mm"] == 30
    # The pair without play, found by laying tooth into space: on the circles it runs at, one tooth of each
    # fills a pitch.
    running = results["running_centre_distance_mm"]
    alpha, along = radians(20), 0.0
    for teeth, shift in ((24, 0.4), (36, 0.0)):
        rolling = running * teeth / 60
        there = acos(teeth / 2 * cos(alpha) / rolling)
        half = pi / (2 * teeth) + 2 * shift * tan(alpha) / teeth
        along += 2 * rolling * (half + involute(alpha) - involute(there))
    assert along == pytest.approx(2 * pi * running / 60, rel=1e-12)
    assert "shifted-centres" in codes(outcome)


@pytest.mark.parametrize(
    ("teeth", "angle", "shift", "is_undercut"),
    [
        (17, "20", "0", True), (18, "20", "0", False), (31, "14.5", "0", True), (32, "14.5", "0", False),
        (7, "30", "0", True), (8, "30", "0", False), (17, "20", "0.01", False), (12, "20", "0.3", False),
        (12, "20", "0.29", True),
    ],
)  # fmt: skip
def test_undercut_when_teeth_are_below_the_limit_then_it_says_so(teeth, angle, shift, is_undercut):
    outcome = of(teeth, pressure_angle=angle, profile_shift=shift)
    assert outcome.results["undercut"] is is_undercut
    assert ("undercut" in codes(outcome)) is is_undercut
    # The straight flank of a rack reaches as far in as its addendum; the involute begins a sine squared in.
    alpha = radians(float(angle))
    assert is_undercut == (1 - float(shift) > teeth / 2 * sin(alpha) ** 2 + 1e-9)


# ---- cutters ---------------------------------------------------------------------------------------------


def test_cutters_when_held_against_the_table_of_1887_then_each_is_shaped_for_teeth_of_its_range():
    for number, teeth in SHAPED_FOR_1887.items():
        assert cutter_for(teeth, "8").number == number


@pytest.mark.parametrize(("cutter_set", "number"), [("8", 8), ("15", 15)])
def test_cutters_when_every_count_is_tried_then_ranges_meet_without_a_gap(cutter_set, number):
    found = cutters(cutter_set)
    assert len(found) == number
    for teeth in range(12, 400):
        serving = [c for c in found if c.lowest <= teeth <= (c.highest or 10**6)]
        assert serving == [cutter_for(teeth, cutter_set)]
    assert found[-1].highest is None


def test_cutters_when_printed_ends_are_read_then_the_next_begins_where_the_last_ends():
    # The 1914 list prints both ends of every range of the set of eight; only the lower ones are worked with.
    from calc.kernel import tables

    printed = {row["cutter"]: row["highest"] for row in tables.read_table("milling1914", "cutters").rows}
    assert {c.number: str(c.highest or "rack") for c in cutters("8")} == printed


@pytest.mark.parametrize(
    ("formative", "number"), [("16.87", "7"), ("54.08", "3"), ("25.6", "5"), ("20.4", "6")]
)
def test_cutter_when_the_number_is_not_whole_then_it_is_never_rounded_up(formative, number):
    assert cutter_for(Fraction(formative), "8").number == number


def test_cutter_when_teeth_are_fewer_than_any_range_then_there_is_none():
    outcome = of(11, diametral_pitch="8")
    for name in ("cutter_number", "cutter_from_teeth", "cutter_to_teeth"):
        assert outcome.results[name] is None
    assert "no-cutter" in codes(outcome)
    assert not any("cutter" in step.label.lower() for step in outcome.working)


def test_cutter_when_it_goes_to_a_rack_then_its_range_has_no_end():
    results = of(135).results
    assert (results["cutter_number"], results["cutter_to_teeth"]) == ("1", None)


# ---- warnings --------------------------------------------------------------------------------------------


def test_drawing_when_its_centres_differ_then_the_difference_is_named():
    outcome = of(57, diametral_pitch="8", mate_teeth=17, drawing_centre_distance=Fraction("4.6875") * INCH)
    text = text_of(outcome, "centre-distance")
    assert "0.0625 in" in text
    assert "4.6250 in" in text
    assert "75 teeth" in text
    assert "−0.0625 in" in text_of(
        of(57, diametral_pitch="8", mate_teeth=17, drawing_centre_distance=Fraction("4.5625") * INCH),
        "centre-distance",
    )


def test_drawing_when_its_centres_agree_then_nothing_is_said():
    outcome = of(57, diametral_pitch="8", mate_teeth=17, drawing_centre_distance=Fraction("4.625") * INCH)
    assert "centre-distance" not in codes(outcome)


def test_drawing_when_its_centres_are_of_the_outside_diameters_then_it_says_so():
    # A public case: gears of a published frame spaced by their outside instead of pitch diameters.
    outcome = of(40, mate_teeth=21, drawing_centre_distance="32.5")
    assert "outside diameters" in text_of(outcome, "centre-distance")


def test_drawing_when_its_centres_are_only_rounded_then_it_is_said_softly():
    drawn = Fraction("8.417") * INCH
    outcome = of(84, diametral_pitch="6", mate_teeth=17, drawing_centre_distance=drawn)
    assert "rounded" in text_of(outcome, "centre-distance")


def test_depth_when_asked_for_then_the_other_system_stands_beside_it():
    outcome = of(57, diametral_pitch="8")
    assert "0.2696 in by 2.157" in text_of(outcome, "depth-systems")
    assert "0.2813 in by 2.25" in text_of(outcome, "depth-systems")
    coarse = of(57, diametral_pitch="8", depth_system="2.2+0.002")
    assert "20 DP and finer" in text_of(coarse, "depth-systems")
    assert "20 DP" not in text_of(of(57, diametral_pitch="20", depth_system="2.2+0.002"), "depth-systems")


def test_blank_when_under_size_then_half_comes_off_the_chordal_addendum_and_off_the_depth():
    nominal, small = of(24), of(24, outside_diameter_measured="25.9")
    drop = nominal.results["chordal_addendum_mm"] - small.results["chordal_addendum_mm"]
    assert drop == pytest.approx(0.05)
    assert "2.200 mm" in text_of(small, "blank-size")
    assert "blank-size" not in codes(nominal)
    assert "over" in text_of(of(24, outside_diameter_measured="26.1"), "blank-size")


@pytest.mark.parametrize(("teeth", "over", "where"), [(40, 9, "above the tips"), (200, 2, "below the flank")])
def test_span_when_the_anvils_miss_the_flank_then_one_that_goes_is_named(teeth, over, where):
    outcome = of(teeth, span_teeth=over)
    assert where in text_of(outcome, "span-off-flank")
    good = int(text_of(outcome, "span-off-flank").rpartition("Take ")[2].rstrip("."))
    assert "span-off-flank" not in codes(of(teeth, span_teeth=good))


def test_span_when_shift_pushes_the_tooth_out_then_the_rule_still_goes_or_it_is_said():
    # A known case: 24 teeth with a shift of 0.4 are spanned over 4, where the rule gives 3.
    assert of(24, profile_shift="0.4").results["span_teeth"] == 3
    assert "span-off-flank" not in codes(of(24, profile_shift="0.4", span_teeth=4))


@pytest.mark.parametrize(
    ("pin", "code", "has_size"),
    [
        ("1.728", None, True), ("1.68", None, True), ("1.4", "pin-low", True), ("3.6", "pin-high", False),
        ("0.9", "pin-sinks", False), ("0.4", "pin-sinks", False),
    ],
)  # fmt: skip
def test_pin_when_it_does_not_sit_right_then_it_is_said(pin, code, has_size):
    outcome = of(24, pin_diameter=pin)
    found = {one for one in codes(outcome) if one.startswith("pin-")}
    assert found == ({code} if code else set())
    assert (outcome.results["over_pins_mm"] is not None) == has_size


def test_pin_when_it_would_rest_on_the_bottom_then_there_is_no_size_over_it():
    outcome = of(60, pin_diameter="0.9")
    assert "pin-bottoms" in codes(outcome)
    assert outcome.results["over_pins_mm"] is None


def test_set_when_metric_then_the_range_is_named_beside_the_other_numbering():
    text = text_of(of(84, module="4"), "numbered-other-way")
    assert "55 to 134" in text
    assert "No. 7" in text
    assert "numbered-other-way" not in codes(of(84, diametral_pitch="6"))


def test_half_numbers_when_the_pitch_is_outside_two_to_eight_then_it_is_said():
    assert "half-numbers-pitch" in codes(of(84, diametral_pitch="10", cutter_set="15"))
    assert "half-numbers-pitch" not in codes(of(84, diametral_pitch="8", cutter_set="15"))
    assert "half-number" in codes(of(84, diametral_pitch="8"))
    assert "half-number" not in codes(of(60, diametral_pitch="8"))
    assert "half-number" not in codes(of(84, diametral_pitch="10"))


def test_tooth_when_its_tip_or_angle_is_out_of_the_way_then_it_is_said():
    assert "thin-tip" in codes(of(12, profile_shift="0.7"))
    assert "angle-unusual" in codes(of(24, pressure_angle="25"))
    assert not {"thin-tip", "angle-unusual"} & codes(of(24, pressure_angle="14.5"))


def test_contact_when_low_then_it_is_said():
    assert "contact-low" in codes(
        of(24, mate_teeth=24, pressure_angle="30", outside_diameter_measured="25.5")
    )


# ---- edges -----------------------------------------------------------------------------------------------

#: Each limit, what goes with it so that it has an answer, and a step outside it.
EDGES = [
    ("teeth", limits.TEETH, 1, {}),
    ("mate_teeth", limits.TEETH, 1, {}),
    ("pressure_angle", limits.ANGLE_DEG, Fraction(1, 3600), {}),
    ("profile_shift", limits.SHIFT, Fraction(1, 10**6), {"teeth": 60}),
    ("span_teeth", limits.SPAN, 1, {"teeth": 600}),
    ("face_width", limits.FACE_MM, Fraction(1, 10**6), {}),
    ("backlash", limits.BACKLASH_MM, Fraction(1, 10**6), {"module": Fraction(20)}),
    ("pin_diameter", limits.PIN_MM, Fraction(1, 10**6), {}),
    ("module", limits.MODULE_MM, Fraction(1, 10**6), {}),
    ("diametral_pitch", limits.PITCH, Fraction(1, 10**6), {"module": None}),
]


@pytest.mark.parametrize(("name", "ends", "step", "beside"), EDGES, ids=[edge[0] for edge in EDGES])
def test_entry_when_at_its_limit_then_it_is_worked_and_a_step_outside_is_refused_by_name(
    name, ends, step, beside
):
    entered = {"teeth": 24, "module": Fraction(1)} | beside
    for end, outside in ((ends[0], ends[0] - step), (ends[1], ends[1] + step)):
        assert spur_gear(**entered | {name: end}).results["outside_diameter_mm"] > 0
        with pytest.raises(OutOfRange) as refused:
            spur_gear(**entered | {name: outside})
        assert refused.value.field == name
        assert refused.value.reason


@pytest.mark.parametrize("name", ["outside_diameter_measured", "drawing_centre_distance"])
def test_length_when_outside_any_reason_then_it_is_refused_by_name(name):
    for length in (Fraction("0.999"), Fraction(30_001)):
        with pytest.raises(OutOfRange) as refused:
            of(24, mate_teeth=30, **{name: length})
        assert refused.value.field == name


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"module": Fraction(2), "diametral_pitch": Fraction(8)}, "module"),
        ({}, "diametral_pitch"),
        ({"module": Fraction(2), "span_teeth": 24}, "span_teeth"),
        ({"module": Fraction(2), "backlash": Fraction("1.01")}, "backlash"),
        ({"module": Fraction(2), "drawing_centre_distance": Fraction(60)}, "drawing_centre_distance"),
        ({"module": Fraction(2), "outside_diameter_measured": Fraction(48)}, "outside_diameter_measured"),
        ({"module": Fraction(2), "outside_diameter_measured": Fraction("54.1")}, "outside_diameter_measured"),
        ({"module": Fraction(2), "depth_system": "2.2"}, "depth_system"),
        ({"module": Fraction(2), "cutter_set": "9"}, "cutter_set"),
    ],
)
def test_entries_when_they_do_not_go_together_then_the_field_is_named(entered, field):
    with pytest.raises(OutOfRange) as refused:
        spur_gear(teeth=24, **entered)
    assert refused.value.field == field
    assert refused.value.reason


def test_blank_when_at_the_edge_of_sense_then_it_is_worked():
    assert of(24, module="2", outside_diameter_measured="54").results["chordal_addendum_mm"] > 3
    assert of(24, module="2", outside_diameter_measured="48.001").results["chordal_addendum_mm"] > 0


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"teeth": 8, "profile_shift": Fraction(1)}, "profile_shift"),
        ({"teeth": 6, "pressure_angle": Fraction(30), "backlash": Fraction(1, 5)}, "backlash"),
        (
            {"teeth": 30, "mate_teeth": 6, "pressure_angle": Fraction(30), "backlash": Fraction(1, 5)},
            "backlash",
        ),
    ],
)
def test_tooth_when_it_would_come_to_a_point_then_what_makes_it_so_is_named(entered, field):
    with pytest.raises(OutOfRange) as refused:
        spur_gear(module=Fraction(1), **entered)
    assert refused.value.field == field


def test_pair_when_its_teeth_would_lose_touch_then_it_is_refused():
    with pytest.raises(OutOfRange) as refused:
        of(6, mate_teeth=6, profile_shift="-0.5")
    assert refused.value.field == "profile_shift"
