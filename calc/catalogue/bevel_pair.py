"""What a pair of bevel gears asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.spur_gear import CUTTER_SET, DEPTH_SYSTEM, MODULE, PITCH, PRESSURE_ANGLE, pitch_words
from calc.kernel import bevel_pair_entries as limits
from calc.kernel.bevel_pair import bevel_pair
from calc.kernel.spur_gear_entries import FACE_MM, TEETH, TEETH_REASON
from calc.kernel.units import turned
from calc.kernel.wording import exact, fixed


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    outside = results["outside_diameter_mm"]
    is_metric = inputs.get("diametral_pitch") is None
    size = f"{turned(outside, 'mm')} mm" if is_metric else f"{turned(outside, 'inch')} in"
    face = exact(results["face_angle_deg"])
    return f"Turn the blank to {size}, its face to {fixed(face, 2)}°"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    kind = "parallel" if inputs.get("tooth_depth") == "parallel" else "taper"
    return (
        f"Bevel pair, {inputs['teeth']} and {inputs['mate_teeth']} teeth, {pitch_words(inputs)}, {kind} depth"
    )


def _of_gear() -> tuple[Output, ...]:
    return (
        Output(name="pitch_angle_deg", unit="degree", help="Half angle of the pitch cone."),
        Output(name="pitch_diameter_mm", unit="millimetre", help="Pitch diameter at the large end."),
        Output(name="outside_diameter_mm", unit="millimetre", help="Over the tips at the large end."),
        Output(name="outside_diameter_small_mm", unit="millimetre", help="Over the tips at the small end."),
        Output(name="face_angle_deg", unit="degree", help="Of the blank, from the axis."),
        Output(name="root_angle_deg", unit="degree", help="The tilt of the head, from the axis."),
        Output(name="back_angle_deg", unit="degree", help="Of the back cone, from the axis."),
        Output(name="formative_teeth", unit="count", help="Teeth the cutter is picked by, not rounded."),
        Output(name="cutter_number", unit="", help="The cutter, as stamped; none below 12 teeth."),
        Output(name="cutter_from_teeth", unit="count", help="Where the cutter’s range begins."),
        Output(name="cutter_to_teeth", unit="count", help="Where it ends; none to a rack."),
        Output(
            name="pitch_to_apex_mm", unit="millimetre", help="Large pitch circle to apex, along the axis."
        ),
        Output(name="crown_to_apex_mm", unit="millimetre", help="Outer tip edge to apex, along the axis."),
        Output(
            name="crown_to_apex_small_mm", unit="millimetre", help="Inner tip edge to apex, along the axis."
        ),
        Output(name="chordal_thickness_large_mm", unit="millimetre", help="One tooth across, large end."),
        Output(name="chordal_addendum_large_mm", unit="millimetre", help="From the tip down to that chord."),
        Output(name="chordal_thickness_small_mm", unit="millimetre", help="One tooth across, small end."),
        Output(name="chordal_addendum_small_mm", unit="millimetre", help="From the tip down to that chord."),
        Output(name="undercut", unit="", help="Whether a rack of full depth would undercut it."),
        Output(name="undercut_limit_teeth", unit="count", help="Formative teeth below which it would."),
        Output(name="set_over_mm", unit="millimetre", help="Set-over of the table, each side."),
        Output(name="roll_deg", unit="degree", help="Roll of the blank, opposite to it, each side."),
    )


def _of_pair() -> tuple[Output, ...]:
    return (
        Output(name="mate", unit="", help="The mate’s own sizes under the same names."),
        Output(
            name="cone_distance_mm", unit="millimetre", help="Apex to the large end, along the pitch cone."
        ),
        Output(name="mean_cone_distance_mm", unit="millimetre", help="Apex to the middle of the face."),
        Output(name="small_end_factor", unit="count", help="The small end for one of the large."),
        Output(name="addendum_mm", unit="millimetre", help="Pitch cone to tip, large end."),
        Output(name="dedendum_mm", unit="millimetre", help="Pitch cone to root, large end."),
        Output(name="whole_depth_mm", unit="millimetre", help="Whole depth at the large end."),
        Output(name="whole_depth_small_mm", unit="millimetre", help="Whole depth at the small end."),
        Output(name="face_width_limit_mm", unit="millimetre", help="The longest face that is sound."),
        Output(name="face_width_nominal_mm", unit="millimetre", help="Three tenths of the cone distance."),
        Output(name="module_large_mm", unit="millimetre", help="Module of the large end."),
        Output(name="module_small_mm", unit="millimetre", help="Module of the small end."),
        Output(name="cutter_module_mm", unit="millimetre", help="Module the cutter is of."),
        Output(name="ratio", unit="count", help="The larger to the smaller."),
        Output(name="depth_system", unit="", help="The depth system used."),
        Output(name="pitch_at", unit="", help="The end the pitch was taken at."),
    )


def teeth_entry(name: str, label: str, text: str) -> Input:
    """The entry of the teeth of a bevel gear."""
    return Input(
        name=name,
        label=label,
        kind="count",
        help=text,
        low=Fraction(TEETH[0]),
        high=Fraction(TEETH[1]),
        reason=TEETH_REASON,
    )


def _thickness(name: str, label: str, text: str) -> Input:
    return Input(
        name=name,
        label=label,
        kind="length",
        optional=True,
        seldom=True,
        help=text,
        low=limits.THICK_MM[0],
        high=limits.THICK_MM[1],
        reason=limits.THICK_REASON,
    )


BEVEL_PAIR = Calculation(
    key="bevel-pair",
    title="Bevel gears",
    summary="Cones, blanks, cutters and tooth measurements of a pair of straight bevel gears.",
    revision=1,
    about=(
        "Cones, blanks and cutters of a pair of straight bevel gears, by teeth that taper or by teeth of "
        "one depth. The head is tilted to the root angle and the cutter is picked by the formative "
        "number, never by the teeth counted. The set-over and roll shown are the old rule; how well they "
        "leave the teeth is another sum."
    ),
    example={
        "teeth": "36",
        "mate_teeth": "16",
        "diametral_pitch": "8",
        "face_width": "3/4 in",
    },
    inputs=(
        teeth_entry("teeth", "Teeth", "Teeth of the gear to be made."),
        teeth_entry(
            "mate_teeth", "Teeth of its mate", "A pitch cone is of both gears: the mate’s teeth are wanted."
        ),
        PITCH,
        MODULE,
        Input(
            name="tooth_depth",
            label="Depth of the teeth",
            kind="choice",
            default="taper",
            help="Both gears of a pair are of one kind; it changes the blank, the cutter and the tilt.",
            choices=(
                ("taper", "taper, by a bevel cutter of the large end"),
                ("parallel", "parallel, by a spur cutter of the small end"),
            ),
            reason=limits.TOOTH_DEPTH_REASON,
        ),
        Input(
            name="pitch_at",
            label="The pitch is of",
            kind="choice",
            optional=True,
            help="Usually the large end with taper depth, the small end with parallel.",
            choices=(("large", "the large end"), ("small", "the small end")),
            reason=limits.PITCH_AT_REASON,
        ),
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
            name="shaft_angle",
            label="Shaft angle",
            kind="angle",
            default="90",
            help="Between the two shafts where they meet.",
            low=limits.SHAFT_DEG[0],
            high=limits.SHAFT_DEG[1],
            reason=limits.SHAFT_REASON,
        ),
        PRESSURE_ANGLE,
        DEPTH_SYSTEM,
        CUTTER_SET,
        _thickness(
            "cutter_thickness_large",
            "Cutter, at the large end’s pitch line",
            "Taper depth only: thickness a large-end dedendum from its tip, for set-over and roll.",
        ),
        _thickness(
            "cutter_thickness_small",
            "Cutter, at the small end’s pitch line",
            "Thickness of the same cutter a small-end dedendum from its tip.",
        ),
    ),
    outputs=(*_of_gear(), *_of_pair()),
    function=bevel_pair,
    headline=headline,
    subject=subject,
)
