"""Kernel room: what castings shrink by and what is left on a face, by the books that were read."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.tables import read_table
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, mixed_text

CONTRACTION, ALLOWANCES = "contraction", "finish_allowances"
METALS = (
    "cast-iron", "steel", "brass", "yellow-brass", "bronze", "gunmetal", "manganese-bronze", "aluminium",
    "zinc", "lead", "tin",
)  # fmt: skip
CORE = "core"
#: Denominators that a contraction is written with as a fraction.
_PARTS = (1, 2, 4, 6, 8, 10, 16, 32, 64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """What one book has for a metal, inches to the foot."""

    where: str
    low: Fraction
    high: Fraction

    @property
    def text(self) -> str:
        """``3/32``, ``1/10 to 1/8``."""
        if self.low == self.high:
            return contraction_text(self.low)
        return f"{contraction_text(self.low)} to {contraction_text(self.high)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What is left to machine on one face; millimetres."""

    low: Fraction
    high: Fraction
    where: str
    origin: str  # read or memory


@lru_cache(maxsize=16)
def books(metal: str) -> tuple[Book, ...]:
    """What each book has for a metal; at least one for every metal named here."""
    return tuple(
        Book(where=row["where"], low=Fraction(row["low"]), high=Fraction(row["high"]))
        for row in read_table(CONTRACTION, "contraction").rows
        if row["metal"] == metal
    )


def agreed(metal: str) -> Fraction | None:
    """The contraction of a metal where every book has the same; none where they differ. [inch per foot]"""
    values = {value for book in books(metal) for value in (book.low, book.high)}
    return values.pop() if len(values) == 1 else None


def left_on(metal: str, size: Fraction) -> Left | None:
    """The row of the allowances for a metal and a size in millimetres; none where there is none."""
    for row in read_table(ALLOWANCES, "allowances").rows:
        if row["metal"] == metal and Fraction(row["over"]) < size / INCH <= Fraction(row["upto"]):
            return Left(
                low=Fraction(row["low"]) * INCH, high=Fraction(row["high"]) * INCH, where=row["where"],
                origin=row["origin"],
            )  # fmt: skip
    return None


def contraction_text(value: Fraction) -> str:
    """A contraction as it is printed: ``3/32``, ``1/6``, ``0.265``; exact."""
    if value.denominator in _PARTS:
        return mixed_text(value)
    decimal = decimal_text(value, 8)
    return decimal if Fraction(decimal) == value else f"{value.numerator}/{value.denominator}"
