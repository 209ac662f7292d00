"""What a helical gear asks for, what it hands back, and how it is spoken of."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.spur_gear import CUTTER_SET, DEPTH_SYSTEM, MODULE, PITCH, PRESSURE_ANGLE, pitch_words
from calc.kernel import helical_gear_sizes as limits
from calc.kernel.helical_gear import helical_gear
from calc.kernel.spur_gear_entries import SHIFT, SHIFT_REASON, TEETH, TEETH_REASON
from calc.kernel.units import turned
from calc.kernel.wording import dms_text


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    outside, lead = results["outside_diameter_mm"], results["lead_mm"]
    if inputs.get("diametral_pitch") is None:
        return f"Turn the blank to {turned(outside, 'mm')} mm, lead {turned(lead, 'mm')} mm"
    return f"Turn the blank to {turned(outside, 'inch')} in, lead {turned(lead, 'inch')} in"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    teeth = f"{inputs['teeth']} teeth"
    if inputs.get("mate_teeth") is not None:
        teeth = f"{inputs['teeth']} and {inputs['mate_teeth']} teeth"
    angle = dms_text(Fraction(inputs["helix_angle"]))
    plane = " transverse" if inputs.get("pitch_in") == "transverse" else ""
    return f"Helical gear, {teeth}, {pitch_words(inputs)}{plane}, {angle}"


HELICAL_GEAR = Calculation(
    key="helical-gear",
    title="Helical gear",
    summary="Blank, lead, cutter and chord of a helical gear and its mate on parallel shafts.",
    revision=1,
    about=(
        "A helical gear and its mate on parallel shafts, cut with an ordinary spur gear cutter. The pitch "
        "is that of the cutter, square to the tooth, unless said otherwise. The cutter is picked by the "
        "formative number, which is well above the number of teeth; the lead is what the change gears of "
        "the table must give."
    ),
    example={
        "teeth": "24",
        "mate_teeth": "40",
        "diametral_pitch": "10",
        "helix_angle": "22 1/2 deg",
    },
    inputs=(
        Input(
            name="teeth",
            label="Teeth",
            kind="count",
            help="Teeth of the gear to be made.",
            low=Fraction(TEETH[0]),
            high=Fraction(TEETH[1]),
            reason=TEETH_REASON,
        ),
        Input(
            name="helix_angle",
            label="Helix angle",
            kind="angle",
            help="Of the tooth to the axis, at the pitch circle.",
            low=limits.HELIX_DEG[0],
            high=limits.HELIX_DEG[1],
            reason=limits.HELIX_REASON,
        ),
        replace(PITCH, help="Of the cutter, square to the tooth; or leave it empty and enter the module."),
        MODULE,
        Input(
            name="mate_teeth",
            label="Teeth of its mate",
            kind="count",
            optional=True,
            help="On a parallel shaft, of the other hand; left empty, there are no centres.",
            low=Fraction(TEETH[0]),
            high=Fraction(TEETH[1]),
            reason=TEETH_REASON,
        ),
        replace(PRESSURE_ANGLE, help="Square to the tooth, as marked on the cutter."),
        DEPTH_SYSTEM,
        CUTTER_SET,
        Input(
            name="pitch_in",
            label="The pitch is",
            kind="choice",
            default="normal",
            seldom=True,
            help="The cutter’s is the normal one; an old drawing may give that of the face.",
            choices=(("normal", "normal, square to the tooth"), ("transverse", "transverse, of the face")),
            reason=limits.PITCH_IN_REASON,
        ),
        Input(
            name="profile_shift",
            label="Profile shift",
            kind="number",
            default="0",
            seldom=True,
            help="How far the cutter is held out, in normal modules; below nought, in.",
            low=Fraction(SHIFT[0]),
            high=Fraction(SHIFT[1]),
            reason=SHIFT_REASON,
        ),
    ),
    outputs=(
        Output(name="normal_module_mm", unit="millimetre", help="Module square to the tooth, the cutter’s."),
        Output(name="normal_diametral_pitch", unit="per inch", help="The same as a diametral pitch."),
        Output(name="transverse_module_mm", unit="millimetre", help="Module in the plane of the face."),
        Output(
            name="transverse_pressure_angle_deg",
            unit="degree",
            help="Pressure angle in the plane of the face.",
        ),
        Output(name="pitch_diameter_mm", unit="millimetre", help="Pitch diameter."),
        Output(name="outside_diameter_mm", unit="millimetre", help="Outside diameter, of the blank."),
        Output(name="root_diameter_mm", unit="millimetre", help="Across the bottoms of the spaces."),
        Output(name="addendum_mm", unit="millimetre", help="Pitch circle to tip."),
        Output(name="whole_depth_mm", unit="millimetre", help="Whole depth of a tooth."),
        Output(name="cutter_teeth", unit="count", help="Teeth the cutter is picked by, not rounded."),
        Output(name="cutter_number", unit="", help="The cutter, as stamped; none below 12 teeth."),
        Output(name="cutter_from_teeth", unit="count", help="Where the cutter’s range begins."),
        Output(name="cutter_to_teeth", unit="count", help="Where it ends; none to a rack."),
        Output(name="lead_mm", unit="millimetre", help="How far a tooth runs along the axis in one turn."),
        Output(name="axial_pitch_mm", unit="millimetre", help="Tooth to tooth along the axis."),
        Output(name="chordal_thickness_mm", unit="millimetre", help="One tooth across, square to it."),
        Output(name="chordal_addendum_mm", unit="millimetre", help="From the tip down to that chord."),
        Output(name="centre_distance_mm", unit="millimetre", help="Nominal centres; none without a mate."),
        Output(name="ratio", unit="count", help="The larger to the smaller."),
        Output(name="mate", unit="", help="The mate’s own sizes under the same names."),
        Output(name="depth_system", unit="", help="The depth system used."),
    ),
    function=helical_gear,
    headline=headline,
    subject=subject,
)
