"""Where the builder was: what was left off, what was done last, what is in hand and what stands still."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from textwrap import shorten
from typing import Any

from django.db import models
from django.db.models import F, OuterRef, Q, Subquery, Value
from django.db.models.fields.json import KeyTextTransform, KeyTransform
from django.db.models.functions import Cast, Coalesce, Concat, Length, StrIndex
from django.utils import timezone

from buildlog.log_checks import Finding, Move, check_note
from buildlog.models import (
    Build,
    Casting,
    HistoryLine,
    LogEntry,
    Part,
    PartQuerySet,
    PartUse,
    Photo,
    Stage,
    WorkCard,
)
from buildlog.queries import Tally
from buildlog.waiting.facts import PartFact
from buildlog.waiting.standing import Standing
from buildlog.waiting.words import Stands, short_words, stands
from calc.models import CalculationRecord

#: What is shown of each; the rest is one touch away.
DOINGS, IN_HAND, MISSING = 6, 8, 4


# ---- the log ---------------------------------------------------------------------------------------------


def left_off(build: Build, count: int) -> list[LogEntry]:
    """The last entries that say where it was left off or what is next, each with the sum it is about."""
    said = build.log.exclude(left_off="", next="").select_related("part", "by")
    return list(with_sum(said)[:count])


def last_with_part(build: Build) -> LogEntry | None:
    """The last entry about a part that is not in the bin: the next one is most often about the same."""
    return build.log.filter(part__binned_at=None, part__isnull=False).select_related("part").first()


def setup_photo(entry: LogEntry) -> Photo | None:
    """The last photo of an entry; where it has none, the last of its part from that day or before it."""
    live = Photo.objects.live().latest_first()
    own = live.filter(entry=entry)
    if entry.part_id is None:
        return own.first()
    of_part = live.filter(part=entry.part_id, taken_on__lte=entry.on)
    # The index of each leads straight to it, however many photos there are.
    last = Coalesce(Subquery(own.values("pk")[:1]), Subquery(of_part.values("pk")[:1]))
    return Photo.objects.filter(pk=last).first()


def with_sum(entries: "models.QuerySet[LogEntry]") -> "models.QuerySet[LogEntry]":
    """Each entry with the kept sum of its part that divides by the 47 of its `29 of 47`, if there is one."""
    number = KeyTextTransform("divisions", "inputs")
    text = Cast(number, models.CharField())
    sums = (
        CalculationRecord.objects.filter(part=OuterRef("part"), key="indexing")
        .annotate(named=StrIndex(OuterRef("left_off"), Concat(Value("of "), text)), figures=Length(text))
        # `of 47` holds `of 4` too: the longest number is the one meant.
        .filter(named__gt=0, figures__gt=0)
        .order_by("-figures", "-made_at", "-pk")
    )
    return entries.annotate(
        sum_pk=Subquery(sums.values("pk")[:1]),
        sum_inputs=Subquery(sums.values("inputs")[:1]),
        sum_context=Subquery(sums.values("context")[:1]),
    )


@dataclass(frozen=True)
class Divided:
    """The kept sum that a note is about, and whether the note agrees with it."""

    record: int
    finding: Finding
    plate: Any  # as the answer of the sum has it


def divided(entry: LogEntry) -> Divided | None:
    """What can be said of an entry's note on dividing; None where nothing can be told for sure."""
    found = vars(entry)
    if not found.get("sum_pk"):
        return None
    plate = found["sum_context"]["answer"]["plate"]
    # Two moves on two circles leave two pins; one that runs backwards is counted in no way we can know.
    if not plate or plate["second"] or plate["spaces"] < 0:
        return None
    move = Move(
        divisions=found["sum_inputs"]["divisions"],
        circle=plate["circle"],
        turns=plate["turns"],
        spaces=plate["spaces"],
    )
    finding = check_note(entry.left_off, move)
    return Divided(found["sum_pk"], finding, plate) if finding else None


# ---- what was done last ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Doing:
    """One thing that was written down, when, and about which part."""

    at: datetime
    text: str
    part: Part | None = None
    entry: int | None = None  # of the log

    @property
    def day(self) -> date:
        return timezone.localdate(self.at)


#: What each row of that one question holds of its part, whichever table it comes from.
_OF_PART = ("part_id", "part__number", "part__hand", "part__name", "part__stage")


def last_doings(build: Build, count: int = DOINGS) -> list[Doing]:
    """The latest that was written down in a build: history, kept sums, cards, the log; the bin left out."""
    live = Q(part__build=build, part__binned_at=None)
    card_title = KeyTextTransform("title", KeyTransform("title", "sheet"))
    # Only the latest of a log that may be long go into the union, which sorts all it is given.
    logged = build.log.filter(Q(part=None) | Q(part__binned_at=None)).order_by("-written_at", "-pk")[:count]
    rows = _rows(HistoryLine.objects.filter(live), "at", "line", F("pk"), F("text"), Value("")).union(
        _rows(CalculationRecord.objects.filter(live), "made_at", "sum", F("pk"), F("title"), F("headline")),
        _rows(WorkCard.objects.filter(live), "made_at", "card", F("number"), card_title, Value("")),
        _rows(
            LogEntry.objects.filter(pk__in=logged.values("pk")),
            "written_at", "log", F("pk"), F("done"), F("left_off"),
        ),
        all=True,
    )  # fmt: skip
    return [_doing(*row) for row in rows.order_by("-when", "-bears")[:count]]


def _rows(found: Any, when: str, what: str, number: Any, text: Any, more: Any) -> Any:
    """The rows of one table, alike to those of the others."""
    words = models.TextField()
    return (
        found.order_by()
        .annotate(
            when=F(when), what=Value(what), bears=number, words=Cast(text, words), more=Cast(more, words)
        )
        .values_list("when", "what", "bears", "words", "more", *_OF_PART)
    )


def _doing(when: datetime, what: str, number: int, words: str, more: str, pk: int | None, *of: str) -> Doing:
    text = {
        "line": words,
        "sum": f"Kept sum {number}: {words}, {more}",
        "card": f"Made card {number}: {words}",
        "log": shorten(words or f"Left off: {more}", 160, placeholder=" …"),
    }[what]
    part = Part(pk=pk, number=of[0], hand=of[1], name=of[2], stage=of[3]) if pk else None
    return Doing(when, text, part, number if what == "log" else None)


# ---- what is in hand, and what stands still --------------------------------------------------------------


@dataclass(frozen=True)
class InHand:
    """A part that was begun, and what it waits for."""

    part: Part
    waits: str


@dataclass(frozen=True)
class Missing:
    """A casting that parts wait for, and the part it is first of all for."""

    casting: Casting
    part: Part | None
    stands: Stands
    held: int
    alone: int


@dataclass(frozen=True)
class Bench:
    """How the engine stands: counts, what is in hand, the castings that hold up most, other waits."""

    whole: Tally
    for_castings: int
    in_hand: list[InHand]
    missing: list[Missing]
    all_missing: int
    other_waits: list[PartFact]  # what was typed, the longest first


def bench_of(build: Build, standing: Standing) -> Bench:
    """How the engine stands, in one query beside the standing."""
    wanted = {casting: _first_held(standing, casting) for casting in standing.missing[:MISSING]}
    parts = {part.pk: part for part in _placed(build, wanted.values())}
    in_hand = [part for part in parts.values() if part.stage == Stage.IN_HAND]
    waiting = standing.waiting
    whole = Tally(
        total=len(standing.parts),
        made=sum(fact.is_made for fact in standing.parts.values()),
        in_hand=len(in_hand),
        waiting=len(waiting),
    )
    return Bench(
        whole=whole,
        for_castings=len(standing.held_up),
        in_hand=[InHand(part, short_words(standing, part.pk)) for part in in_hand[:IN_HAND]],
        missing=[_missing(standing, casting, parts.get(pk)) for casting, pk in wanted.items()],
        all_missing=len(standing.missing),
        other_waits=_other_waits(standing),
    )


def _other_waits(standing: Standing) -> list[PartFact]:
    """The parts that wait for something typed, since the longest; a day that nobody knows comes last."""
    found = [fact for fact in standing.parts.values() if fact.typed and not fact.is_made]
    return sorted(found, key=lambda fact: (fact.typed_since or date.max, fact.order))[:MISSING]


def _placed(build: Build, wanted: Iterable[int]) -> PartQuerySet:
    """The parts in hand and those wanted, each with the assembly it is used in first."""
    first = PartUse.objects.filter(part=OuterRef("pk")).order_by("pk")
    return (
        Part.objects.live()
        .with_needed()
        .filter(Q(stage=Stage.IN_HAND) | Q(pk__in=list(wanted)), build=build)
        .annotate(
            home_pk=Subquery(first.values("assembly_id")[:1]),
            home_name=Subquery(first.values("assembly__name")[:1]),
            home_balloon=Subquery(first.values("assembly__balloon")[:1]),
            home_parent=Subquery(first.values("assembly__parent_id")[:1]),
        )
        .order_by("-stage_at", "number_key", "hand")
    )


def _first_held(standing: Standing, casting: int) -> int:
    """The part that a casting is first of all for: one whose own it is, else the first it holds up."""
    held = sorted(standing.holding_of(casting).parts, key=lambda pk: standing.parts[pk].order)
    return next((pk for pk in held if standing.parts[pk].casting == casting), held[0])


def _missing(standing: Standing, casting: int, part: Part | None) -> Missing:
    holding = standing.holding_of(casting)
    return Missing(
        casting=standing.castings[casting],
        part=part,
        stands=stands(standing, casting),
        held=len(holding.parts),
        alone=len(holding.alone),
    )
