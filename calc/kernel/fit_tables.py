"""Kernel room: look-ups in the tables of ISO 286, each with what the cell is and where it was read."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.errors import NotInTable
from calc.kernel.fit_symbols import GRADES, LETTERS, Symbol, cased
from calc.kernel.tables import read_table
from calc.kernel.wording import decimal_text

KEY = "iso286"
#: Above this the standard has other tables: fewer letters, and no delta. [mm]
LARGE = Fraction(500)
#: To this size some letters and grades are not used. [mm]
SMALL = Fraction(1)
NAMES = {
    "it_grades": "standard tolerance grades",
    "shaft_deviations": "deviations of shafts",
    "hole_deviations": "deviations of holes",
    "deviations_over_500": "deviations over 500 mm",
}
MEMORY = "memory"
#: From 250 to 315 mm M6 is not as the rule would have it. [mm]
M6 = (Fraction(250), Fraction(315))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One figure of a table: its value, the range of its row, how it is known."""

    table: str
    column: str
    value: Fraction  # micrometres
    over: Fraction  # millimetres, exclusive
    upto: Fraction  # millimetres, inclusive
    how: str  # "read", "read in part", "worked out", "memory"
    where: str

    @property
    def span(self) -> str:
        """The range of sizes in words: ``over 30 to 50 mm``."""
        return f"over {decimal_text(self.over, 3)} to {decimal_text(self.upto, 3)} mm"

    @property
    def source(self) -> str:
        """How a line of working names the table and where it was read."""
        read = {"memory": "from memory", "worked out": f"worked out as {self.where}"}.get(self.how)
        return f"ISO 286-1, {NAMES[self.table]} ({read or f'{self.how}: {self.where}'})"


@lru_cache(maxsize=64)
def _row(table: str, nominal: Fraction) -> Mapping[str, str]:
    return read_table(KEY, table).row_for("nominal", nominal, over="over_mm", to="upto_mm")


def _origin(table: str, column: str, over: Fraction) -> tuple[str, str]:
    """How and where the cells of a column were read, at the range that begins there."""
    for row in read_table(KEY, "origins").rows:
        within = Fraction(row["over_mm"]) <= over < Fraction(row["upto_mm"])
        if row["table"] == table and within and column in row["columns"].split():
            return row["how"], row["where"]
    raise LookupError(f"{table}, {column}: no origin over {over} mm")


# A refusal goes through every letter and grade of a size, so what was looked up last is kept.
@lru_cache(maxsize=1024)
def cell(table: str, column: str, nominal: Fraction) -> Cell | None:
    """The figure at that size; None where the column is empty there, or missing."""
    row = _row(table, nominal)
    text = row.get(column, "")
    if not text:
        return None
    over, upto = Fraction(row["over_mm"]), Fraction(row["upto_mm"])
    how, where = _origin(table, column, over)
    return Cell(table=table, column=column, value=Fraction(text), over=over, upto=upto, how=how, where=where)


def grade_cell(symbol: Symbol, nominal: Fraction) -> Cell:
    """The tolerance of the symbol's grade at that size.

    Raises
    ------
    NotInTable
        The grade is not defined at that size; names what is.
    """
    found = cell("it_grades", f"IT{symbol.grade}", nominal)
    if found is None:
        raise NotInTable(
            symbol.side, f"IT{symbol.grade} is not defined over 500 mm: there the grades are 1 to 18."
        )
    if nominal <= SMALL and symbol.place >= 14:
        raise NotInTable(
            symbol.side, f"IT{symbol.grade} is not used to 1 mm: there the grades are 01, 0 and 1 to 13."
        )
    return found


def column_of(symbol: Symbol, nominal: Fraction) -> str:
    """The column that holds the symbol's deviation at that size; empty where its grade has none."""
    letters, grade = symbol.letters, symbol.place
    if nominal > LARGE:
        return letters.lower()
    if letters in ("K", "M", "N"):
        return f"{letters}_le8" if grade <= 8 else f"{letters}_gt8"
    if letters == "J":
        return f"J{grade}" if grade in (6, 7, 8) else ""
    if letters == "j":
        return {5: "j5_j6", 6: "j5_j6", 7: "j7", 8: "j8"}.get(grade, "")
    if letters == "k":
        return "k4_to_k7" if 4 <= grade <= 7 else "k_other"
    return letters


def deviation_cell(symbol: Symbol, nominal: Fraction) -> Cell:
    """The fundamental deviation of the symbol as its table has it, before any delta.

    Raises
    ------
    NotInTable
        The letters are not defined at that size, or not with that grade; names what is.
    """
    found = defined_cell(symbol, nominal)
    if found is None:
        raise NotInTable(symbol.side, undefined_text(symbol, nominal))
    return found


def table_of(symbol: Symbol, nominal: Fraction) -> str:
    """The table of deviations the symbol is looked up in at that size."""
    return "deviations_over_500" if nominal > LARGE else f"{symbol.side}_deviations"


def defined_cell(symbol: Symbol, nominal: Fraction) -> Cell | None:
    """The deviation's cell, or None where the standard does not define the symbol at that size."""
    if nominal <= SMALL and symbol.letters.lower() in ("a", "b"):
        return None
    if nominal <= SMALL and symbol.letters == "N" and symbol.place > 8:
        return None
    if delta_missing(symbol, nominal):
        return None
    column = column_of(symbol, nominal)
    return cell(table_of(symbol, nominal), column, nominal) if column else None


def delta_wanted(symbol: Symbol, nominal: Fraction) -> bool:
    """Whether the hole's deviation takes a delta: K, M, N to IT8 and P to ZC to IT7, to 500 mm."""
    if symbol.side != "hole" or nominal > LARGE:
        return False
    letters = symbol.letters.lower()
    if letters in ("k", "m", "n"):
        return symbol.place <= 8
    return LETTERS.index(letters) >= LETTERS.index("p") and symbol.place <= 7


def delta_missing(symbol: Symbol, nominal: Fraction) -> bool:
    """Whether a delta is wanted and none is tabled: grades finer than IT3 above 3 mm."""
    return delta_wanted(symbol, nominal) and nominal > 3 and symbol.place < 3


def delta_cell(symbol: Symbol, nominal: Fraction) -> Cell | None:
    """The delta of the symbol's grade; None where none is added."""
    if not delta_wanted(symbol, nominal) or symbol.place < 3:
        return None
    return cell("hole_deviations", f"d{symbol.place}", nominal)


def is_m6_exception(symbol: Symbol, nominal: Fraction) -> bool:
    """Whether the note to M6 applies, which is -9 there and not -11."""
    return symbol.text == "M6" and M6[0] < nominal <= M6[1]


def grades_defined(side: str, letters: str, nominal: Fraction) -> list[str]:
    """The grades in which the letters are defined at that size, the finest first."""
    found = []
    for grade in GRADES:
        symbol = Symbol(side, letters, grade)
        is_graded = cell("it_grades", f"IT{grade}", nominal) is not None
        if nominal <= SMALL and symbol.place >= 14:
            is_graded = False
        if is_graded and (letters.lower() == "js" or defined_cell(symbol, nominal)):
            found.append(grade)
    return found


def letters_defined(side: str, nominal: Fraction) -> list[str]:
    """The letters that have any grade at that size, in the order of the standard."""
    every = [cased(side, letters) for letters in LETTERS]
    return [letters for letters in every if grades_defined(side, letters, nominal)]


def undefined_text(symbol: Symbol, nominal: Fraction) -> str:
    """That the symbol is not defined at that size, and what is."""
    size = f"{decimal_text(nominal, 4)} mm"
    lead = f"ISO 286 does not define {symbol.text} at {size}"
    grades = grades_defined(symbol.side, symbol.letters, nominal)
    if grades:
        return f"{lead}: there {symbol.letters} has {grades_words(grades)}."
    offered = " ".join(letters_defined(symbol.side, nominal))
    return f"{lead}, nor {symbol.letters} in any grade. At that size {symbol.side}s have {offered}."


def grades_words(grades: list[str]) -> str:
    """Grades in words: ``grade 8``, ``grades 5 to 7``, ``grades 01, 0 and 1 to 13``."""
    if len(grades) == 1:
        return f"grade {grades[0]}"
    numbers = [grade for grade in grades if grade not in ("01", "0")]
    run = f"{numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else numbers[0]
    return f"grades 01, 0 and {run}" if len(numbers) < len(grades) else f"grades {run}"
