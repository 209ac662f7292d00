"""One thread changed to another at many places, all or none, and put back in one step."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from uuid import UUID

from django.db import transaction

from buildlog import clock
from buildlog.actions.stages import note_history_of
from buildlog.changes import Doer, recording, row_of
from buildlog.models import Assembly, Build, Part, ThreadChange, ThreadChangeRow, ThreadUse
from buildlog.threads_used import digest_of, places_of
from calc.threads_named import Named, shown

BATCH = 500


class ThreadsMovedError(Exception):
    """The places are no longer what was shown; nothing was written."""


class ThreadsRefusedError(ValueError):
    """Something that cannot be done; `field` names the entry."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is to be changed: a thread, in an assembly with its branch or everywhere, to another as typed."""

    thread: str
    assembly: Assembly | None
    to: Named
    to_typed: str

    @property
    def shown(self) -> str:
        """The thread to be changed as it is read on a page."""
        return shown(self.thread)

    @property
    def where(self) -> str:
        """Where, in words: `T Tender, tanks, pipes`."""
        return str(self.assembly) if self.assembly else "the whole build"


@transaction.atomic
def change_threads(
    build: Build, asked: Asked, ticked: Collection[int], *, shown_then: str, token: UUID, by: Doer
) -> ThreadChange:
    """Change the ticked places, in one step; the same token gives the change that was made with it.

    Raises
    ------
    ThreadsMovedError
        The places are no longer those that were shown.
    ThreadsRefusedError
        No place is ticked.
    PermissionError
        The token belongs to a change in another build.
    """
    Build.objects.select_for_update().get(pk=build.pk)
    done = ThreadChange.objects.filter(token=token).first()
    if done and done.build_id != build.pk:
        raise PermissionError("This token belongs to another build.")
    if done:
        return done
    places = places_of(build, asked.thread, asked.assembly)
    if digest_of(places) != shown_then:
        raise ThreadsMovedError
    uses = [place.use for place in places if place.use.pk in ticked]
    if not uses:
        raise ThreadsRefusedError("use", "No place is ticked. Tick at least one of them, or leave it.")
    words = f"{asked.shown} changed to {shown(asked.to.name)} in {asked.where}"
    with recording(build, words, by=by) as written:
        written.watch(ThreadUse.objects.filter(pk__in=[use.pk for use in uses]))
        change = ThreadChange.objects.create(
            build=build,
            before=asked.thread,
            after=asked.to.name,
            assembly=asked.assembly,
            where=asked.where[:120],
            at=clock.now(),
            by_id=by.pk if by else None,
            token=token,
        )
        _write(change, uses, asked.to_typed, by)
        written.came(change, *change.rows.all())
    return change


def _write(change: ThreadChange, uses: list[ThreadUse], typed: str, by: Doer) -> None:
    rows = [
        ThreadChangeRow(
            change=change, use=use, part_id=use.part_id, where=use.where,
            before=use.thread, before_typed=use.as_typed, after=change.after,
        )
        for use in uses
    ]  # fmt: skip
    ThreadChangeRow.objects.bulk_create(rows, batch_size=BATCH)
    for use in uses:
        use.thread, use.as_typed = change.after, typed
    ThreadUse.objects.bulk_update(uses, ["thread", "as_typed"], batch_size=BATCH)
    words = f"{shown(change.before)} changed to {shown(change.after)}"
    among = f"with {len(rows)} in {change.where}" if len(rows) > 1 else f"alone in {change.where}"
    _note(rows, f"Thread: {words}", among, by)


@dataclass(frozen=True, slots=True)
class Standing:
    """A row of a change as it stands now."""

    row: ThreadChangeRow
    words: str  # why it cannot be put back; empty where it can
    is_back: bool

    @property
    def can_go_back(self) -> bool:
        return not self.words and not self.is_back


def standing_of(change: ThreadChange) -> list[Standing]:
    """Every row of a change: whether it stands as the change left it; in one query."""
    return [_standing(row) for row in change.rows.select_related("part", "use")]


def _standing(row: ThreadChangeRow) -> Standing:
    if row.is_put_back:
        return Standing(row, "", True)
    if row.use is None:
        return Standing(row, "taken off the part since", False)
    if row.use.thread != row.after:
        return Standing(row, f"changed to {row.use.shown} since", False)
    return Standing(row, "", False)


@transaction.atomic
def undo_change(change: ThreadChange, *, confirmed: bool, by: Doer) -> int:
    """Put back what a change of many wrote; says at how many places. A second press does nothing.

    Raises
    ------
    ThreadsMovedError
        Some places were changed since, and it is not confirmed that they stay while the others go back.
    ThreadsRefusedError
        All of them were changed since.
    """
    change = ThreadChange.objects.select_for_update(of=("self",)).get(pk=change.pk)
    if change.undone_at:
        return 0
    rows = standing_of(change)
    back = [one.row for one in rows if one.can_go_back]
    moved = [one for one in rows if one.words]
    if not back:
        raise ThreadsRefusedError("change", "Every one of its places was changed since, so none goes back.")
    if moved and not confirmed:
        raise ThreadsMovedError("; ".join(f"{_told(one.row)}: {one.words}" for one in moved))
    said = f"{shown(change.after)} put back to {shown(change.before)} in {change.where}"
    with recording(change.build, said, by=by) as written:
        written.watch(
            row_of(change), change.rows.all(), ThreadUse.objects.filter(pk__in=change.rows.values("use"))
        )
        uses = [row.use for row in back if row.use is not None]
        typed = {row.use_id: row.before_typed for row in back}
        for use in uses:
            use.thread, use.as_typed = change.before, typed[use.pk]
        ThreadUse.objects.bulk_update(uses, ["thread", "as_typed"], batch_size=BATCH)
        ThreadChangeRow.objects.filter(pk__in=[row.pk for row in back]).update(is_put_back=True)
        change.undone_at, change.undone_by_id = clock.now(), by.pk if by else None
        change.save(update_fields=["undone_at", "undone_by"])
        words = f"{shown(change.after)} put back to {shown(change.before)}"
        _note(back, f"Thread: {words}", f"the change in {change.where} is undone", by)
        return len(back)


def _told(row: ThreadChangeRow) -> str:
    return f"{row.part.key}, {row.where}" if row.where else row.part.key


def _note(rows: Iterable[ThreadChangeRow], said: str, why: str, by: Doer) -> None:
    """One line in the history of each part, whatever number of its places it is about."""
    places: dict[int, list[str]] = defaultdict(list)
    for row in rows:
        places[row.part_id].append(row.where)
    told = {}
    for part in Part.objects.filter(pk__in=places):
        where = ", ".join(place for place in places[part.pk] if place)
        told[part] = f"{said} ({where}), {why}" if where else f"{said}, {why}"
    note_history_of(told, by=by)
