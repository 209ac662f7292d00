"""What has changed since the builder was last here, from what the home page has loaded anyway."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from buildlog.models import Build, Happening, LogEntry
from buildlog.waiting.standing import Standing
from buildlog.where import Doing

#: After so many days away the stores are looked through too.
AWAY_DAYS = 30
NAMED = 4


@dataclass(frozen=True)
class SinceLine:
    """One thing that has changed, and where more is told of it."""

    text: str
    address: str


def since_lines(
    build: Build, entry: LogEntry, standing: Standing, doings: Sequence[Doing]
) -> list[SinceLine]:
    """What was written in the log after an entry; after a month away, what came and what is overdue."""
    found = [line for line in (_written_later(entry, doings),) if line]
    if (standing.today - entry.on).days > AWAY_DAYS:
        found += [
            line for line in (_came(build, entry.on, standing), _late(build, entry.on, standing)) if line
        ]
    return found


def _written_later(entry: LogEntry, doings: Sequence[Doing]) -> SinceLine | None:
    """The latest entry of the log after this one, which did not say where it was left off."""
    for doing in doings:
        if doing.entry == entry.pk or doing.at <= entry.written_at:
            return None
        if doing.entry:
            about = f" about {doing.part.key}" if doing.part else ""
            text = f"In the log{about}: {doing.text}"
            return SinceLine(text, reverse("log_entry", args=[doing.entry]))
    return None


def _came(build: Build, left: date, standing: Standing) -> SinceLine | None:
    """Castings that came after that day."""
    came = dict.fromkeys(
        event.casting
        for event in standing.facts.events
        if event.kind == Happening.RECEIVED and event.on > left and event.casting in standing.castings
    )
    names = [standing.castings[casting].number for casting in came]
    if not names:
        return None
    said = "Castings came" if len(names) > 1 else "A casting came"
    return SinceLine(f"{said}: {_named(names)}.", reverse("stores", args=[build.pk]))


def _late(build: Build, left: date, standing: Standing) -> SinceLine | None:
    """Orders whose promised day went by after that day."""
    late = dict.fromkeys(
        owed.line.number
        for held in standing.held.values()
        for owed in held.owed
        if owed.promised_on and left <= owed.promised_on < standing.today
    )
    if not late:
        return None
    said = "Orders became overdue" if len(late) > 1 else "An order became overdue"
    return SinceLine(f"{said}: {_named(sorted(late))}.", reverse("order_list", args=[build.pk]))


def _named(names: Sequence[str]) -> str:
    more = len(names) - NAMED
    return ", ".join(names[:NAMED]) + (f" and {more} more" if more > 0 else "")
