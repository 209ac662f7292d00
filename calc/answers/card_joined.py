"""Several kept sums on one card: what comes first, and what does not go together."""

from collections.abc import Sequence
from typing import cast

from calc.answers.card_shapes import (
    CUTTER_CAUTION,
    TOLD_BY_THE_TALLY,
    TURNING_BESIDE,
    TURNING_CAUTION,
    CardSum,
    Work,
)
from calc.sheets import BigFigure, Say, Tally, tally_note

#: The kinds as a builder calls them; whose work names the card comes first.
KIND_WORDS: dict[Work, str] = {
    "spur-gear": "a spur gear",
    "dividing": "dividing",
    "fit": "a fit",
    "keyway": "a keyway",
}
#: What the head is set to, to be written in by hand where no dividing is on the card of a gear.
UNSET: list[BigFigure] = [
    {"label": "Index, turn one way only", "value": "", "rank": 10},
    {"label": "Sector arms, pin’s hole counted", "value": "", "unit": "holes", "rank": 11},
]


def listed(words: Sequence[str]) -> str:
    """Words in a row: "33", "33 and 34", "33, 34 and 36"."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def clash(shares: Sequence[tuple[str, CardSum]]) -> str:
    """Why these sums do not go on one card; empty where they do."""
    for kind, words in KIND_WORDS.items():
        same = [name for name, share in shares if share["kind"] == kind]
        if len(same) > 1:
            one = "All" if len(same) > 2 else "Both"
            return (
                f"{one} of {listed(same)} are of {words}: a card takes one of each kind. Untick all but one."
            )
    found = {share["kind"]: (name, share) for name, share in shares}
    if "dividing" in found and "spur-gear" in found:
        (first, divided), (second, gear) = found["dividing"], found["spur-gear"]
        if divided["count"] != gear["count"]:
            return (
                f"{first.capitalize()} is of {divided['work']} and {second} of {gear['work']}: "
                "cut by both, the wheel would be scrap. Untick one, or work the dividing out for the teeth."
            )
    return ""


def joined(shares: Sequence[CardSum]) -> CardSum | None:
    """One share of them all, the gear's work first."""
    kinds = list(KIND_WORDS)
    ordered = sorted(shares, key=lambda share: kinds.index(share["kind"]))
    if not ordered:
        return None
    by_kind = {share["kind"]: share for share in ordered}
    gear, divided = by_kind.get("spur-gear"), by_kind.get("dividing")
    first = ordered[0]
    return first | {
        "work": ", ".join(share["work"] for share in ordered if share is not divided or not gear),
        "operation": _operation([share for share in ordered if share is not divided or not gear]),
        "head": divided["head"] if divided else "",
        "figures": _figures(ordered, gear, divided),
        "proof": _proof(gear, divided) or first["proof"],
        "notes": [note for share in ordered for note in share["notes"]],
        "plate": divided["plate"] if divided else None,
        "picture": next((share["picture"] for share in ordered if share["picture"]), None),
        "tally": _tally(gear, divided),
        "stops": _stops(gear, divided) or first["stops"],
        "sizes": [size for share in ordered for size in share["sizes"]],
        "units": _units(ordered),
        "cautions": _cautions(ordered),
    }


def _operation(shares: Sequence[CardSum]) -> str:
    first, *rest = (", ".join(filter(None, (one["operation"], one["rounds"]))) for one in shares)
    return "; ".join([first, *(text[:1].lower() + text[1:] for text in rest)])


def _figures(ordered: Sequence[CardSum], gear: CardSum | None, divided: CardSum | None) -> list[BigFigure]:
    """The figures of all by their rank; the paper leaves off from the end where it has no room.

    First come the head's, then the gear's in the order they are used, the limits of a fit, the keyway.
    What the tally tells as well is printed only where the dividing has the card to itself.
    """
    figures = [figure for share in ordered for figure in share["figures"]]
    if gear and not (divided and divided["figures"]):
        figures += UNSET
    if len(ordered) > 1 and divided and divided["tally"]:
        figures = [figure for figure in figures if _rank(figure) < TOLD_BY_THE_TALLY]
    return sorted(figures, key=_rank)


def _rank(figure: BigFigure) -> int:
    return figure.get("rank", 0)


def _proof(gear: CardSum | None, divided: CardSum | None) -> Say | None:
    if not gear or not divided or not divided["proof"]:
        return (divided or gear or {"proof": None})["proof"]
    counted = cast(Say, gear["proof"])
    return {"strong": divided["proof"]["strong"], "text": f"{counted['strong']} {counted['text']}"}


def _tally(gear: CardSum | None, divided: CardSum | None) -> Tally | None:
    """The dividing knows the holes, the gear how many rounds are cut."""
    if not gear or not gear["tally"]:
        return divided["tally"] if divided else None
    if not divided or not divided["tally"]:
        return gear["tally"]
    made: Tally = {**divided["tally"], "note": tally_note(divided["tally"]["count"], "tooth")}
    made["passes"] = gear["tally"].get("passes", 0)
    if of := gear["tally"].get("of"):
        made["of"] = of
    return made


def _stops(gear: CardSum | None, divided: CardSum | None) -> str:
    if gear and divided and divided["stops"]:
        return divided["stops"].replace("end of a round", gear["stops"])
    return ""


def _cautions(shares: Sequence[CardSum]) -> list[str]:
    """Each caution once; that for turning is shorter beside the one for a cutter."""
    said = dict.fromkeys(one for share in shares for one in share["cautions"])
    if CUTTER_CAUTION in said:
        return [TURNING_BESIDE if one == TURNING_CAUTION else one for one in said]
    return list(said)


def _units(shares: Sequence[CardSum]) -> str:
    units = dict.fromkeys(share["units"] for share in shares if share["units"])
    return next(iter(units), "") if len(units) < 2 else "as marked"
