"""Kernel room: limits in thousandths of an inch, as results in millimetres, with their working."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from calc.kernel.fit_words import figure_text
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, plain_number
from calc.kernel.working import LOOKED_UP, Step, line

#: Micrometres to a thousandth of an inch.
MIL = Fraction(254, 10)
#: Places of an inch a line of working shows, and of a thousandth.
PLACES, THOU_PLACES = 6, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class InchLimits:
    """A hole and a shaft of one nominal size, their limits in thousandths of an inch from it."""

    nominal: Fraction  # [mm]
    hole_upper: Fraction
    shaft_upper: Fraction
    shaft_lower: Fraction

    @property
    def most(self) -> Fraction:
        """Greatest clearance; below nought it is interference. [thou]"""
        return self.hole_upper - self.shaft_lower

    @property
    def least(self) -> Fraction:
        """Least clearance; below nought it is interference. [thou]"""
        return -self.shaft_upper

    @property
    def kind(self) -> str:
        """`clearance`, `transition` or `interference`."""
        if self.least >= 0:
            return "clearance"
        return "interference" if self.most <= 0 else "transition"


def results(found: InchLimits) -> dict[str, Any]:
    """Limits of size, deviations and clearances by the names every fit hands back."""
    ends = {"hole": (found.hole_upper, Fraction(0)), "shaft": (found.shaft_upper, found.shaft_lower)}
    told: dict[str, Any] = {}
    for side, (upper, lower) in ends.items():
        told[f"{side}_upper_mm"] = plain_number(found.nominal + upper * MIL / 1000)
        told[f"{side}_lower_mm"] = plain_number(found.nominal + lower * MIL / 1000)
        told[f"{side}_es_um"] = plain_number(upper * MIL)
        told[f"{side}_ei_um"] = plain_number(lower * MIL)
        told[f"{side}_tolerance_um"] = plain_number((upper - lower) * MIL)
    told["clearance_max_mm"] = plain_number(found.most * MIL / 1000)
    told["clearance_min_mm"] = plain_number(found.least * MIL / 1000)
    told["kind"] = found.kind
    return told


def thou_text(value: Fraction) -> str:
    """Thousandths of an inch as shown: ``−0.8``, ``0``."""
    return decimal_text(value, THOU_PLACES).replace("-", "−")


def inch_text(value: Fraction) -> str:
    """Inches as a line of working shows them, to six places at most."""
    return decimal_text(value, PLACES).replace("-", "−")


def nominal_step(nominal: Fraction) -> Step:
    """The nominal size in inches."""
    figures = f"{figure_text(nominal)} / 25.4"
    return line("Nominal, in inches", "nominal / 25.4", figures, inch_text(nominal / INCH), "in")


def looked_up(label: str, value: Fraction, source: str) -> Step:
    """A line that is read in a table."""
    shown = thou_text(value)
    return line(label, LOOKED_UP, shown, shown, "thou", source)


def size_steps(found: InchLimits, *, hole: bool = True) -> list[Step]:
    """The limits of size in inches and, each on its own line, in millimetres; then the play."""
    parts = [("hole", "upper", found.hole_upper)] if hole else []
    parts += [("shaft", "upper", found.shaft_upper), ("shaft", "lower", found.shaft_lower)]
    steps = [_limit_step(found.nominal, *part) for part in parts]
    steps += [_millimetre_step(found.nominal, *part) for part in parts]
    return [
        *steps,
        _play_step("Greatest", "upper", "lower", found),
        _play_step("Least", "lower", "upper", found),
    ]


def _limit_step(nominal: Fraction, side: str, end: str, thou: Fraction) -> Step:
    inches = nominal / INCH
    return line(
        f"{side.capitalize()}, {end} limit",
        f"inches + {side} {end} / 1000",
        f"{figure_text(inches)} + {figure_text(thou)} / 1000",
        inch_text(inches + thou / 1000),
        "in",
    )


def _millimetre_step(nominal: Fraction, side: str, end: str, thou: Fraction) -> Step:
    return line(
        f"{side.capitalize()}, {end} limit, in millimetres",
        f"nominal + {side} {end} × 0.0254",
        f"{figure_text(nominal)} + {figure_text(thou)} × 0.0254",
        decimal_text(nominal + thou * MIL / 1000, 4),
        "mm",
    )


def _play_step(which: str, of_hole: str, of_shaft: str, found: InchLimits) -> Step:
    hole = found.hole_upper if of_hole == "upper" else Fraction(0)
    shaft = found.shaft_upper if of_shaft == "upper" else found.shaft_lower
    below = "; below nought, interference" if hole < shaft else ""
    return line(
        f"{which} clearance{below}",
        f"hole {of_hole} − shaft {of_shaft}",
        f"{figure_text(hole)} − {figure_text(shaft)}",
        thou_text(hole - shaft),
        "thou",
    )
