"""What a kept sum of a bevel pair puts on a work card: blank, tilt, cutter, depth, sizes at both ends."""

from fractions import Fraction

from calc.answers import card_teeth
from calc.answers.bevel_pair import cutter_pitch
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
    stopped_by,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.card_teeth import unit_of
from calc.answers.gear_words import STOPS
from calc.kernel.wording import decimal_text
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say, SizeWanted

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]

KIND = "bevel-pair"
WORDS = "a bevel pair"
ROLE: Role = "gear"
ASKS: frozenset[Asked] = frozenset({"passes"})


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept bevel pair, for the gear it was asked for."""
    inputs, teeth = record.inputs, int(record.inputs["teeth"])
    shown = Shown(unit_of(record), typed.is_mixed)
    made = empty_share(KIND, f"{teeth} bevel teeth", f"Cut {teeth} bevel teeth, centre cuts", ROLE)
    made = card_teeth.filled(made, record, shown, typed)
    angle = f"{decimal_text(Fraction(str(inputs['shaft_angle'])), 4)}°"
    made |= {
        "figures": _figures(record, shown, typed),
        "notes": _notes(record, shown),
        "picture": picture_of(record, "bevel-pair"),
        "sizes": _sizes(record, shown, typed),
        "cautions": [CUTTER_CAUTION, TURNING_BESIDE],
        "mate": {"teeth": int(inputs["mate_teeth"]), "centres": angle, "label": "shafts"},
    }
    return made


def _is_parallel(record: CalculationRecord) -> bool:
    return bool(record.inputs["tooth_depth"] == "parallel")


def _figures(record: CalculationRecord, shown: Shown, typed: Typed) -> list[BigFigure]:
    results = record.results
    where = "Depth, all along" if _is_parallel(record) else "Depth at the large end"
    return [
        angle_figure("Head tilted to, root angle", results["root_angle_deg"], 20),
        card_teeth.cutter(record, cutter_pitch(results, shown.unit), "Bevel cutter"),
        card_teeth.depth(record, shown, where),
        *card_teeth.passes(shown, typed),
        card_teeth.blank(record, shown, typed, "outside, large end"),
        angle_figure("Face, from the axis", results["face_angle_deg"], 61),
        angle_figure("Back cone, from the axis", results["back_angle_deg"], 62),
        {
            "label": "Face width",
            "value": shown.size(record.inputs["face_width"]),
            "unit": shown.beside(),
            "rank": 63,
        },
        {
            "label": "Crown to apex, large end",
            "value": shown.size(results["crown_to_apex_mm"]),
            "unit": shown.beside(),
            "rank": 64,
        },
        card_teeth.SPEED.copy(),
    ]


def _sizes(record: CalculationRecord, shown: Shown, typed: Typed) -> list[SizeWanted]:
    """The blank, and the chord at both ends: one end right and the other not is the fault to look for."""
    results = record.results
    ends: list[SizeWanted] = [
        {
            "wanted": shown.wanted(shown.fine(results[f"chordal_thickness_{end}_mm"])),
            "note": f"{end}, chord at {shown.fine(results[f'chordal_addendum_{end}_mm'])}",
        }
        for end in ("large", "small")
    ]
    return [card_teeth.diameter(record, shown, typed), *ends]


def _notes(record: CalculationRecord, shown: Shown) -> list[Say]:
    """That centre cuts do not finish a tooth, the depth at the other end, what the sum stopped at."""
    notes: list[Say] = [
        {
            "strong": "Centre cuts leave the teeth thick.",
            "text": "Set-over and roll are another sum; the chords are those of the finished tooth.",
        }
    ]
    if not _is_parallel(record):
        depth = shown.depth(record.results["whole_depth_small_mm"])
        notes.append(
            {"strong": f"Depth at the small end {depth}:", "text": "it shows that the tilt is right."}
        )
    return [*notes, *stopped_by(record, STOPS)]
