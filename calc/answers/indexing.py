"""How the answer of `indexing` is shown: which row is used, its box and working, and the other rows."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from calc.answers import indexing_boxes as boxes
from calc.answers import indexing_words as words
from calc.answers.shapes import Answer, Case, Chosen, Column, Row, Table, columns
from calc.kernel.indexing import SOURCE_KEYS
from calc.kernel.indexing_compound import compound_steps
from calc.kernel.indexing_differential import differential_steps, sense_text
from calc.kernel.indexing_entries import Dividing, dividing
from calc.kernel.indexing_plain import angle_step, direct_steps, move_steps, nearest_steps, plain_steps
from calc.kernel.wording import plural
from calc.kernel.working import Outcome, Step

Setting = dict[str, Any]

_BOXES: dict[str, Callable[[Case, Setting], Answer]] = {
    "plain": boxes.plain,
    "direct": boxes.direct,
    "compound": boxes.compound,
    "differential": boxes.differential,
    "nearest": boxes.nearest,
}
_STEPS: dict[str, Callable[[Dividing, Setting], list[Step]]] = {
    "plain": plain_steps,
    "direct": direct_steps,
    "compound": compound_steps,
    "differential": differential_steps,
    "nearest": nearest_steps,
}
_TABLES: dict[str, tuple[str, str, list[Column]]] = {
    "plain": ("Plain, exact", "largest circle first", columns("Move", "On", "#Arms at", "#Pin home every")),
    "direct": ("On the direct plate, exact", "the spindle turned by hand", columns("Move", "On")),
    "compound": (
        "Two moves, exact",
        "both circles on one face of a plate",
        columns("First", "Then", "Second move", "On"),
    ),
    "differential": (
        "With change gears, exact",
        "only while the gears are on",
        columns("Move", "On", "Change gears", "Plate turns", "#Without the gears"),
    ),
    "nearest": (
        "Nearest, not exact",
        "the error gathers in the last space",
        columns("Move", "On", "#Error of a move", "#The last space"),
    ),
}


def is_row(results: Mapping[str, Any], chosen: Chosen | None) -> bool:
    """Whether a row is chosen, and there is one."""
    if not chosen or chosen["method"] not in _BOXES:
        return False
    return bool(0 <= chosen["index"] < len(results[chosen["method"]] or ()))


def row_in_use(case: Case) -> tuple[str, Setting] | None:
    """The method and row in use: the one chosen where it exists, else the first plain or direct one."""
    if case.chosen and is_row(case.results, case.chosen):
        return case.chosen["method"], case.results[case.chosen["method"]][case.chosen["index"]]
    for method in ("plain", "direct"):
        if case.results[method]:
            return method, case.results[method][0]
    return None


def answer(case: Case) -> Answer:
    """The box for the row in use; what would do where there is no plain one and none is chosen."""
    found = row_in_use(case)
    if found is None:
        return boxes.no_plain(case)
    method, row = found
    return _BOXES[method](case, row)


def reworked(case: Case, outcome: Outcome) -> Outcome:
    """The same outcome with the working, and its sources, of the row chosen."""
    steps = _working(case)
    keys = [SOURCE_KEYS[step.source] for step in steps if step.source in SOURCE_KEYS]
    return replace(outcome, working=steps, sources=tuple(dict.fromkeys(keys)))


def _working(case: Case) -> tuple[Step, ...]:
    assert case.chosen is not None
    inputs, method = case.inputs, case.chosen["method"]
    task = dividing(
        divisions=inputs["divisions"],
        angle=inputs["angle"],
        ratio=inputs["ratio"],
        circles=inputs["circles"],
        change_gears=inputs["change_gears"] or (),
        keep_quarter=inputs["keep_quarter"],
        direct_circles=inputs["direct_circles"] or (),
    )
    start = [] if method == "direct" else move_steps(task, case.results["plain"])
    end = [angle_step(task)] if task.divisions is not None else []
    return (*start, *_STEPS[method](task, case.results[method][case.chosen["index"]]), *end)


def tables(case: Case) -> list[Table]:
    """Every row of every method, so that another may be used instead."""
    found = row_in_use(case)
    made: list[Table] = []
    for method, (title, note, heads) in _TABLES.items():
        rows = [
            _row(case, method, place, row, is_chosen=found == (method, row))
            for place, row in enumerate(case.results[method] or ())
        ]
        alone = method == "plain" and len(rows) == 1 and rows[0]["is_chosen"]
        if rows and not alone:
            made.append(
                {
                    "key": method,
                    "title": title,
                    "note": note,
                    "columns": heads,
                    "rows": rows,
                    "may_choose": True,
                }
            )
    return made


def _row(case: Case, method: str, place: int, row: Setting, *, is_chosen: bool) -> Row:
    return {"id": f"{method}-{place}", "cells": _cells(case, method, row), "is_chosen": is_chosen}


def _cells(case: Case, method: str, row: Setting) -> list[str]:
    if method == "compound":
        way = "same way" if row["same_direction"] else "other way"
        moves = [f"{row['holes_a']} in {row['circle_a']}", f"{row['holes_b']} in {row['circle_b']}"]
        return [*moves, way, words.on_words((row["circle_a"], row["circle_b"]), case.faces)]
    if method == "direct":
        return [words.row_words(row), "the direct plate"]
    start = [words.row_words(row), words.on_words((row["circle"],), case.faces)]
    if method == "differential":
        return [*start, words.gears(row), sense_text(row), str(row["works_as_divisions"])]
    if method == "nearest":
        return [*start, words.arcsec(row["error_arcsec"]), words.closing_words(row)]
    arms = plural(row["sector_holes"], "hole") if row["holes"] else "—"
    return [*start, arms, str(row["home_every"])]
