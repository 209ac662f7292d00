"""Calc room: scales as a builder writes them: a ratio, a share of full size, inches to the foot."""

import re
from fractions import Fraction

from calc import measures
from calc.kernel.wording import decimal_text, mixed_text

HINT = "Write a scale such as 1:6, or 3 in to the foot."
_RATIO = re.compile(r"(.+?)\s*(?::|\bto\b|\bin\b)\s*([0-9]+(?:\.[0-9]+)?)")
_PER = re.compile(r"(.+?)\s*(?:/|=|\bper\b|\bto\b)\s*(?:the\b|a\b|1)?\s*(foot|feet|ft|metre|m|')\.?")
_FOOT = measures.MILLIMETRES["ft"]
#: A ratio with a longer figure in it is shown as one in so many.
_LONGEST_RATIO = 1000


def parse_scale(text: str) -> Fraction:
    """A scale as model over full size: ``1:6``, ``3:8``, ``1/4``, ``3 in to the foot``, ``3"/ft``."""
    if len(text) > measures.LONGEST:
        raise measures.EntryError(f"That is {len(text)} characters long. {HINT}")
    plain = re.sub(r"\bscale\b", "", text.translate(measures.PLAIN_SIGNS), flags=re.IGNORECASE)
    plain = " ".join(plain.lower().split())
    if not plain:
        raise measures.EntryError(f"Nothing is entered. {HINT}")
    per, ratio = _PER.fullmatch(plain), _RATIO.fullmatch(plain)
    if per is not None:
        return _more_than_nought(_per(per[1], per[2]), plain)
    if ratio is not None and measures.NUMBER.fullmatch(ratio[1].strip()):
        return _more_than_nought(_ratio(ratio[1], ratio[2]), plain)
    if measures.NUMBER.fullmatch(plain):
        return _more_than_nought(_bare(plain), plain)
    return _more_than_nought(_to_the_foot(plain), plain)


def _per(figure: str, long: str) -> Fraction:
    """So much to the foot, or to the metre; a bare figure to the foot is of inches."""
    metre = long in ("metre", "m")
    whole = measures.MILLIMETRES["m"] if metre else _FOOT
    return measures.parse_length(figure, None if metre else "inch").base / whole


def _ratio(one: str, many: str) -> Fraction:
    top, bottom = measures.parse_number(one).value, Fraction(many)
    if not bottom:
        raise measures.EntryError(f"Nothing can be divided by nought. {HINT}")
    if top > bottom:
        raise measures.EntryError(
            f"At {one.strip()}:{many} the model would be greater than the engine: write 1:6 for a sixth."
        )
    return top / bottom


def _bare(plain: str) -> Fraction:
    """A bare figure: a share of full size below one; above, it may be two things."""
    value = measures.parse_number(plain).value
    if value < 1:
        return value
    figure, ratio = mixed_text(value), f"1:{decimal_text(value, 4)}"
    if value > 12:
        raise measures.EntryError(f"{figure} alone is no scale: write {ratio} if that is meant.")
    foot = f"{figure} in to the foot, which is 1:{decimal_text(12 / value, 4)}"
    raise measures.EntryError(f"{figure} may be two things: write {foot}, or {ratio}.")


def _to_the_foot(plain: str) -> Fraction:
    """Inches alone are to the foot; a metric length does not say what it is on."""
    measure = measures.parse_length(plain, None)
    if measure.unit not in measures.INCH_UNITS:
        shown = measure.typed()
        raise measures.EntryError(
            f"{shown} may be to the foot or to the metre: write {shown} to the foot or {shown}/m."
        )
    return measure.base / _FOOT


def _more_than_nought(scale: Fraction, plain: str) -> Fraction:
    if scale <= 0:
        raise measures.EntryError(f"“{plain[:16]}” is no scale: it must be more than nought. {HINT}")
    return scale


def read_scale(scale: Fraction) -> str:
    """How a scale was read: as a ratio and in inches to the foot."""
    return f"{ratio_text(scale)} = {foot_text(scale)} in to the foot"


def ratio_text(scale: Fraction) -> str:
    """A scale as a ratio: ``1:4``, ``3:8``, ``1:10.1234``."""
    if scale.denominator <= _LONGEST_RATIO:
        return f"{scale.numerator}:{scale.denominator}"
    return f"1:{decimal_text(1 / scale, 4)}"


def foot_text(scale: Fraction) -> str:
    """Inches to the foot: ``3``, ``1 1/2``, ``0.9449``."""
    inches = scale * 12
    return mixed_text(inches) if inches.denominator in measures.RULE_PARTS else decimal_text(inches, 4)
