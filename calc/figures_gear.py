"""A spur gear in mesh with its mate, its blank in section, and one of its teeth, to scale."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, radians, sin

from calc.figures import Circle, Drawing, Path, Point, Role, Stroke, Text
from calc.figures_hatch import arrow, centre_lines, dimension, hatched
from calc.kernel.spur_gear_profile import Profile, outline, shifted_half_angle
from calc.kernel.units import Unit, fine, turned

SIZE = 17.0  # of a figure, in drawing units
_SPACING = 7.0
_ROUND = 272.0  # the larger of the two gears, across
_ACROSS = 400.0  # gears in mesh and the blank beside them, at most
_NARROW = 560.0  # the least width of the picture
_FINEST = 2.0  # a tooth and a space narrower than this are a smear: tip and root circles stand for them
_FACE = 10  # modules wide where no face is given; common practice, no source


# ---- the gears and the blank -----------------------------------------------------------------------------


def blank(
    *,
    teeth: int,
    module: float,
    pressure_angle: float,
    whole_depth: float,
    shift: float = 0.0,
    backlash: float = 0.0,
    mate_teeth: int | None = None,
    centres: float | None = None,
    face_width: float | None = None,
    bore: float | None = None,
    unit: Unit = "inch",
) -> Drawing:
    """The gear with all its teeth, in mesh with its mate, and beside it the blank in section.

    Parameters
    ----------
    teeth, mate_teeth : int
        Teeth of the gear, and of its mate where it has one. [count]
    module, whole_depth, backlash, centres, face_width, bore : float
        The teeth, how far apart the pair runs, the blank's width and bore where known. [mm]
    pressure_angle : float
        Of the cutter. [degree]
    shift : float
        Of the gear alone. [module]
    unit : str
        What the figures are written in: inch or mm.

    Notes
    -----
    A blank of no given width is drawn ten modules wide, or half its diameter where that is less, and
    carries no figure for it. Teeth too
    fine to be seen are drawn as tip and root circles.
    """
    own = _profile(teeth, module, pressure_angle, whole_depth, shift, backlash)
    mate = (
        _profile(mate_teeth, module, pressure_angle, whole_depth, 0.0, backlash)
        if mate_teeth and centres
        else None
    )
    face, apart = face_width or min(_FACE * module, own.tip), centres or 0.0
    right = max(own.tip, apart + mate.tip if mate else 0.0)
    scale = min(_ROUND / 2 / max(own.tip, mate.tip if mate else 0.0), _ACROSS / (own.tip + right + face))
    tall = scale * max(own.tip, mate.tip if mate else 0.0)
    section = right * scale + 52 + face * scale / 2
    strokes: list[Stroke] = [*_wheel(own, (0, 0), scale, turned=0.5)]
    if mate:
        # A tooth of the mate, pointing back at the gear, stands in the space that points at it.
        turn = mate.teeth / 2 % 1
        strokes += _wheel(mate, (apart * scale, 0), scale, turned=turn)
        strokes += _centres(own, mate, apart, scale, tall, unit)
    strokes += _section(
        own, section, face * scale, scale, (bore or 0.0) / 2, unit, is_face_known=bool(face_width)
    )
    left, wide = -own.tip * scale - 22, section + face * scale / 2 + 78
    spare = max(0.0, _NARROW - (wide - left)) / 2
    below = tall + (52 if mate else 18)
    label = (
        f"{_gears_words(teeth, mate_teeth)}, and the blank in section, {turned(2 * own.tip, unit)} diameter"
    )
    return Drawing(
        label, left - spare, -tall - 44, wide - left + 2 * spare, tall + 44 + below, tuple(strokes)
    )


def _gears_words(teeth: int, mate_teeth: int | None) -> str:
    return f"Gears of {teeth} and {mate_teeth} teeth in mesh" if mate_teeth else f"Gear of {teeth} teeth"


def _profile(teeth: int, module: float, angle: float, depth: float, shift: float, backlash: float) -> Profile:
    alpha = radians(angle)
    tip = (teeth / 2 + 1 + shift) * module
    return Profile(
        teeth=teeth,
        module=module,
        alpha=alpha,
        half_angle=shifted_half_angle(teeth, alpha, shift, backlash / 2 / module),
        tip=tip,
        root=tip - depth,
        clearance=max(0.0, depth - 2 * module),
    )


def _wheel(gear: Profile, middle: Point, scale: float, *, turned: float) -> Iterable[Stroke]:
    """All the teeth of a gear; a tooth stands to the right of its middle, turned by so many teeth."""
    pitch = gear.teeth * gear.module / 2 * scale
    apart = 2 * pitch * gear.half_pitch
    if apart < _FINEST:
        yield Circle(*middle, gear.tip * scale, "o")
        yield Circle(*middle, gear.root * scale, "t0")
    else:
        yield Path(tuple(_teeth(gear, middle, scale, turned, apart)), "o", closed=True)
    yield Circle(*middle, pitch, "c")
    yield from centre_lines(middle, gear.tip * scale + 14)


def _teeth(gear: Profile, middle: Point, scale: float, turned: float, apart: float) -> Iterable[Point]:
    flank = 2 if apart < 4 else 3 if apart < 12 else 5
    corner = 1 if apart < 12 else 3
    tooth = outline(gear, flank=flank, corner=corner)
    tooth = tooth[1:-1] if apart < 12 else tooth
    if flank == 2:
        # Root and tip alone: the corners of a tooth this fine are one point.
        tooth = tuple(point for point in tooth if point[0] in (gear.tip, gear.root) and point[1])
    for place in range(gear.teeth):
        about = 2 * gear.half_pitch * (place + turned)
        for radius, angle in tooth:
            yield (
                middle[0] + radius * scale * cos(about + angle),
                middle[1] + radius * scale * sin(about + angle),
            )


def _centres(
    own: Profile, mate: Profile, apart: float, scale: float, tall: float, unit: Unit
) -> Iterable[Stroke]:
    """The centre distance, below both gears."""
    low, x = tall + 36, apart * scale
    for at, gear in ((0.0, own), (x, mate)):
        yield Path(((at, gear.tip * scale + 18), (at, low + 5)), "d")
    yield Path(((0, low), (x, low)), "d")
    yield arrow((0, low), (x, low))
    yield arrow((x, low), (0, low))
    text = turned(apart, unit)
    if x > 0.6 * SIZE * len(text) + 24:
        yield Text(x / 2, low - 6, text, "fig", "middle", SIZE)
    else:
        yield Text(x + 8, low + 6, text, "fig", "start", SIZE)


def _section(
    own: Profile, x: float, face: float, scale: float, bore: float, unit: Unit, *, is_face_known: bool
) -> Iterable[Stroke]:
    """The blank cut through the middle, its root and pitch lines, outside diameter and face."""
    tip, half = own.tip * scale, face / 2
    halves = [(-tip, tip)] if not bore else [(-tip, -bore * scale), (bore * scale, tip)]
    for top, bottom in halves:
        corners = ((x - half, top), (x + half, top), (x + half, bottom), (x - half, bottom))
        yield from hatched(corners, "ci", _SPACING)
        yield Path(corners, "cut", closed=True)
    if bore:
        for side in (-half, half):
            yield Path(((x + side, -bore * scale), (x + side, bore * scale)), "t0")
    for radius in (own.root, -own.root):
        yield Path(((x - half, radius * scale), (x + half, radius * scale)), "t0")
    for radius in (own.teeth * own.module / 2, -own.teeth * own.module / 2):
        yield Path(((x - half - 5, radius * scale), (x + half + 5, radius * scale)), "c")
    yield Path(((x - half - 14, 0), (x + half + 14, 0)), "c")
    if is_face_known:
        text = turned(2 * half / scale, unit)
        yield from dimension((x - half, -tip), (x + half, -tip), text, away=16, size=SIZE)
    text = f"{turned(2 * own.tip, unit)} dia"
    yield from dimension((x + half, -tip), (x + half, tip), text, away=40, size=SIZE)


# ---- one tooth -------------------------------------------------------------------------------------------

_MODULE = 86.0  # drawing units to a module
_HALF, _TOP = 330.0, 64.0  # the window: to each side, and above the tip
_BELOW = 72.0  # of the rim, under the root
_BIG = 20.0


def tooth(
    *,
    teeth: int,
    module: float,
    pressure_angle: float,
    whole_depth: float,
    chordal_thickness: float,
    chordal_addendum: float,
    shift: float = 0.0,
    backlash: float = 0.0,
    short_of_tip: float = 0.0,
    unit: Unit = "inch",
) -> Drawing:
    """One tooth in section between its neighbours, with the chord, the addendum it is taken at, the depth.

    Parameters
    ----------
    teeth : int
        Teeth of the gear. [count]
    module, whole_depth, chordal_thickness, chordal_addendum, backlash : float
        The teeth and their sizes; the backlash is the pair's. [mm]
    short_of_tip : float
        What the blank as turned leaves off each tip. [mm]
    pressure_angle : float
        Of the cutter. [degree]
    shift : float
        Of the gear. [module]
    unit : str
        What the figures are written in: inch or mm.

    Notes
    -----
    The flank is the involute down to the base circle, and below it a line to the middle of the
    gear; the corner at the root has the radius that `calc.kernel.spur_gear_profile` reckons from the
    clearance (common practice, no source). The cutter is shaped for the fewest teeth of its range, and
    the drawing for the gear's own.
    """
    gear = _profile(teeth, module, pressure_angle, whole_depth, shift, backlash)
    scale, tip = _MODULE / module, gear.tip - short_of_tip
    cut = Profile(
        teeth=teeth,
        module=module,
        alpha=gear.alpha,
        half_angle=gear.half_angle,
        tip=tip,
        root=gear.root,
        clearance=gear.clearance,
    )
    bottom = (tip - gear.root) * scale + _BELOW
    line = _row_of_teeth(cut, scale, bottom)
    body = _clipped([*line, (_far(line[-1]), bottom + 400), (_far(line[0]), bottom + 400)], bottom)
    chord, drop = chordal_thickness * scale / 2, chordal_addendum * scale
    depth = tip - gear.root
    strokes: list[Stroke] = [
        *hatched(body, "ci", _SPACING),
        *(Path(run, "o0") for run in _runs(line, bottom)),
        *_circle(teeth * module / 2, tip, scale, bottom, "c"),
        *_circle(tip, tip, scale, bottom, "d"),
        *_chord(chord, drop, fine(chordal_thickness, unit)),
        *_addendum(chord, drop, cut.half_tooth(tip) * tip * scale, fine(chordal_addendum, unit)),
        *_depth(cut, scale, fine(depth, unit)),
    ]
    label = (
        f"Tooth of the {teeth} from the same figures: depth {fine(depth, unit)}, chord "
        f"{fine(chordal_thickness, unit)} at {fine(chordal_addendum, unit)} from the tip"
    )
    return Drawing(label, -_HALF, -_TOP, 2 * _HALF, _TOP + bottom, tuple(strokes))


def _at(radius: float, angle: float, tip: float, scale: float) -> Point:
    """A point of the gear with the tip of the middle tooth at the origin, angles to the right."""
    # The rise is reckoned from the half angle: with many teeth a cosine so near to one keeps no places.
    fall = (tip - radius) + 2 * radius * sin(angle / 2) ** 2
    return radius * sin(angle) * scale, fall * scale


def _row_of_teeth(gear: Profile, scale: float, bottom: float) -> list[Point]:
    """The middle tooth and as many to each side as the window takes in, from left to right."""
    shape = outline(gear, flank=9, corner=6)
    points: list[Point] = []
    most = 1 + int(_HALF / (2 * gear.half_pitch * gear.root * scale))
    most = min(most + 1, max(1, gear.teeth // 4))
    for place in range(-most, most + 1):
        for radius, angle in shape:
            points.append(_at(radius, angle + 2 * place * gear.half_pitch, gear.tip, scale))
    return [point for point in points if point[1] < bottom + 400]


def _far(point: Point) -> float:
    return point[0] * 3


def _inside(point: Point, bottom: float) -> bool:
    return abs(point[0]) <= _HALF and point[1] <= bottom


def _crossing(a: Point, b: Point, axis: int, level: float) -> Point:
    """Where a line crosses a level of x (axis 0) or of y (axis 1)."""
    part = (level - a[axis]) / (b[axis] - a[axis])
    found = [a[i] + part * (b[i] - a[i]) for i in (0, 1)]
    found[axis] = level
    return found[0], found[1]


def _sides(bottom: float) -> tuple[tuple[int, float, int], ...]:
    """The window's sides: which coordinate, its level, and which way is inside."""
    return ((0, -_HALF, 1), (0, _HALF, -1), (1, bottom, -1))


def _clipped(corners: Sequence[Point], bottom: float) -> list[Point]:
    """An outline cut off at the window, side by side."""
    kept = list(corners)
    for axis, level, way in _sides(bottom):
        before, kept = kept, []
        for a, b in pairwise([*before, before[0]]):
            a_in, b_in = ((point[axis] - level) * way >= 0 for point in (a, b))
            if a_in:
                kept.append(a)
            if a_in != b_in:
                kept.append(_crossing(a, b, axis, level))
    return kept


def _runs(line: Sequence[Point], bottom: float) -> list[tuple[Point, ...]]:
    """A line cut off at the window: the stretches of it inside."""
    runs: list[list[Point]] = []
    for a, b in pairwise(line):
        cut = [a, b]
        for axis, level, way in _sides(bottom):
            inside = [(point[axis] - level) * way >= 0 for point in cut]
            if not any(inside):
                cut = []
                break
            if inside[0] != inside[1]:
                cut[inside[0]] = _crossing(cut[0], cut[1], axis, level)
        if not cut:
            continue
        if runs and runs[-1][-1] == cut[0]:
            runs[-1].append(cut[1])
        else:
            runs.append(cut)
    return [tuple(run) for run in runs]


def _circle(radius: float, tip: float, scale: float, bottom: float, role: Role) -> list[Path]:
    """An arc of a circle about the gear's middle, as far as the window goes."""
    reach = min(1.4, 1.2 * _HALF / (radius * scale))
    points = [_at(radius, reach * place / 24, tip, scale) for place in range(-24, 25)]
    return [Path(run, role) for run in _runs(points, bottom)]


def _chord(half: float, drop: float, text: str) -> list[Stroke]:
    """The chord across the tooth, carried up over the tip."""
    over = -30.0
    strokes: list[Stroke] = [Path(((-half, drop), (half, drop)), "hl")]
    strokes += [Circle(x, drop, 4, "hot") for x in (-half, half)]
    strokes += [Path(((x, drop - 8), (x, over - 6)), "d") for x in (-half, half)]
    strokes += [Path(((-half, over), (half, over)), "d")]
    strokes += [arrow((-half, over), (half, over)), arrow((half, over), (-half, over))]
    return [*strokes, Text(0, over - 9, f"{text} chord", "hott", "middle", _BIG)]


def _addendum(half: float, drop: float, land: float, text: str) -> list[Stroke]:
    """From the tip down to the chord, in the space to the right."""
    x = half + 24
    strokes: list[Stroke] = [
        Path(((land + 5, 0), (x + 10, 0)), "d"),
        Path(((half + 8, drop), (x + 10, drop)), "d"),
        Path(((x, 0), (x, drop)), "d"),
        arrow((x, 0), (x, drop)),
        arrow((x, drop), (x, 0)),
    ]
    return [*strokes, Text(x + 7, drop / 2 + 0.35 * _BIG, text, "fig", "start", _BIG)]


def _depth(gear: Profile, scale: float, text: str) -> list[Stroke]:
    """Tip to root along the middle of the space to the left."""
    high = _at(gear.tip, -gear.half_pitch, gear.tip, scale)
    low = _at(gear.root, -gear.half_pitch, gear.tip, scale)
    x, y = (high[i] + 0.15 * (low[i] - high[i]) for i in (0, 1))
    return [
        Path((high, low), "d"),
        arrow(high, low),
        arrow(low, high),
        Text(x - 6, y + 0.35 * _BIG, text, "fig", "end", _BIG),
    ]
