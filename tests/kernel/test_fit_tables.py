"""The tables of ISO 286: against the formulas they were made from, against each other, and their origins."""

import csv
from fractions import Fraction
from itertools import pairwise

import pytest

from calc.kernel import tables
from calc.kernel.errors import CalculationError, OutOfRange
from calc.kernel.fit_symbols import GRADES, LETTERS, Symbol
from calc.kernel.fit_tables import grades_defined
from calc.kernel.fit_zones import zone
from tests.oracles import deviation_formula, it_formula


def read(name):
    path = tables.SOURCES / "iso286" / f"{name}.csv"
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


GRADE_ROWS, SHAFTS, HOLES, LARGE = map(
    read, ("it_grades", "shaft_deviations", "hole_deviations", "deviations_over_500")
)
TABLES = {
    "it_grades": GRADE_ROWS,
    "shaft_deviations": SHAFTS,
    "hole_deviations": HOLES,
    "deviations_over_500": LARGE,
}


def span(row):
    return Fraction(row["over_mm"]), Fraction(row["upto_mm"])


def main_row(row):
    """The row of grades whose range holds the row's."""
    return next(one for one in GRADE_ROWS if span(one)[0] <= span(row)[0] < span(one)[1])


# ---- whole and in order ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "rows", "ends"),
    [
        ("it_grades", 21, (0, 3150)),
        ("shaft_deviations", 25, (0, 500)),
        ("hole_deviations", 25, (0, 500)),
        ("deviations_over_500", 16, (500, 3150)),
    ],
)
def test_ranges_when_followed_then_each_begins_where_the_last_ended(name, rows, ends):
    spans = [span(row) for row in TABLES[name]]
    assert len(spans) == rows
    assert (spans[0][0], spans[-1][1]) == ends
    assert all(before[1] == after[0] for before, after in pairwise(spans))


def test_grades_when_followed_along_and_down_then_they_never_fall():
    for row in GRADE_ROWS:
        along = [Fraction(row[f"IT{grade}"]) for grade in GRADES if row[f"IT{grade}"]]
        assert along == sorted(set(along))
    for grade in GRADES:
        down = [Fraction(row[f"IT{grade}"]) for row in GRADE_ROWS if row[f"IT{grade}"]]
        assert down == sorted(down)


def test_deviations_when_followed_along_a_row_then_from_most_clearance_to_most_interference():
    letters = [one for one in LETTERS if one not in ("js", "j", "k")]
    for rows in (SHAFTS, LARGE):
        for row in rows:
            along = [Fraction(row[one]) for one in letters if row.get(one)]
            assert along == sorted(along), row


@pytest.mark.parametrize("name", TABLES)
def test_cell_when_filled_then_its_origin_is_named_once_and_when_empty_then_not_claimed_alone(name):
    origins = [row for row in read("origins") if row["table"] == name]
    for row in TABLES[name]:
        for column in list(row)[2:]:
            named = [
                one
                for one in origins
                if column in one["columns"].split()
                and Fraction(one["over_mm"]) <= span(row)[0] < Fraction(one["upto_mm"])
            ]
            assert len(named) == 1 or not row[column], (name, row["over_mm"], column)


def test_origins_when_counted_then_memory_is_only_grades_over_500_mm():
    remembered = {(row["table"], row["over_mm"]) for row in read("origins") if row["how"] == "memory"}
    assert remembered == {("it_grades", "500")}


# ---- a second way: the formulas, within the rounding known of them ---------------------------------------


@pytest.mark.parametrize("grade", range(5, 19))
def test_grade_when_worked_by_the_formula_then_within_its_known_rounding(grade):
    """Worst 15.3 % to 3 mm, 9.2 % to 6, 5.6 % over; over 500 mm 5.3 % (counted cell by cell beforehand)."""
    for row in GRADE_ROWS:
        over, upto = span(row)
        most = 0.153 if upto <= 3 else 0.092 if upto <= 6 else 0.056
        printed = float(row[f"IT{grade}"])
        assert printed == pytest.approx(it_formula(over, upto, grade), rel=most), (over, grade)


#: How far the printed figure may be from the formula: micrometres, or the part of it where that is more.
KNOWN = {
    "a": (0, 0.035), "b": (0, 0.048), "c": (0, 0.154), "d": (0.9, 0.02), "e": (0.8, 0.024), "f": (0.92, 0),
    "g": (0.5, 0), "n": (0.8, 0), "t": (3.1, 0), "u": (2.8, 0), "v": (4.1, 0), "x": (2.2, 0), "y": (2, 0.012),
    "z": (2, 0.022),
}  # fmt: skip


@pytest.mark.parametrize("letter", KNOWN)
def test_deviation_when_worked_by_the_formula_then_within_its_known_rounding(letter):
    """To 3 mm, and u, x, z to 18 mm, the tables are far from the formulas, and are left out here."""
    least, part = KNOWN[letter]
    first = 18 if letter in "uvxz" else 3
    tried = 0
    for row in SHAFTS:
        if not row[letter] or span(row)[0] < first:
            continue
        over, upto = span(main_row(row)) if letter in "defgn" else span(row)
        formula = deviation_formula(letter, over, upto, float(main_row(row)["IT7"]))
        assert abs(abs(float(row[letter])) - formula) <= max(least, part * formula), (row["over_mm"], formula)
        tried += 1
    assert tried >= 18


def test_p_when_set_against_it7_then_past_it_by_0_to_5():
    """Machine Drawing, Table 15.4: p = IT7 + 0 to 5; only to 3 mm is it less, by 4."""
    past = [Fraction(row["p"]) - Fraction(main_row(row)["IT7"]) for row in SHAFTS]
    assert past[0] == -4
    assert all(0 <= one <= 5 for one in past[1:])


def test_r_when_set_between_p_and_s_then_the_geometric_mean_of_them():
    """Machine Drawing, Table 15.4: r = √(p s); the printed one is within 1.1 (counted beforehand)."""
    for row in SHAFTS:
        mean = (float(row["p"]) * float(row["s"])) ** 0.5
        assert abs(float(row["r"]) - mean) <= 1.85 if span(row)[0] < 3 else 1.15, row["over_mm"]


# ---- the tables against each other -----------------------------------------------------------------------


def test_delta_when_set_against_the_grades_then_each_is_the_difference_of_two():
    """Those over 180 mm were read (Machine Drawing, Table 15.3), and are IT(n) − IT(n−1) as well."""
    for row in HOLES:
        grades = main_row(row)
        for grade in range(3, 9):
            step = Fraction(grades[f"IT{grade}"]) - Fraction(grades[f"IT{grade - 1}"])
            assert Fraction(row[f"d{grade}"]) == (0 if span(row)[1] <= 3 else step), (row["over_mm"], grade)


@pytest.mark.parametrize("letter", [one for one in LETTERS if one not in ("js", "j", "k", "m", "n")])
def test_hole_when_set_against_the_shaft_of_its_letter_then_the_same_with_the_sign_changed(letter):
    for shaft, hole in zip(SHAFTS, HOLES, strict=True):
        assert bool(shaft[letter]) == bool(hole[letter.upper()])
        if shaft[letter]:
            assert Fraction(hole[letter.upper()]) == -Fraction(shaft[letter])


def test_k_m_and_n_when_set_against_the_shafts_then_the_same_with_the_sign_changed():
    for shaft, hole in zip(SHAFTS, HOLES, strict=True):
        assert Fraction(hole["K_le8"]) == -Fraction(shaft["k4_to_k7"])
        assert Fraction(hole["M_le8"]) == Fraction(hole["M_gt8"]) == -Fraction(shaft["m"])
        assert Fraction(hole["N_le8"]) == -Fraction(shaft["n"])
        assert Fraction(hole["N_gt8"]) == (-4 if span(hole)[1] <= 3 else 0)
        assert bool(hole["K_gt8"]) == (span(hole)[1] <= 3)


@pytest.mark.parametrize("nominal", [4, 8, 25, 45, 100, 210, 300, 480])
def test_hole_and_shaft_systems_when_exchanged_then_the_play_is_the_same(nominal):
    """Delta is there so that H7/p6 and P7/h6 are the same fit in every letter; to 3 mm there is none."""
    size = Fraction(nominal)
    for letter in ("k", "m", "n", "p", "r", "s", "u"):
        basis = zone(Symbol("hole", "H", "7"), size), zone(Symbol("shaft", letter, "6"), size)
        other = zone(Symbol("hole", letter.upper(), "7"), size), zone(Symbol("shaft", "h", "6"), size)
        plays = [
            (hole.upper_um - shaft.lower_um, hole.lower_um - shaft.upper_um) for hole, shaft in (basis, other)
        ]
        assert plays[0] == plays[1], letter


# ---- what is defined -------------------------------------------------------------------------------------


@pytest.mark.parametrize("nominal", ["0.9", "1.001", "2", "8", "12", "20", "28", "45", "480", "600", "3000"])
def test_symbol_when_said_to_be_defined_then_it_is_worked_and_every_other_is_refused(nominal):
    size = Fraction(nominal)
    for side in ("hole", "shaft"):
        for letter in LETTERS:
            letters = letter.upper() if side == "hole" else letter
            defined = grades_defined(side, letters, size)
            for grade in GRADES:
                try:
                    zone(Symbol(side, letters, grade), size)
                    worked = True
                except OutOfRange as error:  # defined, but it would reach down to nought
                    worked = "nought" in str(error)
                except CalculationError:
                    worked = False
                assert worked == (grade in defined), (side, letters, grade)
