"""The demo's castings: what its parts need, what was ordered, and everything that happened to it since."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import timedelta
from decimal import Decimal

from django.contrib.auth.models import User

from buildlog.actions.demo_files import BATCH, DemoError, day, evening, rows
from buildlog.models import (
    Build,
    Casting,
    CastingNeed,
    Happening,
    Mate,
    Order,
    OrderLine,
    Part,
    PartFirst,
    StoresEvent,
    Supplier,
)
from buildlog.waiting.counting import Count
from buildlog.waiting.facts import Event


def load_stores(build: Build, owner: User, *, listed_ago: int) -> None:
    """Needs, mates, orders and what came of them; `listed_ago` days ago the parts list came in."""
    parts = {part.key: part for part in build.parts.all()}
    castings = {casting.number: casting for casting in build.castings.all()}
    _name_castings(castings)
    _load_needs(build, parts, castings, listed_ago)
    _load_mates(parts)
    lines = _load_orders(build, castings)
    _load_events(build, owner, lines, parts)


def remove_stores(build: Build) -> None:
    """Take the stores away, each thing before what it hangs on."""
    StoresEvent.objects.filter(build=build).delete()
    OrderLine.objects.filter(order__build=build).delete()
    Order.objects.filter(build=build).delete()
    Supplier.objects.filter(build=build).delete()
    CastingNeed.objects.filter(casting__build=build).delete()
    Casting.objects.filter(build=build).delete()


def _name_castings(castings: dict[str, Casting]) -> None:
    """A casting that serves two parts goes by a name of its own."""
    changed = []
    for row in rows("castings.csv"):
        casting = castings[row["casting"]]
        casting.name, casting.note = row["name"], row["note"]
        changed.append(casting)
    Casting.objects.bulk_update(changed, ["name", "note"], batch_size=BATCH)


def _load_needs(build: Build, parts: dict[str, Part], castings: dict[str, Casting], listed_ago: int) -> None:
    """What each part needs; its own casting since the list came in, unless the file says since when."""
    build.parts.exclude(casting_number="").update(casting_since=day(str(listed_ago)))
    own, needs, firsts = [], [], []
    for row in rows("needs.csv"):
        part, since = parts[row["part"]], day(row["days ago"])
        if row["needs"] == "own casting":
            part.casting_since = since
            own.append(part)
        elif row["needs"] == "casting":
            casting, quantity = castings[row["of"]], int(row["quantity"])
            needs.append(CastingNeed(part=part, casting=casting, quantity=quantity, since=since))
        else:
            firsts.append(PartFirst(part=part, first=parts[row["of"]], since=since))
    Part.objects.bulk_update(own, ["casting_since"], batch_size=BATCH)
    CastingNeed.objects.bulk_create(needs, batch_size=BATCH)
    PartFirst.objects.bulk_create(firsts, batch_size=BATCH)


def _load_mates(parts: dict[str, Part]) -> None:
    pairs = [sorted((parts[row["part"]].pk, parts[row["mate"]].pk)) for row in rows("mates.csv")]
    Mate.objects.bulk_create([Mate(one_id=one, other_id=other) for one, other in pairs], batch_size=BATCH)


def _load_orders(build: Build, castings: dict[str, Casting]) -> dict[tuple[str, str], OrderLine]:
    """The orders with their lines, by order and casting."""
    suppliers = {
        row["name"]: Supplier.objects.create(build=build, name=row["name"], note=row["note"])
        for row in rows("suppliers.csv")
    }
    orders = {row["order"]: _order(build, row, suppliers) for row in rows("orders.csv")}
    Order.objects.bulk_create(orders.values(), batch_size=BATCH)
    lines = {
        (row["order"], row["casting"]): OrderLine(
            order=orders[row["order"]], casting=castings[row["casting"]], price=Decimal(row["price"])
        )
        for row in rows("stores.csv")
        if row["what"] == Happening.ORDERED
    }
    OrderLine.objects.bulk_create(lines.values(), batch_size=BATCH)
    return lines


def _order(build: Build, row: dict[str, str], suppliers: dict[str, Supplier]) -> Order:
    order = Order(
        build=build,
        supplier=suppliers[row["supplier"]],
        number=row["order"],
        ordered_on=day(row["days ago"]),
        note=row["note"],
    )
    order.derive()
    return order


def _load_events(
    build: Build, owner: User, lines: dict[tuple[str, str], OrderLine], parts: dict[str, Part]
) -> None:
    """What happened, in the order of the file; the whole of it held to what can have happened."""
    events = [_event(build, owner, row, lines, parts) for row in rows("stores.csv")]
    check_ledger(events)
    StoresEvent.objects.bulk_create(events, batch_size=BATCH)


def _event(
    build: Build,
    owner: User,
    row: dict[str, str],
    lines: dict[tuple[str, str], OrderLine],
    parts: dict[str, Part],
) -> StoresEvent:
    line, on = lines[row["order"], row["casting"]], day(row["days ago"])
    after = row["promised after"]
    return StoresEvent(
        build=build,
        kind=Happening(row["what"]),
        casting=line.casting,
        line=line,
        part=parts[row["part"]] if row["part"] else None,
        quantity=int(row["quantity"] or 0),
        on=on,
        promised_on=on + timedelta(days=int(after)) if after else None,
        text=row["words"],
        at=evening(int(row["days ago"])),
        by=owner,
    )


def check_ledger(events: Iterable[StoresEvent]) -> None:
    """Hold a ledger that is written in one go to what the actions ask of each entry.

    Raises
    ------
    DemoError
        An entry cannot have happened as things then stood, or is older than the one before it.
    """
    counts: dict[tuple[int, int | None], Count] = defaultdict(Count)
    before = None
    for event in events:
        count = counts[event.casting_id, event.line_id]
        if not _can_happen(event, count) or (before and event.on < before):
            raise DemoError(f"The demo's stores.csv does not fit: {event} on {event.on}")
        before = event.on
        count.take(Event(0, event.kind, event.casting_id, event.quantity, event.on))


def _can_happen(event: StoresEvent, count: Count) -> bool:
    match event.kind:
        case Happening.CHASED | Happening.CANCELLED:
            return count.owed >= max(event.quantity, 1)
        case Happening.ACCEPTED:
            return 0 < event.quantity <= count.unseen
        case Happening.REJECTED:
            return 0 < event.quantity <= count.unseen and bool(event.text)
        case Happening.FOUND_BAD:
            return 0 < event.quantity <= count.good and bool(event.text)
        case _:
            return event.quantity > 0
