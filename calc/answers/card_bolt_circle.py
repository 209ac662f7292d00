"""What a kept bolt circle puts on a work card: a row to a hole, to be ticked, and two checks."""

from calc.answers.card_shapes import TURNING_CAUTION, Asked, CardSum, Role, Shown, Typed, case_of, picture_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.kernel.units import Unit
from calc.models import CalculationRecord
from calc.sheets import TickTable

KIND = "bolt-circle"
WORDS = "a bolt circle"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset()


def unit_of(record: CalculationRecord) -> Unit:
    return shown_unit(case_of(record), "diameter")


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept bolt circle."""
    results, shown = record.results, Shown(unit_of(record), typed.is_mixed)
    holes, circle = record.inputs["holes"], shown.size(record.inputs["diameter"])
    made = empty_share(KIND, f"{holes} holes", f"Drill {holes} holes on {circle}", ROLE)
    chord, across = (shown.fine(results[f"{name}_mm"]) for name in ("chord", "across"))
    far = f"1 to {results['across_hole']}"
    made |= {
        "figures": [
            {"label": "Circle, through the centres", "value": circle, "unit": shown.beside(), "rank": 79},
            {"label": "Chord, hole to hole", "value": chord, "unit": shown.beside("centres"), "rank": 79},
        ],
        "notes": [
            {
                "strong": "x to the right, y up from the datum.",
                "text": "Take up the play one way for every hole.",
            }
        ],
        "picture": picture_of(record, "bolt-circle"),
        "tables": [_table(record, shown)],
        "stops": "after a hole",
        "sizes": [
            {"wanted": shown.wanted(chord), "note": "hole to hole, centres"},
            {"wanted": shown.wanted(across), "note": f"hole {far}, centres"},
        ],
        "units": shown.word,
        "cautions": [TURNING_CAUTION],
    }
    return made


def _table(record: CalculationRecord, shown: Shown) -> TickTable:
    unit = f", {shown.beside()}" if shown.is_marked else ""
    return {
        "title": f"Holes from the datum{unit}",
        "columns": ["Hole", "x", "y"],
        "rows": [
            [str(row["hole"]), *(shown.fine(row[f"{axis}_mm"]).replace("-", "−") for axis in "xy")]
            for row in record.results["coordinates"]
        ],
        "reached": "",
    }
