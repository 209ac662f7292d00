"""The outline of a tooth against the involute unwound, and a gear and its mate laid into each other."""

from itertools import pairwise
from math import atan2, cos, hypot, pi, radians, sin, tan

import pytest

from calc.kernel.involute import angle_of_involute, involute
from calc.kernel.spur_gear_profile import Profile, outline, shifted_half_angle
from tests.oracles import flank_start, halved, unwound

GEARS = [
    (84, 2.157, 0.0, 20.0),
    (12, 2.25, 0.0, 20.0),
    (6, 2.4, 0.0, 20.0),
    (200, 2.157, 0.0, 14.5),
    (24, 2.25, 0.4, 20.0),
    (30, 2.25, -0.3, 30.0),
    (1000, 2.25, 0.0, 20.0),
]


def profile(teeth, depth=2.25, shift=0.0, angle=20.0, thinned=0.0):
    alpha, tip = radians(angle), teeth / 2 + 1 + shift
    return Profile(
        teeth=teeth, module=1.0, alpha=alpha, half_angle=shifted_half_angle(teeth, alpha, shift, thinned),
        tip=tip, root=tip - depth, clearance=depth - 2,
    )  # fmt: skip


@pytest.mark.parametrize("gear", GEARS, ids=str)
def test_side_when_followed_from_root_to_tip_then_it_never_turns_back_or_crosses_the_space(gear):
    one = profile(*gear)
    side = one.side(flank=12, corner=8)
    assert (side[0][0], side[-1][0]) == (one.root, one.tip)
    assert all(b[0] >= a[0] - 1e-12 for a, b in pairwise(side))
    assert all(-1e-9 <= angle <= one.half_pitch + 1e-9 for _, angle in side)


@pytest.mark.parametrize("gear", GEARS, ids=str)
def test_flank_when_the_string_is_unwound_then_every_point_above_the_base_circle_lies_on_it(gear):
    one = profile(*gear)
    thick = 2 * one.half_angle * one.teeth / 2
    start = flank_start(one.teeth, one.alpha, thick)
    flank = one.side(flank=12, corner=1)[-11:]
    for radius, angle in flank:
        if radius > one.base:
            roll = halved(lambda roll, out=radius: hypot(*unwound(one.base, roll)) - out, 0.0, 10.0)
            out, side = unwound(one.base, roll, -start)
            assert atan2(-side, out) == pytest.approx(angle, abs=1e-9)


@pytest.mark.parametrize("gear", GEARS, ids=str)
def test_corner_when_its_points_are_measured_then_it_is_round_and_touches_root_and_flank(gear):
    one = profile(*gear)
    side = one.side(flank=400, corner=12)
    middle, angle, meets = one._corner(one.fillet)
    cx, cy = middle * cos(angle), middle * sin(angle)
    points = [(radius * cos(turn), radius * sin(turn)) for radius, turn in side]
    for x, y in points[:13]:
        assert hypot(x - cx, y - cy) == pytest.approx(one.fillet, abs=1e-9)
    assert side[12][0] == pytest.approx(meets, abs=1e-9)
    # Nothing of the flank comes nearer than the corner's own radius, so the corner runs into it.
    assert min(hypot(x - cx, y - cy) for x, y in points) >= one.fillet - 1e-6


def test_corner_when_the_depth_is_that_of_iso_53_then_it_is_its_radius():
    # ISO 53, types A and others at 2.25 modules: 0.38 of a module, from memory; 1/4 / (1 - sin 20) = 0.37995.
    assert profile(40).fillet == pytest.approx(0.38, abs=5e-4)


def test_half_tooth_when_at_the_pitch_circle_then_it_is_the_half_angle_and_at_the_point_it_is_nought():
    one = profile(24)
    assert one.half_tooth(12.0) == pytest.approx(one.half_angle)
    pointed = one.base / cos(angle_of_involute(one.half_angle + involute(one.alpha)))
    assert one.half_tooth(pointed) == pytest.approx(0, abs=1e-12)


def deepest(gear, mate, apart):
    """How far the mate's teeth stand inside the gear's, in a mesh with a tooth on the line of centres."""
    found = -1.0
    for place in (-1, 0, 1):
        for radius, angle in outline(mate, flank=60, corner=6):
            about = pi + 2 * mate.half_pitch * place + angle
            x, y = apart + radius * cos(about), radius * sin(about)
            out, turn = hypot(x, y), atan2(y, x)
            if gear.base <= out <= gear.tip:
                from_tooth = abs(turn) % (2 * gear.half_pitch) - gear.half_pitch
                found = max(found, (gear.half_tooth(out) - abs(from_tooth)) * out)
    return found


@pytest.mark.parametrize(
    ("teeth", "mate", "shift"), [(84, 18, 0.0), (57, 20, 0.0), (24, 30, 0.4), (40, 40, 0.0)]
)
def test_pair_when_laid_into_each_other_then_they_touch_and_do_not_cut_in(teeth, mate, shift):
    one, other = profile(teeth, shift=shift), profile(mate)
    apart = (teeth + mate) / 2
    if shift:
        working = involute(one.alpha) + 2 * tan(one.alpha) * shift / (teeth + mate)
        apart *= cos(one.alpha) / cos(angle_of_involute(working))
    assert deepest(one, other, apart) == pytest.approx(0, abs=1e-3)
    assert deepest(one, other, apart - 0.02) > 5e-3
