"""What a kept sum of a helical gear puts on a work card: blank, cutter, normal depth, helix and lead."""

from calc.answers import card_teeth
from calc.answers.card_shapes import (
    CUTTER_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    stopped_by,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.card_teeth import unit_of
from calc.answers.gear_words import STOPS
from calc.answers.helical_gear import cutter_pitch
from calc.kernel.wording import dms_text, exact
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say, SizeWanted

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]

KIND = "helical-gear"
WORDS = "a helical gear"
ROLE: Role = "gear"
ASKS: frozenset[Asked] = frozenset({"passes"})
#: A train of gears turns the work with the table, and has play. common practice, no source
RUN_BACK: Say = {
    "strong": "Lower the work before running back:",
    "text": "the play of the lead train would drag it into the cutter.",
}
OTHER_HAND: Say = {"strong": "The mate is of the other hand.", "text": ""}


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept helical gear."""
    teeth, results = int(record.inputs["teeth"]), record.results
    shown = Shown(unit_of(record), typed.is_mixed)
    made = empty_share(KIND, f"{teeth} helical teeth", f"Cut {teeth} helical teeth", ROLE)
    made = card_teeth.filled(made, record, shown, typed)
    made |= {
        "figures": _figures(record, shown, typed),
        "notes": [*([OTHER_HAND] if results["mate"] else []), RUN_BACK, *stopped_by(record, STOPS)],
        "sizes": _sizes(record, shown, typed),
        "cautions": [CUTTER_CAUTION],
    }
    if results["mate"]:
        centres = shown.size(results["centre_distance_mm"])
        made["mate"] = {"teeth": int(record.inputs["mate_teeth"]), "centres": centres}
    return made


def _figures(record: CalculationRecord, shown: Shown, typed: Typed) -> list[BigFigure]:
    helix = dms_text(exact(record.inputs["helix_angle"]))
    return [
        {"label": "Helix, table swivelled to", "value": helix, "unit": "hand ____", "rank": 20},
        {
            "label": "Lead of the helix",
            "value": shown.size(record.results["lead_mm"]),
            "unit": shown.beside(),
            "rank": 21,
        },
        card_teeth.cutter(record, cutter_pitch(record.results, shown.unit)),
        card_teeth.depth(record, shown, "Normal depth"),
        *card_teeth.passes(shown, typed),
        card_teeth.blank(record, shown, typed),
        card_teeth.SPEED.copy(),
    ]


def _sizes(record: CalculationRecord, shown: Shown, typed: Typed) -> list[SizeWanted]:
    """The blank, and the chord square to the tooth at two teeth half the wheel apart."""
    results, halfway = record.results, -(-int(record.inputs["teeth"]) // 2)
    blank = card_teeth.diameter(record, shown, typed)
    if results["chordal_thickness_mm"] is None:
        return [blank]
    chord = shown.wanted(shown.fine(results["chordal_thickness_mm"]))
    at = shown.fine(results["chordal_addendum_mm"])
    return [
        blank,
        {"wanted": chord, "note": f"chord at {at}"},
        {"wanted": chord, "note": f"chord, tooth {halfway}"},
    ]
