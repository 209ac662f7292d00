"""Entries as a builder writes them, what is echoed back, and what each slip is told."""

from fractions import Fraction

import pytest

from calc.measures import (
    EntryError,
    parse_angle,
    parse_circles,
    parse_count,
    parse_counts,
    parse_length,
    parse_module,
    parse_number,
    parse_pitch,
    parse_size,
    parse_symbol,
)

INCH = Fraction(254, 10)


@pytest.mark.parametrize(
    ("text", "echo"),
    [
        ("1.1/4", "1 1/4 in = 31.75 mm"),
        ("1 3/16", "1 3/16 in = 30.1625 mm"),
        ('1-3/16"', "1 3/16 in = 30.1625 mm"),
        ("1.1875in", "1.1875 in = 30.1625 mm"),
        ("1187.5 thou", "1187.5 thou = 30.1625 mm"),
        ('0.1875"', "0.1875 in = 4.7625 mm"),
        ("0.250", "0.250 in = 6.35 mm"),
        ('⅜"', "3/8 in = 9.525 mm"),
        ("1½ in", "1 1/2 in = 38.1 mm"),
        ("1⁄2 inch", "1/2 in = 12.7 mm"),
        ("30 mm", "30 mm = 1.1811 in"),
        ("30mm", "30 mm = 1.1811 in"),
        ("25 µm", "25 µm = 0.98 thou"),
        ("25 micron", "25 µm = 0.98 thou"),
        ("105 thou", "105 thou = 2.667 mm"),
        ("-1/16 in", "-1/16 in = -1.5875 mm"),
        ("5' 6 1/2\"", "5 ft 6 1/2 in = 1689.1 mm"),
        ("20 ft 6 in", "20 ft 6 in = 6248.4 mm"),
        ("1 3/16”", "1 3/16 in = 30.1625 mm"),
        ("1\u00a03/16 in.", "1 3/16 in = 30.1625 mm"),
    ],
)
def test_length_when_written_as_a_builder_does_then_it_is_read_exactly_and_echoed(text, echo):
    assert parse_length(text, "inch").echo() == echo


def test_length_when_read_then_it_keeps_the_text_and_the_exact_value():
    measure = parse_length(" 1.1/4 ", "inch")
    assert (measure.as_entered, measure.value, measure.unit, measure.base) == (
        " 1.1/4 ", Fraction(5, 4), "in", Fraction(127, 4),
    )  # fmt: skip


def test_length_when_sorted_then_by_true_size():
    entered = ["1 3/16", "30 mm", '0.1875"', "25 µm", "1 ft"]
    ordered = sorted(entered, key=lambda text: parse_length(text, "inch").base)
    assert ordered == ["25 µm", '0.1875"', "30 mm", "1 3/16", "1 ft"]


@pytest.mark.parametrize(("unit", "base"), [("inch", 30 * INCH), ("mm", Fraction(30))])
def test_bare_number_when_the_unit_is_known_then_it_takes_it(unit, base):
    assert parse_length("30", unit).base == base


def test_bare_number_when_no_unit_is_known_then_both_readings_are_offered():
    with pytest.raises(EntryError, match=r"Write 30 in or 30 mm\."):
        parse_length("30", None)


SLIPS = {
    "0,5 mm": "write 0.5 mm.",
    "1,000 mm": "write 1.000 mm or 1000 mm.",
    "1 3/16 mmm": "I can read 1 3/16, but not “mmm”. Write the unit as in, mm or thou.",
    "2BA": "I can read 2, but not “BA”",
    "9**9**9": "is a sum or a power",
    "10^400": "is a sum or a power",
    "1e400": "is a sum or a power",
    "2*3": "is a sum or a power",
    "": "Nothing is entered",
    "   ": "Nothing is entered",
    "\u202e30 mm": "hidden character in it (right-to-left override)",
    "30\u200f mm": "hidden character in it (right-to-left mark)",
    "30\u200b mm": "hidden character in it (zero width space)",
    "1" * 41: "41 characters long, and 40 are the most",
    "1 19/16": "write 2 3/16 if that is meant",
    "3/0": "nothing can be divided by nought",
    "1.5.2 mm": "I can read 1.5, but not “.2 mm” after it",
    "30 M": "but not “M”",
    "1/2/3": "I can read 1/2, but not “/3”",
    "abc": "I cannot read “abc”",
    "nan": "I cannot read “nan”",
    "٣ mm": "I cannot read",
    "5 ft 13 in": "13 in is a foot or more: write 73 in",
    "5' 6 mm": "I can read 5 ft 6, but not “mm”",
}


@pytest.mark.parametrize(("text", "said"), SLIPS.items(), ids=[ascii(text)[:24] for text in SLIPS])
def test_length_when_it_cannot_be_read_then_the_message_says_what_and_what_to_write(text, said):
    with pytest.raises(EntryError) as refused:
        parse_length(text, "inch")
    assert said in refused.value.message


@pytest.mark.parametrize(
    ("text", "degrees", "echo"),
    [
        ("45", Fraction(45), "45°"),
        ("45°", Fraction(45), "45°"),
        ("14 1/2 deg", Fraction(29, 2), "14 1/2° = 14° 30′"),
        ("4° 17' 8.6\"", Fraction(154286, 36000), "4° 17′ 8.6″ = 4.285722°"),
        ("4° 17′ 8.6″", Fraction(154286, 36000), "4° 17′ 8.6″ = 4.285722°"),
        ("4 deg 17 min 8.6 sec", Fraction(154286, 36000), "4° 17′ 8.6″ = 4.285722°"),
        ("54'", Fraction(9, 10), "54′ = 0.9°"),
        ("24 min", Fraction(2, 5), "24′ = 0.4°"),
        ("11½ degrees", Fraction(23, 2), "11 1/2° = 11° 30′"),
        ("-30", Fraction(-30), "-30°"),
    ],
)
def test_angle_when_written_as_a_builder_does_then_it_is_read_exactly_and_echoed(text, degrees, echo):
    measure = parse_angle(text)
    assert (measure.base, measure.echo()) == (degrees, echo)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("45 rad", "I can read 45, but not “rad”"),
        ("4 17", "I can read 4, but not “17”"),
        ("4° 75'", "keep minutes under 60"),
        ("4.5° 10'", "Only the last part"),
        ("17' 4°", "Degrees, then minutes, then seconds"),
        ("4° -17'", "a sign in the middle"),
        ("4° 17", "but not which part of the angle"),
        ("10^2", "is a sum or a power"),
        ("1,5", "write 1.5"),
        ("", "Nothing is entered"),
    ],
)
def test_angle_when_it_cannot_be_read_then_the_message_says_why(text, said):
    with pytest.raises(EntryError) as refused:
        parse_angle(text)
    assert said in refused.value.message


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("84.5", "84.5 is no whole number"),
        ("84 teeth", "I can read 84, but not “teeth”"),
        ("1,000", "write 1000"),
        ("1 000", "write 1000"),
        ("9**9", "is a sum or a power"),
        ("٣", "I cannot read"),
        ("", "Nothing is entered"),
    ],
)
def test_count_when_it_is_no_whole_number_then_the_message_says_why(text, said):
    with pytest.raises(EntryError) as refused:
        parse_count(text)
    assert said in refused.value.message


def test_circles_when_faces_are_parted_by_strokes_then_each_is_a_face():
    assert parse_circles("15,16, 17/21,23 /\n 37") == ((15, 16, 17), (21, 23), (37,))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("15,,16", "a comma with nothing beside it"),
        ("15,16,", "a comma with nothing beside it"),
        ("/15", "a stroke with no circles beside it"),
        ("15-20", "I cannot read “15-20”"),
        ("15 16", "I cannot read “15 16”"),
        ("15,x", "I cannot read “x”"),
        ("1," * 600, "1200 characters long"),
        ("", "Nothing is entered"),
    ],
)
def test_circles_when_they_cannot_be_read_then_the_message_says_why(text, said):
    with pytest.raises(EntryError) as refused:
        parse_circles(text)
    assert said in refused.value.message


def test_counts_when_one_is_written_twice_then_it_is_there_twice():
    assert parse_counts("24,24, 28") == (24, 24, 28)


@pytest.mark.parametrize(
    ("text", "echo", "words"),
    [
        ("7.375 in OD", "7.375 in = 187.325 mm", "OD"),
        ("1 1/4 dia", "1 1/4 in = 31.75 mm", "dia"),
        ("45 mm bore", "45 mm = 1.7717 in", "bore"),
        ("5/8 in long", "5/8 in = 15.875 mm", "long"),
        ('½" A/F', "1/2 in = 12.7 mm", "A/F"),
        ("1 1/2 x 1/2 flat", "1 1/2 in = 38.1 mm", "x 1/2 flat"),
        ("1/4 BSF x 1 in", "1/4 in = 6.35 mm", "BSF x 1 in"),
        ("⌀ 25 mm", "25 mm = 0.9843 in", "dia"),
        ("5' 6\" long", "5 ft 6 in = 1676.4 mm", "long"),
        ("1 1/4", "1 1/4 in = 31.75 mm", ""),
    ],
)
def test_size_when_it_begins_with_a_length_then_it_is_read_and_the_words_kept(text, echo, words):
    size = parse_size(text, "inch")
    assert (size.measure.echo(), size.words, size.as_entered) == (echo, words, text)


@pytest.mark.parametrize("text", ["36 T, 8 DP", "2 BA", "16 swg", "M6 x 20", "see sheet 4", "12 off"])
def test_size_when_it_is_no_length_then_the_words_are_kept_alone(text):
    size = parse_size(text, "inch")
    assert (size.measure, size.words) == (None, text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1 3/16 mmm", "I can read 1 3/16, but not “mmm”"),
        ("0,5 mm", "write 0.5 mm"),
        ("-3 in", "must be more than nought"),
        ("9**9**9", "I can read 9, but not “**9**9”"),
        ("1 foo", "but not “foo”"),
        ("\u202e1 in", "hidden character"),
        ("", "Nothing is entered"),
    ],
)
def test_size_when_its_figure_cannot_be_read_then_the_message_says_why(text, said):
    with pytest.raises(EntryError) as refused:
        parse_size(text, "inch")
    assert said in refused.value.message


# ---- pitch, module, bare figures, symbols ----------------------------------------------------------------
# A diametral pitch is teeth to the inch of pitch diameter and a module millimetres of it to a tooth, so
# that the one times the other is 25.4, the millimetres of an inch by its definition of 1959.


@pytest.mark.parametrize(
    ("text", "echo"),
    [
        ("8 DP", "8 DP = module 3.175 mm"),
        ("8", "8 DP = module 3.175 mm"),
        ("DP 6", "6 DP = module 4.2333 mm"),
        ("10 d.p.", "10 DP = module 2.54 mm"),
        ("4 1/2dp", "4 1/2 DP = module 5.6444 mm"),
    ],
)
def test_pitch_when_written_as_a_builder_does_then_it_is_to_the_inch(text, echo):
    assert parse_pitch(text).echo() == echo


@pytest.mark.parametrize(
    ("text", "echo"),
    [
        ("2 MOD", "2 MOD = 12.7 DP"),
        ("2", "2 MOD = 12.7 DP"),
        ("2.5 mm", "2.5 MOD = 10.16 DP"),
        ("module 0.5", "0.5 MOD = 50.8 DP"),
        ("1 1/4 mod.", "1 1/4 MOD = 20.32 DP"),
    ],
)
def test_module_when_written_as_a_builder_does_then_it_is_in_millimetres(text, echo):
    assert parse_module(text).echo() == echo


def test_pitch_and_module_when_read_then_their_product_is_an_inch():
    assert parse_pitch("8 DP").base * parse_module("3.175").base == INCH


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (parse_pitch, "2 MOD", "2 MOD is a module: enter it as the module"),
        (parse_pitch, "2 mm", "2 mm is a module: enter it as the module"),
        (parse_pitch, "1/8 in", "1/8 in is a length, and a diametral pitch is teeth to the inch"),
        (parse_pitch, "8 teeth", "I can read 8, but not “teeth”. Write a diametral pitch such as 8 DP"),
        (parse_pitch, "0", "it must be more than nought"),
        (parse_pitch, "-8 DP", "it must be more than nought"),
        (parse_pitch, "8,5", "write 8.5"),
        (parse_module, "8 DP", "8 DP is a diametral pitch: enter it as that"),
        (parse_module, "1/8 in", "this is 1/8 in: write 3.175 mm if that is meant"),
        (parse_module, "M2", "Write a module such as 2 MOD"),
        (parse_number, "0.2 mm", "I can read 0.2, but not “mm”: no unit goes with it here"),
        (parse_number, "2^3", "only plain figures are read"),
        (parse_symbol, "H7/p6", "has “/” in it. Write letters and figures only"),
        (parse_symbol, "", "Nothing is entered"),
    ],
)
def test_entry_when_it_is_of_another_kind_then_the_reading_that_is_possible_is_named(read, text, said):
    with pytest.raises(EntryError) as refused:
        read(text)
    assert said in refused.value.message


@pytest.mark.parametrize(
    ("text", "value"), [("-1/4", Fraction(-1, 4)), ("−0.3", Fraction(-3, 10)), ("0", 0), ("1 1/2", 1.5)]
)
def test_number_when_bare_then_it_may_be_below_nought(text, value):
    assert parse_number(text).base == value


@pytest.mark.parametrize(("text", "symbol"), [("H7", "H7"), ("js6", "js6"), (" p 6 ", "p6"), ("JS7", "JS7")])
def test_symbol_when_read_then_its_case_is_kept(text, symbol):
    assert parse_symbol(text) == symbol
