"""What one box looks through: a line to a kind of thing, in the order in which the kinds are shown."""

from typing import Any

from django.db.models import Prefetch, QuerySet
from django.urls import reverse

from buildlog.finding_rows import Kind, Shown
from buildlog.models import (
    Build,
    Casting,
    Characteristic,
    Concession,
    Drawing,
    Erratum,
    LogEntry,
    Order,
    Part,
    PartQuerySet,
    Photo,
    Reading,
    Scrap,
    StoresEvent,
    WorkCard,
)
from buildlog.waiting.told import told
from calc.models import CalculationRecord

#: The columns that a part’s key is made of. What is fetched of a build’s own rows has to have its build too.
OF_PART = ("part__number", "part__hand")


def _parts(build: Build) -> PartQuerySet:
    found = Part.objects.live().filter(build=build).order_by("number_key", "hand")
    return found.only("number", "hand", "name", "leading_size", "material", "notes")


def _part(part: Part) -> Shown:
    return Shown(
        part.key, part.get_absolute_url(), (part.name,), (part.leading_size, part.material, part.notes)
    )


def _castings(build: Build) -> "QuerySet[Casting]":
    return build.castings.all()


def _casting(casting: Casting) -> Shown:
    small = (casting.note, casting.material)
    return Shown(casting.number, casting.get_absolute_url(), (casting.name,), small)


def _drawings(build: Build) -> "QuerySet[Drawing]":
    return build.drawings.prefetch_related("issues")


def _drawing(drawing: Drawing) -> Shown:
    notes = [issue.note for issue in drawing.issues.all()]
    small = (drawing.note, drawing.place, *notes)
    return Shown(f"sheet {drawing.number}", drawing.get_absolute_url(), (drawing.title,), small)


def _log(build: Build) -> "QuerySet[LogEntry]":
    return build.log.select_related("part").only("build", "done", "left_off", "next", "on", *OF_PART)


def _entry(entry: LogEntry) -> Shown:
    left_off, following = (
        f"{word}: {text}" if text else ""
        for word, text in (("Left off", entry.left_off), ("Next", entry.next))
    )
    ref = entry.part.key if entry.part else "log"
    return Shown(ref, entry.get_absolute_url(), (entry.done, left_off, following), (), entry.on)


def _errata(build: Build) -> "QuerySet[Erratum]":
    return build.errata.filter(struck_at=None).select_related("drawing")


def _erratum(erratum: Erratum) -> Shown:
    words = f"{erratum.where}: {erratum.as_printed} should read {erratum.should_be}"
    small = (f"sheet {erratum.drawing.number}", erratum.source)
    return Shown(erratum.key, erratum.get_absolute_url(), (words,), small, erratum.found_on)


def _scrap_book(build: Build) -> "QuerySet[Scrap]":
    return Scrap.objects.live().filter(build=build).select_related("part")


def _scrap(scrap: Scrap) -> Shown:
    lesson = f"Lesson: {scrap.lesson}" if scrap.lesson else ""
    return Shown(scrap.part.key, scrap.get_absolute_url(), (scrap.happened, lesson), (scrap.words,), scrap.on)


def _photos(build: Build) -> "QuerySet[Photo]":
    found = Photo.objects.live().filter(build=build).select_related("part").latest_first()
    return found.only("caption", "taken_on", *OF_PART)


def _photo(photo: Photo) -> Shown:
    ref = photo.part.key if photo.part else "photo"
    return Shown(ref, photo.get_absolute_url(), (photo.caption,), (), photo.taken_on)


def _sizes(build: Build) -> "QuerySet[Characteristic]":
    found = Characteristic.objects.filter(part__build=build, part__binned_at=None).select_related("part")
    found = found.only("position", "name", "place", "nominal", "unit", "upper", "lower", *OF_PART)
    return found.prefetch_related(Prefetch("readings", Reading.objects.valid())).order_by(
        "part__number_key", "part__hand", "position", "pk"
    )


def _size(size: Characteristic) -> Shown:
    url = f"{reverse('part_made', args=[size.part_id])}#size{size.pk}"
    readings = list(size.readings.all())
    small = [", ".join(filter(None, (one.shown, one.instrument, one.note))) for one in readings]
    words = f"{size.name}, {size.place}" if size.place else size.name
    on = readings[0].on if readings else None
    return Shown(
        size.part.key, url, (f"{words}: {size.wanted}",), tuple(f"measured {one}" for one in small), on
    )


def _concessions(build: Build) -> "QuerySet[Concession]":
    found = build.concessions.select_related("part", "reading__characteristic")
    size = ("characteristic__name", "characteristic__unit", "value", "unit", "on")
    of_reading = (f"reading__{name}" for name in size)
    return found.only("build", "number", "wrong", "decision", "words", *OF_PART, "part__name", *of_reading)


def _concession(concession: Concession) -> Shown:
    reading = concession.reading
    return Shown(
        concession.key,
        concession.get_absolute_url(),
        (concession.wrong, concession.decided_words),
        (f"{concession.part}, {reading.characteristic.name} measured {reading.shown}",),
        reading.on,
    )


def _events(build: Build) -> "QuerySet[StoresEvent]":
    standing = StoresEvent.objects.standing().filter(build=build).exclude(text="")
    found = standing.select_related("casting", "part", "line__order").order_by("-on", "-pk")
    own = ("kind", "quantity", "on", "promised_on", "text", "line__order__number")
    return found.only(*own, "casting__number", "casting__name", *OF_PART)


def _event(event: StoresEvent) -> Shown:
    url = f"{event.casting.get_absolute_url()}#event{event.pk}"
    return Shown(event.casting.number, url, (told(event),), (event.casting.name,), event.on)


def _orders(build: Build) -> "QuerySet[Order]":
    found = build.orders.select_related("supplier")
    return found.only("build", "number", "ordered_on", "note", "supplier__name")


def _order(order: Order) -> Shown:
    url = order.get_absolute_url()
    return Shown(order.number, url, (order.supplier.name,), (order.note,), order.ordered_on)


def _sums(build: Build) -> "QuerySet[Any]":
    found = CalculationRecord.objects.filter(part__build=build).select_related("part")
    return found.only("title", "headline", "made_at", *OF_PART)


def _sum(record: CalculationRecord) -> Shown:
    small = (f"{record.part.key}, {record.headline}" if record.part else record.headline,)
    return Shown(f"sum {record.pk}", record.get_absolute_url(), (record.title,), small, record.made_at.date())


def _cards(build: Build) -> "QuerySet[WorkCard]":
    found = build.cards.select_related("part")
    return found.only("build", "number", "title", "made_at", *OF_PART, "part__name")


def _card(card: WorkCard) -> Shown:
    url = card.get_absolute_url()
    return Shown(f"card {card.number}", url, (card.title,), (str(card.part),), card.made_at.date())


#: Each with its rows, how one is shown, and where it is looked; without columns, in `search_text`.
KINDS = (
    Kind("parts", "Parts", _parts, _part),
    Kind("castings", "Castings", _castings, _casting, ("number", "name", "material", "note")),
    Kind(
        "drawings", "Drawings", _drawings, _drawing, ("number", "title", "place", "note", "issues__note"),
        words=("sheet",),
    ),
    Kind(
        "errata", "Errata", _errata, _erratum,
        ("where", "as_printed", "should_be", "source", "drawing__number"),
        number="number", words=("e-", "e"),
    ),
    Kind("log", "Log", _log, _entry),
    Kind("scrap", "Scrap book", _scrap_book, _scrap),
    Kind("photos", "Photos", _photos, _photo),
    Kind(
        "concessions", "Concessions", _concessions, _concession,
        ("wrong", "words", "decision", "part__number", "part__name", "reading__value",
         "reading__characteristic__name"),
        number="number", words=("c-", "c"),
    ),
    Kind(
        "sizes", "Sizes and readings", _sizes, _size,
        ("name", "place", "nominal", "readings__value", "readings__instrument", "readings__note"),
    ),
    Kind(
        "goods", "Goods and chasing", _events, _event,
        ("text", "kind", "casting__number", "casting__name", "line__order__number"),
    ),
    Kind("orders", "Orders", _orders, _order, ("number", "note", "supplier__name"), words=("order",)),
    Kind(
        "sums", "Kept sums", _sums, _sum, ("title", "headline", "part__number"),
        number="pk", words=("sum ",),
    ),
    Kind("cards", "Work cards", _cards, _card, ("title", "part__number"), number="number", words=("card ",)),
)  # fmt: skip
