"""What time it is; the one place to ask, so that tests can stop the clock."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime

from django.utils import timezone

_stopped_at: datetime | None = None


def now() -> datetime:
    return _stopped_at or timezone.now()


def today() -> date:
    return timezone.localdate(now())


def day_in_full(day: date) -> str:
    """A day as an entry of one is written: `30 Jun 2025`."""
    return f"{day.day} {day:%b} {day.year}"


def day_words(day: date | None, today: date) -> str:
    """A day as it is spoken of: `30 Jun`, with its year where that is not this one; a dash for none."""
    if day is None:
        return "—"
    return f"{day.day} {day:%b}" if day.year == today.year else day_in_full(day)


@contextmanager
def stopped_at(moment: datetime) -> Iterator[None]:
    """The clock stands at the moment given until the block ends, in every thread."""
    global _stopped_at
    before, _stopped_at = _stopped_at, moment
    try:
        yield
    finally:
        _stopped_at = before
