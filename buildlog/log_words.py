"""How the log says days and hours, and how it reads them."""

import re
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from buildlog.models.log import LogEntry, LogVersion

#: A day has no more.
MOST_MINUTES = 24 * 60
#: Hours lost in a part: up to so many in all, and so many as a bare figure. [h]
MOST_LOST, MOST_BARE = 999, 24
_NUMBER = r"\d{1,4}(?:\.\d{1,2})?|\d{1,2} \d/\d|\d/\d"
_HOURS = re.compile(
    rf"(?P<hours>{_NUMBER}) ?(?:h|hr|hrs|hour|hours)\b\.?"
    r"(?: ?(?P<minutes>\d{1,4}) ?(?:m|min|mins|minutes)?)?"
)
_CLOCK = re.compile(r"(?P<hours>\d{1,2}):(?P<minutes>[0-5]\d)")
_MINUTES = re.compile(r"(?P<minutes>\d{1,6}) ?(?:m|min|mins|minute|minutes)?")
#: `2h20`: the letter stands between two figures, where no word ends.
_CLOSE = re.compile(r"(?<=\d)h(?=\d)")
_HOW = f"Write minutes, as 90, or hours and minutes, as 2 h 20: from 1 to {MOST_MINUTES} minutes"

_HOW_LOST = f"Write hours, as 3.5 or 3 h 30, or minutes, as 210 min: {MOST_LOST} hours at the most"


def read_minutes(text: str) -> int:
    """The minutes meant: `140`, `2 h 20`, `2h20`, `2:20` and `2 h 20 min` are one.

    Raises
    ------
    ValueError
        The text is no time, or no time that a day has; the message says how to write one.
    """
    tidy = _CLOSE.sub("h ", " ".join(text.lower().split()))
    if not tidy.isascii():
        raise ValueError(f"“{text[:20]}” is no time. {_HOW}.")
    for shape in (_HOURS, _CLOCK, _MINUTES):
        match = shape.fullmatch(tidy)
        if match:
            return _in_a_day(_minutes(match), text)
    raise ValueError(f"“{text[:20]}” is no time. {_HOW}.")


def read_lost(text: str) -> int:
    """The minutes that hours lost come to: `3.5`, `3 h 30` and `210 min` are one.

    A bare figure is hours, since that is what is asked for; past a day it may as well be minutes, and it is
    asked which.

    Raises
    ------
    ValueError
        The text is no time, or cannot be told for hours or minutes; the message says how to write it.
    """
    tidy = _CLOSE.sub("h ", " ".join(text.lower().split()))
    if tidy.isascii():
        if re.fullmatch(_NUMBER, tidy):
            hours = _hours(tidy)
            if hours > MOST_BARE:
                raise ValueError(f"{tidy} h, or {tidy} min? Write it with its unit.")
            return _lost(60 * hours, text)
        for shape in (_HOURS, _CLOCK, _MINUTES):
            match = shape.fullmatch(tidy)
            if match:
                return _lost(_minutes(match), text)
    raise ValueError(f"“{text[:20]}” is no time. {_HOW_LOST}.")


def _lost(minutes: float, text: str) -> int:
    if round(minutes) < 1:
        raise ValueError(f"{text.strip()[:20]} is no time. Leave it empty where you do not know.")
    if minutes > MOST_LOST * 60:
        raise ValueError(f"{text.strip()[:20]} is more than {MOST_LOST} hours. Is it a slip? {_HOW_LOST}.")
    return round(minutes)


def _minutes(match: re.Match[str]) -> int:
    found = match.groupdict()
    return round(60 * _hours(found.get("hours") or "0")) + int(found.get("minutes") or 0)


def _hours(text: str) -> float:
    whole, _, fraction = text.rpartition(" ")
    if "/" not in fraction:
        return float(fraction)
    top, under = (int(figure) for figure in fraction.split("/"))
    return int(whole or 0) + (top / under if under else 0)


def _in_a_day(minutes: int, text: str) -> int:
    if minutes < 1:
        raise ValueError(f"{text.strip()[:20]} is no time. {_HOW}; leave it empty where you do not know.")
    if minutes > MOST_MINUTES:
        raise ValueError(f"{text.strip()[:20]} is more than a day, which has {MOST_MINUTES} minutes. {_HOW}.")
    return minutes


def minutes_said(minutes: int | None) -> str:
    """`2 h 20 min`, `40 min`, `3 h`; empty where nobody wrote it down."""
    if not minutes:
        return ""
    hours, rest = divmod(minutes, 60)
    said = [f"{hours:,} h"] if hours else []
    said += [f"{rest} min"] if rest else []
    return " ".join(said)


def ago(day: date, today: date) -> str:
    """How long ago a day was: `Today`, `Yesterday`, `254 days ago`."""
    days = (today - day).days
    if days <= 0:
        return "Today"
    return "Yesterday" if days == 1 else f"{days:,} days ago"


def day_said(day: date, today: date) -> str:
    """A day in full: `Tuesday 11 March`, with its year where that is not this one."""
    said = f"{day:%A} {day.day} {day:%B}"
    return said if day.year == today.year else f"{said} {day.year}"


def said_of(entry: "LogEntry | LogVersion") -> list[tuple[str, str]]:
    """All that an entry says, or once said, by the names of its fields, as it is read on a page."""
    return [
        ("on", f"{entry.on.day} {entry.on:%B %Y}"),
        ("minutes", minutes_said(entry.minutes)),
        ("kind", entry.get_kind_display()),
        ("part", f"{entry.part.key} {entry.part.name}" if entry.part else ""),
        ("done", entry.done),
        ("left_off", entry.left_off),
        ("next", entry.next),
        ("links", entry.links),
    ]
