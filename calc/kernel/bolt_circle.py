"""Kernel room: holes evenly on a circle, by coordinates from the centre, and what to check them by."""

from fractions import Fraction
from math import radians, sin
from typing import Any

from calc.kernel.errors import check_within
from calc.kernel.keyway_entries import is_inch_size
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.working import Outcome, Step

KEY = "bolt_circles"
HOLES = (2, 200)
HOLES_REASON = "One hole needs no circle, and more than 200 are divided on a dividing head."
DIAMETER_MM = (Fraction(1), Fraction(5000))
DIAMETER_REASON = "It is the circle through the centres of the holes."
ANGLE_DEG = (Fraction(-360), Fraction(360))
ANGLE_REASON = "One turn either way comes to every place there is."
CENTRE_MM = (Fraction(-5000), Fraction(5000))
CENTRE_REASON = "It is where the centre of the circle stands on the table of the machine."
GEOMETRY = "worked here by trigonometry"


def bolt_circle(
    *,
    holes: int,
    diameter: Fraction,
    first_angle: Fraction = Fraction(),
    centre_x: Fraction | None = None,
    centre_y: Fraction | None = None,
) -> Outcome:
    """The coordinates of holes on a circle, the chord between neighbours, and the widest check.

    Every coordinate is from the datum: moves added one to another add their errors too.

    Parameters
    ----------
    holes : int
        How many, evenly round. [count] 2 to 200
    diameter : Fraction
        Of the circle through their centres. [mm] 1 mm to 5000 mm
    first_angle : Fraction
        Of the first hole, anticlockwise from the right. [degree] -360° to 360°
    centre_x : Fraction, optional
        Of the circle, to the right of the datum. [mm] -5000 mm to 5000 mm
    centre_y : Fraction, optional
        Of the circle, up from the datum. [mm] -5000 mm to 5000 mm

    Returns
    -------
    Outcome
        ``coordinates`` [-], a row to a hole, with its angle; ``chord_mm`` [millimetre] between the centres of
        neighbours; ``across_mm`` [millimetre] from the first hole to the one farthest from it, and
        ``across_hole`` [count], which that is.

    Raises
    ------
    OutOfRange
        An entry is outside its limits.

    Notes
    -----
    x = centre + D/2 cos(first + 360 i / n), y likewise with the sine; x to the right, y up, angles
    anticlockwise from +x. Chord = D sin(180 / n); to the i-th hole on, D sin(180 i / n).

    Examples
    --------
    >>> bolt_circle(holes=6, diameter=Fraction(3)).results["chord_mm"]
    1.5

    Sources
    -------
    bolt_circles, worked by hand.

    Checks
    ------
    bolt_circles#six, bolt_circles#five, bolt_circles#eight
    """
    _checked(Fraction(holes), diameter, first_angle, centre_x, centre_y)
    x, y = centre_x or Fraction(), centre_y or Fraction()
    coordinates: list[dict[str, Any]] = []
    for place in range(holes):
        angle = (first_angle + Fraction(360 * place, holes)) % 360
        coordinates.append(
            {
                "hole": place + 1,
                "angle_deg": float(angle),
                "x_mm": float(x + diameter / 2 * cosine(angle)),
                "y_mm": float(y + diameter / 2 * sine(angle)),
            }
        )
    far = holes // 2
    return Outcome(
        results={
            "coordinates": coordinates,
            "chord_mm": float(diameter * sine(Fraction(180, holes))),
            "across_mm": float(diameter * sine(Fraction(180 * far, holes))),
            "across_hole": far + 1,
        },
        working=tuple(_working(holes, diameter, first_angle, x, y)),
        sources=(KEY,),
    )


def sine(degrees: Fraction) -> Fraction:
    """The sine of an angle, exact where it is a whole or a half, so that a nought is nought."""
    angle = degrees % 360
    if angle >= 180:
        return -sine(angle - 180)
    angle = min(angle, 180 - angle)
    exact = {0: Fraction(), 30: Fraction(1, 2), 90: Fraction(1)}
    return exact[int(angle)] if angle in exact else Fraction(sin(radians(angle)))


def cosine(degrees: Fraction) -> Fraction:
    """The cosine of an angle, exact where it is a whole or a half."""
    return sine(degrees + 90)


def unit_of(diameter: Fraction) -> Fraction:
    """The unit a circle was made in, as near as its size tells: an inch or a millimetre. [mm]"""
    in_thous = (diameter / INCH * 1000).denominator == 1
    return INCH if in_thous or is_inch_size(diameter) else Fraction(1)


def _checked(
    holes: Fraction, diameter: Fraction, angle: Fraction, x: Fraction | None, y: Fraction | None
) -> None:
    for field, value, limits, unit, reason in (
        ("holes", holes, HOLES, "", HOLES_REASON),
        ("diameter", diameter, DIAMETER_MM, " mm", DIAMETER_REASON),
        ("first_angle", angle, ANGLE_DEG, "°", ANGLE_REASON),
        ("centre_x", x, CENTRE_MM, " mm", CENTRE_REASON),
        ("centre_y", y, CENTRE_MM, " mm", CENTRE_REASON),
    ):
        check_within(field, value, limits, unit, reason)


def _working(holes: int, diameter: Fraction, first: Fraction, x: Fraction, y: Fraction) -> list[Step]:
    lines = Lines(unit_of(diameter))
    for step in dict.fromkeys((1, holes // 2)):
        label = "Chord between neighbours" if step == 1 else f"From hole 1 to hole {step + 1}, the farthest"
        lines.length(
            label, f"diameter × sin({180 * step} / holes)", f"{{}} × sin({180 * step} / {{}})", [diameter],
            lambda wide, count, step=step: wide * sine(180 * step / count), GEOMETRY,
            plain=[Fraction(holes)],
        )  # fmt: skip
    for place in range(holes):
        for axis, centre, name, along in (("x", x, "cos", cosine), ("y", y, "sin", sine)):
            turned = 360 * place
            lines.length(
                f"Hole {place + 1}, {axis}",
                f"centre {axis} + diameter / 2 × {name}(first angle + {turned} / holes)",
                f"{{}} + {{}} / 2 × {name}({{}} + {turned} / {{}})", [centre, diameter],
                lambda at, wide, angle, count, along=along, turned=turned: (
                    at + wide / 2 * along(angle + turned / count)
                ),
                GEOMETRY, plain=[first, Fraction(holes)],
            )  # fmt: skip
    return lines.steps
