"""A run of a sum and what is shown of it: worked from the text as typed, or as it was kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc import answers
from calc.answers.shapes import Answer, Case, Chosen, Faces, Table
from calc.calculation import Calculation
from calc.entries import EntryErrors, read_entries, worked_json
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.units import Unit
from calc.kernel.working import Outcome
from calc.models import CalculationRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One run of a calculation that is not kept yet."""

    calculation: Calculation
    entered: dict[str, str]
    unit: Unit
    readings: dict[str, str]
    inputs: dict[str, Any]
    outcome: Outcome
    chosen: Chosen | None = None  # the row in use; None for the sum's own first


def run(
    calculation: Calculation, entered: Mapping[str, str], *, unit: str = "inch", chosen: Chosen | None = None
) -> Run:
    """Read the entries and work the sum out; where a row is chosen, the working is that row's.

    Raises
    ------
    EntryErrors
        An entry cannot be read or breaks a limit; the message for each field by its name.
    NoSolution
        The entries are right and there is no answer; says what would make one.
    """
    measured: Unit = "mm" if unit == "mm" else "inch"
    typed = {name: text for name, text in entered.items() if text.strip()}
    read = read_entries(calculation, typed, unit=measured)
    try:
        outcome = calculation.function(**read.inputs)
    except OutOfRange as error:
        raise EntryErrors({error.field: str(error)}) from error
    except NotInTable as error:
        raise EntryErrors({error.field: error.message}) from error
    case = Case(inputs=read.inputs, results=outcome.results, chosen=chosen, entered=typed, unit=measured)
    reworked = answers.reworked(calculation.key, case, outcome)
    return Run(
        calculation=calculation,
        entered=typed,
        unit=measured,
        readings=read.readings,
        inputs=read.inputs,
        outcome=reworked or outcome,
        chosen=chosen if answers.is_row(calculation.key, outcome.results, chosen) else None,
    )


def as_json(found: "Run | CalculationRecord") -> dict[str, Any]:
    """The JSON object of the contract, of a run or of what is kept."""
    if isinstance(found, Run):
        return worked_json(found.calculation, found.entered, found.inputs, found.outcome)
    return {
        "calculation": found.key,
        "revision": found.revision,
        "entered": found.entered,
        "inputs": found.inputs,
        "results": found.results,
        "working": found.working,
        "warnings": found.warnings,
        "sources": found.sources,
    }


def faces_of(context: Mapping[str, Any]) -> Faces:
    """Names of faces by their circles, from the context of a record or of a page."""
    return {tuple(circles): name for name, circles in context.get("faces") or []}


def answer_of(found: "Run | CalculationRecord", context: Mapping[str, Any] | None = None) -> Answer:
    """The answer box: worked from a run, or exactly as it was kept."""
    if isinstance(found, Run):
        return answers.answer(found.calculation, _case(found, context or {}))
    kept: Answer = found.context["answer"]
    return kept


def tables_of(found: "Run | CalculationRecord", context: Mapping[str, Any] | None = None) -> list[Table]:
    """Every row of the results, the one in use marked."""
    if isinstance(found, Run):
        return answers.tables(found.calculation.key, _case(found, context or {}))
    return answers.tables(found.key, _case(found, found.context))


def _case(found: "Run | CalculationRecord", context: Mapping[str, Any]) -> Case:
    worked = as_json(found)
    return Case(
        inputs=found.inputs,
        results=worked["results"],
        warnings=worked["warnings"],
        chosen=found.chosen if isinstance(found, Run) else context.get("chosen"),
        faces=faces_of(context),
        entered=found.entered,
        readings=found.readings,
        unit="mm" if found.unit == "mm" else "inch",
    )


def read_chosen(text: str) -> Chosen | None:
    """The row meant by `plain-1`; None where the text names none."""
    method, _, place = text.rpartition("-")
    if not method.isidentifier() or not (place.isascii() and place.isdigit()) or len(place) > 4:
        return None
    return {"method": method, "index": int(place)}
