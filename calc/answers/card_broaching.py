"""What a kept sum of broaching puts on a work card: the passes with their shims, to be ticked in order."""

from collections.abc import Mapping
from typing import Any

from calc.answers.broaching import WEIGHTY, shims_text
from calc.answers.card_shapes import (
    BROACH_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    picture_of,
    stopped_by,
)
from calc.answers.card_shapes import share as empty_share
from calc.catalogue import broaching
from calc.kernel.units import Unit
from calc.models import CalculationRecord
from calc.sheets import Say, TickTable

KIND = "broaching"
WORDS = "broaching"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset()
#: Pieces of a stack that are named one by one.
MOST_PIECES = 3
#: The usual way at the press. common practice, no source
AT_THE_PRESS: Say = {
    "strong": "Start, release, let it square itself, push.",
    "text": "Oil it; clear the chips and measure after each pass.",
}


def unit_of(record: CalculationRecord) -> Unit:
    """The unit its key is named in."""
    return "mm" if broaching.unit_of(record.inputs) == 1 else "inch"


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept broaching."""
    results, shown = record.results, Shown(unit_of(record), typed.is_mixed)
    passes = results["passes"]
    made = empty_share(
        KIND, "broaching", f"Broach the keyway for a {broaching.key_text(record.inputs)} key", ROLE
    )
    wanted = [shown.size(results[f"hub_over_work{end}_mm"]) for end in ("", "_max")]
    made |= {
        "rounds": "one pass" if len(passes) == 1 else f"{len(passes)} passes",
        "figures": [
            {
                "label": "Bore as measured",
                "value": shown.size(record.inputs["bore"]),
                "unit": shown.beside(),
                "rank": 79,
            },
            {
                "label": "Across the bore, wanted",
                "value": wanted[0],
                "unit": shown.beside(),
                "rank": 83,
            },
        ],
        "notes": [*stopped_by(record, WEIGHTY, but="at-the-press"), AT_THE_PRESS],
        "picture": picture_of(record, "broach-passes"),
        "tables": [_table(passes, shown)],
        "stops": "after a pass, measured",
        "sizes": [{"wanted": shown.wanted("–".join(dict.fromkeys(wanted))), "note": "across, last pass"}],
        "units": shown.word,
        "cautions": [BROACH_CAUTION],
    }
    return made


def _table(passes: list[dict[str, Any]], shown: Shown) -> TickTable:
    unit = f", {shown.beside()}" if shown.is_marked else ""
    return {
        "title": f"Passes of the broach{unit}",
        "columns": ["Pass", "Shims", "From the top", "Across"],
        "rows": [
            [
                str(row["pass"]),
                _shims(row, shown),
                shown.size(row["depth_mm"]),
                shown.size(row["across_mm"]),
            ]
            for row in passes
        ],
        "reached": "Reached",
    }


def _shims(row: Mapping[str, Any], shown: Shown) -> str:
    """The pieces of a stack, or their sum where a row does not hold them."""
    count = len(row["shims"])
    if count > MOST_PIECES:
        return f"{shown.fine(row['shim_mm'])}, {count} pieces"
    return shims_text(row, shown.unit) or "none"
