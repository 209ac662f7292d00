"""Changes written down as they are made: what the rows looked at held before, and what they hold after.

An action says which rows it may touch; what it did to them is found by looking again when it is done. An
action within another is part of that one's change, so that one step undoes all of it.
"""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db import transaction
from django.db.models import Field, ForeignKey, Model, ProtectedError, QuerySet
from django.db.models.deletion import Collector

from buildlog import clock
from buildlog.models import Build, Change, ChangedRow, HistoryLine

#: Who does something: nobody where the demo or a command does it.
Doer = AbstractBaseUser | AnonymousUser | None
#: A value as it is kept: JSON has no days, fractions or identifiers.
Value = None | bool | int | str
Held = dict[str, Value]
Table = type[Model]

BATCH = 200
OURS = "buildlog"
#: Changes shown on the page of the thing itself.
FEW = 4
NAME_LENGTH, WORDS_LENGTH = 160, 300
#: Rows of one change whose differences are told in words; the rest are counted.
MOST_TOLD = 200
_current: ContextVar["Recording | None"] = ContextVar("recording", default=None)


def held(row: Model) -> Held:
    """What a row holds, by its columns."""
    return {column.attname: _kept(column, row) for column in row._meta.concrete_fields}


def _kept(column: "Field[Any, Any]", row: Model) -> Value:
    value = column.value_from_object(row)
    return value if value is None or isinstance(value, bool | int | str) else column.value_to_string(row)


def row_of(thing: Model) -> "QuerySet[Any]":
    """The row of one thing, to be looked at."""
    return type(thing)._default_manager.filter(pk=thing.pk)


def _with_names(rows: "QuerySet[Any]") -> "QuerySet[Any]":
    """Rows with what they point at in a build, which is what they are called by."""
    columns = rows.model._meta.concrete_fields
    pointing = [column for column in columns if isinstance(column, ForeignKey)]
    return rows.select_related(*(one.name for one in pointing if one.related_model._meta.app_label == OURS))


@dataclass
class Recording:
    """A change while it is being made."""

    words: str
    looked_at: "list[QuerySet[Any]]" = field(default_factory=list)
    before: dict[Table, dict[int, Held]] = field(default_factory=dict)
    stood: dict[tuple[Table, int], Model] = field(default_factory=dict)
    lines: list[int] = field(default_factory=list)  # of history, to be tied to the change
    written: Change | None = None  # when it is made, and altered anything

    def watch(self, *found: "QuerySet[Any]") -> None:
        """Look at these rows now, and again when the change is made; those that join them came with it."""
        for rows in found:
            self.looked_at.append(rows)
            known = self.before.setdefault(rows.model, {})
            for row in _with_names(rows):
                if row.pk not in known:
                    known[row.pk] = held(row)
                    self.stood[rows.model, row.pk] = row

    def came(self, *rows: Model) -> None:
        """These rows have been made by the change."""
        made: dict[Table, list[int]] = {}
        for row in rows:
            made.setdefault(type(row), []).append(row.pk)
        for table, pks in made.items():
            self.before.setdefault(table, {})
            self.looked_at.append(table._default_manager.filter(pk__in=pks))

    def differences(self) -> Iterator[ChangedRow]:
        """What the change did, row by row."""
        now = self._now()
        for table, known in self.before.items():
            after = now.get(table, {})
            for pk in [*known, *(pk for pk in after if pk not in known)]:
                row = _row(table, pk, known.get(pk), held(after[pk]) if pk in after else None)
                if row:
                    row.name = str(after[pk] if pk in after else self.stood[table, pk])[:NAME_LENGTH]
                    yield row

    def _now(self) -> dict[Table, dict[int, Model]]:
        found: dict[Table, dict[int, Model]] = {}
        for rows in self.looked_at:
            found.setdefault(rows.model, {}).update({row.pk: row for row in _with_names(rows)})
        for table, known in self.before.items():
            # A row may have left those looked at, and still be there.
            gone = [pk for pk in known if pk not in found.setdefault(table, {})]
            if gone:
                found[table].update(_with_names(table._default_manager.all()).in_bulk(gone))
        return found


def _row(table: Table, pk: int, before: Held | None, after: Held | None) -> ChangedRow | None:
    if before == after:
        return None
    if before is not None and after is not None:
        differ = [name for name in after if before.get(name) != after[name]]
        before, after = {name: before.get(name) for name in differ}, {name: after[name] for name in differ}
    return ChangedRow(table=str(table._meta.model_name), row=pk, before=before, after=after)


@contextmanager
def recording(
    build: Build | int | None, words: str, *, by: Doer, token: UUID | None = None
) -> Iterator[Recording]:
    """Make a change that can be read and undone; one that alters nothing leaves no trace.

    Parameters
    ----------
    build : Build or int or None
        Whose records they are; None for a builder's own tools.
    words : str
        What is done, as it is read later: `S-016 changed`. May be bettered while it is made.
    by : Doer
        Who does it.
    token : UUID, optional
        Of the page it is made from, where nothing else that is written keeps it.
    """
    outer = _current.get()
    if outer is not None:
        yield outer
        return
    change = Recording(words)
    mark = _current.set(change)
    try:
        with transaction.atomic():
            yield change
            pk = build.pk if isinstance(build, Build) else build
            change.written = _write(change, pk, by=by, token=token)
    finally:
        _current.reset(mark)


class _Unwritten(Recording):
    """What is done while nothing is to be written down."""

    def watch(self, *found: "QuerySet[Any]") -> None:
        """Look at nothing."""

    def came(self, *rows: Model) -> None:
        """Look at nothing."""


@contextmanager
def unrecorded() -> Iterator[None]:
    """What is done within is no change of anybody's: the demo build is brought in as it stands."""
    mark = _current.set(_Unwritten(""))
    try:
        yield
    finally:
        _current.reset(mark)


def _write(made: Recording, build: int | None, *, by: Doer, token: UUID | None) -> Change | None:
    rows = list(made.differences())
    if not rows:
        return None
    change = Change.objects.create(
        build_id=build,
        at=clock.now(),
        by_id=by.pk if by else None,
        words=made.words[:WORDS_LENGTH],
        token=token,
    )
    keep_rows(change, rows)
    if made.lines:
        HistoryLine.objects.filter(pk__in=made.lines).update(change=change)
    return change


def keep_rows(change: Change, rows: Iterable[ChangedRow]) -> None:
    """Put the rows of a change with it, each with its differences in words."""
    rows = list(rows)
    labels = _labels(rows[:MOST_TOLD])
    for row in rows[:MOST_TOLD]:
        row.said = _said(row, labels)
    for row in rows:
        row.change = change
    ChangedRow.objects.bulk_create(rows, batch_size=BATCH)


def came(*rows: Model) -> None:
    """These rows have been made by the change that is being made, if one is."""
    current = _current.get()
    if current:
        current.came(*rows)


def watch(*found: "QuerySet[Any]") -> None:
    """The change that is being made, if one is, may touch these rows too."""
    current = _current.get()
    if current:
        current.watch(*found)


def tie_lines(*lines: HistoryLine) -> None:
    """Tie lines of parts' histories to the change that is being made, if one is."""
    current = _current.get()
    if current:
        current.lines += [line.pk for line in lines]


def changes_of(thing: Model) -> list[ChangedRow]:
    """What was last changed of one thing, the latest first, each with its change and who made it."""
    rows = ChangedRow.objects.filter(table=thing._meta.model_name, row=thing.pk)
    return list(rows.select_related("change__by").order_by("-change")[:FEW])


def hanging(found: list[Model]) -> Iterator[Model]:
    """All that would go with these rows, or lose what it points at."""
    collector = Collector(using="default")
    try:
        collector.collect(found)
    except ProtectedError as kept:
        yield from kept.protected_objects
        return
    updates: list[Any] = [rows for pointing in collector.field_updates.values() for rows in pointing]
    for same in (*collector.data.values(), *collector.fast_deletes, *updates):
        yield from same


def hanging_rows(thing: Model) -> "list[QuerySet[Any]]":
    """The same for one row, to be looked at: a query for each table."""
    found: dict[Table, list[int]] = {}
    for one in hanging([thing]):
        found.setdefault(type(one), []).append(one.pk)
    return [table._default_manager.filter(pk__in=pks) for table, pks in found.items()]


# ---- in words --------------------------------------------------------------------------------------------


def table_named(name: str) -> Table:
    """The model of a kept table name."""
    from django.apps import apps

    return apps.get_model(OURS, name)


Labels = Mapping[tuple[Table, int], str]


def _labels(rows: Iterable[ChangedRow]) -> Labels:
    """What the rows that a change points at are called, in a query for each kind."""
    wanted: dict[Table, set[int]] = {}
    for row in rows:
        for column in _told_columns(row):
            if isinstance(column, ForeignKey):
                values = ((row.before or {}).get(column.attname), (row.after or {}).get(column.attname))
                wanted.setdefault(column.related_model, set()).update(
                    value for value in values if isinstance(value, int)
                )
    return {
        (table, pk): str(thing)
        for table, pks in wanted.items()
        for pk, thing in table._default_manager.in_bulk(list(pks)).items()
    }


def _told_columns(row: ChangedRow) -> "list[Field[Any, Any]]":
    """The columns that a builder writes, of those that differ; nothing where the row came or went."""
    if row.before is None or row.after is None:
        return []
    columns = table_named(row.table)._meta.concrete_fields
    return [column for column in columns if column.attname in row.after and column.editable]


def _said(row: ChangedRow, labels: Labels) -> str:
    before, after = row.before or {}, row.after or {}
    return "; ".join(
        f"{column.verbose_name} {_worded(column, before.get(column.attname), labels)} "
        f"to {_worded(column, after.get(column.attname), labels)}"
        for column in _told_columns(row)
    )


def _worded(column: "Field[Any, Any]", value: Value, labels: Labels) -> str:
    if value is None or value == "":
        return "nothing"
    if isinstance(column, ForeignKey) and isinstance(value, int):
        return labels.get((column.related_model, value), "one that is gone")
    if isinstance(value, bool):
        return "yes" if value else "no"
    choices = dict(column.flatchoices)
    text = str(choices.get(value, value))
    return text if len(text) <= 80 else f"{text[:79]}…"
