"""Limits and readings: how they are read, and in or out judged exactly.

The bore of 1.1250 +0.0008/-0 with 1.1254, 1.1256 and 1.1262 measured, and 28.60 typed without a unit, are
the worked example that the inspection record was asked for with. That an inch is 25.4 mm exactly is the
international definition (Weights and measures: NIST Special Publication 811, app. B.8), so 1.1258 in is
28.59532 mm. A size on its limit is in: ISO 286-1, 3.2.8, the limits are permissible sizes.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buildlog.sizes_made import judged, read_limit, read_nominal, read_reading, shown
from calc.measures import EntryError

INCH = Fraction(254, 10)
BORE = read_nominal("1.1250 in", inches=True)
UPPER, LOWER = read_limit("+0.0008", BORE), read_limit("-0", BORE)


def bore(text):
    """A reading of the bore, held to its limits."""
    read = read_reading(text, unit="in", about=BORE.base)
    return judged(read.base, lower=LOWER, upper=UPPER, unit="in")


@pytest.mark.parametrize(
    ("text", "is_in", "words"),
    [
        ("1.1254", True, "within limits"),
        ("1.1256", True, "within limits"),
        ("1.1250", True, "within limits"),
        ("1.1258", True, "within limits"),
        ("1.1262", False, "out: 0.0004 in over the upper limit"),
        ("1.1259", False, "out: 0.0001 in over the upper limit"),
        ("1.12580001", False, "out: less than 0.00001 in over the upper limit"),
        ("1.1249", False, "out: 0.0001 in under the lower limit"),
        # 28.59532 mm is the upper limit, and 28.575 mm the lower one.
        ("28.5953 mm", True, "within limits"),
        ("28.59532 mm", True, "within limits"),
        ("28.60 mm", False, "out: 0.00018 in over the upper limit"),
        ("28.5749 mm", False, "out: less than 0.00001 in under the lower limit"),
        ("1 1/8", True, "within limits"),
        ("1125.4 thou", True, "within limits"),
    ],
)
def test_reading_when_held_to_its_limits_then_judged_exactly(text, is_in, words):
    found = bore(text)
    assert (found.is_in, found.words) == (is_in, words)
    assert found.mark == ("ok" if is_in else "no")
    assert found.is_out is not is_in


@pytest.mark.parametrize("text", ["28.60", "28.575", "0.1125", "112.5"])
def test_reading_when_bare_and_far_from_the_size_then_asked_which_unit(text):
    with pytest.raises(EntryError) as asked:
        bore(text)
    assert f"Is {text} in inches or in millimetres?" in asked.value.message
    assert f"{text} in or {text} mm" in asked.value.message


def test_reading_when_far_from_the_size_with_its_unit_then_taken_as_it_is():
    assert bore("2.9 in").is_out
    assert bore("28.59 mm").is_in


@pytest.mark.parametrize("text", ["-1.1254", "1.1254 inchs", "1,1254", "about 1.1", "", "2000000 in"])
def test_reading_when_it_cannot_be_one_then_refused_with_what_to_write(text):
    with pytest.raises(EntryError) as refused:
        bore(text)
    assert refused.value.message


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("+0.0008", Fraction("1.1258") * INCH),
        ("+0.8 thou", Fraction("1.1258") * INCH),
        ("+0.02 mm", Fraction("28.595")),
        ("-0", Fraction("1.1250") * INCH),
        ("0", Fraction("1.1250") * INCH),
        ("−0.001", Fraction("1.1240") * INCH),
        ("1.1258", Fraction("1.1258") * INCH),
        ("28.6 mm", Fraction("28.6")),
    ],
)
def test_limit_when_read_then_a_deviation_with_a_sign_and_a_size_without(text, millimetres):
    assert read_limit(text, BORE) == millimetres


@pytest.mark.parametrize("text", ["0.0008", "0.8 thou", "28.6"])
def test_limit_when_it_could_be_meant_either_way_then_asked(text):
    with pytest.raises(EntryError, match="more than the size, or less"):
        read_limit(text, BORE)


def test_limits_when_there_is_one_then_only_that_is_held_to():
    assert judged(Fraction(9), lower=Fraction(1), upper=None, unit="mm").is_in
    assert judged(Fraction(9), lower=None, upper=Fraction(8), unit="mm").words.startswith("out: 1 mm over")
    none = judged(Fraction(9), lower=None, upper=None, unit="mm")
    assert (none.is_in, none.is_out, none.mark) == (None, False, "")


def test_run_out_when_nominal_is_nought_then_a_limit_needs_no_sign():
    true = read_nominal("0 in", inches=True)
    assert read_limit("0.0015", true) == Fraction("0.0015") * INCH


@pytest.mark.parametrize("text", ["-1 in", "5000 in", "S-016", ""])
def test_nominal_when_it_cannot_be_one_then_refused(text):
    with pytest.raises(EntryError):
        read_nominal(text, inches=True)


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("1.1254", "in", "1.1254 in"),
        ("28.60 mm", "mm", "28.60 mm"),
        ('1 1/8"', "in", '1 1/8"'),
        ("12", "um", "12 µm"),
    ],
)
def test_figure_when_shown_then_with_one_unit(typed, unit, said):
    assert shown(typed, unit) == said


@given(st.decimals(0, 50, places=6), st.decimals(0, 50, places=6), st.decimals(0, 50, places=6))
def test_judgement_then_the_same_in_inches_and_in_millimetres(value, one, other):
    lower, upper = sorted((Fraction(one), Fraction(other)))
    inches = judged(Fraction(value) * INCH, lower=lower * INCH, upper=upper * INCH, unit="in")
    assert inches.is_in is (lower <= Fraction(value) <= upper)
    assert inches.is_in is judged(Fraction(value), lower=lower, upper=upper, unit="mm").is_in
