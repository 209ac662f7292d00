"""What must hold of every spur gear, whatever is entered."""

import json
from fractions import Fraction
from math import cos, pi, radians

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.errors import OutOfRange
from calc.kernel.spur_gear import spur_gear
from calc.kernel.spur_gear_cutters import cutter_for
from calc.registry import get

FIELDS = {field.name: field for field in get("spur-gear").inputs}
INCH = Fraction(254, 10)


def within(name, denominator=1000):
    field = FIELDS[name]
    return st.fractions(min_value=field.low, max_value=field.high, max_denominator=denominator)


def whole(name):
    return st.integers(int(FIELDS[name].low), int(FIELDS[name].high))


teeth = whole("teeth")
modules = within("module", 100)
angles = st.sampled_from([Fraction(29, 2), Fraction(20), Fraction(25), Fraction(45, 2)])
systems = st.sampled_from(["2.157", "2.25", "2.2+0.002", "2.4"])
LENGTHS = ("pitch_diameter_mm", "outside_diameter_mm", "root_diameter_mm", "base_diameter_mm", "span_mm")


def answer_or_field(**entered):
    """What came out, or the entry that was refused."""
    try:
        return spur_gear(**entered), None
    except OutOfRange as refused:
        return None, refused.field


def answer(**entered):
    return answer_or_field(**entered)[0]


@given(
    teeth, modules, st.none() | teeth, within("pressure_angle"), st.none() | systems,
    st.sampled_from(["8", "15"]), within("profile_shift"), st.none() | within("backlash"),
    st.none() | within("pin_diameter"), st.none() | st.integers(1, 40),
)  # fmt: skip
def test_gear_when_entries_are_within_their_limits_then_it_answers_or_names_one_of_them(
    count, module, mate, angle, system, cutter_set, shift, backlash, pin, span
):
    entered = {
        "teeth": count, "module": module, "mate_teeth": mate, "pressure_angle": angle,
        "depth_system": system, "cutter_set": cutter_set, "profile_shift": shift, "backlash": backlash,
        "pin_diameter": pin, "span_teeth": span,
    }  # fmt: skip
    outcome, refused = answer_or_field(**entered)
    if outcome is None:
        assert entered.get(refused) is not None
        return
    numbers = json.dumps(plain_json(outcome.results), allow_nan=False)
    assert "NaN" not in numbers
    assert all(float(outcome.results[name]) > 0 for name in LENGTHS)
    assert outcome.results["root_diameter_mm"] < outcome.results["outside_diameter_mm"]
    assert all(step.value and step.source for step in outcome.working)


@given(st.integers(10, 400), within("diametral_pitch", 12), angles, st.integers(10, 400))
def test_pitch_when_given_as_the_module_it_makes_then_the_sizes_are_the_same(count, pitch, angle, mate):
    module = INCH / pitch
    assume(FIELDS["module"].low <= module <= FIELDS["module"].high)
    more = {"mate_teeth": mate, "pressure_angle": angle, "depth_system": "2.25"}
    inch, metric = (
        answer(teeth=count, diametral_pitch=pitch, **more),
        answer(teeth=count, module=module, **more),
    )
    for name in (*LENGTHS, "chordal_thickness_mm", "chordal_addendum_mm", "centre_distance_mm"):
        assert float(inch.results[name]) == pytest.approx(float(metric.results[name]), rel=1e-12)
    assert inch.results["outside_diameter_mm"] == metric.results["outside_diameter_mm"]


@given(st.integers(10, 400), st.integers(10, 400), angles, modules)
def test_pair_when_turned_about_then_gear_and_mate_change_places(count, mate, angle, module):
    one = answer(teeth=count, mate_teeth=mate, module=module, pressure_angle=angle).results
    other = answer(teeth=mate, mate_teeth=count, module=module, pressure_angle=angle).results
    for name in ("centre_distance_mm", "ratio"):
        assert one[name] == other[name]
    assert one["contact_ratio"] == pytest.approx(other["contact_ratio"], rel=1e-9)
    for name in ("outside_diameter_mm", "span_mm", "chordal_thickness_mm", "cutter_number", "undercut"):
        assert one[name] == other["mate"][name]


@given(st.integers(10, 400), modules, angles)
def test_sizes_when_the_module_is_doubled_then_every_length_is_doubled(count, module, angle):
    assume(2 * module <= FIELDS["module"].high)
    one = answer(teeth=count, module=module, pressure_angle=angle, pin_diameter=Fraction("1.728") * module)
    two = answer(
        teeth=count, module=2 * module, pressure_angle=angle, pin_diameter=Fraction("3.456") * module
    )
    for name, value in one.results.items():
        if name.endswith("_mm") and value is not None:
            assert float(two.results[name]) == pytest.approx(2 * float(value), rel=1e-9), name


@given(st.integers(12, 400), st.integers(1, 30), angles, within("profile_shift", 50))
def test_span_when_one_tooth_more_is_taken_then_it_grows_by_a_base_pitch(count, over, angle, shift):
    assume(over + 1 < count)
    more = {"teeth": count, "module": Fraction(1), "pressure_angle": angle, "profile_shift": shift}
    first, second = (answer(**more, span_teeth=over), answer(**more, span_teeth=over + 1))
    assume(first)
    grown = second.results["span_mm"] - first.results["span_mm"]
    assert grown == pytest.approx(pi * cos(radians(angle)), abs=1e-9)


@given(st.integers(12, 1000), st.sampled_from(["8", "15"]))
def test_cutter_when_picked_then_the_teeth_are_in_its_range_and_it_is_the_closest_below(count, cutter_set):
    results = answer(teeth=count, module=Fraction(2), cutter_set=cutter_set).results
    assert results["cutter_from_teeth"] <= count <= (results["cutter_to_teeth"] or count)
    assert results["cutter_number"] == cutter_for(count, cutter_set).number
    assert cutter_for(results["cutter_from_teeth"], cutter_set).number == results["cutter_number"]


@given(st.integers(10, 200), st.integers(10, 200), within("diametral_pitch", 8), within("profile_shift", 100))
def test_drawing_when_its_centres_are_those_worked_out_exactly_then_nothing_is_said(
    count, mate, pitch, shift
):
    centres = Fraction(count + mate) / (2 * pitch) * INCH
    more = {"teeth": count, "mate_teeth": mate, "diametral_pitch": pitch, "profile_shift": shift}
    outcome = answer(**more, drawing_centre_distance=centres)
    assume(outcome)
    assert "centre-distance" not in {caution.code for caution in outcome.warnings}
    moved = answer(**more, drawing_centre_distance=centres + Fraction(1, 10**9))
    assert "centre-distance" in {caution.code for caution in moved.warnings}


@given(teeth, st.fractions(min_value=Fraction(1), max_value=Fraction(120), max_denominator=16))
def test_entries_when_typed_and_read_then_they_reach_the_sum_exactly(count, pitch):
    typed = {"teeth": f" {count} ", "diametral_pitch": f"{pitch.numerator}/{pitch.denominator} DP"}
    if pitch.denominator == 1:
        typed["diametral_pitch"] = f"DP {pitch}"
    inputs = read_entries(get("spur-gear"), typed).inputs
    assert (inputs["teeth"], inputs["diametral_pitch"]) == (count, pitch)
