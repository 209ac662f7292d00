"""What a worm and its wheel ask for, what they hand back, and how they are spoken of."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.spur_gear import DEPTH_SYSTEM, MODULE, PITCH, PRESSURE_ANGLE
from calc.kernel import worm_pair_sizes as limits
from calc.kernel.spur_gear_entries import TEETH
from calc.kernel.units import INCH, fine, turned
from calc.kernel.wording import decimal_text, exact, plural
from calc.kernel.worm_pair import worm_pair
from calc.kernel.worm_pair_sizes import worm_in_inches


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    lead, centres = results["lead_mm"], results["centre_distance_mm"]
    if not worm_in_inches(inputs):
        return f"Lead {fine(lead, 'mm')} mm, centres {turned(centres, 'mm')} mm"
    return f"Lead {fine(lead, 'inch')} in, centres {turned(centres, 'inch')} in"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    starts = plural(inputs["starts"], "start")
    return f"Worm of {starts}, wheel of {inputs['wheel_teeth']} teeth, {worm_pitch_words(inputs)}"


def worm_pitch_words(inputs: dict[str, Any]) -> str:
    """The pitch as it was given: ``8 DP``, ``module 2``, ``axial pitch 0.5 in``."""
    if inputs.get("diametral_pitch") is not None:
        return f"{decimal_text(Fraction(inputs['diametral_pitch']), 4)} DP"
    if inputs.get("module") is not None:
        return f"module {decimal_text(Fraction(inputs['module']), 4)}"
    axial = exact(inputs["axial_pitch"])
    if worm_in_inches(inputs):
        return f"axial pitch {decimal_text(axial / INCH, 4)} in"
    return f"axial pitch {decimal_text(axial, 4)} mm"


WORM_PAIR = Calculation(
    key="worm-pair",
    title="Worm and wheel",
    summary="Lead, diameters and centres of a worm and its wheel, or of a steering worm and segment.",
    revision=1,
    about=(
        "Lead, diameters and centres of a worm and its wheel, a steering worm and its segment among them. "
        "The worm’s diameter is free to choose: a thicker worm has a smaller lead angle and holds better "
        "against driving back. The pitch is along the worm."
    ),
    example={
        "starts": "1",
        "wheel_teeth": "36",
        "axial_pitch": "1/2 in",
        "worm_diameter": "1 1/4 in",
    },
    inputs=(
        Input(
            name="starts",
            label="Starts",
            kind="count",
            help="Threads of the worm: one on most steerings.",
            low=Fraction(limits.STARTS[0]),
            high=Fraction(limits.STARTS[1]),
            reason=limits.STARTS_REASON,
        ),
        Input(
            name="wheel_teeth",
            label="Teeth of the wheel",
            kind="count",
            help="Of a segment: as many as its whole circle would have.",
            low=Fraction(TEETH[0]),
            high=Fraction(TEETH[1]),
            reason=limits.WHEEL_REASON,
        ),
        Input(
            name="worm_diameter",
            label="Worm diameter, at the pitch line",
            kind="length",
            help="Not over the threads, which are two addenda more.",
            low=limits.WORM_MM[0],
            high=limits.WORM_MM[1],
            reason=limits.WORM_REASON,
        ),
        Input(
            name="axial_pitch",
            label="Axial pitch",
            kind="length",
            optional=True,
            help="From thread to thread along the worm; or enter one of the next two.",
            low=limits.AXIAL_MM[0],
            high=limits.AXIAL_MM[1],
            reason=limits.AXIAL_REASON,
        ),
        replace(PITCH, help="In place of the axial pitch: teeth to an inch of the wheel’s pitch diameter."),
        replace(MODULE, help="In place of the axial pitch: millimetres of pitch diameter to a tooth."),
        replace(PRESSURE_ANGLE, help="Of the thread’s side, along the worm: half the angle of the tool."),
        replace(DEPTH_SYSTEM, help="Usually 2.157 in inches, 2.25 in millimetres."),
    ),
    outputs=(
        Output(name="ratio", unit="count", help="Turns of the worm for one of the wheel."),
        Output(name="axial_pitch_mm", unit="millimetre", help="Thread to thread along the worm."),
        Output(name="module_mm", unit="millimetre", help="Along the worm."),
        Output(name="normal_module_mm", unit="millimetre", help="Square to the thread."),
        Output(name="lead_mm", unit="millimetre", help="What the thread moves on in one turn."),
        Output(name="lead_angle_deg", unit="degree", help="Of the thread, at the pitch line."),
        Output(name="addendum_mm", unit="millimetre", help="Pitch line to tip of the thread."),
        Output(name="whole_depth_mm", unit="millimetre", help="Depth of the thread."),
        Output(name="worm_outside_diameter_mm", unit="millimetre", help="Worm, over its threads."),
        Output(name="worm_root_diameter_mm", unit="millimetre", help="Worm, at the bottom of its thread."),
        Output(name="wheel_pitch_diameter_mm", unit="millimetre", help="Wheel, pitch diameter."),
        Output(name="throat_diameter_mm", unit="millimetre", help="Wheel, over the tips in its middle."),
        Output(name="throat_radius_mm", unit="millimetre", help="Of the hollow of the wheel’s face."),
        Output(name="centre_distance_mm", unit="millimetre", help="Between the two shafts."),
        Output(name="undercut", unit="", help="Whether the worm undercuts the wheel’s teeth."),
        Output(name="undercut_limit_teeth", unit="count", help="Wheel teeth below which it does."),
        Output(name="depth_system", unit="", help="The depth system used."),
    ),
    function=worm_pair,
    headline=headline,
    subject=subject,
)
