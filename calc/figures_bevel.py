"""Bevel gears in section on their axes, to scale: a pair, and the gears of a differential."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from calc.figures import Arc, Circle, Drawing, Path, Point, Stroke, Text
from calc.figures_hatch import dimension, hatched
from calc.kernel.units import Unit, turned

SIZE = 17.0  # of a figure, in drawing units
_SPACING = 7.0
_ROOM = 430.0  # the gears across, whichever way they are longer
_NARROW = 560.0  # the least width of the picture
_RIM = 1.2  # modules of metal under the teeth; the body behind them is drawn, not reckoned


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cone:
    """One gear about its axis, which runs from the apex at the origin; lengths in drawing units."""

    teeth: int
    axis: float  # degrees clockwise from the top
    pitch_angle: float  # degrees
    distance: float
    face: float
    addendum: float
    dedendum: float
    is_parallel: bool

    def at(self, along: float, out: float, side: int = 1) -> Point:
        """A point so far along the axis and out from it; ``side`` -1 is the other half of the section."""
        turn, out = radians(self.axis), out * side
        return along * sin(turn) + out * cos(turn), -along * cos(turn) + out * sin(turn)

    def on(self, distance: float, up: float, side: int = 1) -> Point:
        """A point so far from the apex along the pitch cone, and so far up the back cone from there."""
        angle = radians(self.pitch_angle)
        return self.at(distance * cos(angle) - up * sin(angle), distance * sin(angle) + up * cos(angle), side)

    @property
    def near(self) -> float:
        """Apex to the small end."""
        return self.distance - self.face

    @property
    def share(self) -> float:
        """Of addendum and dedendum, what is left at the small end."""
        return 1.0 if self.is_parallel else self.near / self.distance

    @property
    def rim(self) -> float:
        """Metal under the teeth, no more than half of what there is to the axis."""
        angle = radians(self.pitch_angle)
        below = self.near * sin(angle) - self.dedendum * self.share * cos(angle)
        return max(0.0, min(_RIM * self.addendum, 0.5 * below / max(cos(angle), 0.05)))

    @property
    def back(self) -> float:
        """Where the body ends behind, along the axis: half a face thick at least."""
        angle = radians(self.pitch_angle)
        front = self.front
        rim = self.distance * cos(angle) + (self.dedendum + self.rim) * sin(angle)
        return max(rim, front + 0.5 * self.face)

    @property
    def front(self) -> float:
        """Where the body begins in front, along the axis."""
        angle = radians(self.pitch_angle)
        return self.near * cos(angle) + (self.dedendum * self.share + self.rim) * sin(angle)

    def tooth(self, side: int) -> tuple[Point, ...]:
        """The tooth in section: outer tip, inner tip, inner root, outer root."""
        small = self.share
        return (
            self.on(self.distance, self.addendum, side),
            self.on(self.near, self.addendum * small, side),
            self.on(self.near, -self.dedendum * small, side),
            self.on(self.distance, -self.dedendum, side),
        )

    def body(self) -> tuple[Point, ...]:
        """The metal under the teeth, both halves in one outline."""
        half = [self._half(side) for side in (1, -1)]
        return (*half[0], *reversed(half[1]))

    def _half(self, side: int) -> list[Point]:
        angle, small = radians(self.pitch_angle), self.share
        inner, outer = self.dedendum * small + self.rim, self.dedendum + self.rim
        out = self.distance * sin(angle) - outer * cos(angle)
        return [
            self.at(self.front, 0, side),
            self.on(self.near, -inner, side),
            self.on(self.near, -self.dedendum * small, side),
            self.on(self.distance, -self.dedendum, side),
            self.on(self.distance, -outer, side),
            self.at(self.back, out, side),
            self.at(self.back, 0, side),
        ]

    def points(self) -> list[Point]:
        """Everything the gear reaches to."""
        return [*self.tooth(1), *self.tooth(-1), *self.body(), (0.0, 0.0)]


def pair(
    *,
    teeth: int,
    mate_teeth: int,
    pitch_angle: float,
    mate_pitch_angle: float,
    cone_distance: float,
    face_width: float,
    addendum: float,
    dedendum: float,
    angles: Sequence[Sequence[float]],
    is_parallel: bool = False,
    unit: Unit = "inch",
) -> Drawing:
    """The pair cut through both axes: pitch lines to the apex, teeth, face and root lines, what is turned.

    Parameters
    ----------
    teeth, mate_teeth : int
        Teeth of the gear, whose axis lies level, and of its mate. [count]
    pitch_angle, mate_pitch_angle : float
        Half angles of the pitch cones. [degree]
    cone_distance, face_width, addendum, dedendum : float
        Of the pair, at the large end. [mm]
    angles : sequence
        Face, root and back angle of the gear, then those of its mate, to be written. [degree]
    is_parallel : bool
        Whether the teeth keep their depth.
    unit : str
        What the figures are written in: inch or mm.
    """
    sizes = (cone_distance, face_width, addendum, dedendum)
    shaft = pitch_angle + mate_pitch_angle
    gears = _scaled(
        [(teeth, 90.0, pitch_angle), (mate_teeth, 90.0 + shaft, mate_pitch_angle)], sizes, is_parallel
    )
    scale = gears[0].distance / cone_distance
    strokes: list[Stroke] = []
    # The half that meshes lies clockwise of the gear's axis, and the other way of the mate's.
    for place, gear in enumerate(gears):
        strokes += _gear(gear, lean=45 if place == 0 else -45)
    for gear, free in zip(gears, (-1, 1), strict=True):
        strokes += _cone_lines(gear)
        strokes += _pitch_angle(gear, free)
        strokes += _across(gear, scale, unit)
    strokes += _along(gears[0], -1, scale, unit)
    strokes.append(Circle(0, 0, 3, "k"))
    outside = turned(2 * _out(gears[0]) / scale, unit)
    label = f"Bevel gears of {teeth} and {mate_teeth} teeth in section, the {teeth} {outside} over its tips"
    words = [
        f"{gear.teeth} T:  face {face:.2f}°   root {root:.2f}°   back {back:.2f}°"
        for gear, (face, root, back) in zip(gears, angles, strict=True)
    ]
    return _drawing(label, gears, strokes, words, margin=70)


def differential(
    *,
    left_teeth: int,
    right_teeth: int,
    pinion_teeth: int,
    left_angle: float,
    right_angle: float,
    pinion_angle: float,
    cone_distance: float,
    module: float,
) -> Drawing:
    """Both side gears and one pinion cut through their axes, about one apex; the face a third of the cone.

    Parameters
    ----------
    left_teeth, right_teeth, pinion_teeth : int
        Teeth of the side gears and of a pinion. [count]
    left_angle, right_angle, pinion_angle : float
        Half angles of the pitch cones. [degree]
    cone_distance, module : float
        Apex to the large end, and the module there. [mm]
    """
    sizes = (cone_distance, cone_distance / 3, module, 1.157 * module)
    up = left_angle + pinion_angle - 90
    gears = _scaled(
        [
            (left_teeth, 270.0, left_angle),
            (right_teeth, 90.0, right_angle),
            (pinion_teeth, up, pinion_angle),
        ],
        sizes,
        is_parallel=False,
    )
    strokes: list[Stroke] = []
    for place, gear in enumerate(gears):
        strokes += _gear(gear, lean=-45 if place == 2 else 45)
        strokes += _cone_lines(gear)
        strokes.append(_named(gear))
    strokes.append(Circle(0, 0, 3, "k"))
    label = (
        f"Side gears of {left_teeth} and {right_teeth} teeth and a pinion of {pinion_teeth} in section, "
        f"pitch angles {left_angle:.2f}°, {right_angle:.2f}° and {pinion_angle:.2f}°"
    )
    words = [f"pitch angles {left_angle:.2f}°, {right_angle:.2f}°, pinion {pinion_angle:.2f}°"]
    return _drawing(label, gears, strokes, words, margin=34)


def _scaled(
    wanted: Sequence[tuple[int, float, float]],
    sizes: tuple[float, float, float, float],
    is_parallel: bool,
) -> list[_Cone]:
    """The gears in drawing units, so that all of them fit the room there is."""

    def made(scale: float) -> list[_Cone]:
        distance, face, addendum, dedendum = (size * scale for size in sizes)
        return [
            _Cone(
                teeth=teeth,
                axis=axis,
                pitch_angle=angle,
                distance=distance,
                face=face,
                addendum=addendum,
                dedendum=dedendum,
                is_parallel=is_parallel,
            )
            for teeth, axis, angle in wanted
        ]

    points = [point for gear in made(1.0) for point in gear.points()]
    return made(_ROOM / max(_spread(points, 0), _spread(points, 1)))


def _spread(points: Sequence[Point], axis: int) -> float:
    values = [point[axis] for point in points]
    return max(values) - min(values)


# ---- strokes ---------------------------------------------------------------------------------------------


def _gear(gear: _Cone, *, lean: float) -> Iterable[Stroke]:
    """The body cut and hatched, the teeth outlined, the axis."""
    body = gear.body()
    yield from hatched(body, "ci", _SPACING, lean=lean)
    yield Path(body, "cut", closed=True)
    for side in (1, -1):
        yield Path(gear.tooth(side), "o0", closed=True)
    yield Path((gear.at(-12, 0), gear.at(gear.back + 16, 0)), "c")


def _cone_lines(gear: _Cone) -> Iterable[Stroke]:
    """Pitch lines from the apex, and face and root lines on to where they meet."""
    for side in (1, -1):
        yield Path(((0.0, 0.0), gear.on(gear.distance + 8, 0, side)), "c")
        if not gear.is_parallel:
            for corner in (1, 2):
                yield Path(((0.0, 0.0), gear.tooth(side)[corner]), "d")


def _pitch_angle(gear: _Cone, free: int) -> Iterable[Stroke]:
    """The pitch angle as an arc about the apex, on the half that does not mesh."""
    radius = max(0.55 * gear.near, 26.0)
    other = gear.axis + free * gear.pitch_angle
    first, last = sorted((gear.axis, other))
    yield Arc(radius, first, last, "d")
    middle = radians((first + last) / 2)
    x, y = (radius - 24) * sin(middle), -(radius - 24) * cos(middle)
    if radius * radians(gear.pitch_angle) < 1.5 * SIZE:
        x, y = (radius + 26) * sin(middle), -(radius + 26) * cos(middle)
    yield Text(x, y + 0.35 * SIZE, f"{gear.pitch_angle:.2f}°", "fig", "middle", SIZE)


def _out(gear: _Cone) -> float:
    """Half the outside diameter."""
    angle = radians(gear.pitch_angle)
    return gear.distance * sin(angle) + gear.addendum * cos(angle)


def _across(gear: _Cone, scale: float, unit: Unit) -> tuple[Stroke, ...]:
    """The outside diameter, behind the gear."""
    angle = radians(gear.pitch_angle)
    along = gear.distance * cos(angle) - gear.addendum * sin(angle)
    start, end = gear.at(along, _out(gear), -1), gear.at(along, _out(gear), 1)
    away = gear.back - along + 34
    long = hypot(end[0] - start[0], end[1] - start[1])
    u = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
    turn = radians(gear.axis)
    outwards = u[1] * sin(turn) + u[0] * cos(turn)
    text = f"{turned(2 * _out(gear) / scale, unit)} dia"
    return dimension(start, end, text, away=away if outwards > 0 else -away, size=SIZE, role="hott")


def _along(gear: _Cone, side: int, scale: float, unit: Unit) -> Iterable[Stroke]:
    """The face width and the cone distance, along the pitch line of the half that does not mesh."""
    large, small = gear.on(gear.distance, 0, side), gear.on(gear.near, 0, side)
    way = 1 if side < 0 else -1
    face, whole = turned(gear.face / scale, unit), turned(gear.distance / scale, unit)
    yield from dimension(small, large, face, away=way * (gear.addendum + 20), size=SIZE)
    yield from dimension((0.0, 0.0), large, whole, away=way * (gear.addendum + 48), size=SIZE)


def _named(gear: _Cone) -> Text:
    """The teeth in the middle of the body, behind the hatching's edge."""
    x, y = gear.at(gear.back + 36, 0)
    return Text(x, y + 0.35 * SIZE, f"{gear.teeth} T", "fig", "middle", SIZE)


def _drawing(
    label: str, gears: Sequence[_Cone], strokes: Sequence[Stroke], words: Sequence[str], *, margin: float
) -> Drawing:
    """The window about the gears and their dimensions, with lines of words under them."""
    points = [point for gear in gears for point in gear.points()]
    points += [point for stroke in strokes if isinstance(stroke, Path) for point in stroke.points]
    left, right = min(x for x, _ in points) - margin, max(x for x, _ in points) + margin
    top, low = min(y for _, y in points) - 30, max(y for _, y in points) + 12
    spare = max(0.0, _NARROW - (right - left)) / 2
    middle = (left + right) / 2
    lines = [
        Text(middle, low + (place + 1) * 1.5 * SIZE, text, "fig", "middle", SIZE)
        for place, text in enumerate(words)
    ]
    height = low + (len(words) + 0.8) * 1.5 * SIZE - top
    return Drawing(label, left - spare, top, right - left + 2 * spare, height, (*strokes, *lines))
