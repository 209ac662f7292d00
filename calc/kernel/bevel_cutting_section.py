"""Kernel room: the teeth that three rounds of a disc cutter leave in a bevel blank, section by section."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import acos, atan2, cos, hypot, pi, sin, sqrt, tan

#: Where no round reaches: below any angle a round can leave.
NOT_CUT = -9.0
#: Sections that are reported along the face; fewer can miss a local peak of a hundredth of a module.
STATIONS = 17
#: Heights at which a section is judged, from the pitch line less a module to the tip.
HEIGHTS = 49
#: Points along the flank of a cutter, and how far past its addendum the form goes on.
EDGE_POINTS, EDGE_BEYOND = 80, 0.35
#: Points along the bottom of a cut, from the middle to the corner.
FLOOR = 8
#: Halvings and falsifications after which a root is as good as a float can hold it.
ROUNDS = 60
Edge = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One gear of the pair as it is to be cut; lengths in modules of the cutter, angles in radians."""

    teeth: int
    cosine: float  # of the pitch angle
    sine: float
    face: float
    pressure_angle: float
    depth: float  # whole depth of the first round

    @property
    def formative(self) -> float:
        """Teeth of the spur gear that has these teeth, not rounded."""
        return self.teeth / self.cosine

    @property
    def small_distance(self) -> float:
        """Apex to the small end, along the pitch cone."""
        return self.teeth / (2 * self.sine)

    @property
    def large_distance(self) -> float:
        """Apex to the large end, along the pitch cone."""
        return self.small_distance + self.face

    @property
    def small_radius(self) -> float:
        """Pitch radius of the real gear at the small end."""
        return self.teeth / 2

    @property
    def quarter(self) -> float:
        """A quarter of the tooth pitch as an angle of the real gear."""
        return pi / (2 * self.teeth)

    @property
    def middle_base(self) -> float:
        """Base radius of the real gear in the middle of the face."""
        middle = self.small_distance + self.face / 2
        return middle * self.sine * cos(self.pressure_angle)

    def distance(self, station: float) -> float:
        """Apex to a station along the pitch cone: nought is the small end, one the large."""
        return self.small_distance + station * self.face


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """How a member is cut; lengths in modules of the cutter, the roll in radians of the real blank."""

    cutter_teeth: int  # lowest count of the cutter's range, to whose gear its form belongs
    roll: float
    set_over: float
    shallower: float  # of the two trimming rounds

    def rounds(self) -> tuple[tuple[float, float, float], ...]:
        """Set-over, lift and roll of the three rounds: on centre, cutter right, cutter left."""
        return (
            (0.0, 0.0, 0.0),
            (self.set_over, self.shallower, self.roll),
            (-self.set_over, self.shallower, -self.roll),
        )


def textbook(member: Member, cutter_teeth: int, roll: float) -> Settings:
    """The rule of the trade for a roll: the cutter's pitch point stays put at the small end."""
    return Settings(
        cutter_teeth=cutter_teeth, roll=roll, set_over=member.small_radius * sin(roll), shallower=0.0
    )


# ---- the cutter ------------------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def cutter_edge(teeth: int, pressure_angle: float, depth: float, points: int = EDGE_POINTS) -> Edge:
    """The right edge of a cutter from its corner up: across, and up from the pitch line.

    The form is the space of the gear of the lowest count, radial below its base circle.
    """
    base, start = teeth / 2 * cos(pressure_angle), half_space(teeth, pressure_angle)
    low = 1 - depth
    highest = teeth / 2 + 1 + EDGE_BEYOND
    # The square root of the height over the base circle is what the roll angle of an involute grows with.
    last = sqrt((highest / base) ** 2 - 1)
    begin = _roll_at_height(base, start, low + teeth / 2)
    foot = base * cos(start) - teeth / 2
    radial = [low + (foot - low) * part / 4 for part in range(4)] if begin == 0 else []
    edge = [(tan(start) * (up + teeth / 2), up) for up in radial]
    for place in range(points + 1):
        across, up = _on_involute(base, start, begin + (last - begin) * place / points)
        edge.append((across, up - teeth / 2))
    return tuple(edge)


def half_space(teeth: float, pressure_angle: float) -> float:
    """Half the angle of a tooth space at the base circle and below it."""
    return pi / (2 * teeth) - (tan(pressure_angle) - pressure_angle)


def _on_involute(base: float, start: float, roll: float) -> tuple[float, float]:
    """Across and up from the centre of a gear, where its flank has rolled so far off the base circle."""
    at = start + roll
    return base * (sin(at) - roll * cos(at)), base * (cos(at) + roll * sin(at))


def _roll_at_height(base: float, start: float, up: float) -> float:
    """The roll angle at which an involute stands so high; nought where the base circle is above that."""
    if up <= base * cos(start):
        return 0.0
    low, high = 0.0, 1.5
    for _ in range(ROUNDS):
        middle = (low + high) / 2
        low, high = (middle, high) if _on_involute(base, start, middle)[1] < up else (low, middle)
    return (low + high) / 2


# ---- one round, as it is seen on a surface across the tooth ----------------------------------------------

#: Where a straight line along the pitch element, so far across and up, goes through a surface.
Through = Callable[[float, float], float]


def through_back_cone(member: Member, distance: float) -> Through:
    """Of the back cone at a distance from the apex: by Newton's rule from the flat section there."""
    cosine, sine = member.cosine, member.sine

    def along(across: float, up: float) -> float:
        at = distance
        for _ in range(4):
            lift = at * sine + up * cosine
            radius = hypot(lift, across)
            miss = distance - cosine * (at * cosine - up * sine) - sine * radius
            at += miss / (cosine * cosine + sine * sine * lift / radius)
        return at

    return along


def through_sphere(distance: float) -> Through:
    """Of the sphere about the apex."""
    square = distance * distance

    def along(across: float, up: float) -> float:
        return sqrt(square - across * across - up * up)

    return along


def trace(
    member: Member, edge: Edge, set_over: float, lift: float, along: Through
) -> tuple[list[float], list[float]]:
    """The right edge that one round leaves, unrolled: heights over the pitch cone, angles about the axis.

    A straight pass leaves the cutter's own form along the pitch element, whatever its diameter. The
    bottom of the cut belongs to the edge where it stands right of the middle.
    """
    cosine, sine = member.cosine, member.sine
    heights, angles = [], []
    corner, floor = edge[0][0] + set_over, edge[0][1]
    bottom = [(corner * part / FLOOR - set_over, floor) for part in range(FLOOR)] if corner > 0 else []
    for right, high in (*bottom, *edge):
        across, up = right + set_over, high + lift
        at = along(across, up)
        out = at * sine + up * cosine
        radius = sqrt(out * out + across * across)
        heights.append(radius * cosine - (at * cosine - up * sine) * sine)
        angles.append(atan2(across, out))
    return heights, angles


def on_heights(heights: Sequence[float], angles: Sequence[float], wanted: Sequence[float]) -> list[float]:
    """A trace at rising heights; ``NOT_CUT`` below its foot."""
    found, place, last = [], 0, len(heights) - 2
    for height in wanted:
        if height < heights[0]:
            found.append(NOT_CUT)
            continue
        while place < last and heights[place + 1] < height:
            place += 1
        part = (height - heights[place]) / (heights[place + 1] - heights[place])
        found.append(angles[place] + part * (angles[place + 1] - angles[place]))
    return found


# ---- the tooth space against the one wanted --------------------------------------------------------------


def wanted_half_angle(member: Member, station: float, radius: float) -> float:
    """Half angle of the space wanted on the developed back cone of a station. [radian]

    Parameters
    ----------
    member : Member
        The gear.
    station : float
        Along the face. [-] 0 at the small end to 1 at the large
    radius : float
        From the middle of the developed back cone. [modules]
    """
    pitch_radius = member.distance(station) * member.sine / member.cosine
    return wanted_at(member, pitch_radius, radius)


def wanted_at(member: Member, pitch_radius: float, radius: float) -> float:
    """The same by the pitch radius of the developed back cone: radial below the base circle."""
    part = pitch_radius * cos(member.pressure_angle) / radius
    pressure = acos(part) if part < 1 else 0.0
    return half_space(member.formative, member.pressure_angle) + tan(pressure) - pressure


def left_half_angle(member: Member, settings: Settings, station: float, radius: float) -> float:
    """Half angle of the space that the three rounds leave, to a float's last places. [radian]

    Parameters
    ----------
    member : Member
        The gear.
    settings : Settings
        How it is cut.
    station : float
        Along the face. [-] 0 at the small end to 1 at the large
    radius : float
        From the middle of the developed back cone. [modules]

    Notes
    -----
    The greatest of the three rounds at that radius: the right edge of each, seen from the rolled blank.
    """
    along = through_back_cone(member, member.distance(station))
    height = radius - member.distance(station) * member.sine / member.cosine
    edge = cutter_edge(settings.cutter_teeth, member.pressure_angle, member.depth)
    exactly = _exact_edge(settings.cutter_teeth, member, edge)
    angles = [
        _at_height(member, exactly, edge, one_round, along, height) - one_round[2]
        for one_round in settings.rounds()
    ]
    return max(angles) * member.cosine


def _exact_edge(teeth: int, member: Member, edge: Edge) -> Callable[[float], tuple[float, float]]:
    """The edge by one number: below nought along the bottom, to one up the radial foot, then the involute."""
    base, start = teeth / 2 * cos(member.pressure_angle), half_space(teeth, member.pressure_angle)
    begin = _roll_at_height(base, start, edge[0][1] + teeth / 2)
    corner, foot = edge[0], _on_involute(base, start, begin)

    def at(number: float) -> tuple[float, float]:
        if number < 0:
            return corner[0] + number, corner[1]
        if number < 1:
            up = corner[1] + number * (foot[1] - teeth / 2 - corner[1])
            return corner[0] + number * (foot[0] - corner[0]), up
        across, up = _on_involute(base, start, begin + number - 1)
        return across, up - teeth / 2

    return at


def _at_height(
    member: Member,
    exactly: Callable[[float], tuple[float, float]],
    edge: Edge,
    one_round: tuple[float, float, float],
    along: Through,
    height: float,
) -> float:
    """The angle of one round's edge at a height, by halving; ``NOT_CUT`` below its foot."""
    set_over, lift, _ = one_round

    def seen(number: float) -> tuple[float, float]:
        heights, angles = _one_point(member, exactly(number), set_over, lift, along)
        return heights, angles

    low, high = -max(edge[0][0] + set_over, 0.0), 2.5
    if seen(low)[0] > height:
        return NOT_CUT
    for _ in range(ROUNDS):
        middle = (low + high) / 2
        low, high = (middle, high) if seen(middle)[0] < height else (low, middle)
    return seen(high)[1]


def _one_point(
    member: Member, point: tuple[float, float], set_over: float, lift: float, along: Through
) -> tuple[float, float]:
    """Height and angle of one point of the edge."""
    across, up = point[0] + set_over, point[1] + lift
    at = along(across, up)
    out = at * member.sine + up * member.cosine
    radius = hypot(out, across)
    axial = at * member.cosine - up * member.sine
    return radius * member.cosine - axial * member.sine, atan2(across, out)


def flank_error(member: Member, settings: Settings, station: float, radius: float) -> float:
    """Metal left on, square to the flank; below nought it is cut away. [modules]

    Parameters
    ----------
    member : Member
        The gear.
    settings : Settings
        How it is cut.
    station : float
        Along the face. [-] 0 at the small end to 1 at the large
    radius : float
        From the middle of the developed back cone. [modules]

    Notes
    -----
    Base radius × (angle wanted − angle left) at the same radius: the length along the line of action.
    """
    base = member.distance(station) * member.sine / member.cosine * cos(member.pressure_angle)
    left = left_half_angle(member, settings, station, radius)
    return base * (wanted_half_angle(member, station, radius) - left)


def judged_radii(member: Member, station: float) -> tuple[float, float]:
    """Where the flank works: from the base circle, or a module below the pitch line, to the tip."""
    pitch_radius = member.distance(station) * member.sine / member.cosine
    return max(pitch_radius * cos(member.pressure_angle), pitch_radius - 1), pitch_radius + 1


def round_angles(
    member: Member, settings: Settings, station: float, radii: Sequence[float]
) -> list[tuple[float, ...]]:
    """Half angles that each of the three rounds leaves at rising radii of a section, from the rolled blank.

    On the developed back cone; good to a ten-thousandth of a module, ``NOT_CUT`` or less below its foot.
    """
    distance = member.distance(station)
    pitch_radius, along = distance * member.sine / member.cosine, through_back_cone(member, distance)
    edge = cutter_edge(settings.cutter_teeth, member.pressure_angle, member.depth)
    heights = [radius - pitch_radius for radius in radii]
    rolled = []
    for set_over, lift, roll in settings.rounds():
        traced = on_heights(*trace(member, edge, set_over, lift, along), heights)
        rolled.append([(angle - roll) * member.cosine for angle in traced])
    return list(zip(*rolled, strict=True))


def section_errors(member: Member, settings: Settings, station: float, radii: Sequence[float]) -> list[float]:
    """Errors of one section at rising radii, from traced edges: good to two ten-thousandths. [modules]"""
    pitch_radius = member.distance(station) * member.sine / member.cosine
    base = pitch_radius * cos(member.pressure_angle)
    angles = round_angles(member, settings, station, radii)
    return [
        base * (wanted_at(member, pitch_radius, radius) - max(left))
        for radius, left in zip(radii, angles, strict=True)
    ]


def flank_errors(
    member: Member, settings: Settings, stations: int = STATIONS, radii: int = HEIGHTS
) -> list[tuple[float, float, float]]:
    """Station, worst metal left on and worst cut away at each section, magnitudes. [modules]"""
    found = []
    for place in range(stations):
        station = place / (stations - 1)
        low, high = judged_radii(member, station)
        steps = [low + (high - low) * step / (radii - 1) for step in range(radii)]
        errors = section_errors(member, settings, station, steps)
        found.append((station, max(0.0, *errors), max(0.0, *(-error for error in errors))))
    return found


def pitch_line_error(member: Member, settings: Settings, station: float) -> float:
    """The error on the pitch circle of a station. [modules]"""
    radius = member.distance(station) * member.sine / member.cosine
    return flank_error(member, settings, station, radius)


def tooth_chord(member: Member, settings: Settings, station: float) -> float:
    """One tooth straight across at the pitch circle, as the three rounds leave it. [modules]"""
    radius = member.distance(station) * member.sine / member.cosine
    half = pi / member.formative - left_half_angle(member, settings, station, radius)
    return 2 * radius * sin(half)
