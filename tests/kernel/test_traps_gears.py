"""The list of slips made with gears and dividing, and how each is caught; one test or more to a number.

The slips are those of the trade, gathered from forums, handbooks and exercises; examples are reckoned anew.
More on one stands beside its sum, under the same number.

 1. A differential setting is read and the gears are left off: 57 by 22 in 33 alone makes 60.
 2. The plate is geared to turn the wrong way: 59 becomes 61, 127 becomes 113.
 3. A compound setting that passes several teeth at a move is taken for one tooth; the two circles are
    taken from two plates.
 4. The head has another ratio than was thought: 40, 60, 72 or 90.
 5. Holes are counted for the sector, where spaces are meant.
 6. The quarter-pitch roll of a bevel cannot be set on the circle in use, and that is found after the
    centre pass.
 7. Roll and table offset are set to the same hand.
 8. The large end's pitch is given to a spur cutter in the parallel method, or the small end's to the blank.
 9. Formative teeth are rounded across the boundary between two cutters, or reckoned by another rule.
10. Diametral pitch and module are mixed, or 14 1/2 and 20 degrees, or a metric set's numbers read as others.
11. The outside diameter is taken for the pitch diameter; the depth is of another system than the cutter.
12. The chordal addendum is not corrected for a small blank; the arc is taken for the chord.
13. The span is taken over too many or too few teeth; odd teeth over pins without the cosine; a pin that
    does not stand above the tips.
14. Degrees and radians; figures rounded on the way.
15. A differential's carrier drilled for three pinions between side gears that three does not divide.
16. An approximate setting is given without its error and without what is left at the last space.
17. Backlash: nominal figures have none, and where an allowance went is not said.
"""

import re
from fractions import Fraction
from math import atan, cos, degrees, pi, radians, sin

import pytest

from calc import runs
from calc.entries import EntryErrors
from calc.registry import get
from tests.oracles import GEARS, SET_A

FACES = " / ".join(",".join(map(str, face)) for face in SET_A)
OWNED = ",".join(map(str, GEARS))


def run(key, unit="inch", **entered):
    return runs.run(get(key), entered, unit=unit)


def dividing(divisions, circles=FACES, **more):
    return run("indexing", divisions=str(divisions), circles=circles, **more)


def texts(found, code):
    return [one.text for one in found.outcome.warnings if one.code == code]


def codes(found):
    return {one.code for one in found.outcome.warnings}


def refused(key, **entered):
    with pytest.raises(EntryErrors) as wrong:
        run(key, **entered)
    return wrong.value.messages


def steps(found):
    return {step.label: step for step in found.outcome.working}


def test_list_when_counted_then_every_slip_has_its_test():
    listed = [int(number) for number in re.findall(r"^ ?(\d+)\. ", __doc__, re.MULTILINE)]
    tested = {int(name.split("_")[2]) for name in globals() if name.startswith("test_trap_")}
    assert listed == list(range(1, 18))
    assert tested == set(listed)


# ---- dividing --------------------------------------------------------------------------------------------


def test_trap_1_gears_left_off_when_a_row_is_read_then_what_it_makes_alone_is_said():
    found = dividing(57, "33", change_gears=OWNED)
    (row,) = [one for one in found.outcome.results["differential"] if one["holes"] == 22]
    assert row["works_as_divisions"] == 60  # 40 / (22/33)
    assert any("22 in 33 without the gears makes 60, not 57" in one for one in texts(found, "without-gears"))
    odd = dividing(51, "17", change_gears=OWNED)  # 40 / (14/17) is no whole number
    assert "14 in 17 without the gears makes 48 4/7, not 51." in texts(odd, "without-gears")


@pytest.mark.parametrize(
    ("divisions", "circle", "swapped"), [(59, "39", 61), (61, "39", 59), (127, "39", 113), (113, "39", 127)]
)
def test_trap_2_wrong_sense_when_geared_then_the_count_it_would_make_is_named(divisions, circle, swapped):
    found = dividing(divisions, circle, change_gears=OWNED)
    (text,) = texts(found, "plate-sense")
    row = found.outcome.results["differential"][0]
    assert row["wrong_way_divisions"] == swapped
    assert f"the other way it makes {swapped}" in text
    assert row["plate_sense"] == ("same" if divisions < swapped else "opposite")


def test_trap_3_several_teeth_when_a_row_passes_five_then_it_is_no_row_of_one_tooth():
    # 106 by fives, 1 turn and 7/39 and 29/41, misses by 1.2e-5 of a turn; 7/39 + 29/41 for one tooth is wild.
    assert dividing(106).outcome.results["compound"] == []
    schedule = run("indexing-schedule", divisions="7", circle="21", turns="17", holes="3")
    (text,) = texts(schedule, "several-at-a-time")
    assert "passes 3 divisions" in text


def test_trap_3_two_plates_when_the_circles_are_on_two_faces_then_there_is_no_pair():
    assert dividing(69, "21,23,33").outcome.results["compound"]
    assert dividing(69, "21,33 / 23").outcome.results["compound"] == []
    (text,) = texts(dividing(69, "23,33"), "compound-two-moves")
    assert "on one face" in text
    assert "the other way" in text  # 21/23 less 11/33: with a plus it is 86/69


@pytest.mark.parametrize(
    ("ratio", "other", "made"), [("40", "60", "126 divisions"), ("60", "40", "56 divisions")]
)
def test_trap_4_ratio_when_taken_then_what_the_move_makes_on_another_head_is_said(ratio, other, made):
    found = dividing(84, ratio=ratio)
    (text,) = texts(found, "head-ratio")
    assert f"Worked for a head of {ratio} to 1" in text
    assert f"on one of {other} to 1" in text
    assert made in text
    assert text in runs.answer_of(found)["notes"]


def test_trap_4_ratio_when_left_out_then_the_usual_one_is_echoed_and_others_are_offered():
    found = dividing(57)
    assert found.readings["ratio"] == "40, as usual"
    (text,) = texts(found, "other-ratio")
    assert "72 to 1: 1 turn + 5 in 19" in text  # 72/57 = 24/19
    angled = run("indexing", angle="13", circles="18")
    assert "turns the work 8° 40′" in texts(angled, "head-ratio")[0]  # 13 × 40/60


def test_trap_5_sector_when_holes_are_counted_then_there_is_one_more_than_the_spaces():
    found = dividing(84)
    row = found.outcome.results["plain"][0]
    assert (row["holes"], row["sector_holes"]) == (10, 11)
    shown = runs.answer_of(found)
    assert "10 spaces" in shown["big"]
    assert "11 holes" in shown["under"]


# ---- bevel gears -----------------------------------------------------------------------------------------


def test_trap_6_quarter_when_it_cannot_be_had_then_it_is_said_before_the_first_cut():
    # 40/24/4 = 5/12: no circle of set A divides by 12; 24 of set B does, 10 in 24.
    found = dividing(24, keep_quarter="yes")
    assert found.outcome.results["plain"] == []
    (text,) = texts(found, "no-plain")
    assert "a quarter of the move" in text
    assert "divides by 12" in text
    rows = dividing(24, "24,25,28,30", keep_quarter="yes").outcome.results["plain"]
    assert [(row["circle"], row["quarter_turns"], row["quarter_holes"]) for row in rows] == [(24, 0, 10)]


def test_trap_7_hands_when_set_over_then_the_roll_is_said_to_be_opposite_and_what_the_blank_sees():
    found = run(
        "bevel-pair", teeth="24", mate_teeth="41", diametral_pitch="6", face_width="1 1/4",
        cutter_thickness_large="0.1745", cutter_thickness_small="0.14",
    )  # fmt: skip
    (text,) = texts(found, "set-over")
    assert "roll the blank" in text
    assert "the opposite way" in text
    assert "Seen from the blank, cutter and space move to the same hand" in text


def test_trap_8_pitch_end_when_given_at_the_wrong_one_then_the_cutter_is_named():
    entered = {"teeth": "20", "mate_teeth": "30", "module": "3", "face_width": "18 mm"}
    found = run("bevel-pair", **entered, tooth_depth="parallel", pitch_at="large")
    (text,) = texts(found, "pitch-other-end")
    assert "belongs to the small end" in text
    assert "module 2.002" in text
    right = run("bevel-pair", **entered | {"module": "2"}, tooth_depth="parallel")
    assert "pitch-other-end" not in codes(right)
    (text,) = texts(right, "one-kind")
    assert "spur cutter of the small end’s pitch" in text
    assert "blank turned by the large end’s module" in text
    taper = run("bevel-pair", **entered, pitch_at="small")
    assert "belongs to the large end" in texts(taper, "pitch-other-end")[0]


@pytest.mark.parametrize(
    ("teeth", "mate", "raw", "own", "next_one"),
    [("18", "33", "20.50", "6", "No. 5, 21 to 25"), ("22", "40", "25.11", "5", "No. 4, 26 to 34")],
)
def test_trap_9_formative_when_between_two_ranges_then_raw_and_both_cutters_are_shown(
    teeth, mate, raw, own, next_one
):
    found = run("bevel-pair", teeth=teeth, mate_teeth=mate, module="3", face_width="10 mm")
    results = found.outcome.results
    assert f"{results['formative_teeth']:.2f}" == raw
    assert results["cutter_number"] == own
    between = [text for text in texts(found, "cutter-between") if text.startswith(f"The {teeth},")]
    assert raw in between[0]
    assert next_one in between[0]


def test_trap_9_formative_when_another_rule_would_fetch_another_cutter_then_it_is_named():
    found = run("bevel-pair", teeth="20", mate_teeth="40", module="3", face_width="15 mm")
    pinion, _ = texts(found, "formative-rule")
    assert "22.36" in pinion
    assert "44.72, No. 3" in pinion  # 20 / sin
    assert "27.95, No. 4" in pinion  # 20 / cos³
    helical = run("helical-gear", teeth="24", diametral_pitch="16", helix_angle="45")
    assert f"{helical.outcome.results['cutter_teeth']:.2f}" == "67.88"


# ---- cutting a spur gear ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "key", ["spur-gear", "bevel-pair", "helical-gear", "worm-pair", "bevel-differential"]
)
def test_trap_10_pitch_when_one_is_entered_as_the_other_then_it_is_refused_by_name(key):
    said = refused(key, diametral_pitch="2 MOD", module="8 DP")
    assert "2 MOD is a module" in said["diametral_pitch"]
    assert "8 DP is a diametral pitch" in said["module"]


def test_trap_10_pitch_when_both_are_entered_then_it_is_refused():
    assert "module" in refused("spur-gear", teeth="24", module="3", diametral_pitch="8")


@pytest.mark.parametrize(("angle", "other"), [("20", "14.5"), ("14 1/2", "20")])
def test_trap_10_angle_when_one_is_in_use_then_the_span_at_the_other_is_beside_it(angle, other):
    found = run("spur-gear", teeth="84", diametral_pitch="6", pressure_angle=angle)
    (text,) = texts(found, "angles")
    alpha = radians(float(other))
    over = found.outcome.results["span_teeth"]
    # W = cos α · (π (k − ½) + z inv α) / P
    span = cos(alpha) * (pi * (over - 0.5) + 84 * (sin(alpha) / cos(alpha) - alpha)) / 6
    assert f"at {other}° would span {span:.4f} in over {over}" in text
    assert "do not run together" in text


def test_trap_10_angle_when_no_cutter_has_it_then_that_is_said():
    assert "angle-unusual" in codes(run("spur-gear", teeth="24", module="2", pressure_angle="17"))


def test_trap_10_numbers_when_the_set_is_metric_then_the_range_is_what_counts():
    found = run("spur-gear", teeth="24", module="2")
    (text,) = texts(found, "numbered-other-way")
    assert "No. 4" in text  # 21 to 25 is No. 5 of eight, so No. 4 from the other end
    assert "Go by the range marked on the cutter, 21 to 25" in text
    assert "numbered-other-way" not in codes(run("spur-gear", teeth="24", diametral_pitch="8"))


def test_trap_11_diameters_when_the_drawing_took_the_outside_then_the_centres_give_it_away():
    # 24 and 40 teeth, 8 DP: centres 4 in; half the outside diameters is 4.25 in.
    entered = {"teeth": "24", "mate_teeth": "40", "diametral_pitch": "8"}
    (text,) = texts(run("spur-gear", **entered, drawing_centre_distance="4.25"), "centre-distance")
    assert "half the sum of the outside diameters, not of the pitch diameters" in text
    assert "centre-distance" not in codes(run("spur-gear", **entered, drawing_centre_distance="4"))


@pytest.mark.parametrize(
    ("system", "depth", "other"), [("2.157", "0.1798", "0.1875"), ("2.25", "0.1875", "0.1798")]
)
def test_trap_11_depth_when_of_one_system_then_the_other_is_beside_it(system, depth, other):
    found = run("spur-gear", teeth="24", diametral_pitch="12", depth_system=system)
    (text,) = texts(found, "depth-systems")
    assert f"Whole depth {depth} in by {system}" in text
    assert f"{other} in by" in text
    assert "take the one marked on it" in text


def test_trap_12_chord_when_the_blank_is_small_then_half_of_it_comes_off_the_height():
    entered = {"teeth": "24", "diametral_pitch": "8"}
    full, small = (run("spur-gear", **entered, outside_diameter_measured=size) for size in ("3.250", "3.240"))
    less = [one.outcome.results["chordal_addendum_mm"] for one in (full, small)]
    assert less[0] - less[1] == pytest.approx(0.005 * 25.4)
    (text,) = texts(small, "blank-size")
    assert "half of that is in the chordal addendum" in text
    assert "blank-size" not in codes(full)


def test_trap_12_chord_when_shown_then_the_arc_stands_beside_it():
    results = run("spur-gear", teeth="12", diametral_pitch="1").outcome.results
    assert results["tooth_thickness_mm"] / 25.4 == pytest.approx(1.5708, abs=5e-5)
    assert results["chordal_thickness_mm"] / 25.4 == pytest.approx(1.5663, abs=5e-5)


@pytest.mark.parametrize(
    ("teeth", "over", "where"), [("24", "6", "above the tips"), ("60", "2", "below the flank")]
)
def test_trap_13_span_when_over_the_wrong_number_then_where_it_touches_and_what_to_take(teeth, over, where):
    found = run("spur-gear", teeth=teeth, diametral_pitch="8", span_teeth=over)
    (text,) = texts(found, "span-off-flank")
    assert where in text
    assert re.search(r"Take [37]\.", text)
    usual = run("spur-gear", teeth=teeth, diametral_pitch="8")
    assert "span-off-flank" not in codes(usual)


def test_trap_13_pins_when_the_teeth_are_odd_then_the_cosine_is_in_it():
    entered = {"teeth": "25", "diametral_pitch": "1", "pin_diameter": "1.728"}
    over = run("spur-gear", **entered).outcome.results["over_pins_mm"] / 25.4
    assert over == pytest.approx(27.3511, abs=5e-5)
    without = (over - 1.728) / cos(pi / 50) + 1.728
    assert without == pytest.approx(27.4018, abs=5e-4)


@pytest.mark.parametrize(("pin", "code"), [("1.5", "pin-low"), ("0.8", "pin-sinks"), ("3.5", "pin-high")])
def test_trap_13_pins_when_of_the_wrong_size_then_it_is_said_which_way(pin, code):
    found = run("spur-gear", teeth="24", diametral_pitch="1", pin_diameter=pin)
    assert code in codes(found)
    assert "a larger one" in texts(found, code)[0] or "a smaller one" in texts(found, code)[0]


def test_trap_14_radians_when_an_angle_is_typed_in_them_then_it_is_refused():
    said = refused("spur-gear", teeth="24", module="2", pressure_angle="0.349 rad")
    assert "rad" in said["pressure_angle"]
    assert (
        "too small" in refused("spur-gear", teeth="24", module="2", pressure_angle="0.349")["pressure_angle"]
    )


def test_trap_14_rounding_when_on_the_way_then_the_last_place_is_still_right():
    # Mitre pair of 30, module 1: by 0.0394 and 0.8352 in the addendum angle would be 2.701°; it is 2.69895°.
    found = run("bevel-pair", teeth="30", mate_teeth="30", module="1", face_width="5 mm")
    assert degrees(atan(0.0394 / 0.8352)) == pytest.approx(2.701, abs=5e-4)
    assert steps(found)["Addendum angle"].value == "2.69895"


def test_trap_15_carrier_when_three_pinions_do_not_go_then_the_answer_says_so():
    found = run("bevel-differential", left_teeth="25", right_teeth="25", pinion_teeth="14", pinions="3")
    assert found.outcome.results["goes_together"] is False
    (text,) = texts(found, "does-not-go")
    assert "50 / 3 is 16 2/3" in text
    assert "2 and 5 would go" in text
    assert "24 or 27" in text


def test_trap_16_nearest_when_it_is_all_there_is_then_both_errors_are_given():
    found = dividing(53, "49")
    row = found.outcome.results["nearest"][0]
    made = Fraction(row["turns"] * 49 + row["holes"], 49) * 360 / 40
    error = (made - Fraction(360, 53)) * 3600
    assert row["error_arcsec"] == pytest.approx(float(error))
    assert row["closing_error_arcsec"] == pytest.approx(float(53 * error))
    (text,) = texts(found, "nearest-only")
    assert f"each move is {float(error):.1f}″ long" in text
    assert "the last space 11′ 1.2″ narrower" in text


def test_trap_17_backlash_when_given_then_half_is_off_each_gear_and_the_working_says_so():
    entered = {"teeth": "24", "mate_teeth": "40", "diametral_pitch": "8"}
    bare, play = run("spur-gear", **entered), run("spur-gear", **entered, backlash="0.004")
    for name, share in (("tooth_thickness_mm", 1), ("span_mm", cos(radians(20)))):
        for get_one in (lambda found: found.outcome.results, lambda found: found.outcome.results["mate"]):
            less = get_one(bare)[name] - get_one(play)[name]
            assert less == pytest.approx(0.002 * 25.4 * share), name
    lines = [label for label in steps(play) if "half of the pair’s backlash off it" in label]
    assert len(lines) == 2
    # Nominal figures have none, and no line of theirs says they have.
    assert not any("backlash off" in label for label in steps(bare))
