"""One thread changed to another at many places, all or none, and put back in one step."""

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from uuid import UUID

from django.db import transaction

from buildlog.actions.stages import note_history_of
from buildlog.actions.tokens import written_with
from buildlog.changes import Doer, recording
from buildlog.models import Assembly, Build, Change, Part, ThreadUse
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
) -> Change:
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
    done = written_with(token, Change, build_id=build.pk)
    if done:
        return done
    places = places_of(build, asked.thread, asked.assembly)
    if digest_of(places) != shown_then:
        raise ThreadsMovedError
    uses = [place.use for place in places if place.use.pk in ticked]
    if not uses:
        raise ThreadsRefusedError("use", "No place is ticked. Tick at least one of them, or leave it.")
    words = f"{asked.shown} to {shown(asked.to.name)} in {asked.where}"
    with recording(build, words, by=by, token=token) as made:
        made.watch(ThreadUse.objects.filter(pk__in=[use.pk for use in uses]))
        _write(uses, asked, by=by)
    assert made.written is not None  # Another thread stands at each place than before.
    return made.written


def _write(uses: Sequence[ThreadUse], asked: Asked, *, by: Doer) -> None:
    for use in uses:
        use.thread, use.as_typed = asked.to.name, asked.to_typed
    ThreadUse.objects.bulk_update(uses, ["thread", "as_typed"], batch_size=BATCH)
    places: dict[int, list[str]] = defaultdict(list)
    for use in uses:
        places[use.part_id].append(use.where)
    said = f"Thread: {asked.shown} changed to {shown(asked.to.name)}"
    told = {}
    for part in Part.objects.filter(pk__in=places):
        where = ", ".join(place for place in places[part.pk] if place)
        told[part] = f"{said}{f' ({where})' if where else ''}, with {len(uses)} in {asked.where}"
    note_history_of(told, by=by)
