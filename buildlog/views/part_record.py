"""All that the page of one part shows of it: its sums, cards, photos, what it waits for, what was made."""

from collections.abc import Sequence
from typing import Any

from django.db.models import F
from django.urls import reverse
from django.utils.http import urlencode

from buildlog import clock, threads_used
from buildlog.actions import stages
from buildlog.actions.photos import About
from buildlog.errata import flags_of
from buildlog.made import made_of
from buildlog.models import Casting, HistoryLine, Part, PartUse, Stage, WorkCard
from buildlog.scrap_book import scrap_of
from buildlog.views.pages import STAGE_MARKS
from buildlog.views.photos import photos_of
from buildlog.waiting.facts import PartFact
from buildlog.waiting.standing import Standing, standing_of
from buildlog.waiting.words import lines_of
from calc import records, registry
from calc.models import CalculationRecord

HISTORY_LINES = 12
LOG_LINES = 3


def part_record(part: Part, uses: list[PartUse] | None = None) -> dict[str, Any]:
    """What stands of a part, section by section, with the marks that the sections are shown with."""
    history = list(part.history.select_related("by", "change")[: HISTORY_LINES + 1])
    uses = list(part.uses.select_related("assembly")) if uses is None else uses
    waiting, photos, made = _waiting(standing_of(part.build), part), _photos(part), made_of(part)
    threads = threads_used.of_part(part)
    marks = [line.mark for line in waiting["waits"]] or ["go"]
    errata = flags_of(part)
    return {
        "marks": (
            *STAGE_MARKS,
            *marks,
            *made.marks,
            *photos["photo_marks"],
            *(("care",) if threads.alike else ()),
            *(flag.mark for flag in errata),
        ),
        "block": _block(part, history),
        "uses": uses,
        "home": uses[0].assembly if uses else None,
        "twin": stages.twin_of(part),
        "stages": _stage_row(part),
        "proposes": part.is_complete and not part.stage_mark.is_made,
        "kept": _kept(part),
        "mates": part.mates,
        "log": list(part.log.select_related("by")[:LOG_LINES]),
        "sums": list(registry.catalogue().values()),
        "cards": _cards(part),
        "history": history[:HISTORY_LINES],
        "history_more": len(history) > HISTORY_LINES,
        "made": made,
        "scrap_book": scrap_of(part),
        "threads": threads,
        "errata": errata,
        "errata_dealt": [flag for flag in errata if not flag.is_open and not flag.is_to_make],
        **waiting,
        **photos,
    }


def _block(part: Part, history: Sequence[HistoryLine]) -> dict[str, Any]:
    """The fields of the title block that the part decides."""
    return {
        "number": part.key,
        "title": part.name,
        "sheet": part.sheet or "—",
        "units": "as typed",
        "date": part.stage_at or (history[-1].at if history else clock.today()),
    }


def _kept(part: Part) -> list[tuple[CalculationRecord, list[str]]]:
    """The sums kept on the part, each with why it is stale."""
    kept = list(part.records.all())
    if not kept:
        return []
    stale = records.stale_of(kept, records.part_facts(part), among=kept)
    return [(record, stale[record.pk]) for record in kept]


def _waiting(standing: Standing, part: Part) -> dict[str, Any]:
    """What the part waits for, what waits for it, and the casting it is made of."""
    return {
        "waits": lines_of(standing, part.pk),
        "holds": _holds(standing, part),
        "own_casting": _own_casting(standing, part),
    }


def _cards(part: Part) -> list[tuple[WorkCard, list[int]]]:
    """The cards of the part, each with the numbers of the sums on it; in one query."""
    rows = part.cards.defer("sheet").annotate(record=F("records"))
    found: dict[int, tuple[WorkCard, list[int]]] = {}
    for card in rows.order_by("-number", "-records__made_at", "-record"):
        numbers = found.setdefault(card.pk, (card, []))[1]
        if card.record is not None:
            numbers.append(card.record)
    return list(found.values())


def _photos(part: Part) -> dict[str, Any]:
    query = f"?{urlencode({'part': part.key})}"
    return photos_of(part.photos.all(), part.build, About(part=part), "part") | {
        "all_photos": f"{reverse('photo_list', args=[part.build_id])}{query}" if not part.binned_at else "",
        "photo_query": query if not part.binned_at else "",
        "can_add": not part.binned_at,
    }


def _own_casting(standing: Standing, part: Part) -> Casting | None:
    fact = standing.parts.get(part.pk)
    return standing.castings[fact.casting] if fact and fact.casting else None


def _holds(standing: Standing, part: Part) -> list[PartFact]:
    """The parts that cannot go on before this one is made."""
    after = [one for one, first in standing.facts.firsts if first == part.pk]
    return [
        standing.parts[pk] for pk in after if not part.stage_mark.is_made and not standing.parts[pk].is_made
    ]


def _stage_row(part: Part) -> list[dict[str, Any]]:
    at = part.stage_mark.place
    return [{"stage": stage, "is_now": stage.place == at, "is_past": stage.place < at} for stage in Stage]
