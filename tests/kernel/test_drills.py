"""Drills: the table, names, sizes, those beside a size."""

import csv
from fractions import Fraction

import pytest

from calc.kernel import tables
from calc.kernel.drills import Drill, beside, drill_of, in_order, name_of, nearest, size_text, stock, table
from calc.kernel.errors import NotInTable, OutOfRange

INCH = Fraction(254, 10)


def printed():
    lines = (tables.SOURCES / "drills" / "drills.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_table_when_held_to_the_file_read_then_each_agrees_within_its_rounding():
    """The data file of a design library rounds many numbers to three places; letters are exact there."""
    rows = [row for row in printed() if row["inch_as_read"]]
    assert len(rows) >= 80 + 26
    for row in rows:
        near = Fraction(1, 2000) if row["kind"] == "number" else 0
        assert abs(Fraction(row["inch"]) - Fraction(row["inch_as_read"])) <= near, row


def test_table_when_read_then_every_number_letter_and_64th_is_there_once():
    names = [drill.name for _, drill in table()]
    assert len(set(names)) == len(names)
    assert {f"#{n}" for n in range(1, 81)} | set("ABCDEFGHIJKLMNOPQRSTUVWXYZ") <= set(names)
    fractions = [drill.mm / INCH for kind, drill in table() if kind == "fraction"]
    assert fractions == [Fraction(n, 64) for n in range(1, 129)]
    for kind, sign in (("number", -1), ("letter", 1), ("metric", 1)):
        sizes = [drill.mm * sign for one, drill in table() if one == kind]
        assert sizes == sorted(set(sizes)), kind
    for row in printed():
        assert abs(drill_of("drill", row["name"]).mm / INCH - Fraction(row["inch"])) < Fraction(1, 10**5)


def test_stock_when_two_names_are_one_size_then_one_row():
    sizes = [drill.mm for drill in stock()]
    assert sizes == sorted(set(sizes))
    assert "1/4 or E" in [drill.name for drill in stock()]


@pytest.mark.parametrize(
    ("name", "mm"),
    [("#24", "3.8608"), ("Q", "8.4328"), ("7/32", "5.55625"), ("1 1/16", "26.9875"), ("5.1 mm", "5.1"),
     ("0.2055 in", "5.2197"), ("1", "25.4"), ("5.13 mm", "5.13")],
)  # fmt: skip
def test_drill_when_named_then_its_size(name, mm):
    assert drill_of("drill", name) == Drill(name, Fraction(mm))


@pytest.mark.parametrize("name", ["#81", "#0", "QQ", "", "1/0", "5 cm", "-1 mm", "#", "1/00", "5.1", "É"])
def test_drill_when_there_is_none_then_refused_by_name(name):
    with pytest.raises(NotInTable) as refused:
        drill_of("drills_owned", name)
    assert refused.value.field == "drills_owned"


@pytest.mark.parametrize(
    ("size", "is_one"), [("0.1", True), ("80", True), ("0.0999", False), ("80.001", False)]
)
def test_drill_when_at_the_edge_then_one_and_outside_none(size, is_one):
    if is_one:
        assert drill_of("drill", f"{size} mm").mm == Fraction(size)
        return
    with pytest.raises(OutOfRange) as refused:
        drill_of("drill", f"{size} mm")
    assert refused.value.field == "drill"


@pytest.mark.parametrize(
    ("mm", "inches", "name"),
    [
        ("5.55625", True, "7/32"),
        ("5.55625", False, "5.55625 mm"),
        ("5.08", True, "0.2 in"),
        ("3", False, "3 mm"),
    ],
)
def test_name_when_made_from_a_size_then_it_is_read_back(mm, inches, name):
    assert name_of(Fraction(mm), inches=inches) == name
    assert drill_of("drill", name).mm == Fraction(mm)


def test_name_when_the_size_has_no_end_then_still_exact():
    third = INCH / 3
    assert drill_of("drill", name_of(third, inches=True)).mm == third


def test_words_when_a_size_is_told_then_in_both_units():
    assert size_text(drill_of("drill", "#24")) == "#24, 0.1520 in (3.861 mm)"
    assert size_text(drill_of("drill", "5.1 mm")) == "5.1 mm (0.2008 in)"
    assert size_text(drill_of("drill", "0.2 in")) == "0.2 in (5.08 mm)"


def test_beside_when_a_size_is_between_then_the_nearest_first_and_its_own_with_the_smaller():
    rack = in_order([Drill(str(n), Fraction(n)) for n in (1, 2, 3, 4, 5)])
    smaller, larger = beside(rack, Fraction(3), 2)
    assert ([one.name for one in smaller], [one.name for one in larger]) == (["3", "2"], ["4", "5"])
    smaller, larger = beside(rack, Fraction(1, 2), 2)
    assert (smaller, [one.name for one in larger]) == ([], ["1", "2"])
    assert nearest(rack, Fraction(5, 2)).name == "2"
