"""Calc room: the expansion of a metal as typed, to a degree Celsius; bare figures are that too."""

import re
from fractions import Fraction

from calc.measures import EntryError

HINT = "Write 11.4e-6 to a degree Celsius, or 6.3e-6 per degF."
_WHOLE = re.compile(r"(\d{1,12}(?:\.\d{1,12})?|\.\d{1,12})(?:e(-?\d{1,2}))?(.*)", re.IGNORECASE)
#: What may follow the figure, small letters, without blanks, degree signs and words of division.
_UNITS = {"": Fraction(1), "c": Fraction(1), "k": Fraction(1), "f": Fraction(9, 5)}


def parse_expansion(text: str) -> tuple[Fraction, str]:
    """The expansion to a degree Celsius, and how it was read: ``6.7e-6 per degF``, ``11.4e-6``."""
    found = _WHOLE.fullmatch(text.strip())
    if not found:
        raise EntryError(f"I cannot read “{text.strip()[:20]}” as an expansion. {HINT}")
    unit = re.sub(r"per|degrees?|deg|[\s/°]", "", found[3].lower())
    if unit not in _UNITS:
        raise EntryError(f"I can read the figure, but not “{found[3].strip()[:20]}”. {HINT}")
    figure = Fraction(found[1]) * Fraction(10) ** int(found[2] or 0)
    return figure * _UNITS[unit], f"{_millionths(figure)} per °{'F' if unit == 'f' else 'C'}" + (
        f" = {_millionths(figure * _UNITS[unit])} per °C" if unit == "f" else ""
    )


def _millionths(figure: Fraction) -> str:
    return f"{float(figure * 10**6):g}e-6"
