"""What a kept tapping drill puts on a work card: the drill, what it leaves, the core."""

from calc.answers.card_shapes import CardSum, Shown, Typed
from calc.answers.card_thread import ASKS, KIND, ROLE, WORDS, core, drill, engagement, length, tapped, unit_of
from calc.models import CalculationRecord

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept tapping drill: the drill in hand, or the one nearest to the hole."""
    results, shown = record.results, Shown(unit_of(record), typed.is_mixed)
    in_hand = record.inputs.get("drill")
    name = in_hand or results["nearest_drill"]
    rows = [*results["smaller_drills"], *results["larger_drills"]]
    near = next((row for row in rows if row["drill"] == name), None)
    size = near["drill_mm"] if near else results["drill_exact_mm"]
    percent = results["engagement_percent"] if in_hand or not near else near["engagement_percent"]
    figures = [
        drill("Tapping drill in hand" if in_hand else "Tapping drill", name, size, 75),
        engagement(percent, results["engagement_base"]),
        core(results["minor_diameter_mm"], shown),
    ]
    if not in_hand:
        figures.append(length("Hole wanted", results["drill_exact_mm"], shown, 77))
    return tapped(record, shown, figures, [])
