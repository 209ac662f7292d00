"""Kernel room: Woodruff keys of B17.2 by their number, and the one that a shaft is given."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.keyway_depths import chord_rise
from calc.kernel.keyway_entries import WOODRUFF, Keyway, inch_text, size_text
from calc.kernel.keyway_keys import Depth, Key, Limits
from calc.kernel.tables import read_table
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text

#: What a hub is cut deeper than half the width of a Woodruff key.
HUB_CLEARANCE = Fraction(6, 1000) * INCH
#: How much deeper than its size a Woodruff keyseat may come out.
DEEPER = Fraction(5, 1000) * INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Woodruff:
    """What a half-moon key has besides its width and its depths; lengths in millimetres."""

    number: str  # as stamped: "404", "202.5"
    diameter: Fraction  # B, of the circle it is cut from; so of the cutter
    height: Limits  # C
    flat: Fraction  # E, from the centre of the circle down to the flat
    suits: Limits | None  # shafts it suits; None where not read
    shaft_is_read: bool  # the depth in the shaft was read; else it is worked out
    hub_is_read: bool


@lru_cache(maxsize=1)
def woodruff_keys() -> tuple[tuple[Woodruff, Key], ...]:
    """Every key of the table, by its number."""
    found = [_row(row) for row in map(dict, read_table("b17_2", "keys").rows)]
    return tuple(sorted(found, key=lambda one: Fraction(one[0].number)))


def woodruff_in_use(task: Keyway) -> tuple[Woodruff, Key]:
    """The key of the number entered, or the only one that the shaft takes.

    Raises
    ------
    NotInTable
        There is no key of that number, or none for the shaft, or there are several.
    OutOfRange
        The seat of that key would reach the middle of the shaft.
    """
    found = _by_number(task) if task.key_number is not None else _only_one(task)
    kind, key = found
    if task.key_width not in (None, key.width):
        raise OutOfRange(
            "key_width",
            f"{size_text(key.width, INCH)} with the key {kind.number}",
            "The number tells the width of a Woodruff key: leave the width empty.",
        )
    if not _has_room(key, task.shaft):
        raise OutOfRange(
            "key_number",
            f"a key whose seat stays clear of the middle of the shaft; {kind.number} is "
            f"{inch_text(key.width)} in wide and {inch_text(kind.diameter)} in across",
            f"For this shaft these suit: {_listed(task)}.",
        )
    return found


def _has_room(key: Key, shaft: Fraction) -> bool:
    """Whether the seat at its deepest stays clear of the middle of the shaft."""
    assert key.shaft_depth
    if 2 * key.width > shaft:
        return False
    return 2 * (key.shaft_depth.high + chord_rise(shaft, key.width)) < shaft


def _by_number(task: Keyway) -> tuple[Woodruff, Key]:
    number = decimal_text(task.key_number or Fraction(0), 4)
    for kind, key in woodruff_keys():
        if kind.number == number:
            return kind, key
    raise NotInTable(
        "key_number",
        f"B17.2 as read has no Woodruff key {number}. The last two figures are the diameter in eighths, "
        f"those before them the width in thirty-seconds of an inch. For this shaft: {_listed(task)}.",
    )


def _only_one(task: Keyway) -> tuple[Woodruff, Key]:
    suitable = _suitable(task)
    if not suitable:
        raise NotInTable(
            "key_number",
            f"No Woodruff key is tabled as suiting a shaft of {size_text(task.shaft, INCH)}: shafts of "
            "5/16 in to 2 5/8 in have them. Enter the number of the key to take one all the same.",
        )
    if len(suitable) > 1:
        raise NotInTable(
            "key_number",
            f"A shaft of {size_text(task.shaft, INCH)} takes several Woodruff keys: {_listed(task)}. "
            "Enter the number on the drawing, or measure the key: its width, and its circle across.",
        )
    return suitable[0]


def _suitable(task: Keyway) -> list[tuple[Woodruff, Key]]:
    return [
        (kind, key)
        for kind, key in woodruff_keys()
        if kind.suits
        and kind.suits.low <= task.shaft <= kind.suits.high
        and task.key_width in (None, key.width)
        and _has_room(key, task.shaft)
    ]


def _listed(task: Keyway) -> str:
    """The keys a shaft takes, as a builder asks for them: ``404 (1/8 × 1/2)``."""
    sizes = [
        f"{kind.number} ({inch_text(key.width)} × {inch_text(kind.diameter)} in)"
        for kind, key in _suitable(task)
    ]
    return ", ".join(sizes) or "none is tabled"


def _row(row: dict[str, str]) -> tuple[Woodruff, Key]:
    width, least, most = (_inches(row[name]) for name in ("W", "C_min", "C_max"))
    seat = _inches(row["shaft_depth"]) if row["shaft_depth"] else least - width / 2
    hub = _inches(row["hub_depth"]) if row["hub_depth"] else width / 2 + HUB_CLEARANCE
    suits = Limits(_inches(row["shaft_from"]), _inches(row["shaft_to"])) if row["shaft_from"] else None
    kind = Woodruff(
        number=row["key_no"],
        diameter=_inches(row["B"]),
        height=Limits(least, most),
        flat=_inches(row["E"]),
        suits=suits,
        shaft_is_read=row["shaft_depth_origin"] == "read",
        hub_is_read=row["hub_depth_origin"] == "read",
    )
    key = Key(
        standard="b17.1",
        section=WOODRUFF,
        over=suits.low if suits else Fraction(0),
        upto=suits.high if suits else Fraction(0),
        width=width,
        height=most,
        shaft_depth=Depth(seat, seat + DEEPER, "side"),
        hub_depth=Depth(hub, hub + DEEPER, "side"),
    )
    return kind, key


def _inches(text: str) -> Fraction:
    """A cell in inches, decimal or as a fraction. [mm]"""
    return sum((Fraction(part) for part in text.split()), Fraction()) * INCH
