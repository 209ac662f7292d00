"""What a spur gear asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import spur_gear_entries as limits
from calc.kernel.spur_gear import spur_gear
from calc.kernel.units import turned
from calc.kernel.wording import decimal_text


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    outside = results["outside_diameter_mm"]
    if inputs.get("diametral_pitch") is None:
        return f"Turn the blank to {turned(outside, 'mm')} mm"
    return f"Turn the blank to {turned(outside, 'inch')} in"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    teeth = f"{inputs['teeth']} teeth"
    if inputs.get("mate_teeth") is not None:
        teeth = f"{inputs['teeth']} and {inputs['mate_teeth']} teeth"
    return f"Spur gear, {teeth}, {pitch_words(inputs)}"


def pitch_words(inputs: dict[str, Any]) -> str:
    """The pitch as the trade says it: ``6 DP``, ``module 2``."""
    if inputs.get("diametral_pitch") is not None:
        return f"{decimal_text(Fraction(inputs['diametral_pitch']), 4)} DP"
    return f"module {decimal_text(Fraction(inputs['module']), 4)}"


PITCH = Input(
    name="diametral_pitch",
    label="Diametral pitch",
    kind="pitch",
    optional=True,
    help="Teeth to an inch of pitch diameter, 8 DP; or leave it empty and enter the module.",
    low=Fraction(limits.PITCH[0]),
    high=Fraction(limits.PITCH[1]),
    reason=limits.PITCH_REASON,
)
MODULE = Input(
    name="module",
    label="Module",
    kind="module",
    optional=True,
    help="In place of diametral pitch: millimetres of pitch diameter to a tooth.",
    low=Fraction(limits.MODULE_MM[0]),
    high=Fraction(limits.MODULE_MM[1]),
    reason=limits.MODULE_REASON,
)
PRESSURE_ANGLE = Input(
    name="pressure_angle",
    label="Pressure angle",
    kind="angle",
    default="20",
    help="As marked on the cutter: 20, or 14 1/2 on most old ones.",
    low=Fraction(limits.ANGLE_DEG[0]),
    high=Fraction(limits.ANGLE_DEG[1]),
    reason=limits.ANGLE_REASON,
)
DEPTH_SYSTEM = Input(
    name="depth_system",
    label="Depth system",
    kind="choice",
    optional=True,
    help="Whole depth as marked on the cutter; usually 2.157 with a DP, 2.25 with a module.",
    choices=(
        ("2.157", "2.157 of the pitch, old form cutters"),
        ("2.25", "2.25 of the pitch or module"),
        ("2.2+0.002", "2.2 and two thou, 20 DP and finer"),
        ("2.4", "2.4, fine modules"),
    ),
    reason=limits.DEPTH_REASON,
)
CUTTER_SET = Input(
    name="cutter_set",
    label="Cutters in the set",
    kind="choice",
    default="8",
    help="Eight whole numbers, or fifteen with the half numbers.",
    choices=(("8", "8"), ("15", "15, with half numbers")),
    reason=limits.CUTTER_SET_REASON,
)

SPUR_GEAR = Calculation(
    key="spur-gear",
    title="Spur gear",
    summary="Blank, depth, cutter and tooth measurements of a spur gear and its mate.",
    revision=1,
    about=(
        "Everything a blank and its teeth are made and measured by: diameters, depth, the cutter by its "
        "range, chord, span and pins, and the centres with the mate. Choose the depth system that the "
        "cutter was made to. Backlash is nought unless an allowance is entered, and the working says "
        "which gear it comes off."
    ),
    example={
        "teeth": "57",
        "diametral_pitch": "8 DP",
        "mate_teeth": "17",
        "drawing_centre_distance": "4.625 in",
    },
    inputs=(
        Input(
            name="teeth",
            label="Teeth",
            kind="count",
            help="Teeth of the gear to be made.",
            low=Fraction(limits.TEETH[0]),
            high=Fraction(limits.TEETH[1]),
            reason=limits.TEETH_REASON,
        ),
        PITCH,
        MODULE,
        Input(
            name="mate_teeth",
            label="Teeth of its mate",
            kind="count",
            optional=True,
            help="The gear it runs with; left empty, there are no centres and no ratio.",
            low=Fraction(limits.TEETH[0]),
            high=Fraction(limits.TEETH[1]),
            reason=limits.TEETH_REASON,
        ),
        PRESSURE_ANGLE,
        DEPTH_SYSTEM,
        CUTTER_SET,
        Input(
            name="face_width",
            label="Face width",
            kind="length",
            optional=True,
            help="Width of the teeth along the shaft, for the drawing.",
            low=Fraction(limits.FACE_MM[0]),
            high=Fraction(limits.FACE_MM[1]),
            reason=limits.FACE_REASON,
        ),
        Input(
            name="drawing_centre_distance",
            label="Centres on the drawing",
            kind="length",
            optional=True,
            help="To be held against the centres worked out.",
            low=Fraction(limits.CENTRES_MM[0]),
            high=Fraction(limits.CENTRES_MM[1]),
            reason=limits.CENTRES_REASON,
        ),
        Input(
            name="profile_shift",
            label="Profile shift",
            kind="number",
            default="0",
            seldom=True,
            help="How far the cutter is held out, in modules; below nought, in.",
            low=Fraction(limits.SHIFT[0]),
            high=Fraction(limits.SHIFT[1]),
            reason=limits.SHIFT_REASON,
        ),
        Input(
            name="span_teeth",
            label="Teeth to span",
            kind="count",
            optional=True,
            seldom=True,
            help="Between the anvils; left empty, as many as the angle makes usual.",
            low=Fraction(limits.SPAN[0]),
            high=Fraction(limits.SPAN[1]),
            reason=limits.SPAN_REASON,
        ),
        Input(
            name="backlash",
            label="Backlash of the pair",
            kind="length",
            optional=True,
            seldom=True,
            help="Along the pitch circle: half comes off this gear’s tooth, half off its mate’s.",
            low=Fraction(limits.BACKLASH_MM[0]),
            high=Fraction(limits.BACKLASH_MM[1]),
            reason=limits.BACKLASH_REASON,
        ),
        Input(
            name="pin_diameter",
            label="Pins to measure over",
            kind="length",
            optional=True,
            seldom=True,
            help="Diameter of one; about 1.7 modules. Sizes in use differ, so there is no usual one.",
            low=Fraction(limits.PIN_MM[0]),
            high=Fraction(limits.PIN_MM[1]),
            reason=limits.PIN_REASON,
        ),
        Input(
            name="outside_diameter_measured",
            label="Outside diameter as turned",
            kind="length",
            optional=True,
            seldom=True,
            help="Of this gear’s blank: the chordal addendum is then from the tip there is.",
            low=Fraction(limits.DIAMETER_MM[0]),
            high=Fraction(limits.DIAMETER_MM[1]),
            reason=limits.DIAMETER_REASON,
        ),
    ),
    outputs=(
        Output(name="pitch_diameter_mm", unit="millimetre", help="Pitch diameter."),
        Output(name="outside_diameter_mm", unit="millimetre", help="Outside diameter, of the blank."),
        Output(name="root_diameter_mm", unit="millimetre", help="Across the bottoms of the tooth spaces."),
        Output(name="base_diameter_mm", unit="millimetre", help="The circle the involute springs from."),
        Output(name="circular_pitch_mm", unit="millimetre", help="Tooth and space along the pitch circle."),
        Output(name="addendum_mm", unit="millimetre", help="Pitch circle to tip, by the nominal blank."),
        Output(name="whole_depth_mm", unit="millimetre", help="Whole depth of a tooth."),
        Output(name="tooth_thickness_mm", unit="millimetre", help="One tooth along the pitch circle."),
        Output(name="chordal_thickness_mm", unit="millimetre", help="One tooth straight across."),
        Output(name="chordal_addendum_mm", unit="millimetre", help="From the tip down to that chord."),
        Output(name="span_mm", unit="millimetre", help="Between flat anvils over the teeth spanned."),
        Output(name="span_teeth", unit="count", help="Teeth spanned."),
        Output(name="over_pins_mm", unit="millimetre", help="Over two pins; none where none rests right."),
        Output(name="cutter_number", unit="", help="The cutter, as stamped; none below 12 teeth."),
        Output(name="cutter_from_teeth", unit="count", help="Where the cutter’s range begins."),
        Output(name="cutter_to_teeth", unit="count", help="Where it ends; none to a rack."),
        Output(name="undercut", unit="", help="Whether a rack of full depth would undercut it."),
        Output(name="undercut_limit_teeth", unit="count", help="Teeth below which it would."),
        Output(name="centre_distance_mm", unit="millimetre", help="Nominal centres; none without a mate."),
        Output(
            name="running_centre_distance_mm", unit="millimetre", help="Where the pair runs, with the shift."
        ),
        Output(name="ratio", unit="count", help="The larger to the smaller."),
        Output(name="contact_ratio", unit="count", help="Pairs of teeth in touch, on the average."),
        Output(name="mate", unit="", help="The mate’s own sizes under the same names."),
        Output(name="depth_system", unit="", help="The depth system used."),
        Output(name="module_mm", unit="millimetre", help="The module used."),
    ),
    function=spur_gear,
    headline=headline,
    subject=subject,
)
