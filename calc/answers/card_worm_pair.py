"""What a kept sum of a worm and its wheel puts on a work card: lead, depth, both blanks, centres."""

from calc.answers.card_shapes import (
    CUTTER_CAUTION,
    TURNING_BESIDE,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    angle_figure,
    picture_of,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.card_teeth import depth_system
from calc.kernel.units import Unit
from calc.kernel.worm_pair_sizes import worm_in_inches
from calc.models import CalculationRecord
from calc.sheets import BigFigure

KIND = "worm-pair"
WORDS = "a worm and its wheel"
ROLE: Role = "gear"
ASKS: frozenset[Asked] = frozenset()


def unit_of(record: CalculationRecord) -> Unit:
    return "inch" if worm_in_inches(record.inputs) else "mm"


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept worm pair: figures of both, the wheel's teeth to divide by."""
    inputs, results = record.inputs, record.results
    shown, teeth = Shown(unit_of(record), typed.is_mixed), int(inputs["wheel_teeth"])
    starts = f"{inputs['starts']} start{'' if inputs['starts'] == 1 else 's'}"
    made = empty_share(
        KIND, f"{teeth} teeth of a worm wheel", f"Worm of {starts}, wheel of {teeth} teeth", ROLE
    )
    made |= {
        "count": teeth,
        "figures": _figures(record, shown, starts),
        "picture": picture_of(record, "worm-pair"),
        "stops": "after a cut, measured",
        "sizes": [
            {"wanted": shown.wanted(shown.size(results[f"{name}_mm"])), "note": note}
            for name, note in (
                ("worm_outside_diameter", "worm, outside"),
                ("throat_diameter", "wheel, throat"),
                ("centre_distance", "centres"),
            )
        ],
        "units": shown.word,
        "cautions": [CUTTER_CAUTION, TURNING_BESIDE],
    }
    return made


def _figures(record: CalculationRecord, shown: Shown, starts: str) -> list[BigFigure]:
    results = record.results
    lengths = (
        (f"Worm, lead, {starts}", shown.fine(results["lead_mm"]), 30),
        (f"Depth, {depth_system(record)} system", shown.depth(results["whole_depth_mm"]), 40),
        ("Worm, over the threads", shown.size(results["worm_outside_diameter_mm"]), 60),
        ("Wheel, throat diameter", shown.size(results["throat_diameter_mm"]), 61),
        ("Wheel, radius of the throat", shown.size(results["throat_radius_mm"]), 62),
        ("Centres", shown.size(results["centre_distance_mm"]), 64),
    )
    figures: list[BigFigure] = [
        {"label": label, "value": value, "unit": shown.beside(), "rank": rank}
        for label, value, rank in lengths
    ]
    return [*figures, angle_figure("Wheel gashed at, lead angle", results["lead_angle_deg"], 63)]
