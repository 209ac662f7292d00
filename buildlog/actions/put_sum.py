"""Putting a sum that was kept for no part to one: a new one, so that the first stays as it was written."""

from uuid import UUID

from django.db import transaction

from buildlog import clock
from buildlog.actions.stages import Doer
from buildlog.models import Part
from calc import records, registry
from calc.models import CalculationRecord


class CannotPutError(Exception):
    """The sum cannot be kept on the part; the message says why."""


@transaction.atomic
def put_to_part(record: CalculationRecord, part: Part, *, by: Doer, token: UUID) -> CalculationRecord:
    """Keep the sum on the part, worked out again from what was typed; asked twice, it is kept once.

    Raises
    ------
    CannotPutError
        Today's rule refuses the entries, finds no answer, or is no more.
    """
    earlier = part.records.filter(brought_from=record).first()
    if earlier:
        return earlier
    calculation = registry.get(record.key)
    problem = records.recheck(record).problem
    if calculation is None or problem:
        raise CannotPutError(f"It cannot be worked out again for a part: {problem}.")
    context = {name: record.context[name] for name in ("faces", "head") if name in record.context}
    return records.keep(
        records.run(calculation, record.entered, unit=record.unit, chosen=record.context.get("chosen")),
        part=part,
        user=by,
        token=token,
        context=context,
        at=clock.now(),
        brought_from=record,
    )
