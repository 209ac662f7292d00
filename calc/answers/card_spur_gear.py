"""What a kept sum of a spur gear puts on a work card: cutter, depth and passes, blank, sizes to measure."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from calc.answers.card_shapes import CUTTER_CAUTION, CardSum, Shown, Typed, two_places
from calc.answers.card_shapes import share as empty_share
from calc.catalogue.spur_gear import pitch_words
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
#: What a drawing's own rounding may make of a centre distance. [mm]
ROUNDED_MM = 0.016


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


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept spur gear."""
    inputs, results = record.inputs, record.results
    shown, teeth = Shown(unit_of(record), typed.is_mixed), int(inputs["teeth"])
    pictures = {one["kind"]: one for one in record.context["answer"].get("pictures") or ()}
    made = empty_share("spur-gear", f"{teeth} teeth", f"Cut {teeth} teeth")
    made |= {
        "count": teeth,
        "rounds": _rounds(typed),
        "figures": _figures(record, shown, typed),
        "proof": {"strong": f"First mark every tooth lightly and count {teeth}.", "text": "Tick each cut."},
        "notes": _notes(record, shown),
        "picture": pictures.get("gear-tooth") or pictures.get("gear-blank"),
        "tally": _tally(teeth, len(typed.passes)),
        "stops": "end of a pass",
        "sizes": [*_diameter(record, shown, typed), *_teeth_wanted(record, shown)],
        "units": shown.word,
        "cautions": [CUTTER_CAUTION],
        "outside_mm": float(results["outside_diameter_mm"]),
    }
    centres = results.get("running_centre_distance_mm") or results.get("centre_distance_mm")
    if centres:
        made["mate"] = {"teeth": int(inputs["mate_teeth"]), "centres": shown.size(centres)}
    return made


def _rounds(typed: Typed) -> str:
    count = len(typed.passes)
    return "" if not count else "one pass" if count == 1 else f"{count} passes"


def _figures(record: CalculationRecord, shown: Shown, typed: Typed) -> list[BigFigure]:
    angle = decimal_text(Fraction(str(record.inputs["pressure_angle"])), 4)
    return [
        {
            "label": f"Cutter {pitch_words(record.inputs)}, {angle}°, marked",
            "value": cutter_range(record.results),
            "rank": 30,
        },
        {
            "label": f"Depth of tooth, {depth_system(record)} system",
            "value": shown.depth(record.results["whole_depth_mm"]),
            "unit": shown.beside(),
            "rank": 40,
        },
        *_passes(shown, typed),
        _blank(record, shown, typed),
        {"label": "Speed, feed", "value": "", "rank": 65},
    ]


def _passes(shown: Shown, typed: Typed) -> list[BigFigure]:
    """The running totals in one row; more than a row holds in two."""
    passes = typed.passes
    half = len(passes) if len(passes) <= ROW_OF_PASSES else -(-len(passes) // 2)
    figures: list[BigFigure] = [
        {
            "label": "Passes, running total from touch-off; lock the table",
            "value": _spaced(passes[:half]),
            "unit": shown.beside() if passes else "",
            "wide": True,
            "rank": 50,
        }
    ]
    if passes[half:]:
        label = f"Passes {half + 1} to {len(passes)}"
        figures.append({**figures[0], "label": label, "value": _spaced(passes[half:])})
    return figures


def _spaced(passes: Sequence[str]) -> str:
    return ("  " if len(passes) > 3 else "   ").join(passes)


def cutter_range(results: dict[str, Any]) -> str:
    """The range a cutter is marked with: "55–134", "135–rack"; "none" where no cutter of a set serves."""
    first, last = results["cutter_from_teeth"], results["cutter_to_teeth"]
    if not first:
        return "none"
    return str(first) if first == last else f"{first}–{last or 'rack'}"


def _blank(record: CalculationRecord, shown: Shown, typed: Typed) -> BigFigure:
    """The blank to be turned, with its limits; or the one that is turned already, as it was measured."""
    turned = record.inputs.get("outside_diameter_measured")
    if turned:
        return {
            "label": "Blank as turned, outside",
            "value": shown.size(turned),
            "unit": shown.beside(),
            "rank": 60,
        }
    return {
        "label": "Blank, outside",
        "value": shown.size(record.results["outside_diameter_mm"]),
        "unit": shown.beside(typed.blank_limits or "limits ________"),
        "rank": 60,
    }


def _diameter(record: CalculationRecord, shown: Shown, typed: Typed) -> list[SizeWanted]:
    if record.inputs.get("outside_diameter_measured"):
        return []
    wanted = shown.wanted(shown.size(record.results["outside_diameter_mm"]))
    return [{"wanted": wanted, "note": ", ".join(filter(None, ("OD", typed.blank_limits)))}]


def _teeth_wanted(record: CalculationRecord, shown: Shown) -> list[SizeWanted]:
    """The chord at two teeth half the wheel apart, the span at three places, over a pin that was given."""
    inputs, results = record.inputs, record.results
    chord = shown.wanted(shown.fine(results["chordal_thickness_mm"]))
    halfway = -(-int(inputs["teeth"]) // 2)
    sizes: list[SizeWanted] = [
        {"wanted": chord, "note": f"chord at {shown.fine(results['chordal_addendum_mm'])}"},
        {"wanted": chord, "note": f"chord, tooth {halfway}"},
    ]
    if _span_is_measurable(record):
        over, span = f"over {results['span_teeth']}", shown.wanted(shown.size(results["span_mm"]))
        first = over if inputs.get("backlash") else f"{over}, less backlash"
        sizes += [{"wanted": span, "note": note} for note in (first, "at 120°", "at 240°")]
    if results.get("over_pins_mm"):
        pin = shown.step(inputs["pin_diameter"])
        over_pins = shown.wanted(shown.size(results["over_pins_mm"]))
        sizes.append({"wanted": over_pins, "note": f"over pins {pin}"})
    return sizes


def _span_is_measurable(record: CalculationRecord) -> bool:
    """Not where the sum says that the anvils would miss the flanks of this gear."""
    own = f" of the {record.inputs['teeth']} teeth"
    off = [one["text"] for one in record.warnings if one["code"] == "span-off-flank"]
    return bool(record.results.get("span_mm")) and not any(own in text for text in off)


def _notes(record: CalculationRecord, shown: Shown) -> list[Say]:
    """What must be before the eyes at the machine, not only in the record."""
    inputs, results = record.inputs, record.results
    notes: list[Say] = []
    turned, nominal = inputs.get("outside_diameter_measured"), results["outside_diameter_mm"]
    if turned and shown.fine(turned) != shown.fine(nominal):
        size = f"{shown.step(abs(nominal - turned))} {'under' if turned < nominal else 'over'}"
        notes.append({"strong": f"The blank is {size}: from its tip sink {feed(record)}.", "text": ""})
    drawn, centres = inputs.get("drawing_centre_distance"), results.get("centre_distance_mm")
    if drawn and abs(drawn - centres) > ROUNDED_MM:
        notes.append(
            {"strong": f"The drawing has the centres at {shown.fine(drawn)}.", "text": "See the sum."}
        )
    return notes


def _tally(teeth: int, passes: int) -> Tally:
    """The boxes alone, where no dividing is on the card: no hole is known, only the spindle's angle."""
    turn = Fraction(360, teeth)
    return {
        "count": teeth,
        "home": [],
        "rows": [{"hole": "", "angle": f"{two_places(end * turn)}°"} for end in row_ends(teeth)],
        "note": tally_note(teeth, "tooth"),
        "home_line": {"strong": "Watch the spindle’s own degrees after each row.", "text": ""},
        "passes": passes or 3,
    }
