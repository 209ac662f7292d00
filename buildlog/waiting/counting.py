"""Each casting counted: ordered, received, accepted, rejected, owed and promised, line by line."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from buildlog.models import Happening
from buildlog.waiting.facts import Event, LineFact


@dataclass(slots=True)
class Count:
    """What happened to one casting on one line of an order, or without an order."""

    ordered: int = 0
    received: int = 0
    accepted: int = 0
    rejected: int = 0  # before it was accepted
    found_bad: int = 0  # after it was accepted
    cancelled: int = 0  # of those ordered, not coming
    promised_on: date | None = None
    promised: int = 0  # how many of those still to come that day was given for
    chased_on: date | None = None
    first_received_on: date | None = None
    last_accepted_on: date | None = None
    last_rejected_on: date | None = None
    reason: str = ""  # of the last rejection

    @property
    def good(self) -> int:
        """Accepted, and still held to be good."""
        return self.accepted - self.found_bad

    @property
    def unseen(self) -> int:
        """Received, and neither accepted nor rejected yet."""
        return max(self.received - self.accepted - self.rejected, 0)

    @property
    def owed(self) -> int:
        """Still to come on this line, replacements for rejected ones among them."""
        return max(self.ordered - self.cancelled - self.good - self.unseen, 0)

    @property
    def is_claim(self) -> bool:
        """All that is still to come is in place of something that was rejected."""
        return bool(self.rejected + self.found_bad and self.owed) and self._all_came

    @property
    def _all_came(self) -> bool:
        """As many came as were asked for, good or not."""
        return self.received >= self.ordered - self.cancelled

    def take(self, event: Event) -> None:
        """Count one more thing that happened."""
        match event.kind:
            case Happening.ORDERED:
                self.ordered += event.quantity
                self._promise(event)
            case Happening.CHASED:
                self.chased_on = event.on
                self._promise(event)
            case Happening.CANCELLED:
                self.cancelled += event.quantity
                self._kept(event.quantity)
            case Happening.RECEIVED:
                self.received += event.quantity
                self._kept(event.quantity)
                self.first_received_on = self.first_received_on or event.on
            case Happening.ACCEPTED:
                self.accepted += event.quantity
                self.last_accepted_on = event.on
            case Happening.REJECTED | Happening.FOUND_BAD:
                self._reject(event)

    def _promise(self, event: Event) -> None:
        """A day given is for all that is owed then; none given leaves the day that stood."""
        if event.promised_on and self.owed:
            self.promised_on, self.promised = event.promised_on, self.owed

    def _kept(self, quantity: int) -> None:
        """So many came, or are not coming: what is owed besides was promised by nobody.

        So nothing is promised in place of something that was rejected until somebody asks.
        """
        self.promised = max(self.promised - quantity, 0)
        if not self.promised:
            self.promised_on = None

    def _reject(self, event: Event) -> None:
        if event.kind == Happening.REJECTED:
            self.rejected += event.quantity
        else:
            self.found_bad += event.quantity
        self.last_rejected_on, self.reason = event.on, event.text


@dataclass(frozen=True, slots=True)
class Owed:
    """Castings still to come on one line, and when."""

    line: LineFact
    quantity: int
    promised_on: date | None
    is_claim: bool

    def overdue(self, today: date) -> int:
        """Days past the day promised; nought where it is not past."""
        return max((today - self.promised_on).days, 0) if self.promised_on else 0


@dataclass(slots=True)
class Held:
    """One casting over all its lines."""

    good: int = 0
    unseen: int = 0
    rejected: int = 0
    owed: tuple[Owed, ...] = ()  # the earliest promised first, those without a day last
    last_rejected_on: date | None = None
    reason: str = ""

    @property
    def to_come(self) -> int:
        return sum(owed.quantity for owed in self.owed)


def count_lines(events: Iterable[Event]) -> dict[tuple[int, int | None], Count]:
    """The count of each casting on each line, by (casting, line); line None where there was no order."""
    counts: dict[tuple[int, int | None], Count] = defaultdict(Count)
    for event in events:
        counts[event.casting, event.line].take(event)
    return counts


def count_castings(counts: dict[tuple[int, int | None], Count], lines: Iterable[LineFact]) -> dict[int, Held]:
    """What is held of each casting, over all its lines."""
    by_pk = {line.pk: line for line in lines}
    held: dict[int, Held] = defaultdict(Held)
    for (casting, line), count in counts.items():
        total = held[casting]
        total.good += count.good
        total.unseen += count.unseen
        total.rejected += count.rejected + count.found_bad
        if count.last_rejected_on and (
            total.last_rejected_on is None or count.last_rejected_on >= total.last_rejected_on
        ):
            total.last_rejected_on, total.reason = count.last_rejected_on, count.reason
        if line is not None and count.owed:
            owed = Owed(by_pk[line], count.owed, count.promised_on, count.is_claim)
            total.owed = tuple(sorted((*total.owed, owed), key=_by_promise))
    return held


def _by_promise(owed: Owed) -> tuple[bool, date, int]:
    return (owed.promised_on is None, owed.promised_on or date.max, owed.line.pk)
