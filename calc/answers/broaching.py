"""How the answer of `broaching` is shown: the passes in order, the bore with its keyway after each."""

from collections.abc import Mapping
from typing import Any

from calc.answers.shapes import (
    WHY,
    Answer,
    Case,
    Row,
    Table,
    both,
    columns,
    empty_answer,
    fact,
    size_line,
    unit_word,
    units_word,
)
from calc.catalogue.broaching import key_text, subject, unit_of
from calc.kernel.units import Unit, turned
from calc.kernel.wording import decimal_text, exact
from calc.measures import MILLIMETRES
from calc.sheets import Picture, SizeTable

UNDER = "Across the bore after the last pass, from the bottom of the keyway to the side opposite."
NOTE = "Measure across the bore after each pass, before the next stack goes in."
WEIGHTY = {
    "cuts-too-deep": "The broach cuts too deep",
    "not-deep-enough": "The owned shims do not come to the depth",
    "looks-like-side-depth": "Is this the depth at the wall?",
    "at-the-press": "At the press",
}


def answer(case: Case) -> Answer:
    """The box, the section after each pass, and the sizes wanted by every datum."""
    results, unit = case.results, _unit(case)
    passes = results["passes"]
    big, small = both(exact(results["final_across_mm"]), unit, 3, 2)
    many = "1 pass" if len(passes) == 1 else f"{len(passes)} passes"
    shown = empty_answer(
        subject(dict(case.inputs)),
        f"{many}, to {big}",
        UNDER,
        [
            fact("Key", key_text(case.inputs)),
            fact("Last stack of shims", _stack(passes[-1], unit), unit_word(unit)),
            fact("Wanted across the bore", turned(results["hub_over_work_mm"], unit), unit_word(unit)),
            fact("At most", turned(results["hub_over_work_max_mm"], unit), unit_word(unit)),
        ],
    )
    shown["big_small"] = small
    shown["beware"] = [
        {"title": WEIGHTY[one["code"]], "text": one["text"]}
        for one in case.warnings
        if one["code"] in WEIGHTY
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in WEIGHTY]
    shown["pictures"] = [_picture(case, unit)]
    shown["sizes"] = _sizes(case, unit)
    shown["units"] = units_word(unit)
    shown["why"] = WHY
    return shown


def tables(case: Case) -> list[Table]:
    """The passes one by one."""
    unit = _unit(case)
    return [
        {
            "key": "passes",
            "title": "Passes in order",
            "note": NOTE,
            "columns": columns(
                "#Pass",
                "#Stack",
                "Shims in it",
                "#From the top of the bore",
                f"#Across the bore, {unit_word(unit)}",
            ),
            "rows": [_row(row, unit) for row in case.results["passes"]],
            "may_choose": False,
        }
    ]


def _row(row: Mapping[str, Any], unit: Unit) -> Row:
    cells = [
        str(row["pass"]),
        _stack(row, unit),
        shims_text(row, unit) or "—",
        turned(row["depth_mm"], unit),
        turned(row["across_mm"], unit),
    ]
    return {"id": f"passes-{row['pass']}", "cells": cells, "is_chosen": False}


def shims_text(row: Mapping[str, Any], unit: Unit) -> str:
    """The pieces of a stack: "0.045 + 0.02"; empty for none."""
    return " + ".join(_plain(piece, unit) for piece in row["shims"])


def _sizes(case: Case, unit: Unit) -> SizeTable:
    """The keyway by every datum: as wanted, and as the passes leave it."""
    results = case.results
    crown, rise = exact(case.inputs["hub_crown_depth"]), exact(results["chord_rise_mm"])
    final = exact(results["final_depth_mm"])
    rows = (
        ("Depth from the crown of the bore", crown, final, False),
        ("Depth at the wall", crown + rise, final + rise, False),
        ("Across the bore", results["hub_over_work_mm"], results["final_across_mm"], True),
    )
    return {
        "title": "Keyway in the hub",
        "note": units_word(unit),
        "columns": ["Wanted", "After the last pass"],
        "lines": [
            size_line(label, [turned(one, unit), turned(other, unit)], finished=finished)
            for label, one, other, finished in rows
        ],
    }


def _stack(row: Mapping[str, Any], unit: Unit) -> str:
    return turned(row["shim_mm"], unit) if row["shims"] else "no shim"


def _unit(case: Case) -> Unit:
    return "mm" if unit_of(case.inputs) == 1 else "inch"


def _plain(mm: Any, unit: Unit) -> str:
    """The thickness of a shim with all its places, to a tenth of a thousandth of an inch."""
    return decimal_text(exact(mm) / (MILLIMETRES["in"] if unit == "inch" else 1), 4)


def _picture(case: Case, unit: Unit) -> Picture:
    results = case.results
    return {
        "kind": "broach-passes",
        "figures": {
            "bore": float(case.inputs["bore"]),
            "key_width": float(case.inputs["key_width"]),
            "depths": [row["depth_mm"] for row in results["passes"]],
            "unit": unit,
        },
        "strong": "Hub after each pass",
        "text": f"{key_text(case.inputs)} key, each pass with its size across the bore; drawn to scale",
        "wide": False,
    }
