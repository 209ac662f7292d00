"""Departures from the drawing: opened on a reading, decided, and told to the mates one by one."""

from collections.abc import Iterable

from django.db import transaction
from django.db.models import Max

from buildlog import clock
from buildlog.actions.made import MadeRefusedError
from buildlog.actions.stages import Doer, note_history
from buildlog.changes import recording, row_of
from buildlog.models import Build, Concession, ConcessionMate, Decision, Part, Reading


@transaction.atomic
def open_concession(reading: Reading, *, by: Doer) -> Concession:
    """Open a concession on a reading, every mate of the part to be told; the one that is there, if it is.

    Raises
    ------
    MadeRefusedError
        The reading is not out of its limits, or it is struck out.
    """
    part = reading.characteristic.part
    # The build is held first: of two clicks at once the second finds the concession of the first.
    build = Build.objects.select_for_update().get(pk=part.build_id)
    there = Concession.objects.filter(reading=reading).first()
    if there:
        return there
    if reading.struck_at or not reading.judged.is_out:
        raise MadeRefusedError("reading", f"{reading} is not out of its limits; nothing is to be decided.")
    with recording(build, f"{part.key}: concession opened", by=by) as change:
        concession = Concession.objects.create(
            build=build,
            number=(build.concessions.aggregate(last=Max("number"))["last"] or 0) + 1,
            part=part,
            reading=reading,
            wrong=departure(reading),
            opened_at=clock.now(),
            opened_by_id=by.pk if by else None,
        )
        change.came(concession)
        change.watch(concession.mates.all())
        ConcessionMate.objects.bulk_create(
            ConcessionMate(concession=concession, mate=mate) for mate in part.mates
        )
        note_history(part, f"{concession.key} opened: {concession.wrong}", by=by)
        return concession


def departure(reading: Reading) -> str:
    """`bore is 1.2530 in, 1.2500 in +0.0005 / -0 wanted; out: 0.0025 in over the upper limit`."""
    size = reading.characteristic
    piece = f" of piece {reading.piece}" if reading.piece > 1 else ""
    return f"{size.name}{piece} is {reading.shown}, {size.wanted} wanted; {reading.judged.words}"[:300]


@transaction.atomic
def decide(
    concession: Concession, decision: Decision, words: str, mates: Iterable[int], *, by: Doer
) -> Concession:
    """Settle what is done, and which mates must be told; those told already stay on the list.

    Raises
    ------
    MadeRefusedError
        It was decided already, by somebody else or in another tab.
    """
    concession = (
        Concession.objects.select_for_update(of=("self",)).select_related("part").get(pk=concession.pk)
    )
    if not concession.is_open:
        raise MadeRefusedError(
            "decision", f"{concession.key} is decided already: {concession.decided_words}."
        )
    with recording(concession.build, f"{concession.key}: {decision.label.lower()}", by=by) as change:
        change.watch(row_of(concession), concession.mates.all())
        concession.decision, concession.words = decision, words
        concession.decided_on, concession.decided_by_id = clock.today(), by.pk if by else None
        concession.save(update_fields=["decision", "words", "decided_on", "decided_by"])
        concession.mates.filter(told_on=None).exclude(mate__in=list(mates)).delete()
        note_history(concession.part, f"{concession.key}: {concession.decided_words}", by=by)
        return concession


@transaction.atomic
def tell_mate(telling: ConcessionMate, *, by: Doer) -> bool:
    """Write down that a mate was told; False where it was told before."""
    mate = Part.objects.select_for_update().get(pk=telling.mate_id)
    with recording(mate.build, f"{mate.key} told of a departure", by=by) as change:
        change.watch(row_of(telling))
        told = ConcessionMate.objects.filter(pk=telling.pk, told_on=None).update(
            told_on=clock.today(), told_by_id=by.pk if by else None
        )
        if told:
            concession = telling.concession
            note_history(
                mate,
                f"Told of {concession.key} on {concession.part.key}: {concession.reading.to_suit}",
                by=by,
            )
        return bool(told)
