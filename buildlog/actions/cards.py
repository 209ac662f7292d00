"""Making a work card: everything it says, gathered once and kept word for word."""

import re
from datetime import datetime

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from buildlog import clock
from buildlog.actions.stages import Doer
from buildlog.forms.cards import Said
from buildlog.materials import hatch_name
from buildlog.models import Build, Hand, Part, WorkCard
from calc.answers.card import CardSum, card_sum
from calc.models import CalculationRecord
from calc.sheets import Block, CardSheet, CardTitle, Say, SizeWanted, WriteIn
from calc.sheets import Hand as ShoutedHand

#: Past this a card says how heavy the part is and asks for help. [kg] common practice, no source
HEAVY_KG = 12.0
_KG = {"kg": 1.0, "g": 0.001, "lb": 0.45359237, "oz": 0.45359237 / 16, "cwt": 50.80234544}
_HANDS: dict[str, ShoutedHand] = {Hand.NONE: "", Hand.LEFT: "LEFT", Hand.RIGHT: "RIGHT"}


@transaction.atomic
def make_card(part: Part, said: Said, *, by: Doer, address: str) -> WorkCard:
    """Make a numbered card; the same token gives the card that was made with it.

    Parameters
    ----------
    part : Part
        What the card is for.
    said : Said
        The choices made: kept sum, paper, words known beforehand.
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
    made = WorkCard.objects.filter(token=said["token"]).first()
    if made and made.build_id != part.build_id:
        raise PermissionError("This token belongs to a card of another build.")
    if made:
        return made
    number = (build.cards.aggregate(last=Max("number"))["last"] or 0) + 1
    record = said["record"]
    sheet = card_sheet(part, said, number=number, at=clock.now(), address=address)
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
    if record:
        card.records.add(record)
    return card


def card_sheet(part: Part, said: Said, *, number: int, at: datetime, address: str) -> CardSheet:
    """Everything a card says, in the words it is printed with."""
    record = said["record"]
    summed = card_sum(record) if record else None
    work = said["operation"] or (f"Divide: {summed['work']}" if summed else "")
    return {
        "paper": "A5" if said["paper"] == "A5" else "A4",
        "build": part.build.scale_text,
        "key": part.key,
        "name": part.name,
        "hand": _HANDS[part.hand],
        "operation": {"strong": work, "text": ""},
        "quantity": f"{part.hand_word or 'no hand'}, {part.needed} needed, {part.good} good",
        "card": f"Card {number}",
        "address": address,
        "return_line": "Sizes go back by this number",
        "blocks": _blocks(part, said, summed, record),
        "figures": summed["figures"] if summed else [],
        "proof": summed["proof"] if summed else None,
        "notes": summed["notes"] if summed else [],
        "plate": summed["plate"] if summed else None,
        "tally": summed["tally"] if summed else None,
        "blank_label": "Sketch, settings, working",
        "sizes_label": "Wanted, as typed",
        "sizes": _sizes(part),
        "writes": _writes(is_divided=summed is not None),
        "foot": _foot(summed["stops"] if summed else ""),
        "caution": _caution(part, summed),
        "title": _title(part, work, record, at),
    }


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


def _title(part: Part, work: str, record: CalculationRecord | None, at: datetime) -> CardTitle:
    return {
        "title": work or "Work card",
        "number": part.key,
        "sheet": "1 of 1",
        "printed": _day(at),
        "worked_from": _worked_from(record),
        "check": "Check the drawing and your own measurement",
        "units": "as typed",
        "by": "Hornplate",
    }


def _blocks(part: Part, said: Said, summed: CardSum | None, record: CalculationRecord | None) -> list[Block]:
    head = ""
    if summed and record:
        name = (record.context.get("head") or {}).get("name", "")
        where = (summed["plate"] and record.context["answer"]["plate"]["name"]) or ""
        head = ", ".join(filter(None, (name or "own head", summed["head"], where[:1].lower() + where[1:])))
    of = part.material or hatch_name(part.hatch)
    return [
        {"label": "Drawing", "strong": part.sheet_text, "text": ""},
        {
            "label": "Made of",
            "strong": of,
            "text": part.casting_number and f"casting {part.casting_number}",
            "hatch": part.hatch,
        },
        {"label": "Weight", "strong": part.weight, "text": ""},
        {"label": "Machine, head", "strong": said["machine"], "text": head},
        {"label": "Held on", "strong": said["held_on"], "text": ""},
        {"label": "Operation before this, done", "strong": "", "text": ""},
    ]


def _sizes(part: Part) -> list[SizeWanted]:
    size = part.size
    if size is None or size.measure is None:
        return [{"wanted": part.leading_size, "note": "leading size"}] if part.leading_size else []
    words = f"{size.words} " if size.words else ""
    return [{"wanted": size.measure.typed(), "note": f"{words}= {size.measure.converted()}"}]


def _caution(part: Part, summed: CardSum | None) -> Say:
    text = f"{part.weight}: lift it with help." if _kilograms(part.weight) > HEAVY_KG else ""
    if summed:
        return {"strong": "No gloves near the cutter. Stop it to count or measure.", "text": text}
    return {"strong": "Guard on, chuck key out, no gloves near what turns. Stop it to measure.", "text": text}


def _kilograms(weight: str) -> float:
    match = re.match(r"([\d.]+)\s*(\w+)", weight)
    return float(match[1]) * _KG.get(match[2].lower(), 0.0) if match else 0.0


def _worked_from(record: CalculationRecord | None) -> str:
    if record is None:
        return "No sum on this card"
    return f"Worked from sum {record.pk}, rule {record.revision}, as kept {_day(record.made_at)}"


def _day(moment: datetime) -> str:
    day = timezone.localtime(moment)
    return f"{day.day} {day:%b %Y}"
