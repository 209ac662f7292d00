"""Several kept sums on one card: what comes first, and what does not go together."""

from collections.abc import Sequence

from calc.answers.card_registry import KIND_WORDS
from calc.answers.card_shapes import (
    CUTTER_CAUTION,
    TOLD_BY_THE_TALLY,
    TURNING_BESIDE,
    TURNING_CAUTION,
    CardSum,
)
from calc.answers.card_teeth import SPEED
from calc.sheets import BigFigure, Say, Tally, tally_note

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
    gears = [(name, share) for name, share in shares if share["role"] == "gear"]
    if len(gears) > 1:
        named = [f"{name} is of {KIND_WORDS[share['kind']]}" for name, share in gears]
        return f"{listed(named).capitalize()}: a card takes one gear. Untick all but one."
    divided = next(((name, share) for name, share in shares if share["role"] == "dividing"), None)
    if divided and gears and gears[0][1]["head"]:
        return (
            f"{gears[0][0].capitalize()} has its own index, on the circle that gives its roll as well: "
            f"untick {divided[0]}."
        )
    if divided and gears and divided[1]["count"] != gears[0][1]["count"]:
        (first, of), (second, gear) = divided, gears[0]
        return (
            f"{first.capitalize()} is of {of['work']} and {second} of {gear['work']}: "
            "cut by both, the wheel would be scrap. Untick one, or work the dividing out for the teeth."
        )
    return ""


def joined(shares: Sequence[CardSum]) -> CardSum | None:
    """One share of them all, the gear's work first."""
    kinds = list(KIND_WORDS)
    ordered = sorted(shares, key=lambda share: kinds.index(share["kind"]))
    if not ordered:
        return None
    gear, divided = _of(ordered, "gear"), _of(ordered, "dividing")
    done = [share for share in ordered if not (gear and share is divided)]
    first, told = done[0], _without_twice(ordered)
    return {
        **first,
        "work": ", ".join(share["work"] for share in done),
        "operation": _operation(done),
        "head": divided["head"] if divided else (gear["head"] if gear else ""),
        "figures": _figures(told, gear, divided),
        "proof": _proof(gear, divided) or next((one["proof"] for one in ordered if one["proof"]), None),
        "notes": [note for share in ordered for note in share["notes"]],
        "plate": next((one["plate"] for one in (divided, gear) if one and one["plate"]), None),
        "picture": next((share["picture"] for share in ordered if share["picture"]), None),
        "tally": _tally(gear, divided),
        "tables": [table for share in ordered for table in share["tables"]],
        "stops": _stops(gear, divided) or next((one["stops"] for one in ordered if one["stops"]), ""),
        "sizes": [size for share in told for size in share["sizes"]],
        "units": _units(ordered),
        "cautions": _cautions(ordered),
        "mate": next((one["mate"] for one in ordered if one["mate"]), None),
    }


def _of(shares: Sequence[CardSum], role: str) -> CardSum | None:
    return next((share for share in shares if share["role"] == role), None)


def _operation(shares: Sequence[CardSum]) -> str:
    """What is done; a setting serves the rest, and is named only where there is nothing else."""
    named = [share for share in shares if share["role"] != "setting"] or shares
    first, *rest = (", ".join(filter(None, (one["operation"], one["rounds"]))) for one in named)
    return "; ".join([first, *(text[:1].lower() + text[1:] for text in rest)])


def _without_twice(shares: Sequence[CardSum]) -> list[CardSum]:
    """Where a keyway tells a size that its broaching tells as well, the broaching leaves it out.

    A size is the same where its lower limit is; how far over it may come is then the keyway's to say.
    """
    keyway = next((share for share in shares if share["kind"] == "keyway"), None)
    if not keyway:
        return list(shares)
    figures = {one["value"] for one in keyway["figures"]}
    sizes = {_least(one["wanted"]) for one in keyway["sizes"]}
    return [
        share
        if share["kind"] != "broaching"
        else share
        | {
            "figures": [one for one in share["figures"] if one["value"] not in figures],
            "sizes": [one for one in share["sizes"] if _least(one["wanted"]) not in sizes],
        }
        for share in shares
    ]


def _least(wanted: str) -> str:
    """The lower limit of a size wanted."""
    return wanted.partition("–")[0].split()[0]


def _figures(ordered: Sequence[CardSum], gear: CardSum | None, divided: CardSum | None) -> list[BigFigure]:
    """The figures of all by their rank; the paper leaves off from the end where it has no room.

    First come the head's, then the gear's in the order they are used, the limits of a fit, the keyway.
    What the tally tells as well is printed only where the dividing has the card to itself.
    """
    figures = [figure for share in ordered for figure in share["figures"]]
    if gear and gear["tally"] and not gear["head"] and not (divided and divided["figures"]):
        figures += UNSET
    if any(share["kind"] == "spindle-speed" for share in ordered):
        figures = [figure for figure in figures if figure["label"] != SPEED["label"]]
    if len(ordered) > 1 and divided and divided["tally"]:
        figures = [figure for figure in figures if _rank(figure) < TOLD_BY_THE_TALLY]
    return sorted(figures, key=_rank)


def _rank(figure: BigFigure) -> int:
    return figure.get("rank", 0)


def _proof(gear: CardSum | None, divided: CardSum | None) -> Say | None:
    counted = gear["proof"] if gear else None
    if not counted or not divided or not divided["proof"]:
        return (divided["proof"] if divided else None) or counted
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
    if gear and gear["stops"] and divided and divided["stops"]:
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
