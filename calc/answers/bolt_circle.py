"""How the answer of `bolt-circle` is shown: the chord, the circle drawn, a row of coordinates to a hole."""

from fractions import Fraction

from calc.answers.shapes import (
    Answer,
    Case,
    Row,
    Table,
    both,
    columns,
    empty_answer,
    fact,
    shown_unit,
    units_word,
)
from calc.catalogue.bolt_circle import subject
from calc.kernel.units import in_or_mm
from calc.kernel.wording import fixed
from calc.sheets import Picture

UNDER = "Chord between the centres of neighbours. x to the right and y up from the datum."
NOTE = "Each from the datum. Angles go anticlockwise from the right."


def answer(case: Case) -> Answer:
    """The box and the picture."""
    unit = shown_unit(case, "diameter")
    main, other = both(case.results["chord_mm"], unit, 4, 3)
    shown = empty_answer(subject(dict(case.inputs)), main, UNDER)
    shown["big_small"] = other
    across, converted = both(case.results["across_mm"], unit, 4, 3)
    figure, word = across.split(" ")
    label = f"Check, hole 1 to hole {case.results['across_hole']}"
    shown["facts"] = [fact(label, figure, f"{word} between centres, {converted}")]
    shown["pictures"] = [_picture(case)]
    shown["units"] = units_word(unit)
    return shown


def tables(case: Case) -> list[Table]:
    """A row to a hole, in both units."""
    rows: list[Row] = [
        {
            "id": "",
            "cells": [
                str(row["hole"]),
                f"{fixed(row['angle_deg'], 4)}°",
                *(in_or_mm(row[f"{axis}_mm"], "inch", 4) for axis in "xy"),
                *(in_or_mm(row[f"{axis}_mm"], "mm", 3) for axis in "xy"),
            ],
            "is_chosen": False,
        }
        for row in case.results["coordinates"]
    ]
    return [
        {
            "key": "coordinates", "title": "Coordinates", "note": NOTE,
            "columns": columns("#Hole", "#Angle", "#x, in", "#y, in", "#x, mm", "#y, mm"),
            "rows": rows, "may_choose": False,
        }
    ]  # fmt: skip


def _picture(case: Case) -> Picture:
    return {
        "kind": "bolt-circle",
        "figures": {
            "holes": case.inputs["holes"],
            "first_angle": float(Fraction(case.inputs["first_angle"])),
        },
        "strong": "As the machine sees it",
        "text": f"{case.inputs['holes']} holes, x to the right, y up",
        "wide": False,
    }
