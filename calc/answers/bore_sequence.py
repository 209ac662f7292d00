"""How the answer of `bore-sequence` is shown: the drills in order, what is left, the other rules."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.answers.shapes import (
    Answer,
    Case,
    Fact,
    Row,
    Table,
    both,
    columns,
    empty_answer,
    fact,
    shown_unit,
    unit_word,
    units_word,
)
from calc.answers.thread_words import drill_fact, size_fact
from calc.catalogue.bore_sequence import REAMER_WORDS, bore_text
from calc.kernel.tables import read_table
from calc.kernel.units import INCH, in_or_mm
from calc.kernel.wording import exact
from calc.sheets import SizeTable

OTHER_WORDS = {"workshop 1919": "Workshop rule of 1919, never over 1/32 in", "trainee": "Rule for trainees"}
UNDER = "Allowances are on the diameter; a drill is taken to cut 0.05 mm over its size. "
ADVICE = "The drills before the last are advice."


def answer(case: Case) -> Answer:
    """The box, what is left in both units, and what other rules leave."""
    results, unit = case.results, shown_unit(case, "finished_bore")
    order = [row["drill"] for row in results["drills"]]
    reamer = REAMER_WORDS[case.inputs["reamer"]]
    shown = empty_answer(
        f"{bore_text(case.inputs['finished_bore'])} bore, {reamer}: drills in order",
        f"Drill {', then '.join(order)}",
        UNDER + (ADVICE if len(order) > 1 else ""),
        _facts(case),
    )
    left, converted = both(exact(results["stock_left_mm"]), unit, 4, 3)
    shown["big_small"] = f"leaves {left}, {converted} on the diameter"
    shown["beware"] = [
        {"title": "Too much is left for the reamer", "text": one["text"]}
        for one in case.warnings
        if one["code"] == "too-much-left"
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] != "too-much-left"]
    shown["sizes"] = _sizes(case)
    shown["units"] = units_word(unit)
    return shown


def _facts(case: Case) -> list[Fact]:
    results, unit = case.results, shown_unit(case, "finished_bore")
    before = "the reamer" if case.inputs["reamer"] != "none" else "boring"
    facts = [
        drill_fact(f"Drill before {before}", results["last_drill"], results["last_drill_mm"]),
        size_fact("Left on the diameter", results["stock_left_mm"], unit),
        size_fact("That is, on each side", results["stock_left_a_side_mm"], unit),
    ]
    if results["allowance_low_mm"] is not None:
        low, high = (exact(results[f"allowance_{end}_mm"]) for end in ("low", "high"))
        places = 4 if unit == "inch" else 3
        wanted = f"{in_or_mm(low, unit, places)} to {in_or_mm(high, unit, places)}"
        facts.append(fact("Reamer wants left", wanted, unit_word(unit)))
    return facts


def _sizes(case: Case) -> SizeTable:
    """What is left, what the rule in use wants, and what the others want, in both units."""
    results = case.results
    rows = [("Left on the diameter", [exact(results["stock_left_mm"])])]
    if results["allowance_low_mm"] is not None:
        wanted = [exact(results[f"allowance_{end}_mm"]) for end in ("low", "high")]
        rows.append(("Rule in use", wanted))
        rows += [(OTHER_WORDS[row["rule"]], _ends(row)) for row in _others(case)]
    return {
        "title": "Left for the reamer, by one rule and another",
        "note": "on the diameter",
        "columns": ["in", "mm"],
        "lines": [
            {
                "label": label,
                "cells": [
                    "–".join(in_or_mm(end, "inch", 4) for end in ends),
                    "–".join(in_or_mm(end, "mm", 3) for end in ends),
                ],
                "finished": False,
            }
            for label, ends in rows
        ],
    }


def _others(case: Case) -> list[Mapping[str, str]]:
    """The rules beside the one in use that cover this bore; they speak of reamers in the machine."""
    if case.inputs["reamer"] != "machine":
        return []
    bore = exact(case.inputs["finished_bore"])
    return [
        row
        for row in read_table("reaming", "others").rows
        if Fraction(row["over"]) * _unit(row) < bore <= Fraction(row["upto"]) * _unit(row)
    ]


def _unit(row: Mapping[str, str]) -> Fraction:
    return INCH if row["unit"] == "inch" else Fraction(1)


def _ends(row: Mapping[str, str]) -> list[Fraction]:
    return [Fraction(row[end]) * _unit(row) for end in ("low", "high")]


def tables(case: Case) -> list[Table]:
    """The drills one by one."""
    rows = case.results["drills"]
    return [
        {
            "key": "drills",
            "title": "Drills in order",
            "note": ADVICE if len(rows) > 1 else "",
            "columns": columns("#", "Drill", "#in", "#mm"),
            "rows": [_row(place, row) for place, row in enumerate(rows, 1)],
            "may_choose": False,
        }
    ]


def _row(place: int, row: Mapping[str, Any]) -> Row:
    size = exact(row["drill_mm"])
    cells = [str(place), row["drill"], in_or_mm(size, "inch", 4), in_or_mm(size, "mm", 3)]
    return {"id": f"drills-{place}", "cells": cells, "is_chosen": False}
