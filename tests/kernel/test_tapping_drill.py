"""Tapping drills: the hole, the drills beside it, what is refused. Trap 15: a drill below the core."""

from fractions import Fraction

import pytest

from calc.kernel.drills import drill_of, stock
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.tapping_drill import tapping_drill
from calc.kernel.threads import threads
from calc.kernel.threads_names import thread_named

INCH = Fraction(254, 10)


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def names(results, side):
    return [row["drill"] for row in results[f"{side}_drills"]]


def left(results, side):
    return [round(row["engagement_percent"], 1) for row in results[f"{side}_drills"]]


@pytest.mark.parametrize(
    ("thread", "drill", "engagement"),
    [
        ("1/4 BSW", "5.1 mm", 76.9), ("3/8 BSW", "5/16", 78.1), ("2 BA", "#24", 86.3),
        ("14 BA", "0.8 mm", 72.5),
        ("3/8x32 ME", "8.75 mm", 76.2), ("M22", "19.5 mm", 92.4), ("1/4x40 ME", "7/32", 97.6),
        ("M6", "5 mm", 92.4),
    ],
)  # fmt: skip
def test_engagement_when_a_drill_is_in_hand_then_what_the_check_table_has(thread, drill, engagement):
    results = tapping_drill(thread=thread, drill=drill).results
    assert round(results["engagement_percent"], 1) == engagement
    assert results["drill_exact_mm"] == float(drill_of("drill", drill).mm)


@pytest.mark.parametrize(
    ("thread", "drill", "share"),
    [("14 BA", "#70", "104.6 %"), ("3/8x32 ME", "Q", "107.4 %"), ("M22", "18.5 mm", "129.3 %")],
)
def test_trap_15_when_the_drill_typed_is_below_the_core_then_refused_with_the_reason(thread, drill, share):
    with pytest.raises(OutOfRange) as refused:
        tapping_drill(thread=thread, drill=drill)
    text = str(refused.value)
    assert refused.value.field == "drill"
    assert share in text
    assert "breaks" in text
    assert "Use " in text


@pytest.mark.parametrize("found", threads(), ids=lambda one: one.name)
def test_trap_15_when_drills_are_offered_then_two_a_side_and_none_below_the_core(found):
    for engagement in (30, 65, 75, 99):
        results = tapping_drill(thread=found.name, engagement=Fraction(engagement)).results
        every = [*results["smaller_drills"], *results["larger_drills"]]
        assert all(float(found.core) <= row["drill_mm"] < float(found.major) for row in every)
        hole = results["drill_exact_mm"]
        allowed = [one.mm for one in stock() if found.core <= one.mm < found.major]
        assert len(results["larger_drills"]) == min(2, sum(float(mm) > hole for mm in allowed))
        assert len(results["smaller_drills"]) == min(2, sum(float(mm) <= hole for mm in allowed))
        assert results["nearest_drill_mm"] in [row["drill_mm"] for row in every]
        assert all(abs(row["drill_mm"] - hole) >= abs(results["nearest_drill_mm"] - hole) for row in every)


def test_drills_when_beside_the_hole_then_the_nearest_first_with_what_each_leaves():
    results = tapping_drill(thread="1/4 BSW", engagement=Fraction(75)).results
    assert round(results["drill_exact_mm"] / 25.4, 4) == 0.2020
    assert (names(results, "smaller"), names(results, "larger")) == (["#7", "5.1 mm"], ["13/64", "#6"])
    # By hand: 100 (0.25 - d) / 0.0640327.
    assert (left(results, "smaller"), left(results, "larger")) == ([76.5, 76.9], [73.2, 71.8])
    assert results["nearest_drill"] == "#7"


def test_engagement_when_left_out_then_75_per_cent():
    assert tapping_drill(thread="M6").results == tapping_drill(thread="M6", engagement=Fraction(75)).results


def test_base_when_older_is_asked_then_it_is_in_use_and_the_other_beside_it():
    results = tapping_drill(thread="1-12 UNF", drill="15/16", base="1.299038").results
    assert (results["engagement_base"], results["engagement_other_base"]) == ("1.299038", "1.082532")
    assert round(results["engagement_percent"], 1) == 57.7
    both = tapping_drill(thread="M6", drill="5 mm").results
    assert [round(both[name], 0) for name in ("engagement_percent", "engagement_other_percent")] == [92, 77]
    assert tapping_drill(thread="1/4 BSF").results["engagement_other_percent"] is None


@pytest.mark.parametrize("thread", ["1/4 BSW", "2 BA", "G 1/4", "1/4x40 ME"])
def test_base_when_it_does_not_belong_to_the_thread_then_refused(thread):
    with pytest.raises(OutOfRange) as refused:
        tapping_drill(thread=thread, base="1.299038")
    assert refused.value.field == "base"


@pytest.mark.parametrize("engagement", ["30", "100"])
def test_engagement_when_at_its_limit_then_worked_and_outside_refused(engagement):
    edge = Fraction(engagement)
    assert round(tapping_drill(thread="M6", engagement=edge).results["engagement_percent"], 9) == float(edge)
    step = Fraction(1, 10**6) * (-1 if edge == 30 else 1)
    with pytest.raises(OutOfRange) as refused:
        tapping_drill(thread="M6", engagement=edge + step)
    assert refused.value.field == "engagement"


@pytest.mark.parametrize(
    ("thread", "base", "most"), [("M6", "1.299038", "83.33"), ("1/4 BSP", "usual", "99.99")]
)
def test_engagement_when_it_wants_a_hole_below_the_core_then_refused_and_the_most_may_be_entered(
    thread, base, most
):
    with pytest.raises(OutOfRange) as refused:
        tapping_drill(thread=thread, engagement=Fraction(100), base=base)
    assert f"at most {most} %" in str(refused.value)
    found = tapping_drill(thread=thread, engagement=Fraction(most), base=base).results
    assert found["drill_exact_mm"] >= float(thread_named(thread).core)


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"thread": "1/4 BSW", "drill": "1/4"}, "drill"),
        ({"thread": "1/4 BSW", "drill": "5.1 mm", "engagement": Fraction(70)}, "engagement"),
        ({"thread": "M6", "base": "1.1"}, "base"),
        ({"thread": "1/4 ME"}, "thread"),
    ],
)
def test_entries_when_they_cannot_be_used_then_refused_by_name(entered, field):
    with pytest.raises(OutOfRange) as refused:
        tapping_drill(**entered)
    assert refused.value.field == field


def test_names_when_in_no_table_then_refused_by_name():
    for entered, field in (({"thread": "1/4 XX"}, "thread"), ({"thread": "M6", "drill": "#99"}, "drill")):
        with pytest.raises(NotInTable) as refused:
            tapping_drill(**entered)
        assert refused.value.field == field


def test_drill_when_at_the_core_then_it_may_be_used_and_a_hair_under_not():
    core = thread_named("2 BA").core
    assert core == Fraction("3.728")
    outcome = tapping_drill(thread="2 BA", drill="3.728 mm")
    assert outcome.results["engagement_percent"] == 100
    assert "tight" in codes(outcome)
    with pytest.raises(OutOfRange):
        tapping_drill(thread="2 BA", drill="3.7279 mm")


@pytest.mark.parametrize(
    ("entered", "code"),
    [
        ({"thread": "1/4x40 ME", "drill": "7/32"}, "tight"),
        ({"thread": "M6", "drill": "5.5 mm"}, "shallow"),
        ({"thread": "14 BA"}, "drill-below-core"),
        ({"thread": "1/4 BSP"}, "size-is-bore"),
    ],
)
def test_cautions_when_there_is_reason_then_given(entered, code):
    assert code in codes(tapping_drill(**entered))


def test_cautions_when_there_is_no_reason_then_none():
    assert codes(tapping_drill(thread="M6", drill="5 mm")) == []
    assert codes(tapping_drill(thread="1/4 BSW", drill="5.1 mm")) == []


def test_tables_when_they_give_a_drill_then_it_stands_beside():
    assert [row["drill"] for row in tapping_drill(thread="2 BA").results["listed_drills"]] == ["4 mm", "#24"]
    assert tapping_drill(thread="M20x2").results["listed_drills"] == []
