"""The section of a hub after each pass of a broach, to scale, with the size across the bore for each."""

from collections.abc import Sequence
from math import asin, degrees, sqrt

from calc.figures import Drawing, Path, Stroke, Text
from calc.figures_hatch import arc_points, arrow, centre_lines, dimension, hatched
from calc.figures_keyway import SIZE, broken_off, upright, width_text
from calc.kernel.units import Unit, turned

_BORE = 100.0  # the most of a radius as drawn; all else to the same scale
_OUT = 134.0  # how far up the floor of the last pass may come
_HUB = 1.45
_HALF, _UP, _DOWN = 300.0, 214.0, 190.0
_SPACING, _LINE = 10.0, 25.0
#: The most passes that are written on; the table beside the drawing has them all.
WRITTEN = 7


def passes(*, bore: float, key_width: float, depths: Sequence[float], unit: Unit = "inch") -> Drawing:
    """A hub cut across with the floor of its keyway after each pass, and across the bore for each.

    Parameters
    ----------
    bore, key_width : float
        The bore, and the width of the keyway. [mm]
    depths : sequence of float
        Depth after each pass, on the centre line from the top of the bore. [mm]
    unit : str
        What the figures are written in: inch or mm.
    """
    radius = min(_BORE, _OUT / (1 + 2 * depths[-1] / bore))
    scale = 2 * radius / bore
    half = key_width * scale / 2
    floors = [-radius - depth * scale for depth in depths]
    corner = -sqrt(radius**2 - half**2)
    turn = degrees(asin(half / radius))
    hollow = [*arc_points((0, 0), radius, turn, 360 - turn), (-half, floors[-1]), (half, floors[-1])]
    out = max(_HUB * radius, -floors[-1] + 18)
    broken = broken_off(out)
    strokes: list[Stroke] = [
        *hatched(broken, "ci", _SPACING, holes=[hollow], lean=-45),
        Path(tuple(broken), "d", closed=True),
        Path(tuple(hollow), "cut", closed=True),
        Path(arc_points((0, 0), radius, -turn, turn), "h"),
        *(Path(((-half, floor), (half, floor)), "t0") for floor in floors[:-1]),
        centre_lines((0, 0), out + 12)[0],
        *_inside(half, corner, out, width_text(key_width, unit)),
        *upright(out + 28, (half, floors[-1]), (0, radius), turned(bore + depths[-1], unit), "hott"),
        *_written(half, out, floors, [turned(bore + depth, unit) for depth in depths]),
        Text(0, out + 16 + SIZE, f"{width_text(bore, unit)} bore", "fig", "middle", SIZE),
    ]
    each = ", ".join(turned(bore + depth, unit) for depth in depths)
    label = (
        f"Section of the hub, {width_text(bore, unit)} bore, keyway {width_text(key_width, unit)} wide: "
        f"across the bore after each pass {each}"
    )
    return Drawing(label, -_HALF, -_UP, 2 * _HALF, _UP + _DOWN, tuple(strokes))


def written_on(number: int) -> list[int]:
    """Which passes are written on, from nought: the last always, and the first of the others."""
    if number <= WRITTEN:
        return list(range(number))
    return [*range(WRITTEN - 1), number - 1]


def _inside(half: float, corner: float, out: float, text: str) -> list[Stroke]:
    """The width of the keyway, in the bore, where nothing is cut; the centre line makes way."""
    lines = dimension((half, corner), (-half, corner), "", away=30)
    return [
        *(stroke for stroke in lines if not isinstance(stroke, Text)),
        Text(0, corner + 34 + SIZE, text, "fig", "middle", SIZE),
        Path(((0, -out - 12), (0, corner + 24)), "c"),
        Path(((0, corner + 42 + SIZE), (0, out + 12)), "c"),
    ]


def _written(half: float, out: float, floors: Sequence[float], sizes: Sequence[str]) -> list[Stroke]:
    """At the left, from the lowest floor to the highest: the number of the pass and the size across."""
    strokes: list[Stroke] = []
    chosen = written_on(len(floors))
    x, top = -out - 22, -_UP + 1.2 * SIZE
    for row, place in enumerate(reversed(chosen)):
        level = top + row * _LINE
        tip = (-half, floors[place])
        elbow = (x + 6, level)
        strokes += [
            Path((tip, elbow, (x, level)), "d"),
            arrow(tip, elbow),
            Text(x - 4, level + 0.35 * SIZE, f"{place + 1}: {sizes[place]}", "fig", "end", SIZE),
        ]
    return strokes
