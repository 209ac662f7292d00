"""Questions put to what was really made: the column of a part, and what a part has to suit."""

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Exists, OuterRef, Q, Subquery

from buildlog.models import Characteristic, Concession, ConcessionMate, Part, Reading

_NUMBER = re.compile(r"(?:C\s*-?\s*)?0*(\d{1,6})", re.IGNORECASE | re.ASCII)


def concession_named(build: int, typed: str) -> Concession:
    """The concession of a build that a number names: `C-009`, `c9`, `9`.

    Raises
    ------
    ValueError
        It is no number of a concession, or there is none of this number; the message says which.
    """
    read = _NUMBER.fullmatch(typed.strip())
    if read is None:
        raise ValueError(f"“{typed[:20]}” is no concession. Write its number, as C-009.")
    found = Concession.objects.filter(build=build, number=int(read[1])).select_related("part").first()
    if found is None:
        raise ValueError(f"There is no C-{int(read[1]):03} in this build.")
    return found


@dataclass
class Column:
    """One characteristic with all that was read of it, and of each piece the reading that counts."""

    size: Characteristic
    counts: list[Reading] = field(default_factory=list)
    others: list[Reading] = field(default_factory=list)  # earlier ones, and those struck out

    @property
    def marks(self) -> list[str]:
        """The marks that its readings are shown with."""
        return [reading.judged.mark for reading in self.counts if reading.judged.mark]


@dataclass(frozen=True, slots=True)
class ToSuit:
    """What a part has to suit: the departure of its mate, and the size that mate really has."""

    telling: int  # the number of the telling, by which it is taken note of
    concession: Concession
    reading: Reading
    told_on: date | None = None

    @property
    def is_noted(self) -> bool:
        """Whether somebody took note of it, and nothing was measured since."""
        return self.told_on is not None and self.reading.on <= self.told_on

    @property
    def words(self) -> str:
        return self.reading.to_suit


@dataclass(frozen=True, slots=True)
class Made:
    """What was measured of a part, what it has to suit, and its concessions, the newest first."""

    columns: list[Column]  # those that have been measured
    unmeasured: int
    suits: list[ToSuit]
    concessions: list[Concession]

    @property
    def marks(self) -> list[str]:
        """The marks that it is shown with."""
        own = [mark for column in self.columns for mark in column.marks]
        decided = ["wait" if one.is_open else "ok" for one in self.concessions]
        return [*own, *decided, *(["ok" if one.is_noted else "care" for one in self.suits])]


def made_of(part: Part) -> Made:
    """All that the page of a part says of what was really made; in one query."""
    readings = list(_readings(part))
    own = [one for one in readings if one.characteristic.part_id == part.pk]
    concessions = [one.concession for one in own if hasattr(one, "concession")]
    for one in concessions:
        one.part = part
    sizes = {one.characteristic_id: one.characteristic for one in own}
    known: int | None = getattr(part, "asked_count", None)
    asked = part.characteristics.count() if known is None else known
    return Made(
        columns=_columns(sorted(sizes.values(), key=lambda size: size.position), own),
        unmeasured=asked - len(sizes),
        suits=_suits(readings),
        concessions=sorted(concessions, key=lambda one: -one.number),
    )


def columns_of(part: Part) -> list[Column]:
    """The characteristics of a part in their order, each with its readings."""
    own = Reading.objects.filter(characteristic__part=part)
    readings = own.select_related("characteristic", "concession", "by")
    return _columns(part.characteristics.all(), readings)


def suits_of(part: Part) -> list[ToSuit]:
    """The departures of mates, taken note of or not, each with the size as it is now.

    They stand as long as the departure does: who took note in May still has to turn to the figure in
    October. A mate that has come into its limits since, or that is not used after all, asks for nothing.
    """
    return _suits(list(_readings(part, own=False)))


def _readings(part: Part, *, own: bool = True) -> "Iterable[Reading]":
    """The readings of what the part is to suit, each with its telling, and its own where they are wanted."""
    tellings = ConcessionMate.objects.filter(mate=part, concession__part__binned_at=None)
    departed = tellings.filter(concession__reading__characteristic=OuterRef("characteristic"))
    telling = tellings.filter(concession__reading=OuterRef("pk"))
    wanted = Q(Exists(departed)) | Q(characteristic__part=part) if own else Q(Exists(departed))
    found = Reading.objects.filter(wanted).annotate(
        telling=Subquery(telling.values("pk")[:1]), told_on=Subquery(telling.values("told_on")[:1])
    )
    return found.select_related("characteristic__part", "concession", "by")


def _columns(sizes: Iterable[Characteristic], readings: Iterable[Reading]) -> list[Column]:
    found = {size.pk: Column(size) for size in sizes}
    seen: set[tuple[int, int]] = set()
    for reading in readings:
        column = found[reading.characteristic_id]
        place = (reading.characteristic_id, reading.piece)
        if reading.struck_at is None and place not in seen:
            seen.add(place)
            column.counts.append(reading)
        else:
            column.others.append(reading)
    for column in found.values():
        column.counts.sort(key=lambda reading: reading.piece)
    return list(found.values())


def _suits(readings: Iterable[Reading]) -> list[ToSuit]:
    now: dict[tuple[int, int], Reading] = {}
    told: list[tuple[int, Reading]] = []
    for one in readings:
        if one.struck_at is None:
            now.setdefault((one.characteristic_id, one.piece), one)
        telling: int | None = getattr(one, "telling", None)
        if telling is not None and one.concession.decided.keeps_the_part:
            told.append((telling, one))
    found = []
    for telling, one in sorted(told, key=lambda pair: pair[1].concession.number):
        reading = now.get((one.characteristic_id, one.piece))
        if reading and reading.judged.is_in is not True:
            one.concession.part = one.characteristic.part
            found.append(ToSuit(telling, one.concession, reading, getattr(one, "told_on", None)))
    return found


def measured_on(parts: Iterable[Part]) -> dict[int, list[Reading]]:
    """The readings that count, in their order, by the part they were taken on."""
    found: dict[int, list[Reading]] = defaultdict(list)
    seen: set[tuple[int, int]] = set()
    readings = Reading.objects.valid().filter(characteristic__part__in=list(parts))
    for reading in readings.select_related("characteristic"):
        place = (reading.characteristic_id, reading.piece)
        if place not in seen:
            seen.add(place)
            found[reading.characteristic.part_id].append(reading)
    return dict(found)
