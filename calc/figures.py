"""Drawings from one description: a list of strokes, written as SVG for a page or with a pen on paper."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, radians, sin
from typing import Literal, Protocol
from xml.sax.saxutils import escape, quoteattr

from django.utils.safestring import SafeString, mark_safe

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

#: What a stroke is, by the class names of the style sheet's drawings (`.dw .o` and so on).
Role = Literal[
    "o", "o0", "t", "t0", "h", "c", "d", "da", "k", "p", "s", "cut", "faint", "arm", "hl", "hot",
    "hott", "dim", "fig", "word",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle about a point."""

    cx: float
    cy: float
    r: float
    role: Role


@dataclass(frozen=True, slots=True)
class Dots:
    """Many equal circles, written as one path."""

    points: tuple[Point, ...]
    r: float
    role: Role


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points; closed, it is an outline."""

    points: tuple[Point, ...]
    role: Role
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle about the origin, in degrees clockwise from the top."""

    r: float
    start: float
    end: float
    role: Role


@dataclass(frozen=True, slots=True)
class Text:
    """Words at a point of their base line; turned about that point, in degrees clockwise."""

    x: float
    y: float
    text: str
    role: Role
    anchor: Anchor = "middle"
    size: float = 15
    turn: float = 0


Stroke = Circle | Dots | Path | Arc | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture: what it shows in words, its window, and its strokes from back to front."""

    label: str
    x: float
    y: float
    width: float
    height: float
    strokes: tuple[Stroke, ...]


class Pen(Protocol):
    """What can draw on paper: millimetres from the top left corner, y downwards."""

    def circle(self, x: float, y: float, r: float, *, weight: float, fill: str) -> None: ...
    def dots(self, points: Sequence[Point], diameter: float) -> None: ...
    def path(self, points: Sequence[Point], *, weight: float, fill: str, closed: bool) -> None: ...
    def text(
        self, x: float, y: float, text: str, size: float, *, bold: bool, anchor: Anchor, turn: float
    ) -> None: ...
    def dashes(self, lengths: Sequence[float]) -> None: ...


# ---- a page's writer -------------------------------------------------------------------------------------


def _n(value: float) -> str:
    """A coordinate to a tenth, without a needless nought."""
    return f"{value:.1f}".removesuffix(".0") if abs(value) >= 0.05 else "0"


def polar(radius: float, angle: float) -> Point:
    """The point at a radius, at an angle in degrees clockwise from the top."""
    return radius * sin(radians(angle)), -radius * cos(radians(angle))


def _dots_path(dots: Dots) -> str:
    r, d = _n(dots.r), _n(2 * dots.r)
    return "".join(
        f"M{_n(x - dots.r)} {_n(y)}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0" for x, y in dots.points
    )


def _arc_path(arc: Arc) -> str:
    """Two halves, because one arc of a whole turn would end where it starts and not be drawn."""
    middle = (arc.start + arc.end) / 2
    (x1, y1), (x2, y2), (x3, y3) = (polar(arc.r, angle) for angle in (arc.start, middle, arc.end))
    sweep = int(arc.end > arc.start)
    half = f"A{_n(arc.r)} {_n(arc.r)} 0 0 {sweep}"
    return f"M{_n(x1)} {_n(y1)}{half} {_n(x2)} {_n(y2)}{half} {_n(x3)} {_n(y3)}"


def _font(text: Text) -> str:
    """Size and weight of words; a dimension's are the style sheet's."""
    if text.role == "dim":
        return ""
    return f' font-size="{_n(text.size)}"' + (' font-weight="620"' if text.role == "word" else "")


def _svg_stroke(stroke: Stroke) -> str:
    match stroke:
        case Circle(cx, cy, r, role):
            return f'<circle cx="{_n(cx)}" cy="{_n(cy)}" r="{_n(r)}" class="{role}"/>'
        case Dots():
            return f'<path d="{_dots_path(stroke)}" class="{stroke.role}"/>'
        case Arc():
            return f'<path d="{_arc_path(stroke)}" class="{stroke.role}"/>'
        case Path(points, role, True):
            corners = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
            return f'<polygon points="{corners}" class="{role}"/>'
        case Path(points, role, _):
            return f'<path d="M{"L".join(f"{_n(x)} {_n(y)}" for x, y in points)}" class="{role}"/>'
        case Text(x, y, text, role, anchor):
            turn = f' transform="rotate({_n(stroke.turn)} {_n(x)} {_n(y)})"' if stroke.turn else ""
            place = f'x="{_n(x)}" y="{_n(y)}" text-anchor="{anchor}"{_font(stroke)}{turn}'
            return f'<text {place} class="{role}">{escape(text)}</text>'


def to_svg(drawing: Drawing) -> SafeString:
    """The drawing as SVG in the style sheet's classes: attributes only, every word escaped."""
    window = " ".join(_n(value) for value in (drawing.x, drawing.y, drawing.width, drawing.height))
    head = f'<svg class="dw" viewBox="{window}" role="img" aria-label={quoteattr(drawing.label)}>'
    return mark_safe(head + "".join(map(_svg_stroke, drawing.strokes)) + "</svg>")


# ---- a pen's writer --------------------------------------------------------------------------------------

#: Line in millimetres and what is inside, for each role on paper: black on white, nothing else.
_PAPER: dict[Role, tuple[float, str]] = {
    "o": (0.35, "white"),
    "o0": (0.35, ""),
    "t": (0.18, "white"),
    "t0": (0.18, ""),
    "h": (0.18, ""),
    "c": (0.13, ""),
    "d": (0.15, ""),
    "da": (0, "black"),
    "k": (0, "black"),
    "p": (0, "white"),
    "s": (0.1, ""),
    "cut": (0.3, ""),
    "faint": (0.1, ""),
    "arm": (0.3, "white"),
    "hl": (0.45, ""),
    "hot": (0, "black"),
}
_DASHES: dict[Role, tuple[float, ...]] = {"h": (1.5, 1), "c": (4.5, 1, 1, 1)}
_LEAST_WORD = 5.5  # points; a figure beside a hole may be small, it may not be unreadable


def _arc_points(arc: Arc) -> tuple[Point, ...]:
    steps = max(2, round(abs(arc.end - arc.start) / 4))
    return tuple(polar(arc.r, arc.start + (arc.end - arc.start) * step / steps) for step in range(steps + 1))


def draw(drawing: Drawing, pen: Pen, x: float, y: float, width: float) -> None:
    """Draw with a pen, the drawing's top left corner at (x, y) and as wide as told. [mm]"""
    scale = width / drawing.width

    def at(point: Point) -> Point:
        return x + (point[0] - drawing.x) * scale, y + (point[1] - drawing.y) * scale

    for stroke in drawing.strokes:
        if isinstance(stroke, Text):
            size = max(_LEAST_WORD, stroke.size * scale * 72 / 25.4)
            bold = stroke.role in ("word", "hott")
            place = at((stroke.x, stroke.y))
            pen.text(*place, stroke.text, size, bold=bold, anchor=stroke.anchor, turn=stroke.turn)
        else:
            pen.dashes(_DASHES.get(stroke.role, ()))
            _ink(stroke, pen, at, scale)
    pen.dashes(())


def _ink(stroke: Circle | Dots | Path | Arc, pen: Pen, at: "_Place", scale: float) -> None:
    weight, fill = _PAPER[stroke.role]
    match stroke:
        case Circle(cx, cy, r, _):
            pen.circle(*at((cx, cy)), r * scale, weight=weight, fill=fill)
        case Dots(points, r, "k" | "faint" as role):
            # A faint hole's hairline ring would print as heavy as a hole in use: on paper it is a speck.
            pen.dots([at(point) for point in points], 2 * r * scale * (0.55 if role == "faint" else 1))
        case Dots(points, r, _):
            for point in points:
                pen.circle(*at(point), r * scale, weight=weight, fill=fill)
        case Path(points, _, closed):
            pen.path([at(point) for point in points], weight=weight, fill=fill, closed=closed)
        case Arc():
            pen.path([at(point) for point in _arc_points(stroke)], weight=weight, fill="", closed=False)


class _Place(Protocol):
    def __call__(self, point: Point, /) -> Point: ...


# ---- the index plate -------------------------------------------------------------------------------------

RIM, HUB, INNER, OUTER, ALONE = 250.0, 46.2, 90.0, 230.0, 205.0
_HOLE, _FAINT = 3.9, 2.3  # radii of a hole in ink and of a faint one


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One move on a circle: from the start hole, so many spaces, clockwise; backwards when below nought."""

    circle: int
    spaces: int
    turns: int = 0


def index_plate(
    *,
    face: Iterable[int],
    circle: int,
    spaces: int,
    turns: int = 0,
    sector_holes: int = 0,
    second: Move | None = None,
    width_mm: float = 110.0,
    caption: str = "",
    words: bool = True,
) -> Drawing:
    """An index plate to scale: its circles, the one used in ink, the pin, the next hole and the move.

    Parameters
    ----------
    face : iterable of int
        Holes of every circle on the face of the plate. [count]
    circle, spaces, turns : int
        The circle used, spaces moved on it and whole turns of the crank. [count]
    sector_holes : int
        Holes the sector arms take in, the pin's own counted; 0 draws no arms. [count]
    second : Move, optional
        The second circle and its move, in compound indexing.
    width_mm : float
        How wide it will stand on the paper or screen, so that close holes thin out. [mm]
    caption : str
        Words under the plate; empty for none.
    words : bool
        Whether "pin, start hole" and "next hole" stand beside their holes.
    """
    coarse = 620 / width_mm  # drawing units in one millimetre, near enough
    size = max(15.0, 2.6 * coarse)
    radii = _radii({*face, circle} | ({second.circle} if second else set()))
    moves = [Move(circle=circle, spaces=spaces, turns=turns), *([second] if second else [])]
    inked = {move.circle for move in moves}
    strokes: list[Stroke] = [Circle(0, 0, RIM, "o"), Circle(0, 0, 50, "t"), *_arms(circle, sector_holes)]
    strokes += [_faint(holes, radius, coarse) for holes, radius in radii.items() if holes not in inked]
    for move in moves:
        strokes += _inked(move, radii[move.circle])
    strokes += [Circle(0, 0, HUB, "o"), Circle(0, 0, 17.5, "t")]
    for move in moves:
        strokes += _pin(move, radii[move.circle], coarse)
    strokes += [*_numbers(circle, size), *_arrow(moves[0])]
    half = RIM + 14 + 1.75 * size
    strokes += _words(moves[0], radii[circle], size, half) if words else []
    above, below = half + (1.2 * size if words else 0), half
    if caption:
        strokes.append(Text(0, half + 0.7 * size, caption, "word", size=size * 1.1))
        below += size
    label = _label(moves[0], sector_holes, len(radii))
    return Drawing(label, -half, -above, 2 * half, above + below, tuple(strokes))


def _radii(circles: set[int]) -> dict[int, float]:
    """A radius for each circle, evenly spread, the most holes outermost; one alone stands well out."""
    ordered = sorted(circles)
    if len(ordered) == 1:
        return {ordered[0]: ALONE}
    step = min((OUTER - INNER) / (len(ordered) - 1), 45.0)
    return {holes: OUTER - step * (len(ordered) - 1 - place) for place, holes in enumerate(ordered)}


def _holes(holes: int, radius: float, which: Iterable[int]) -> tuple[Point, ...]:
    return tuple(polar(radius, 360 * hole / holes) for hole in which)


def _faint(holes: int, radius: float, coarse: float) -> Stroke:
    """A circle not in use: faint holes, or its line alone where they would run together."""
    pitch = 2 * pi * radius / holes
    if pitch < 0.8 * coarse:
        return Circle(0, 0, radius, "faint")
    return Dots(_holes(holes, radius, range(holes)), min(_FAINT, pitch * 0.3), "faint")


def _inked(move: Move, radius: float) -> list[Stroke]:
    """The circle in use: holes passed are filled, the others open."""
    holes, way = move.circle, 1 if move.spaces >= 0 else -1
    r = min(_HOLE, 2 * pi * radius / holes * 0.36)
    passed = {hole % holes for hole in range(0, move.spaces + way, way)}
    rest = [hole for hole in range(holes) if hole not in passed]
    inked: list[Stroke] = [Dots(_holes(holes, radius, sorted(passed)), r, "k")]
    return inked + ([Dots(_holes(holes, radius, rest), r, "t")] if rest else [])


def _pin(move: Move, radius: float, coarse: float) -> list[Stroke]:
    """The pin in the start hole, ringed with a dot, and a ring about the next hole."""
    ring = max(9.4, 0.8 * coarse)
    start = polar(radius, 0)
    marks: list[Stroke] = [Circle(*start, ring, "hl"), Circle(*start, ring / 2, "hot")]
    if move.spaces % move.circle:
        marks.insert(0, Circle(*polar(radius, 360 * move.spaces / move.circle), ring, "o0"))
    return marks


def _arms(circle: int, sector_holes: int) -> list[Stroke]:
    """Two arms whose near edges just take in the holes between them, the first hole counted."""
    if not sector_holes:
        return []
    clear = _HOLE + 0.8
    swing = 360 * (sector_holes - 1) / circle
    first = [(-clear, -45.0), (-clear, -246.2), (-clear - 3, -246.2), (-clear - 15, -45.0)]
    second = [(-x, y) for x, y in first]
    return [_turned(first, 0), _turned(second, swing)]


def _turned(points: Sequence[Point], angle: float) -> Path:
    c, s = cos(radians(angle)), sin(radians(angle))
    return Path(tuple((x * c - y * s, x * s + y * c) for x, y in points), "arm", closed=True)


def _every(circle: int) -> int:
    """How often a hole is numbered: each of a few, every fifth as a rule, fewer where they crowd."""
    return next((step for most, step in ((8, 1), (75, 5), (150, 10)) if circle <= most), 25)


def _numbers(circle: int, size: float) -> list[Stroke]:
    marks: list[Stroke] = []
    for hole in range(0, circle, _every(circle)):
        angle = 360 * hole / circle
        if hole and radians(360 - angle) * RIM < 2 * size:
            continue  # it would stand on the nought
        x, y = polar(RIM + 7 + size * 0.8, angle)
        marks.append(Text(x, y + size * 0.36, str(hole), "dim", size=size))
        marks.append(Path((polar(RIM, angle), polar(RIM + 5, angle)), "d"))
    return marks


def _arrow(move: Move) -> list[Stroke]:
    """The move: an arrow round the hub, and a whole ring inside it where there are whole turns."""
    marks: list[Stroke] = [Arc(60, 4, 348, "hl")] if move.turns else []
    if not move.spaces:
        return [*marks, _arrow_head(60, 357, forward=True)] if move.turns else marks
    # A short move still shows which way it goes: the shaft may shrink to nothing, the head does not.
    end = 360 * move.spaces / move.circle
    way = 1 if end > 0 else -1
    tip = way * max(abs(end), 14.0)
    return [*marks, Arc(72, way * 2, tip - way * 8, "hl"), _arrow_head(72, tip, forward=way > 0)]


def _arrow_head(radius: float, tip: float, *, forward: bool) -> Path:
    back = tip - (13 if forward else -13)
    return Path((polar(radius, tip), polar(radius - 5, back), polar(radius + 5, back)), "hot", closed=True)


def _words(move: Move, radius: float, size: float, half: float) -> list[Stroke]:
    """The start hole named over its nought, the next hole in the nearest corner, with a line to it."""
    words: list[Stroke] = [Text(0, -half - 2, "pin, start hole", "hott", size=size * 1.13)]
    if not move.spaces % move.circle:
        return words
    x, y = polar(radius, 360 * move.spaces / move.circle)
    right, low = (1 if x >= 0 else -1), (1 if y >= 0 else -1)
    corner_x, corner_y = right * (half - 4), half - 6 if low > 0 else -half + 12
    start = (corner_x - right * 40, corner_y - low * (18 if low > 0 else 8))
    away = hypot(start[0] - x, start[1] - y)
    end = (x + (start[0] - x) * 13 / away, y + (start[1] - y) * 13 / away)
    place: Anchor = "end" if right > 0 else "start"
    return [
        *words,
        Path((start, end), "d"),
        Text(corner_x, corner_y, "next hole", "word", place, size * 1.13),
    ]


def _label(move: Move, sector_holes: int, circles: int) -> str:
    """The picture in words, for those who cannot see it."""
    turns, spaces = move.turns, abs(move.spaces)
    said = [f"{turns} whole turn{'' if turns == 1 else 's'}"] if turns else []
    if spaces:
        said.append(f"{spaces} space{'' if spaces == 1 else 's'} {'on' if move.spaces > 0 else 'back'}")
    arms = f"; sector arms take in {sector_holes} holes" if sector_holes else ""
    plate = "Index plate" if circles == 1 else f"Index plate with {circles} circles"
    path = " and ".join(said) or "no move"
    return f"{plate}; the {move.circle} circle in ink; pin in the start hole, then {path}{arms}"
