"""What a bolt circle asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import bolt_circle as limits
from calc.kernel.bolt_circle import bolt_circle
from calc.kernel.keyway_entries import size_text
from calc.kernel.wording import exact, fixed


def circle_text(diameter: Any) -> str:
    """The circle in the measure it was made to: ``3 in``, ``76 mm``."""
    size = exact(diameter)
    return size_text(size, limits.unit_of(size))


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    unit = limits.unit_of(exact(inputs["diameter"]))
    chord = fixed(Fraction(results["chord_mm"]) / unit, 3 if unit == 1 else 4)
    return f"{inputs['holes']} holes, chord {chord} {'mm' if unit == 1 else 'in'}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Bolt circle, {inputs['holes']} holes on {circle_text(inputs['diameter'])}"


def _centre(axis: str, way: str) -> Input:
    return Input(
        name=f"centre_{axis}", label=f"Centre, {axis}", kind="length", optional=True,
        help=f"Of the circle, {way} the datum; nought unless entered.",
        low=limits.CENTRE_MM[0], high=limits.CENTRE_MM[1], reason=limits.CENTRE_REASON,
    )  # fmt: skip


BOLT_CIRCLE = Calculation(
    key="bolt-circle",
    title="Bolt circle",
    summary="Holes evenly on a circle: their coordinates, the chord, a check across.",
    revision=1,
    about=(
        "Coordinates of holes evenly round a circle, for a milling table or a height gauge, with the "
        "chord between neighbours and one check across. x runs to the right and y up. Angles go "
        "anticlockwise from the right."
    ),
    example={
        "holes": "6",
        "diameter": "3 in",
    },
    inputs=(
        Input(
            name="holes",
            label="Holes",
            kind="count",
            help="How many, evenly round.",
            low=Fraction(limits.HOLES[0]),
            high=Fraction(limits.HOLES[1]),
            reason=limits.HOLES_REASON,
        ),
        Input(
            name="diameter",
            label="Diameter of the circle",
            kind="length",
            help="Through the centres of the holes: 3 in, 76 mm.",
            low=limits.DIAMETER_MM[0],
            high=limits.DIAMETER_MM[1],
            reason=limits.DIAMETER_REASON,
        ),
        Input(
            name="first_angle",
            label="Angle of the first hole",
            kind="angle",
            default="0",
            help="Anticlockwise from the right; 90 is the top.",
            low=limits.ANGLE_DEG[0],
            high=limits.ANGLE_DEG[1],
            reason=limits.ANGLE_REASON,
        ),
        _centre("x", "to the right of"),
        _centre("y", "up from"),
    ),
    outputs=(
        Output(name="coordinates", unit="", help="A row to a hole: angle, x to the right, y up."),
        Output(name="chord_mm", unit="millimetre", help="Between the centres of neighbours."),
        Output(name="across_mm", unit="millimetre", help="From hole 1 to the hole farthest from it."),
        Output(name="across_hole", unit="count", help="Which hole that is."),
    ),
    function=bolt_circle,
    headline=headline,
    subject=subject,
)
