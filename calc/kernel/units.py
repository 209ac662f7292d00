"""Kernel room: the two units of length, and how a length is written in either."""

from fractions import Fraction
from typing import Literal

from calc.kernel.wording import exact, fixed

Unit = Literal["inch", "mm"]

#: Millimetres in an inch, exactly.
INCH = Fraction(254, 10)


def in_or_mm(mm: Fraction | float, unit: Unit, places: int) -> str:
    """A length as a bare figure in the unit wanted, to so many places: "14.333"."""
    return fixed(Fraction(mm) / (INCH if unit == "inch" else 1), places)


def fine(mm: Fraction | float, unit: Unit) -> str:
    """A size of a tooth, a lead: four places of an inch, three of a millimetre."""
    return in_or_mm(exact(mm), unit, 4 if unit == "inch" else 3)


def turned(mm: Fraction | float, unit: Unit) -> str:
    """A size as it is turned: three places of an inch, two of a millimetre."""
    return in_or_mm(exact(mm), unit, 3 if unit == "inch" else 2)
