"""What must hold of every fit, whatever size and symbols are entered."""

import json
from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.fit import fit
from calc.kernel.fit_symbols import GRADES, LETTERS
from calc.registry import get

FIELDS = {field.name: field for field in get("fit").inputs}
sizes = st.fractions(min_value=FIELDS["nominal"].low, max_value=FIELDS["nominal"].high, max_denominator=1024)
model_sizes = st.fractions(min_value=Fraction(2), max_value=Fraction(400), max_denominator=64)
letters = st.sampled_from(LETTERS)
grades = st.sampled_from(GRADES)
common_grades = st.sampled_from(GRADES[6:14])


def results_or_none(**entered):
    """The results, or None where the standard has none, which must be said of one of the entries."""
    try:
        return fit(**entered).results
    except (NotInTable, OutOfRange) as error:
        refused = error
    assert refused.field in entered
    assert str(refused)
    return None


def exact(value):
    return Fraction(value).limit_denominator(10**9)


@given(sizes, letters, grades, letters, grades)
def test_fit_when_entries_are_within_their_limits_then_it_answers_or_names_the_symbol(
    nominal, of_hole, hole_grade, of_shaft, shaft_grade
):
    found = results_or_none(nominal=nominal, hole=of_hole.upper() + hole_grade, shaft=of_shaft + shaft_grade)
    if found is None:
        return
    assert "NaN" not in json.dumps(plain_json(found), allow_nan=False)
    assert 0 < found["hole_lower_mm"] < found["hole_upper_mm"]
    assert 0 < found["shaft_lower_mm"] < found["shaft_upper_mm"]
    assert found["clearance_min_mm"] < found["clearance_max_mm"]
    assert exact(found["hole_es_um"]) - exact(found["hole_ei_um"]) == exact(found["hole_tolerance_um"])
    kind = "clearance" if found["clearance_min_mm"] >= 0 else "transition"
    assert found["kind"] == ("interference" if found["clearance_max_mm"] <= 0 else kind)


@given(model_sizes, letters, common_grades, letters, common_grades)
def test_play_when_worked_then_it_is_what_the_limits_and_the_deviations_leave(
    nominal, of_hole, hole_grade, of_shaft, shaft_grade
):
    found = results_or_none(nominal=nominal, hole=of_hole.upper() + hole_grade, shaft=of_shaft + shaft_grade)
    assume(found)
    most = exact(found["hole_es_um"]) - exact(found["shaft_ei_um"])
    least = exact(found["hole_ei_um"]) - exact(found["shaft_es_um"])
    assert (exact(found["clearance_max_mm"]), exact(found["clearance_min_mm"])) == (most / 1000, least / 1000)
    for side in ("hole", "shaft"):
        for which, deviation in (("upper", "es"), ("lower", "ei")):
            limit = nominal + exact(found[f"{side}_{deviation}_um"]) / 1000
            assert found[f"{side}_{which}_mm"] == float(limit)


@given(sizes, st.sampled_from(LETTERS[: LETTERS.index("js")]), grades)
def test_hole_a_to_h_when_set_against_its_shaft_then_it_lies_as_far_on_the_other_side(nominal, letter, grade):
    hole = results_or_none(nominal=nominal, hole=letter.upper() + grade)
    shaft = results_or_none(nominal=nominal, shaft=letter + grade)
    if shaft and hole:
        assert (hole["hole_ei_um"], hole["hole_es_um"]) == (-shaft["shaft_es_um"], -shaft["shaft_ei_um"])
    assert hole or not shaft


@given(sizes, grades)
def test_js_when_worked_then_it_is_even_about_the_nominal(nominal, grade):
    hole = results_or_none(nominal=nominal, hole=f"JS{grade}")
    assume(hole)
    assert hole["hole_es_um"] == -hole["hole_ei_um"] == hole["hole_tolerance_um"] / 2


@given(model_sizes, letters, common_grades, letters, common_grades, st.integers(-200, 200))
def test_shaft_when_the_hole_is_measured_then_least_clearance_and_grade_are_kept(
    nominal, of_hole, hole_grade, of_shaft, shaft_grade, off
):
    entered = {"nominal": nominal, "hole": of_hole.upper() + hole_grade, "shaft": of_shaft + shaft_grade}
    standard = results_or_none(**entered)
    assume(standard)
    measured = nominal + Fraction(off, 1000)
    assume(nominal / 2 <= measured)
    found = fit(**entered, hole_measured=measured).results
    assert found["clearance_min_mm"] == standard["clearance_min_mm"]
    assert exact(found["shaft_upper_mm"] - found["shaft_lower_mm"]).limit_denominator(10**5) * 1000 == exact(
        standard["shaft_tolerance_um"]
    )
    moved = measured - exact(standard["hole_lower_mm"])
    assert abs(exact(found["shaft_upper_mm"]) - exact(standard["shaft_upper_mm"]) - moved) < Fraction(
        1, 10**7
    )
    assert found["hole_upper_mm"] == standard["hole_upper_mm"]


@given(model_sizes, letters, common_grades, letters, common_grades, st.integers(-200, 200))
def test_hole_when_the_shaft_made_to_suit_it_is_measured_in_turn_then_it_comes_back(
    nominal, of_hole, hole_grade, of_shaft, shaft_grade, off
):
    """Make the shaft to a hole, then a hole to that shaft's upper limit: it begins at the first hole."""
    entered = {"nominal": nominal, "hole": of_hole.upper() + hole_grade, "shaft": of_shaft + shaft_grade}
    assume(results_or_none(**entered))
    measured = nominal + Fraction(off, 1000)
    assume(nominal / 2 <= measured)
    shaft = exact(fit(**entered, hole_measured=measured).results["shaft_upper_mm"])
    assume(nominal / 2 <= shaft <= nominal * 2)
    again = fit(**entered, shaft_measured=shaft).results
    assert abs(exact(again["hole_lower_mm"]) - measured) < Fraction(1, 10**8)


@given(st.integers(1, 64 * 120), st.sampled_from(["in", "mm"]))
def test_nominal_when_typed_in_inches_or_in_millimetres_then_the_same_limits(sixtyfourths, unit):
    inch = Fraction(254, 10)
    size = Fraction(sixtyfourths, 64)
    text = f"{size} in" if unit == "in" else f"{size.numerator * inch / size.denominator} mm"
    assume(len(text) < 40 and size * inch >= FIELDS["nominal"].low)
    typed = read_entries(get("fit"), {"nominal": text, "hole": "H7"}).inputs
    assert fit(**typed).results == fit(nominal=size * inch, hole="H7").results
