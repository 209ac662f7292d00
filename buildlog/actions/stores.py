"""What happens to castings: ordered, asked after, received, looked at, allotted, and undone again."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from django.db import transaction

from buildlog import clock
from buildlog.actions.stages import Doer
from buildlog.models import Build, Casting, Happening, Order, OrderLine, Part, StoresEvent
from buildlog.waiting.counting import Count, count_lines
from buildlog.waiting.facts import events_of
from buildlog.waiting.standing import standing_of


class StoresRefusedError(ValueError):
    """Something that cannot have happened; `field` names the entry."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True)
class Asked:
    """One line of an order to be written."""

    casting: Casting
    quantity: int
    price: Decimal | None = None
    promised_on: date | None = None


@transaction.atomic
def write_order(order: Order, asked: Iterable[Asked], *, by: Doer, token: UUID | None = None) -> Order:
    """Write an order with its lines; the same token again gives the order already written."""
    _lock(order.build)
    earlier = order_written(order.build, token)
    if earlier:
        return earlier
    order.save()
    for one in asked:
        line = OrderLine.objects.create(order=order, casting=one.casting, price=one.price)
        _happened(
            Happening.ORDERED, one.casting, one.quantity, on=order.ordered_on, by=by, token=token,
            line=line, promised_on=one.promised_on,
        )  # fmt: skip
    return order


def is_written(build: Build, token: UUID | None) -> bool:
    """Whether the entry with this token was written down already: it was sent twice."""
    return _done_before(build, token) is not None


def order_written(build: Build, token: UUID | None) -> Order | None:
    """The order that was written with this token, if one was."""
    earlier = _done_before(build, token)
    return earlier.line.order if earlier and earlier.line else None


@transaction.atomic
def add_to_order(order: Order, asked: Asked, *, on: date, by: Doer, token: UUID | None = None) -> None:
    """Ask for more on an order: a new line, or more on the line of that casting."""
    _lock(order.build)
    if _done_before(order.build, token):
        return
    line, is_new = OrderLine.objects.get_or_create(
        order=order, casting=asked.casting, defaults={"price": asked.price}
    )
    if not is_new and asked.price is not None and asked.price != line.price:
        line.price = asked.price
        line.save(update_fields=["price"])
    _happened(
        Happening.ORDERED, asked.casting, asked.quantity, on=on, by=by, token=token,
        line=line, promised_on=asked.promised_on,
    )  # fmt: skip


@transaction.atomic
def chase(
    line: OrderLine, *, on: date, promised_on: date | None, said: str, by: Doer, token: UUID | None = None
) -> None:
    """Note that the supplier was asked, what was said and what is promised now.

    Raises
    ------
    StoresRefusedError
        Nothing is owed on this line.
    """
    build = line.order.build
    _lock(build)
    if _done_before(build, token):
        return
    if not _count(build, line.casting, line).owed:
        raise StoresRefusedError("said", f"Nothing is owed of {line.casting.number} on this order any more.")
    _happened(
        Happening.CHASED, line.casting, 0, on=on, by=by, token=token, line=line,
        promised_on=promised_on, text=said,
    )  # fmt: skip


@transaction.atomic
def chase_all(
    order: Order, *, on: date, promised_on: date | None, said: str, by: Doer, token: UUID | None = None
) -> None:
    """Note that the supplier was asked after everything that is owed on an order.

    Raises
    ------
    StoresRefusedError
        Nothing is owed on this order.
    """
    _lock(order.build)
    if _done_before(order.build, token):
        return
    counts = count_lines(events_of(order.build))
    lines = [
        line
        for line in order.lines.select_related("casting")
        if (count := counts.get((line.casting_id, line.pk))) and count.owed
    ]
    if not lines:
        raise StoresRefusedError("said", f"Nothing is owed on order {order.number} any more.")
    for line in lines:
        _happened(
            Happening.CHASED, line.casting, 0, on=on, by=by, token=token, line=line,
            promised_on=promised_on, text=said,
        )  # fmt: skip


@transaction.atomic
def cancel_rest(line: OrderLine, *, on: date, why: str, by: Doer, token: UUID | None = None) -> None:
    """Note that what is still owed on a line is not coming.

    Raises
    ------
    StoresRefusedError
        Nothing is owed on this line.
    """
    build = line.order.build
    _lock(build)
    if _done_before(build, token):
        return
    owed = _count(build, line.casting, line).owed
    if not owed:
        raise StoresRefusedError("why", f"Nothing is owed of {line.casting.number} on this order any more.")
    _happened(Happening.CANCELLED, line.casting, owed, on=on, by=by, token=token, line=line, text=why)


@transaction.atomic
def receive(
    build: Build,
    came: Mapping[tuple[Casting, OrderLine | None], int],
    *,
    on: date,
    by: Doer,
    text: str = "",
    token: UUID | None = None,
) -> None:
    """Note what a delivery held, casting by casting; it counts as on hand once it is accepted."""
    _lock(build)
    if _done_before(build, token):
        return
    for (casting, line), quantity in came.items():
        if quantity:
            _happened(Happening.RECEIVED, casting, quantity, on=on, by=by, token=token, line=line, text=text)


@transaction.atomic
def judge(
    casting: Casting,
    line: OrderLine | None,
    *,
    accepted: int,
    rejected: int,
    reason: str,
    on: date,
    by: Doer,
    note: str = "",
    token: UUID | None = None,
) -> None:
    """Accept or reject castings that came and were not looked at yet; `note` is kept with the good ones.

    Raises
    ------
    StoresRefusedError
        More are judged than came, none is, or a rejection has no reason.
    """
    _lock(casting.build)
    if _done_before(casting.build, token):
        return
    unseen = _count(casting.build, casting, line).unseen
    if not accepted and not rejected:
        raise StoresRefusedError(
            "accepted", "Nothing is counted yet: type how many are good, or how many are not."
        )
    if accepted + rejected > unseen:
        here = f"{unseen} {'is' if unseen == 1 else 'are'}"
        raise StoresRefusedError(
            "accepted", f"Only {here} here to be looked at; {accepted + rejected} cannot be."
        )
    if rejected and not reason:
        raise StoresRefusedError("reason", "Say what is wrong with it: it is what the supplier will be told.")
    for kind, quantity, text in (
        (Happening.ACCEPTED, accepted, note),
        (Happening.REJECTED, rejected, reason),
    ):
        if quantity:
            _happened(kind, casting, quantity, on=on, by=by, token=token, line=line, text=text)


@transaction.atomic
def find_bad(
    casting: Casting,
    line: OrderLine | None,
    quantity: int,
    *,
    reason: str,
    on: date,
    by: Doer,
    part: Part | None = None,
    token: UUID | None = None,
) -> None:
    """Note that castings which had been accepted turned out bad; `part` is whose they were.

    Raises
    ------
    StoresRefusedError
        Fewer are on hand than are said to be bad, or there is no reason.
    """
    _lock(casting.build)
    if _done_before(casting.build, token):
        return
    good = _count(casting.build, casting, line).good
    if quantity > good:
        raise StoresRefusedError("quantity", f"Only {good} good of {casting.number} came this way.")
    if not reason:
        raise StoresRefusedError("reason", "Say what is wrong with it: it is what the supplier will be told.")
    _happened(
        Happening.FOUND_BAD, casting, quantity, on=on, by=by, token=token, line=line, part=part, text=reason
    )


@transaction.atomic
def allot(casting: Casting, part: Part, quantity: int, *, by: Doer, token: UUID | None = None) -> None:
    """Give castings on hand to one of the parts that claim them.

    Raises
    ------
    StoresRefusedError
        The part does not claim this casting, or so many are not free.
    """
    _lock(casting.build)
    if _done_before(casting.build, token):
        return
    share = standing_of(casting.build).shares.get(casting.pk)
    claim = next((one for one in share.claims if one.part == part.pk), None) if share else None
    if share is None or claim is None:
        raise StoresRefusedError("part", f"{part.key} does not claim {casting.number}.")
    if quantity > claim.wanted - claim.allotted:
        raise StoresRefusedError(
            "quantity", f"{part.key} wants {claim.wanted} and has {claim.allotted} allotted already."
        )
    loose = share.good - share.used - sum(one.allotted for one in share.claims)
    if quantity > loose:
        raise StoresRefusedError(
            "quantity", f"Only {max(loose, 0)} of {casting.number} can still be allotted."
        )
    _happened(Happening.ALLOTTED, casting, quantity, on=clock.today(), by=by, token=token, part=part)


@transaction.atomic
def undo(event: StoresEvent, *, by: Doer) -> None:
    """Take back something that was noted by mistake; it stays to be read, and counts no more.

    Raises
    ------
    StoresRefusedError
        Something later rests on it, which has to be undone first.
    """
    _lock(event.build)
    event.refresh_from_db()
    if event.undone_at:
        return
    rest = [one for one in events_of(event.build) if one.pk != event.pk]
    count = count_lines(rest).get((event.casting_id, event.line_id), Count())
    reason = _impossible(count, event)
    if reason:
        raise StoresRefusedError("event", reason)
    event.undone_at, event.undone_by_id = clock.now(), by.pk if by else None
    event.save(update_fields=["undone_at", "undone_by"])


def _impossible(count: Count, event: StoresEvent) -> str:
    """Why what else happened on the line cannot stand without this event; empty where it can."""
    if count.accepted + count.rejected > count.received:
        return "These have been accepted or rejected since: take that back first."
    if count.found_bad > count.accepted:
        return "Some of these have been found bad since: take that back first."
    if event.kind == Happening.ORDERED and not count.ordered and _goes_on(count):
        return "Something has come on this line, was asked after or is not coming: take that back first."
    return ""


def _goes_on(count: Count) -> bool:
    """Whether more happened on a line than that it was ordered."""
    return bool(count.received or count.chased_on or count.cancelled)


def _lock(build: Build) -> None:
    """One writer at a time in the stores of a build, so that a count cannot change under a check."""
    Build.objects.select_for_update().get(pk=build.pk)


def _done_before(build: Build, token: UUID | None) -> StoresEvent | None:
    if token is None:
        return None
    return StoresEvent.objects.select_related("line__order").filter(build=build, token=token).first()


def _count(build: Build, casting: Casting, line: OrderLine | None) -> Count:
    found = count_lines(one for one in events_of(build) if one.casting == casting.pk)
    return found.get((casting.pk, line.pk if line else None), Count())


def _happened(
    kind: Happening,
    casting: Casting,
    quantity: int,
    *,
    on: date,
    by: Doer,
    token: UUID | None,
    line: OrderLine | None = None,
    part: Part | None = None,
    promised_on: date | None = None,
    text: str = "",
) -> None:
    StoresEvent.objects.create(
        build_id=casting.build_id,
        kind=kind,
        casting=casting,
        line=line,
        part=part,
        quantity=quantity,
        on=on,
        promised_on=promised_on,
        text=text[:300],
        at=clock.now(),
        by_id=by.pk if by else None,
        token=token,
    )
