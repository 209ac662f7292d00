"""What the cutting of a bevel pair asks for, what it hands back, and how it is spoken of."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Kind, Output
from calc.catalogue.bevel_pair import teeth_entry
from calc.catalogue.indexing import RATIO
from calc.catalogue.spur_gear import DEPTH_SYSTEM, MODULE, PITCH, PRESSURE_ANGLE, pitch_words
from calc.kernel import bevel_cutting_entries as limits
from calc.kernel.bevel_cutting import bevel_cutting
from calc.kernel.bevel_pair_entries import SHAFT_DEG, THICK_MM, THICK_REASON
from calc.kernel.indexing_entries import CIRCLE, CIRCLE_REASON, CIRCLES_MOST, CIRCLES_MOST_TO_A_FACE
from calc.kernel.spur_gear_entries import FACE_MM
from calc.kernel.wording import fixed, move_text


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    best = results["best"]
    roll = move_text(best["roll_turns"], best["roll_holes"], best["roll_circle"])
    return (
        f"Tilt {fixed(best['head_tilt_deg'], 2)}°, cutter No. {best['cutter_number']}, roll {roll} each side"
    )


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Cutting a bevel pair, {inputs['teeth']} and {inputs['mate_teeth']} teeth, {pitch_words(inputs)}"


def _teeth(name: str, label: str, text: str) -> Input:
    low, high = (Fraction(limit) for limit in limits.TEETH)
    return replace(teeth_entry(name, label, text), low=low, high=high, reason=limits.TEETH_REASON)


def _folded(
    name: str, label: str, text: str, kind: Kind, ends: tuple[Fraction | int, Fraction | int], reason: str
) -> Input:
    """An entry that few builders ever type."""
    return Input(
        name=name, label=label, kind=kind, optional=True, seldom=True, help=text,
        low=Fraction(ends[0]), high=Fraction(ends[1]), reason=reason,
    )  # fmt: skip


def _settings(prefix: str, who: str, done: str) -> tuple[Input, ...]:
    """The four settings of one member, tried or done."""
    return (
        _folded(
            f"{prefix}cutter", f"{who}: cutter {done}", "Number of the set of eight.",
            "count", limits.CUTTER, limits.CUTTER_REASON,
        ),
        _folded(
            f"{prefix}roll", f"{who}: roll {done}", "Turns of the crank each side of the centre: 16/39.",
            "number", limits.ROLL_TURNS, limits.ROLL_REASON,
        ),
        _folded(
            f"{prefix}set_over", f"{who}: set-over {done}", "Of the table, each side of the centre.",
            "length", limits.SET_OVER_MM, limits.SET_OVER_REASON,
        ),
        _folded(
            f"{prefix}trim_shallower", f"{who}: trims shallower by",
            "How much less deep the two trimming rounds are than the first; empty is nought.",
            "length", limits.SHALLOWER_MM, limits.SHALLOWER_REASON,
        ),
    )  # fmt: skip


def _taper_pitch(like: Input, name: str, label: str) -> Input:
    text = "Of a thin bevel cutter, at the large end: another method on another blank."
    return replace(like, name=name, label=label, help=text, optional=True, seldom=True)


def _thickness(name: str, label: str) -> Input:
    text = "Thickness of the bevel cutter, a dedendum of that end from its tip."
    return _folded(name, label, text, "length", THICK_MM, THICK_REASON)


BEVEL_CUTTING = Calculation(
    key="bevel-cutting",
    title="Cutting a bevel pair",
    summary="Settings of the three rounds that cut both members of a bevel pair, and how the pair will run.",
    about=(
        "Straight bevel gears of parallel depth can be cut with ordinary disc cutters on a dividing head: "
        "one round on centre, then one for each flank with the cutter set over and the blank rolled. This "
        "works out the teeth that leaves, how the pair will run, and the settings of both members that run "
        "best with the cutters and plates to hand. It plans a workshop gear: quiet running is not promised."
    ),
    example={
        "teeth": "36",
        "mate_teeth": "16",
        "diametral_pitch": "12",
        "face_width": "0.8 in",
        "circles": "15,16,17,18,19,20 / 21,23,27,29,31,33 / 37,39,41,43,47,49",
    },
    revision=1,
    inputs=(
        _teeth("teeth", "Teeth", "Teeth of the gear to be cut."),
        _teeth("mate_teeth", "Teeth of its mate", "Both members are planned together."),
        PITCH,
        MODULE,
        Input(
            name="face_width",
            label="Face width",
            kind="length",
            help="Length of the teeth along the cone; a third of the cone distance at most.",
            low=Fraction(FACE_MM[0]),
            high=Fraction(FACE_MM[1]),
            reason=limits.FACE_REASON,
        ),
        Input(
            name="circles",
            label="Circles owned",
            kind="circles",
            help="Holes of each circle, with commas; a stroke parts the faces: 15,16,17 / 21,23,27.",
            low=Fraction(CIRCLE[0]),
            high=Fraction(CIRCLE[1]),
            reason=CIRCLE_REASON,
            most=CIRCLES_MOST,
            most_to_a_face=CIRCLES_MOST_TO_A_FACE,
        ),
        RATIO,
        Input(
            name="cutters",
            label="Cutters owned",
            kind="counts",
            optional=True,
            help="Numbers of the set of eight, 1 for a rack down to 8 for 12 teeth; left empty, all eight.",
            low=Fraction(limits.CUTTER[0]),
            high=Fraction(limits.CUTTER[1]),
            reason=limits.CUTTER_REASON,
            most=limits.CUTTERS_MOST,
        ),
        Input(
            name="shaft_angle",
            label="Shaft angle",
            kind="angle",
            default="90",
            help="Between the two shafts where they meet.",
            low=SHAFT_DEG[0],
            high=SHAFT_DEG[1],
            reason=limits.SHAFT_REASON,
        ),
        PRESSURE_ANGLE,
        DEPTH_SYSTEM,
        Input(
            name="mate_cut",
            label="The mate is cut already",
            kind="choice",
            optional=True,
            help="It is then held as it is, and the gear is suited to it.",
            left_out="no",
            choices=(("textbook", "by the textbook"), ("as given", "as given below")),
            reason=limits.MATE_CUT_REASON,
        ),
        *_settings("mate_", "Mate", "used"),
        *_settings("try_", "Gear", "to try"),
        *_settings("mate_try_", "Mate", "to try"),
        _taper_pitch(MODULE, "taper_module", "Taper teeth: module"),
        _taper_pitch(PITCH, "taper_diametral_pitch", "Taper teeth: diametral pitch"),
        _thickness("taper_thickness_large", "Taper teeth: cutter, large end"),
        _thickness("taper_thickness_small", "Taper teeth: cutter, small end"),
        _thickness("taper_mate_thickness_large", "Taper teeth: mate’s cutter, large end"),
        _thickness("taper_mate_thickness_small", "Taper teeth: mate’s cutter, small end"),
    ),
    outputs=(
        Output(name="best", unit="", help="The plan that runs best, for both members."),
        Output(name="textbook", unit="", help="The plan by the rule of the trade."),
        Output(name="given", unit="", help="The settings tried; none without."),
        Output(name="roll_exact", unit="", help="Whether the plates give the quarter of its pitch."),
        Output(name="quarter_circles", unit="count", help="Circles owned that do."),
        Output(name="quarter_missed_mm", unit="millimetre", help="Left on at the large end."),
        Output(name="mate_roll_exact", unit="", help="The same of the mate."),
        Output(name="mate_quarter_circles", unit="count", help="The same of the mate."),
        Output(name="mate_quarter_missed_mm", unit="millimetre", help="The same of the mate."),
        Output(name="directions", unit="", help="Which way cutter, table and blank go, round by round."),
        Output(name="blank", unit="", help="The blank of the gear, and the chords wanted."),
        Output(name="mate_blank", unit="", help="The blank of the mate, and the chords wanted."),
        Output(name="cone_distance_mm", unit="millimetre", help="Apex to the large end."),
        Output(name="module_large_mm", unit="millimetre", help="Module of the large end."),
        Output(name="cutter_module_mm", unit="millimetre", help="Module of the cutter and of the small end."),
        Output(name="whole_depth_mm", unit="millimetre", help="Of the first round, all along the face."),
        Output(name="depth_system", unit="", help="The depth system used."),
        Output(name="taper", unit="", help="The plan with taper teeth, where a bevel cutter was measured."),
    ),
    function=bevel_cutting,
    headline=headline,
    subject=subject,
)
