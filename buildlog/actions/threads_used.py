"""Writing down the threads of a part, one by one or as the words of the parts name them."""

from collections import defaultdict
from collections.abc import Iterable
from uuid import UUID, uuid5

from django.db import transaction

from buildlog.actions.stages import note_history, note_history_of
from buildlog.actions.tokens import written_with
from buildlog.changes import Doer, recording, row_of
from buildlog.models import Build, Part, ThreadUse
from buildlog.threads_used import Offer, offers_of


@transaction.atomic
def add_thread(use: ThreadUse, *, token: UUID, by: Doer) -> ThreadUse:
    """Write down a thread of a part; the same token gives the one that was written with it.

    Raises
    ------
    PermissionError
        The token belongs to a thread of another part.
    """
    part = Part.objects.select_for_update().get(pk=use.part_id)
    written = written_with(token, ThreadUse, part_id=part.pk)
    if written:
        return written
    with recording(part.build, f"{part.key}: thread {use.said}", by=by) as change:
        use.token = token
        use.save()
        change.came(use)
        note_history(part, f"Thread: {use.said}", by=by)
        return use


@transaction.atomic
def change_thread(use: ThreadUse, *, by: Doer) -> None:
    """Write a thread of a part as it now is."""
    part = Part.objects.select_for_update().get(pk=use.part_id)
    with recording(part.build, f"{part.key}: thread changed", by=by) as change:
        change.watch(row_of(use))
        before = ThreadUse.objects.get(pk=use.pk).said
        use.save()
        if before != use.said:
            note_history(part, f"Thread: {before} changed to {use.said}", by=by)


@transaction.atomic
def remove_thread(use: ThreadUse, *, by: Doer) -> None:
    """Take a thread off the list of a part."""
    part = Part.objects.select_for_update().get(pk=use.part_id)
    with recording(part.build, f"{part.key}: thread taken off", by=by) as change:
        change.watch(row_of(use))
        note_history(part, f"Thread taken off: {use.said}", by=by)
        use.delete()


@transaction.atomic
def take_over(build: Build, picks: Iterable[str], *, token: UUID, by: Doer) -> list[ThreadUse]:
    """Write down the ticked of the threads that words name, one on a part; a second press adds nothing.

    What its part says by now, or what the words no longer name, is passed over.
    """
    Build.objects.select_for_update().get(pk=build.pk)
    wanted = set(picks)
    offers = [one for one in offers_of(build) if one.found.name and one.pick in wanted]
    new = [_use(offer, token) for offer in offers]
    tokens = [use.token for use in new]
    there = set(ThreadUse.objects.filter(token__in=tokens).values_list("token", flat=True))
    new = [use for use in new if use.token not in there]
    with recording(build, f"{len(new)} threads taken over from the words of parts", by=by) as change:
        change.came(*ThreadUse.objects.bulk_create(new))
        said: dict[int, list[str]] = defaultdict(list)
        for use in new:
            said[use.part_id].append(use.said)
        told = {
            part: f"Thread: {'; '.join(said[part.pk])}; taken over from its words"
            for part in Part.objects.filter(pk__in=said)
        }
        note_history_of(told, by=by)
        return new


def _use(offer: Offer, token: UUID) -> ThreadUse:
    found = offer.found
    return ThreadUse(
        part=offer.part,
        thread=found.name,
        as_typed=found.as_written,
        side=offer.side,
        token=uuid5(token, offer.pick),
    )
