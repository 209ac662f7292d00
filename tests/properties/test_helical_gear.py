"""What must hold of every helical gear, whatever is entered."""

import json
from fractions import Fraction
from math import pi, radians, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json
from calc.kernel.helical_gear import helical_gear
from calc.registry import get

FIELDS = {field.name: field for field in get("helical-gear").inputs}
INCH = Fraction(254, 10)


def within(name, denominator=1000):
    field = FIELDS[name]
    return st.fractions(min_value=field.low, max_value=field.high, max_denominator=denominator)


teeth = st.integers(6, 1000)
modules = within("module", 100)


@given(
    teeth, within("helix_angle"), modules, st.none() | teeth, st.sampled_from(["normal", "transverse"]),
    within("pressure_angle"), st.none() | st.sampled_from(["2.157", "2.25", "2.2+0.002", "2.4"]),
    st.sampled_from(["8", "15"]), within("profile_shift"),
)  # fmt: skip
def test_gear_when_entries_are_within_their_limits_then_it_answers(
    count, helix, module, mate, plane, angle, system, cutter_set, shift
):
    outcome = helical_gear(
        teeth=count, helix_angle=helix, module=module, mate_teeth=mate, pitch_in=plane, pressure_angle=angle,
        depth_system=system, cutter_set=cutter_set, profile_shift=shift,
    )  # fmt: skip
    results = outcome.results
    json.dumps(plain_json(results), allow_nan=False)
    assert results["cutter_teeth"] > count
    assert results["outside_diameter_mm"] > results["root_diameter_mm"]
    assert float(results["transverse_module_mm"]) > float(results["normal_module_mm"])
    across = pi * float(results["pitch_diameter_mm"]) / results["lead_mm"]
    assert across == pytest.approx(tan(radians(helix)))
    low, high = results["cutter_from_teeth"], results["cutter_to_teeth"]
    assert low is None or low <= results["cutter_teeth"] < (high or 10**9) + 1
    assert all(step.value and step.source for step in outcome.working)


@given(teeth, teeth, within("helix_angle"), modules)
def test_pair_when_turned_about_then_gear_and_mate_change_places(count, mate, helix, module):
    one = helical_gear(teeth=count, mate_teeth=mate, helix_angle=helix, module=module).results
    other = helical_gear(teeth=mate, mate_teeth=count, helix_angle=helix, module=module).results
    assert float(one["centre_distance_mm"]) == pytest.approx(float(other["centre_distance_mm"]))
    assert one["ratio"] == other["ratio"]
    for name in ("outside_diameter_mm", "lead_mm", "cutter_teeth", "cutter_number", "chordal_thickness_mm"):
        assert one["mate"][name] == other[name]


@given(teeth, within("helix_angle"), within("diametral_pitch", 12), st.sampled_from(["normal", "transverse"]))
def test_pitch_when_given_as_the_module_it_makes_then_the_sizes_are_the_same(count, helix, pitch, plane):
    module = INCH / pitch
    assume(FIELDS["module"].low <= module <= FIELDS["module"].high)
    more = {"teeth": count, "helix_angle": helix, "pitch_in": plane, "depth_system": "2.25"}
    inch, metric = (
        helical_gear(**more, diametral_pitch=pitch).results,
        helical_gear(**more, module=module).results,
    )
    for name, value in inch.items():
        if name.endswith("_mm") and value is not None:
            assert float(value) == pytest.approx(float(metric[name]), rel=1e-9)
