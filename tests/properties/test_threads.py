"""What must hold of threads, tapping drills and bores, whatever is entered."""

import json
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import EntryErrors, plain_json, read_entries
from calc.kernel.bore_sequence import bore_sequence
from calc.kernel.drills import drill_of, stock
from calc.kernel.errors import CalculationError
from calc.kernel.tapping_drill import tapping_drill
from calc.kernel.thread import thread
from calc.kernel.threads import threads
from calc.kernel.threads_names import SERIES_WORDS, thread_named
from calc.registry import get

INCH = Fraction(254, 10)
FIELDS = {(key, field.name): field for key in ("tapping-drill", "bore-sequence") for field in get(key).inputs}
names = st.sampled_from([one.name for one in threads()])
shares = st.fractions(min_value=30, max_value=100, max_denominator=64)
bores = st.fractions(min_value=1, max_value=Fraction(127, 2), max_denominator=1000)
racks = st.lists(st.sampled_from([one.name.partition(" or ")[0] for one in stock()]), min_size=1, max_size=30)
#: Names as they may be typed, most of them wrong.
typed = st.lists(
    st.sampled_from(
        [*SERIES_WORDS, "1", "1/4", "6", "26", "x", "-", " ", "#", ".", "/", '"', "1/0", "cei", "no"]
    ),
    min_size=1,
    max_size=6,
).map("".join) | st.text(max_size=12)


def worked(function, *given, **entered):
    """What a function answers, or the reason why it does not; any other fault fails the test."""
    try:
        return function(*given, **entered), None
    except (CalculationError, EntryErrors) as fault:
        return None, fault


def is_plain(results):
    """JSON without NaN, and no nought with a sign."""
    text = json.dumps(plain_json(results), allow_nan=False)
    return "-0.0" not in text


@given(typed)
def test_name_when_anything_is_typed_then_a_thread_or_a_refusal_by_name(text):
    found, fault = worked(thread_named, text)
    if fault is not None:
        assert fault.field == "thread"
        assert str(fault)
        return
    assert thread_named(found.name) is found


@given(names)
def test_thread_when_asked_then_sizes_lie_within_one_another(name):
    outcome = thread(thread=name)
    results = outcome.results
    assert is_plain(results)
    assert results["root_diameter_mm"] <= results["minor_diameter_mm"] < results["pitch_diameter_mm"]
    assert results["pitch_diameter_mm"] < results["major_diameter_mm"]
    assert results["minor_diameter_mm"] <= results["tapping_drill_mm"] < results["major_diameter_mm"]
    for row in results["look_alikes"]:
        back = thread(thread=row["thread"]).results["look_alikes"]
        assert name in [one["thread"] for one in back]


@given(names, shares)
def test_hole_when_drilled_then_it_leaves_the_engagement_wanted(name, share):
    outcome, refused = worked(tapping_drill, thread=name, engagement=share)
    if refused is not None:
        # A pipe thread's depth is rounded, so that its core lies a hair over 100 %.
        assert refused.field == "engagement"
        assert share > Fraction("99.9")
        return
    results = outcome.results
    assert is_plain(results)
    assert results["engagement_percent"] == pytest.approx(float(share))
    assert results["drill_exact_mm"] >= results["minor_diameter_mm"] - 1e-12
    sizes = [row["drill_mm"] for row in (*results["smaller_drills"][::-1], *results["larger_drills"])]
    assert sizes == sorted(set(sizes))
    left = [
        row["engagement_percent"] for row in (*results["smaller_drills"][::-1], *results["larger_drills"])
    ]
    assert left == sorted(left, reverse=True)
    assert all(0 < one <= 100 + 1e-9 for one in left)


@given(names, st.sampled_from(stock()))
def test_drill_when_in_hand_then_refused_below_the_core_and_only_there_or_with_no_thread(name, drill):
    found = thread_named(name)
    wrong = drill.mm < found.core or drill.mm >= found.major
    outcome, refused = worked(tapping_drill, thread=name, drill=drill.name.partition(" or ")[0])
    if refused is not None:
        assert refused.field == "drill"
        assert wrong
        return
    assert not wrong
    assert outcome.results["engagement_percent"] == pytest.approx(float(found.engagement(drill.mm)))


@given(names, st.fractions(min_value=0, max_value=1))
def test_drill_when_typed_in_inches_or_in_millimetres_then_the_same_answer(name, part):
    calculation, found = get("tapping-drill"), thread_named(name)
    thous = round((found.core + part * (found.major - found.core)) / INCH * 1000)
    inches = Fraction(thous, 1000)
    assume(found.core <= inches * INCH < found.major)
    texts = (f"{float(inches):.3f} in", f"{float(inches * INCH):.5f} mm", f"{thous} thou")
    every = [read_entries(calculation, {"thread": name, "drill": text}).inputs for text in texts]
    results = [tapping_drill(**inputs).results for inputs in every]
    assert results[0] == results[1] == results[2]


@given(bores, st.sampled_from(["machine", "hand", "none"]), racks)
def test_bore_when_drilled_then_the_last_leaves_enough_and_no_larger_owned_would(bore, reamer, rack):
    outcome, fault = worked(bore_sequence, finished_bore=bore, reamer=reamer, drills_owned=rack)
    if fault is not None:
        assert getattr(fault, "would_do", None) or fault.field == "finished_bore"
        return
    results = outcome.results
    assert is_plain(results)
    low = results["allowance_low_mm"] or 0.0
    owned = [float(drill_of("drills_owned", name).mm) for name in rack]
    assert results["stock_left_mm"] >= low - 1e-9
    assert all(float(bore) - mm - 0.05 < low + 1e-9 for mm in owned if mm > results["last_drill_mm"])
    sizes = [row["drill_mm"] for row in results["drills"]]
    assert sizes == sorted(set(sizes))
    assert set(sizes) <= set(owned)
    warned = "too-much-left" in [one.code for one in outcome.warnings]
    high = results["allowance_high_mm"]
    assert warned == (high is not None and results["stock_left_mm"] > high)


@given(st.integers(10, 160), racks)
def test_bore_when_typed_in_inches_or_in_millimetres_then_the_same_answer(count, rack):
    calculation = get("bore-sequence")
    bore = Fraction(count, 64)
    texts = (f"{float(bore):.6f} in", f"{float(bore * INCH):.7f} mm")
    read = [
        read_entries(calculation, {"finished_bore": text, "drills_owned": ", ".join(rack)}).inputs
        for text in texts
    ]
    assert read[0] == read[1]


@given(typed)
def test_entries_when_anything_is_typed_then_read_or_refused_by_name(text):
    assume(text.strip())
    calculation = get("bore-sequence")
    read, wrong = worked(read_entries, calculation, {"finished_bore": "1/2", "drills_owned": text})
    if wrong is not None:
        assert set(wrong.messages) == {"drills_owned"}
        return
    assert all(drill_of("drills_owned", name).mm > 0 for name in read.inputs["drills_owned"])


def test_limits_when_of_the_catalogue_then_those_of_the_kernel():
    for (key, name), low, high in (
        (("tapping-drill", "engagement"), 30, 100),
        (("bore-sequence", "finished_bore"), 1, Fraction(127, 2)),
    ):
        field = FIELDS[(key, name)]
        assert (field.low, field.high) == (low, high)
