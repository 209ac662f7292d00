"""What must hold of every entry read: exact, the same in any way of writing it, and never a crash."""

from fractions import Fraction

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calc.kernel.wording import decimal_text, dms_text, mixed_text
from calc.measures import (
    LONGEST,
    MILLIMETRES,
    EntryError,
    Measure,
    parse_angle,
    parse_circles,
    parse_count,
    parse_counts,
    parse_length,
    parse_size,
)
from tests.properties import strategies as entries

UNITS = ["in", "thou", "mm", "cm", "m", "um", "ft"]
PINT_NAMES = {"thou": "thou", "um": "micrometer", "in": "inch", "ft": "foot"}


@given(entries.sizes, st.sampled_from(UNITS))
def test_fraction_when_written_and_read_then_it_is_exactly_the_same(value, unit):
    measure = parse_length(f"{mixed_text(value)} {unit}", "inch")
    assert (measure.value, measure.unit) == (value, unit)
    assert parse_length(measure.typed(), "mm").base == measure.base


@given(entries.decimals, st.sampled_from(UNITS))
def test_decimal_when_written_and_read_then_it_is_exactly_the_same(value, unit):
    measure = parse_length(f"{value}{unit}", "inch")
    assert measure.value == Fraction(value)
    assert parse_length(measure.typed(), None).base == measure.base


@given(entries.sizes)
def test_mixed_when_written_in_any_of_the_usual_ways_then_it_is_the_same(value):
    whole, part = divmod(value, 1)
    if not whole or not part:
        return
    ways = [
        f"{whole}{join}{part.numerator}/{part.denominator}{unit}"
        for join in (" ", "-", ".")
        for unit in ('"', " in", "in.")
    ]
    assert {parse_length(way, "mm").base for way in ways} == {value * Fraction(254, 10)}


@given(entries.sizes, st.sampled_from(UNITS))
def test_base_when_asked_of_another_library_then_it_agrees_exactly(value, unit):
    registry = pint_registry()
    other = registry.Quantity(value, PINT_NAMES.get(unit, unit)).to("millimeter").magnitude
    assert parse_length(f"{mixed_text(value)} {unit}", None).base == other


_REGISTRY = []


def pint_registry():
    if not _REGISTRY:
        _REGISTRY.append(pint.UnitRegistry(non_int_type=Fraction))
    return _REGISTRY[0]


@given(st.fractions(min_value=0, max_value=360, max_denominator=36_000))
def test_angle_when_shown_in_parts_and_read_then_it_is_the_same_to_the_parts_shown(degrees):
    shown = dms_text(degrees, 4)
    assert abs(parse_angle(shown).base - degrees) <= Fraction(1, 2 * 10**4 * 3600)


@given(st.integers(0, 359), st.integers(0, 59), st.integers(0, 59))
def test_angle_when_entered_in_parts_then_it_is_exactly_their_sum(degrees, minutes, seconds):
    text = f"{degrees}° {minutes}' {seconds}\""
    assert parse_angle(text).base == degrees + Fraction(minutes, 60) + Fraction(seconds, 3600)


@given(st.integers(-(10**12), 10**12))
def test_count_when_written_and_read_then_it_is_the_same(number):
    assert parse_count(f" {number} ") == number


@given(st.fractions(max_denominator=10**6, min_value=-(10**6), max_value=10**6), st.integers(1, 6))
def test_decimal_text_when_rounded_then_it_is_within_half_a_place(value, places):
    assert abs(Fraction(decimal_text(value, places)) - value) <= Fraction(1, 2 * 10**places)


@given(st.text(max_size=60))
@example("9**9**9**9")
@example("1e999999999")
@example("\u202e1 in")
@example("1" * 41)
@example("½/½")
@example("1/0")
@example("5' 0/0")
@example("٣ mm")
def test_anything_when_read_then_it_is_an_exact_measure_or_a_plain_refusal(text):
    readers = [lambda t: parse_length(t, "inch"), parse_angle, parse_count, parse_counts, parse_circles]
    for read in [*readers, lambda t: parse_size(t, "mm")]:
        value, message = read_or_refusal(read, text)
        if message is not None:
            assert message.endswith((".", "”.", '".'))
            assert len(message) < 260
        elif isinstance(value, Measure):
            assert isinstance(value.value, Fraction)
            assert len(text) <= LONGEST
            assert value.echo()


def read_or_refusal(read, text):
    try:
        return read(text), None
    except EntryError as error:
        return None, error.message


@given(st.text(alphabet="0123456789 /.-'\"inmft½⅜°,", max_size=20))
def test_near_misses_when_read_then_a_measure_read_twice_is_the_same(text):
    try:
        measure = parse_length(text, "inch")
    except EntryError:
        return
    assert parse_length(measure.typed(), None).base == measure.base
    assert measure.base == measure.value * MILLIMETRES[measure.unit]


@pytest.mark.parametrize("unit", UNITS)
def test_same_size_when_entered_in_another_unit_then_its_base_is_the_same(unit):
    one = Fraction(127, 5) / MILLIMETRES[unit]
    assert parse_length(f"{mixed_text(one)} {unit}", None).base == parse_length("1 in", None).base
