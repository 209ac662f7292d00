"""What every gear cut with a cutter of the set has on a card: cutter, depth and passes, blank, tally."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from calc.answers.card_shapes import CardSum, Shown, Typed, two_places
from calc.kernel.units import Unit
from calc.kernel.wording import decimal_text
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say, SizeWanted, Tally, row_ends, tally_note

#: How a depth is parted where the builder types no passes: to this depth [mm], at these parts of it. The
#: first round takes half, and the last no more than a sixth, so that it leaves a clean flank. The three
#: parts are those of the worked card of an 84 tooth wheel; for the rest common practice, no source.
PASSES: tuple[tuple[Fraction, tuple[Fraction, ...]], ...] = (
    (Fraction(2), ()),
    (Fraction(9, 2), (Fraction(3, 4),)),
    (Fraction(1000), (Fraction(1, 2), Fraction(5, 6))),
)
#: What a pass on the way is rounded to: five thou, or a twentieth of a millimetre. [mm]
#: common practice, no source
STEP: dict[Unit, Fraction] = {"inch": Fraction(127, 1000), "mm": Fraction(1, 20)}
#: A blank is turned to size or a little below: common practice, no source.
USUAL_LIMITS: dict[Unit, str] = {"inch": "+0 −0.005", "mm": "+0 −0.1"}
#: Passes that stand in one row of a card, on either paper.
ROW_OF_PASSES = 4
#: To be written in at the machine, where no sum of the card tells the speed.
SPEED: BigFigure = {"label": "Speed, feed", "value": "", "rank": 65}


def unit_of(record: CalculationRecord) -> Unit:
    """A gear by its diametral pitch is worked in inches, one by its module in millimetres."""
    return "inch" if record.inputs.get("diametral_pitch") else "mm"


def depth_system(record: CalculationRecord) -> str:
    """The depth system it was worked by, as the trade writes it: "2.157", "2.2 + 0.002 in"."""
    system = str(record.results["depth_system"])
    return "2.2 + 0.002 in" if system == "2.2+0.002" else system


def feed_mm(record: CalculationRecord) -> float:
    """How far to sink from touch-off: the whole depth, less what a blank as turned is short of."""
    results, turned = record.results, record.inputs.get("outside_diameter_measured")
    short = (results["outside_diameter_mm"] - turned) / 2 if turned else 0
    return float(results["whole_depth_mm"] - short)


def feed(record: CalculationRecord) -> str:
    """The last of the passes, as the card prints it."""
    return Shown(unit_of(record)).depth(feed_mm(record))


def proposed_passes(record: CalculationRecord) -> tuple[str, ...]:
    """Running totals from touch-off to propose: sensible steps, the last the full depth."""
    unit, whole = unit_of(record), Fraction(feed_mm(record))
    parts = next(parts for most, parts in PASSES if whole <= most)
    steps = [round(whole * part / STEP[unit]) * STEP[unit] for part in parts]
    return (*(Shown(unit).step(float(step)) for step in steps), feed(record))


def filled(made: CardSum, record: CalculationRecord, shown: Shown, typed: Typed) -> CardSum:
    """The share with all that does not differ from one such gear to another."""
    teeth = int(record.inputs["teeth"])
    witness: Say = {"strong": f"First mark every tooth lightly and count {teeth}.", "text": "Tick each cut."}
    made |= {
        "count": teeth,
        "rounds": rounds(typed),
        "proof": witness,
        "tally": tally(teeth, len(typed.passes)),
        "stops": "end of a pass",
        "units": shown.word,
        "outside_mm": float(record.results["outside_diameter_mm"]),
    }
    return made


def rounds(typed: Typed) -> str:
    count = len(typed.passes)
    return "" if not count else "one pass" if count == 1 else f"{count} passes"


def cutter(record: CalculationRecord, pitch: str, what: str = "Cutter") -> BigFigure:
    """The cutter by its pitch, its angle and the range it is marked with."""
    angle = decimal_text(Fraction(str(record.inputs["pressure_angle"])), 4)
    return {"label": f"{what} {pitch}, {angle}°, marked", "value": cutter_range(record.results), "rank": 30}


def depth(record: CalculationRecord, shown: Shown, what: str = "Depth of tooth") -> BigFigure:
    return {
        "label": f"{what}, {depth_system(record)} system",
        "value": shown.depth(record.results["whole_depth_mm"]),
        "unit": shown.beside(),
        "rank": 40,
    }


def passes(shown: Shown, typed: Typed) -> list[BigFigure]:
    """The running totals in one row; more than a row holds in two."""
    totals = typed.passes
    half = len(totals) if len(totals) <= ROW_OF_PASSES else -(-len(totals) // 2)
    figures: list[BigFigure] = [
        {
            "label": "Passes, running total from touch-off; lock the table",
            "value": _spaced(totals[:half]),
            "unit": shown.beside() if totals else "",
            "wide": True,
            "rank": 50,
        }
    ]
    if totals[half:]:
        label = f"Passes {half + 1} to {len(totals)}"
        figures.append({**figures[0], "label": label, "value": _spaced(totals[half:])})
    return figures


def _spaced(totals: Sequence[str]) -> str:
    return ("  " if len(totals) > 3 else "   ").join(totals)


def cutter_range(results: dict[str, Any]) -> str:
    """The range a cutter is marked with: "55–134", "135–rack"; "none" where no cutter of a set serves."""
    first, last = results["cutter_from_teeth"], results["cutter_to_teeth"]
    if not first:
        return "none"
    return str(first) if first == last else f"{first}–{last or 'rack'}"


def blank(record: CalculationRecord, shown: Shown, typed: Typed, where: str = "outside") -> BigFigure:
    """The blank to be turned, with its limits or a rule for them."""
    return {
        "label": f"Blank, {where}",
        "value": shown.size(record.results["outside_diameter_mm"]),
        "unit": shown.beside(typed.blank_limits or "limits ________"),
        "rank": 60,
    }


def diameter(record: CalculationRecord, shown: Shown, typed: Typed) -> SizeWanted:
    wanted = shown.wanted(shown.size(record.results["outside_diameter_mm"]))
    return {"wanted": wanted, "note": ", ".join(filter(None, ("OD", typed.blank_limits)))}


def tally(teeth: int, rounds: int) -> Tally:
    """The boxes alone, where no dividing is on the card: no hole is known, only the spindle's angle."""
    turn = Fraction(360, teeth)
    return {
        "count": teeth,
        "home": [],
        "rows": [{"hole": "", "angle": f"{two_places(end * turn)}°"} for end in row_ends(teeth)],
        "note": tally_note(teeth, "tooth"),
        "home_line": {"strong": "Watch the spindle’s own degrees after each row.", "text": ""},
        "passes": rounds or 3,
    }
