"""Drawings of a train of gears: pitch circles to scale in a line, from the shaft that drives to the last."""

from collections.abc import Sequence
from math import cos, pi, sin

from calc.figures import Circle, Drawing, Path, Point, Role, Stroke, Text
from calc.figures_hatch import hatched

SIZE = 15.0  # of a figure, in drawing units
WIDE = 620.0
_MARGIN, _HUB = 10.0, 3.0
_SIDES = 72  # of a circle that is hatched


def train(*, drivers: Sequence[int], driven: Sequence[int], first: str, last: str) -> Drawing:
    """The wheels as circles by their teeth: drivers hatched, driven plain, the idler broken.

    Parameters
    ----------
    drivers, driven : sequence of int
        Pair by pair, one pair or two.
    first, last : str
        What the first driver and the last driven stand on: "spindle", "lead screw".
    """
    centres, wheels = _placed(drivers, driven)
    left = min(x - teeth for x, teeth, _ in wheels)
    scale = (WIDE - 2 * _MARGIN) / (max(x + teeth for x, teeth, _ in wheels) - left)
    high = max(teeth for _, teeth, _ in wheels) * scale
    strokes: list[Stroke] = [Path(((_MARGIN / 2, 0), (WIDE - _MARGIN / 2, 0)), "c")]
    for x, teeth, role in sorted(wheels, key=lambda one: -one[1]):
        at = _MARGIN + (x - left) * scale
        if role == "h":
            strokes += hatched(_ring(at, teeth * scale), "st", 12)
        strokes.append(Circle(at, 0, teeth * scale, "c" if role == "c" else "o0"))
        strokes.append(Circle(at, 0, _HUB, "o"))
    names = [first, "stud", last]
    for place, x in enumerate(centres):
        at = _MARGIN + (x - left) * scale
        strokes.append(Text(at, high + 1.6 * SIZE, names[place], "word", "middle", SIZE))
        figures = _figures(place, drivers, driven)
        strokes.append(Text(at, high + 2.9 * SIZE, figures, "fig", "middle", SIZE))
    label = f"Train from {first} to {last}: {' and '.join(map(str, drivers))} driving"
    label += f" {' and '.join(map(str, driven))}"
    return Drawing(label, 0, -high - _MARGIN, WIDE, 2 * high + _MARGIN + 3.6 * SIZE, tuple(strokes))


def _ring(at: float, radius: float) -> list[Point]:
    """A circle as an outline that can be hatched."""
    turns = [2 * pi * step / _SIDES for step in range(_SIDES)]
    return [(at + radius * cos(turn), radius * sin(turn)) for turn in turns]


def _placed(
    drivers: Sequence[int], driven: Sequence[int]
) -> tuple[list[float], list[tuple[float, float, Role]]]:
    """Where each shaft stands, in teeth, and the wheels on it: at, radius in teeth, role."""
    if len(drivers) == 1:
        idler = 0.6 * min(drivers[0], driven[0])
        stud = drivers[0] + idler
        end = stud + idler + driven[0]
        return [0.0, stud, end], [
            (0.0, float(drivers[0]), "h"), (stud, idler, "c"), (end, float(driven[0]), "o0"),
        ]  # fmt: skip
    stud = float(drivers[0] + driven[0])
    end = stud + drivers[1] + driven[1]
    return [0.0, stud, end], [
        (0.0, float(drivers[0]), "h"), (stud, float(driven[0]), "o0"),
        (stud, float(drivers[1]), "h"), (end, float(driven[1]), "o0"),
    ]  # fmt: skip


def _figures(place: int, drivers: Sequence[int], driven: Sequence[int]) -> str:
    """The wheels on one shaft, the driven before the driver."""
    if place == 0:
        return str(drivers[0])
    if place == 2:
        return str(driven[-1])
    return "any idler" if len(drivers) == 1 else f"{driven[0]} and {drivers[1]}"
