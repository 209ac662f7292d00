"""What a kept spindle speed puts on a work card: turns a minute to set, the feed, how long a cut takes."""

from calc.answers.card_shapes import TURNING_CAUTION, Asked, CardSum, Role, Shown, Typed, case_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.kernel.units import Unit
from calc.kernel.wording import fixed
from calc.models import CalculationRecord
from calc.sheets import BigFigure

KIND = "spindle-speed"
WORDS = "a spindle speed"
ROLE: Role = "setting"
ASKS: frozenset[Asked] = frozenset()


def unit_of(record: CalculationRecord) -> Unit | None:
    """Only a feed is a length on the card."""
    return shown_unit(case_of(record), "feed") if record.inputs.get("feed") else None


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept spindle speed."""
    results, unit = record.results, unit_of(record)
    step = results["nearest_rpm"]
    turns = fixed(results["spindle_speed_rpm"], 0) if step is None else f"{step:g}"
    made = empty_share(KIND, "spindle speed", f"Run at {turns} turns a minute", ROLE)
    figures: list[BigFigure] = [
        {"label": "Spindle set to", "value": turns, "unit": "turns a minute", "rank": 64}
    ]
    if unit:
        shown = Shown(unit, typed.is_mixed)
        feed = shown.fine(record.inputs["feed"])
        figures.append({"label": "Feed", "value": feed, "unit": shown.beside("a turn"), "rank": 65})
    if results["time_min"] is not None:
        time = fixed(results["time_min"], 1)
        figures.append({"label": "One cut takes", "value": time, "unit": "minutes", "rank": 65})
    made |= {
        "figures": figures,
        "units": Shown(unit).word if unit else "",
        "cautions": [TURNING_CAUTION],
    }
    return made
