"""What a kept sum of a thread puts on a work card: tapping drill, core, engagement, clearance drill."""

from collections.abc import Mapping
from typing import Any

from calc.answers.card_shapes import (
    TURNING_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    stopped_by,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.thread import BEWARE
from calc.answers.thread_words import drill_words, thread_of
from calc.answers.thread_words import unit_of as unit_of_thread
from calc.catalogue.thread import percent_text
from calc.kernel.units import Unit
from calc.kernel.wording import exact, fixed
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say

KIND = "thread"
WORDS = "a thread"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset()
#: Look-alikes that a card names; the sum has them all.
MOST_ALIKE = 4


def unit_of(record: CalculationRecord) -> Unit:
    """Inches for the inch series, millimetres for BA, BSP and metric."""
    return unit_of_thread(thread_of(record.inputs))


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept thread."""
    results, shown = record.results, Shown(unit_of(record), typed.is_mixed)
    figures = [
        drill("Tapping drill", results["tapping_drill"], results["tapping_drill_mm"], 75),
        engagement(results["engagement_percent"], results["engagement_base"]),
        length("Over the thread", results["major_diameter_mm"], shown, 77),
        core(results["minor_diameter_mm"], shown),
        _pitch(record),
    ]
    if results["clearance_drill"] is not None:
        figures.append(
            drill("Clearance drill", results["clearance_drill"], results["clearance_drill_mm"], 78)
        )
    return tapped(record, shown, figures, [*_alike(results["look_alikes"])])


def tapped(record: CalculationRecord, shown: Shown, figures: list[BigFigure], notes: list[Say]) -> CardSum:
    """The share of a hole that is tapped, whichever sum it comes from."""
    name = thread_of(record.inputs).name
    made = empty_share(KIND, f"thread {name}", f"Drill and tap {name}", ROLE)
    minor = record.results["minor_diameter_mm"]
    made |= {
        "figures": figures,
        "notes": [*stopped_by(record, BEWARE, but="look-alike"), *notes],
        "stops": "hole drilled",
        "sizes": [{"wanted": f"over {shown.wanted(shown.fine(minor))}", "note": f"hole for {name}"}],
        "units": shown.word,
        "cautions": [TURNING_CAUTION],
    }
    return made


def drill(label: str, name: str, mm: Any, rank: int) -> BigFigure:
    """A drill as it is asked for, and the size that its name does not tell."""
    value, size = drill_words(name, mm)
    return {"label": label, "value": value, "unit": size, "rank": rank}


def length(label: str, mm: Any, shown: Shown, rank: int) -> BigFigure:
    return {"label": label, "value": shown.fine(mm), "unit": shown.beside(), "rank": rank}


def core(mm: Any, shown: Shown) -> BigFigure:
    return length("Core, never drilled below", mm, shown, 77)


def engagement(percent: Any, base: str) -> BigFigure:
    return {
        "label": "Of the full thread it leaves",
        "value": percent_text(percent),
        "unit": f"of {fixed(exact(base), 3).rstrip('0')} pitches",
        "rank": 76,
    }


def _pitch(record: CalculationRecord) -> BigFigure:
    results = record.results
    if results["threads_per_inch"] is not None:
        value, unit = f"{results['threads_per_inch']:g}", "to the inch"
    else:
        value, unit = fixed(results["pitch_mm"], 3).rstrip("0").rstrip("."), "mm"
    angle = f"{results['flank_angle_deg']:g}°"
    return {"label": f"Pitch, {angle} thread", "value": value, "unit": unit, "rank": 77}


def _alike(rows: list[Mapping[str, Any]]) -> list[Say]:
    """The threads that start in or on it by hand, for the tap to be looked at twice."""
    names = [row["thread"] for row in rows if not row["is_same"]]
    if not names:
        return []
    more = " and others" if len(names) > MOST_ALIKE else ""
    text = f"by hand they start as well: {', '.join(names[:MOST_ALIKE])}{more}."
    return [{"strong": "Read what is on the tap:", "text": text}]
