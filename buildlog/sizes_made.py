"""Sizes asked for and sizes got: limits and readings as typed, and the judgement between them, exact."""

import re
from dataclasses import dataclass
from fractions import Fraction

from calc.measures import INCH_UNITS, MILLIMETRES, PLAIN_SIGNS, SHOWN_UNITS, EntryError, Measure
from calc.measures import parse_length as _parse_length
from calc.measures import parse_number as _parse_number

#: A bare reading further from the size as drawn than this many times was made in another unit, or is a
#: slip. Between inches and millimetres lie 25.4, and five is about half of the way in proportion.
FAR = 5
#: The longest a size of such an engine can be. [mm]
LONGEST_MM = 100_000
#: Decimals that a difference is told to, by the unit it is told in.
_PLACES = {"in": 5, "ft": 6, "thou": 2, "mm": 4, "cm": 5, "m": 7, "um": 1}


@dataclass(frozen=True, slots=True)
class Judged:
    """A reading held to its limits: whether it is in, the mark for it, and the words."""

    is_in: bool | None  # None where there is no limit to hold it to
    words: str

    @property
    def is_out(self) -> bool:
        return self.is_in is False

    @property
    def mark(self) -> str:
        return {True: "ok", False: "no", None: ""}[self.is_in]

    @property
    def ink(self) -> str:
        return {True: "is-done", False: "is-stop", None: "is-open"}[self.is_in]


def judged(value: Fraction, *, lower: Fraction | None, upper: Fraction | None, unit: str) -> Judged:
    """Hold a size to its limits, all in millimetres; a size that is on a limit is in."""
    if upper is not None and value > upper:
        return Judged(False, f"out: {_told(value - upper, unit)} over the upper limit")
    if lower is not None and value < lower:
        return Judged(False, f"out: {_told(lower - value, unit)} under the lower limit")
    if upper is None and lower is None:
        return Judged(None, "no limits to judge by")
    return Judged(True, "within limits")


def _told(difference: Fraction, unit: str) -> str:
    """A difference in the unit of the drawing; one too small to be written is still told."""
    places = _PLACES[unit]
    figure = f"{float(difference / MILLIMETRES[unit]):.{places}f}".rstrip("0").rstrip(".")
    if figure == "0":
        return f"less than {10**-places:.{places}f} {_sign(unit)}"
    return f"{figure} {_sign(unit)}"


def _sign(unit: str) -> str:
    return SHOWN_UNITS.get(unit, unit)


def shown(typed: str, unit: str) -> str:
    """A figure as it was typed, its unit after it where it was typed bare."""
    return typed if re.search(r"[a-zµμ\"'″′”’]", typed, re.IGNORECASE) else f"{typed} {_sign(unit)}"


def read_nominal(text: str, *, inches: bool) -> Measure:
    """The size as drawn; bare, it is in the unit of the build.

    Raises
    ------
    EntryError
        It is no length, is below nought, or is longer than an engine.
    """
    read = _parse_length(text, "inch" if inches else "mm")
    if read.value < 0:
        raise EntryError(f"{read.typed()} is below nought. Write the size as drawn, as 1.1250 in.")
    _refuse_long(read)
    return read


def read_limit(text: str, nominal: Measure) -> Fraction:
    """A limit in millimetres: with a sign before it, or nought, a deviation; without, a limit of size.

    Raises
    ------
    EntryError
        It cannot be read, or it could be meant either way.
    """
    read = _in_unit_of(text, nominal.unit)
    is_deviation = text.translate(PLAIN_SIGNS).strip()[:1] in "+-" or not read.value
    if is_deviation or not nominal.value:
        return nominal.base + read.base
    if not nominal.base / 2 <= read.base <= nominal.base * 2:
        raise EntryError(
            f"Is {read.typed()} more than the size, or less? Write +{read.figures} or -{read.figures}; "
            f"or the limit itself, near {nominal.typed()}."
        )
    return read.base


def read_reading(text: str, *, unit: str, about: Fraction) -> Measure:
    """A reading; bare, it is in the unit of the drawing, unless that can hardly be meant.

    Parameters
    ----------
    text : str
        As it was typed.
    unit : str
        The unit of the size as drawn.
    about : Fraction
        The size it should be about. [mm]

    Raises
    ------
    EntryError
        It cannot be read, is below nought, or is bare and far from the size as drawn.
    """
    read = _in_unit_of(text, unit)
    if read.value < 0:
        raise EntryError(f"{read.typed()} is below nought. Write the size that was measured.")
    _refuse_long(read)
    is_bare = shown(text, unit) != text
    if is_bare and read.value and about and not about / FAR <= read.base <= about * FAR:
        other = "mm" if unit in INCH_UNITS else "in"
        raise EntryError(
            f"Is {read.figures} in {_named(unit)} or in {_named(other)}? It is far from the size as drawn. "
            f"Write {read.figures} {_sign(unit)} or {read.figures} {other}."
        )
    return read


def _named(unit: str) -> str:
    return {"in": "inches", "mm": "millimetres", "ft": "feet"}.get(unit, _sign(unit))


def _in_unit_of(text: str, unit: str) -> Measure:
    """A length; a bare one is in the unit given."""
    try:
        bare = _parse_number(text)
    except EntryError:
        return _parse_length(text, "inch" if unit in INCH_UNITS else "mm")
    return Measure(text, bare.value, unit, bare.figures)


def _refuse_long(read: Measure) -> None:
    if read.base > LONGEST_MM:
        raise EntryError(f"{read.typed()} is longer than anything on an engine. Is the unit a slip?")
