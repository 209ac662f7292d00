"""Undoing the last change: every row as it stood, or nothing, and the reason."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django.db import IntegrityError, models, transaction

from buildlog import clock
from buildlog.actions.stages import note_history_of
from buildlog.changes import BATCH, WORDS_LENGTH, Doer, Held, Table, hanging, held, keep_rows, table_named
from buildlog.models import Change, ChangedRow, HistoryLine, Part

#: Rows in the way that are named; the others are counted.
MOST_NAMED = 3
UNDONE = "Undone: "


class UndoRefusedError(ValueError):
    """A change that cannot be undone as things stand; the message says what is in the way."""


def altered_rows(rows: Iterable[ChangedRow]) -> dict[int, str]:
    """The rows that are no longer as their change left them, each with how it differs, by its key."""
    return {row.pk: words for table, some in _by_table(rows).items() for row, words in _altered(table, some)}


def can_leave(rows: Sequence[ChangedRow], altered: Mapping[int, str]) -> bool:
    """Whether the other rows can go back by themselves: each was only changed, and some are untouched."""
    return len(altered) < len(rows) and all(row.before is not None and row.after is not None for row in rows)


@transaction.atomic
def undo(change: Change, *, by: Doer, leave_altered: bool = False) -> Change:
    """Put every row of a change back as it stood; the undoing is a change itself, and can be undone.

    Of two clicks the second finds what the first did. With `leave_altered` the rows that were changed since
    stay as they are and the others go back, where each was only changed.

    Raises
    ------
    UndoRefusedError
        A row has been changed since, something has come to hang on one, or its number is taken.
    """
    change = Change.objects.select_for_update().get(pk=change.pk)
    if change.undone_at:
        return change.undone_by
    rows = list(change.rows.all())
    altered = altered_rows(rows)
    if altered and not (leave_altered and can_leave(rows, altered)):
        _refuse(rows, altered)
    rows = [row for row in rows if row.pk not in altered]
    try:
        with transaction.atomic():
            _put_back(rows)
    except (IntegrityError, models.ProtectedError):
        raise UndoRefusedError(
            "What it would put back stands in the way of something newer: a number or a name is in use "
            "again. Rename that first, then undo this."
        ) from None
    return _write_down(change, rows, by=by)


def _write_down(change: Change, rows: Sequence[ChangedRow], *, by: Doer) -> Change:
    change.undone_at = clock.now()
    change.save(update_fields=["undone_at"])
    again = change.words.startswith(UNDONE)
    words = change.words.removeprefix(UNDONE) if again else f"{UNDONE}{change.words}"
    undoing = Change.objects.create(
        build_id=change.build_id,
        at=clock.now(),
        by_id=by.pk if by else None,
        words=words[:WORDS_LENGTH],
        undoes=change,
    )
    turned = [
        ChangedRow(table=row.table, row=row.row, name=row.name, before=row.after, after=row.before)
        for row in rows
    ]
    keep_rows(undoing, turned)
    _tell_parts(rows, undoing, by=by)
    return undoing


def _tell_parts(rows: Sequence[ChangedRow], undoing: Change, *, by: Doer) -> None:
    """A line in the history of each part that was put back, or that something put back is of."""
    told = {row.row for row in rows if row.table == "part"}
    for table, some in _by_table(rows).items():
        if any(column.attname == "part_id" for column in table._meta.concrete_fields):
            standing = table._default_manager.filter(pk__in=[row.row for row in some])
            told |= set(standing.values_list("part_id", flat=True))
            told |= {_part_of(row) for row in some}
    parts = Part.objects.filter(pk__in=told - {None})
    note_history_of(dict.fromkeys(parts, undoing.words), by=by, change=undoing)


def _part_of(row: ChangedRow) -> Any:
    """The part that a row which came or went was of, as the row itself says."""
    return ((row.before if row.after is None else row.after) or {}).get("part_id")


# ---- whether it can be -----------------------------------------------------------------------------------


def _refuse(rows: Sequence[ChangedRow], altered: Mapping[int, str]) -> None:
    named = [f"{row.name} {altered[row.pk]}" for row in rows if row.pk in altered]
    more = f", and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
    raise UndoRefusedError(
        f"It was not the last change: {'; '.join(named[:MOST_NAMED])}{more}. "
        "Undo what came later first, or change it by hand."
    )


def _by_table(rows: Iterable[ChangedRow]) -> dict[Table, list[ChangedRow]]:
    found: dict[Table, list[ChangedRow]] = {}
    for row in rows:
        found.setdefault(table_named(row.table), []).append(row)
    return found


def _altered(table: Table, rows: list[ChangedRow]) -> list[tuple[ChangedRow, str]]:
    now = table._default_manager.in_bulk([row.row for row in rows])
    found = []
    for row in rows:
        stands = held(now[row.row]) if row.row in now else None
        words = _difference(table, row.after, stands)
        if words:
            found.append((row, words))
    return found


def _difference(table: Table, after: Held | None, stands: Held | None) -> str:
    """How a row differs from what the change made of it; empty where it does not."""
    if after is None:
        return "" if stands is None else "is there again"
    if stands is None:
        return "is gone"
    # Of several the first column is named: a database may keep what it is given in an order of its own.
    columns = [column for column in table._meta.concrete_fields if column.attname in after]
    differ = [one.verbose_name for one in columns if stands.get(one.attname) != after[one.attname]]
    return f"has another {differ[0]} by now" if differ else ""


# ---- putting back ----------------------------------------------------------------------------------------


def _put_back(rows: Iterable[ChangedRow]) -> None:
    """What came goes, what went comes back, what was changed is as it stood."""
    rows = list(rows)
    _take_away([row for row in rows if row.before is None])
    _bring_back([row for row in rows if row.after is None])
    for row in rows:
        if row.before is not None and row.after is not None:
            table = table_named(row.table)
            table._default_manager.filter(pk=row.row).update(**_values(table, row.before))


def _values(table: Table, kept: Held) -> dict[str, Any]:
    columns = {column.attname: column for column in table._meta.concrete_fields}
    return {name: columns[name].to_python(value) for name, value in kept.items() if name in columns}


def _bring_back(rows: list[ChangedRow]) -> None:
    for table, some in _by_table(rows).items():
        again = [table(**_values(table, row.before or {})) for row in some]
        _check_others_stand(table, some, rows)
        table._default_manager.bulk_create(again, batch_size=BATCH)


def _check_others_stand(table: Table, rows: list[ChangedRow], all_rows: list[ChangedRow]) -> None:
    """What the rows hang on is there, or comes back with them."""
    coming = {(table_named(row.table), row.row) for row in all_rows}
    for column in table._meta.concrete_fields:
        if not isinstance(column, models.ForeignKey):
            continue
        pointing = [((row.before or {}).get(column.attname), row) for row in rows]
        wanted = {pk: row for pk, row in pointing if pk is not None}
        there = column.related_model._base_manager.filter(pk__in=list(wanted)).values_list("pk", flat=True)
        for pk in set(wanted) - set(there):
            if (column.related_model, pk) not in coming:
                raise UndoRefusedError(
                    f"{wanted[pk].name} belongs to a {column.verbose_name} that is gone. "
                    "Bring that back first."
                )


def _take_away(rows: list[ChangedRow]) -> None:
    """Delete what the change made, where nothing else has come to hang on it."""
    tables = _by_table(rows)
    ours = {(table, row.row) for table, some in tables.items() for row in some}
    for table in _dependents_first(tables):
        found = table._default_manager.filter(pk__in=[row.row for row in tables[table]])
        hang = next((one for one in hanging(list(found)) if not _is_ours(one, ours)), None)
        if hang:
            raise UndoRefusedError(
                f"{tables[table][0].name} is in use by now: {hang._meta.verbose_name} {hang} hangs on it. "
                "Take that away first, or keep what was added."
            )
        found.delete()


def _dependents_first(tables: Iterable[Table]) -> list[Table]:
    """Tables in such an order that one which points at another goes before it."""
    left, ordered = list(tables), []
    while left:
        pointed_at = {
            column.related_model
            for table in left
            for column in table._meta.concrete_fields
            if isinstance(column, models.ForeignKey) and column.related_model is not table
        }
        free = [table for table in left if table not in pointed_at] or left[:1]
        ordered += free
        left = [table for table in left if table not in free]
    return ordered


def _is_ours(row: models.Model, ours: set[tuple[Table, int]]) -> bool:
    return isinstance(row, HistoryLine) or (type(row), row.pk) in ours
