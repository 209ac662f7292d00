"""Kernel room: how the figures of a press fit are written on its lines of working."""

from fractions import Fraction

from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import Step

LAME = "Lamé, thick cylinders; textbook formula"
#: Places a figure of an earlier line is written to, so that the line can be worked again to what it shows.
FIGURE_PLACES = 9


def shown(value: Fraction, places: int) -> str:
    """A figure as a line shows it: with noughts at its end where it was rounded to them."""
    if (value * 10**places).denominator != 1:
        return fixed(value, places)
    return decimal_text(value, places).replace("-", "−")


def figure(value: Fraction) -> str:
    """A figure as a line takes it."""
    return decimal_text(value, FIGURE_PLACES)


def line(label: str, formula: str, figures: str, value: str, unit: str, source: str = LAME) -> Step:
    """One line of working; its source is Lamé unless another is named."""
    return Step(label=label, formula=formula, figures=figures, value=value, unit=unit, source=source)
