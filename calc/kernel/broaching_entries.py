"""Kernel room: what is asked of a keyway that is broached, checked once, and the limits it is checked by."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.keyway_depths import chord_rise
from calc.kernel.keyway_entries import BORE_MM, WIDTH_MM, is_inch_size, is_metric_size, size_text
from calc.kernel.keyway_keys import keys
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text

BORE_REASON = "It is the bore of the hub, as measured: the guide goes into it."
WIDTH_REASON = "It is the width of the keyway, which is that of the broach."
DEPTH_MM = (Fraction(2, 10), Fraction(40))
DEPTH_REASON = "It is measured on the centre line from the top of the bore, and is less than half the key."
RISE_MM = (Fraction(2, 100), Fraction(10))
RISE_REASON = "It is the height of the last tooth less that of the first: look at its unit."
SHIM_MM = (Fraction(1, 100), Fraction(40))
SHIM_REASON = "It is the thickness of one shim behind the broach: look at its unit."
LENGTH_MM = (Fraction(1), Fraction(500))
HUB_REASON = "It is the length that is cut through."
GUIDE_REASON = "It is the length of the guide in the bore."
MOST_SHIMS, MOST_PASSES = 12, 40
#: How far a keyway may be deeper where no standard here has one so wide: the least that any of them allows.
LEAST_ROOM = Fraction(1, 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class Broaching:
    """One keyway to broach, with every entry checked; lengths in millimetres."""

    bore: Fraction
    width: Fraction
    depth: Fraction  # from the crown of the bore
    depth_max: Fraction
    is_max_entered: bool
    limit_from: str  # the standard whose room is used; empty where none has such a key
    rise: Fraction
    shims: tuple[Fraction, ...]
    is_guided: bool  # whether hub and guide were both given

    @property
    def chord_rise(self) -> Fraction:
        return chord_rise(self.bore, self.width)

    @property
    def unit(self) -> Fraction:
        """Millimetres in the unit the sum is worked in."""
        return unit_of_key(self.width)

    def size(self, mm: Fraction) -> str:
        """A size in the unit of the sum, as the builder reads it."""
        return f"{decimal_text(mm, 3)} mm" if self.unit == 1 else f"{decimal_text(mm / INCH, 4)} in"


def unit_of_key(width: Fraction) -> Fraction:
    """A key of whole or half millimetres is worked in millimetres, any other in inches."""
    return Fraction(1) if is_metric_size(width) and not is_inch_size(width) else INCH


def room_of(width: Fraction) -> tuple[str, Fraction]:
    """The standard with the least room for the depth of a hub among those with such a key, and that room."""
    found = [
        (key.hub_depth.high - key.hub_depth.low, name)
        for name in ("bs46", "b17.1", "iso773")
        for key in keys(name)
        if key.width == width and key.hub_depth is not None
    ]
    if not found:
        return "", LEAST_ROOM
    room, name = min(found)
    return name, room


def broaching_of(
    *,
    bore: Fraction,
    key_width: Fraction,
    hub_crown_depth: Fraction,
    rise_per_pass: Fraction,
    shims: Sequence[Fraction] | None,
    hub_length: Fraction | None,
    guide_length: Fraction | None,
    hub_crown_depth_max: Fraction | None,
) -> Broaching:
    """The checked question; raises OutOfRange naming the first entry that breaks a limit."""
    for field, value, limits, reason in (
        ("bore", bore, BORE_MM, BORE_REASON),
        ("key_width", key_width, WIDTH_MM, WIDTH_REASON),
        ("hub_crown_depth", hub_crown_depth, DEPTH_MM, DEPTH_REASON),
        ("rise_per_pass", rise_per_pass, RISE_MM, RISE_REASON),
        ("hub_length", hub_length, LENGTH_MM, HUB_REASON),
        ("guide_length", guide_length, LENGTH_MM, GUIDE_REASON),
        ("hub_crown_depth_max", hub_crown_depth_max, DEPTH_MM, DEPTH_REASON),
        *(("shims", shim, SHIM_MM, SHIM_REASON) for shim in shims or ()),
    ):
        check_within(field, value, limits, " mm", reason)
    _of_size(bore, key_width, hub_crown_depth, hub_crown_depth_max)
    _of_tool(hub_crown_depth, rise_per_pass, shims or ())
    _of_guide(hub_length, guide_length)
    name, room = room_of(key_width)
    return Broaching(
        bore=Fraction(bore),
        width=Fraction(key_width),
        depth=Fraction(hub_crown_depth),
        depth_max=hub_crown_depth + room if hub_crown_depth_max is None else Fraction(hub_crown_depth_max),
        is_max_entered=hub_crown_depth_max is not None,
        limit_from=name,
        rise=Fraction(rise_per_pass),
        shims=tuple(sorted(map(Fraction, shims or ()), reverse=True)),
        is_guided=hub_length is not None and guide_length is not None,
    )


def _of_size(bore: Fraction, width: Fraction, depth: Fraction, most: Fraction | None) -> None:
    if 2 * width > bore:
        raise OutOfRange(
            "key_width", "at most half of the bore", "A wider keyway leaves the guide too little to hold by."
        )
    for field, value in (("hub_crown_depth", depth), ("hub_crown_depth_max", most)):
        if value is not None and value > width:
            raise OutOfRange(
                field,
                "at most the width of the key",
                "It is the depth from the top of the bore: from the size across the bore, take the bore.",
            )
    if most is not None and most < depth:
        raise OutOfRange(
            "hub_crown_depth_max", "at least the depth wanted", "It is the most the depth may come to."
        )


def _of_tool(depth: Fraction, rise: Fraction, shims: Sequence[Fraction]) -> None:
    if depth > MOST_PASSES * rise:
        raise OutOfRange(
            "rise_per_pass",
            f"at least a part in {MOST_PASSES} of the depth",
            "Such a broach would take more passes than anybody makes: look at its unit.",
        )
    if len(shims) > MOST_SHIMS:
        raise OutOfRange("shims", f"at most {MOST_SHIMS} shims", "Name those that come near the cut.")


def _of_guide(hub: Fraction | None, guide: Fraction | None) -> None:
    if hub is not None and guide is not None and hub > guide:
        short = f"{size_text(hub - guide, INCH)} ({size_text(hub - guide, Fraction(1))})"
        raise OutOfRange(
            "hub_length",
            "at most the length of the guide",
            f"The hub is {short} longer than the guide, and the broach would leave it while it still cuts: "
            "take a longer guide, or slot the keyway.",
        )
