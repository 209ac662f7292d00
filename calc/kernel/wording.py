"""Kernel room: how exact numbers are written on a line of working."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any


def mixed_text(value: Fraction | int) -> str:
    """A fraction as a builder writes it: ``3 1/13``, ``10/21``, ``40``, ``-1 1/2``."""
    exact = Fraction(value)
    whole, part = divmod(abs(exact), 1)
    minus = "-" if exact < 0 else ""
    if not part:
        return f"{minus}{whole}"
    lead = f"{whole} " if whole else ""
    return f"{minus}{lead}{part.numerator}/{part.denominator}"


def decimal_text(value: Fraction, places: int) -> str:
    """A fraction as a decimal, rounded half away from nought, without noughts at the end."""
    scaled = (abs(value) * 10**places * 2 + 1) // 2
    whole, part = divmod(scaled, 10**places)
    digits = f"{part:0{places}d}".rstrip("0") if places else ""
    minus = "-" if value < 0 and scaled else ""
    return f"{minus}{whole}.{digits}" if digits else f"{minus}{whole}"


def fixed(value: Fraction | float, places: int) -> str:
    """A figure to so many places, rounded half away from nought, with its noughts: ``14.0000``, ``−0.1``."""
    exactly = Fraction(value)
    scaled = (abs(exactly) * 10**places * 2 + 1) // 2
    whole, part = divmod(scaled, 10**places)
    minus = "−" if exactly < 0 and scaled else ""
    return f"{minus}{whole}.{part:0{places}d}" if places else f"{minus}{whole}"


def exact(value: Any) -> Fraction:
    """A result as it was before it was a float, so that a half is rounded as in the working."""
    return Fraction(value).limit_denominator(10**7)


def plain_number(value: Fraction) -> int | float:
    """A result as JSON holds it: a count where it is whole."""
    return value.numerator if value.denominator == 1 else float(value)


def dms_text(degrees: Fraction, places: int = 1) -> str:
    """An angle in degrees, minutes and seconds, rounded once: ``4° 17′ 8.6″``, ``45°``, ``54′``."""
    unit = 3600 * 10**places
    parts = (abs(degrees) * unit * 2 + 1) // 2
    whole, rest = divmod(parts, unit)
    minutes, seconds = divmod(rest, unit // 60)
    words = [f"{whole}°"] if whole else []
    if minutes or (words and seconds):
        words.append(f"{minutes}′")
    if seconds:
        words.append(f"{decimal_text(Fraction(seconds, 10**places), places)}″")
    minus = "-" if degrees < 0 and parts else ""
    return minus + (" ".join(words) or "0°")


def move_text(turns: int, holes: int, circle: int) -> str:
    """A move of the crank for people: ``20 in 42``, ``1 turn + 9 in 21``, ``5 turns``."""
    whole = f"{turns} turn{'' if turns == 1 else 's'}"
    if not holes:
        return whole
    spaces = f"{holes} in {circle}"
    return f"{whole} + {spaces}" if turns else spaces


def move_sum(turns: int, holes: int, circle: int) -> str:
    """A move of the crank as a sum that can be worked again: ``3 + 3/39``, ``20/42``, ``5``."""
    if not holes:
        return str(turns)
    return f"{turns} + {holes}/{circle}" if turns else f"{holes}/{circle}"


def bracketed(text: str) -> str:
    """The text in brackets when it is a sum, so that it may be multiplied."""
    return f"({text})" if " + " in text or " - " in text or " − " in text else text


def exact_float(value: float) -> Fraction:
    """A number of the results as a fraction again, for writing it out."""
    return Fraction(value)


def plural(number: int, word: str) -> str:
    """A count with its word: ``1 turn``, ``20 spaces``."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def setting_text(row: Mapping[str, Any]) -> str:
    """A setting as an answer's heading: ``20 spaces in the 42 circle``, ``5 whole turns``."""
    turns, holes = row["turns"], row["holes"]
    if not holes:
        return plural(turns, "whole turn")
    spaces = f"{plural(holes, 'space')} in the {row['circle']} circle"
    return f"{plural(turns, 'turn')} and {spaces}" if turns else spaces
