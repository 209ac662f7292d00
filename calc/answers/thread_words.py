"""How sizes, drills and shares of a thread are written in answers: shared by the sums on threads."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.shapes import Fact, Row, Table, both, columns, fact, size_line, unit_word
from calc.catalogue.thread import percent_text
from calc.kernel.threads import Thread
from calc.kernel.threads_names import thread_named
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact
from calc.sheets import Picture, SizeTable

#: What is known of a drill by the word its table has for it.
ORIGINS = {"read": "read in a table", "memory": "from memory", "derived": "worked out"}


def thread_of(inputs: Mapping[str, Any]) -> Thread:
    """The thread a sum was asked about."""
    return thread_named(inputs["thread"])


def unit_of(thread: Thread) -> Unit:
    """The unit a thread is worked in: inches for the inch series, millimetres for BA, BSP and metric."""
    return "mm" if thread.unit == 1 else "inch"


def drill_words(name: str, mm: Any) -> tuple[str, str]:
    """A drill as it is asked for, and its size in both units where the name does not tell it."""
    inches, metric = both(exact(mm), "inch", 4, 3)
    if name.endswith(" mm") and " or " not in name:
        return name, inches
    return (name, metric) if name.endswith(" in") else (name, f"{inches}, {metric}")


def size_fact(label: str, mm: Any, unit: Unit, note: str = "") -> Fact:
    """A length in the unit wanted, the other after it: ``0.2007`` ``in, 5.099 mm``."""
    main, other = both(exact(mm), unit, 4, 3)
    figure, _, word = main.rpartition(" ")
    return fact(label, figure, f"{word}, {other}{note}")


def drill_fact(label: str, name: str, mm: Any) -> Fact:
    """A drill with its size."""
    name, size = drill_words(name, mm)
    return fact(label, name, f"= {size}")


def over_words(thread: Thread) -> str:
    """The thread with its pitch and its angle: ``1/4 BSF, 26 threads to the inch, 55°``."""
    angle = f"{float(thread.form.angle_deg):g}°"
    if thread.tpi is None:
        return f"{thread.name}, pitch {float(thread.pitch):g} mm, {angle}"
    return f"{thread.name}, {float(thread.tpi):g} threads to the inch, {angle}"


def base_words(results: Mapping[str, Any]) -> str:
    """What the share is of, and the other base beside it: ``92.4 % of 1.0825 pitches, 77.0 % of 1.2990``."""
    share = percent_text(results["engagement_percent"])
    words = f"{share} of the full thread, counted as {results['engagement_base']} pitches on the diameter"
    if results["engagement_other_base"] is None:
        return words
    other = percent_text(results["engagement_other_percent"])
    return f"{words}; {other} counted as {results['engagement_other_base']}"


def picture(thread: Thread, drill: str, drill_mm: Any, percent: Any) -> Picture:
    """The form with the line of the drill."""
    radius = thread.form.radius
    return {
        "kind": "thread-form",
        "figures": {
            "thread": thread.name,
            "major": float(thread.major),
            "core": float(thread.core),
            "pitch": float(thread.pitch),
            "angle": float(thread.form.angle_deg),
            "radius": 0.0 if radius is None else float(radius * thread.pitch),
            "drill": float(drill_mm),
            "drill_name": drill,
            "percent": percent_text(percent),
            "unit": unit_of(thread),
        },
        "strong": f"Thread of {thread.name} in the nut",
        "text": "dashed, what the drill takes; drawn to scale",
        "wide": True,
        "hatches": ["st"],
    }


def sizes(thread: Thread) -> SizeTable:
    """The diameters, the pitch and the depth in both units, the thread's own first."""
    units: list[Unit] = ["inch", "mm"] if unit_of(thread) == "inch" else ["mm", "inch"]
    rows = [("Over the thread", thread.major), ("Pitch diameter", thread.pitch_diameter)]
    if thread.form.radius is None:
        rows += [("Core of the nut", thread.core), ("Root of the screw", thread.root)]
    else:
        rows.append(("Core", thread.core))
    rows += [("Pitch", thread.pitch), ("Depth of the screw’s thread", thread.depth)]
    return {
        "title": "Sizes",
        "note": "basic sizes, without limits",
        "columns": [unit_word(unit) for unit in units],
        "lines": [
            size_line(label, [in_or_mm(mm, unit, _places(unit)) for unit in units]) for label, mm in rows
        ],
    }


def _places(unit: Unit) -> int:
    return 4 if unit == "inch" else 3


def drill_table(key: str, title: str, note: str, rows: Sequence[Mapping[str, Any]]) -> Table:
    """Drills with their sizes and what each leaves."""
    has_other = any(row["engagement_other_percent"] is not None for row in rows)
    heads = ["Drill", "#in", "#mm", "#leaves"] + (["#on the other base"] if has_other else [])
    has_origin = any(row.get("origin") for row in rows)
    return {
        "key": key,
        "title": title,
        "note": note,
        "columns": columns(*heads, *(["for", "how known"] if has_origin else [])),
        "rows": [_drill_row(f"{key}-{place}", row, has_other, has_origin) for place, row in enumerate(rows)],
        "may_choose": False,
    }


def _drill_row(name: str, row: Mapping[str, Any], has_other: bool, has_origin: bool) -> Row:
    size = exact(row["drill_mm"])
    cells = [row["drill"], in_or_mm(size, "inch", 4), in_or_mm(size, "mm", 3)]
    cells.append(percent_text(row["engagement_percent"]))
    if has_other:
        cells.append(percent_text(row["engagement_other_percent"]))
    if has_origin:
        cells += [row["use"] or "—", ORIGINS.get(row["origin"], row["origin"])]
    return {"id": name, "cells": cells, "is_chosen": False}
