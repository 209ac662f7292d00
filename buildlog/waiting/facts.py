"""What is known: parts and what they need, order lines, and what happened, as plain values."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from buildlog.models import (
    Build,
    Casting,
    CastingNeed,
    CastingNumbers,
    Happening,
    OrderLine,
    Part,
    PartFirst,
    Stage,
    StoresEvent,
)
from buildlog.models.parts import MADE_STAGES
from buildlog.numbers import key_of

MADE = frozenset(MADE_STAGES)


@dataclass(frozen=True, slots=True)
class PartFact:
    """A part record that is not in the bin, as far as waiting goes."""

    pk: int
    key: str
    order: tuple[str, str]  # sorts as lists of parts do
    is_made: bool
    casting: int | None = None  # its own
    wanted: int = 0  # of its own casting, spoiled ones among them
    since: date | None = None  # the day it came to need its own casting
    typed: str = ""  # what else it waits for, in the builder's words
    typed_since: date | None = None
    name: str = ""
    stage: str = Stage.NOT_STARTED


@dataclass(frozen=True, slots=True)
class NeedFact:
    """A casting that a part cannot go on without, though it is another's."""

    part: int
    casting: int
    quantity: int
    since: date


@dataclass(frozen=True, slots=True)
class LineFact:
    """A line of an order."""

    pk: int
    casting: int
    order: int
    number: str  # of the order
    supplier: str
    ordered_on: date


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened and was not undone."""

    pk: int
    kind: str
    casting: int
    quantity: int
    on: date
    line: int | None = None
    part: int | None = None
    promised_on: date | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Facts:
    """All that waiting is worked out from."""

    parts: tuple[PartFact, ...] = ()
    needs: tuple[NeedFact, ...] = ()
    firsts: tuple[tuple[int, int], ...] = ()  # part, the part to be made before it
    lines: tuple[LineFact, ...] = ()
    events: tuple[Event, ...] = ()  # in the order in which they happened
    castings: dict[int, Casting] = field(default_factory=dict)


def facts_of(build: Build) -> Facts:
    """The facts of a build, in seven queries."""
    castings = {casting.pk: casting for casting in build.castings.all()}
    by_number = {casting.number: pk for pk, casting in castings.items()}
    needs = CastingNeed.objects.filter(casting__build=build, part__binned_at=None)
    firsts = PartFirst.objects.filter(part__build=build, part__binned_at=None, first__binned_at=None)
    return Facts(
        parts=tuple(_parts(build, by_number)),
        needs=tuple(
            NeedFact(*row) for row in needs.values_list("part_id", "casting_id", "quantity", "since")
        ),
        firsts=tuple(firsts.values_list("part_id", "first_id")),
        lines=tuple(_lines(build)),
        events=tuple(events_of(build)),
        castings=castings,
    )


def events_of(build: Build) -> Iterable[Event]:
    """What happened in a build's stores, undone things left out."""
    names = ("pk", "kind", "casting_id", "quantity", "on", "line_id", "part_id", "promised_on", "text")
    rows = StoresEvent.objects.filter(build=build).standing().values_list(*names)
    return (Event(*row) for row in rows)


def _parts(build: Build, by_number: dict[str, int]) -> Iterable[PartFact]:
    """The parts as plain values: every page asks for all of them, and records would cost it far more."""
    names = (
        "pk", "number", "hand", "number_key", "name", "stage", "scrap", "needed_sum", "casting_number",
        "castings_each", "casting_since", "waits_for", "waits_since",
    )  # fmt: skip
    known = CastingNumbers(by_number)
    for row in Part.objects.live().filter(build=build).with_needed().values_list(*names):
        pk, number, hand, number_key, name, stage, scrap, needed, casting, each, *rest = row
        own = by_number.get(known.find(casting) or "") if casting else None
        yield PartFact(
            pk=pk,
            key=key_of(number, hand),
            order=(number_key, hand),
            is_made=stage in MADE,
            casting=own,
            wanted=each * (max(needed, 1) + scrap) if own else 0,
            since=rest[0],
            typed=rest[1],
            typed_since=rest[2],
            name=name,
            stage=stage,
        )


def _lines(build: Build) -> Iterable[LineFact]:
    names = ("pk", "casting_id", "order_id", "order__number", "order__supplier__name", "order__ordered_on")
    rows = OrderLine.objects.filter(order__build=build).values_list(*names)
    return (LineFact(*row) for row in rows)


__all__ = ["Event", "Facts", "Happening", "LineFact", "NeedFact", "PartFact", "events_of", "facts_of"]
