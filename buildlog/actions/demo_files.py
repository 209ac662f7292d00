"""The files of the demo build, and days counted back from the day it is loaded."""

import csv
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

from buildlog import clock

FOLDER = Path(__file__).resolve().parent.parent / "demo" / "marlpit"
BATCH = 200


class DemoError(RuntimeError):
    """The demo's own files do not fit together; says where."""


def rows(name: str) -> Iterator[dict[str, str]]:
    """The rows of one of the files, by their headings."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def day(ago: str) -> date:
    """The day so many days ago."""
    return clock.today() - timedelta(days=int(ago))


def evening(ago: int) -> datetime:
    """A quarter past eight on an evening so many days ago, and never later than now."""
    then = clock.now() - timedelta(days=ago)
    return min(then.replace(hour=20, minute=15, second=0, microsecond=0), clock.now())
