"""How the rows of one kind are looked through, with a column made for it or without."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Manager, Model, Q, QuerySet

from buildlog.models import Build, PartQuerySet
from buildlog.queries import find_parts
from buildlog.searching import fold, holds, numbered, sought, traces


@dataclass(frozen=True, slots=True)
class Shown:
    """What a row says of itself, before the words looked for are marked in it."""

    ref: str
    url: str
    texts: tuple[str, ...]
    small: tuple[str, ...] = ()
    on: date | None = None


@dataclass(frozen=True)
class Kind:
    """One kind of thing that can be found: its rows, where in them it is looked, how one is shown.

    Rows with a folded `search_text` are searched in the database alone. Of others the `columns` are named,
    along relations too; the database narrows them, and they are folded when they are looked at. `number`
    names the column of a number that is written right after each of the `words`, as the 7 of `card 7`.
    """

    key: str
    title: str
    rows: Callable[[Build], "QuerySet[Any]"]
    shown: Callable[[Any], Shown]
    columns: tuple[str, ...] = ()
    number: str = ""
    words: tuple[str, ...] = ()

    def hits(self, build: Build, text: str) -> "QuerySet[Any] | Iterator[Any]":
        """The rows that hold every piece of what was typed, in their own order."""
        rows, pieces = self.rows(build), sought(text)
        if not self.columns:
            return (
                find_parts(rows, text, build.units)
                if isinstance(rows, PartQuerySet)
                else _folded(rows, pieces)
            )
        for piece in pieces:
            rows = rows.filter(self._trace(piece))
        if any(rows.model._meta.get_field(column.partition("__")[0]).one_to_many for column in self.columns):
            rows = rows.distinct()
        return (row for row in rows if holds(fold(self._said(row)), pieces))

    def _trace(self, piece: str) -> Q:
        """A condition that holds for every row in which the piece stands, and for some others."""
        if any(piece in word for word in self.words):
            return Q()
        found = Q()
        for trace in traces(piece):
            for column in self.columns:
                found |= Q(**{f"{column}__icontains": trace})
        number = numbered(piece) if self.number else None
        return found if number is None else found | Q(**{self.number: number})

    def _said(self, row: Model) -> str:
        said = [_value(row, column) for column in self.columns]
        if self.number:
            number = getattr(row, self.number)
            said += [f"{word}{number} {word}{number:03}" for word in self.words]
        return " ".join([*self.words, *said])


def _folded(rows: "QuerySet[Any]", pieces: list[str]) -> "QuerySet[Any]":
    for piece in pieces:
        rows = rows.filter(search_text__contains=piece)
    return rows


def _value(row: Any, column: str) -> str:
    """The text of a column, along relations; of many rows their texts together."""
    name, _, rest = column.partition("__")
    value = getattr(row, name)
    if isinstance(value, Manager):
        return " ".join(_value(one, rest) for one in value.all())
    return _value(value, rest) if rest and value else str(value or "")
