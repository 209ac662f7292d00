"""Kernel room: stock as it is commonly sold, by form: in inches, in millimetres, by gauge."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import exp, log

from calc.kernel.errors import NotInTable
from calc.kernel.tables import read_table
from calc.kernel.units import INCH

KEY, GAUGES = "stock_sizes", "swg"
FORMS = ("round", "sheet", "plate")
SYSTEMS = ("either", "imperial", "metric")
#: Sheet by gauge is of the inch.
_IMPERIAL = ("imperial", "swg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One size as it is sold."""

    name: str  # "5/8 in", "16 mm", "16 SWG"
    mm: Fraction
    gauge: int | None  # number of the standard wire gauge
    origin: str  # read or memory


@lru_cache(maxsize=16)
def stock_list(form: str, system: str) -> tuple[Stock, ...]:
    """The sizes of a form in a system, the least first.

    Parameters
    ----------
    form : str
        round, sheet or plate.
    system : str
        either, imperial (gauges with it) or metric.

    Returns
    -------
    tuple of Stock
        At least one.

    Raises
    ------
    NotInTable
        The list has none of that form in that system.
    """
    rows = [
        row for row in read_table(KEY, "stock").rows
        if row["form"] == form
        and (system == "either" or (row["system"] in _IMPERIAL) == (system == "imperial"))
    ]  # fmt: skip
    if not rows:
        raise NotInTable(
            "system",
            f"The list has no {form} in inches: take either or metric, or a supplier’s list.",
        )
    found = [
        Stock(name=row["name"], mm=_size(row["system"], row["name"], row["inch"], row["mm"]),
              gauge=_number(row["name"]) if row["system"] == "swg" else None, origin=row["origin"])
        for row in rows
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.mm, one.name)))


def gauge_mm(number: str) -> Fraction:
    """The thickness of a standard wire gauge. [mm]"""
    row = next(row for row in read_table(GAUGES, "swg").rows if row["swg"] == number)
    return Fraction(row["inch"]) * INCH


def other_gauge_mm(number: int) -> float:
    """The same number of the American gauge: 0.005 in × 92 to the power (36 − number)/39. [mm]"""
    return float(INCH) * 0.005 * exp(log(92) * (36 - number) / 39)


def _size(system: str, name: str, inch: str, mm: str) -> Fraction:
    if system == "metric":
        return Fraction(mm)
    return gauge_mm(str(_number(name))) if system == "swg" else Fraction(inch) * INCH


def _number(name: str) -> int:
    return int(name.removesuffix(" SWG"))
