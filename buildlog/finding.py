"""One box over a whole build: what was found, kind by kind, with the words looked for marked in it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import islice

from django.db.models import QuerySet

from buildlog.finding_kinds import KINDS
from buildlog.finding_rows import Kind, Shown
from buildlog.models import Build
from buildlog.searching import excerpt, sought

#: Things of one kind where all kinds are shown, and on a page of one kind alone.
MOST, A_PAGE = 12, 50
#: Letters of the small print under what was found.
SMALL = 120
#: A text in runs, and of each whether it is what was looked for.
Runs = list[tuple[str, bool]]


@dataclass(frozen=True, slots=True)
class Line:
    """One thing found; of each text its runs, and which of them are what was looked for."""

    ref: str
    url: str
    text: Runs
    small: Runs = field(default_factory=list)
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """What was found of one kind; `more` where there is more than is shown."""

    key: str
    title: str
    lines: list[Line]
    more: bool


def find(
    build: Build, text: str, kinds: Sequence[Kind] = KINDS, *, most: int = MOST, page: int = 1
) -> list[Group]:
    """What of the build holds every word, size or number of teeth typed, whichever way they are written."""
    pieces = sought(text)
    if not pieces:
        return []
    groups = [_group(kind, build, text, pieces, most, (page - 1) * most) for kind in kinds]
    return [group for group in groups if group.lines]


def _group(kind: Kind, build: Build, text: str, pieces: list[str], most: int, skip: int) -> Group:
    found = kind.hits(build, text)
    rows = (
        found[skip : skip + most + 1] if isinstance(found, QuerySet) else islice(found, skip, skip + most + 1)
    )
    lines = [_line(kind.shown(row), pieces) for row in rows]
    return Group(kind.key, kind.title, lines[:most], len(lines) > most)


def _line(shown: Shown, pieces: list[str]) -> Line:
    texts = [text for text in shown.texts if text] or [shown.ref]
    small = [text for text in shown.small if text]
    return Line(
        shown.ref,
        shown.url,
        excerpt(texts, pieces),
        excerpt(small, pieces, SMALL) if small else [],
        shown.on,
    )
