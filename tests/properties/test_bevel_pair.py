"""What must hold of every bevel pair, whatever is entered."""

import json
from fractions import Fraction
from math import cos, radians

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json
from calc.kernel.bevel_pair import bevel_pair
from calc.kernel.errors import OutOfRange
from calc.registry import get

FIELDS = {field.name: field for field in get("bevel-pair").inputs}
INCH = Fraction(254, 10)


def within(name, denominator=1000):
    field = FIELDS[name]
    return st.fractions(min_value=field.low, max_value=field.high, max_denominator=denominator)


teeth = st.integers(6, 1000)
usual_teeth = st.integers(10, 120)
modules = within("module", 100)
depths = st.sampled_from(["taper", "parallel"])
ends = st.none() | st.sampled_from(["large", "small"])
systems = st.sampled_from(["2.157", "2.25", "2.2+0.002", "2.4"])
#: The face in parts of the least cone distance a pair can have at right angles.
parts = st.fractions(min_value=Fraction(1, 20), max_value=Fraction(1, 4), max_denominator=60)


def answer_or_field(**entered):
    """What came out, or the entry that was refused."""
    try:
        return bevel_pair(**entered), None
    except OutOfRange as refused:
        return None, refused.field


def usual(count, mate, module, part, **more):
    face = part * module * max(count, mate)
    assume(FIELDS["face_width"].low <= face <= FIELDS["face_width"].high)
    return answer_or_field(teeth=count, mate_teeth=mate, module=module, face_width=face, **more)[0]


@given(
    teeth, teeth, modules, within("face_width"), within("shaft_angle"), depths, ends,
    within("pressure_angle"), st.none() | systems, st.sampled_from(["8", "15"]),
    st.none() | within("cutter_thickness_large"),
)  # fmt: skip
def test_pair_when_entries_are_within_their_limits_then_it_answers_or_names_one_of_them(
    count, mate, module, face, shaft, depth, end, angle, system, cutter_set, thick
):
    entered = {
        "teeth": count, "mate_teeth": mate, "module": module, "face_width": face, "shaft_angle": shaft,
        "tooth_depth": depth, "pitch_at": end, "pressure_angle": angle, "depth_system": system,
        "cutter_set": cutter_set, "cutter_thickness_large": thick, "cutter_thickness_small": thick,
    }  # fmt: skip
    outcome, refused = answer_or_field(**entered)
    if outcome is None:
        assert entered.get(refused) is not None
        return
    assert "NaN" not in json.dumps(plain_json(outcome.results), allow_nan=False)
    for own in (outcome.results, outcome.results["mate"]):
        assert 0 < own["root_angle_deg"] <= own["pitch_angle_deg"] <= own["face_angle_deg"]
        assert own["pitch_angle_deg"] < 90
        assert own["outside_diameter_mm"] > 0
        assert own["formative_teeth"] > own.get("teeth", count)
    assert all(step.value and step.source for step in outcome.working)


@given(usual_teeth, usual_teeth, modules, parts, depths, systems, st.integers(60, 120))
def test_pair_when_turned_about_then_gear_and_mate_change_places(
    count, mate, module, part, depth, system, shaft
):
    more = {"tooth_depth": depth, "depth_system": system, "shaft_angle": Fraction(shaft)}
    one, other = usual(count, mate, module, part, **more), usual(mate, count, module, part, **more)
    assume(one and other)
    for name in ("cone_distance_mm", "small_end_factor", "whole_depth_mm", "face_width_limit_mm"):
        assert float(one.results[name]) == pytest.approx(float(other.results[name]), rel=1e-12)
    for name, value in one.results["mate"].items():
        if name.endswith(("_mm", "_deg")) or name == "formative_teeth":
            assert float(other.results[name]) == pytest.approx(float(value), rel=1e-9, abs=1e-9), name


@given(usual_teeth, usual_teeth, within("diametral_pitch", 12), depths, parts)
def test_pitch_when_given_as_the_module_it_makes_then_the_sizes_are_the_same(count, mate, pitch, depth, part):
    module = INCH / pitch
    assume(FIELDS["module"].low <= module <= FIELDS["module"].high)
    metric = usual(count, mate, module, part, tooth_depth=depth, depth_system="2.25")
    face = part * module * max(count, mate)
    inch = answer_or_field(
        teeth=count,
        mate_teeth=mate,
        diametral_pitch=pitch,
        face_width=face,
        tooth_depth=depth,
        depth_system="2.25",
    )[0]
    assume(metric and inch)
    for name, value in inch.results.items():
        if name.endswith("_mm") and value is not None:
            assert float(value) == pytest.approx(float(metric.results[name]), rel=1e-9, abs=1e-9), name


@given(usual_teeth, usual_teeth, modules, parts, depths)
def test_sizes_when_the_module_and_the_face_are_doubled_then_every_length_is_doubled(
    count, mate, module, part, depth
):
    assume(2 * module <= FIELDS["module"].high)
    one = usual(count, mate, module, part, tooth_depth=depth)
    two = usual(count, mate, 2 * module, part, tooth_depth=depth)
    assume(one and two)
    for name, value in one.results.items():
        if name.endswith("_mm") and value is not None:
            assert float(two.results[name]) == pytest.approx(2 * float(value), rel=1e-9, abs=1e-9), name
        elif name.endswith("_deg") and value is not None:
            assert two.results[name] == pytest.approx(value, rel=1e-9)


@given(usual_teeth, usual_teeth, modules, parts)
def test_pair_when_square_then_the_two_pitch_angles_come_to_a_right_angle(count, mate, module, part):
    outcome = usual(count, mate, module, part)
    assume(outcome)
    own, other = outcome.results, outcome.results["mate"]
    assert own["pitch_angle_deg"] + other["pitch_angle_deg"] == pytest.approx(90)
    assert own["back_angle_deg"] == pytest.approx(other["pitch_angle_deg"])
    assert own["formative_teeth"] * cos(radians(own["pitch_angle_deg"])) == pytest.approx(count)
    low, high = own["cutter_from_teeth"], own["cutter_to_teeth"]
    if low is not None:
        assert low <= own["formative_teeth"] < (high or 10**9) + 1
