"""Kernel room: lines of working on threads and drills, each with figures enough to be worked again."""

from collections.abc import Callable, Sequence
from fractions import Fraction

from calc.kernel.working import LOOKED_UP, WORKED_HERE, Step, figure, figures_enough

#: Places a size is shown to.
INCH_PLACES, MM_PLACES = 4, 3


class Lines:
    """Lines of working gathered one by one; lengths are written in the unit of the thread."""

    def __init__(self, unit: Fraction) -> None:
        self.unit, self.word = unit, "mm" if unit == 1 else "in"
        self.places = MM_PLACES if unit == 1 else INCH_PLACES
        self.steps: list[Step] = []

    def table(self, label: str, mm: Fraction, source: str) -> None:
        """A length read in a table, as it stands there."""
        shown = figure(mm / self.unit, self.places)
        self._add(label, LOOKED_UP, shown, shown, self.word, source)

    def length(
        self,
        label: str,
        formula: str,
        figures: str,
        values: Sequence[Fraction],
        worked: Callable[..., Fraction],
        source: str = WORKED_HERE,
        *,
        plain: Sequence[Fraction] = (),
    ) -> None:
        """A length worked out of lengths in millimetres and, after them, bare numbers."""
        exact = [value / self.unit for value in values] + list(plain)
        self._sum(label, formula, figures, exact, worked, source, self.places, self.word)

    def per_cent(
        self,
        label: str,
        formula: str,
        figures: str,
        values: Sequence[Fraction],
        worked: Callable[..., Fraction],
        source: str = WORKED_HERE,
    ) -> None:
        """A percentage worked out of lengths in millimetres, to a tenth."""
        exact = [value / self.unit for value in values]
        self._sum(label, formula, figures, exact, worked, source, 1, "%")

    def bare(
        self, label: str, formula: str, figures: str, values: Sequence[Fraction],
        worked: Callable[..., Fraction], places: int, unit: str, source: str = WORKED_HERE,
    ) -> None:  # fmt: skip
        """A figure that is no length: a rate, an angle, a speed."""
        self._sum(label, formula, figures, values, worked, source, places, unit)

    def _sum(
        self, label: str, formula: str, figures: str, exact: Sequence[Fraction],
        worked: Callable[..., Fraction], source: str, places: int, unit: str,
    ) -> None:  # fmt: skip
        written, shown = figures_enough(exact, worked, places, self.places)
        self._add(label, formula, figures.format(*written), shown, unit, source)

    def _add(self, label: str, formula: str, figures: str, value: str, unit: str, source: str) -> None:
        self.steps.append(
            Step(label=label, formula=formula, figures=figures, value=value, unit=unit, source=source)
        )
