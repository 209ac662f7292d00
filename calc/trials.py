"""Trial cuts by a kept plan: what they measured, beside what the plan gives."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from typing import Any, Literal
from uuid import UUID

from django.db import transaction

from calc import measures
from calc.answers.bevel_cutting import shown_plan
from calc.answers.card_shapes import case_of
from calc.answers.card_teeth import unit_of
from calc.answers.shapes import unit_word
from calc.kernel.units import in_or_mm
from calc.measures import EntryError
from calc.models import CalculationRecord, TrialCut

End = Literal["small", "large"]
ENDS: tuple[End, ...] = ("small", "large")
#: A tooth that measures more than so many times the plan's was measured or typed wrongly.
MOST_TIMES = 2


@dataclass(frozen=True)
class Reading:
    """One end of a tooth: what was measured, and by how much it is thick or thin."""

    measured: str
    off: str


@dataclass(frozen=True)
class TrialLine:
    """One trial as a page shows it: a reading to each end, none where it was not measured."""

    trial: TrialCut
    readings: tuple[Reading | None, ...]


def takes_trials(record: CalculationRecord) -> bool:
    """Whether a kept sum is a plan by which teeth are tried."""
    return record.key == "bevel-cutting"


def wanted_mm(record: CalculationRecord) -> Mapping[End, float]:
    """What a tooth measures across at each end by the plan. [mm]"""
    plan = shown_plan(case_of(record))
    return {end: float(plan[f"tooth_{end}_mm"]) for end in ENDS}


def wanted_text(record: CalculationRecord, end: End) -> str:
    """The same as the card prints it, with its unit."""
    return f"{_shown(record, wanted_mm(record)[end])} {unit_word(unit_of(record))}"


def read_tooth(record: CalculationRecord, end: End, text: str) -> float:
    """What was typed, in millimetres; a bare figure is in the unit that the card prints.

    Raises
    ------
    EntryError
        It is no length, nothing, or more than twice what the plan gives.
    """
    measured, wanted = measures.parse_length(text, unit_of(record)).base, wanted_mm(record)[end]
    if not 0 < measured <= MOST_TIMES * wanted:
        raise EntryError(
            f"A tooth is more than nothing and at most {MOST_TIMES} times the plan’s "
            f"{wanted_text(record, end)}. Look at the unit, or measure again."
        )
    return float(measured)


@transaction.atomic
def write_trial(
    record: CalculationRecord, said: Mapping[str, Any], *, user: Any, at: datetime, token: UUID
) -> TrialCut:
    """Write down a trial under the next number; the same token gives the one that was written with it.

    Raises
    ------
    PermissionError
        The token belongs to a trial of another sum.
    """
    # The sum is held first: of two clicks at once the second finds the trial of the first.
    CalculationRecord.objects.select_for_update().get(pk=record.pk)
    written = TrialCut.objects.filter(token=token).first()
    if written and written.record_id != record.pk:
        raise PermissionError("This token belongs to a trial of another sum.")
    if written:
        return written
    last = record.trials.order_by("number").last()
    return TrialCut.objects.create(
        record=record,
        number=last.number + 1 if last else 1,
        small=said["small"],
        small_mm=read_tooth(record, "small", said["small"]) if said["small"] else None,
        large=said["large"],
        large_mm=read_tooth(record, "large", said["large"]) if said["large"] else None,
        note=said["note"],
        made_by=user,
        made_at=at,
        token=token,
    )


def lines_of(record: CalculationRecord) -> list[TrialLine]:
    """The trials of a plan in their order, each with what it is off by."""
    wanted = wanted_mm(record)
    return [
        TrialLine(
            trial,
            (
                _reading(record, trial.small, trial.small_mm, wanted["small"]),
                _reading(record, trial.large, trial.large_mm, wanted["large"]),
            ),
        )
        for trial in record.trials.all()
    ]


def _reading(record: CalculationRecord, text: str, mm: float | None, wanted: float) -> Reading | None:
    if mm is None:
        return None
    off = _shown(record, abs(mm - wanted))
    if not float(off):
        return Reading(text, "as wanted")
    return Reading(text, f"{off} {'thick' if mm > wanted else 'thin'}")


def _shown(record: CalculationRecord, mm: float) -> str:
    unit = unit_of(record)
    return in_or_mm(Fraction(mm), unit, 4 if unit == "inch" else 3)
