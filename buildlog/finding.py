"""One box over the whole build: parts, castings, drawings, log, photos, stores, orders, kept sums, cards."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from django.db.models import Model, Q, QuerySet
from django.urls import reverse

from buildlog.models import Build, Casting, Drawing, LogEntry, Order, Part, Photo, StoresEvent, WorkCard
from buildlog.models.parts import fold
from buildlog.queries import find_parts
from calc.measures import EntryError, parse_size
from calc.models import CalculationRecord

#: Rows of one kind on the page; more are to be looked for with another word.
MOST = 12
_TEETH = re.compile(r"(\d+)t")


@dataclass(frozen=True, slots=True)
class Line:
    """One thing found."""

    ref: str
    text: str
    url: str
    on: date | None = None
    small: str = ""


@dataclass(slots=True)
class Group:
    """What was found of one kind; `more` where there is more than is shown."""

    title: str
    lines: list[Line] = field(default_factory=list)
    more: bool = False
    all_url: str = ""


def find(build: Build, text: str) -> list[Group]:
    """Everything of the build that holds every word, or the size, in any of the ways it is written."""
    if not text.strip():
        return []
    groups = [
        _parts(build, text),
        _group("Castings", _castings(build, text), _casting_line),
        _group("Drawings", _drawings(build, text), _drawing_line),
        _group("Log", _log(build, text), _log_line),
        _group("Photos", _photos(build, text), _photo_line),
        _group("Goods and chasing", _events(build, text), _event_line),
        _group("Orders", _orders(build, text), _order_line),
        _group("Kept sums", _sums(build, text), _sum_line),
        _group("Work cards", _cards(build, text), _card_line),
    ]
    return [group for group in groups if group.lines]


# ---- how a word may be written ---------------------------------------------------------------------------


def spellings(text: str, units: str) -> list[str]:
    """The ways a size or a number of teeth may stand in a text: `1 3/16`, `1-3/16`, `1.1875`; `57t`, `57 t`.

    The text itself comes first.
    """
    folded = fold(text.strip())
    found = [folded]
    teeth = _TEETH.fullmatch(folded)
    if teeth:
        found += [f"{teeth[1]}{joint}" for joint in (" t", "-t", " teeth", "-tooth", " tooth")]
    try:
        size = parse_size(text, "inch" if units == "inch" else "mm")
    except EntryError:
        size = None
    if size and size.measure and not size.words:
        found += _size_spellings(size.measure.value)
    return list(dict.fromkeys(found))


def _size_spellings(value: Fraction) -> list[str]:
    whole, part = divmod(value, 1)
    found = []
    if part and value.denominator <= 128 and value.denominator & (value.denominator - 1) == 0:
        fraction = f"{part.numerator}/{part.denominator}"
        found += (
            [f"{whole} {fraction}", f"{whole}.{fraction}", f"{whole}-{fraction}"] if whole else [fraction]
        )
    if (value * 10**6).denominator == 1:
        plain = f"{float(value):.6f}".rstrip("0").rstrip(".")
        found += [plain, plain.removeprefix("0")] if part else []
    return found


def _held(columns: Sequence[str], text: str, units: str) -> Q:
    """Rows in which one column has the whole text in some spelling, or every word stands in some column."""
    wanted = Q()
    for spelling in spellings(text, units):
        for column in columns:
            wanted |= Q(**{f"{column}__icontains": spelling})
    every = Q()
    for word in text.split():
        one = Q()
        for spelling in spellings(word, units):
            for column in columns:
                one |= Q(**{f"{column}__icontains": spelling})
        every &= one
    return wanted | every


# ---- each kind -------------------------------------------------------------------------------------------


def _group(title: str, found: "QuerySet[Model]", line: Callable[..., Line]) -> Group:
    rows = list(found[: MOST + 1])
    return Group(title, [line(row) for row in rows[:MOST]], len(rows) > MOST)


def _parts(build: Build, text: str) -> Group:
    parts = Part.objects.live().filter(build=build).order_by("number_key", "hand")
    group = _group("Parts", find_parts(parts, text, build.units), _part_line)
    group.all_url = reverse("part_list", args=[build.pk])
    return group


def _part_line(part: Part) -> Line:
    return Line(part.key, part.name, part.get_absolute_url(), None, part.leading_size)


def _castings(build: Build, text: str) -> "QuerySet[Casting]":
    held = _held(("number", "name", "material", "note"), text, build.units)
    return Casting.objects.filter(held, build=build)


def _casting_line(casting: Casting) -> Line:
    return Line(casting.number, casting.name, casting.get_absolute_url(), None, casting.note[:120])


def _drawings(build: Build, text: str) -> "QuerySet[Drawing]":
    held = _held(("number", "title", "place", "note", "issues__note"), text, build.units)
    return Drawing.objects.filter(held, build=build).distinct()


def _drawing_line(drawing: Drawing) -> Line:
    return Line(
        f"sheet {drawing.number}", drawing.title, drawing.get_absolute_url(), None, drawing.note[:120]
    )


def _log(build: Build, text: str) -> "QuerySet[LogEntry]":
    held = _held(("search_text",), text, build.units)
    return LogEntry.objects.filter(held, build=build).select_related("part")


def _log_line(entry: LogEntry) -> Line:
    said = next((text for text in (entry.done, entry.left_off, entry.next) if text), "")
    return Line(entry.part.key if entry.part else "log", said[:160], entry.get_absolute_url(), entry.on)


def _photos(build: Build, text: str) -> "QuerySet[Photo]":
    held = _held(("search_text",), text, build.units)
    return Photo.objects.live().filter(held, build=build).select_related("part").latest_first()


def _photo_line(photo: Photo) -> Line:
    said = photo.caption[:160]
    return Line(photo.part.key if photo.part else "photo", said, photo.get_absolute_url(), photo.taken_on)


def _events(build: Build, text: str) -> "QuerySet[StoresEvent]":
    held = _held(("text", "casting__name"), text, build.units)
    found = StoresEvent.objects.filter(held, build=build, undone_at=None).exclude(text="")
    return found.select_related("casting").order_by("-on", "-pk")


def _event_line(event: StoresEvent) -> Line:
    casting = event.casting
    return Line(
        casting.number, event.text[:160], casting.get_absolute_url(), event.on, event.get_kind_display()
    )


def _orders(build: Build, text: str) -> "QuerySet[Order]":
    held = _held(("number", "note", "supplier__name"), text, build.units)
    return Order.objects.filter(held, build=build).select_related("supplier")


def _order_line(order: Order) -> Line:
    return Line(
        order.number, order.supplier.name, order.get_absolute_url(), order.ordered_on, order.note[:120]
    )


def _sums(build: Build, text: str) -> "QuerySet[CalculationRecord]":
    held = _held(("title", "headline"), text, build.units)
    return CalculationRecord.objects.filter(held, part__build=build).select_related("part")


def _sum_line(record: CalculationRecord) -> Line:
    on = record.made_at.date()
    return Line(f"sum {record.pk}", record.title, record.get_absolute_url(), on, record.headline)


def _cards(build: Build, text: str) -> "QuerySet[WorkCard]":
    return WorkCard.objects.filter(_held(("title",), text, build.units), build=build)


def _card_line(card: WorkCard) -> Line:
    return Line(f"card {card.number}", card.title, card.get_absolute_url(), card.made_at.date())
