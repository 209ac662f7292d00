"""An engine many times over: everything the stores, the drawings and the log of a build hold, in bulk."""

from collections.abc import Callable, Iterable
from datetime import timedelta
from typing import Any

from buildlog import clock
from buildlog.models import (
    Build,
    CastingNeed,
    Drawing,
    LogEntry,
    Mate,
    Order,
    OrderLine,
    PartFirst,
    SheetIssue,
    StoresEvent,
    Supplier,
)

BATCH = 500


def numbered(number: str, copy: int) -> str:
    """The number a thing goes by in one of the copies: `S-016`, `S-016.1`, `S-016.2`."""
    return f"{number}.{copy}" if copy and number else number


def multiply_things(model: Build, build: Build, copies: Iterable[int]) -> None:
    """Copy to `build` what hangs on the parts and castings of `model`, once for each of the copies.

    The parts and castings themselves are there already, under the numbers that `numbered` gives.
    """
    suppliers = _suppliers(model, build)
    parts = {(part.number, part.hand): part.pk for part in build.parts.all()}
    castings = {casting.number: casting.pk for casting in build.castings.all()}
    for copy in copies:
        part_of = {
            part.pk: parts[numbered(part.number, copy), part.hand]
            for part in model.parts.all()
            if (numbered(part.number, copy), part.hand) in parts and not part.binned_at
        }
        casting_of = {
            casting.pk: castings[numbered(casting.number, copy)]
            for casting in model.castings.all()
            if numbered(casting.number, copy) in castings
        }
        _needs(part_of, casting_of)
        _orders(model, build, copy, suppliers, part_of, casting_of)
        _drawings(model, build, copy)


def write_log(build: Build, total: int) -> None:
    """Sessions on parts of the build, one a day back from today, until there are so many in all."""
    parts = list(build.parts.all()[: max(total // 4, 1)])
    entries = []
    for place in range(total - build.log.count()):
        entry = LogEntry(
            build=build,
            on=clock.today() - timedelta(days=place),
            minutes=90,
            part=parts[place % len(parts)],
            done="Faced the boss and bored it",
            left_off="Boss faced, bore 0.010 under",
            next="Ream the bore",
            written_at=clock.now(),
        )
        entry.derive()
        entries.append(entry)
    LogEntry.objects.bulk_create(entries, batch_size=BATCH)


def _suppliers(model: Build, build: Build) -> dict[int, int]:
    """For each supplier of the model the one of the same name in the build."""
    found = {}
    for supplier in model.suppliers.all():
        same, _ = Supplier.objects.get_or_create(build=build, name=supplier.name)
        found[supplier.pk] = same.pk
    return found


def _needs(part_of: dict[int, int], casting_of: dict[int, int]) -> None:
    _copied(
        CastingNeed.objects.filter(part__in=part_of, casting__in=casting_of),
        lambda row: {
            "part_id": part_of[row.part_id],
            "casting_id": casting_of[row.casting_id],
            "quantity": row.quantity,
            "since": row.since,
        },
    )
    _copied(
        PartFirst.objects.filter(part__in=part_of, first__in=part_of),
        lambda row: {
            "part_id": part_of[row.part_id],
            "first_id": part_of[row.first_id],
            "since": row.since,
        },
    )
    _copied(
        Mate.objects.filter(one__in=part_of, other__in=part_of),
        lambda row: dict(
            zip(("one_id", "other_id"), sorted((part_of[row.one_id], part_of[row.other_id])), strict=True)
        ),
    )


def _orders(
    model: Build,
    build: Build,
    copy: int,
    suppliers: dict[int, int],
    part_of: dict[int, int],
    casting_of: dict[int, int],
) -> None:
    """The orders with their lines, and all that happened to them in the order in which it did."""
    new_orders, new_lines = {}, {}
    # A copy's number has a full stop in it: copies are not copied again.
    for order in model.orders.exclude(number__contains="."):
        twin = Order(
            build=build,
            supplier_id=suppliers[order.supplier_id],
            number=numbered(order.number, copy),
            ordered_on=order.ordered_on,
            note=order.note,
        )
        twin.derive()
        new_orders[order.pk] = twin
    Order.objects.bulk_create(new_orders.values(), batch_size=BATCH)
    for line in OrderLine.objects.filter(order__in=new_orders, casting__in=casting_of):
        order, casting = new_orders[line.order_id], casting_of[line.casting_id]
        new_lines[line.pk] = OrderLine(order=order, casting_id=casting, price=line.price)
    OrderLine.objects.bulk_create(new_lines.values(), batch_size=BATCH)
    _copied(
        StoresEvent.objects.filter(line__in=new_lines).order_by("on", "pk"),
        lambda row: {
            "build": build,
            "kind": row.kind,
            "casting_id": casting_of[row.casting_id],
            "line": new_lines[row.line_id],
            "part_id": part_of[row.part_id] if row.part_id else None,
            "quantity": row.quantity,
            "on": row.on,
            "promised_on": row.promised_on,
            "text": row.text,
            "at": row.at,
        },
    )


def _drawings(model: Build, build: Build, copy: int) -> None:
    """Sheet 12 is 112 in the first copy, and 212 in the second."""
    twins = {}
    for drawing in model.drawings.filter(number_key__lt="000100"):
        number = str(int(drawing.number) + 100 * copy)
        twin = Drawing(build=build, number=number, title=drawing.title, place=drawing.place)
        twin.derive()
        twins[drawing.pk] = twin
    Drawing.objects.bulk_create(twins.values(), batch_size=BATCH)
    _copied(
        SheetIssue.objects.filter(drawing__in=twins),
        lambda row: {
            "drawing": twins[row.drawing_id],
            "issue": row.issue,
            "dated": row.dated,
            "got_on": row.got_on,
            "recorded_at": row.recorded_at,
        },
    )


def _copied(rows: Any, values: Callable[[Any], dict[str, Any]]) -> None:
    rows = list(rows)
    if rows:
        model = type(rows[0])
        model.objects.bulk_create([model(**values(row)) for row in rows], batch_size=BATCH)
