"""What a bevel differential asks for, what it hands back, and how it is spoken of."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.bevel_pair import teeth_entry
from calc.catalogue.spur_gear import MODULE, PITCH
from calc.kernel.bevel_differential import PINIONS, PINIONS_REASON, bevel_differential


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    if results["goes_together"]:
        return f"{inputs['pinions']} pinions go together"
    return f"{inputs['pinions']} pinions do not go together"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    sides = f"{inputs['left_teeth']} and {inputs['right_teeth']}"
    return f"Bevel differential, {sides} teeth, {inputs['pinions']} pinions of {inputs['pinion_teeth']}"


def _distances() -> tuple[Output, ...]:
    return tuple(
        Output(name=f"{member}_{name}", unit="millimetre", help=f"Apex to {words}, {member}.")
        for name, words in (
            ("mounting_mm", "the large pitch circle"),
            ("crown_to_apex_mm", "the outer tip edge"),
        )
        for member in ("left", "right", "pinion")
    )


BEVEL_DIFFERENTIAL = Calculation(
    key="bevel-differential",
    title="Bevel differential",
    summary="Whether the pinions of a bevel differential go together, its ratio and its cones.",
    revision=1,
    about=(
        "Whether the pinions of a bevel differential will go in evenly spaced, which numbers of pinions "
        "would, and what the ratio is. With a pitch it gives the cones and the mounting distances from "
        "the apex. It does not judge strength."
    ),
    example={
        "left_teeth": "36",
        "right_teeth": "36",
        "pinion_teeth": "16",
        "pinions": "4",
        "diametral_pitch": "8",
    },
    inputs=(
        teeth_entry("left_teeth", "Teeth, left side gear", "The gear that drives the left wheel."),
        teeth_entry("right_teeth", "Teeth, right side gear", "Usually as many as the left."),
        teeth_entry(
            "pinion_teeth", "Teeth of a pinion", "They do not settle what goes together, only the cones."
        ),
        Input(
            name="pinions",
            label="Pinions",
            kind="count",
            help="Equally spaced in the carrier.",
            low=Fraction(PINIONS[0]),
            high=Fraction(PINIONS[1]),
            reason=PINIONS_REASON,
        ),
        replace(PITCH, help="Of the large end, for the mounting distances; or enter the module, or neither."),
        replace(MODULE, help="In place of diametral pitch, of the large end."),
    ),
    outputs=(
        Output(name="goes_together", unit="", help="Whether these pinions go in, equally spaced."),
        Output(name="pinions_that_go", unit="", help="Those of 2 to 6 that do."),
        Output(name="pinions_clear", unit="", help="Whether the pinions stand clear of one another."),
        Output(name="ratio", unit="count", help="Turns of the right gear for one of the carrier, left held."),
        Output(name="left_pitch_angle_deg", unit="degree", help="Pitch angle, left."),
        Output(name="right_pitch_angle_deg", unit="degree", help="Pitch angle, right."),
        Output(name="pinion_pitch_angle_deg", unit="degree", help="Pitch angle, pinion."),
        Output(name="pinion_shaft_angle_deg", unit="degree", help="Pinion’s shaft to the left gear’s."),
        Output(
            name="cone_distance_mm", unit="millimetre", help="Apex to the large end; none without a pitch."
        ),
        *_distances(),
    ),
    function=bevel_differential,
    headline=headline,
    subject=subject,
)
