"""What must hold of every worm and wheel, whatever is entered."""

import json
from fractions import Fraction
from math import pi, radians, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json
from calc.kernel.errors import OutOfRange
from calc.kernel.worm_pair import worm_pair
from calc.registry import get

FIELDS = {field.name: field for field in get("worm-pair").inputs}
INCH = Fraction(254, 10)


def within(name, denominator=1000):
    field = FIELDS[name]
    return st.fractions(min_value=field.low, max_value=field.high, max_denominator=denominator)


starts, teeth = st.integers(1, 12), st.integers(6, 1000)
pitches = st.one_of(
    st.tuples(st.just("axial_pitch"), within("axial_pitch")),
    st.tuples(st.just("module"), within("module", 100)),
    st.tuples(st.just("diametral_pitch"), within("diametral_pitch", 16)),
)


@given(
    starts, teeth, within("worm_diameter"), pitches, within("pressure_angle"),
    st.none() | st.sampled_from(["2.157", "2.25", "2.2+0.002", "2.4"]),
)  # fmt: skip
def test_worm_when_entries_are_within_their_limits_then_it_answers_or_names_its_diameter(
    threads, count, diameter, pitch, angle, system
):
    entered = {
        "starts": threads, "wheel_teeth": count, "worm_diameter": diameter, pitch[0]: pitch[1],
        "pressure_angle": angle, "depth_system": system,
    }  # fmt: skip
    try:
        outcome, refused = worm_pair(**entered), ""
    except OutOfRange as said:
        outcome, refused = None, said.field
    if outcome is None:
        assert refused == "worm_diameter"
        return
    results = outcome.results
    json.dumps(plain_json(results), allow_nan=False)
    slope = float(results["lead_mm"]) / (pi * float(diameter))
    assert tan(radians(results["lead_angle_deg"])) == pytest.approx(slope)
    assert results["ratio"] == Fraction(count, threads)
    assert 0 < results["worm_root_diameter_mm"] < results["worm_outside_diameter_mm"]
    assert all(step.value and step.source for step in outcome.working)


@given(starts, teeth, within("diametral_pitch", 12))
def test_pitch_when_given_as_the_module_it_makes_then_the_sizes_are_the_same(threads, count, pitch):
    module = INCH / pitch
    assume(FIELDS["module"].low <= module <= FIELDS["module"].high)
    more = {"starts": threads, "wheel_teeth": count, "worm_diameter": 10 * module, "depth_system": "2.25"}
    inch = worm_pair(**more, diametral_pitch=pitch).results
    metric = worm_pair(**more, module=module).results
    for name, value in inch.items():
        if name.endswith("_mm"):
            assert float(value) == pytest.approx(float(metric[name]), rel=1e-9)
