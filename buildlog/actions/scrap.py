"""Writing in the scrap book: what was spoilt or made again, and the lesson for the next one."""

from uuid import UUID

from django.db import transaction

from buildlog import clock
from buildlog.actions.bins import put_in_bin, take_from_bin
from buildlog.actions.stages import CountRefusedError, note_history, record_count
from buildlog.actions.tokens import written_with
from buildlog.changes import Doer, recording, row_of
from buildlog.models import Build, Scrap, Spoilt

#: What a builder writes; a change of any of it is dated.
TYPED = (
    "on", "part_id", "count", "kind", "cause", "happened", "minutes", "lesson", "show_on", "operation",
)  # fmt: skip


@transaction.atomic
def write_scrap(scrap: Scrap, *, token: UUID, count_now: bool, by: Doer) -> Scrap:
    """Write a new entry; the same token gives the entry that was written with it.

    Parameters
    ----------
    scrap : Scrap
        What was typed.
    token : UUID
        Of the page it was typed on.
    count_now : bool
        Whether the part's count of scrap is to rise by it; rework is never counted.
    by : user
        Who writes it.

    Raises
    ------
    PermissionError
        The token belongs to an entry of another build.
    CountRefusedError
        The part's count of scrap cannot rise by so many; nothing is written.
    """
    # The build is held first: of two clicks at once the second finds the entry of the first.
    Build.objects.select_for_update().get(pk=scrap.build_id)
    written = written_with(token, Scrap, build_id=scrap.build_id)
    if written:
        return written
    scrap.token, scrap.at, scrap.by_id = token, clock.now(), by.pk if by else None
    with recording(scrap.build, f"{_called(scrap)} written", by=by) as change:
        scrap.save()
        change.came(scrap)
        told = f"{scrap.cause_word.lower()}: {scrap.happened}"
        if count_now and scrap.kind == Spoilt.SCRAP:
            try:
                record_count(
                    scrap.part, good=0, scrap=scrap.count, note=told, call_machined=False, by=by, token=token
                )
            except CountRefusedError as refused:
                raise CountRefusedError("count", str(refused)) from refused
        else:
            note_history(scrap.part, f"In the scrap book, {scrap.words}, {told}", by=by, token=token)
        return scrap


@transaction.atomic
def change_scrap(scrap: Scrap, *, by: Doer) -> bool:
    """Write an entry as it now is, with the day of the change; whether anything differs from what stood.

    The part's count of scrap stays as it is: it is mended on the part's own page.
    """
    stood = Scrap.objects.select_for_update().get(pk=scrap.pk)
    if all(getattr(stood, name) == getattr(scrap, name) for name in TYPED):
        return False
    with recording(scrap.build, f"{_called(stood)} changed", by=by) as change:
        change.watch(row_of(scrap))
        scrap.changed_at = clock.now()
        names = ["part" if name == "part_id" else name for name in TYPED]
        scrap.save(update_fields=[*names, "changed_at", "search_text"])
        note_history(
            scrap.part, f"Changed in the scrap book: {scrap.words}, {scrap.cause_word.lower()}", by=by
        )
        return True


def bin_scrap(scrap: Scrap, *, by: Doer) -> bool:
    """Put an entry in the bin; its lesson is printed no more, and no count changes."""
    return put_in_bin(scrap, scrap.build, _called(scrap), by=by, part=scrap.part, line=_line(scrap))


def restore_scrap(scrap: Scrap, *, by: Doer) -> bool:
    """Take an entry back out of the bin."""
    return take_from_bin(scrap, scrap.build, _called(scrap), by=by, part=scrap.part, line=_line(scrap))


def _called(scrap: Scrap) -> str:
    return f"Scrap book: {scrap}"


def _line(scrap: Scrap) -> str:
    return f"Scrap book: {scrap.words}"


@transaction.atomic
def show_again(scrap: Scrap, *, by: Doer) -> bool:
    """Have the lesson printed on the next card it belongs to, told of before or not."""
    asked = Scrap.objects.live().exclude(lesson="").filter(pk=scrap.pk, show_again=False)
    done = asked.update(show_again=True)
    if done:
        note_history(scrap.part, f"Lesson to be printed again: {scrap.lesson}", by=by)
    return bool(done)
