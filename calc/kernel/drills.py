"""Kernel room: drills by number, letter, 64ths of an inch and millimetres, and those beside a size."""

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.tables import read_table
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, mixed_text

KEY = "drills"
SIZE_MM = (Fraction(1, 10), Fraction(80))
SIZE_REASON = "Drills go by number as #24, by letter as Q, by size as 7/32 in or 5.1 mm."
#: How many drills a list of those owned may name.
MOST = 600

_FRACTION = re.compile(r"(?:([0-9]+) )?([0-9]+)/([1-9][0-9]*)|([0-9]+)")


@dataclass(frozen=True, slots=True)
class Drill:
    """One drill: its name as it is asked for, and its diameter."""

    name: str
    mm: Fraction

    @property
    def inches(self) -> Fraction:
        """The diameter in inches."""
        return self.mm / INCH


@lru_cache(maxsize=1)
def table() -> tuple[tuple[str, Drill], ...]:
    """Every drill of the table with its kind, in the table's order; the size of a metric one is its name."""
    return tuple(
        (
            row["kind"],
            Drill(
                row["name"],
                Fraction(row["name"].removesuffix(" mm"))
                if row["kind"] == "metric"
                else Fraction(row["inch"]) * INCH,
            ),
        )
        for row in read_table(KEY, "drills").rows
    )


@lru_cache(maxsize=1)
def _by_name() -> dict[str, Drill]:
    return {drill.name: drill for _, drill in table()}


@lru_cache(maxsize=1)
def stock() -> tuple[Drill, ...]:
    """The table by size; drills of one size are one row, under all their names."""
    return in_order([drill for _, drill in table()])


def in_order(drills: Sequence[Drill]) -> tuple[Drill, ...]:
    """Drills by size, each size once, under all its names: ``1/4 or E``."""
    names: dict[Fraction, list[str]] = {}
    for drill in drills:
        known = names.setdefault(drill.mm, [])
        if drill.name not in known:
            known.append(drill.name)
    return tuple(Drill(" or ".join(sorted(names[mm], key=_plainest)), mm) for mm in sorted(names))


def _plainest(name: str) -> int:
    """Fractions and millimetres before letters and numbers: what a builder has in the rack."""
    return 1 if name.startswith("#") or name.isalpha() else 0


def drill_of(field: str, name: str) -> Drill:
    """The drill of a name: ``#24``, ``Q``, ``7/32``, ``1 1/16``, ``5.1 mm``, ``0.212 in``.

    Parameters
    ----------
    field : str
        Name of the entry, for the refusal.
    name : str
        The name; a bare fraction is of an inch.

    Returns
    -------
    Drill
        The drill with its diameter. [mm]

    Raises
    ------
    NotInTable
        There is no drill of that number or letter, or the name is no drill's.
    OutOfRange
        The size is none of a drill.
    """
    found = _by_name().get(name)
    if found is not None:
        return found
    if name.startswith("#") or name.isalpha():
        raise NotInTable(field, f"There is no drill {name}: numbers go from #1 to #80, letters from A to Z.")
    size = _size(name)
    if size is None:
        raise NotInTable(field, f"“{name[:20]}” is no drill. {SIZE_REASON}")
    low, high = SIZE_MM
    if not low <= size <= high:
        limits = f"{decimal_text(low, 4)} mm to {decimal_text(high, 4)} mm"
        raise OutOfRange(field, f"{name} is no size of a drill, which are {limits}", SIZE_REASON)
    return Drill(name, size)


def _size(name: str) -> Fraction | None:
    """The size a name tells: millimetres, a decimal of an inch, or a fraction of one."""
    number, _, unit = name.rpartition(" ")
    if unit in ("mm", "in") and re.fullmatch(r"[0-9]+(\.[0-9]+)?|[0-9]+/[1-9][0-9]*", number):
        return Fraction(number) * (1 if unit == "mm" else INCH)
    plain = _FRACTION.fullmatch(name)
    if plain is None:
        return None
    if plain[4]:
        return int(plain[4]) * INCH
    return (int(plain[1] or 0) + Fraction(int(plain[2]), int(plain[3]))) * INCH


def name_of(mm: Fraction, *, inches: bool) -> str:
    """The name of a drill of a size: a fraction where it is a 64th of an inch, else a decimal."""
    if not inches:
        return f"{_exact_text(mm)} mm"
    size = mm / INCH
    return mixed_text(size) if (size * 64).denominator == 1 else f"{_exact_text(size)} in"


def _exact_text(value: Fraction) -> str:
    """A figure with all its places; as a fraction where it has no end of them."""
    return decimal_text(value, 12) if (value * 10**12).denominator == 1 else str(value)


def size_text(drill: Drill) -> str:
    """A drill with its sizes: ``#24, 0.1520 in (3.861 mm)``, ``5.1 mm (0.2008 in)``."""
    inches = f"{_four(drill.inches)} in"
    metric = re.search(r"[0-9] mm$", drill.name)
    if metric:
        return f"{drill.name} ({inches})"
    mm = f"{decimal_text(drill.mm, 3)} mm"
    return f"{drill.name} ({mm})" if drill.name.endswith(" in") else f"{drill.name}, {inches} ({mm})"


def _four(inches: Fraction) -> str:
    whole, part = divmod((inches * 20000 + 1) // 2, 10000)
    return f"{whole}.{part:04d}"


def beside(drills: Sequence[Drill], mm: Fraction, number: int) -> tuple[list[Drill], list[Drill]]:
    """So many drills at or under a size and so many over it, each list the nearest first."""
    place = bisect_right([drill.mm for drill in drills], mm)
    return list(reversed(drills[max(0, place - number) : place])), list(drills[place : place + number])


def nearest(drills: Sequence[Drill], mm: Fraction) -> Drill:
    """The drill nearest to a size; of two as near, the smaller."""
    return min(drills, key=lambda drill: (abs(drill.mm - mm), drill.mm))
