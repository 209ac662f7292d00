"""What was really made, on a work card: the sizes to measure, and what the part has to suit."""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from buildlog.made import ToSuit
from buildlog.models import Characteristic, Part
from calc.sheets import Block, Say, SizeWanted

#: Limits longer than this are cut short in the column of sizes, where a cut figure could be read as another.
LONG_LIMITS = 18


class Asked(NamedTuple):
    """The characteristics of a part, as a card says them."""

    sizes: list[SizeWanted]
    lines: list[Say]  # limits that are too long to stand beside their size
    named: set[Fraction]  # [mm]


def asked_sizes(part: Part) -> Asked:
    """The characteristics of a part, in their order."""
    sizes = list(part.characteristics.all())
    lines: list[Say] = [
        {"strong": f"{size.name}: {size.wanted}.", "text": ""} for size in sizes if _is_long(size)
    ]
    return Asked([_wanted(size) for size in sizes], lines, {size.nominal_mm for size in sizes})


def _wanted(size: Characteristic) -> SizeWanted:
    """The size with its limits before its name: where there is no room for both, the name is cut short."""
    limits = "limits at the left," if _is_long(size) else _short(size)
    return {"wanted": size.nominal_shown, "note": " ".join(filter(None, (limits, size.name)))}


def _short(size: Characteristic) -> str:
    return size.limits.replace(" / ", "/")


def _is_long(size: Characteristic) -> bool:
    return len(_short(size)) > LONG_LIMITS


def with_suits(block: Block | None, suits: Sequence[ToSuit]) -> Block | None:
    """The block of mates with the first of their concessions shouted, and its figure where there is room."""
    if block is None or not suits:
        return block
    return {**block, "boxed": suits[0].concession.key, "text": block.get("text") or suits[0].words}


def suit_notes(suits: Sequence[ToSuit]) -> list[Say]:
    """A line to each departure: `C-009: make to suit 1.2530 measured 3 May`, and of what."""
    return [
        {
            "strong": f"{suit.concession.key}: {suit.words}.",
            "text": f"{suit.concession.part.key} {suit.reading.characteristic.name}, "
            f"{suit.reading.characteristic.wanted} as drawn; {suit.concession.decided_words.lower()}.",
        }
        for suit in suits
    ]
