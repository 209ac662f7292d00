"""How answers are shown: by the calculation's own module where it has one, else its headline and results."""

from collections.abc import Callable, Mapping
from typing import Any

from calc.answers import (
    bevel_cutting,
    bevel_differential,
    bevel_pair,
    bolt_circle,
    bore_sequence,
    broaching,
    casting_allowance,
    change_wheels,
    fit,
    helical_gear,
    inch_fit,
    indexing,
    indexing_schedule,
    key_strength,
    keyway,
    mass,
    milling_lead,
    press_fit,
    scale,
    shop_fit,
    spindle_speed,
    spur_gear,
    taper,
    tapping_drill,
    thread,
    worm_pair,
)
from calc.answers.shapes import Answer, Case, Chosen, Table, empty_answer, fact
from calc.calculation import Calculation
from calc.kernel.working import Outcome

_ANSWERS: dict[str, Callable[[Case], Answer]] = {
    "indexing": indexing.answer,
    "indexing-schedule": indexing_schedule.answer,
    "spur-gear": spur_gear.answer,
    "helical-gear": helical_gear.answer,
    "bevel-pair": bevel_pair.answer,
    "bevel-cutting": bevel_cutting.answer,
    "bevel-differential": bevel_differential.answer,
    "worm-pair": worm_pair.answer,
    "keyway": keyway.answer,
    "broaching": broaching.answer,
    "key-strength": key_strength.answer,
    "fit": fit.answer,
    "inch-fit": inch_fit.answer,
    "shop-fit": shop_fit.answer,
    "press-fit": press_fit.answer,
    "thread": thread.answer,
    "tapping-drill": tapping_drill.answer,
    "bore-sequence": bore_sequence.answer,
    "taper": taper.answer,
    "spindle-speed": spindle_speed.answer,
    "bolt-circle": bolt_circle.answer,
    "change-wheels": change_wheels.answer,
    "milling-lead": milling_lead.answer,
    "scale": scale.answer,
    "mass": mass.answer,
    "casting-allowance": casting_allowance.answer,
}
_TABLES: dict[str, Callable[[Case], list[Table]]] = {
    "bevel-cutting": bevel_cutting.tables,
    "indexing": indexing.tables,
    "indexing-schedule": indexing_schedule.tables,
    "broaching": broaching.tables,
    "thread": thread.tables,
    "tapping-drill": tapping_drill.tables,
    "bore-sequence": bore_sequence.tables,
    "bolt-circle": bolt_circle.tables,
    "change-wheels": change_wheels.tables,
    "milling-lead": milling_lead.tables,
    "casting-allowance": casting_allowance.tables,
}


def answer(calculation: Calculation, case: Case) -> Answer:
    """The box at the top and what belongs to it."""
    own = _ANSWERS.get(calculation.key)
    return own(case) if own else plain_answer(calculation, case)


def tables(key: str, case: Case) -> list[Table]:
    """The long results, row by row."""
    own = _TABLES.get(key)
    return own(case) if own else []


def is_row(key: str, results: Mapping[str, Any], chosen: Chosen | None) -> bool:
    """Whether a row of the results is chosen, and there is one."""
    return key == "indexing" and indexing.is_row(results, chosen)


def reworked(key: str, case: Case, outcome: Outcome) -> Outcome | None:
    """The outcome with the working of the row chosen or of what was typed; None where its own stands."""
    if key == "fit":
        return fit.reworked(case, outcome)
    return indexing.reworked(case, outcome) if is_row(key, case.results, case.chosen) else None


def plain_answer(calculation: Calculation, case: Case) -> Answer:
    """An answer with no drawing of its own: the headline, and every single figure with its unit."""
    inputs, results = dict(case.inputs), dict(case.results)
    figures = [
        fact(output.help, str(results[output.name]), output.unit)
        for output in calculation.outputs
        if isinstance(results.get(output.name), int | float | str)
    ]
    title = calculation.title_of(inputs, case.readings)
    shown = empty_answer(title, calculation.headline(inputs, results), facts=figures)
    shown["notes"] = [warning["text"] for warning in case.warnings]
    return shown
