"""Section lines and dimensions, as strokes for any drawing; `y` runs downwards, as on page and paper.

Draw to a window 400 to 700 units wide: a figure of 17 units can then be read on a telephone.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Literal

from calc.figures import Anchor, Path, Point, Role, Stroke, Text

Hatch = Literal["ci", "st", "gm", "cu", "wm", "nm"]

#: For each material, its lines in one repeat of the spacing: where they stand in it, and the dash and the
#: gap of a broken one. The assignment is older drawing practice, from memory, as in the swatches.
_LINES: dict[str, tuple[tuple[float, float, float], ...]] = {
    "ci": ((0, 0, 0),),
    "st": ((0, 0, 0), (0.35, 0, 0)),
    "gm": ((0, 0, 0), (0.5, 0.5, 0.5)),
    "cu": ((0, 0.8, 0.5),),
    "wm": ((0, 0, 0),),
    "nm": ((0, 0.5, 0.4),),
}
SIZE = 17.0  # of a dimension's figure, in drawing units
ARROW = 10.0  # how long an arrow head is
_GAP, _OVER = 4.0, 5.0  # from the work to its extension line, and what that passes the dimension by


# ---- section lines ---------------------------------------------------------------------------------------


def hatched(
    outline: Sequence[Point],
    kind: Hatch | str,
    spacing: float,
    *,
    holes: Sequence[Sequence[Point]] = (),
    lean: float = 45,
    role: Role = "s",
) -> tuple[Path, ...]:
    """Section lines of a material, cut off at an outline.

    Parameters
    ----------
    outline : sequence of points
        The corners of what is cut, closed of itself; it may be hollow or bent in any way.
    kind : str
        The material: ci, st, gm, cu, wm or nm. Any other is drawn as ci.
    spacing : float
        From one line, or one pair of lines, to the next. [drawing units]
    holes : sequence of outlines
        What is not cut inside the outline.
    lean : float
        The slope of the lines; two parts that touch lean opposite ways. [degree]
    role : str
        What the lines are drawn as.
    """
    if len(outline) < 3 or spacing <= 0:
        return ()
    loops = [outline, *holes]
    lines = list(_lines(loops, _LINES.get(kind, _LINES["ci"]), spacing, lean))
    if kind == "wm":
        lines += _lines(loops, _LINES["wm"], spacing, lean + 90)
    return tuple(Path(line, role) for line in lines)


def _lines(
    loops: Sequence[Sequence[Point]], lines: Sequence[tuple[float, float, float]], spacing: float, lean: float
) -> Iterator[tuple[Point, Point]]:
    """The lines of one slope, each in the pieces that lie inside the loops."""
    c, s = cos(radians(lean)), sin(radians(lean))
    # Turned so that the lines lie level; rising to the right on the page, where y runs down.
    turned = [[(x * c - y * s, x * s + y * c) for x, y in loop] for loop in loops]
    levels = [y for loop in turned for _, y in loop]
    for offset, dash, gap in lines:
        number = int((min(levels) / spacing - offset) // 1) + 1
        while (level := (number + offset) * spacing) < max(levels):
            for left, right in _inside(turned, level):
                for a, b in _dashed(left, right, dash * spacing, gap * spacing):
                    yield (a * c + level * s, level * c - a * s), (b * c + level * s, level * c - b * s)
            number += 1


def _inside(loops: Sequence[Sequence[Point]], level: float) -> Iterator[Point]:
    """The stretches of a level line that lie inside the loops: from every first crossing to the next."""
    crossings = sorted(
        x1 + (level - y1) * (x2 - x1) / (y2 - y1)
        for loop in loops
        for (x1, y1), (x2, y2) in pairwise([*loop, loop[0]])
        if (y1 <= level) != (y2 <= level)
    )
    yield from zip(crossings[::2], crossings[1::2], strict=False)


def _dashed(left: float, right: float, dash: float, gap: float) -> Iterator[Point]:
    """A stretch whole, or in dashes that stand in step with those of every other stretch."""
    if not dash:
        yield left, right
        return
    step = dash + gap
    start = (left // step) * step
    while start < right:
        a, b = max(left, start), min(right, start + dash)
        if b > a:
            yield a, b
        start += step


# ---- dimensions ------------------------------------------------------------------------------------------


def arrow(tip: Point, toward: Point, *, length: float = ARROW, role: Role = "da") -> Path:
    """The head of an arrow with its tip at a point, coming from the side of `toward`."""
    away = hypot(toward[0] - tip[0], toward[1] - tip[1]) or 1.0
    along = ((toward[0] - tip[0]) / away * length, (toward[1] - tip[1]) / away * length)
    side = (-along[1] * 0.17, along[0] * 0.17)
    foot = (tip[0] + along[0], tip[1] + along[1])
    return Path(
        (tip, (foot[0] + side[0], foot[1] + side[1]), (foot[0] - side[0], foot[1] - side[1])), role, True
    )


def dimension(
    start: Point,
    end: Point,
    text: str,
    *,
    away: float,
    size: float = SIZE,
    role: Role = "fig",
    beside: Literal["", "start", "end"] = "",
) -> tuple[Stroke, ...]:
    """A dimension between two points of the work: extension lines, the line with its arrows, the figure.

    Parameters
    ----------
    start, end : point
        What is measured; the dimension stands parallel to the line between them. [drawing units]
    text : str
        The figure.
    away : float
        How far from the work the dimension stands: above nought on the left hand going from `start` to
        `end`, as the page is seen; below nought on the right hand. [drawing units]
    size : float
        The size of the figure. [drawing units]
    role : str
        The figure's role: `fig`, or `hott` for the one figure spoken of.
    beside : str
        Put the figure outside, beyond that end; left out, it is inside where it fits.
    """
    long = hypot(end[0] - start[0], end[1] - start[1])
    if not long:
        return ()
    u = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
    normal = (u[1], -u[0])
    way = 1 if away >= 0 else -1
    a, b = _along(start, normal, away), _along(end, normal, away)
    lines: list[Stroke] = [
        Path((_along(foot, normal, way * _GAP), _along(at, normal, way * _OVER)), "d")
        for foot, at in ((start, a), (end, b))
        if abs(away) > _GAP
    ]
    wide = 0.56 * size * len(text)
    place = beside or ("" if long > wide + 4 else "end")
    inside = long > 3 * ARROW
    lines += _arrows(a, b, u, inside=inside)
    return (*lines, *_figure(a, b, u, text, size, role, place, inside))


def _along(point: Point, way: Point, distance: float) -> Point:
    return point[0] + way[0] * distance, point[1] + way[1] * distance


def _arrows(a: Point, b: Point, u: Point, *, inside: bool) -> list[Stroke]:
    """The line with its heads: between the ends, or pointing in from outside where there is no room."""
    if inside:
        return [Path((a, b), "d"), arrow(a, b), arrow(b, a)]
    tail_a, tail_b = _along(a, u, -2.2 * ARROW), _along(b, u, 2.2 * ARROW)
    return [Path((tail_a, tail_b), "d"), arrow(a, tail_a), arrow(b, tail_b)]


def _figure(
    a: Point, b: Point, u: Point, text: str, size: float, role: Role, place: str, inside: bool
) -> tuple[Stroke, ...]:
    """The figure over its line, read from below or from the right; or in line with it, beyond one end."""
    turn = degrees(atan2(u[1], u[0]))
    upright = turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn
    if abs(upright - 90) < 0.01:
        upright = -90.0
    up = (sin(radians(upright)), -cos(radians(upright)))
    if not place:
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        x, y = _along(middle, up, 0.32 * size)
        return (Text(x, y, text, role, "middle", size, upright),)
    clear = 4.0 if inside else 2.2 * ARROW + 4
    at = _along(b, u, clear) if place == "end" else _along(a, u, -clear)
    forward = (cos(radians(upright)) * u[0] + sin(radians(upright)) * u[1]) > 0
    anchor: Anchor = "start" if forward == (place == "end") else "end"
    x, y = _along(at, up, -0.35 * size)
    return (Text(x, y, text, role, anchor, size, upright),)


def leader(
    at: Point, elbow: Point, text: str, *, size: float = SIZE, role: Role = "fig", tail: float = 14.0
) -> tuple[Stroke, ...]:
    """A note with a line to what it speaks of: an arrow there, an elbow, a short level tail, the words."""
    right = elbow[0] >= at[0]
    foot = (elbow[0] + (tail if right else -tail), elbow[1])
    anchor: Anchor = "start" if right else "end"
    x = foot[0] + (4 if right else -4)
    return (
        Path((at, elbow, foot), "d"),
        arrow(at, elbow),
        Text(x, foot[1] + 0.35 * size, text, role, anchor, size),
    )


def arc_points(centre: Point, radius: float, start: float, end: float, step: float = 3) -> tuple[Point, ...]:
    """Points along an arc about a centre, from one angle to another, in degrees clockwise from the top."""
    pieces = max(2, round(abs(end - start) / step))
    angles = [radians(start + (end - start) * piece / pieces) for piece in range(pieces + 1)]
    return tuple((centre[0] + radius * sin(angle), centre[1] - radius * cos(angle)) for angle in angles)


def centre_lines(centre: Point, across: float, down: float | None = None) -> tuple[Path, Path]:
    """The two centre lines of a round thing, so far to each side of its middle."""
    x, y = centre
    down = across if down is None else down
    return Path(((x - across, y), (x + across, y)), "c"), Path(((x, y - down), (x, y + down)), "c")
