"""What a kept fit in thousandths of an inch puts on a work card: the limits of one half, or of both."""

from calc.answers.card_fit import HALVES, Half, limits_text
from calc.answers.card_shapes import TURNING_CAUTION, Asked, CardSum, Role, Shown, Typed, case_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.kernel.units import Unit
from calc.models import CalculationRecord

#: One fit is on a card, by whichever table it was worked.
KIND = "fit"
WORDS = "a fit"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset({"side"})


def unit_of(record: CalculationRecord) -> Unit:
    """A fit is printed in the unit its nominal size was typed in."""
    return shown_unit(case_of(record), "nominal")


def share_of(record: CalculationRecord, typed: Typed, fit: str) -> CardSum:
    """The share of a fit that one word names for hole and shaft alike: "RC4", "forced"."""
    shown = Shown(unit_of(record), typed.is_mixed)
    halves: dict[str, tuple[Half, ...]] = {"shaft": ("shaft",), "hub": ("hole",), "both": ("hole", "shaft")}
    nominal = shown.size(record.inputs["nominal"])
    found = {half: _limits(record, shown, half) for half in halves[typed.side]}
    named = " and ".join(HALVES[half].lower() for half in found)
    made = empty_share(KIND, f"fit {fit}", f"Finish the {named} to limits, {fit} fit", ROLE)
    made |= {
        "figures": [
            {
                "label": f"{HALVES[half]}, {nominal} {fit}",
                "value": limits,
                "unit": shown.beside(),
                "rank": 70,
            }
            for half, limits in found.items()
        ],
        "stops": "after a cut, measured",
        "sizes": [
            {"wanted": shown.wanted(limits), "note": f"{HALVES[half].lower()} {fit}"}
            for half, limits in found.items()
        ],
        "units": shown.word,
        "cautions": [TURNING_CAUTION],
    }
    return made


def _limits(record: CalculationRecord, shown: Shown, half: Half) -> str:
    """The limits; of a hole reamed to size, that size."""
    low, high = (record.results[f"{half}_{end}_mm"] for end in ("lower", "upper"))
    return shown.fine(low) if low == high else limits_text(record, shown, half)
