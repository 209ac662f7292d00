"""Scale, weight and castings, by slow and obvious second ways."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from math import cos, pi, radians, sqrt, tan

import pint

UNITS = pint.UnitRegistry()
STRIPS = 4000


def rule_size(full_inches: Fraction, inches_to_foot: Fraction) -> Fraction:
    """A size laid off with a scale rule: so many inches to each foot, a twelfth of that to each inch."""
    feet, inches = divmod(full_inches, 12)
    return feet * inches_to_foot + inches * inches_to_foot / 12


def next_up(sizes: Sequence[Decimal], wanted: Decimal) -> Decimal | None:
    """The first of the sizes in rising order that is not below."""
    for size in sorted(sizes):
        if size >= wanted:
            return size
    return None


def half_width(form: str, across: float, inside: float, y: float) -> float:
    """Half of the metal met by a level line at a height over the middle of a section."""
    half = across / 2
    if form in ("square", "flat"):
        return half
    if form == "hexagon":
        # Flats left and right: the corners are above and below.
        corner = half / cos(radians(30))
        return min(half, max(0.0, (corner - abs(y)) / tan(radians(30))))
    outer = sqrt(max(0.0, half**2 - y**2))
    return outer - sqrt(max(0.0, (inside / 2) ** 2 - y**2))


def area_by_strips(form: str, across: float, thickness: float = 0.0, inside: float = 0.0) -> float:
    """The area of a section, added up in thin level strips."""
    high = {"flat": thickness, "square": across, "hexagon": across / cos(radians(30))}.get(form, across)
    thin = high / STRIPS
    levels = (-high / 2 + (place + 0.5) * thin for place in range(STRIPS))
    return sum(2 * half_width(form, across, inside, y) * thin for y in levels)


def rim_by_turning(across: float, inside: float, length: float) -> float:
    """The volume of a rim by its middle circle (the theorem of Pappus)."""
    wall = (across - inside) / 2
    return pi * (inside + wall) * wall * length


def in_unit(kilograms: float, unit: str) -> float:
    """A mass in another unit, by a library of units."""
    return float(UNITS.Quantity(kilograms, "kg").to(unit).magnitude)


def with_contraction_rule(casting: Fraction, inches_to_foot: Fraction) -> Fraction:
    """A pattern measured with a rule on which every foot is that much longer."""
    return casting / 12 * (12 + inches_to_foot)


def cooled(pattern: Fraction, inches_to_foot: Fraction) -> Fraction:
    """The casting of a pattern: so many feet of casting, each of which was that much longer when it set."""
    return pattern * 12 / (12 + inches_to_foot)


#: Contractions as each book prints them: metal, book, inches to the foot.
PRINTED: Mapping[tuple[str, str], str] = {
    ("cast-iron", "1919"): "3/32",
    ("cast-iron", "Text-Book"): "1/8",
    ("aluminium", "1919"): "7/32",
    ("aluminium", "patternmaking"): "5/32",
    ("bronze", "1919"): "5/32",
    ("bronze", "patternmaking"): "3/16",
}
