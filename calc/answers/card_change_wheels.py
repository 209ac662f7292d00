"""What kept change wheels put on a work card: the train, what it cuts, where the half nut falls in."""

from collections.abc import Mapping
from typing import Any

from calc.answers.card_shapes import TRAIN_CAUTION, Asked, CardSum, Role, Shown, Typed, case_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.kernel.trains import Train, train_words
from calc.kernel.units import Unit
from calc.kernel.wording import decimal_text, exact, fixed, mixed_text
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say

KIND = "change-wheels"
WORDS = "change wheels"
ROLE: Role = "setting"
ASKS: frozenset[Asked] = frozenset()


def unit_of(record: CalculationRecord) -> Unit:
    """Threads to the inch are of an inch thread; a pitch is in the unit it was typed in."""
    if record.inputs["threads_per_inch"] is not None:
        return "inch"
    return shown_unit(case_of(record), "pitch")


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of kept change wheels."""
    shown, results = Shown(unit_of(record), typed.is_mixed), record.results
    thread = _thread(record.inputs)
    made = empty_share(KIND, "change wheels", f"Set the change wheels for {thread}", ROLE)
    row = train_in_use(results)
    made |= {
        "figures": [
            *train_figures(row, "spindle"),
            *([] if row is None else [_cut(row, shown)]),
            {
                "label": "Half nut falls in every",
                "value": shown.size(results["half_nut_every_mm"]),
                "unit": shown.beside("of travel"),
                "rank": 68,
            },
        ],
        "notes": _notes(results, row, shown),
        "stops": "end of a cut, lathe stopped",
        "units": shown.word,
        "cautions": [TRAIN_CAUTION],
    }
    return made


def _thread(inputs: Mapping[str, Any]) -> str:
    """The thread as it was asked for: "20 to the inch", "1.5 mm pitch"."""
    per_inch = inputs["threads_per_inch"]
    if per_inch is not None:
        return f"{mixed_text(exact(per_inch))} to the inch"
    return f"{decimal_text(exact(inputs['pitch']), 4)} mm pitch"


def train_in_use(results: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """The first that is exact, else the nearest; None where the wheels owned make neither."""
    return next(iter([*results["exact_trains"], *results["nearest_trains"]]), None)


def train_figures(row: Mapping[str, Any] | None, first: str) -> list[BigFigure]:
    """The pairs in the order they are put on; a rule to write on where there is no train."""
    words = train_words(Train(tuple(row["drivers"]), tuple(row["driven"]))) if row else ""
    label = f"Wheels, driving and driven, from the {first}"
    return [{"label": label, "value": words, "wide": True, "rank": 22}]


def _cut(row: Mapping[str, Any], shown: Shown) -> BigFigure:
    return {
        "label": "Pitch it cuts",
        "value": shown.fine(row["pitch_mm"]),
        "unit": shown.beside(),
        "rank": 23,
    }


def _notes(results: Mapping[str, Any], row: Mapping[str, Any] | None, shown: Shown) -> list[Say]:
    """By how much the nearest misses, and when the half nut may not be opened."""
    notes: list[Say] = []
    if row is None:
        notes.append({"strong": "No train of the wheels owned cuts it.", "text": "See the sum."})
    elif not results["exact_trains"]:
        over = "error_over_inch_um" if shown.unit == "inch" else "error_over_25_um"
        length = "an inch" if shown.unit == "inch" else "25 mm"
        by, way = exact(abs(row[over])), "long" if row[over] > 0 else "short"
        notes.append({"strong": f"Not exact: {fixed(by, 1)} µm {way} over {length}.", "text": ""})
    if results["half_nut_turns"] > 1:
        notes.append(
            {"strong": "Keep the half nut in, and run the lathe back.", "text": "Scratch first, and measure."}
        )
    return notes
