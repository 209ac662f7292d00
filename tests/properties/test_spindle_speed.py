"""What must hold of spindle speeds, whatever is entered."""

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.errors import NoSolution
from calc.kernel.spindle_speed import spindle_speed
from calc.registry import get

speeds = st.fractions(min_value=1, max_value=1000, max_denominator=100)
sizes = st.fractions(min_value=Fraction(1, 10), max_value=3000, max_denominator=100)
steps = st.lists(st.integers(1, 60_000), min_size=1, max_size=20)


def worked(**entered):
    try:
        return spindle_speed(**entered)
    except NoSolution:
        return None


@given(speeds, sizes, steps)
def test_step_when_taken_then_the_highest_that_is_not_above(speed, diameter, machine):
    wanted = spindle_speed(cutting_speed=speed, diameter=diameter).results["spindle_speed_rpm"]
    outcome = worked(cutting_speed=speed, diameter=diameter, spindle_speeds=machine)
    below = [step for step in machine if step <= wanted]
    if outcome is None:
        assert not below
        return
    assert outcome.results["nearest_rpm"] == max(below)
    assert outcome.results["speed_run_m_min"] <= float(speed) * (1 + 1e-12)
    assert "-0.0" not in json.dumps(plain_json(outcome.results), allow_nan=False)


@given(st.integers(4, 3000), st.integers(1, 3000), st.integers(1, 300))
def test_entries_when_in_feet_and_inches_or_in_metres_then_the_same_answer(feet, thous, cut):
    pairs = ({"cutting_speed": f"{feet} ft/min", "diameter": f"{thous / 1000 + 1:.3f} in",
              "length": f"{cut} in",
              "feed": "0.004 in"},
             {"cutting_speed": f"{float(Fraction(feet) * Fraction('0.3048')):.4f} m/min",
              "diameter": f"{float((Fraction(thous, 1000) + 1) * Fraction('25.4')):.4f} mm",
              "length": f"{cut * 25.4:.1f} mm", "feed": "0.1016 mm"})  # fmt: skip
    results = [
        spindle_speed(**read_entries(get("spindle-speed"), one).inputs).results for one in pairs if cut < 190
    ]
    if results:
        assert results[0] == pytest.approx(results[1])
