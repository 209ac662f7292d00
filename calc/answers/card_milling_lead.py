"""What a kept milling lead puts on a work card: the train from table to head, the lead, the helix."""

from collections.abc import Mapping
from typing import Any

from calc.answers.card_change_wheels import train_figures, train_in_use
from calc.answers.card_shapes import TRAIN_CAUTION, Asked, CardSum, Role, Shown, Typed, case_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.kernel.units import Unit
from calc.kernel.wording import dms_text, exact, fixed
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say

KIND = "milling-lead"
WORDS = "a milling lead"
ROLE: Role = "setting"
ASKS: frozenset[Asked] = frozenset()


def unit_of(record: CalculationRecord) -> Unit:
    return shown_unit(case_of(record), "lead")


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept milling lead."""
    shown, results = Shown(unit_of(record), typed.is_mixed), record.results
    lead, row = shown.size(record.inputs["lead"]), train_in_use(results)
    made = empty_share(KIND, f"lead {lead}", f"Set the gears for a lead of {lead}", ROLE)
    figures = train_figures(row, "table’s screw")
    if row:
        figures.append(
            {
                "label": "Lead these gears give",
                "value": shown.size(row["lead_mm"]),
                "unit": shown.beside(),
                "rank": 23,
            }
        )
    made |= {
        "figures": [*figures, *_helix(results)],
        "notes": _notes(results, row),
        "stops": "end of a cut",
        "units": shown.word,
        "cautions": [TRAIN_CAUTION],
    }
    return made


def _helix(results: Mapping[str, Any]) -> list[BigFigure]:
    if results["helix_angle_deg"] is None:
        return []
    angle = dms_text(exact(results["helix_angle_deg"]), 0)
    return [{"label": "Table swivelled to", "value": angle, "rank": 23}]


def _notes(results: Mapping[str, Any], row: Mapping[str, Any] | None) -> list[Say]:
    """By how much the nearest misses, and that an idler changes the hand."""
    hand: Say = {"strong": "Try the hand clear of the cutter:", "text": "an idler more or less turns it."}
    if row is None:
        return [{"strong": "No train of the gears owned gives it.", "text": "See the sum."}, hand]
    if results["exact_trains"]:
        return [hand]
    by = fixed(abs(exact(row["error_percent"])), 3)
    way = "long" if row["lead_error_mm"] > 0 else "short"
    return [{"strong": f"Not exact: the lead is {by} % {way}.", "text": "Cut the mate by it too."}, hand]
