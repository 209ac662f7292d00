"""Calc room: what a casting shrinks by, as typed: inches to the foot unless it says otherwise."""

import re
from fractions import Fraction

from calc import measures
from calc.kernel.wording import decimal_text, mixed_text

HINT = "Write inches to the foot of casting such as 3/32 or 1/8 in/ft, or 1 %."
_PER = re.compile(r"(.+?)\s*(?:/|\bper\b|\bto\s+the\b|\bto\b)\s*(foot|ft|metre|m)\.?")
_SHARE = re.compile(r"(.+?)\s*(?:%|per\s?cent)\.?")
_RATIO = re.compile(r"1\s*(?::|\bin\b)\s*([0-9]+(?:\.[0-9]+)?)")


def parse_contraction(text: str) -> Fraction:
    """A contraction in inches to the foot: ``3/32``, ``1/8 in/ft``, ``10 mm/m``, ``1 %``, ``1 in 96``."""
    if len(text) > measures.LONGEST:
        raise measures.EntryError(f"That is {len(text)} characters long. {HINT}")
    plain = " ".join(text.translate(measures.PLAIN_SIGNS).lower().split())
    per, share, ratio = _PER.fullmatch(plain), _SHARE.fullmatch(plain), _RATIO.fullmatch(plain)
    if ratio is not None:
        if not Fraction(ratio[1]):
            raise measures.EntryError(f"Nothing can be divided by nought. {HINT}")
        return 12 / Fraction(ratio[1])
    if share is not None:
        return measures.parse_number(share[1]).value * 12 / 100
    if per is None or measures.NUMBER.fullmatch(plain):
        return _inches(plain)
    metre = per[2] in ("metre", "m")
    whole = measures.MILLIMETRES["m" if metre else "ft"]
    return measures.parse_length(per[1], None if metre else "inch").base / whole * 12


def _inches(plain: str) -> Fraction:
    """Bare, or in inches, it is to the foot; a metric length does not say what it is on."""
    measure = measures.parse_length(plain, "inch")
    if measure.unit not in measures.INCH_UNITS:
        raise measures.EntryError(
            f"{measure.typed()} does not say what it is on. Write 10 mm/m, or 1/8 in/ft."
        )
    return measure.base / measures.MILLIMETRES["in"]


def read_contraction(contraction: Fraction) -> str:
    """How it was read: ``3/32 in/ft = 0.78125 %``."""
    parts = (*measures.RULE_PARTS, 6, 12)
    figure = mixed_text(contraction) if contraction.denominator in parts else decimal_text(contraction, 5)
    return f"{figure} in/ft = {decimal_text(contraction / 12 * 100, 5)} %"
