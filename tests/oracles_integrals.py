"""Slow second ways by summing small steps, by trying every train of gears, and by another library's units."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import permutations
from math import pi, sqrt, tan

import pint

STEPS = 2000


def summed(function: Callable[[float], float], low: float, high: float, steps: int = STEPS) -> float:
    """The area under a curve by Simpson's rule."""
    width = (high - low) / steps
    inner = sum((4 if place % 2 else 2) * function(low + place * width) for place in range(1, steps))
    return width / 3 * (function(low) + inner + function(high))


def involute_summed(angle: float) -> float:
    """The involute grows by the square of the tangent. [radian]"""
    return summed(lambda one: tan(one) ** 2, 0.0, angle)


def swept(base: float, radius: float) -> float:
    """How far round a flank has gone from its base circle out to a radius, step by step. [radian]

    The string is square to the flank, so a step out of dr goes round by dr √(r² − base²) / (base r).
    """
    return summed(lambda at: sqrt(max(0.0, at**2 - base**2)) / (base * at), base, radius)


def span_summed(teeth: int, angle: float, thickness: float, over: int) -> float:
    """Span of a gear of module 1: base pitches and the tooth at the base circle, as the flank sweeps back."""
    pitch = teeth / 2
    base = pitch / sqrt(1 + tan(angle) ** 2)
    tooth = base * (thickness / pitch + 2 * swept(base, pitch))
    return (over - 1) * 2 * pi * base / teeth + tooth


def trains(gears: Sequence[int]) -> set[Fraction]:
    """What one pair or two pairs of the gears owned can make, each gear on one place only."""
    one = {Fraction(a, b) for a, b in permutations(gears, 2)}
    return one | {Fraction(a * c, b * d) for a, b, c, d in permutations(gears, 4)}


def can_be_geared(divisions: int, ratio: int, faces: Sequence[Sequence[int]], made: set[Fraction]) -> bool:
    """Whether any move on any circle leaves the plate a turn that the gears make, to six turns of it."""
    for circle in {circle for face in faces for circle in face}:
        for holes in range(1, 2 * circle):
            plate = ratio - divisions * Fraction(holes, circle)
            if plate and abs(plate) <= 6 and abs(plate) in made:
                return True
    return False


def cutter_lows(smallest: int, cutters: int, largest: int) -> list[float]:
    """Where the ranges of an even set of cutters begin: Modern Machine-Shop Practice, 1887, its rule."""
    return [smallest * cutters / (cutters - s + smallest * s / largest) for s in range(cutters)]


_PINT: list[pint.UnitRegistry] = []
#: The names of units by the other library.
NAMES = {
    "N m": "newton * meter", "kN m": "kilonewton * meter", "N mm": "newton * millimeter",
    "lbf ft": "force_pound * foot", "lbf in": "force_pound * inch",
    "W": "watt", "kW": "kilowatt", "hp": "horsepower",
    "MPa": "megapascal", "N/cm²": "newton / centimeter ** 2", "GPa": "gigapascal", "psi": "psi",
    "ksi": "ksi", "tonf/in²": "2240 * force_pound / inch ** 2",
    "turns a minute": "revolution / minute", "turns a second": "revolution / second",
    "m/min": "meter / minute", "ft/min": "foot / minute", "m/s": "meter / second",
    "kg": "kilogram", "g": "gram", "tonne": "metric_ton", "lb": "pound", "oz": "ounce",
    "cwt": "long_hundredweight", "ton": "long_ton", "short ton": "short_ton",
    "kg/m³": "kilogram / meter ** 3", "g/cm³": "gram / centimeter ** 3", "lb/in³": "pound / inch ** 3",
    "lb/ft³": "pound / foot ** 3",
}  # fmt: skip


def worth_by_pint(unit: str, base: str) -> float:
    """How much of the base unit one of a unit is."""
    if not _PINT:
        _PINT.append(pint.UnitRegistry())
    registry = _PINT[0]
    return float(registry.parse_expression(NAMES[unit]).to(NAMES[base]).magnitude)
