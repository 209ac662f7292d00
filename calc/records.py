"""Kept sums: the one room that others ask to work out, keep, show, compare and check a sum."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone

from calc import chains
from calc.chains import Link, Taken, label_of, links_of, stale_of, stale_reasons, text_of
from calc.comparing import (
    Difference,
    PartFacts,
    Recheck,
    differences,
    part_facts,
    recheck,
    recheck_all,
)
from calc.entries import EntryErrors, plain_json
from calc.models import CalculationRecord
from calc.runs import Run, answer_of, as_json, read_chosen, run, tables_of
from calc.sum_sheets import sheet

__all__ = [
    "Difference",
    "EntryErrors",
    "Link",
    "PartFacts",
    "Recheck",
    "Run",
    "Taken",
    "answer_of",
    "as_json",
    "differences",
    "keep",
    "kept_json",
    "label_of",
    "latest",
    "links_of",
    "part_facts",
    "read_chosen",
    "recheck",
    "recheck_all",
    "run",
    "sheet",
    "stale_of",
    "stale_reasons",
    "tables_of",
    "text_of",
]


def keep(
    found: Run,
    *,
    part: Any,
    user: Any,
    token: UUID,
    context: Mapping[str, Any] | None = None,
    at: datetime | None = None,
    taken: Mapping[str, Taken] | None = None,
    brought_from: CalculationRecord | None = None,
) -> CalculationRecord:
    """Keep a sum, worked out once more from the text; the same token again gives the record already kept.

    `context` may hold `faces` ([[name, circles], ...]) and `head`; the row in use and the facts of the
    part are put in beside them. `taken` says which entries another sum of the part offered: where their
    text is unchanged, the record rests on that sum. `brought_from` is the sum of no part that this one is.
    """
    earlier = CalculationRecord.objects.filter(token=token).first()
    if earlier:
        return _own(earlier, user)
    again = run(found.calculation, found.entered, unit=found.unit, chosen=found.chosen)
    try:
        with transaction.atomic():
            rests_on = chains.links_to_keep(part, again.entered, taken or {})
            record = _write(
                again,
                part=part,
                user=user,
                token=token,
                context=dict(context or {}) | ({"rests_on": rests_on} if rests_on else {}),
                at=at,
                brought_from=brought_from,
            )
            chains.write_links(record)
            return record
    except IntegrityError:
        # The other of two clicks was quicker; anything else that breaks a rule of the table is raised again.
        return _own(CalculationRecord.objects.get(token=token), user)


def _own(record: CalculationRecord, user: Any) -> CalculationRecord:
    if record.made_by_id != user.pk:
        raise PermissionError("This token belongs to a sum that somebody else has kept.")
    return record


def _write(
    found: Run,
    *,
    part: Any,
    user: Any,
    token: UUID,
    context: dict[str, Any],
    at: datetime | None,
    brought_from: CalculationRecord | None,
) -> CalculationRecord:
    answer = answer_of(found, context)
    context |= {"answer": plain_json(answer), "chosen": found.chosen}
    if part is not None:
        context["part"] = part_facts(part)
    worked = as_json(found)
    return CalculationRecord.objects.create(
        key=worked["calculation"],
        revision=worked["revision"],
        title=found.calculation.title_of(found.inputs, found.readings)[:120],
        headline=answer.get("kept_as", answer["big"])[:200],
        entered=worked["entered"],
        unit=found.unit,
        readings=found.readings,
        inputs=worked["inputs"],
        results=worked["results"],
        working=worked["working"],
        warnings=worked["warnings"],
        sources=worked["sources"],
        context=context,
        part=part,
        replaces=latest(part, found.calculation.key) if part is not None else None,
        brought_from=brought_from,
        made_by=user,
        made_at=at or timezone.now(),
        token=token,
    )


def latest(part: Any, key: str) -> CalculationRecord | None:
    """The last sum of this kind kept on the part."""
    return CalculationRecord.objects.filter(part=part, key=key).first()


def kept_json(record: CalculationRecord) -> dict[str, Any]:
    """The same object with the number it is kept under, when, and for which part."""
    part = record.part
    return as_json(record) | {
        "record": record.pk,
        "made_at": record.made_at.isoformat(),
        "part": str(getattr(part, "key", "")) or None,
        "chosen": record.context.get("chosen"),
        "replaces": record.replaces_id,
        "brought_from": record.brought_from_id,
        "rests_on": links_of(record),
    }
