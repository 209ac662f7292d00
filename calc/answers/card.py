"""What kept sums put on a work card: each its share, all of them together, and what was typed for it."""

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from calc import measures
from calc.answers import card_teeth
from calc.answers.card_joined import clash, joined, listed
from calc.answers.card_operations import OPERATIONS, operations_of
from calc.answers.card_registry import SHARES
from calc.answers.card_shapes import TURNING_CAUTION, CardSum, Shown, Side, Typed, Work
from calc.answers.shapes import units_word
from calc.models import CalculationRecord

__all__ = [
    "OPERATIONS",
    "TURNING_CAUTION",
    "CardSum",
    "Side",
    "Typed",
    "card_sum",
    "clash_of",
    "has_side",
    "is_gear",
    "kind_of",
    "listed",
    "operations_of",
    "place_of",
    "proposed_limits",
    "proposed_passes",
    "read_limits",
    "read_passes",
    "sums_on_a_card",
]

#: Rounds of cutting that a card has boxes for.
MOST_PASSES = 6
_SPLIT = re.compile(r"\s*[,;]\s*|\s{2,}")
_BARE = re.compile(r"\d*\.?\d+")
_LIMITS = re.compile(r"([+-]?\d*\.?\d+)(?:\s*[/,]\s*|\s+)([+-]?\d*\.?\d+)|±\s*(\d*\.?\d+)")
#: Least and most that may lie between the limits of a blank. [mm] common practice, no source
LEAST_BETWEEN, MOST_BETWEEN = Fraction(1, 100), Fraction(5, 2)


def kind_of(record: CalculationRecord) -> Work | None:
    """What work of a card the sum belongs to; None where it has no share in one."""
    return SHARES[record.key].KIND if record.key in SHARES else None


def place_of(record: CalculationRecord) -> str | None:
    """The place it takes on a card, of which there is one: "gear", else its kind."""
    if record.key not in SHARES:
        return None
    own = SHARES[record.key]
    return "gear" if own.ROLE == "gear" else own.KIND


def is_gear(record: CalculationRecord) -> bool:
    """Whether teeth are cut by it in passes, from a blank with limits."""
    return record.key in SHARES and "passes" in SHARES[record.key].ASKS


def has_side(record: CalculationRecord) -> bool:
    """Whether it is of a shaft and what goes on it, so that the card wants to know which the part is."""
    return record.key in SHARES and "side" in SHARES[record.key].ASKS


def card_sum(record: CalculationRecord, typed: Typed | None = None) -> CardSum:
    """The card's share of one kept sum, from what was kept."""
    if record.key not in SHARES:
        raise ValueError(f"A sum of {record.key} has no share in a card.")
    return SHARES[record.key].share(record, typed or Typed())


def sums_on_a_card(records: Sequence[CalculationRecord], typed: Typed) -> CardSum | None:
    """What several kept sums put on one card together; None for no sum."""
    units = {unit for record in records if (unit := SHARES[record.key].unit_of(record))}
    typed = replace(typed, is_mixed=len(units) > 1)
    return joined([_owned(card_sum(record, typed), str(record.pk)) for record in records])


def _owned(share: CardSum, of: str) -> CardSum:
    """The share with the number of its sum on each figure, so that what has no room can be looked up."""
    for one in (*share["figures"], *share["sizes"], *share["tables"]):
        one["of"] = of
    if share["tally"] and share["rounds"]:
        share["tally"]["of"] = of
    return share


def clash_of(records: Sequence[CalculationRecord]) -> str:
    """Why these do not go on one card, for the builder to mend; empty where they do."""
    return clash([(f"sum {record.pk}", card_sum(record)) for record in records])


# ---- what was typed for the card -------------------------------------------------------------------------


def proposed_passes(record: CalculationRecord) -> str:
    """The passes as they may be typed: "0.180, 0.300, 0.3595"."""
    return ", ".join(card_teeth.proposed_passes(record))


def proposed_limits(record: CalculationRecord) -> str:
    """The limits of a blank as they may be typed: "+0 −0.005"."""
    return card_teeth.USUAL_LIMITS[card_teeth.unit_of(record)]


def read_passes(record: CalculationRecord, text: str) -> tuple[str, ...]:
    """Running totals from touch-off as the card prints them; raises EntryError with what is to be done."""
    parts = [part for part in _SPLIT.split(text.strip()) if part]
    if len(parts) == 1 and all(_BARE.fullmatch(word) for word in parts[0].split()):
        parts = parts[0].split()
    if len(parts) > MOST_PASSES:
        raise measures.EntryError(f"A card has room for {MOST_PASSES} passes, and these are {len(parts)}.")
    unit = card_teeth.unit_of(record)
    depths = [measures.parse_length(part, unit).base for part in parts]
    if any(after <= before for before, after in zip([Fraction(0), *depths], depths, strict=False)):
        raise measures.EntryError(
            "Each pass is a running total from touch-off, so each is deeper than the one before it: "
            f"{proposed_passes(record)}."
        )
    full, shown = card_teeth.feed(record), Shown(unit)
    if depths and shown.depth(float(depths[-1])) != full:
        raise measures.EntryError(
            f"The last pass is the full depth, and by sum {record.pk} (the "
            f"{card_teeth.depth_system(record)} system) that is {full}, not {parts[-1]}. "
            f"Write {proposed_passes(record)}, or choose the other sum."
        )
    return (*(shown.step(float(depth)) for depth in depths[:-1]), full) if depths else ()


def read_limits(record: CalculationRecord, text: str) -> str:
    """The limits of a blank as the card prints them; raises EntryError with what is to be done."""
    plain = text.strip().translate(measures.PLAIN_SIGNS)
    if not plain:
        return ""
    unit = card_teeth.unit_of(record)
    found = _LIMITS.fullmatch(plain)
    hint = f"Write both in bare figures, in {units_word(unit)}, as {proposed_limits(record)}."
    if not found:
        raise measures.EntryError(f"I cannot read “{plain[:40]}” as an upper and a lower limit. {hint}")
    ends = (
        [found[3], f"-{found[3]}"] if found[3] else sorted((found[1], found[2]), key=Fraction, reverse=True)
    )
    between = (Fraction(ends[0]) - Fraction(ends[1])) * measures.MILLIMETRES["in" if unit == "inch" else "mm"]
    if not LEAST_BETWEEN <= between <= MOST_BETWEEN:
        least, most = (f"{Shown(unit).fine(float(end))}" for end in (LEAST_BETWEEN, MOST_BETWEEN))
        raise measures.EntryError(
            f"Between the limits of a blank lie {least} to {most} {units_word(unit)}. {hint}"
        )
    return " ".join(_signed(end) for end in ends)


def _signed(figure: str) -> str:
    bare = figure.lstrip("+-")
    return f"−{bare}" if figure.startswith("-") else f"+{bare}"
