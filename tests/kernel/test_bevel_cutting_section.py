"""The space that three rounds leave, against blank and cutter moved about in space; the model's limits.

The figures of the 16 of a 16/40 pair (0.195 module off at the tip, 0.037 left on) and the limits of the
textbook's settings are derived, with the parallel-depth method itself; no published example could be read.
"""

from math import atan2, cos, pi, radians, sin, sqrt, tan

import pytest

from calc.kernel.bevel_cutting_pair import JUDGED, SEARCHED, cut_flank, running, wanted_flank
from calc.kernel.bevel_cutting_section import (
    Member,
    Settings,
    flank_error,
    flank_errors,
    judged_radii,
    left_half_angle,
    pitch_line_error,
    section_errors,
    textbook,
    wanted_half_angle,
)

LOWEST = (12, 14, 17, 21, 26, 35, 55, 135)


def member(teeth, mate, shaft=90.0, depth=2.157, angle=20.0, share=0.5):
    pitch = atan2(teeth * sin(radians(shaft)), mate + teeth * cos(radians(shaft)))
    return Member(
        teeth=teeth, cosine=cos(pitch), sine=sin(pitch), face=share * teeth / (2 * sin(pitch)),
        pressure_angle=radians(angle), depth=depth,
    )  # fmt: skip


def cutter_of(one):
    return max(low for low in LOWEST if low <= one.formative + 1e-9)


def by_rule(one):
    return textbook(one, cutter_of(one), one.quarter)


# ---- a second way: is a point of space inside one of the three cuts? -------------------------------------


def turned(point, one, angle):
    """A point (along the pitch element, right, up) turned about the blank's axis, its top to the right."""
    axis = (one.cosine, 0.0, -one.sine)
    dot = sum(a * b for a, b in zip(axis, point, strict=True))
    cross = (
        axis[1] * point[2] - axis[2] * point[1],
        axis[2] * point[0] - axis[0] * point[2],
        axis[0] * point[1] - axis[1] * point[0],
    )
    return tuple(
        p * cos(angle) + c * sin(angle) + a * dot * (1 - cos(angle))
        for p, c, a in zip(point, cross, axis, strict=True)
    )


def to_the_right(one):
    """The sense of turning that carries the top of the blank to the right."""
    return 1 if turned((one.small_distance, 0.0, 0.0), one, 0.01)[1] > 0 else -1


def half_width(teeth, angle, up):
    """Half the cutter at a height over the pitch line, by halving along the flank of its gear."""
    base = teeth / 2 * cos(angle)
    start = pi / (2 * teeth) - tan(angle) + angle
    height = up + teeth / 2
    if height <= base * cos(start):
        return height * tan(start)
    low, high = base, 2 * height
    for _ in range(80):
        radius = (low + high) / 2
        pressure = sqrt((radius / base) ** 2 - 1)
        theta = start + pressure - atan2(pressure, 1)
        low, high = (radius, high) if radius * cos(theta) < height else (low, radius)
    return high * sin(theta)


def is_cut(one, settings, point):
    """Whether any of the three rounds reaches a point of the blank as it stands on centre."""
    floor = 1 - one.depth
    for side, lift in ((0, 0.0), (1, settings.shallower), (-1, settings.shallower)):
        _, right, up = turned(point, one, side * settings.roll * to_the_right(one))
        up -= lift
        if up < floor:
            continue
        if abs(right - side * settings.set_over) < half_width(settings.cutter_teeth, one.pressure_angle, up):
            return True
    return False


def on_back_cone(one, station, radius, theta):
    """The point of the developed back cone at a radius, so far right of the middle of the space."""
    distance = one.distance(station)
    axial, out = distance / one.cosine - radius * one.sine, radius * one.cosine
    turn = theta / one.cosine
    facing, right = out * cos(turn), out * sin(turn)
    return (axial * one.cosine + facing * one.sine, right, facing * one.cosine - axial * one.sine)


GEARS = [
    (12, 12, 90, 2.157, 20, 0.0), (12, 40, 90, 2.157, 20, 0.1), (40, 12, 90, 2.25, 20, 0.1),
    (16, 40, 90, 2.157, 20, 0.0), (24, 24, 60, 2.25, 14.5, 0.05), (50, 20, 110, 2.25, 20, 0.1),
    (17, 31, 75, 2.157, 14.5, 0.1), (30, 30, 120, 2.25, 20, 0.03),
]  # fmt: skip


@pytest.mark.parametrize(("teeth", "mate", "shaft", "depth", "angle", "lift"), GEARS)
def test_space_when_points_are_moved_about_in_space_then_both_flanks_end_where_the_section_says(
    teeth, mate, shaft, depth, angle, lift
):
    one = member(teeth, mate, shaft, depth, angle)
    rule = by_rule(one)
    settings = Settings(
        cutter_teeth=rule.cutter_teeth, roll=rule.roll * 1.03, set_over=rule.set_over - 0.04, shallower=lift
    )
    for station in (0, 0.3, 1):
        low, high = judged_radii(one, station)
        for step in range(9):
            radius = low + (high - low) * step / 8
            theta = left_half_angle(one, settings, station, radius)
            for side in (1, -1):
                inside, outside = (
                    is_cut(one, settings, on_back_cone(one, station, radius, side * (theta + off)))
                    for off in (-1e-7, 1e-7)
                )
                assert inside, (station, radius, side)
                assert not outside, (station, radius, side)


@pytest.mark.parametrize(("teeth", "mate", "shaft", "depth", "angle", "lift"), GEARS)
def test_errors_when_traced_quickly_then_they_are_those_worked_exactly(
    teeth, mate, shaft, depth, angle, lift
):
    one = member(teeth, mate, shaft, depth, angle)
    rule = by_rule(one)
    settings = Settings(
        cutter_teeth=rule.cutter_teeth, roll=rule.roll, set_over=rule.set_over, shallower=lift
    )
    for station in (0, 0.5, 1):
        low, high = judged_radii(one, station)
        radii = [low + (high - low) * step / 30 for step in range(31)]
        quick = section_errors(one, settings, station, radii)
        for radius, error in zip(radii, quick, strict=True):
            assert error == pytest.approx(flank_error(one, settings, station, radius), abs=2e-4)


# ---- the textbook's settings -----------------------------------------------------------------------------


@pytest.mark.parametrize("teeth", [12, 13, 16, 20, 24, 36, 40, 50])
def test_quarter_when_exact_then_the_cutter_keeps_to_the_pitch_element_and_stands_off_at_the_large_end(teeth):
    one = member(teeth, 30)
    settings = by_rule(one)
    for distance in (one.small_distance, one.large_distance):
        element = turned((distance, 0.0, 0.0), one, settings.roll * to_the_right(one))
        excess = pi / 4 * (distance / one.small_distance - 1)
        off = element[1] - settings.set_over
        assert off == pytest.approx(excess, abs=1e-9 if excess == 0 else 0.0015)


@pytest.mark.parametrize("teeth", [12, 15, 16, 18, 20, 24, 30, 36, 40, 50])
@pytest.mark.parametrize("mate", [12, 20, 40])
def test_pitch_circle_when_cut_by_the_textbook_then_it_is_right_at_both_ends(teeth, mate):
    # 13 teeth beside 40 are the one pair found outside it, by 0.333 / teeth: the last before a new cutter.
    one = member(teeth, mate)
    for station in (0, 1):
        assert abs(pitch_line_error(one, by_rule(one), station)) <= 0.32 / teeth


def test_textbook_when_16_of_16_and_40_then_its_errors_are_those_of_the_method():
    one = member(16, 40)
    rows = flank_errors(one, by_rule(one))
    assert max(row[2] for row in rows) == pytest.approx(0.195, abs=5e-4)
    # 0.037 from fewer sections, which miss a little of a local peak.
    assert max(row[1] for row in rows) == pytest.approx(0.037, abs=0.003)


def test_wanted_space_when_below_the_base_circle_then_it_is_radial_and_at_the_pitch_circle_half_the_pitch():
    one = member(12, 40)
    for station in (0, 1):
        pitch_radius = one.distance(station) * one.sine / one.cosine
        assert wanted_half_angle(one, station, pitch_radius) == pytest.approx(pi / (2 * one.formative))
        base = pitch_radius * cos(one.pressure_angle)
        assert wanted_half_angle(one, station, base) == wanted_half_angle(one, station, base - 0.1)


# ---- the pair --------------------------------------------------------------------------------------------

SMALL = (12, 15, 18, 20, 24, 30, 36, 40)


@pytest.mark.parametrize(
    ("teeth", "mate"), [(one, other) for one in SMALL for other in SMALL if 15 <= one <= other]
)
def test_wanted_teeth_when_meshed_then_they_run_true_and_without_play(teeth, mate):
    first, second = member(teeth, mate), member(mate, teeth)
    nothing = [0.0] * (JUDGED.spheres * JUDGED.heights)
    run = running(first, second, nothing, nothing, JUDGED)
    assert run.error <= 0.001
    assert abs(run.backlash) <= 0.001
    assert run.bearing == pytest.approx(1)


@pytest.mark.parametrize("mate", [12, 15, 18, 20, 24])
def test_wanted_teeth_when_of_twelve_then_they_run_within_two_thousandths_of_a_module(mate):
    first, second = member(12, mate), member(mate, 12)
    nothing = [0.0] * (JUDGED.spheres * JUDGED.heights)
    assert running(first, second, nothing, nothing, JUDGED).error <= 0.002


def test_wanted_teeth_when_the_wheels_tip_reaches_below_the_base_circle_then_it_is_felt():
    # 12 and 40: 0.007, derived on true spheres.
    nothing = [0.0] * (JUDGED.spheres * JUDGED.heights)
    run = running(member(12, 40), member(40, 12), nothing, nothing, JUDGED)
    assert run.error == pytest.approx(0.007, abs=5e-4)
    assert run.backlash < 0


def test_play_when_both_flanks_are_pared_alike_then_it_is_what_was_taken_off():
    first, second = member(20, 30), member(30, 20)
    # An angle off every flank of the first is the base radius times that off the line of action, twice.
    off = 0.002
    pared = [off] * (SEARCHED.spheres * SEARCHED.heights)
    nothing = [0.0] * (SEARCHED.spheres * SEARCHED.heights)
    run = running(first, second, pared, nothing, SEARCHED)
    assert run.backlash == pytest.approx(2 * off * first.middle_base, rel=0.01)
    assert run.error <= 0.001


def test_pair_when_seen_from_either_member_then_it_runs_alike():
    first, second = member(15, 36), member(36, 15)
    flanks = [cut_flank(one, by_rule(one), JUDGED) for one in (first, second)]
    one_way = running(first, second, flanks[0], flanks[1], JUDGED)
    other_way = running(second, first, flanks[1], flanks[0], JUDGED)
    assert one_way.error == pytest.approx(other_way.error, abs=1e-9)
    assert one_way.backlash == pytest.approx(other_way.backlash, abs=1e-9)


def brute_running(first, second, steps=16):
    """Flank against flank in the planes of five back cones, densely, with nothing linearised."""
    most = [-9.0] * steps
    for place in range(5):
        station = place / 4
        profiles = []
        for one in (first, second):
            pitch_radius = one.distance(station) * one.sine / one.cosine
            radii = [pitch_radius - 1 + 2 * step / 200 for step in range(201)]
            errors = section_errors(one, by_rule(one), station, radii)
            base = pitch_radius * cos(one.pressure_angle)
            spaces = [
                wanted_half_angle(one, station, radius) - error / base
                for radius, error in zip(radii, errors, strict=True)
            ]
            profiles.append((pitch_radius, radii, spaces))
        apart = profiles[0][0] + profiles[1][0]
        for step in range(steps):
            for tooth in (-1, 0, 1):
                asked = brute_demand(first, second, profiles, apart, step / steps + tooth)
                most[step] = max(most[step], asked)
    middle = second.middle_base / second.cosine
    return (max(most) - min(most)) * middle


def brute_demand(first, second, profiles, apart, turn):
    (_, radii, spaces), (_, other_radii, other_spaces) = profiles
    most = -9.0
    for radius, space in zip(radii, spaces, strict=True):
        angle = 2 * pi * turn / first.formative - space
        right, away = radius * sin(angle), apart - radius * cos(angle)
        reach = sqrt(right * right + away * away)
        place = (reach - other_radii[0]) / (other_radii[1] - other_radii[0])
        if 0 <= place < len(other_radii) - 1:
            low = int(place)
            own = other_spaces[low] + (place - low) * (other_spaces[low + 1] - other_spaces[low])
            most = max(most, atan2(right, away) - (2 * pi * turn - pi) / second.formative - own)
    return most


@pytest.mark.parametrize(("teeth", "mate"), [(20, 20), (12, 18), (20, 40), (30, 36)])
def test_running_error_when_worked_in_planes_by_brute_force_then_it_agrees(teeth, mate):
    # Planes of the back cones differ from spheres by 0.002 module, derived.
    first, second = member(teeth, mate), member(mate, teeth)
    flanks = [cut_flank(one, by_rule(one), JUDGED) for one in (first, second)]
    run = running(first, second, flanks[0], flanks[1], JUDGED)
    assert run.error == pytest.approx(brute_running(first, second), abs=0.005)


def test_wanted_flank_when_on_a_sphere_then_it_is_the_section_there():
    one = member(20, 30)
    space = wanted_flank(one, SEARCHED)
    assert space[17] == pytest.approx(space[16], abs=0.02)
    # The pitch line stands on the sphere as on the section of its own distance.
    half = pi / (2 * one.teeth)
    assert space[16] < half < space[17]
