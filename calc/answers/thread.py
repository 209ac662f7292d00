"""How the answer of `thread` is shown: the tapping drill, the form with its line, sizes, look-alikes."""

from collections.abc import Mapping
from typing import Any

from calc.answers.shapes import Answer, Beware, Case, Fact, Row, Table, columns, empty_answer
from calc.answers.thread_words import (
    base_words,
    drill_fact,
    drill_table,
    drill_words,
    over_words,
    picture,
    size_fact,
    sizes,
    thread_of,
    unit_of,
)
from calc.catalogue.thread import percent_text
from calc.kernel.threads import Thread
from calc.kernel.wording import exact, fixed
from calc.kernel.working import COMMON

#: Warnings that stand before the answer is used, with their headings.
BEWARE = {
    "drill-below-core": "A drill printed for it is below the core",
    "size-is-bore": "Its size is a bore, not a diameter",
    "look-alike": "It has look-alikes",
}


def answer(case: Case) -> Answer:
    """The box, the picture and the sizes."""
    thread, results = thread_of(case.inputs), case.results
    name, size = drill_words(results["tapping_drill"], results["tapping_drill_mm"])
    shown = empty_answer(
        f"{over_words(thread)}: tapping drill",
        f"Drill {name}",
        f"It leaves {base_words(results)}.",
        _facts(thread, case),
    )
    shown["big_small"] = size
    shown["beware"] = beware(case)
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in BEWARE]
    shown["pictures"] = [picture(thread, name, results["tapping_drill_mm"], results["engagement_percent"])]
    shown["sizes"] = sizes(thread)
    shown["units"] = "inches" if unit_of(thread) == "inch" else "millimetres"
    return shown


def beware(case: Case) -> list[Beware]:
    """What must be known before anything is drilled, in order of weight."""
    return [
        {"title": title, "text": one["text"]}
        for code, title in BEWARE.items()
        for one in case.warnings
        if one["code"] == code
    ]


def _facts(thread: Thread, case: Case) -> list[Fact]:
    results, unit = case.results, unit_of(thread)
    facts = [
        size_fact("Over the thread", results["major_diameter_mm"], unit),
        size_fact("Core", results["minor_diameter_mm"], unit),
        size_fact("Pitch", results["pitch_mm"], unit),
    ]
    if results["clearance_drill"] is not None:
        facts.append(drill_fact("Clearance drill", results["clearance_drill"], results["clearance_drill_mm"]))
    if results["spanner_mm"] is not None:
        facts.append(size_fact("Across the flats", results["spanner_mm"], unit, "; from memory, measure"))
    return facts


def tables(case: Case) -> list[Table]:
    """Every tapping drill there is for it, and the threads it may be taken for."""
    note = "The first is in use. None below the core is offered."
    found = [drill_table("drills", "Tapping drills", note, case.results["tapping_drills"])]
    alike = case.results["look_alikes"]
    if alike:
        found.append(
            {
                "key": "alike",
                "title": "Look-alikes",
                "note": "Within 6 % over the thread; one starts in or on the other by hand.",
                "columns": columns("Thread", "#over, mm", "#pitch, mm", "#angle", "#apart", "how known"),
                "rows": [_alike_row(place, row) for place, row in enumerate(alike)],
                "may_choose": False,
            }
        )
    return found


def _alike_row(place: int, row: Mapping[str, Any]) -> Row:
    cells = [
        row["thread"],
        fixed(exact(row["major_diameter_mm"]), 3),
        fixed(exact(row["pitch_mm"]), 3),
        f"{row['flank_angle_deg']:g}°",
        "the same thread" if row["is_same"] else percent_text(row["apart_percent"]),
        COMMON if row["origin"] == COMMON else f"{row['origin']}",
    ]
    return {"id": f"alike-{place}", "cells": cells, "is_chosen": False}
