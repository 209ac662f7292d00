"""What a spindle speed asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import spindle_speed as limits
from calc.kernel.keyway_entries import is_inch_size, size_text
from calc.kernel.spindle_speed import spindle_speed
from calc.kernel.units import INCH
from calc.kernel.wording import exact, fixed

MATERIAL_WORDS = {
    "aluminium": "aluminium",
    "brass": "brass and bronze",
    "copper": "copper",
    "soft-iron": "soft cast iron",
    "hard-iron": "hard cast iron",
    "mild-steel": "mild steel",
    "cast-steel": "cast steel",
    "tool-steel": "tool steel, annealed",
    "stainless": "stainless steel",
}


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    turns = fixed(Fraction(results["spindle_speed_rpm"]), 0)
    if results["nearest_rpm"] is None:
        return f"{turns} turns a minute"
    return f"{results['nearest_rpm']} turns a minute; {turns} is the most"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    diameter = exact(inputs["diameter"])
    size = size_text(diameter, INCH if is_inch_size(diameter) else Fraction(1))
    material = MATERIAL_WORDS.get(inputs.get("material") or "", "")
    return f"Spindle speed, {size}{f', {material}' if material else ''}"


SPINDLE_SPEED = Calculation(
    key="spindle-speed",
    title="Spindle speed",
    summary="Turns a minute for a diameter, by cutting speed or material, rounded down to the machine's.",
    revision=1,
    about=(
        "Turns a minute for a diameter at a cutting speed, or for a material where the tables give one, "
        "and the highest of the machine’s own speeds that is not above it. Tables differ by as much as "
        "two to one: the source and the range of the other are shown. Begin low with a weak machine, a "
        "long overhang or a doubtful tool."
    ),
    example={
        "diameter": "1 1/2 in",
        "material": "mild-steel",
        "spindle_speeds": "70, 110, 180, 300",
        "length": "6 in",
        "feed": "0.004 in",
    },
    inputs=(
        Input(
            name="diameter",
            label="Diameter",
            kind="length",
            help="Of the work before the cut, the bore after it, the drill or the cutter.",
            low=limits.DIAMETER_MM[0],
            high=limits.DIAMETER_MM[1],
            reason=limits.DIAMETER_REASON,
        ),
        Input(
            name="cutting_speed",
            label="Cutting speed",
            kind="speed",
            optional=True,
            help="90 ft/min, 27 m/min. Or take a material.",
            low=limits.SPEED_M_MIN[0],
            high=limits.SPEED_M_MIN[1],
            reason=limits.SPEED_REASON,
        ),
        Input(
            name="material",
            label="Material",
            kind="choice",
            default=limits.NO_MATERIAL,
            help="Takes its speed from the table.",
            choices=((limits.NO_MATERIAL, "none, by cutting speed"), *MATERIAL_WORDS.items()),
        ),
        Input(
            name="tool",
            label="Tool",
            kind="choice",
            default="hss",
            help="Carbide has twice the speed of the table.",
            choices=(("hss", "high-speed steel"), ("carbide", "carbide")),
        ),
        Input(
            name="spindle_speeds",
            label="Speeds of the machine",
            kind="counts",
            optional=True,
            help="With commas: 70, 110, 180, 300. The highest that is not above is taken.",
            low=Fraction(limits.STEPS[0]),
            high=Fraction(limits.STEPS[1]),
            most=limits.MOST_STEPS,
            reason=limits.STEPS_REASON,
        ),
        Input(
            name="length",
            label="Length of the cut",
            kind="length",
            optional=True,
            help="With the feed it gives the time.",
            low=limits.LENGTH_MM[0],
            high=limits.LENGTH_MM[1],
            reason=limits.LENGTH_REASON,
        ),
        Input(
            name="feed",
            label="Feed to one turn",
            kind="length",
            optional=True,
            help="0.004 in, 0.1 mm.",
            low=limits.FEED_MM[0],
            high=limits.FEED_MM[1],
            reason=limits.FEED_REASON,
        ),
    ),
    outputs=(
        Output(name="cutting_speed_m_min", unit="metre per minute", help="The cutting speed in use."),
        Output(name="spindle_speed_rpm", unit="turn per minute", help="Turns a minute for it."),
        Output(name="nearest_rpm", unit="turn per minute", help="The machine's highest that is not above."),
        Output(name="speed_run_m_min", unit="metre per minute", help="The cutting speed at the speed run."),
        Output(name="time_min", unit="minute", help="For one cut."),
        Output(name="other_low_m_min", unit="metre per minute", help="The other source's lowest."),
        Output(name="other_high_m_min", unit="metre per minute", help="The other source's highest."),
    ),
    function=spindle_speed,
    headline=headline,
    subject=subject,
)
