"""Kernel room: lines of working on threads and drills, each with figures enough to be worked again."""

from collections.abc import Callable, Sequence
from fractions import Fraction

from calc.kernel.working import Step

HERE = "worked here in exact fractions"
COMMON = "common practice, no source"
#: What a line says in place of a formula when its figure is read in a table.
LOOKED_UP = "from the table"
#: Places a size is shown to.
INCH_PLACES, MM_PLACES = 4, 3
_FEWEST, _MOST = 2, 18


def fixed(value: Fraction, places: int) -> str:
    """A figure to so many places, halves away from nought, with its noughts: ``0.2050``, ``−0.1``."""
    whole, part = divmod((abs(value) * 10**places * 2 + 1) // 2, 10**places)
    minus = "−" if value < 0 and (whole or part) else ""
    return f"{minus}{whole}.{part:0{places}d}" if places else f"{minus}{whole}"


def figure(value: Fraction, places: int) -> str:
    """A figure as it goes into a sum: all its places where they are few, else to so many."""
    for few in range(7):
        if (value * 10**few).denominator == 1:
            return fixed(value, few)
    return fixed(value, places)


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
        source: str = HERE,
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
        source: str = HERE,
    ) -> None:
        """A percentage worked out of lengths in millimetres, to a tenth."""
        exact = [value / self.unit for value in values]
        self._sum(label, formula, figures, exact, worked, source, 1, "%")

    def bare(
        self, label: str, formula: str, figures: str, values: Sequence[Fraction],
        worked: Callable[..., Fraction], places: int, unit: str, source: str = HERE,
    ) -> None:  # fmt: skip
        """A figure that is no length: a rate, an angle, a speed."""
        self._sum(label, formula, figures, values, worked, source, places, unit)

    def _sum(
        self, label: str, formula: str, figures: str, exact: Sequence[Fraction],
        worked: Callable[..., Fraction], source: str, places: int, unit: str,
    ) -> None:  # fmt: skip
        shown = fixed(worked(*exact), places)
        for few in range(max(_FEWEST, self.places), _MOST):
            written = [figure(value, few) for value in exact]
            # As many places in the figures as it takes for them to give the value shown.
            if fixed(worked(*(Fraction(one.replace("−", "-")) for one in written)), places) == shown:
                break
        self._add(label, formula, figures.format(*written), shown, unit, source)

    def _add(self, label: str, formula: str, figures: str, value: str, unit: str, source: str) -> None:
        self.steps.append(
            Step(label=label, formula=formula, figures=figures, value=value, unit=unit, source=source)
        )
