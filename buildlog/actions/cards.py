"""Making a work card: everything it says, gathered once and kept word for word."""

import re
from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from buildlog import clock
from buildlog.actions.card_errata import errata_notes, errata_of, with_errata, with_later_errata
from buildlog.actions.card_lessons import due_lessons, mark_shown, with_lessons
from buildlog.actions.card_sizes import Asked, asked_sizes, suit_notes, with_suits
from buildlog.actions.stages import Doer
from buildlog.actions.tokens import written_with
from buildlog.errata import Flag
from buildlog.forms.cards import Said
from buildlog.made import ToSuit, suits_of
from buildlog.materials import hatch_name
from buildlog.models import Build, Hand, Part, SheetIssue, WorkCard
from calc import pdf
from calc.answers.card import (
    TURNING_CAUTION,
    CardSum,
    Side,
    Typed,
    is_gear,
    kind_of,
    listed,
    sums_on_a_card,
)
from calc.models import CalculationRecord
from calc.sheets import (
    Block,
    CardSheet,
    CardTitle,
    LeftOff,
    Say,
    SizeWanted,
    WriteIn,
    boxes_for_passes,
    size_words,
)
from calc.sheets import Hand as ShoutedHand

#: Past this a card says how heavy the part is and asks for help. [kg] common practice, no source
HEAVY_KG = 12.0
_KG = {"kg": 1.0, "g": 0.001, "lb": 0.45359237, "oz": 0.45359237 / 16, "cwt": 50.80234544}
#: Names of parts that are a shaft, and of parts bored to go on one: common practice, no source.
SHAFTS = {"shaft", "axle", "spindle", "crankshaft", "arbor", "pin"}
HUBS = {"wheel", "gear", "pinion", "hub", "pulley", "flywheel", "eccentric", "sheave", "bush", "collar"}
#: A leading size this near to an outside diameter is that diameter, written shorter. [mm]
SAME_MM = 0.02
NO_ROOM = "No room here for all of"
_HANDS: dict[str, ShoutedHand] = {Hand.NONE: "", Hand.LEFT: "LEFT", Hand.RIGHT: "RIGHT"}


@transaction.atomic
def make_card(part: Part, said: Said, *, by: Doer, address: str) -> WorkCard:
    """Make a numbered card; the same token gives the card that was made with it.

    Parameters
    ----------
    part : Part
        What the card is for.
    said : Said
        The choices made: kept sums, paper, words and figures known beforehand.
    by : user
        Who makes it.
    address : str
        Where its QR code leads; empty where the site has no address a phone can reach.

    Raises
    ------
    PermissionError
        The token belongs to a card of another build.
    """
    # The build is held first: of two clicks at once the second finds the card of the first.
    build = Build.objects.select_for_update().get(pk=part.build_id)
    made = written_with(said["token"], WorkCard, build_id=part.build_id)
    if made:
        return made
    number = (build.cards.aggregate(last=Max("number"))["last"] or 0) + 1
    sheet = _told_what_is_off(card_sheet(part, said, number=number, at=clock.now(), address=address))
    sheet, lessons = with_lessons(sheet, due_lessons(part, said, sheet))
    card = WorkCard.objects.create(
        build=build,
        part=part,
        number=number,
        paper=said["paper"],
        title=f"{part.key} {part.name}: {sheet['title']['title']}"[:200],
        sheet=sheet,
        made_at=clock.now(),
        made_by_id=by.pk if by else None,
        token=said["token"],
    )
    card.records.set(said["records"])
    mark_shown(card, lessons)
    return card


def sheet_to_print(card: WorkCard) -> CardSheet:
    """What a card says, word for word as it was made; with the errata found since, where there are any."""
    kept: CardSheet = card.sheet
    sheet = with_later_errata(card)
    return kept if sheet == kept else _told_what_is_off(sheet)


def without_room(part: Part, said: Said, address: str) -> list[str]:
    """What one side of the paper has no room for, as it would be labelled; empty where all of it fits."""
    # The number of the card to come is not known yet; it is taken as long as it may get.
    sheet = card_sheet(part, said, number=99_999, at=clock.now(), address=address)
    return [f"“{one['what']}”" for one in pdf.without_room(sheet)]


def _told_what_is_off(sheet: CardSheet) -> CardSheet:
    """The card without what it has no room for, and with a line that names the sums it is short of."""
    off: list[LeftOff] = []
    while without := pdf.without_room(sheet):
        off += without
        rest = _without(sheet, {one["what"] for one in without})
        if rest == sheet:
            return sheet  # typed in signs the paper shows as others: the paper itself says how many are left
        sheet = rest
        # The line costs room as well, so that something more may have to go: it is asked for again.
        told: Say = {"strong": f"{NO_ROOM} {_of(off)}.", "text": "Have it beside the card."}
        notes = [one for one in sheet["notes"] if not one["strong"].startswith(NO_ROOM)]
        sheet = {**sheet, "notes": [*notes, told]}
    return sheet


def _without(sheet: CardSheet, off: set[str]) -> CardSheet:
    tally = sheet["tally"]
    if tally and tally.get("passes") and boxes_for_passes(tally) in off:
        tally = {**tally, "passes": 0}
    return {
        **sheet,
        "figures": [one for one in sheet["figures"] if one["label"] not in off],
        "sizes": [one for one in sheet["sizes"] if size_words(one) not in off],
        "tally": tally,
        "tables": [one for one in sheet.get("tables") or [] if one["title"] not in off],
    }


def _of(without: Sequence[LeftOff]) -> str:
    """The sums that have no room on a card in whole, "sums 35 and 36"; or the sizes of the part itself."""
    numbers = sorted({one["of"] for one in without if one["of"]}, key=int)
    if not numbers:
        return "the sizes asked for"
    return f"sum{'s' if len(numbers) > 1 else ''} {listed(numbers)}"


def half_of(part: Part) -> Side:
    """Whether its name makes it a shaft or what goes on one, to be settled on the form.

    The last such word tells, before any "of" or "for": a second-shaft pinion is a pinion.
    """
    thing = re.split(r"\b(?:of|for)\b", part.name.casefold())[0]
    told = [word for word in re.findall(r"[a-z]+", thing) if word in SHAFTS | HUBS]
    if not told:
        return "both"
    return "shaft" if told[-1] in SHAFTS else "hub"


def card_sheet(part: Part, said: Said, *, number: int, at: datetime, address: str) -> CardSheet:
    """Everything a card says, in the words it is printed with."""
    summed = sums_on_a_card(said["records"], _typed(said))
    suits, asked, errata = suits_of(part), asked_sizes(part), errata_of(part)
    own_notes = [*errata_notes(errata), *suit_notes(suits), *asked.lines]
    return {
        "paper": "A5" if said["paper"] == "A5" else "A4",
        "build": part.build.scale_text,
        "key": part.key,
        "name": part.name,
        "hand": _HANDS[part.hand],
        "operation": _operation(said, summed),
        "quantity": f"{part.hand_word or 'no hand'}, {part.needed} needed, {part.good} good",
        "card": f"Card {number}",
        "address": address,
        "return_line": "Note this number with the sizes",
        "blocks": _blocks(part, said, summed, suits, errata),
        "figures": summed["figures"] if summed else [],
        "proof": summed["proof"] if summed else None,
        "notes": [
            *own_notes,
            *(summed["notes"] if summed else []),
        ],
        "plate": summed["plate"] if summed else None,
        "picture": summed["picture"] if summed else None,
        "tables": summed["tables"] if summed else [],
        "tally": summed["tally"] if summed else None,
        "blank_label": "Sketch, settings, working",
        "sizes_label": f"Wanted, {_units(summed)}",
        "sizes": _sizes(part, summed, asked),
        "writes": _writes(is_divided=bool(summed and summed["tally"])),
        "foot": _foot(summed["stops"] if summed else ""),
        "caution": _caution(part, summed),
        "title": _title(part, said, summed, at),
    }


def _operation(said: Said, summed: CardSum | None) -> Say:
    if not summed or not said["operation"]:
        return {"strong": said["operation"] or (summed["operation"] if summed else ""), "text": ""}
    return {"strong": said["operation"], "text": f", {summed['rounds']}" if summed["rounds"] else ""}


def _typed(said: Said) -> Typed:
    return Typed(
        passes=said.get("passes", ()),
        blank_limits=said.get("blank_limits", ""),
        side=said.get("side", "both"),
    )


def _units(summed: CardSum | None) -> str:
    return (summed["units"] if summed else "") or "as typed"


def _writes(*, is_divided: bool) -> list[WriteIn]:
    return [
        {"label": "Centred by, figure" if is_divided else "Datum", "lines": 1},
        {"label": "Left off: cut, pin, depth. Next" if is_divided else "Left off. Next", "lines": 2},
    ]


def _foot(stops: str) -> list[Block]:
    return [
        {"label": "Good stops", "strong": "", "text": stops},
        {"label": "In, out", "strong": ""},
        {"label": "Initials, date", "strong": ""},
    ]


def _title(part: Part, said: Said, summed: CardSum | None, at: datetime) -> CardTitle:
    return {
        "title": said["operation"] or (summed["work"] if summed else "Work card"),
        "number": part.key,
        "sheet": "1 of 1",
        "printed": _day(at),
        "worked_from": _worked_from(said["records"]),
        "check": "Check the drawing and your own measurement",
        "units": _units(summed),
        "by": "Hornplate",
    }


# ---- blocks ----------------------------------------------------------------------------------------------


def _blocks(
    part: Part, said: Said, summed: CardSum | None, suits: Sequence[ToSuit], errata: Sequence[Flag]
) -> list[Block]:
    """Six fields in the usual places; mates stand in place of the weight, which joins the metal."""
    mates = with_suits(_mates(part, summed), suits)
    weight: Block = {"label": "Weight", "strong": part.weight, "text": ""}
    is_cut = any(map(is_gear, said["records"]))
    has_keyway = any(kind_of(record) in ("keyway", "broaching") for record in said["records"])
    before = "Keyway. Op before this, done" if is_cut and not has_keyway else "Operation before this, done"
    return [
        with_errata(_drawing(part), errata),
        _made_of(part, with_weight=bool(mates)),
        mates or weight,
        {"label": "Machine, head", "strong": said["machine"], "text": _head(said["records"], summed)},
        {"label": "Held on", "strong": said["held_on"], "text": ""},
        {"label": before, "strong": "", "text": ""},
    ]


def _drawing(part: Part) -> Block:
    """The sheet and its issue, and the register where that has come on since."""
    last = _last_issue(part)
    block: Block = {"label": "Drawing", "strong": part.sheet_text, "text": ""}
    if last is None or part.sheet_text.endswith(f"issue {last}"):
        return block
    if "issue" in part.sheet_text:
        return block | {"boxed": f"Issue {last}", "text": "recorded since"}
    return block | {"strong": f"{part.sheet_text} issue {last}"}


def _last_issue(part: Part) -> str | None:
    """The issue of its sheet that the register of drawings recorded last; None where it has none."""
    if not part.sheet_number:
        return None
    issues = SheetIssue.objects.filter(drawing__build=part.build_id, drawing__number=part.sheet_number)
    return issues.values_list("issue", flat=True).first()


def _made_of(part: Part, *, with_weight: bool) -> Block:
    more = [
        f"casting {part.casting_number}" if part.casting_number else "",
        part.weight if with_weight else "",
    ]
    return {
        "label": "Made of",
        "strong": part.material or hatch_name(part.hatch),
        "text": ", ".join(filter(None, more)),
        "hatch": part.hatch,
    }


def _mates(part: Part, summed: CardSum | None) -> Block | None:
    """What it mates with: of a gear the mate by its teeth, at the centres of the sum."""
    mates = part.mates
    mate = summed["mate"] if summed else None
    if mate:
        own = next((one.key for one in mates if one.teeth == mate["teeth"]), "")
        known = f"{mate['teeth']} T at {mate['centres']}"
        strong, text = (own, known) if own else (known, "")
        return {"label": f"Mates with, {mate.get('label', 'centres')}", "strong": strong, "text": text}
    if not mates:
        return None
    return {"label": "Mates with", "strong": ", ".join(one.key for one in mates), "text": ""}


def _head(records: Sequence[CalculationRecord], summed: CardSum | None) -> str:
    """The dividing head as the kept sum knew it: its name, its ratio, its plate."""
    record = next((one for one in records if kind_of(one) == "dividing"), None)
    if record is None or summed is None:
        return ""
    name = (record.context.get("head") or {}).get("name", "")
    where = (summed["plate"] and record.context["answer"]["plate"]["name"]) or ""
    return ", ".join(filter(None, (name or "own head", summed["head"], where[:1].lower() + where[1:])))


def _sizes(part: Part, summed: CardSum | None, asked: Asked) -> list[SizeWanted]:
    """What the sums want measured, the part's characteristics, and its leading size where none names it."""
    wanted, size = [*(summed["sizes"] if summed else []), *asked.sizes], part.size
    if size and size.measure and size.measure.base in asked.named:
        return wanted
    is_cut = bool(summed and summed["outside_mm"])
    if size is None or size.measure is None:
        # Of a gear it is the teeth or the pitch, which its own figures tell.
        own: SizeWanted = {"wanted": part.leading_size, "note": "leading size"}
        return wanted if is_cut or not part.leading_size else [*wanted, own]
    if summed and is_cut and abs(float(size.measure.base) - (summed["outside_mm"] or 0)) < SAME_MM:
        return wanted
    words = f"{size.words} " if size.words else ""
    return [*wanted, {"wanted": size.measure.typed(), "note": f"{words}= {size.measure.converted()}"}]


def _caution(part: Part, summed: CardSum | None) -> Say:
    weight = f"{part.weight}: lift it with help." if _kilograms(part.weight) > HEAVY_KG else ""
    first, *rest = (summed["cautions"] if summed else []) or [TURNING_CAUTION]
    return {"strong": first, "text": " ".join(filter(None, (*rest, weight)))}


def _kilograms(weight: str) -> float:
    match = re.match(r"([\d.]+)\s*(\w+)", weight)
    return float(match[1]) * _KG.get(match[2].lower(), 0.0) if match else 0.0


def _worked_from(records: Sequence[CalculationRecord]) -> str:
    """The sums the card was worked from, and when each was kept: what it says stays as they were."""
    if not records:
        return "No sum on this card"
    days = list(dict.fromkeys(_day(one.made_at) for one in sorted(records, key=lambda one: one.made_at)))
    kept = days[0] if len(days) == 1 else f"{days[0]} to {days[-1]}"
    if len(records) == 1:
        return f"Worked from sum {records[0].pk}, rule {records[0].revision}, as kept {kept}"
    numbers = listed([str(pk) for pk in sorted(one.pk for one in records)])
    return f"Worked from sums {numbers}, as kept {kept}"


def _day(moment: datetime) -> str:
    return clock.day_in_full(timezone.localdate(moment))
