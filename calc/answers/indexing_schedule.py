"""How the answer of `indexing-schedule` is shown: every division with its turns, hole and angle."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.answers.shapes import Answer, Case, Row, Table, columns, empty_answer, fact
from calc.kernel.wording import bracketed, fixed, mixed_text, move_sum, plural, setting_text


def answer(case: Case) -> Answer:
    """The setting, with what shows that it comes round."""
    inputs = case.inputs
    move = bracketed(move_sum(inputs["turns"], inputs["holes"], inputs["circle"]))
    total = (inputs["turns"] + Fraction(inputs["holes"], inputs["circle"])) * inputs["divisions"]
    shown = empty_answer(
        f"Schedule for {inputs['divisions']} divisions at {inputs['ratio']} to 1",
        setting_text(inputs),
        "Division 1 stands at hole 0; holes are counted from there, the way the crank turns.",
        [
            fact("Pin home every", *plural(case.results["home_every"], "move").split(" ")),
            fact("Proof", f"{inputs['divisions']} × {move} = {mixed_text(total)}"),
        ],
    )
    shown["notes"] = [warning["text"] for warning in case.warnings]
    return shown


def tables(case: Case) -> list[Table]:
    """One row to a division."""
    rows = case.results["rows"]
    return [
        {
            "key": "schedule",
            "title": "Every division",
            "note": "",
            "columns": columns("#Division", "#Turns in all", "#Hole", "#Spindle"),
            "rows": [_row(row) for row in rows],
            "may_choose": False,
        }
    ]


def _row(row: Mapping[str, Any]) -> Row:
    angle = f"{fixed(row['angle_deg'], 2)}°"
    cells = [str(row["division"]), row["total_turns_text"], str(row["hole"]), angle]
    return {"id": f"division-{row['division']}", "cells": cells, "is_chosen": row["home"]}
