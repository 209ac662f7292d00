"""How two bevel gears run together: their flanks on spheres about the apex, tried against one another.

Lengths are in modules of the cutter, angles in radians. Both gears' azimuths are counted from the pitch
element to one and the same side, so that true gears turn as their teeth. Only from the surfaces of
`oracle_bevel`.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import acos, atan2, ceil, cos, floor, inf, pi, sin, sqrt
from typing import NamedTuple

from tests.oracle_bevel import (
    TRUE,
    Cut,
    Gear,
    Slips,
    left_azimuths,
    right_azimuths,
    wanted_left,
)

#: Azimuths from the middle of a space to one of its flanks, from tip to root at equal steps of the cosine.
Curve = list[float]
NEAR = 0.02


class Grid(NamedTuple):
    """Where flanks are looked at on one sphere: cosines of the angle from the axis, from the tip down."""

    distance: float
    tip: float
    step: float
    points: int

    def cosines(self) -> list[float]:
        return [self.tip + at * self.step for at in range(self.points)]


class Fineness(NamedTuple):
    """How closely a pair is tried."""

    spheres: int = 7
    phases: int = 32
    points: int = 41

    def distances(self, gear: Gear) -> list[float]:
        last = max(1, self.spheres - 1)
        return [gear.distance(at / last) for at in range(self.spheres)]


class Sides(NamedTuple):
    """The left and the right flank of a gear, one curve a sphere."""

    left: list[Curve]
    right: list[Curve]


class Running(NamedTuple):
    """How a pair runs: of the worse side the running error, the least backlash, the mean bearing."""

    error: float
    backlash: float
    bearing: float


def grid_of(gear: Gear, distance: float, points: int) -> Grid:
    """From the face of the blank, one module out of the pitch cone, to one module below it."""
    angle = gear.pitch_angle
    reach = atan2(1, sqrt(distance * distance - 1))
    tip, root = cos(angle + reach), cos(angle - reach)
    return Grid(distance, tip, (root - tip) / (points - 1), points)


def cut_sides(gear: Gear, cut: Cut, how: Fineness, slips: Slips = TRUE) -> Sides:
    """Both flanks as the three rounds leave them."""
    circles = [
        [(d * cosine, d * sqrt(1 - cosine * cosine)) for cosine in grid_of(gear, d, how.points).cosines()]
        for d in how.distances(gear)
    ]
    left = [left_azimuths(gear, cut, each, slips) for each in circles]
    if slips == TRUE:
        return Sides(left, left)
    return Sides(left, [right_azimuths(gear, cut, each, slips) for each in circles])


def wanted_sides(gear: Gear, how: Fineness) -> Sides:
    """The wanted flanks: involutes on the developed back cone, every ray through the apex."""
    angle = gear.pitch_angle

    def azimuth(cosine: float) -> float:
        slope = sqrt(1 - cosine * cosine) / cosine
        radius = gear.small_distance * slope / (cos(angle) * (cos(angle) + sin(angle) * slope))
        return wanted_left(gear, 0.0, radius) / cos(angle)

    curves = [
        [azimuth(cosine) for cosine in grid_of(gear, d, how.points).cosines()] for d in how.distances(gear)
    ]
    return Sides(curves, curves)


def running(gear: Gear, sides: Sides, mate_sides: Sides, how: Fineness) -> Running:
    """The pair through one pitch of the first gear."""
    arm = gear.mate_teeth / 2 * (gear.distance(0.5) / gear.small_distance) * cos(gear.pressure_angle)
    one = _side(gear, sides.right, mate_sides.right, how)
    other = _side(gear, sides.left, mate_sides.left, how) if sides.left is not sides.right else one
    nearest, farthest = _least(one), _least(other)
    free = [nearest[at] + farthest[-at % how.phases] for at in range(how.phases)]
    return Running(
        error=arm * max(max(each) - min(each) for each in (nearest, farthest)),
        backlash=arm * min(free),
        bearing=(_bearing(one, arm) + _bearing(other, arm)) / 2,
    )


def _least(limits: Sequence[Sequence[float]]) -> list[float]:
    return [min(each) for each in zip(*limits, strict=True)]


def _bearing(limits: Sequence[Sequence[float]], arm: float) -> float:
    least = _least(limits)
    near = sum(
        arm * (limit - edge) <= NEAR for each in limits for limit, edge in zip(each, least, strict=True)
    )
    return near / len(limits) / len(least)


def _side(
    gear: Gear, curves: Sequence[Curve], mate_curves: Sequence[Curve], how: Fineness
) -> list[list[float]]:
    """For each sphere and phase, how far the mate may stand ahead of true turning before it is stopped."""
    mate = gear.mate()
    found = []
    for distance, curve, mate_curve in zip(how.distances(gear), curves, mate_curves, strict=True):
        one, other = grid_of(gear, distance, how.points), grid_of(mate, distance, how.points)
        limits = [inf] * how.phases
        _points_of_gear(gear, (one, curve), (other, mate_curve), limits)
        _tip_of_mate(gear, (one, curve), (other, mate_curve), limits)
        found.append(limits)
    return found


def _points_of_gear(
    gear: Gear, own: tuple[Grid, Curve], mates: tuple[Grid, Curve], limits: list[float]
) -> None:
    """Each point of the gear's flank, its tip included, against the curve of the mate's tooth."""
    phases, shaft = len(limits), gear.shaft_angle
    step = 2 * pi / gear.teeth / phases
    # Whatever the phase, the mate turns so much in a step of the gear, and its teeth stand half a pitch
    # off the middles of its spaces.
    mate_step, half = 2 * pi / gear.mate_teeth / phases, pi / gear.mate_teeth
    (grid, curve), (other, mate_curve) = own, mates
    cos_shaft, sin_shaft, last = cos(shaft), sin(shaft), other.points - 2
    for cosine, azimuth in zip(grid.cosines(), curve, strict=True):
        sine = sqrt(1 - cosine * cosine)
        fixed, swing = cosine * cos_shaft, sine * sin_shaft
        reach = (other.tip - fixed) / swing
        if reach >= 1:
            continue
        furthest = acos(reach)
        for phase in range(ceil((-furthest - azimuth) / step), floor((furthest - azimuth) / step) + 1):
            turn = azimuth + phase * step
            mate_cosine = fixed + swing * cos(turn)
            at = (mate_cosine - other.tip) / other.step
            whole = int(at) if at < last else last
            flank = mate_curve[whole] + (at - whole) * (mate_curve[whole + 1] - mate_curve[whole])
            mate_azimuth = atan2(sine * sin(turn), (cosine - cos_shaft * mate_cosine) / sin_shaft)
            limit = mate_azimuth - half + flank - phase * mate_step
            if limit < limits[phase % phases]:
                limits[phase % phases] = limit


def _tip_of_mate(gear: Gear, own: tuple[Grid, Curve], mates: tuple[Grid, Curve], limits: list[float]) -> None:
    """The corner at the tip of the mate's tooth against the curve of the gear's flank."""
    (grid, curve), (other, mate_curve) = own, mates
    phases, half = len(limits), pi / gear.mate_teeth
    step, mate_step = 2 * pi / gear.teeth / phases, 2 * pi / gear.mate_teeth / phases
    met = _met(gear, grid, curve, other.tip, mate_step)
    for (phase, turn), (next_phase, next_turn) in pairwise(met):
        low, high = sorted((phase, next_phase))
        for whole in range(ceil(low / step), floor(high / step) + 1):
            share = (whole * step - phase) / (next_phase - phase)
            limit = turn + share * (next_turn - turn) - half + mate_curve[0] - whole * mate_step
            limits[whole % phases] = min(limits[whole % phases], limit)


def _met(gear: Gear, grid: Grid, curve: Curve, tip: float, step: float) -> list[tuple[float, float]]:
    """Turns of the gear at which its flank stands at the mate's corner, and the corner's own azimuth."""
    cos_shaft, sin_shaft = cos(gear.shaft_angle), sin(gear.shaft_angle)
    fixed, swing = tip * cos_shaft, sqrt(1 - tip * tip) * sin_shaft
    reach = (grid.tip - fixed) / swing
    if reach >= 1:
        return []
    steps = max(2, ceil(2 * acos(reach) / step))
    found = []
    for number in range(steps + 1):
        turn = acos(reach) * (2 * number / steps - 1)
        cosine = fixed + swing * cos(turn)
        at = max(0.0, (cosine - grid.tip) / grid.step)
        whole = min(int(at), grid.points - 2)
        flank = curve[whole] + (at - whole) * (curve[whole + 1] - curve[whole])
        own = atan2(sqrt(1 - tip * tip) * sin(turn), (tip - cos_shaft * cosine) / sin_shaft)
        found.append((own - flank, turn))
    return found
