"""Flanks of bevel teeth cut in three rounds, against points in space; and the oracle against itself.

Figures said to be printed are those of bevel_cutting.md, where they are derived; nothing else gives any.
"""

import random
from math import atan2, cos, hypot, pi, radians, sin, tan

import pytest
from hypothesis import assume, given, seed, settings
from hypothesis import strategies as st

from calc.kernel.bevel_cutting_section import Member, Settings, flank_error
from tests.oracle_bevel import (
    TRUE,
    Cut,
    Slips,
    blank_point,
    flank_by_halving,
    flank_errors,
    gear_of,
    judged,
    left_azimuths,
    removed,
    right_azimuths,
    turned,
    worst,
)
from tests.oracle_bevel_mesh import Fineness, Sides, cut_sides, running, wanted_sides

#: The lowest counts of the eight cutters of a set (B&S rule of 1914, as in the project's source).
LOWEST = (12, 14, 17, 21, 26, 35, 55, 135)
STATIONS = [at / 8 for at in range(9)]
STEEPEST = radians(85)


def textbook(gear, *, shallower=0.0):
    """The cutter by the equivalent teeth, a quarter of a pitch, r·sin φ."""
    formative = gear.teeth / cos(gear.pitch_angle)
    roll = pi / 2 / gear.teeth
    return Cut(max(low for low in LOWEST if low <= formative), roll, gear.teeth / 2 * sin(roll), shallower)


@st.composite
def gears(draw):
    """Gears of 12 to 50 teeth on shafts at 60 to 120 degrees, both pitch angles below 85."""
    gear = gear_of(
        draw(st.integers(12, 50)),
        draw(st.integers(12, 50)),
        shaft=draw(st.floats(60, 120)),
        pressure=draw(st.sampled_from((14.5, 20))),
    )
    assume(max(gear.pitch_angle, gear.mate().pitch_angle) < STEEPEST)
    return gear


# ---- the section model against the oracle ----------------------------------------------------------------


def both_ways(gear, cut):
    """The oracle's error and the kernel's, at 21 radii of nine stations."""
    member = Member(
        teeth=gear.teeth,
        cosine=cos(gear.pitch_angle),
        sine=sin(gear.pitch_angle),
        face=gear.face,
        pressure_angle=gear.pressure_angle,
        depth=gear.depth,
    )
    as_set = Settings(
        cutter_teeth=cut.cutter_teeth, roll=cut.roll, set_over=cut.set_over, shallower=cut.shallower
    )
    exact, said = [], []
    for station in STATIONS:
        radii = judged(gear, station, 21)
        exact += flank_errors(gear, cut, station, radii)
        said += [flank_error(member, as_set, station, radius) for radius in radii]
    return exact, said


def check_agreement(gear, cut, module):
    exact, said = both_ways(gear, cut)
    assert max(0, *exact) * module == pytest.approx(max(0, *said) * module, abs=0.006)
    assert min(0, *exact) * module == pytest.approx(min(0, *said) * module, abs=0.006)
    assert max(abs(one - other) for one, other in zip(exact, said, strict=True)) * module <= 0.035


@seed(5)
@settings(max_examples=30, database=None, deadline=None)
@given(gears(), st.floats(2, 4), st.floats(0, 0.1))
def test_flank_errors_when_cut_by_the_textbook_then_within_6_thousandths_of_points_in_space(
    gear, module, shallower
):
    check_agreement(gear, textbook(gear, shallower=shallower), module)


@seed(6)
@settings(max_examples=30, database=None, deadline=None)
@given(
    gears(),
    st.floats(2, 4),
    st.floats(0, 0.1),
    st.integers(-1, 4),
    st.floats(0.85, 1.15),
    st.floats(-0.06, 0.06),
)
def test_flank_errors_when_cut_as_a_search_may_try_then_within_6_thousandths_of_points_in_space(
    gear, module, shallower, straighter, of_quarter, wider
):
    usual = textbook(gear, shallower=shallower)
    place = min(max(LOWEST.index(usual.cutter_teeth) + straighter, 0), len(LOWEST) - 1)
    roll = usual.roll * of_quarter
    set_over = gear.teeth / 2 * sin(roll) + wider
    check_agreement(gear, Cut(LOWEST[place], roll, set_over, shallower), module)


# ---- the oracle against itself and against what is printed -----------------------------------------------


def drawn(draw, gear):
    usual = textbook(gear, shallower=draw.uniform(0, 0.1))
    straighter = [low for low in LOWEST if low >= usual.cutter_teeth]
    return usual._replace(
        cutter_teeth=draw.choice(straighter[:4]),
        roll=usual.roll * draw.uniform(0.85, 1.15),
        set_over=usual.set_over + draw.uniform(-0.06, 0.06),
    )


def slips(draw):
    return Slips(
        off_centre=draw.uniform(-0.02, 0.02),
        tilt=radians(draw.uniform(-0.25, 0.25)),
        pivot=draw.random(),
        left_set_over=draw.uniform(-0.01, 0.01),
        right_set_over=draw.uniform(-0.01, 0.01),
        high=draw.uniform(-0.01, 0.01),
    )


def test_quick_flanks_when_set_against_asking_points_in_space_then_the_same():
    draw = random.Random(11)
    for _ in range(150):
        gear = gear_of(draw.randint(12, 50), draw.randint(12, 50), shaft=draw.uniform(60, 95))
        cut, out = drawn(draw, gear), draw.choice((TRUE, slips(draw)))
        station = draw.random()
        circle = gear.back_circle(station, draw.choice(judged(gear, station, 41)))

        quick = left_azimuths(gear, cut, [circle], out) + right_azimuths(gear, cut, [circle], out)

        slow = [flank_by_halving(gear, cut, circle, out, side=side) for side in (-1, 1)]
        assert quick == pytest.approx(slow, abs=1e-9)


def test_worst_when_textbook_16_with_40_then_as_printed():
    """Printed: 0.195 off at the tip, 0.037 left on; five sections would show 0.034, nine or more 0.039."""
    gear = gear_of(16, 40)

    found = worst(gear, textbook(gear))

    assert textbook(gear).cutter_teeth == 17
    assert found.cut_away == pytest.approx(0.195, abs=0.0005)
    assert found.left_on == pytest.approx(0.037, abs=0.002)


def test_pitch_point_when_rolled_the_quarter_then_right_within_a_third_of_a_module_over_the_teeth():
    """Printed: within 0.31·m/N at the pitch circle; the issue allows 0.32; 0.026 at 12 teeth."""
    for teeth, mate in ((12, 12), (12, 40), (20, 30), (40, 12), (40, 40)):
        gear = gear_of(teeth, mate)
        for station in (0, 1):
            (error,) = flank_errors(gear, textbook(gear), station, [gear.back_radius(station)])
            assert abs(error) <= 0.32 / teeth
            assert error < 0.001


def test_trimming_round_when_set_over_to_the_right_then_trims_the_left_flank_most_at_the_large_end():
    gear = gear_of(20, 30)
    cut = textbook(gear)
    centre_only = cut._replace(roll=0.0, set_over=0.0)
    taken = []
    for station in (0, 1):
        circle = [gear.back_circle(station, gear.back_radius(station))]
        after, before = (left_azimuths(gear, one, circle)[0] for one in (cut, centre_only))
        taken.append((after - before) * gear.back_radius(station) * cos(gear.pitch_angle))

    assert taken[0] == pytest.approx(0, abs=0.32 / gear.teeth)
    assert taken[1] == pytest.approx(pi / 4 * 0.5, abs=0.32 / gear.teeth)


@pytest.mark.parametrize(
    ("teeth", "mate", "most"),
    [(15, 15, 0.001), (15, 40, 0.001), (20, 36, 0.001), (40, 40, 0.001), (12, 12, 0.001), (12, 24, 0.001)],
)
def test_pair_when_both_flanks_are_as_wanted_then_runs_true_without_play(teeth, mate, most):
    gear, how = gear_of(teeth, mate), Fineness()

    found = running(gear, wanted_sides(gear, how), wanted_sides(gear.mate(), how), how)

    assert found.error <= most
    assert found.backlash == pytest.approx(0, abs=0.001)


def test_pair_when_wanted_12_with_40_then_the_wheels_tip_meets_the_pinion_below_its_base_circle():
    """Printed: 0.007."""
    gear, how = gear_of(12, 40), Fineness()

    found = running(gear, wanted_sides(gear, how), wanted_sides(gear.mate(), how), how)

    assert found.error == pytest.approx(0.007, abs=0.0005)


def test_backlash_when_wanted_spaces_are_opened_then_the_sum_of_both_along_the_line_of_action():
    gear, how = gear_of(20, 30), Fineness()
    opened = 0.002
    wider = [[azimuth + opened for azimuth in curve] for curve in wanted_sides(gear, how).left]

    found = running(gear, Sides(wider, wider), wanted_sides(gear.mate(), how), how)

    arm = gear.teeth / 2 * gear.distance(0.5) / gear.small_distance * cos(gear.pressure_angle)
    assert found.backlash == pytest.approx(2 * opened * arm, abs=0.001)
    assert found.error <= 0.001


# ---- the mesh, by asking points whether both gears have metal there --------------------------------------


def polar(gear, point):
    """A point's circle about the axis, and its azimuth."""
    t, x, h = point
    sine, cosine = sin(gear.pitch_angle), cos(gear.pitch_angle)
    outward = t * sine + h * cosine
    return (t * cosine - h * sine, hypot(outward, x)), atan2(x, outward)


def has_metal(gear, cut, point, turn):
    """Whether a gear, turned so far to the right from where a space stands at the top, has metal there."""
    circle, azimuth = polar(gear, point)
    distance = hypot(*circle)
    if atan2(circle[1], circle[0]) > gear.pitch_angle + atan2(1, (distance**2 - 1) ** 0.5):
        return False
    pitch = 2 * pi / gear.teeth
    own = (azimuth - turn + pitch / 2) % pitch - pitch / 2
    return not removed(blank_point(gear, circle, own), gear, cut)


def flank_circles(gear, cut, distance):
    """Circles on one sphere from the tip down, and where each meets a flank, a hair inside the metal."""
    reach = atan2(1, (distance**2 - 1) ** 0.5)
    angles = [gear.pitch_angle + reach * (1 - at / 30) - 1e-9 for at in range(61)]
    circles = [(distance * cos(angle), distance * sin(angle)) for angle in angles]
    return [(circle, flank_by_halving(gear, cut, circle) + 1e-9) for circle in circles]


def flank_points(gear, flank, turn):
    """Points of both sides of the three teeth nearest to the mate."""
    pitch = 2 * pi / gear.teeth
    return [
        blank_point(gear, circle, turn + side * azimuth + pitch * tooth)
        for circle, azimuth in flank
        for side in (-1, 1)
        for tooth in (-1, 0, 1)
    ]


def touches(one, other, turn, mate_turn):
    """Whether the metal of two gears overlaps; the mate's frame has x and h the other way."""
    (gear, cut, flank), (mate, mate_cut, mate_flank) = one, other
    mate_own = pi / mate.teeth - mate_turn
    return any(
        has_metal(mate, mate_cut, (t, -x, -h), mate_own) for t, x, h in flank_points(gear, flank, turn)
    ) or any(has_metal(gear, cut, (t, -x, -h), turn) for t, x, h in flank_points(mate, mate_flank, mate_own))


def play(one, other, turn):
    """How far the mate can be turned from true either way, by halving from where it stands clear."""
    true = turn * one[0].teeth / other[0].teeth
    found = []
    for way in (-1, 1):
        clear, stopped = 0.0, way * 0.03
        for _ in range(12):
            middle = (clear + stopped) / 2
            if touches(one, other, turn, true + middle):
                stopped = middle
            else:
                clear = middle
        found.append(clear)
    return found


def test_running_when_points_are_asked_for_metal_in_both_gears_then_the_same_play():
    gear = gear_of(15, 24)
    cut = textbook(gear, shallower=0.06)._replace(cutter_teeth=26)
    mate_cut = textbook(gear.mate())._replace(set_over=0.8)
    how = Fineness(spheres=1, phases=4, points=81)
    # One sphere, at the small end.
    arm = gear.mate_teeth / 2 * gear.distance(0.5) / gear.small_distance * cos(gear.pressure_angle)
    turns = [2 * pi / gear.teeth * phase / how.phases for phase in range(how.phases)]

    both = [
        (each, as_cut, flank_circles(each, as_cut, gear.distance(0)))
        for each, as_cut in ((gear, cut), (gear.mate(), mate_cut))
    ]
    asked = [play(*both, turn) for turn in turns]

    found = running(gear, cut_sides(gear, cut, how), cut_sides(gear.mate(), mate_cut, how), how)
    ahead = [arm * most for _, most in asked]
    assert min(most - least for least, most in asked) * arm == pytest.approx(found.backlash, abs=0.001)
    assert max(ahead) - min(ahead) == pytest.approx(found.error, abs=0.001)
    assert found.error > 0.01


def test_turning_when_the_top_is_rolled_to_the_right_then_x_grows():
    gear = gear_of(20, 30)
    top = blank_point(gear, gear.back_circle(0, gear.back_radius(0)), 0.0)
    axis = (cos(gear.pitch_angle), 0.0, -sin(gear.pitch_angle))

    rolled = turned(top, axis, -0.1)

    assert rolled == pytest.approx(blank_point(gear, gear.back_circle(0, gear.back_radius(0)), 0.1))
    assert rolled[1] > 0
    assert top[2] == pytest.approx(0)
    assert gear.back_radius(0) == pytest.approx(gear.small_distance * tan(gear.pitch_angle))
