"""Cutting a bevel pair in three rounds: plans, rolls in whole holes, what is held and refused, the traps.

Figures of the 20/30 and the 20/40 pair by parallel depth, and of the rolls of 24 teeth, are derived: no
published example of the method could be read. Traps are those of a list of common mistakes with gears:
6 no quarter to be had, 7 roll and table to the same hand, 8 large-end module for a spur cutter, 9 formative
teeth rounded across a boundary.
"""

from fractions import Fraction
from math import radians, sin

import pytest

from calc.kernel.bevel_cutting import bevel_cutting
from calc.kernel.bevel_cutting_entries import Own, cutting
from calc.kernel.bevel_cutting_plans import plans_of, tasks_of
from calc.kernel.bevel_cutting_rolls import head_for
from calc.kernel.bevel_cutting_section import flank_errors
from calc.kernel.errors import NoSolution, OutOfRange

PLATES = ((15, 16, 17, 18, 19, 20), (21, 23, 27, 29, 31, 33), (37, 39, 41, 43, 47, 49))
#: Two faces of another plate, which have the twelfths that the first have not.
OTHER_PLATE = ((24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43), (46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66))
SETTINGS = ("cutter", "roll", "set_over", "trim_shallower")


def of(teeth=20, mate_teeth=30, *, face="15", circles=PLATES, **more):
    pitch = {} if "diametral_pitch" in more else {"module": Fraction(more.pop("module", 2))}
    exact = {
        name: Fraction(value)
        if name.endswith(("_pitch", "_angle", "roll", "set_over", "shallower"))
        else value
        for name, value in more.items()
    }
    return bevel_cutting(
        teeth=teeth, mate_teeth=mate_teeth, face_width=Fraction(face), circles=circles, **pitch, **exact
    )


def codes(outcome):
    return {caution.code for caution in outcome.warnings}


def texts(outcome, code):
    return [caution.text for caution in outcome.warnings if caution.code == code]


def members(plan):
    return plan, plan["mate"]


# ---- worked by hand --------------------------------------------------------------------------------------


def test_plan_when_20_and_30_of_module_2_then_the_sizes_are_those_of_parallel_depth():
    # Cone distance 54.083 and face a third of it; derived with m = 3 at the large end.
    third = Fraction(20 * 3) / 2 * Fraction(13**0.5) / 2 / 3
    results = of(20, 30, face=third, depth_system="2.157").results
    wheel, pinion = results["mate_blank"], results["blank"]
    assert results["cone_distance_mm"] == pytest.approx(54.083, abs=5e-4)
    assert results["module_large_mm"] == pytest.approx(3)
    assert pinion["pitch_diameter_mm"] == pytest.approx(60)
    assert wheel["pitch_diameter_mm"] == pytest.approx(90)
    assert pinion["outside_diameter_mm"] == pytest.approx(63.328, abs=5e-4)
    assert wheel["outside_diameter_mm"] == pytest.approx(92.219, abs=5e-4)
    assert pinion["formative_teeth"] == pytest.approx(24.04, abs=5e-3)
    assert wheel["formative_teeth"] == pytest.approx(54.08, abs=5e-3)
    plan = results["textbook"]
    assert [one["head_tilt_deg"] for one in members(plan)] == pytest.approx([33.690, 56.310], abs=5e-4)
    assert [one["cutter_number"] for one in members(plan)] == ["5", "3"]
    assert [one["set_over_mm"] for one in members(plan)] == pytest.approx([1.571, 1.571], abs=2e-3)
    assert [one["roll_deg"] for one in members(plan)] == [4.5, 3]
    cranks = [Fraction(one["roll_holes"], one["roll_circle"]) for one in members(plan)]
    assert cranks == [Fraction(1, 2), Fraction(1, 3)]
    assert plan["depth_mm"] == pytest.approx(4.314)
    assert of(20, 30).results["textbook"]["depth_mm"] == pytest.approx(4.5)


def test_plan_when_20_and_40_of_12_dp_then_the_sizes_are_those_of_parallel_depth():
    third = Fraction(20, 8) / 2 * Fraction(5**0.5) / 3 * Fraction(254, 10)
    results = of(20, 40, diametral_pitch="12", face=third).results
    inch = 25.4
    assert inch / results["module_large_mm"] == pytest.approx(8)
    assert results["cone_distance_mm"] / inch == pytest.approx(2.795, abs=5e-4)
    assert results["blank"]["pitch_diameter_mm"] / inch == pytest.approx(2.5)
    assert results["mate_blank"]["pitch_diameter_mm"] / inch == pytest.approx(5)
    assert results["blank"]["outside_diameter_mm"] / inch == pytest.approx(2.6491, abs=5e-5)
    assert results["mate_blank"]["outside_diameter_mm"] / inch == pytest.approx(5.0745, abs=5e-5)
    for one, roll in zip(members(results["textbook"]), (4.5, 2.25), strict=True):
        assert one["set_over_mm"] / inch == pytest.approx(0.0654, abs=1e-4)
        assert one["roll_deg"] == roll


def test_plan_when_36_and_16_then_cones_cutters_rolls_and_words_are_all_there():
    # Cones 66.04 and 23.96, formative 88.6 and 17.5: cutters for 55 to 134 and 17 to 20; derived.
    results = of(36, 16, diametral_pitch="12", face="20").results
    wheel, pinion = members(results["textbook"])
    assert (round(wheel["head_tilt_deg"], 2), round(pinion["head_tilt_deg"], 2)) == (66.04, 23.96)
    assert round(results["blank"]["formative_teeth"], 1) == 88.6
    assert round(results["mate_blank"]["formative_teeth"], 1) == 17.5
    assert (wheel["cutter_from_teeth"], wheel["cutter_to_teeth"]) == (55, 134)
    assert (pinion["cutter_from_teeth"], pinion["cutter_to_teeth"]) == (17, 20)
    for one in (wheel, pinion):
        assert one["index_circle"] == one["roll_circle"]
        assert one["tooth_small_mm"] < one["tooth_large_mm"]
    second, third = results["directions"][1:]
    assert ("right" in second["cutter"], "left" in second["table"], "right" in second["blank"]) == (True,) * 3
    assert "left flank" in second["flank"]
    assert ("left" in third["cutter"], "right" in third["table"], "left" in third["blank"]) == (True,) * 3
    assert "right flank" in third["flank"]


def test_trial_when_the_builder_enters_what_he_set_then_it_stands_beside_both_plans():
    # The first trial with the small end thick: another set-over is worked out beside the old.
    plain = of(36, 16, diametral_pitch="12", face="20")
    rule = plain.results["textbook"]
    tried = of(
        36, 16, diametral_pitch="12", face="20", try_cutter=2, try_roll="5/18",
        try_set_over=str(Fraction(rule["set_over_mm"]).limit_denominator(10**6) - Fraction("0.05")),
    )  # fmt: skip
    assert plain.results["given"] is None
    assert tried.results["textbook"] == plain.results["textbook"]
    assert tried.results["best"] == plain.results["best"]
    given = tried.results["given"]
    assert given["set_over_mm"] == pytest.approx(rule["set_over_mm"] - 0.05, abs=1e-5)
    # Set over less, a trimming round takes more off the tooth's own side: the tooth comes out thinner.
    assert given["tooth_small_mm"] < rule["tooth_small_mm"]
    assert given["mate"] == plain.results["best"]["mate"]


# ---- the best plan ---------------------------------------------------------------------------------------

PAIRS = [
    (12, 12, "8", {}),
    (12, 40, "20", {}),
    (15, 24, "12", {"depth_system": "2.157"}),
    (16, 36, "15", {"shaft_angle": "75"}),
    (24, 24, "16", {"pressure_angle": "29/2"}),
    (30, 20, "13", {"shaft_angle": "110"}),
    (40, 36, "20", {"cutters": (1, 2, 3)}),
    (24, 18, "14", {"circles": ((18, 39),)}),
]


@pytest.mark.parametrize(("teeth", "mate", "face", "more"), PAIRS)
def test_best_when_planned_then_it_runs_no_worse_than_the_textbook_and_can_be_set(teeth, mate, face, more):
    results = of(teeth, mate, face=face, **more).results
    best, rule = results["best"], results["textbook"]
    assert best["running_error_mm"] <= rule["running_error_mm"]
    assert best["backlash_mm"] >= min(0.03, rule["backlash_mm"])
    owned = more.get("cutters", range(1, 9))
    circles = [circle for plate in more.get("circles", PLATES) for circle in plate]
    for plan in (best, rule):
        for count, one in zip((teeth, mate), members(plan), strict=True):
            assert int(one["cutter_number"]) in owned
            assert one["roll_circle"] == one["index_circle"]
            assert one["roll_circle"] in circles
            move = one["index_turns"] + Fraction(one["index_holes"], one["index_circle"])
            assert move * count == 40
            roll = one["roll_turns"] + Fraction(one["roll_holes"], one["roll_circle"])
            assert one["roll_deg"] == pytest.approx(float(roll * 9))
            assert one["trim_shallower_mm"] <= 0.1 * 2 + 1e-12
            assert len(one["flank"]) >= 5
            assert one["worst_left_on_mm"] == max(row["left_on_mm"] for row in one["flank"])
            assert min(row["cut_away_mm"] for row in one["flank"]) >= 0


def test_best_when_worked_twice_then_it_is_the_same():
    from calc.kernel.bevel_cutting_plans import _planned

    first = of(18, 24, face="10").results
    _planned.cache_clear()
    assert of(18, 24, face="10").results == first


@pytest.mark.parametrize(("teeth", "mate", "shaft"), [(15, 20, "90"), (30, 16, "75"), (18, 36, "100")])
def test_members_when_swapped_then_the_plans_are_the_same_two(teeth, mate, shaft):
    one = of(teeth, mate, face="10", shaft_angle=shaft).results
    other = of(mate, teeth, face="10", shaft_angle=shaft).results
    for name in ("textbook", "best"):
        assert one[name]["running_error_mm"] == other[name]["running_error_mm"]
        assert one[name]["backlash_mm"] == other[name]["backlash_mm"]
        own = dict(other[name]["mate"])
        assert {key: one[name][key] for key in own} == own
        assert one[name]["mate"] == {key: other[name][key] for key in one[name]["mate"]}


def test_lengths_when_all_are_scaled_then_the_errors_are_scaled_and_the_settings_with_them():
    one = of(16, 24, face="12", module=2).results
    other = of(16, 24, face="18", module=3).results
    for name in ("textbook", "best"):
        for length in ("running_error_mm", "backlash_mm"):
            assert other[name][length] == pytest.approx(1.5 * one[name][length], rel=1e-9)
        for small, large in zip(members(one[name]), members(other[name]), strict=True):
            assert small["cutter_number"] == large["cutter_number"]
            assert small["roll_deg"] == large["roll_deg"]
            for length in ("set_over_mm", "worst_left_on_mm", "worst_cut_away_mm", "tooth_large_mm"):
                assert large[length] == pytest.approx(1.5 * small[length], rel=1e-9)


def test_pitch_when_given_in_either_way_then_the_plans_agree():
    metric = of(20, 30, module="2.54", face="15", depth_system="2.157").results
    inch = of(20, 30, diametral_pitch="10", face="15", depth_system="2.157").results
    for name in ("running_error_mm", "set_over_mm", "worst_cut_away_mm"):
        assert metric["best"][name] == pytest.approx(inch["best"][name], rel=1e-9)


@pytest.mark.parametrize(
    ("teeth", "mate", "shaft"),
    [(12, 12, "90"), (12, 40, "90"), (16, 40, "90"), (20, 24, "60"), (30, 36, "115")],
)
def test_flank_when_looked_at_in_33_sections_then_the_worst_is_hardly_more(teeth, mate, shaft):
    question = question_of(teeth, mate, shaft)
    plans = plans_of(question)
    for plan in (plans.textbook, plans.best):
        for task, way in zip(tasks_of(question), (plan.gear, plan.mate), strict=True):
            few, many = (
                max(max(row[1:]) for row in flank_errors(task.member, way.settings, stations))
                for stations in (17, 33)
            )
            assert abs(many - few) <= 0.003


def question_of(teeth, mate, shaft="90"):
    nothing = tuple(Own(name, None, None, None, None) for name in ("mate_", "try_", "mate_try_"))
    return cutting(
        teeth=teeth, mate_teeth=mate, shaft_angle=Fraction(shaft), module=Fraction(2), diametral_pitch=None,
        face_width=Fraction(8), pressure_angle=Fraction(20), depth_system="2.157", ratio=40, circles=PLATES,
        cutter_numbers=range(1, 9), mate_cut=None, owns=nothing,
    )  # fmt: skip


def test_cutters_when_only_some_are_owned_then_the_rule_takes_the_next_and_says_so():
    outcome = of(20, 30, cutters=(8, 6, 2))
    assert outcome.results["textbook"]["cutter_number"] == "6"
    assert len(texts(outcome, "cutter-not-owned")) == 2
    assert "No. 5, 21 to 25" in texts(outcome, "cutter-not-owned")[0]
    assert of(20, 30, cutters=(2,)).results["textbook"]["cutter_number"] == "2"


# ---- rolls -----------------------------------------------------------------------------------------------


def test_trap_6_quarter_when_24_teeth_then_no_circle_gives_it_and_the_nearest_are_named():
    head = head_for(24, 40, PLATES)
    assert head.quarter_circles == ()
    assert [(roll.spaces, roll.circle) for roll in head.rolls()[:3]] == [(16, 39), (14, 33), (11, 27)]
    outcome = of(24, 24)
    results = outcome.results
    assert results["roll_exact"] is False
    assert results["quarter_circles"] == []
    plan = results["textbook"]
    assert (plan["roll_holes"], plan["roll_circle"]) == (16, 39)
    assert plan["set_over_mm"] == pytest.approx(24 * sin(radians(plan["roll_deg"])))
    text = texts(outcome, "quarter-none")[0]
    assert "5/12 of a turn" in text
    assert "16 in 39, then 14 in 33, 11 in 27" in text
    assert "divisible by 12" in text
    # What the roll is short of the quarter leaves on between the two ends, as an arc.
    short = radians(float((Fraction(5, 12) - Fraction(16, 39)) * 9))
    assert results["quarter_missed_mm"] == pytest.approx(short * 24 * (results["module_large_mm"] - 2) / 2)


def test_quarter_when_the_plate_has_it_then_those_circles_are_named():
    results = of(24, 24, circles=OTHER_PLATE).results
    assert results["roll_exact"] is True
    assert results["quarter_circles"] == [24]
    assert (results["textbook"]["roll_holes"], results["textbook"]["roll_circle"]) == (10, 24)
    assert results["quarter_missed_mm"] == 0
    other = of(20, 30).results
    assert other["quarter_circles"] == [16, 18, 20]
    assert other["mate_quarter_circles"] == [15, 18, 21, 27, 33, 39]


@pytest.mark.parametrize("teeth", range(12, 51))
def test_rolls_when_listed_then_each_is_whole_holes_on_a_circle_that_indexes_the_gear(teeth):
    head = head_for(teeth, 40, PLATES + OTHER_PLATE)
    for roll in head.rolls() if head.index_circles else ():
        assert (Fraction(40, teeth) * roll.circle).denominator == 1
        assert roll.crank == Fraction(roll.spaces, roll.circle)
        assert roll.spaces >= 1
    if head.index_circles:
        near = head.rolls()
        off = [abs(roll.crank - head.quarter) for roll in near]
        assert off == sorted(off)
        # Nothing nearer is to be had on any circle that indexes it.
        assert off[0] == min(
            abs(Fraction(round(head.quarter * circle), circle) - head.quarter)
            for circle in head.index_circles
        )
        assert (off[0] == 0) is bool(head.quarter_circles)


def test_circles_when_none_indexes_then_it_says_what_would():
    with pytest.raises(NoSolution) as refused:
        of(57, 30)
    assert "57" in refused.value.message
    assert "57" in refused.value.would_do[0]
    assert of(57, 30, circles=OTHER_PLATE).results["best"]["index_circle"] == 57
    with pytest.raises(NoSolution):
        of(30, 57)


# ---- a mate that is cut ----------------------------------------------------------------------------------


def test_mate_when_cut_by_the_textbook_then_it_is_held_and_the_gear_suits_it():
    free = of(20, 30).results
    held = of(20, 30, mate_cut="textbook").results
    assert held["best"]["mate"] == held["textbook"]["mate"] == free["textbook"]["mate"]
    assert held["best"]["running_error_mm"] < held["textbook"]["running_error_mm"]
    assert "belong-together" in codes(of(20, 30, mate_cut="textbook"))


def test_mate_when_cut_as_given_then_its_settings_are_held_in_every_plan():
    more = {"mate_cutter": 3, "mate_roll": "13/40", "mate_set_over": "1.5", "mate_trim_shallower": "0.1"}
    outcome = of(30, 20, mate_cut="as given", **more)
    mate = outcome.results["best"]["mate"]
    assert mate == outcome.results["textbook"]["mate"]
    assert (mate["cutter_number"], mate["set_over_mm"], mate["trim_shallower_mm"]) == ("3", 1.5, 0.1)
    assert mate["roll_deg"] == pytest.approx(13 / 40 * 9)
    assert mate["roll_circle"] is None
    assert "13/40" in texts(outcome, "mate-roll-elsewhere")[0]
    assert outcome.results["best"]["running_error_mm"] <= outcome.results["textbook"]["running_error_mm"]


@pytest.mark.parametrize("name", SETTINGS[:3])
def test_mate_when_as_given_without_a_setting_then_that_is_asked_for(name):
    whole = {"mate_cutter": 3, "mate_roll": "1/3", "mate_set_over": "1.5"}
    with pytest.raises(OutOfRange) as refused:
        of(
            20,
            30,
            mate_cut="as given",
            **{key: value for key, value in whole.items() if key != f"mate_{name}"},
        )
    assert refused.value.field == f"mate_{name}"


@pytest.mark.parametrize("name", SETTINGS)
@pytest.mark.parametrize("cut", [None, "textbook"])
def test_mate_when_its_settings_come_without_being_cut_as_given_then_they_are_refused(name, cut):
    value = {"cutter": 3, "roll": "1/3", "set_over": "1.5", "trim_shallower": "0"}[name]
    with pytest.raises(OutOfRange) as refused:
        of(20, 30, mate_cut=cut, **{f"mate_{name}": value})
    assert refused.value.field == f"mate_{name}"


# ---- settings to try -------------------------------------------------------------------------------------


def test_settings_when_all_are_those_of_the_textbook_then_the_figures_are_too():
    rule = of(20, 30).results["textbook"]
    tried = of(20, 30, try_cutter=5, mate_try_cutter=3).results["given"]
    assert tried == rule


def test_settings_when_tried_on_the_mate_alone_then_the_gear_stays_as_by_the_best_plan():
    results = of(20, 30, mate_try_roll="12/39").results
    given = results["given"]
    assert (given["mate"]["roll_holes"], given["mate"]["roll_circle"]) == (12, 39)
    assert given["cutter_number"] == results["best"]["cutter_number"]
    assert given["set_over_mm"] == results["best"]["set_over_mm"]


def test_settings_when_a_roll_is_a_hole_short_on_one_gear_then_the_pair_jams_and_it_is_said():
    outcome = of(20, 30, try_roll="9/20", try_set_over=str(20 * sin(radians(4.5))), mate_try_cutter=3)
    assert outcome.results["given"]["backlash_mm"] < 0
    assert "tried" in texts(outcome, "jams")[0]
    assert "jams" not in codes(of(20, 30))


@pytest.mark.parametrize("field", ["try_roll", "mate_try_roll"])
def test_roll_when_it_is_not_whole_holes_on_an_index_circle_then_the_nearest_is_named(field):
    # 30 teeth are indexed on circles of threes; 7 in 20 is whole holes, and the 20 does not index them.
    with pytest.raises(OutOfRange) as refused:
        of(30, 30, **{field: "7/20"})
    assert refused.value.field == field
    assert "index" in refused.value.reason
    assert "nearest roll is" in refused.value.reason


# ---- traps and cautions ----------------------------------------------------------------------------------


def test_trap_7_roll_and_table_go_opposite_ways_at_the_handles():
    text = texts(of(), "same-hand")[0]
    assert "table to the left, roll to the right" in text
    assert "tooth beside the space" in text


def test_trap_8_the_cutter_is_of_the_small_end_and_the_blank_of_the_large():
    outcome = of(20, 30, face="18")
    text = texts(outcome, "small-end-pitch")[0]
    assert "module 2 is the cutter’s" in text
    assert "module 2.9985" in text
    assert outcome.results["blank"]["pitch_diameter_mm"] == pytest.approx(59.97, abs=0.01)


@pytest.mark.parametrize(
    ("teeth", "mate", "raw", "number", "other"),
    [(30, 20, "54.08", "3", "No. 2, 55 to 134"), (22, 40, "25.11", "5", "No. 4, 26 to 34"),
     (18, 33, "20.50", "6", "No. 5, 21 to 25")],
)  # fmt: skip
def test_trap_9_formative_teeth_are_never_rounded_across_a_boundary(teeth, mate, raw, number, other):
    outcome = of(teeth, mate, face="8", circles=PLATES + OTHER_PLATE)
    assert outcome.results["textbook"]["cutter_number"] == number
    text = next(text for text in texts(outcome, "cutter-between") if text.startswith(f"The {teeth},"))
    assert raw in text
    assert other in text


def test_flank_when_one_member_ends_with_more_error_then_it_is_said_to_suit_its_mate():
    # 40 and 40: the textbook's flanks are nearer to the form, and the planned ones run better.
    outcome = of(40, 40, face="28", depth_system="2.157")
    best, rule = outcome.results["best"], outcome.results["textbook"]
    worse = [
        max(new["worst_left_on_mm"], new["worst_cut_away_mm"])
        > max(old["worst_left_on_mm"], old["worst_cut_away_mm"])
        for new, old in zip(members(best), members(rule), strict=True)
    ]
    text = texts(outcome, "belong-together")[0]
    assert ("further from the wanted form" in text) is any(worse)
    assert any(worse)


def test_pressure_angle_when_no_stock_cutter_has_it_then_it_is_said():
    assert "angle-unusual" in codes(of(pressure_angle="17"))
    assert "angle-unusual" not in codes(of(pressure_angle="29/2"))
