"""What a kept sum of a spur gear puts on a work card: cutter, depth and passes, blank, sizes to measure."""

from calc.answers import card_teeth
from calc.answers.card_shapes import (
    CUTTER_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    picture_of,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.card_teeth import feed, unit_of
from calc.catalogue.spur_gear import pitch_words
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say, SizeWanted

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]

KIND = "spur-gear"
WORDS = "a spur gear"
ROLE: Role = "gear"
ASKS: frozenset[Asked] = frozenset({"passes"})
#: What a drawing's own rounding may make of a centre distance. [mm]
ROUNDED_MM = 0.016


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept spur gear."""
    inputs, results = record.inputs, record.results
    shown, teeth = Shown(unit_of(record), typed.is_mixed), int(inputs["teeth"])
    made = card_teeth.filled(
        empty_share(KIND, f"{teeth} teeth", f"Cut {teeth} teeth", ROLE), record, shown, typed
    )
    made |= {
        "figures": _figures(record, shown, typed),
        "notes": _notes(record, shown),
        "picture": picture_of(record, "gear-tooth", "gear-blank"),
        "sizes": [*_diameter(record, shown, typed), *_teeth_wanted(record, shown)],
        "cautions": [CUTTER_CAUTION],
    }
    centres = results.get("running_centre_distance_mm") or results.get("centre_distance_mm")
    if centres:
        made["mate"] = {"teeth": int(inputs["mate_teeth"]), "centres": shown.size(centres)}
    return made


def _figures(record: CalculationRecord, shown: Shown, typed: Typed) -> list[BigFigure]:
    return [
        card_teeth.cutter(record, pitch_words(record.inputs)),
        card_teeth.depth(record, shown),
        *card_teeth.passes(shown, typed),
        _blank(record, shown, typed),
        card_teeth.SPEED.copy(),
    ]


def _blank(record: CalculationRecord, shown: Shown, typed: Typed) -> BigFigure:
    """The blank to be turned, with its limits; or the one that is turned already, as it was measured."""
    turned = record.inputs.get("outside_diameter_measured")
    if not turned:
        return card_teeth.blank(record, shown, typed)
    return {
        "label": "Blank as turned, outside",
        "value": shown.size(turned),
        "unit": shown.beside(),
        "rank": 60,
    }


def _diameter(record: CalculationRecord, shown: Shown, typed: Typed) -> list[SizeWanted]:
    if record.inputs.get("outside_diameter_measured"):
        return []
    return [card_teeth.diameter(record, shown, typed)]


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
