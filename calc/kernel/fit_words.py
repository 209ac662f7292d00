"""Kernel room: how sizes and deviations of a fit are written on a line of working."""

from fractions import Fraction

from calc.kernel.wording import decimal_text, fixed

#: Places of a millimetre that a limit is shown to as a rule, and at most.
PLACES, MOST_PLACES = 3, 4
#: Longest decimal that is written out exactly; a longer or endless one is written as a fraction.
EXACT_PLACES = 9


def size_text(value: Fraction) -> str:
    """A size in millimetres to three places, or to four where the third would not tell it all."""
    exact = (value * 10**PLACES).denominator == 1
    return fixed(value, PLACES if exact else MOST_PLACES)


def figure_text(value: Fraction) -> str:
    """A figure exactly, as a sum takes it: ``31.75``, ``127/15`` and below nought ``(−25)``."""
    exact = (value * 10**EXACT_PLACES).denominator == 1
    text = decimal_text(abs(value), EXACT_PLACES) if exact else f"{abs(value)}"
    return f"(−{text})" if value < 0 else text if exact else f"({text})"


def micrometres(value: Fraction) -> str:
    """Micrometres as shown, all their places: ``−25``, ``12.5``, ``0``."""
    return decimal_text(value, EXACT_PLACES).replace("-", "−")
