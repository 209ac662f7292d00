"""Threads and drills as typed: one reading, an echo, and what is refused."""

import pytest

from calc.entries import EntryErrors, read_entries
from calc.registry import get


def tapping(unit="inch", **entered):
    return read_entries(get("tapping-drill"), {"thread": "M6"} | entered, unit=unit)


def rack(text, unit="inch"):
    return read_entries(get("bore-sequence"), {"finished_bore": "1/2 in", "drills_owned": text}, unit=unit)


@pytest.mark.parametrize(
    ("typed", "name", "echo"),
    [
        ("1/4-26 bsf", "1/4 BSF", "1/4 BSF, 26 threads to the inch"),
        ("2 BSW", "2 BSW", "2 BSW, 4 1/2 threads to the inch"),
        ("2ba", "2 BA", "2 BA, pitch 0.81 mm"),
        ("M6", "M6x1", "M6x1, pitch 1 mm"),
    ],
)
def test_thread_when_typed_then_its_one_name_and_its_pitch(typed, name, echo):
    read = read_entries(get("thread"), {"thread": typed})
    assert read.inputs == {"thread": name}
    assert read.readings == {"thread": echo}


@pytest.mark.parametrize(
    ("typed", "unit", "name"),
    [
        ("#24", "inch", "#24"), ("no 24", "inch", "#24"), ("No.7", "mm", "#7"), ("Number 80", "inch", "#80"),
        ("Q", "inch", "Q"), ("q", "mm", "Q"), ("letter F", "inch", "F"), ("F drill", "inch", "F"),
        ("7/32", "inch", "7/32"), ("7/32 in", "mm", "7/32"), ("0.21875", "inch", "7/32"),
        ("5.1", "mm", "5.1 mm"), ("5.10 mm", "inch", "5.1 mm"), ("212 thou", "inch", "0.212 in"),
        ("1 1/16", "inch", "1 1/16"), ("1/3 in", "inch", "1/3 in"),
    ],
)  # fmt: skip
def test_drill_when_typed_then_its_one_name(typed, unit, name):
    assert tapping(unit, drill=typed).inputs["drill"] == name


def test_drill_when_read_then_the_echo_has_both_units():
    assert tapping(drill="#24").readings["drill"] == "#24, 0.1520 in (3.861 mm)"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("24", "#24 or 24 mm"), ("5.1", "5.1 mm"), ("#99", "no drill #99"), ("#0", "no drill #0"),
        ("QQ", "read"),
        ("5,1 mm", "comma"), ("0 mm", "no drill"), ("-5 mm", "no drill"), ("0.01 mm", "no size of a drill"),
        ("81 mm", "no drill"), ("5 furlongs", "furlongs"),
    ],
)  # fmt: skip
def test_drill_when_it_cannot_be_one_then_refused_and_says_what_was_meant(typed, says):
    with pytest.raises(EntryErrors) as wrong:
        tapping(drill=typed)
    assert says in wrong.value.messages["drill"]


def test_thread_when_it_has_two_readings_then_the_message_stands_at_the_entry():
    with pytest.raises(EntryErrors) as wrong:
        read_entries(get("thread"), {"thread": "1/4 ME"})
    assert "1/4x40 ME or 1/4x32 ME" in wrong.value.messages["thread"]


@pytest.mark.parametrize(
    ("typed", "unit", "names"),
    [
        ("1/4, 3/8", "inch", ["1/4", "3/8"]),
        ("5, 5.5", "mm", ["5 mm", "5.5 mm"]),
        ("#1 to #3", "inch", ["#1", "#2", "#3"]),
        ("A to C, Q", "inch", ["A", "B", "C", "Q"]),
        ("1/16 to 1/8 in", "mm", ["1/16", "5/64", "3/32", "7/64", "1/8"]),
        ("1/16 to 1/4 by 1/16", "inch", ["1/16", "1/8", "3/16", "1/4"]),
        ("1 to 2 mm by 0.25", "inch", ["1 mm", "1.25 mm", "1.5 mm", "1.75 mm", "2 mm"]),
        ("2 mm to 1.9 mm", "inch", ["1.9 mm", "1.95 mm", "2 mm"]),
        ("1/4, 1/4 in, 0.25", "inch", ["1/4"]),
    ],
)
def test_drills_when_listed_and_in_runs_then_each_once(typed, unit, names):
    assert list(rack(typed, unit).inputs["drills_owned"]) == names


def test_drills_when_read_then_the_echo_counts_them():
    assert rack("#1 to #60").readings["drills_owned"] == "60 drills, #60 to #1"
    assert rack("1/4").readings["drills_owned"] == "1 drill, 1/4, 0.2500 in (6.35 mm)"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("1/4,", "comma with nothing"), ("#1 to 1/4", "two kinds"), ("#1 to #60 by 2", "without “by”"),
        ("1 to 2 mm by 0", "no step"), ("1 to 60 mm by 0.01", "no step"), ("#1 to", "read"),
        ("#99", "no drill"),
        ("1/4" + ", 1/4" * 400, "characters long"),
    ],
)  # fmt: skip
def test_drills_when_they_cannot_be_read_then_refused_by_name(typed, says):
    with pytest.raises(EntryErrors) as wrong:
        rack(typed)
    assert says in wrong.value.messages["drills_owned"]


def test_drills_when_there_are_too_many_then_refused():
    with pytest.raises(EntryErrors) as wrong:
        rack("0.3 to 60 mm by 0.1, 1/64 to 2 in, #1 to #80")
    assert "more than 600" in wrong.value.messages["drills_owned"]
