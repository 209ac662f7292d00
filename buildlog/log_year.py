"""A year of the log at a glance: its days by months and weeks, its hours by kind, its longest gap."""

from calendar import Calendar
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Count, Max, Min, Q, Sum

from buildlog.forms.days import FIRST_DAY
from buildlog.log_words import minutes_said
from buildlog.models import Build, TimeKind

#: Minutes up to which a day has the lightest mark, and the middle one.
LIGHT, MIDDLE = 60, 180
_WEEKS = Calendar()  # They begin on Monday.


@dataclass
class Time:
    """Entries and minutes of one day, month, kind or year."""

    entries: int = 0
    minutes: int = 0
    untimed: int = 0  # entries that say no time

    def add(self, other: "Time") -> None:
        self.entries += other.entries
        self.minutes += other.minutes
        self.untimed += other.untimed

    @property
    def said(self) -> str:
        return minutes_said(self.minutes)


@dataclass(frozen=True)
class DayMark:
    """One day of the year's sheet; no number where the week belongs to another month."""

    number: int = 0
    ink: str = ""  # "day0" no time said, "day1", "day2", "day3" by the hours; empty without an entry
    words: str = ""
    on: str = ""  # as the log's page is asked for it


@dataclass(frozen=True)
class KindTime:
    """The hours of one kind in one month; no text where there are none."""

    label: str
    text: str


@dataclass(frozen=True)
class Month:
    """One month: its weeks, and its time by kind."""

    first: date
    weeks: list[list[DayMark]]
    time: Time
    kinds: list[KindTime]  # as the year's kinds stand


@dataclass(frozen=True)
class Gap:
    """The longest time between two days with an entry, that touches the year."""

    days: int
    left: date
    back: date
    is_running: bool = False  # to today; nobody has come back yet


@dataclass(frozen=True)
class Year:
    """All that the year's page tells."""

    year: int
    months: list[Month]
    kinds: list[tuple[str, Time]]  # those with an entry in the year
    time: Time
    days: int  # with an entry
    gap: Gap | None
    earlier: int | None  # the year before, where there is anything to see
    later: int | None


@dataclass
class _Days:
    """What the year's entries come to, day by day and kind by kind."""

    by_day: dict[date, Time] = field(default_factory=lambda: defaultdict(Time))
    by_month: dict[tuple[int, str], Time] = field(default_factory=lambda: defaultdict(Time))
    by_kind: dict[str, Time] = field(default_factory=lambda: defaultdict(Time))


def year_of(build: Build, year: int, today: date) -> Year:
    """The year's sheet, in two queries whatever the log holds."""
    first, last = date(year, 1, 1), date(year, 12, 31)
    around = build.log.order_by().aggregate(
        first=Min("on"),
        before=Max("on", filter=Q(on__lt=first)),
        after=Min("on", filter=Q(on__gt=last)),
    )
    days = _days(build, first, last)
    kinds = [kind for kind in TimeKind if kind.value in days.by_kind]
    whole = Time()
    for time in days.by_kind.values():
        whole.add(time)
    # Nobody has come back yet from the last gap: it runs to today.
    has_come_back = around["after"] or today in days.by_day
    until = around["after"] or (today if year <= today.year else None)
    ends = [around["before"], *sorted(days.by_day), until]
    newest = today.year
    oldest = around["first"].year if around["first"] else newest
    return Year(
        year=year,
        months=[_month(year, month, days, kinds) for month in range(1, 13)],
        kinds=[(str(kind.label), days.by_kind[kind.value]) for kind in kinds],
        time=whole,
        days=len(days.by_day),
        gap=longest_gap((on for on in ends if on), None if has_come_back else today),
        earlier=year - 1 if year > max(oldest, FIRST_DAY.year) else None,
        later=year + 1 if year < newest else None,
    )


def _days(build: Build, first: date, last: date) -> _Days:
    found = _Days()
    rows = (
        build.log.filter(on__range=(first, last))
        .order_by()
        .values_list("on", "kind")
        .annotate(entries=Count("pk"), total=Sum("minutes"), timed=Count("minutes"))
    )
    for on, kind, entries, minutes, timed in rows:
        time = Time(entries, minutes or 0, entries - timed)
        found.by_day[on].add(time)
        found.by_month[on.month, kind].add(time)
        found.by_kind[kind].add(time)
    return found


def longest_gap(days: Iterable[date], today: date | None = None) -> Gap | None:
    """The longest time between two days next to each other; the earlier of two that are equal.

    `today` is the last of the days where it is no day with an entry.
    """
    found: Gap | None = None
    left: date | None = None
    for back in days:
        if left and (found is None or (back - left).days > found.days):
            found = Gap((back - left).days, left, back, back == today)
        left = back
    return found


def _month(year: int, month: int, days: _Days, kinds: list[TimeKind]) -> Month:
    of_kinds = [days.by_month.get((month, kind.value), Time()) for kind in kinds]
    whole = Time()
    for time in of_kinds:
        whole.add(time)
    first = date(year, month, 1)
    weeks = _WEEKS.monthdatescalendar(year, month)
    return Month(
        first=first,
        weeks=[[_mark(on, month, days.by_day.get(on)) for on in week] for week in weeks],
        time=whole,
        kinds=[KindTime(str(kind.label), time.said) for kind, time in zip(kinds, of_kinds, strict=True)],
    )


def _mark(on: date, month: int, time: Time | None) -> DayMark:
    if on.month != month:
        return DayMark()
    if not time:
        return DayMark(on.day)
    return DayMark(on.day, _ink(time.minutes), f"{on.day} {on:%B}: {_day_words(time)}", on.isoformat())


def _ink(minutes: int) -> str:
    if not minutes:
        return "day0"
    return "day1" if minutes <= LIGHT else "day2" if minutes <= MIDDLE else "day3"


def _day_words(time: Time) -> str:
    entries = f"{time.entries} {'entry' if time.entries == 1 else 'entries'}"
    return f"{entries}, {time.said or 'no time said'}"
