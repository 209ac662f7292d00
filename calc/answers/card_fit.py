"""What a kept sum of a fit puts on a work card: the limits of the hole, of the shaft, or of both."""

from typing import Literal

from calc.answers.card_shapes import TURNING_CAUTION, Asked, CardSum, Role, Shown, Typed, case_of
from calc.answers.card_shapes import share as empty_share
from calc.answers.shapes import shown_unit
from calc.kernel.fit_jobs import symbols
from calc.kernel.units import Unit
from calc.models import CalculationRecord
from calc.sheets import BigFigure, SizeWanted

KIND = "fit"
WORDS = "a fit"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset({"side"})
Half = Literal["hole", "shaft"]
#: What a builder calls each half, and the half that a hub is.
HALVES: dict[Half, str] = {"hole": "Bore", "shaft": "Shaft"}


def symbol_of(record: CalculationRecord, half: Half) -> str:
    """The symbol of one side, as entered or by the job chosen; empty where that side was not asked for."""
    asked = record.inputs
    hole, shaft = symbols(asked.get("job"), asked.get("hole"), asked.get("shaft"))
    return hole if half == "hole" else shaft


def unit_of(record: CalculationRecord) -> Unit:
    """A fit is printed in the unit its nominal size was typed in."""
    return shown_unit(case_of(record), "nominal")


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept fit, for the half that the part is, or for both."""
    shown, halves = Shown(unit_of(record), typed.is_mixed), _halves(record, typed)
    named = " and ".join(f"{HALVES[half].lower()} {symbol_of(record, half)}" for half in halves)
    joined = "/".join(symbol_of(record, half) for half in halves)
    made = empty_share(KIND, f"fit {joined}", f"Finish the {named} to limits")
    made |= {
        "figures": [_figure(record, shown, half) for half in halves],
        "stops": "after a cut, measured",
        "sizes": [_size(record, shown, half) for half in halves],
        "units": shown.word,
        "cautions": [TURNING_CAUTION],
    }
    return made


def _halves(record: CalculationRecord, typed: Typed) -> tuple[Half, ...]:
    """Those to be made: never one that is made and measured; the part's own where it is known."""
    if made_to_suit := record.results["to_suit"]:
        return (made_to_suit,)
    entered: tuple[Half, ...] = tuple(half for half in HALVES if symbol_of(record, half))
    own: Half = "shaft" if typed.side == "shaft" else "hole"
    return (own,) if typed.side != "both" and own in entered else entered


def limits_text(record: CalculationRecord, shown: Shown, half: Half) -> str:
    return shown.limits(record.results[f"{half}_lower_mm"], record.results[f"{half}_upper_mm"])


def _figure(record: CalculationRecord, shown: Shown, half: Half) -> BigFigure:
    nominal = shown.size(record.inputs["nominal"])
    label = f"{HALVES[half]}, {nominal} {symbol_of(record, half)}"
    if record.results["to_suit"]:
        other: Half = "shaft" if half == "hole" else "hole"
        label += f", to suit {HALVES[other].lower()} {shown.fine(record.inputs[f'{other}_measured'])}"
    return {"label": label, "value": limits_text(record, shown, half), "unit": shown.beside(), "rank": 70}


def _size(record: CalculationRecord, shown: Shown, half: Half) -> SizeWanted:
    wanted = shown.wanted(limits_text(record, shown, half))
    return {"wanted": wanted, "note": f"{HALVES[half].lower()} {symbol_of(record, half)}"}
