"""Kernel room: rolls of a blank that a dividing head can make, in whole holes of a circle that indexes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, pi

#: How far from the quarter a roll is looked at: further off the teeth are wrong at the pitch line.
WITHIN = Fraction(3, 20)


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """A roll from the central setting, each side, as the crank makes it."""

    spaces: int  # in all, whole turns counted in
    circle: int
    ratio: int

    @property
    def crank(self) -> Fraction:
        """Turns of the crank."""
        return Fraction(self.spaces, self.circle)

    @property
    def degrees(self) -> Fraction:
        """What the blank turns by."""
        return self.crank * 360 / self.ratio

    @property
    def angle(self) -> float:
        """The same in radians."""
        return float(self.crank / self.ratio) * 2 * pi


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The dividing head and its plates, for one gear."""

    teeth: int
    ratio: int
    circles: tuple[int, ...]  # each once, the largest first

    @property
    def move(self) -> Fraction:
        """Crank turns from tooth to tooth."""
        return Fraction(self.ratio, self.teeth)

    @property
    def quarter(self) -> Fraction:
        """Crank turns of a quarter of the pitch."""
        return self.move / 4

    @property
    def index_circles(self) -> tuple[int, ...]:
        """Circles that index the gear: the pin cannot change circle between teeth."""
        return tuple(circle for circle in self.circles if circle % self.move.denominator == 0)

    @property
    def quarter_circles(self) -> tuple[int, ...]:
        """Circles that index the gear and give the quarter in whole holes as well."""
        return tuple(circle for circle in self.circles if circle % self.quarter.denominator == 0)

    def roll(self, crank: Fraction) -> Roll | None:
        """A roll of so many turns, on the largest circle that makes it and indexes the gear."""
        for circle in self.index_circles:
            if circle % crank.denominator == 0:
                return Roll(spaces=int(crank * circle), circle=circle, ratio=self.ratio)
        return None

    def rolls(self) -> list[Roll]:
        """Every roll about the quarter, the nearest first, each on its largest circle."""
        cranks = {crank for circle in self.index_circles for crank in self._about(circle)}
        near = sorted(cranks, key=lambda crank: (abs(crank - self.quarter), crank))
        found = [self.roll(crank) for crank in near]
        return [roll for roll in found if roll is not None]

    def spread(self, apart: Fraction) -> list[Roll]:
        """Rolls about the quarter that stand so far apart, in quarters; the nearest first."""
        chosen: list[Roll] = []
        for roll in self.rolls():
            if all(abs(roll.crank - other.crank) >= apart * self.quarter for other in chosen):
                chosen.append(roll)
        return chosen

    def _about(self, circle: int) -> Iterator[Fraction]:
        """Rolls on one circle: those within reach, and always the two beside the quarter."""
        wanted = self.quarter * circle
        low = min(ceil(wanted * (1 - WITHIN)), floor(wanted))
        high = max(floor(wanted * (1 + WITHIN)), ceil(wanted))
        return (Fraction(spaces, circle) for spaces in range(max(low, 1), high + 1))


def head_for(teeth: int, ratio: int, faces: Sequence[Sequence[int]]) -> Head:
    """The head with the plates to hand, face by face."""
    circles = sorted({circle for face in faces for circle in face}, reverse=True)
    return Head(teeth=teeth, ratio=ratio, circles=tuple(circles))
