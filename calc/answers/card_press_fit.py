"""What a kept press fit puts on a work card: shaft over bore, the heat to go on, what it holds."""

from fractions import Fraction
from math import ceil

from calc.answers.card_shapes import (
    HOT_CAUTION,
    TURNING_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    case_of,
    picture_of,
    stopped_by,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.press_fit import TITLES
from calc.answers.shapes import shown_unit
from calc.kernel.units import Unit
from calc.kernel.wording import exact, fixed
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say

KIND = "press-fit"
WORDS = "a press fit"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset()
#: A shop and the shaft in it, to tell what a thermometer on the hub is to read. [°C]
SHOP = 20


def unit_of(record: CalculationRecord) -> Unit:
    return shown_unit(case_of(record), "interface")


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept press fit."""
    results, shown = record.results, Shown(unit_of(record), typed.is_mixed)
    size, over = shown.size(record.inputs["interface"]), shown.fine(record.inputs["interference"])
    made = empty_share(KIND, "press fit", f"Press fit, {size} interface", ROLE)
    # Rounded up, so that the hub is never called warm enough short of it.
    rise = ceil(exact(results["temperature_rise_c"]))
    made |= {
        "figures": _figures(record, shown, rise, over),
        "notes": [*stopped_by(record, TITLES, but="heat"), _warm(record, shown, rise)],
        "picture": picture_of(record, "press-fit"),
        "stops": "before the hub is hot",
        "sizes": [
            {"wanted": "measure", "note": f"bore, about {size}"},
            {"wanted": f"bore + {shown.wanted(over)}", "note": "shaft, on the bore"},
        ],
        "units": shown.word,
        "cautions": [HOT_CAUTION, TURNING_CAUTION],
    }
    return made


def _figures(record: CalculationRecord, shown: Shown, rise: int, over: str) -> list[BigFigure]:
    results = record.results
    figures: list[BigFigure] = [
        {
            "label": "Shaft over its bore by",
            "value": over,
            "unit": shown.beside("on the diameter"),
            "rank": 71,
        },
        {
            "label": "Hub warmer than the shaft by",
            "value": f"{rise} °C",
            "unit": f"{ceil(Fraction(rise) * Fraction(9, 5))} °F",
            "rank": 72,
        },
        {"label": "Pressure", "value": fixed(exact(results["pressure_mpa"]), 1), "unit": "MPa", "rank": 73},
    ]
    if results["torque_nm"] is not None:
        torque = fixed(exact(results["torque_nm"]), 1)
        figures.append({"label": "Torque it holds", "value": torque, "unit": "N m", "rank": 74})
    return figures


def _warm(record: CalculationRecord, shown: Shown, rise: int) -> Say:
    """What a thermometer is to read, and what play that leaves."""
    play = record.inputs.get("assembly_clearance") or 0
    left = f"with {shown.fine(play)} of play." if play else "with no play: heat it further to have some."
    return {"strong": f"In a shop of {SHOP} °C the hub goes on at {rise + SHOP} °C,", "text": left}
