"""How the answer of `change-wheels` is shown: the train, what it is out, every other train there is."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.shapes import (
    Answer,
    Case,
    Fact,
    Row,
    Table,
    columns,
    empty_answer,
    fact,
)
from calc.catalogue.change_wheels import headline, row_text, subject
from calc.kernel.units import in_or_mm
from calc.kernel.wording import exact, fixed, plural
from calc.sheets import Picture

BEWARE = {
    "no-exact": "No train is exact",
    "half-nut": "Keep the half nut closed",
    "train-clears": "Two pairs must clear",
}
IDLER = "Any idler between; one more or less cuts the other hand."
FOULS = "may foul"


def answer(case: Case) -> Answer:
    """The box and the picture."""
    results = case.results
    best = (results["exact_trains"] or results["nearest_trains"])[0]
    under = f"The first of the drivers on the spindle, the last of the driven on the lead screw. {IDLER}"
    shown = empty_answer(subject(dict(case.inputs)), headline(dict(case.inputs), dict(results)), under)
    shown["facts"] = [*_cost(best, is_exact=bool(results["exact_trains"])), *_half_nut(results)]
    put_cautions(shown, case, BEWARE)
    shown["pictures"] = [train_picture(best, "spindle", "lead screw")]
    return shown


def put_cautions(shown: Answer, case: Case, titles: Mapping[str, str]) -> None:
    """What has a title of its own stands apart from the notes."""
    shown["beware"] = [
        {"title": titles[one["code"]], "text": one["text"]} for one in case.warnings if one["code"] in titles
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in titles]


def _cost(best: Mapping[str, Any], *, is_exact: bool) -> list[Fact]:
    out = "exactly as wanted" if is_exact else f"{fixed(best['error_percent'], 4)} % out"
    return [
        fact("Pitch it cuts", fixed(best["pitch_mm"], 5), f"mm, {out}"),
        fact("Error over an inch", thous(best["error_over_inch_um"]), "thou"),
        fact("Error over 25 mm", fixed(best["error_over_25_um"], 1), "µm"),
    ]


def thous(um: float) -> str:
    """A length in thousandths of an inch."""
    return in_or_mm(exact(um), "inch", 2)


def _half_nut(results: Mapping[str, Any]) -> list[Fact]:
    turns = plural(results["half_nut_turns"], "turn")
    travel = f"of the screw, {fixed(results['half_nut_every_mm'], 2)} mm of travel"
    return [fact("The half nut falls in again after", turns, travel)]


def tables(case: Case) -> list[Table]:
    """The trains, exact or nearest."""
    results = case.results
    heads = ("Train", "#Pitch, mm", "#Out, %", "#thou in 1 in", "#µm in 25 mm", "Clears")
    return [
        trains_table(
            results, heads,
            lambda row: [
                fixed(row["pitch_mm"], 5), fixed(row["error_percent"], 4), thous(row["error_over_inch_um"]),
                fixed(row["error_over_25_um"], 1),
            ],
        )
    ]  # fmt: skip


def trains_table(results: Mapping[str, Any], heads: Sequence[str], cells: Any) -> Table:
    """A row to a train; how many there are of which so many are listed."""
    listed = results["exact_trains"]
    note = "Drivers first. “May foul”: a wheel comes within 15 teeth of the shaft beside it."
    if listed and results["exact_trains_count"] > len(listed):
        note = f"The first {len(listed)} of {results['exact_trains_count']} that are exact. {note}"
    rows: list[Row] = [
        {
            "id": "", "is_chosen": False,
            "cells": [row_text(row), *cells(row), "yes" if row["clears"] else FOULS],
        }
        for row in listed or results["nearest_trains"]
    ]  # fmt: skip
    return {
        "key": "exact" if listed else "nearest", "title": "Exact trains" if listed else "Nearest trains",
        "note": note, "columns": columns(*heads), "rows": rows, "may_choose": False,
    }  # fmt: skip


def train_picture(row: Mapping[str, Any], first: str, last: str) -> Picture:
    """The train drawn, from the shaft that drives to the one that is driven."""
    return {
        "kind": "gear-train",
        "figures": {
            "drivers": list(row["drivers"]), "driven": list(row["driven"]), "first": first, "last": last,
        },
        "strong": row_text(row),
        "text": f"from {first} to {last}; drivers hatched, drawn to scale by their teeth",
        "wide": False,
    }  # fmt: skip
