"""What must hold of every bevel differential, whatever is entered."""

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.entries import plain_json
from calc.kernel.bevel_differential import bevel_differential
from tests.oracles_gears import pinion_fits

INCH = Fraction(254, 10)
teeth = st.integers(6, 1000)
pinions = st.integers(2, 6)


def of(left, right, pinion, number, **pitch):
    return bevel_differential(
        left_teeth=left, right_teeth=right, pinion_teeth=pinion, pinions=number, **pitch
    )


@given(teeth, teeth, teeth, pinions)
def test_differential_when_any_counts_are_entered_then_it_answers_as_the_teeth_laid_out(
    left, right, pinion, number
):
    outcome = of(left, right, pinion, number, module=Fraction(2))
    json.dumps(plain_json(outcome.results), allow_nan=False)
    assert outcome.results["goes_together"] is pinion_fits(left, right, number)
    assert outcome.results["goes_together"] is (number in outcome.results["pinions_that_go"])
    has_said = "does-not-go" in {caution.code for caution in outcome.warnings}
    assert has_said is not outcome.results["goes_together"]
    assert all(step.value and step.source for step in outcome.working)


@given(teeth, teeth, teeth, pinions)
def test_differential_when_left_and_right_change_places_then_the_same_pinions_go(left, right, pinion, number):
    one, other = of(left, right, pinion, number).results, of(right, left, pinion, number).results
    assert one["pinions_that_go"] == other["pinions_that_go"]
    assert one["pinions_clear"] == other["pinions_clear"]
    assert 1 / one["ratio"] + 1 / other["ratio"] == 1
    if one["left_pitch_angle_deg"] is not None:
        assert one["left_pitch_angle_deg"] == pytest.approx(other["right_pitch_angle_deg"], abs=1e-5)


@given(teeth, teeth, teeth, pinions)
def test_cones_when_there_are_any_then_they_close_about_one_apex(left, right, pinion, number):
    results = of(left, right, pinion, number).results
    angles = [results[f"{member}_pitch_angle_deg"] for member in ("left", "right", "pinion", "pinion")]
    if None not in angles:
        assert sum(angles) == pytest.approx(180, abs=1e-5)


@given(teeth, teeth, teeth, st.fractions(Fraction(2), Fraction(100), max_denominator=12))
def test_pitch_when_given_as_the_module_it_makes_then_the_distances_are_the_same(left, right, pinion, pitch):
    inch = of(left, right, pinion, 2, diametral_pitch=pitch).results
    metric = of(left, right, pinion, 2, module=INCH / pitch).results
    for name, value in inch.items():
        if name.endswith("_mm"):
            assert (value is None) == (metric[name] is None)
            assert value is None or value == pytest.approx(metric[name], rel=1e-9, abs=1e-9)
