"""What a kept sum of a bevel differential puts on a work card: where each gear is mounted."""

from calc.answers.card_shapes import Asked, CardSum, Role, Shown, Typed, angle_figure, picture_of, stopped_by
from calc.answers.card_shapes import share as empty_share
from calc.answers.gear_words import STOPS
from calc.kernel.units import Unit
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say

KIND = "bevel-differential"
WORDS = "a bevel differential"
ROLE: Role = "setting"
ASKS: frozenset[Asked] = frozenset()
MEMBERS = {"left": "left gear", "right": "right gear", "pinion": "pinion"}


def unit_of(record: CalculationRecord) -> Unit | None:
    """By the pitch it was asked with; without one there are only angles."""
    if record.inputs.get("module") is not None:
        return "mm"
    return "inch" if record.inputs.get("diametral_pitch") is not None else None


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept differential: along each shaft from the apex, and how the shafts lie."""
    pinions, results = f"{record.inputs['pinions']} pinions", record.results
    shown = Shown(unit_of(record) or "inch", typed.is_mixed)
    made = empty_share(KIND, "differential", f"Set up the differential, {pinions}", ROLE)
    has_sizes = results["cone_distance_mm"] is not None
    made |= {
        "figures": [*(_mountings(record, shown) if has_sizes else []), *_angles(record)],
        "notes": _notes(record, pinions),
        "picture": picture_of(record, "bevel-differential"),
        "stops": "any time",
        "sizes": [
            {
                "wanted": shown.wanted(shown.size(results[f"{member}_crown_to_apex_mm"])),
                "note": f"apex to tip, {member}",
            }
            for member, words in MEMBERS.items()
            if has_sizes
        ],
        "units": shown.word if has_sizes else "",
    }
    return made


def _mountings(record: CalculationRecord, shown: Shown) -> list[BigFigure]:
    return [
        {
            "label": f"Apex to pitch circle, {words}",
            "value": shown.size(record.results[f"{member}_mounting_mm"]),
            "unit": shown.beside(),
            "rank": 84,
        }
        for member, words in MEMBERS.items()
    ]


def _angles(record: CalculationRecord) -> list[BigFigure]:
    angle = record.results["pinion_shaft_angle_deg"]
    if angle is None:
        return []
    return [angle_figure("Pinion’s shaft to the axle", angle, 85)]


def _notes(record: CalculationRecord, pinions: str) -> list[Say]:
    """Whether they can be entered, and whatever else stops the work."""
    sides = f"between {record.inputs['left_teeth']} and {record.inputs['right_teeth']} teeth."
    goes = "go together" if record.results["goes_together"] else "do NOT go together"
    first: Say = {"strong": f"{pinions} of {record.inputs['pinion_teeth']} teeth {goes}", "text": sides}
    return [first, *stopped_by(record, STOPS, but="does-not-go")]
