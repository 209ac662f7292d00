"""Writing down what was really made: characteristics, readings down a column, readings struck out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db import transaction
from django.db.models import Max

from buildlog import clock
from buildlog.actions.stages import Doer, note_history
from buildlog.actions.tokens import written_with
from buildlog.changes import recording, row_of
from buildlog.models import Characteristic, Concession, Decision, Part, Reading, WorkCard
from calc.measures import Measure


class MadeRefusedError(ValueError):
    """Something that cannot be written down; `field` names the entry."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True, slots=True)
class Read:
    """A reading as it was typed and understood, and what it was taken with."""

    measure: Measure
    instrument: str = ""


@transaction.atomic
def add_characteristic(size: Characteristic, *, token: UUID, by: Doer) -> Characteristic:
    """Put a characteristic at the end of the part's; the same token gives the one that was written with it.

    Raises
    ------
    PermissionError
        The token belongs to another part.
    """
    part = Part.objects.select_for_update().get(pk=size.part_id)
    written = written_with(token, Characteristic, part_id=part.pk)
    if written:
        return written
    last = part.characteristics.aggregate(last=Max("position"))["last"] or 0
    size.token, size.position = token, last + 1
    with recording(part.build, f"{part.key}: {size.name} to be measured", by=by) as change:
        size.save()
        change.came(size)
        note_history(part, f"To be measured: {size.name} {size.wanted}", by=by)
        return size


@transaction.atomic
def change_characteristic(size: Characteristic, *, by: Doer) -> None:
    """Write a characteristic as it now is; its readings are held to the limits it has from now on."""
    part = Part.objects.select_for_update().get(pk=size.part_id)
    with recording(part.build, f"{part.key}: {size.name} changed", by=by) as change:
        change.watch(row_of(size))
        stood = Characteristic.objects.get(pk=size.pk)
        size.save()
        before, now = f"{stood.name} {stood.wanted}", f"{size.name} {size.wanted}"
        if before != now:
            note_history(part, f"To be measured: {before} changed to {now}", by=by)


@transaction.atomic
def remove_characteristic(size: Characteristic, *, by: Doer) -> None:
    """Take away a characteristic that nothing was measured of.

    Raises
    ------
    MadeRefusedError
        It has readings, which are never deleted.
    """
    part = Part.objects.select_for_update().get(pk=size.part_id)
    if size.readings.exists():
        raise MadeRefusedError("name", f"{size.name} has readings, and they are never thrown away.")
    with recording(part.build, f"{part.key}: {size.name} no longer to be measured", by=by) as change:
        change.watch(row_of(size))
        size.delete()
        note_history(part, f"No longer to be measured: {size.name}", by=by)


@transaction.atomic
def write_readings(
    part: Part,
    read: Mapping[int, Read],
    *,
    piece: int,
    on: date,
    note: str,
    card: WorkCard | None,
    token: UUID,
    by: Doer,
) -> list[Reading]:
    """Write a column of readings, by their characteristics; the same token gives those written with it.

    Raises
    ------
    PermissionError
        The token belongs to readings of another part.
    """
    Part.objects.select_for_update().get(pk=part.pk)
    written = list(Reading.objects.filter(token=token).select_related("characteristic"))
    if any(one.characteristic.part_id != part.pk for one in written):
        raise PermissionError("This token belongs to readings of another part.")
    if written:
        return written
    sizes = {size.pk: size for size in part.characteristics.all()}
    new = [
        Reading(
            characteristic=sizes[pk],
            piece=piece,
            value=one.measure.as_entered.strip(),
            unit=one.measure.unit,
            value_exact=str(one.measure.base),
            instrument=one.instrument,
            on=on,
            note=note,
            card=card,
            at=clock.now(),
            by_id=by.pk if by else None,
            token=token,
        )
        for pk, one in read.items()
        if pk in sizes
    ]
    Reading.objects.bulk_create(new)
    note_history(part, _told(new, piece, card), by=by)
    return list(Reading.objects.filter(token=token).select_related("characteristic"))


def _told(new: Sequence[Reading], piece: int, card: WorkCard | None) -> str:
    """The line of history: `Measured: bore 1.1254 in, within limits; from card 214`."""
    said = [f"{one.characteristic.name} {one.shown}, {one.judged.words}" for one in new]
    if piece > 1:
        said.append(f"piece {piece}")
    if card:
        said.append(f"from card {card.number}")
    return f"Measured: {'; '.join(said)}"


@transaction.atomic
def strike_reading(reading: Reading, why: str, *, by: Doer) -> bool:
    """Strike out a wrong reading; a concession that is open for it is withdrawn with it.

    False where it was struck out already.
    """
    part = Part.objects.select_for_update().get(pk=reading.characteristic.part_id)
    with recording(part.build, f"{part.key}: reading struck out, {reading}", by=by) as change:
        change.watch(row_of(reading), Concession.objects.filter(reading=reading))
        struck = Reading.objects.filter(pk=reading.pk, struck_at=None).update(
            struck_at=clock.now(), struck_by_id=by.pk if by else None, struck_why=why
        )
        if not struck:
            return False
        note_history(part, f"Reading struck out: {reading}: {why}", by=by)
        for one in Concession.objects.filter(reading=reading, decision=Decision.OPEN):
            one.decision, one.words = Decision.WITHDRAWN, "its reading was struck out"
            one.decided_on, one.decided_by_id = clock.today(), by.pk if by else None
            one.save(update_fields=["decision", "words", "decided_on", "decided_by"])
            note_history(part, f"{one.key} withdrawn: its reading was struck out", by=by)
        return True
