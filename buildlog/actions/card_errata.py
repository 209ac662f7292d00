"""Errata on a work card: shouted beside the sheet until they are dealt with, with the figure to work to."""

from collections.abc import Sequence

from buildlog.errata import Flag, flags_of
from buildlog.models import Dealing, Part, WorkCard
from calc.sheets import Block, CardSheet, Say

#: What is said of a part that is still to make after some of it was dealt with.
_STILL_TO_WORK_TO = (Dealing.TO_MAKE, Dealing.REMADE, Dealing.MADE_RIGHT)
#: As many as stand by name in the block of the drawing, with their words among the notes, and by name there.
MOST_NAMED, MOST_NOTES, MOST_KEYS = 2, 4, 12
#: Longer ones have a line for what they are of, and one for the figures.
LONG_WORDS = 70
SHOUT, MORE = "ERRATUM", "More errata: "


def errata_of(part: Part) -> list[Flag]:
    """The errata a card has to say: those not dealt with, and those to work to in what is still to make."""
    to_make = bool(part.to_make) or not part.stage_mark.is_made
    return [
        flag
        for flag in flags_of(part)
        if flag.is_open or (to_make and not flag.follows and flag.how in _STILL_TO_WORK_TO)
    ]


def with_errata(block: Block, flags: Sequence[Flag]) -> Block:
    """The block of the drawing with its errata shouted; an issue that came since stands after them."""
    if not flags:
        return block
    keys = [flag.erratum.key for flag in flags]
    since = f"{block['boxed'].replace('Issue', 'issue')} since" if block.get("boxed") else ""
    if len(keys) == 1:
        return {**block, "boxed": keys[0], "text": since or "erratum"}
    named = ", ".join(keys) if len(keys) <= MOST_NAMED else f"{len(keys)}, below"
    return {**block, "boxed": "ERRATA", "text": "; ".join(filter(None, (named, since)))}


def errata_notes(flags: Sequence[Flag]) -> list[Say]:
    """A line to each: `ERRATUM E-001: lifting link centres 2.310 should read 2.435.`, and how it stands."""
    notes = [note for flag in flags[:MOST_NOTES] for note in _notes(flag)]
    rest = [flag.erratum.key for flag in flags[MOST_NOTES:]]
    if rest:
        text = "Read them on the page of the part before you cut."
        notes.append({"strong": f"{MORE}{', '.join(rest[:MOST_KEYS])}.", "text": text})
    return notes


def _notes(flag: Flag) -> list[Say]:
    """One line, or two where one would be cut short before the figure that it should be."""
    erratum, how = flag.erratum, f"{flag.source}; {flag.state}."
    if len(erratum.words) <= LONG_WORDS:
        return [{"strong": f"{SHOUT} {erratum.key}: {erratum.words}.", "text": how}]
    figures = f"{erratum.as_printed} should read {erratum.should_be}."
    return [
        {"strong": f"{SHOUT} {erratum.key}: {erratum.where}", "text": ""},
        {"strong": figures, "text": how},
    ]


def found_since(card: WorkCard, flags: Sequence[Flag]) -> list[Flag]:
    """Those that a card does not say: found since, or of a sheet that its part named none of then."""
    said = " ".join(note["strong"] for note in card.sheet["notes"])
    return [
        flag
        for flag in flags
        if f"{SHOUT} {flag.erratum.key}:" not in said
        and (MORE not in said or flag.erratum.written_at > card.made_at)
    ]


def with_later_errata(card: WorkCard) -> CardSheet:
    """What a card says, with the errata found since before its other notes, for printing it again."""
    sheet: CardSheet = card.sheet
    later = found_since(card, errata_of(card.part))
    if not later:
        return sheet
    blocks = [
        with_errata(block, later) if block["label"] == "Drawing" else block for block in sheet["blocks"]
    ]
    return {**sheet, "blocks": blocks, "notes": [*errata_notes(later), *sheet["notes"]]}
