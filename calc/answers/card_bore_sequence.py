"""What a kept bore sequence puts on a work card: the drills in order, to be ticked, and what is left."""

from calc.answers.card_shapes import (
    TURNING_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    case_of,
    codes_of,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.catalogue.bore_sequence import REAMER_WORDS
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact
from calc.models import CalculationRecord
from calc.sheets import Say, TickTable

KIND = "bore-sequence"
WORDS = "a bore sequence"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset()
#: Drills are told in both, to the places they are read to.
UNITS: tuple[tuple[Unit, int], ...] = (("inch", 4), ("mm", 3))


def unit_of(record: CalculationRecord) -> Unit:
    return shown_unit(case_of(record), "finished_bore")


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept bore sequence."""
    results, shown = record.results, Shown(unit_of(record), typed.is_mixed)
    bore, is_reamed = shown.fine(record.inputs["finished_bore"]), record.inputs["reamer"] != "none"
    made = empty_share(
        KIND, f"bore {bore}", f"Drill {'and ream' if is_reamed else 'for boring'} {bore}", ROLE
    )
    made |= {
        "figures": [
            {"label": "Bore finished to", "value": bore, "unit": shown.beside(), "rank": 66},
            {
                "label": f"Left for {'the reamer' if is_reamed else 'boring'}",
                "value": shown.fine(results["stock_left_mm"]),
                "unit": shown.beside("on the diameter"),
                "rank": 66,
            },
        ],
        "notes": _notes(record),
        "tables": [_table(record)],
        "stops": "between drills",
        "sizes": [
            {"wanted": shown.wanted(shown.fine(results["hole_mm"])), "note": "hole drilled, about"},
            {"wanted": shown.wanted(bore), "note": "bore finished"},
        ],
        "units": shown.word,
        "cautions": [TURNING_CAUTION],
    }
    return made


def _table(record: CalculationRecord) -> TickTable:
    """The drills from the first to the last, then the reamer or the boring tool."""
    reamer = record.inputs["reamer"]
    last = "Bore" if reamer == "none" else REAMER_WORDS[reamer].capitalize()
    tools = [(f"Drill {row['drill']}", row["drill_mm"]) for row in record.results["drills"]]
    tools.append((last, record.inputs["finished_bore"]))
    return {
        "title": "In order",
        "columns": ["Tool", "in", "mm"],
        "rows": [
            [tool, *(in_or_mm(exact(mm), unit, places) for unit, places in UNITS)] for tool, mm in tools
        ],
        "reached": "Speed",
    }


def _notes(record: CalculationRecord) -> list[Say]:
    if "too-much-left" not in codes_of(record):
        return []
    return [
        {"strong": "More is left than a reamer should take.", "text": "Bore it nearer first. See the sum."}
    ]
