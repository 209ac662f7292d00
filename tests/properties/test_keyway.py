"""What must hold of every keyway, whatever is entered."""

import json
import math
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange
from calc.kernel.keyway import keyway
from calc.registry import get
from tests.kernel.test_keyway_workings import lines_agree
from tests.oracles import rise_by_angle

FIELDS = {field.name: field for field in get("keyway").inputs}
STANDARDS = [value for value, _ in FIELDS["standard"].choices]
SECTIONS = [value for value, _ in FIELDS["section"].choices]
FITS = [value for value, _ in FIELDS["fit"].choices]
INCH = Fraction(254, 10)

standards = st.sampled_from(STANDARDS)
shafts = st.fractions(
    min_value=FIELDS["shaft_diameter"].low, max_value=FIELDS["shaft_diameter"].high, max_denominator=10_000
)
#: Shafts as they are turned, in 64ths of an inch.
sixty_fourths = st.integers(17, 700).map(lambda count: count * INCH / 64)


def answer(**entered):
    try:
        return keyway(**entered)
    except (NoSolution, NotInTable):
        return None


def worked(**entered):
    """The outcome, or the reason why there is none."""
    try:
        return keyway(**entered), None
    except (NoSolution, NotInTable, OutOfRange) as fault:
        return None, fault


@given(shafts | sixty_fourths, standards, st.sampled_from(SECTIONS), st.sampled_from(FITS))
def test_keyway_when_entries_are_within_their_limits_then_it_answers_or_says_why_not(
    shaft, standard, section, fit
):
    entered = {"shaft_diameter": shaft, "standard": standard, "section": section, "fit": fit}
    outcome, fault = worked(**entered)
    if outcome is None:
        assert getattr(fault, "would_do", True)
        assert getattr(fault, "field", "fit") in ("shaft_diameter", "fit")
        return
    assert outcome.working
    assert outcome.results["section"] in ("square", "rectangular")
    json.dumps(plain_json(outcome.results), allow_nan=False)
    assert all(value > 0 for value in outcome.results.values() if isinstance(value, float))


@given(shafts, standards, st.fractions(min_value=Fraction(96, 100), max_value=Fraction(104, 100)))
def test_datum_when_worked_out_then_crown_side_and_over_the_work_hang_together(shaft, standard, worn):
    bore = shaft * worn
    outcome = answer(shaft_diameter=shaft, standard=standard, bore_measured=bore)
    assume(outcome is not None)
    results = outcome.results
    width = results["key_width_mm"]
    for place, work, way in (("shaft", shaft, 1), ("hub", bore, -1)):
        rise = rise_by_angle(float(work), width)
        for end in ("", "_min", "_max"):
            side = results[f"{place}_side_depth{end}_mm"]
            assert results[f"{place}_crown_depth{end}_mm"] == pytest.approx(side + way * rise, abs=1e-9)
        crown = results[f"{place}_crown_depth_mm"]
        assert results[f"{place}_over_work_mm"] == pytest.approx(float(work) - way * crown)
        # The plain depth is the lower limit: the most over a shaft, the least across a bore.
        assert crown == results[f"{place}_crown_depth_min_mm"] < results[f"{place}_crown_depth_max_mm"]
        limit = "max" if place == "shaft" else "min"
        assert results[f"{place}_over_work_mm"] == results[f"{place}_over_work_{limit}_mm"]
        assert results[f"{place}_width_min_mm"] < results[f"{place}_width_max_mm"]
    assert results["chord_rise_mm"] == pytest.approx(rise_by_angle(float(bore), width), abs=1e-9)


@given(shafts, standards)
def test_key_when_in_its_keyway_then_it_has_room_over_it_and_half_of_it_or_so_is_in_each(shaft, standard):
    outcome = answer(shaft_diameter=shaft, standard=standard)
    assume(outcome is not None)
    results = outcome.results
    room = results["shaft_crown_depth_mm"] + results["hub_crown_depth_mm"] - results["key_height_mm"]
    assert 0 < room < 0.6
    assert 0.4 < results["shaft_side_depth_mm"] / results["key_height_mm"] < 0.7


@given(shafts, shafts, standards)
def test_key_when_the_shaft_is_larger_then_it_is_no_narrower(one, other, standard):
    found = [answer(shaft_diameter=shaft, standard=standard) for shaft in sorted((one, other))]
    assume(all(found))
    assert found[0].results["key_width_mm"] <= found[1].results["key_width_mm"]
    assert found[0].results["shaft_crown_depth_min_mm"] <= found[1].results["hub_over_work_max_mm"]


@given(st.integers(17, 384), st.sampled_from(["bs46", "b17.1"]))
def test_shaft_when_entered_in_inches_or_in_millimetres_then_the_same_answer(count, standard):
    calculation = get("keyway")
    inches = Fraction(count, 64)
    typed = [f"{float(inches):.6f} in", f"{float(inches * INCH):.7f} mm"]
    assume(Fraction(typed[1].removesuffix(" mm")) == inches * INCH)
    read = [
        read_entries(calculation, {"shaft_diameter": text, "standard": standard}).inputs for text in typed
    ]
    assert read[0] == read[1]
    found = [answer(**inputs) for inputs in read]
    assert (found[0] and found[0].results) == (found[1] and found[1].results)


@given(shafts, st.sampled_from(["bs46", "b17.1", "iso773"]), st.integers(-40, 40))
def test_bore_when_measured_then_the_key_stays_that_of_the_nominal(shaft, standard, hundredths):
    bore = shaft * (1 + Fraction(hundredths, 1000))
    plain = answer(shaft_diameter=shaft, standard=standard)
    assume(plain is not None)
    worn = answer(shaft_diameter=shaft, standard=standard, bore_measured=bore)
    for name in ("key_width_mm", "key_height_mm", "shaft_over_work_mm", "shaft_crown_depth_mm"):
        assert worn.results[name] == plain.results[name]
    moved = worn.results["hub_over_work_mm"] - plain.results["hub_over_work_mm"]
    # The rise changes by a few hundredths of the difference at most.
    assert math.isclose(moved, float(bore - shaft), rel_tol=0.15, abs_tol=1e-9)


@given(
    st.decimals(min_value="0.26", max_value="11", places=4) | st.sampled_from(["1 1/3", "2 2/7", "3/7"]),
    standards,
    st.sampled_from(["in", "mm"]),
)
def test_working_when_the_shaft_is_any_then_every_line_can_be_worked_again(size, standard, unit):
    text = (
        f"{size} in" if unit == "in" else f"{round(float(size) * 25.4, 3)} mm" if "/" not in str(size) else ""
    )
    assume(text)
    try:
        lines_agree({"shaft_diameter": text, "standard": standard})
    except (NotInTable, NoSolution):
        assume(False)


def test_limits_when_a_hair_outside_then_refused_by_name():
    low, high = FIELDS["shaft_diameter"].low, FIELDS["shaft_diameter"].high
    for shaft in (low - Fraction(1, 10**6), high + Fraction(1, 10**6)):
        with pytest.raises(OutOfRange) as refused:
            keyway(shaft_diameter=shaft, standard="b17.1")
        assert refused.value.field == "shaft_diameter"
    assert keyway(shaft_diameter=high, standard="b17.1").results["key_width_mm"] == pytest.approx(63.5)
    assert keyway(shaft_diameter=low, standard="iso773", key_width=Fraction(2)).working
