"""Lessons of the scrap book on a work card: each is printed once on the next card it belongs to."""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from django.db.models import Q

from buildlog import clock
from buildlog.forms.cards import Said
from buildlog.models import LessonShown, Part, Scrap, ShowOn, Told, WorkCard
from calc import pdf
from calc.answers.card import operations_of
from calc.sheets import CardSheet, Say

#: So many lessons on one card; the others wait for the next. common practice, no source
MOST = 3
#: Lines that the longest lesson takes on the narrowest paper: it is printed whole or not at all.
LINES = 12
_ORDER = list(Told)
_ENDINGS = "(?:e|es|s|ed|ing|ings)?"


class Due(NamedTuple):
    """A lesson that a card is to print, and whose card that makes it."""

    scrap: Scrap
    told: Told


def due_lessons(part: Part, said: Said, sheet: CardSheet) -> list[Due]:
    """The lessons that a card of this part has still to print: the part's own first, then the newest.

    A lesson is told once on the part, once on its other hand and, where it is of an operation, once on
    another part to which the same is done.
    """
    same = Q(part=part)
    if part.hand:
        same |= Q(part__number=part.number) & ~Q(part__hand__in=("", part.hand))
    found = Scrap.objects.live().filter(same | Q(show_on=ShowOn.OPERATION), build=part.build_id)
    due = []
    for scrap in found.exclude(lesson="").select_related("part").prefetch_related("shown"):
        told = _told(scrap, part, said, sheet)
        if told and (scrap.show_again or told not in {one.told for one in scrap.shown.all()}):
            due.append(Due(scrap, told))
    return sorted(due, key=lambda one: _ORDER.index(one.told))[:MOST]


def _told(scrap: Scrap, part: Part, said: Said, sheet: CardSheet) -> Told | None:
    """Whose card this is to the lesson; None where it says nothing to it."""
    is_twin = bool(scrap.part.hand and part.hand) and scrap.part.number == part.number
    told = Told.PART if scrap.part_id == part.pk else Told.TWIN if is_twin else Told.OPERATION
    if scrap.show_on == ShowOn.PART:
        return None if told is Told.OPERATION else told
    known = operations_of(record.key for record in said["records"])
    words = f"{said['operation']} {sheet['operation']['strong']}".strip()
    if told is not Told.OPERATION and not known and not words:
        return told  # ruled to write on: which operation it is for is not known
    return told if is_like(scrap.operation, known, words) else None


def is_like(operation: str, known: Iterable[str], words: str) -> bool:
    """Whether work known by these words is the operation: `turning` and `Op 20 Turn OD` are alike."""
    asked = _plain(operation)
    if not asked:
        return False
    if asked in known:
        return True
    root = re.sub(r"(?<=\w{3})(?:ing|e|s)$", "", asked)
    return bool(re.search(rf"\b{re.escape(root)}{_ENDINGS}\b", _plain(words)))


def _plain(text: str) -> str:
    return re.sub(r"\btooth\b", "teeth", " ".join(text.casefold().split()))


def with_lessons(sheet: CardSheet, due: Sequence[Due]) -> tuple[CardSheet, list[Due]]:
    """The card with its lessons among the notes, and those that it had room for.

    A lesson never takes the place of a figure: where it has no room it is named in short, and where that has
    none either it waits for the next card.
    """
    off, printed = pdf.without_room(sheet), []
    for one in due:
        for note in (_in_full(one.scrap), _in_short(one.scrap)):
            longer: CardSheet = {**sheet, "notes": [*sheet["notes"], note]}
            if pdf.without_room(longer) == off:
                sheet = longer
                printed.append(one)
                break
    return sheet, printed


def _in_full(scrap: Scrap) -> Say:
    day = clock.day_words(scrap.on, clock.today())
    return {
        "strong": f"Lesson from {scrap.part.key}, {day}:",
        "text": " ".join(scrap.lesson.split()),
        "lines": LINES,
    }


def _in_short(scrap: Scrap) -> Say:
    return {"strong": f"Lesson from {scrap.part.key}:", "text": "read its page in the scrap book first."}


def mark_shown(card: WorkCard, printed: Sequence[Due]) -> None:
    """Write down which lessons the card has printed. Call it inside the transaction that made the card."""
    LessonShown.objects.bulk_create(LessonShown(scrap=one.scrap, card=card, told=one.told) for one in printed)
    Scrap.objects.filter(pk__in=[one.scrap.pk for one in printed], show_again=True).update(show_again=False)
