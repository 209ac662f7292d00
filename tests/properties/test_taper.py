"""What must hold of tapers, whatever is entered."""

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.entries import EntryErrors, plain_json, read_entries
from calc.kernel.errors import CalculationError
from calc.kernel.taper import taper
from calc.registry import get
from tests.oracles import taper_angle

INCH = Fraction(254, 10)
FIELDS = {field.name: field for field in get("taper").inputs}
rates = st.fractions(min_value=FIELDS["rate"].low, max_value=FIELDS["rate"].high, max_denominator=10_000)
sizes = st.none() | st.fractions(min_value=-1, max_value=300, max_denominator=1000)
typed = st.text(max_size=14) | st.lists(
    st.sampled_from(["MT", "1", "7", ":", "/", " in ", "ft", "per", "0", ".", "mm", "B&S", " ", "m", "°"]),
    max_size=7,
).map("".join)


def worked(function, *given, **entered):
    """What a function answers, or the reason why it does not; any other fault fails the test."""
    try:
        return function(*given, **entered), None
    except (CalculationError, EntryErrors) as fault:
        return None, fault


@given(rates)
def test_rate_when_said_as_an_angle_and_as_sizes_then_the_same_taper(rate):
    by_rate = taper(rate=rate).results
    large, length = Fraction(10) * rate + 1, Fraction(10)
    by_sizes = taper(large_diameter=large, small_diameter=Fraction(1), length=length).results
    assert by_sizes["rate"] == by_rate["rate"]
    assert by_rate["included_angle_deg"] == pytest.approx(taper_angle(float(large), 1.0, 10.0), rel=1e-4)
    if FIELDS["included_angle"].low <= by_rate["included_angle_deg"] <= FIELDS["included_angle"].high:
        by_angle = taper(included_angle=Fraction(by_rate["included_angle_deg"])).results
        assert by_angle["rate"] == pytest.approx(by_rate["rate"], rel=1e-9)
    assert by_rate["half_angle_deg"] * 2 == by_rate["included_angle_deg"]
    # A face with the whole rate leans more than half of the taper, and less than all of it.
    assert by_rate["half_angle_deg"] < by_rate["face_angle_deg"] < by_rate["included_angle_deg"]


@given(st.none() | rates, st.none() | st.fractions(0, 170), sizes, sizes, sizes, sizes, sizes)
def test_entries_when_anything_is_given_then_plain_results_or_a_refusal_by_name(
    rate, angle, large, small, length, work, bar
):
    outcome, refused = worked(
        taper, rate=rate, included_angle=angle, large_diameter=large, small_diameter=small, length=length,
        work_length=work, sine_bar=bar,
    )  # fmt: skip
    if refused is not None:
        assert refused.field in FIELDS
        return
    text = json.dumps(plain_json(outcome.results), allow_nan=False)
    assert "-0.0" not in text
    results = outcome.results
    ends = [results[f"{name}_mm"] for name in ("large_diameter", "small_diameter", "length")]
    if None not in ends:
        assert (ends[0] - ends[1]) / ends[2] == pytest.approx(results["rate"], rel=1e-6, abs=1e-9)


@given(st.integers(1, 200), st.integers(1, 200))
def test_sizes_when_typed_in_inches_or_in_millimetres_then_the_same_answer(extra, length):
    thous = {"large_diameter": 1000 + extra, "small_diameter": 1000, "length": 10 * length + 4}
    inches = {name: f"{size / 1000} in" for name, size in thous.items()}
    metric = {name: f"{float(size * INCH / 1000):.4f} mm" for name, size in thous.items()}
    read = [read_entries(get("taper"), entered).inputs for entered in (inches, metric)]
    assert read[0] == read[1]


@given(st.sampled_from(["name", "rate"]), typed)
def test_text_when_anything_is_typed_then_read_or_refused_by_name(field, text):
    read, wrong = worked(read_entries, get("taper"), {field: text})
    if wrong is not None:
        assert set(wrong.messages) == {field}
        return
    assert read.inputs[field] or not text.strip()
