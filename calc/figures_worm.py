"""A worm cut along its axis and its wheel in the middle plane, to scale."""

from collections.abc import Iterable
from itertools import pairwise
from math import cos, pi, radians, sin, tan

from calc.figures import Circle, Drawing, Path, Point, Stroke, Text
from calc.figures_hatch import arrow, centre_lines, dimension, hatched
from calc.kernel.spur_gear_profile import Profile, outline, shifted_half_angle
from calc.kernel.units import Unit, fine, turned

SIZE = 17.0  # of a figure, in drawing units
_SPACING = 7.0
_TALL, _WIDE = 460.0, 480.0  # worm and wheel together, at most
_FINEST = 3.0  # a pitch narrower than this is a smear: circles stand for the wheel's teeth
_PITCHES = 5  # of thread drawn; common practice, no source


def pair(
    *,
    starts: int,
    wheel_teeth: int,
    module: float,
    pressure_angle: float,
    whole_depth: float,
    worm_diameter: float,
    unit: Unit = "inch",
) -> Drawing:
    """The worm above, cut along its axis, and the wheel under it: over the threads, throat, centres, lead.

    Parameters
    ----------
    starts, wheel_teeth : int
        Threads of the worm and teeth of the wheel. [count]
    module, whole_depth, worm_diameter : float
        Along the worm; the diameter at the pitch line. [mm]
    pressure_angle : float
        Of the thread's side. [degree]
    unit : str
        What the figures are written in: inch or mm.
    """
    throat = (wheel_teeth / 2 + 1) * module
    over = worm_diameter / 2 + module
    pitch = pi * module
    turns = max(_PITCHES, starts + 2)
    tall = over + (worm_diameter + wheel_teeth * module) / 2 + throat
    scale = min(_TALL / tall, _WIDE / max(2 * throat, turns * pitch))
    centres = (worm_diameter + wheel_teeth * module) / 2 * scale
    strokes: list[Stroke] = [
        *_worm(starts, module, radians(pressure_angle), whole_depth, worm_diameter, turns, scale),
        *_wheel(wheel_teeth, module, radians(pressure_angle), whole_depth, centres, scale),
    ]
    half = max(turns * pitch * scale / 2, throat * scale)
    strokes += _figures(
        starts * pitch, 2 * over, 2 * throat, centres / scale, scale, half, turns * pitch / 2, unit
    )
    left, right = -half - 130, half + 130
    top, low = -over * scale - 64, centres + throat * scale + 48
    label = (
        f"Worm of {starts} start{'' if starts == 1 else 's'} cut along its axis, "
        f"{turned(2 * over, unit)} over its threads, on a wheel of {wheel_teeth} teeth, centres "
        f"{turned(centres / scale, unit)}"
    )
    return Drawing(label, left, top, right - left, low - top, tuple(strokes))


def _worm(
    starts: int, module: float, alpha: float, depth: float, diameter: float, turns: int, scale: float
) -> Iterable[Stroke]:
    """The thread as a rack above and below; half a turn on it has moved by half the lead."""
    pitch, end = pi * module, turns * pi * module / 2
    upper = _rack(0.0, module, alpha, depth, diameter / 2, turns)
    # A tooth of the rack below stands in a space of the wheel, whose tooth points up at the worm's middle.
    lower = _rack(starts * pitch / 2, module, alpha, depth, diameter / 2, turns)
    top = [(x * scale, -y * scale) for x, y in _cut(lower, end)]
    bottom = [(x * scale, y * scale) for x, y in _cut(upper, end)]
    body = [*top, *reversed(bottom)]
    yield from hatched(body, "st", _SPACING)
    yield Path(tuple(body), "cut", closed=True)
    reach = end * scale + 16
    yield Path(((-reach, 0), (reach, 0)), "c")
    for y in (-diameter / 2 * scale, diameter / 2 * scale):
        yield Path(((-reach, y), (reach, y)), "c")


def _rack(
    shift: float, module: float, alpha: float, depth: float, pitch_radius: float, turns: int
) -> list[Point]:
    """The thread's outline along the worm: a space of it at nought when there is no shift."""
    pitch, tip, root = pi * module, pitch_radius + module, pitch_radius + module - depth
    narrow = pitch / 4 - module * tan(alpha)
    wide = pitch / 4 + (depth - module) * tan(alpha)
    points: list[Point] = []
    first = -turns - 1
    for place in range(first, turns + 2):
        middle = (place + 0.5) * pitch + shift % pitch
        points += [
            (middle - wide, root), (middle - narrow, tip), (middle + narrow, tip), (middle + wide, root)
        ]  # fmt: skip
    return points


def _cut(points: list[Point], end: float) -> list[Point]:
    """The part of an outline between the worm's two ends, with its points on them."""
    kept: list[Point] = []
    for (x1, y1), (x2, y2) in pairwise(points):
        kept += [(edge, y1 + (edge - x1) * (y2 - y1) / (x2 - x1)) for edge in (-end, end) if x1 < edge < x2]
        if -end <= x2 <= end:
            kept.append((x2, y2))
    return kept


def _wheel(
    teeth: int, module: float, alpha: float, depth: float, centres: float, scale: float
) -> Iterable[Stroke]:
    """The wheel in its middle plane: all its teeth, a tooth pointing up into a space of the worm."""
    tip = (teeth / 2 + 1) * module
    gear = Profile(
        teeth=teeth,
        module=module,
        alpha=alpha,
        half_angle=shifted_half_angle(teeth, alpha, 0.0, 0.0),
        tip=tip,
        root=tip - depth,
        clearance=max(0.0, depth - 2 * module),
    )
    middle = (0.0, centres)
    apart = pi * module * scale
    if apart < _FINEST:
        yield Circle(*middle, tip * scale, "o0")
        yield Circle(*middle, gear.root * scale, "t0")
    else:
        yield Path(tuple(_teeth(gear, middle, scale, apart)), "o0", closed=True)
    yield Circle(*middle, teeth * module / 2 * scale, "c")
    yield from centre_lines(middle, tip * scale + 14)


def _teeth(gear: Profile, middle: Point, scale: float, apart: float) -> Iterable[Point]:
    flank, corner = (2, 1) if apart < 8 else (3, 1) if apart < 16 else (5, 3)
    tooth = outline(gear, flank=flank, corner=corner)
    for place in range(gear.teeth):
        about = 2 * gear.half_pitch * place - pi / 2
        for radius, angle in tooth:
            yield (
                middle[0] + radius * scale * cos(about + angle),
                middle[1] + radius * scale * sin(about + angle),
            )


def _figures(
    lead: float,
    over: float,
    throat: float,
    centres: float,
    scale: float,
    half: float,
    end: float,
    unit: Unit,
) -> Iterable[Stroke]:
    """Lead over the worm, its diameter at the left, the centres at the right, the throat below."""
    top = -over * scale / 2
    yield from dimension(
        (-lead * scale / 2, top), (lead * scale / 2, top), f"lead {fine(lead, unit)}", away=22, size=SIZE
    )
    left = -end * scale
    yield from dimension(
        (left, top), (left, -top), turned(over, unit), away=-(half - end * scale + 30), size=SIZE, role="hott"
    )
    right = half + 30
    foot = centres * scale
    yield Path(((end * scale + 18, 0), (right + 5, 0)), "d")
    yield Path(((throat / 2 * scale + 18, foot), (right + 5, foot)), "d")
    yield Path(((right, 0), (right, foot)), "d")
    yield arrow((right, 0), (right, foot))
    yield arrow((right, foot), (right, 0))
    yield Text(right + 8, foot / 2 + 0.35 * SIZE, turned(centres, unit), "fig", "start", SIZE)
    yield Text(0, foot + throat / 2 * scale + 34, f"throat {turned(throat, unit)} dia", "fig", "middle", SIZE)
