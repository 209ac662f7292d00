"""What a kept plan of cutting a bevel pair puts on a work card: three rounds, a trial, sizes."""

from collections.abc import Mapping
from fractions import Fraction
from math import gcd
from typing import Any

from calc.answers.bevel_cutting import index_text, roll_text, shown_plan
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
    case_of,
    picture_of,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.card_teeth import SPEED, cutter_range, unit_of
from calc.kernel.wording import decimal_text, fixed
from calc.models import CalculationRecord
from calc.sheets import (
    BigFigure,
    Picture,
    Say,
    SizeWanted,
    Tally,
    home_line,
    row_ends,
    tally_note,
)

__all__ = ["ASKS", "KIND", "ROLE", "WORDS", "share", "unit_of"]

KIND = "bevel-cutting"
WORDS = "the cutting of a bevel pair"
ROLE: Role = "gear"
ASKS: frozenset[Asked] = frozenset()
#: Small boxes in each box of the tally, one to a round.
ROUNDS = 3


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept plan, for the gear it was asked for."""
    plan, teeth = shown_plan(case_of(record)), int(record.inputs["teeth"])
    shown = Shown(unit_of(record), typed.is_mixed)
    angle = f"{decimal_text(Fraction(str(record.inputs['shaft_angle'])), 4)}°"
    made = empty_share(KIND, f"{teeth} bevel teeth", f"Cut {teeth} bevel teeth", ROLE)
    made |= {
        "count": teeth,
        "rounds": "three rounds",
        "head": f"{record.inputs['ratio']} : 1",
        "figures": _figures(record, plan, shown),
        "proof": _same_ways(),
        "notes": [*_rounds(plan, shown), *_notes(record, plan)],
        "picture": _picture(record),
        "tally": _tally(teeth, plan),
        "stops": "end of a round",
        "sizes": _sizes(record, plan, shown),
        "units": shown.word,
        "cautions": [CUTTER_CAUTION, TURNING_BESIDE],
        "mate": {"teeth": int(record.inputs["mate_teeth"]), "centres": angle, "label": "shafts"},
        "outside_mm": float(record.results["blank"]["outside_diameter_mm"]),
    }
    return made


def _figures(record: CalculationRecord, plan: Mapping[str, Any], shown: Shown) -> list[BigFigure]:
    blank = record.results["blank"]
    pressure = decimal_text(Fraction(str(record.inputs["pressure_angle"])), 4)
    pitch = cutter_pitch(record.results, shown.unit)
    return [
        {"label": "Index, turn one way only", "value": index_text(plan), "rank": 10},
        {
            "label": "Sector arms over",
            "value": str(plan["index_sector_holes"]),
            "unit": "holes",
            "rank": 11,
        },
        angle_figure("Head tilted to", plan["head_tilt_deg"], 20),
        {
            "label": f"Cutter No. {plan['cutter_number']}, {pitch}, {pressure}°, marked",
            "value": cutter_range(dict(plan)),
            "rank": 30,
        },
        {"label": "Blank, outside, large end", "value": shown.size(blank["outside_diameter_mm"]),
         "unit": shown.beside("limits ________"), "rank": 60},
        angle_figure("Face, from the axis", blank["face_angle_deg"], 61),
        {"label": "Face width", "value": shown.size(record.inputs["face_width"]), "unit": shown.beside(),
         "rank": 63},
        {
            "label": "Chords across a tooth at, small and large end",
            "value": ", ".join(shown.fine(blank[f"chordal_addendum_{end}_mm"]) for end in ("small", "large")),
            "unit": shown.beside(),
            "wide": True,
            "rank": 64,
        },
        SPEED.copy(),
    ]  # fmt: skip


def _picture(record: CalculationRecord) -> Picture | None:
    """The second round as it was kept: which way cutter and blank go is what is gone wrong with most."""
    kept = picture_of(record, "bevel-rounds")
    if kept is None:
        return None
    figures = kept["figures"]
    second = {
        "stands": figures["stands"][1:2],
        "words": [["2: trims the left flank", "table left, blank right"]],
    }
    return {
        **kept,
        "figures": {**figures, **second},
        "strong": "Second round",
        "text": "third: the mirror of it",
    }


def _trim_mm(plan: Mapping[str, Any]) -> float:
    return float(plan["depth_mm"] - plan["trim_shallower_mm"])


def _same_ways() -> Say:
    return {
        "strong": "Table and roll go OPPOSITE ways.",
        "text": "To one hand the cutter comes down on the tooth beside the space.",
    }


def _notes(record: CalculationRecord, plan: Mapping[str, Any]) -> list[Say]:
    """Which plan this is, that the two belong together, and whether a pair so cut jams."""
    mate = record.inputs["mate_teeth"]
    which = "tried" if record.results["given"] else "best"
    notes: list[Say] = [
        {
            "strong": f"By the {which} plan: belongs with the card of its {mate} T mate.",
            "text": "Neither runs as it should with another.",
        }
    ]
    if plan["backlash_mm"] < 0:
        notes.append({"strong": "The sum says that a pair so cut jams.", "text": "See the sum."})
    return notes


def _rounds(plan: Mapping[str, Any], shown: Shown) -> list[Say]:
    """Each round as it is set at the handles; the small boxes of the tally go by these numbers."""
    over, roll = shown.fine(plan["set_over_mm"]), roll_text(plan)
    full, trim = shown.depth(plan["depth_mm"]), shown.depth(_trim_mm(plan))
    short = shown.beside()
    first: Say = {
        "strong": "1, the space:",
        "text": f"table and blank on centre, depth {full} {short}".rstrip() + ".",
    }
    trims: list[Say] = [
        {
            "strong": f"{number}, {flank} flank: table {table} {over}, top of blank {top} {roll},",
            "text": f"depth {trim} {short}".rstrip() + ".",
        }
        for number, flank, table, top in ((2, "left", "LEFT", "RIGHT"), (3, "right", "RIGHT", "LEFT"))
    ]
    return [first, *trims]


def _sizes(record: CalculationRecord, plan: Mapping[str, Any], shown: Shown) -> list[SizeWanted]:
    """The blank, then one tooth across at both ends: of two trials on the first two teeth, of the gear."""
    blank = record.results["blank"]
    outside = shown.wanted(shown.size(blank["outside_diameter_mm"]))
    teeth: list[SizeWanted] = [
        {
            "wanted": shown.wanted(shown.fine(plan[f"tooth_{end}_mm"])),
            "note": f"{when}, {end} end",
        }
        for when in ("trial 1", "trial 2", "gear")
        for end in ("small", "large")
    ]
    return [{"wanted": outside, "note": "OD, large end"}, *teeth]


def _tally(teeth: int, plan: Mapping[str, Any]) -> Tally:
    """A box to a tooth with a small one to each round; where the pin is home, and the hole after each row."""
    circle = int(plan["index_circle"])
    move = int(plan["index_turns"]) * circle + int(plan["index_holes"])
    home = circle // gcd(circle, move)
    turn = Fraction(360, teeth)
    every = list(range(home, teeth + 1, home))
    return {
        "count": teeth,
        "home": every,
        "rows": [
            {"hole": str(move * end % circle), "angle": f"{fixed(end * turn, 2)}°"} for end in row_ends(teeth)
        ],
        "note": tally_note(teeth, "tooth"),
        "home_line": home_line(every),
        "passes": ROUNDS,
    }
