"""Kernel room: how two bevel gears as cut run together: running error, backlash and bearing, on spheres."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import atan2, ceil, cos, pi, sin, sqrt

from calc.kernel.bevel_cutting_section import (
    Member,
    Settings,
    cutter_edge,
    on_heights,
    through_sphere,
    trace,
    wanted_at,
)

#: Within this of touching a section counts as bearing. [modules]
TOUCHING = 0.02
#: Demands so far below nought cannot come to bear, whatever the cutters of a set leave. [modules]
OUT_OF_REACH = 0.30
#: Fewest points of a cutter's flank that keep a trace to two ten-thousandths of a module.
COARSE_EDGE = 40
#: Points left out between those that tell where a flank is near the mate, and how much further they look.
SKIPPED, FAR = 4, 1.7
#: How far past the mate's tip a point of the wanted flank may stand for one of a cut flank to be under it.
BEYOND_TIP = 0.1
#: What a sphere asks where nothing meets. [radian]
NOTHING = -1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Where a pair is looked at: spheres about the apex, heights over the pitch cone, steps of a pitch."""

    stations: tuple[float, ...]  # along the face, nought at the small end
    heights: int
    steps: int

    @property
    def spheres(self) -> int:
        """How many spheres there are."""
        return len(self.stations)

    @property
    def shares(self) -> list[float]:
        """The share of the face that each sphere stands for: half of the way to its neighbours."""
        ends = (self.stations[0], *self.stations, self.stations[-1])
        return [(after - before) / 2 for before, after in zip(ends, ends[2:], strict=False)]

    @property
    def between(self) -> float:
        """From one height to the next. [modules]"""
        return 2 / (self.heights - 1)

    def all_heights(self) -> list[float]:
        """From a module below the pitch cone to the tip."""
        return [-1 + place * self.between for place in range(self.heights)]

    def distances(self, member: Member) -> list[float]:
        """Radii of the spheres, from the small end to the large."""
        return [member.distance(station) for station in self.stations]


# The round that trims the other flank still reaches the foot at the small end, and leaves off within a
# fifth of the face: what stands there is a ridge, which spheres set evenly would straddle.
SEARCHED = Grid(stations=(0.0, 0.09, 0.3, 0.6, 1.0), heights=34, steps=16)
JUDGED = Grid(stations=(0.0, 0.045, 0.09, 0.14, 0.2, 0.35, 0.6, 1.0), heights=41, steps=32)

#: One point of a flank against the mate's: its place on the flank, the demand against the wanted mate and
#: its change, the place on the mate's flank and its change, for an angle of metal left on; the first and
#: the last place of that sphere on the mate's flank.
Meeting = tuple[int, float, float, float, float, int, int]
#: The same for one flank: the place on the mate's flank, the part of the way to the next, the demand.
Laid = tuple[int, float, float]


@lru_cache(maxsize=64)
def wanted_flank(member: Member, grid: Grid) -> tuple[float, ...]:
    """Half angles of the wanted space about the axis, sphere by sphere. [radian]"""
    slope = member.sine / member.cosine
    return tuple(
        wanted_at(member, along * slope, along * slope + height) / member.cosine
        for distance in grid.distances(member)
        for height in grid.all_heights()
        for along in (sqrt(distance * distance - height * height),)
    )


def traced_round(member: Member, grid: Grid, cutter_teeth: int, set_over: float, lift: float) -> list[float]:
    """Angles of the right edge that one round leaves, before its roll, sphere by sphere. [radian]"""
    edge = cutter_edge(cutter_teeth, member.pressure_angle, member.depth, COARSE_EDGE)
    heights = grid.all_heights()
    found: list[float] = []
    for distance in grid.distances(member):
        found += on_heights(*trace(member, edge, set_over, lift, through_sphere(distance)), heights)
    return found


def cut_flank(member: Member, settings: Settings, grid: Grid) -> list[float]:
    """What the three rounds leave less what is wanted, half angles of the space. [radian]"""
    rolled = [
        [angle - roll for angle in traced_round(member, grid, settings.cutter_teeth, set_over, lift)]
        for set_over, lift, roll in settings.rounds()
    ]
    wanted = wanted_flank(member, grid)
    return [max(angles) - own for own, *angles in zip(wanted, *rolled, strict=True)]


# ---- which points of one flank can meet the other --------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """The flank of one gear held against that of its mate, as both are wanted, step by step of a pitch."""

    grid: Grid
    scale: float  # modules along the line of action to a radian of the mate
    steps: tuple[tuple[Meeting, ...], ...]

    def lay(self, space: Sequence[float]) -> list[list[Laid]]:
        """Lay out one flank, as angles over the wanted space, in the mate's frame."""
        laid = []
        for meetings in self.steps:
            points = []
            for place, demand, per_demand, at, per_at, first, last in meetings:
                less = space[place]
                where = at - per_at * less
                if where <= last:
                    index = min(max(int(where), first), last - 1)
                    points.append((index, where - index, demand - per_demand * less))
            laid.append(points)
        return laid


@lru_cache(maxsize=64)
def mesh(one: Member, two: Member, grid: Grid) -> Mesh:
    """Every point of the first member's left flank that can meet the second, at every step of a pitch."""
    reach = OUT_OF_REACH / two.middle_base
    steps: list[list[Meeting]] = [[] for _ in range(grid.steps)]
    # A flank touches at the pitch line a quarter of a pitch on; teeth meet for less than a pitch either way.
    for turn in range(-grid.steps, ceil(1.5 * grid.steps) + 1):
        for row, distance in enumerate(grid.distances(one)):
            meetings = _meetings(one, two, grid, (row, distance), turn / grid.steps, reach)
            steps[turn % grid.steps] += meetings
    return Mesh(grid=grid, scale=two.middle_base, steps=tuple(tuple(found) for found in steps))


def _meetings(
    one: Member, two: Member, grid: Grid, sphere: tuple[int, float], turn: float, reach: float
) -> list[Meeting]:
    """Points of one sphere at one turn of the gears, in pitches, whose demand can come to bear."""
    row, distance = sphere
    heights, base = grid.all_heights(), row * grid.heights
    wanted = wanted_flank(one, grid)
    last, step = base + grid.heights - 1, grid.between
    passed = 2 * pi * turn / two.teeth - pi / two.teeth

    def seen(place: int) -> tuple[float, float, float, float]:
        angle = 2 * pi * turn / one.teeth - wanted[base + place]
        demand, per_demand, at, per_at = _against(one, two, distance, heights[place], angle)
        return demand - passed, per_demand, at, per_at

    # A few points tell which stretches of the flank are near the mate; the others are not worked out.
    near: set[int] = set()
    for place in range(0, grid.heights, SKIPPED):
        if seen(place)[0] > -reach * FAR:
            near.update(range(place - SKIPPED, place + SKIPPED + 1))
    found = []
    for place in sorted(near & set(range(grid.heights))):
        demand, per_demand, at, per_at = seen(place)
        if demand > -reach and at < 1 + BEYOND_TIP:
            where = base + (at + 1) / step
            found.append((base + place, demand, per_demand, where, per_at / step, base, last))
    return found


def _against(
    one: Member, two: Member, distance: float, height: float, angle: float
) -> tuple[float, float, float, float]:
    """A point of the first gear seen from the second: its angle less the wanted space's, its height.

    Each with its change for a radian more of the first gear's own angle.
    """
    along = sqrt(distance * distance - height * height)
    radius, axial = along * one.sine + height * one.cosine, along * one.cosine - height * one.sine
    # The shafts meet at the sum of the two pitch angles.
    shaft_sine = one.sine * two.cosine + one.cosine * two.sine
    shaft_cosine = one.cosine * two.cosine - one.sine * two.sine
    towards, aside = radius * cos(angle), radius * sin(angle)
    other_axial = towards * shaft_sine + axial * shaft_cosine
    facing = axial * shaft_sine - towards * shaft_cosine
    reach = sqrt(aside * aside + facing * facing)
    at = reach * two.cosine - other_axial * two.sine
    other_along = other_axial * two.cosine + reach * two.sine
    per_axial, per_facing = -aside * shaft_sine, aside * shaft_cosine
    per_reach = (aside * towards + facing * per_facing) / reach
    per_at = per_reach * two.cosine - per_axial * two.sine
    per_along = per_axial * two.cosine + per_reach * two.sine
    per_angle = (facing * towards - aside * per_facing) / (reach * reach)
    space, per_space = _wanted_and_change(two, (other_along, per_along), (at, per_at))
    return atan2(aside, facing) - space, per_angle - per_space, at, per_at


def _wanted_and_change(
    member: Member, along: tuple[float, float], height: tuple[float, float]
) -> tuple[float, float]:
    """Half angle of the wanted space about the axis where a point stands, and its change as that moves."""
    slope = member.sine / member.cosine
    radius = along[0] * slope + height[0]
    space = wanted_at(member, along[0] * slope, radius) / member.cosine
    part = along[0] * slope * cos(member.pressure_angle) / radius
    if part >= 1:
        return space, 0.0
    per_part = part * (along[1] / along[0] - (along[1] * slope + height[1]) / radius)
    tangent, across = sqrt(1 / part**2 - 1), sqrt(1 - part**2)
    return space, -(tangent**2) * per_part / across / member.cosine


# ---- how a pair runs -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Running:
    """How a pair runs at its right mounting; lengths in modules, square to the flank."""

    error: float  # of the driven gear over a pitch, peak to peak
    backlash: float  # the least over a pitch; below nought it jams
    bearing: float  # mean share of the sections within a touch, 0 to 1


def demands(laid: Sequence[Sequence[Laid]], space: Sequence[float], grid: Grid) -> list[list[float]]:
    """At each step, what each sphere asks of the mate to stand clear. [radian of the mate]"""
    heights = grid.heights
    found = []
    for points in laid:
        best = [NOTHING] * grid.spheres
        for index, part, demand in points:
            below = space[index]
            asked = demand - below - part * (space[index + 1] - below)
            row = index // heights
            if asked > best[row]:
                best[row] = asked
        found.append(best)
    return found


def running(one: Member, two: Member, first: Sequence[float], second: Sequence[float], grid: Grid) -> Running:
    """Two flanks, as angles over the wanted spaces, run against each other; looked at from both sides."""
    forth, back = mesh(one, two, grid), mesh(two, one, grid)
    asked = demands(forth.lay(first), second, grid)
    again = demands(back.lay(second), first, grid)
    # Seen from the mate the gears turn the other way, and its space stands half a pitch beside its tooth.
    facing = [again[(grid.steps // 2 - step) % grid.steps] for step in range(grid.steps)]
    rows = [
        [max(one_row * forth.scale, other * back.scale) for one_row, other in zip(row, more, strict=True)]
        for row, more in zip(asked, facing, strict=True)
    ]
    return summed(rows, grid)


def summed(rows: Sequence[Sequence[float]], grid: Grid) -> Running:
    """The running of a pair from what each sphere asks at each step. [modules]"""
    most, shares = [max(row) for row in rows], grid.shares
    touching = sum(
        share
        for row, top in zip(rows, most, strict=True)
        for asked, share in zip(row, shares, strict=True)
        if asked >= top - TOUCHING
    )
    return Running(max(most) - min(most), least_play(most), min(1.0, touching / len(rows)))


def least_play(most: Sequence[float]) -> float:
    """What both flanks together leave free, the least over a pitch; the other flank is the mirror image."""
    return min(-(most[step] + most[-step]) for step in range(len(most)))
