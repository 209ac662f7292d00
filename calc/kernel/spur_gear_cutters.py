"""Kernel room: the cutter of a set that suits a number of teeth, by the ranges printed in 1914."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel import tables
from calc.kernel.spur_gear_entries import MILLING, line
from calc.kernel.working import Step

#: Diametral pitches that half numbers are offered for.
HALF_NUMBERS_PITCH = (Fraction(2), Fraction(8))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """One disc cutter of a set: the number stamped on it and the teeth it serves."""

    number: str  # "5", "5 1/2"
    lowest: int
    highest: int | None  # None: to a rack

    @property
    def range_text(self) -> str:
        """The range as it is marked: ``55 to 134``, ``135 to a rack``."""
        if self.lowest == self.highest:
            return str(self.lowest)
        return f"{self.lowest} to {'a rack' if self.highest is None else self.highest}"

    @property
    def reversed_number(self) -> str:
        """The number it has in metric sets that count from the pinion up."""
        return str(9 - int(self.number)) if self.number.isdecimal() else ""


@lru_cache(maxsize=4)
def cutters(cutter_set: str) -> tuple[Cutter, ...]:
    """The cutters of a set of ``8`` or of ``15``, from the fewest teeth up.

    Beside half numbers the whole numbers keep the lower part of their range: each cutter serves
    from its own lowest number of teeth to one less than the next cutter's.
    """
    names = ["cutters"] if cutter_set == "8" else ["cutters", "half_numbers"]
    rows = [row for name in names for row in tables.read_table("milling1914", name).rows]
    rows.sort(key=lambda row: int(row["lowest"]))
    lows: list[int | None] = [int(row["lowest"]) for row in rows[1:]]
    return tuple(
        Cutter(number=row["cutter"], lowest=int(row["lowest"]), highest=None if low is None else low - 1)
        for row, low in zip(rows, [*lows, None], strict=True)
    )


def cutter_for(teeth: Fraction | float, cutter_set: str) -> Cutter | None:
    """The cutter whose lowest number of teeth is the highest not above these; None below them all.

    Never rounded up: a cutter for more teeth than the gear has leaves its flanks too straight.
    """
    serving = [cutter for cutter in cutters(cutter_set) if cutter.lowest <= teeth]
    return serving[-1] if serving else None


def cutter_step(label: str, teeth: int, cutter: Cutter, cutter_set: str) -> Step:
    """The line that picks the cutter: the greatest lowest number of the set that is not above the teeth."""
    lows = ", ".join(str(one.lowest) for one in cutters(cutter_set))
    return line(
        label,
        ("the greatest lowest number not above the teeth", f"the greatest of {lows} not above {teeth}"),
        str(cutter.lowest),
        unit="teeth",
        source=MILLING,
    )
