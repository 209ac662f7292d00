"""Calc room: tapers and their rates as a builder writes them, with an echo."""

import re
from fractions import Fraction

from calc import measures
from calc.calculation import Input
from calc.kernel.errors import NotInTable
from calc.kernel.tapers import taper_named
from calc.kernel.wording import decimal_text

RATE_HINT = "Write a rate on the diameter such as 1:20, 0.6 in/ft or 50 mm/m."
_RATIO = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(?::|\bin\b)\s*([0-9]+(?:\.[0-9]+)?)", re.IGNORECASE)
_PER = re.compile(r"(.+?)\s*(?:/|\bper\b)\s*(foot|feet|ft|inch|in|metre|mm|m)\.?", re.IGNORECASE)
_LONG = {"foot": "ft", "feet": "ft", "inch": "in", "metre": "m"}


def read_taper(_field: Input, text: str) -> tuple[str, str]:
    """A taper by its name: ``MT2``, ``Jarno 6``, ``B&S 7``."""
    if len(text) > measures.LONGEST:
        raise measures.EntryError(f"That is {len(text)} characters long. Write a name such as MT2.")
    try:
        named = taper_named(text.strip())
    except NotInTable as error:
        raise measures.EntryError(error.message) from error
    return named.name, f"{named.name}, {decimal_text(named.per_foot, 5)} in/ft"


def parse_rate(text: str) -> Fraction:
    """A rate on the diameter: ``1:20``, ``1 in 20``, ``5/8 in/ft``, ``50 mm/m``."""
    if len(text) > measures.LONGEST:
        raise measures.EntryError(f"That is {len(text)} characters long. {RATE_HINT}")
    plain = text.translate(measures.PLAIN_SIGNS).strip()
    ratio = _RATIO.fullmatch(plain)
    if ratio:
        if not Fraction(ratio[2]):
            raise measures.EntryError(f"Nothing can be divided by nought. {RATE_HINT}")
        return Fraction(ratio[1]) / Fraction(ratio[2])
    per = _PER.fullmatch(plain)
    if per is None:
        shown = plain if len(plain) <= 16 else f"{plain[:15]}…"
        raise measures.EntryError(
            f"“{shown}” does not say what it is on: it may be inches to the foot, to the inch, or degrees. "
            f"{RATE_HINT} An angle has its own entry."
        )
    unit = per[2].lower()
    return measures.parse_length(per[1], None).base / measures.MILLIMETRES[_LONG.get(unit, unit)]


def read_rate(rate: Fraction) -> str:
    """How a rate was read: as one in so many, and as inches to the foot."""
    return f"1:{decimal_text(1 / rate, 4)} = {decimal_text(rate * 12, 5)} in/ft"
