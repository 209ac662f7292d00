"""An exact second way for bevel teeth cut in three rounds: points in space, inside the swept cutter or not.

Lengths are in modules of the cutter, angles in radians. The machine's frame: t along the pitch element from
the apex, x to the right seen along the feed, h outward. The blank's axis runs through the apex along
(cos δ, 0, −sin δ). Sources: gears.md 1.3 and the set-up of bevel_cutting.md, both derived there.
"""

from collections.abc import Sequence
from math import acos, atan, atan2, cos, hypot, inf, isfinite, pi, radians, sin, sqrt, tan
from typing import NamedTuple

from tests.oracles import halved

Point = tuple[float, float, float]
#: A circle about a gear's axis: how far along the axis from the apex, and its radius.
Circle = tuple[float, float]


class Gear(NamedTuple):
    """A bevel gear with teeth of one depth, whose small end has the module one."""

    teeth: int
    mate_teeth: int
    shaft_angle: float
    pressure_angle: float
    depth: float
    face: float

    @property
    def pitch_angle(self) -> float:
        return atan2(sin(self.shaft_angle), self.mate_teeth / self.teeth + cos(self.shaft_angle))

    @property
    def small_distance(self) -> float:
        return self.teeth / 2 / sin(self.pitch_angle)

    def distance(self, station: float) -> float:
        """Cone distance at a station: 0 the small end, 1 the large end."""
        return self.small_distance + station * self.face

    def back_radius(self, station: float) -> float:
        """Pitch radius on the developed back cone."""
        return self.distance(station) * tan(self.pitch_angle)

    def base_radius(self, station: float) -> float:
        """The base circle of the wanted tooth on the developed back cone."""
        return self.back_radius(station) * cos(self.pressure_angle)

    def back_circle(self, station: float, radius: float) -> Circle:
        """Where points of the developed back cone, so far from its apex, lie about the axis."""
        angle = self.pitch_angle
        return self.distance(station) / cos(angle) - radius * sin(angle), radius * cos(angle)

    def mate(self) -> "Gear":
        return self._replace(teeth=self.mate_teeth, mate_teeth=self.teeth)


def gear_of(teeth: int, mate: int, *, shaft: float = 90, pressure: float = 20, depth: float = 2.157) -> Gear:
    """A gear with the widest face that is allowed: half the small cone distance."""
    gear = Gear(teeth, mate, radians(shaft), radians(pressure), depth, 0.0)
    return gear._replace(face=gear.small_distance / 2)


class Cut(NamedTuple):
    """How a gear is cut: the lowest count of the cutter's range, and what the trimming rounds are set to."""

    cutter_teeth: int
    roll: float
    set_over: float
    shallower: float = 0.0


class Slips(NamedTuple):
    """What is set wrong: lengths in modules; tilt in radians, lifting the large end about a station."""

    off_centre: float = 0.0
    tilt: float = 0.0
    pivot: float = 0.5
    left_set_over: float = 0.0
    right_set_over: float = 0.0
    high: float = 0.0


TRUE = Slips()


class Pass(NamedTuple):
    """One straight pass: the cutter so far to the right and up, the blank rolled to the right."""

    right: float
    up: float
    roll: float


def passes(cut: Cut, slips: Slips = TRUE) -> tuple[Pass, Pass, Pass]:
    """The centre round, the one that trims left flanks, the one that trims right flanks."""
    up = cut.shallower + slips.high
    return (
        Pass(slips.off_centre, slips.high, 0.0),
        Pass(slips.off_centre + cut.set_over + slips.left_set_over, up, cut.roll),
        Pass(slips.off_centre - cut.set_over - slips.right_set_over, up, -cut.roll),
    )


def mirrored(slips: Slips) -> Slips:
    return slips._replace(
        off_centre=-slips.off_centre, left_set_over=slips.right_set_over, right_set_over=slips.left_set_over
    )


# The obvious way: is a point of the blank inside the swept form?


def turned(point: Point, axis: Point, angle: float) -> Point:
    """A point turned about an axis through the apex (the formula of Rodrigues)."""
    along = sum(a * p for a, p in zip(axis, point, strict=True))
    cross = (
        axis[1] * point[2] - axis[2] * point[1],
        axis[2] * point[0] - axis[0] * point[2],
        axis[0] * point[1] - axis[1] * point[0],
    )
    x, y, z = (
        p * cos(angle) + c * sin(angle) + a * along * (1 - cos(angle))
        for p, c, a in zip(point, cross, axis, strict=True)
    )
    return x, y, z


def in_cutter(x: float, h: float, gear: Gear, cutter_teeth: int) -> bool:
    """Whether the cutter's section covers a point: the space of a gear with its lowest count of teeth."""
    from_centre = hypot(x, h + cutter_teeth / 2)
    opening = half_space(cutter_teeth, gear.pressure_angle, cutter_teeth / 2, from_centre)
    return h >= 1 - gear.depth and abs(atan2(x, h + cutter_teeth / 2)) <= opening


def half_space(teeth: float, pressure_angle: float, pitch_radius: float, radius: float) -> float:
    """Half the angle of a space between involute flanks, radial below the base circle."""
    base = pitch_radius * cos(pressure_angle)
    rolled = sqrt((radius / base) ** 2 - 1) if radius > base else 0.0
    return pi / 2 / teeth - tan(pressure_angle) + pressure_angle + rolled - atan(rolled)


def removed(point: Point, gear: Gear, cut: Cut, slips: Slips = TRUE) -> bool:
    """Whether a point of the blank, in its place for the centre round, is gone after three rounds."""
    return any(_gone(point, gear, cut.cutter_teeth, one, slips) for one in passes(cut, slips))


def _gone(point: Point, gear: Gear, cutter_teeth: int, one: Pass, slips: Slips) -> bool:
    axis = (cos(gear.pitch_angle), 0.0, -sin(gear.pitch_angle))
    # The formula takes h towards −x about an axis along t; a roll takes the top to the right.
    t, x, h = turned(point, axis, -one.roll)
    pivot = gear.distance(slips.pivot)
    h = h * cos(slips.tilt) + (t - pivot) * sin(slips.tilt)
    return in_cutter(x - one.right, h - one.up, gear, cutter_teeth)


def blank_point(gear: Gear, circle: Circle, azimuth: float) -> Point:
    """A point on a circle about the blank's axis; azimuth to the right from the top."""
    along, radius = circle
    sine, cosine = sin(gear.pitch_angle), cos(gear.pitch_angle)
    outward = radius * cos(azimuth)
    return along * cosine + outward * sine, radius * sin(azimuth), -along * sine + outward * cosine


def flank_by_halving(gear: Gear, cut: Cut, circle: Circle, slips: Slips = TRUE, *, side: int = -1) -> float:
    """Azimuth from the middle of the space to its left (−1) or right (1) flank, only by asking points."""

    def metal(azimuth: float) -> float:
        return -0.5 if removed(blank_point(gear, circle, side * azimuth), gear, cut, slips) else 0.5

    return halved(metal, 0.0, 1.5 * pi / gear.teeth)


# The quick way: on a circle about the axis the section's edge is found by the secant rule, pass by pass.


def left_azimuths(gear: Gear, cut: Cut, circles: Sequence[Circle], slips: Slips = TRUE) -> list[float]:
    """Azimuth from the middle of the space to its left flank on each circle; `-inf` where nothing is cut."""
    found = [-inf] * len(circles)
    centre, left, right = passes(cut, slips)
    # The round that trims left flanks comes first, since it takes the most of them nearly everywhere.
    for one in (left, centre, right):
        guess = pi / 2 / gear.teeth
        edge = _Edge(gear, cut.cutter_teeth, one, slips)
        for place, (along, radius) in enumerate(circles):
            if edge.beyond(along, radius, found[place] - one.roll):
                continue
            at = edge.azimuth(along, radius, guess)
            if isfinite(at):
                guess = at
                found[place] = max(found[place], at + one.roll)
    return found


def right_azimuths(gear: Gear, cut: Cut, circles: Sequence[Circle], slips: Slips = TRUE) -> list[float]:
    """Azimuth to the right flank: the left one, with everything seen in a mirror."""
    return left_azimuths(gear, cut, circles, mirrored(slips))


class _Edge:
    """The left edge of one pass, seen in a mirror so that azimuths are above nought."""

    def __init__(self, gear: Gear, cutter_teeth: int, one: Pass, slips: Slips) -> None:
        self.right = -one.right
        self.centre = cutter_teeth / 2
        self.base = self.centre * cos(gear.pressure_angle)
        self.least = pi / 2 / cutter_teeth - tan(gear.pressure_angle) + gear.pressure_angle
        sine, cosine = sin(gear.pitch_angle), cos(gear.pitch_angle)
        self.per_along = cosine * sin(slips.tilt) - sine * cos(slips.tilt)
        self.per_outward = cosine * cos(slips.tilt) + sine * sin(slips.tilt)
        self.lower = gear.distance(slips.pivot) * sin(slips.tilt) + one.up
        self.floor = 1 - gear.depth

    def azimuth(self, along: float, radius: float, guess: float) -> float:
        """Where the edge is; at the corner of the cutter's tip below that; `-inf` under its floor."""
        height = along * self.per_along - self.lower
        outward = radius * self.per_outward
        corner = (self.floor - height) / outward
        if corner > 1:
            return -inf
        return min(self._flank(radius, height + self.centre, outward, guess), acos(corner))

    def beyond(self, along: float, radius: float, azimuth: float) -> bool:
        """Whether a place on the circle is past the flank already, so that the pass takes nothing more."""
        height = along * self.per_along - self.lower + self.centre
        return isfinite(azimuth) and self._past(radius, height, radius * self.per_outward, azimuth) >= 0

    def _past(self, radius: float, height: float, outward: float, azimuth: float) -> float:
        """Angle about the cutter's centre from the flank; it grows with the azimuth."""
        x = radius * sin(azimuth) - self.right
        h = height + outward * cos(azimuth)
        ratio = (x * x + h * h) / (self.base * self.base) - 1
        if ratio <= 0:
            return atan2(x, h) - self.least
        rolled = sqrt(ratio)
        return atan2(x, h) - self.least - rolled + atan(rolled)

    def _flank(self, radius: float, height: float, outward: float, guess: float) -> float:
        """Where the circle meets the flank, by the secant rule; by halving where that fails."""
        before, at = guess + 1e-3, guess
        old, new = (self._past(radius, height, outward, angle) for angle in (before, at))
        for _ in range(40):
            if abs(at - before) < 1e-11 or new == old:
                return at
            before, at, old = at, at - new * (at - before) / (new - old), new
            new = self._past(radius, height, outward, at)
        return halved(lambda angle: self._past(radius, height, outward, angle), 0.0, pi / 4)


# Flank errors on the developed back cone.


def wanted_left(gear: Gear, station: float, radius: float) -> float:
    """Half the wanted space on the developed back cone (the equivalent spur gear)."""
    return half_space(
        gear.teeth / cos(gear.pitch_angle), gear.pressure_angle, gear.back_radius(station), radius
    )


def judged(gear: Gear, station: float, points: int) -> list[float]:
    """Radii on the developed back cone, over the working flank."""
    pitch = gear.back_radius(station)
    low = max(gear.base_radius(station), pitch - 1)
    return [low + (pitch + 1 - low) * at / (points - 1) for at in range(points)]


def flank_errors(
    gear: Gear, cut: Cut, station: float, radii: Sequence[float], slips: Slips = TRUE
) -> list[float]:
    """Metal left on, normal to the left flank, at each radius; below nought it is cut away."""
    circles = [gear.back_circle(station, radius) for radius in radii]
    base, cosine = gear.base_radius(station), cos(gear.pitch_angle)
    return [
        base * (wanted_left(gear, station, radius) - azimuth * cosine)
        for radius, azimuth in zip(radii, left_azimuths(gear, cut, circles, slips), strict=True)
    ]


class Worst(NamedTuple):
    """The most metal left on and cut away, both above nought."""

    left_on: float
    cut_away: float

    @property
    def either(self) -> float:
        return max(self)


def worst(gear: Gear, cut: Cut, *, stations: int = 17, points: int = 41) -> Worst:
    """The worst of the working flank over the face."""
    errors = [
        error
        for at in range(stations)
        for error in flank_errors(gear, cut, at / (stations - 1), judged(gear, at / (stations - 1), points))
    ]
    return Worst(max(0.0, *errors), max(0.0, *(-error for error in errors)))
