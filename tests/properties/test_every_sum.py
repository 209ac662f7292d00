"""What must hold of every sum there is, whatever is entered: the catalogue says what to try."""

import json
import math
import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from calc import measures, pictures, quantities, runs
from calc.catalogue import CALCULATIONS
from calc.entries import EntryErrors, read_entries
from calc.kernel.errors import CalculationError, NoSolution
from calc.kernel.fit import fit
from calc.kernel.inch_fit import inch_fit
from calc.kernel.units import INCH, in_or_mm
from calc.kernel.wording import decimal_text, dms_text, fixed, mixed_text
from calc.registry import get
from tests.oracles import evaluate, shown_value
from tests.properties import typed

#: Sums that search for seconds are tried a few times only; their own tests go round their edges.
SLOW_KEYS = {"bevel-cutting"}
QUICK_SUMS = [one for one in CALCULATIONS if one.key not in SLOW_KEYS]
SLOW_SUMS = [one for one in CALCULATIONS if one.key in SLOW_KEYS]
EVERY = pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda one: one.key)
QUICK = pytest.mark.parametrize("calculation", QUICK_SUMS, ids=lambda one: one.key)
SLOW = pytest.mark.parametrize("calculation", SLOW_SUMS, ids=lambda one: one.key)
UNITS = st.sampled_from(["inch", "mm"])
#: A figure with a minus before nought, or no figure at all, in what people read.
NO_FIGURE = re.compile(r"(?<![\w.)])[-−]0(?:\.0+)?(?![\w.])|\b(?:nan|NaN|inf|Infinity)\b|\bNone\b(?! [a-z])")


def faults(value, path="results"):
    """Where in a result there is a figure that is none: not a number, endless, nought with a sign."""
    if isinstance(value, float):
        if not math.isfinite(value) or (value == 0 and math.copysign(1, value) < 0):
            yield path, value
    elif isinstance(value, Mapping):
        for name, part in value.items():
            yield from faults(part, f"{path}.{name}")
    elif isinstance(value, (list, tuple)):
        for place, part in enumerate(value):
            yield from faults(part, f"{path}[{place}]")


def words_of(found):
    """Every word the sum has for people: working, warnings, the answer with its tables."""
    for step in found.outcome.working:
        yield from (step.label, step.formula, step.figures, step.value)
    yield from (one.text for one in found.outcome.warnings)
    yield json.dumps(runs.answer_of(found), ensure_ascii=False, allow_nan=False)
    yield json.dumps(runs.tables_of(found), ensure_ascii=False, allow_nan=False, default=str)


def worked_or_said(calculation, entered, unit="inch"):
    """The run, or what is said of which entry, or that there is no solution; any other error goes through."""
    try:
        return runs.run(calculation, entered, unit=unit), {}
    except EntryErrors as wrong:
        return None, wrong.messages
    except NoSolution as none:
        return None, {"no_solution": none.message}


@QUICK
@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_sum_when_anything_is_entered_then_figures_or_a_refusal_by_name(calculation, data):
    answers_or_refuses(calculation, data)


@SLOW
@settings(max_examples=5, suppress_health_check=[HealthCheck.too_slow], phases=[Phase.generate])
@given(data=st.data())
def test_slow_sum_when_anything_is_entered_then_figures_or_a_refusal_by_name(calculation, data):
    answers_or_refuses(calculation, data)


def answers_or_refuses(calculation, data):
    entered, unit = data.draw(typed.entries(calculation)), data.draw(UNITS)
    found, said = worked_or_said(calculation, entered, unit)
    if found is None:
        assert set(said) <= {field.name for field in calculation.inputs} | {"no_solution"}
        assert said
        assert all(said.values())
        return
    assert list(faults(found.outcome.results)) == []
    json.dumps(runs.as_json(found), allow_nan=False)
    assert {one.name for one in calculation.outputs} <= set(found.outcome.results)
    assert found.outcome.working
    assert calculation.title_of(found.inputs, found.readings)
    assert calculation.headline(found.inputs, dict(found.outcome.results))
    for text in words_of(found):
        assert NO_FIGURE.findall(text) == [], text
    for picture in runs.answer_of(found).get("pictures", []):
        assert pictures.drawing(picture)


@QUICK
@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_working_when_anything_is_entered_then_each_line_comes_to_what_it_shows(calculation, data):
    """Lines in words, of what is read or chosen, have no figures to be worked again; most have.

    Where a value lies all but on a half, figures of so many places may fall on the other side of it: a
    twentieth of the half place is let go. The published checks are held without.
    """
    found, _ = worked_or_said(calculation, data.draw(typed.entries(calculation)))
    for step in found.outcome.working if found else ():
        worked_again = evaluated(step.figures)
        shown = evaluated_value(step.value)
        if worked_again is not None and shown is not None:
            value, half = shown
            assert abs(worked_again - value) <= half * Fraction(21, 20) + Fraction(1, 10**9), step


@EVERY
def test_working_of_the_example_when_read_then_most_of_its_lines_are_sums(calculation):
    steps = runs.run(calculation, dict(calculation.example)).outcome.working
    sums = [step for step in steps if evaluated(step.figures) is not None and evaluated_value(step.value)]
    assert len(sums) >= len(steps) / 2


def evaluated(figures):
    try:
        return evaluate(figures)
    except (ValueError, AssertionError, IndexError, KeyError):
        return None


def evaluated_value(text):
    try:
        return shown_value(text)
    except ValueError:
        return None


@EVERY
@settings(max_examples=40)
@given(data=st.data())
def test_reading_when_shown_then_read_back_it_is_the_same(calculation, data):
    entered = data.draw(typed.entries(calculation))
    try:
        read = read_entries(calculation, {name: text for name, text in entered.items() if text})
    except EntryErrors:
        return
    for field in calculation.inputs:
        shown = read.readings.get(field.name, "").removesuffix(", as usual")
        if not shown or field.kind not in typed.BASE_UNITS:
            continue
        first, _, second = shown.partition(" = ")
        assert read_back(field, first) == read.inputs[field.name], shown
        if second and field.kind not in ("pitch", "module"):
            decimals = re.search(r"\.([0-9]+)[^0-9.]*$", second)
            half = Fraction(1, 2 * 10 ** (len(decimals[1]) if decimals else 0)) * step_of(field, second)
            assert abs(read_back(field, second) - read.inputs[field.name]) <= half, shown


def step_of(field, text):
    """What one of the last place's unit is worth in the base unit of the entry."""
    if field.kind == "angle":
        return Fraction(1, 3600) if "″" in text or "′" in text else Fraction(1)
    unit = text.partition(" ")[2]
    if field.kind == "length":
        return measures.MILLIMETRES[unit]
    return quantities.UNITS[field.kind].worth[unit]


def read_back(field, text):
    return read_entries(get_alone(field), {field.name: text}).inputs[field.name]


def get_alone(field):
    """A calculation that asks for this entry alone, without its limits: a shown figure is rounded."""
    bare = replace(field, low=None, high=None, optional=True, default=None)
    return replace(CALCULATIONS[0], inputs=(bare,))


# ---- limits ----------------------------------------------------------------------------------------------

LIMITS = [
    (one, field, name)
    for one in CALCULATIONS
    for field in one.inputs
    if field.kind in typed.BASE_UNITS
    for name in typed.edges_of(field)
]


def at(limits):
    ids = [f"{one.key}-{field.name}-{which}" for one, field, which in limits]
    return pytest.mark.parametrize(("calculation", "field", "which"), limits, ids=ids)


@at([one for one in LIMITS if one[0].key not in SLOW_KEYS])
def test_limit_when_stood_on_then_not_refused_for_it(calculation, field, which):
    at, _ = typed.edges_of(field)[which]
    _, said = worked_or_said(calculation, {**calculation.example, field.name: at}, "mm")
    message = said.get(field.name, "")
    assert "is too small" not in message
    assert "is too great" not in message


@at(LIMITS)
def test_limit_when_a_step_outside_then_refused_by_name_with_its_reason(calculation, field, which):
    _, outside = typed.edges_of(field)[which]
    _, said = worked_or_said(calculation, {**calculation.example, field.name: outside}, "mm")
    assert field.name in said
    if "too " in said[field.name] and field.reason:
        assert field.reason in said[field.name]


@at(LIMITS)
def test_limit_when_the_kernel_is_asked_outside_it_then_it_refuses_by_itself(calculation, field, which):
    inputs = read_entries(calculation, dict(calculation.example), unit="mm").inputs
    step = 1 if field.kind == "count" else Fraction(1, 10**6)
    value = field.low - step if which == "low" else field.high + step
    inputs[field.name] = int(value) if field.kind == "count" else value
    with pytest.raises(CalculationError) as refused:
        calculation.function(**inputs)
    assert getattr(refused.value, "field", field.name) in {one.name for one in calculation.inputs}


# ---- units -----------------------------------------------------------------------------------------------

WITH_LENGTHS = [one for one in QUICK_SUMS if {"length", "lengths"} & {field.kind for field in one.inputs}]


def near(one, two, path="results"):
    """Where two results are not the same, but for the last places of a float."""
    if isinstance(one, (int, float, Fraction)) and isinstance(two, (int, float, Fraction)):
        if not math.isclose(one, two, rel_tol=1e-9, abs_tol=1e-9):
            yield path, one, two
    elif isinstance(one, Mapping) and isinstance(two, Mapping):
        assert set(one) == set(two)
        for name in one:
            yield from near(one[name], two[name], f"{path}.{name}")
    elif isinstance(one, (list, tuple)) and isinstance(two, (list, tuple)) and len(one) == len(two):
        for place, parts in enumerate(zip(one, two, strict=True)):
            yield from near(*parts, f"{path}[{place}]")
    elif one != two:
        yield path, one, two


@pytest.mark.parametrize("calculation", WITH_LENGTHS, ids=lambda one: one.key)
@settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_lengths_when_typed_in_inches_or_in_millimetres_then_the_same_answer(calculation, data):
    entered = {name: text for name, text in data.draw(typed.entries(calculation)).items() if text}
    found = []
    for word, worth in ((" in", INCH), (" mm", Fraction(1))):
        again = dict(entered)
        for field in calculation.inputs:
            if field.kind in ("length", "lengths") and field.name in entered:
                sizes = [
                    measures.parse_length(size, "mm").base / worth for size in entered[field.name].split(",")
                ]
                again[field.name] = ", ".join(typed.text_of(size, word) for size in sizes)
        one, said = worked_or_said(calculation, again)
        if any("characters long" in text for text in said.values()):
            return  # A fraction of an inch that has no end to it is longer than an entry may be.
        found.append(sorted(said) if one is None else one.outcome.results)
    assert list(near(*found)) == []


# ---- figures as they are shown ---------------------------------------------------------------------------

fractions = st.fractions(-(10**6), 10**6, max_denominator=10**6)


@given(fractions, st.integers(0, 8))
def test_figure_when_written_to_its_places_and_read_then_within_half_a_place(value, places):
    half = Fraction(1, 2 * 10**places)
    for text in (fixed(value, places), decimal_text(value, places)):
        assert abs(measures.parse_number(text).base - value) <= half
        # Written again it is the same text: nothing is rounded twice.
        assert fixed(measures.parse_number(text).base, places) == fixed(value, places)


@given(st.fractions(-1000, 1000, max_denominator=128))
def test_fraction_when_written_and_read_then_exactly_the_same(value):
    assert measures.parse_number(mixed_text(value)).base == value


@given(st.fractions(0, 4000, max_denominator=10**6), st.integers(0, 6), UNITS)
def test_length_when_written_in_either_unit_and_read_then_within_half_a_place(mm, places, unit):
    half = Fraction(1, 2 * 10**places) * (INCH if unit == "inch" else 1)
    assert abs(measures.parse_length(in_or_mm(mm, unit, places), unit).base - mm) <= half


@given(st.fractions(0, 720, max_denominator=10**6), st.integers(0, 4))
def test_angle_when_written_in_parts_and_read_then_within_half_a_place_of_a_second(angle, places):
    half = Fraction(1, 2 * 10**places * 3600)
    assert abs(measures.parse_angle(dms_text(angle, places)).base - angle) <= half


# ---- what hangs together ---------------------------------------------------------------------------------


@given(
    st.fractions(Fraction(1), 500, max_denominator=20),
    st.sampled_from(["H", "h", "JS", "js", "F", "g", "K", "p", "P", "S"]),
    st.integers(1, 17),
)
def test_grade_when_it_is_larger_then_its_tolerance_is_no_smaller(nominal, letter, grade):
    side = "hole" if letter.isupper() else "shaft"
    widths = []
    for one in (grade, grade + 1):
        try:
            widths.append(fit(nominal=nominal, **{side: f"{letter}{one}"}).results[f"{side}_tolerance_um"])
        except CalculationError:
            return
    assert widths[0] < widths[1]


@given(st.fractions(Fraction(1, 4), Fraction(7), max_denominator=64), st.integers(1, 8))
def test_running_fit_when_its_class_is_higher_then_neither_play_nor_tolerance_is_smaller(inches, which):
    loose, tight = (inch_fit(nominal=inches * INCH, fit=f"RC{one}").results for one in (which + 1, which))
    for name in ("clearance_max_mm", "hole_tolerance_um", "shaft_tolerance_um"):
        assert loose[name] >= tight[name]


PAIRS = {
    "spur-gear": ("teeth", "mate_teeth", "centre_distance_mm"),
    "helical-gear": ("teeth", "mate_teeth", "centre_distance_mm"),
    "bevel-pair": ("teeth", "mate_teeth", "cone_distance_mm"),
}


@pytest.mark.parametrize("key", PAIRS)
@given(
    one=st.integers(12, 120),
    two=st.integers(12, 120),
    module=st.fractions(Fraction(1, 2), 10, max_denominator=8),
)
def test_pair_when_wheel_and_pinion_change_places_then_the_centres_stay(key, one, two, module):
    teeth, mate, distance = PAIRS[key]
    more = {"helical-gear": {"helix_angle": "20"}, "bevel-pair": {"face_width": "2 mm"}}.get(key, {})
    found = [
        runs.run(get(key), {teeth: str(a), mate: str(b), "module": f"{module}", **more}).outcome.results
        for a, b in ((one, two), (two, one))
    ]
    assert found[0][distance] == pytest.approx(found[1][distance], rel=1e-12)
    assert found[0][distance] > 0


@given(st.integers(2, 400), st.sampled_from([40, 60, 72, 80, 90]), st.sampled_from([0, 1]))
def test_setting_when_plain_then_turns_and_holes_are_exactly_the_ratio_over_the_divisions(count, ratio, way):
    circles = ["15,16,17,18,19,20 / 21,23,27,29,31,33", "24,25,28,30,34 / 46,47,49,51,53,54"][way]
    try:
        results = runs.run(
            get("indexing"), {"divisions": str(count), "ratio": str(ratio), "circles": circles}
        ).outcome.results
    except NoSolution:
        return
    for row in results["plain"]:
        assert row["turns"] + Fraction(row["holes"], row["circle"]) == Fraction(ratio, count)
        assert 0 <= row["holes"] < row["circle"]
