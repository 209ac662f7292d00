"""Slow, obvious second ways for bevel gears, differentials, helical gears and worms: points in space."""

from collections.abc import Sequence
from fractions import Fraction
from math import acos, cos, degrees, pi, radians, sin, sqrt
from typing import NamedTuple

from tests.oracles import halved

Vector = tuple[float, float, float]


def plus(a: Vector, b: Vector, times: float = 1.0) -> Vector:
    return a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]


def dot(a: Vector, b: Vector) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def length(a: Vector) -> float:
    return sqrt(dot(a, a))


def away(point: Vector, axis: Vector) -> float:
    """How far a point is from an axis through the origin."""
    return length(plus(point, axis, -dot(point, axis)))


class Cone(NamedTuple):
    """One bevel gear found from its axis and the line both gears touch along."""

    pitch_angle: float
    pitch_diameter: float
    outside_diameter: float
    crown: float
    face_angle: float
    root_angle: float
    formative: float


def bevel_cones(
    teeth: Sequence[int], shaft: float, module: float, addendum: float, dedendum: float, *, taper: bool
) -> list[Cone]:
    """Both gears, in space: the line of touch is where the distances from the two axes are as the teeth.

    Taper: face and root are seen from the apex. Parallel: face and root keep along the line of touch.
    """
    first: Vector = (1.0, 0.0, 0.0)
    second: Vector = (cos(radians(shaft)), sin(radians(shaft)), 0.0)

    def line(angle: float) -> Vector:
        return cos(angle), sin(angle), 0.0

    def excess(angle: float) -> float:
        return away(line(angle), first) * teeth[1] - away(line(angle), second) * teeth[0]

    touch = line(halved(excess, 0.0, radians(shaft)))
    distance = teeth[0] * module / 2 / away(touch, first)
    found = []
    for axis, count in ((first, teeth[0]), (second, teeth[1])):
        outward = plus(touch, axis, -dot(touch, axis) - 0.0)
        # Square to the line of touch in the plane of the axes, pointing away from this gear's axis.
        square = plus(outward, touch, -dot(outward, touch))
        square = (square[0] / length(square), square[1] / length(square), 0.0)
        place = (touch[0] * distance, touch[1] * distance, 0.0)
        tip, root = plus(place, square, addendum), plus(place, square, -dedendum)
        # From the pitch point along the back cone to the axis: the radius of the formative gear.
        reach = halved(lambda far: far - _to_axis(place, square, axis), 0.0, 1e7)  # noqa: B023
        seen = [degrees(acos(dot(point, axis) / length(point))) for point in (touch, tip, root)]
        found.append(
            Cone(
                pitch_angle=seen[0],
                pitch_diameter=2 * away(place, axis),
                outside_diameter=2 * away(tip, axis),
                crown=dot(tip, axis),
                face_angle=seen[1] if taper else seen[0],
                root_angle=seen[2] if taper else seen[0],
                formative=2 * reach / module,
            )
        )
        assert count
    return found


def _to_axis(place: Vector, square: Vector, axis: Vector) -> float:
    """How far from a point against a direction until the axis is met, in the plane of both."""
    normal: Vector = (-axis[1], axis[0], 0.0)
    return dot(place, normal) / dot(square, normal)


def chord_in_space(teeth: int, pitch_angle: float, module: float) -> tuple[float, float]:
    """One tooth straight across at the pitch circle, and how far its middle lies below it on the back cone.

    Half the circular pitch is laid along the pitch circle itself, and its two ends are joined.
    """
    radius, half = teeth * module / 2, pi / teeth / 2
    ends = [(radius * cos(way * half), radius * sin(way * half), 0.0) for way in (1, -1)]
    middle = plus(ends[0], plus(ends[1], ends[0], -1.0), 0.5)
    sunk = radius - length(middle)
    return length(plus(ends[0], ends[1], -1.0)), sunk * cos(radians(pitch_angle))


def pinion_fits(left: int, right: int, pinions: int) -> bool:
    """Whether every pinion finds both side gears as the first one does, neither gear being turned.

    What a pinion finds is how far the nearest tooth of each gear stands past it, in teeth. It may turn on
    its shaft to suit the left gear; by as much its far side turns the other way past the right gear.
    """
    found = set()
    for place in range(pinions):
        where = Fraction(place, pinions)
        past_left, past_right = (-where * count % 1 for count in (left, right))
        found.add((past_left + past_right) % 1)
    return len(found) == 1


def formative_of_helix(diameter: float, helix: float, module: float) -> float:
    """Teeth of the circle that fits the pitch cylinder cut square to the tooth, from three near points."""
    beta, near = radians(helix), 1e-4
    points = []
    for turn in (-near, 0.0, near):
        x, y = diameter / 2 * cos(turn), diameter / 2 * sin(turn)
        points.append((x, y / cos(beta)))  # the plane leans: what runs along it is that much longer
    (x1, y1), (x2, y2), (x3, y3) = points
    area = abs((x2 - x1) * (y3 - y1) - (x3 - x1) * (y2 - y1)) / 2
    sides = [
        sqrt((a - c) ** 2 + (b - d) ** 2)
        for (a, b), (c, d) in zip(points, points[1:] + points[:1], strict=True)
    ]
    radius = sides[0] * sides[1] * sides[2] / (4 * area)
    return 2 * radius / module


def helix_angle_of(diameter: float, lead: float) -> float:
    """Between a helix on a cylinder and its axis, from two points of it close together. [degree]"""
    turn = 1e-6
    along = lead * turn / (2 * pi)
    start, end = (diameter / 2, 0.0, 0.0), (diameter / 2 * cos(turn), diameter / 2 * sin(turn), along)
    way = plus(end, start, -1.0)
    return degrees(acos(way[2] / length(way)))
