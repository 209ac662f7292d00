"""Kernel room: the depth of a keyway by its three datums, in shaft and hub, and the limits of its width."""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import isqrt

from calc.kernel.fit_symbols import read_symbol
from calc.kernel.fit_zones import zone
from calc.kernel.keyway_entries import Keyway
from calc.kernel.keyway_keys import Depth, Key, Limits

#: Widths of the keyway in shaft and hub by class of fit: symbols of ISO 286, as BS 4235 names them.
ISO_WIDTHS = {"free": ("H9", "D10"), "normal": ("N9", "JS9"), "close": ("P9", "P9")}
ISO_KEY = "h9"

_ROOT_PLACES = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The keyway in the shaft or in the hub; each size as worked to, least and most. [mm]"""

    place: str  # "shaft" or "hub"
    work: Fraction  # diameter of the shaft or bore
    rise: Fraction
    side: Fraction
    side_max: Fraction
    crown: Fraction
    crown_max: Fraction

    @property
    def over(self) -> Fraction:
        """Over the work, at the lower limit of the depth."""
        return self._over(self.crown)

    @property
    def over_limits(self) -> Limits:
        """Least and most over the work: a deeper keyway is less over a shaft and more across a bore."""
        ends = sorted((self._over(self.crown), self._over(self.crown_max)))
        return Limits(ends[0], ends[1])

    def _over(self, crown: Fraction) -> Fraction:
        return self.work - crown if self.place == "shaft" else self.work + crown


def root(value: Fraction) -> Fraction:
    """A square root: exact where there is an exact one, else to twenty places below the unit."""
    top, bottom = value.numerator, value.denominator
    scale = 10**_ROOT_PLACES
    return Fraction(isqrt(top * bottom * scale**2), bottom * scale)


def chord_rise(diameter: Fraction, width: Fraction) -> Fraction:
    """How far the circle stands above the corners of a keyway. [mm]"""
    return (diameter - root(diameter**2 - width**2)) / 2


def side_of(place: str, work: Fraction, width: Fraction, depth: Depth) -> Side:
    """Side and crown depth from the one the table gives: the crown of a shaft is deeper, of a bore less."""
    rise = chord_rise(work, width)
    more = rise if place == "shaft" else -rise
    to_side = Fraction(0) if depth.datum == "side" else -more
    low, high = depth.low + to_side, depth.high + to_side
    return Side(
        place=place,
        work=work,
        rise=rise,
        side=low,
        side_max=high,
        crown=low + more,
        crown_max=high + more,
    )


def with_iso_widths(key: Key, fit: str) -> Key:
    """An ISO key with the limits of width that ISO 286 gives its class of fit."""
    shaft, hub = ISO_WIDTHS[fit]
    return replace(
        key,
        key_width=_zone("shaft", ISO_KEY, key.width),
        shaft_width=_zone("hole", shaft, key.width),
        hub_width=_zone("hole", hub, key.width),
    )


def _zone(side: str, symbol: str, width: Fraction) -> Limits:
    found = zone(read_symbol(side, symbol), width)
    return Limits(found.lower, found.upper)


def sides(task: Keyway, key: Key) -> tuple[Side, Side] | None:
    """The keyway in shaft and hub; None where the standard's depths were not read."""
    if key.shaft_depth is None or key.hub_depth is None:
        return None
    return (
        side_of("shaft", task.shaft, key.width, key.shaft_depth),
        side_of("hub", task.bore, key.width, key.hub_depth),
    )
