"""What must hold of bolt circles, whatever is entered."""

import json
import re
from fractions import Fraction
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.bolt_circle import bolt_circle
from calc.registry import get

INCH = Fraction(254, 10)
counts = st.integers(2, 200)
sizes = st.fractions(min_value=1, max_value=5000, max_denominator=1000)
angles = st.fractions(min_value=-360, max_value=360, max_denominator=3600)
centres = st.none() | st.fractions(min_value=-5000, max_value=5000, max_denominator=100)


@given(counts, sizes, angles, centres, centres)
def test_holes_when_drilled_then_all_on_the_circle_a_chord_apart_and_balanced(holes, diameter, angle, x, y):
    outcome = bolt_circle(holes=holes, diameter=diameter, first_angle=angle, centre_x=x, centre_y=y)
    results = outcome.results
    assert not re.search(r"-0\.0(?![0-9])", json.dumps(plain_json(results), allow_nan=False))
    rows, (cx, cy) = results["coordinates"], (float(x or 0), float(y or 0))
    points = [(row["x_mm"], row["y_mm"]) for row in rows]
    slack = 1e-12 * (float(diameter) + abs(cx) + abs(cy)) * 10
    for (px, py), (qx, qy) in zip(points, [*points[1:], points[0]], strict=True):
        assert hypot(px - cx, py - cy) == pytest.approx(float(diameter) / 2, abs=slack)
        assert hypot(qx - px, qy - py) == pytest.approx(results["chord_mm"], abs=slack)
    # Evenly round: their middle is the centre.
    assert sum(px for px, _ in points) / holes == pytest.approx(cx, abs=slack)
    assert sum(py for _, py in points) / holes == pytest.approx(cy, abs=slack)


@given(counts, st.integers(40, 20_000), st.integers(-500, 500))
def test_sizes_when_typed_in_inches_or_in_millimetres_then_the_same_answer(holes, thous, centre):
    read = [
        read_entries(
            get("bolt-circle"), {"holes": str(holes), "diameter": diameter, "centre_x": centre_x}
        ).inputs
        for diameter, centre_x in (
            (f"{thous / 1000} in", f"{centre / 1000} in"),
            (f"{float(thous * INCH / 1000):.4f} mm", f"{float(centre * INCH / 1000):.4f} mm"),
        )
    ]
    assert read[0] == read[1]
