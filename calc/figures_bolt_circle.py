"""Holes on a circle, numbered as they are drilled, with the first angle true."""

from math import cos, radians, sin

from calc.figures import Circle, Drawing, Path, Point, Role, Stroke, Text
from calc.figures_hatch import centre_lines

SIZE = 18.0  # of a number, in drawing units
_RADIUS, _OUT, _HALF = 150.0, 26.0, 205.0
_MOST_NUMBERS = 24


def bolt_circle(*, holes: int, first_angle: float) -> Drawing:
    """The circle with its holes, the first one hot; the chord from it to its neighbour.

    Parameters
    ----------
    holes : int
        How many.
    first_angle : float
        Of the first, anticlockwise from the right. [degree]
    """
    at = [_point(_RADIUS, first_angle + 360 * place / holes) for place in range(holes)]
    radius = min(11.0, 0.3 * 2 * _RADIUS * sin(radians(180 / holes)))
    strokes: list[Stroke] = [
        *centre_lines((0, 0), _RADIUS + 16),
        Circle(0, 0, _RADIUS, "c"),
        Path((at[0], at[1]), "hl"),
    ]
    strokes += [Circle(x, y, radius, "hot" if place == 0 else "o") for place, (x, y) in enumerate(at)]
    every = -(-holes // _MOST_NUMBERS)
    for place in range(0, holes, every):
        x, y = _point(_RADIUS + _OUT, first_angle + 360 * place / holes)
        role: Role = "hott" if place == 0 else "fig"
        strokes.append(Text(x, y + 0.35 * SIZE, str(place + 1), role, "middle", SIZE))
    label = f"{holes} holes on a circle, numbered anticlockwise from the first"
    return Drawing(label, -_HALF, -_HALF, 2 * _HALF, 2 * _HALF, tuple(strokes))


def _point(radius: float, angle: float) -> Point:
    """A point at an angle anticlockwise from the right; a drawing’s y goes down."""
    return radius * cos(radians(angle)), -radius * sin(radians(angle))
