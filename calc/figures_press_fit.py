"""Hub and shaft of a press fit in section, to scale, with the pressure where they meet."""

from collections.abc import Sequence
from math import cos, pi, sin

from calc.figures import Drawing, Path, Point, Stroke, Text
from calc.figures_hatch import SIZE, arrow, hatched

_RADIUS = 190.0  # of the hub's outside
_LEFT, _TOP = 60.0, 34.0
_WORDS = 3 * 26.0
_SIDES = 96  # of a circle
_ARROWS = 12


def section(
    *,
    interface: float,
    outside: float,
    bore: float,
    hub: str,
    shaft: str,
    words: Sequence[str],
    pressure: str,
) -> Drawing:
    """A cut across hub and shaft, the pressure as arrows both ways.

    Parameters
    ----------
    interface, outside, bore : float
        Diameters where they meet, of the hub outside and of the shaft's bore, nought if solid. [mm]
    hub, shaft : str
        Their section lines: ci, st, gm.
    words : sequence of three
        The three diameters as they are shown: outside, where they meet, bore.
    pressure : str
        The pressure with its unit.
    """
    scale = _RADIUS / (outside / 2)
    centre = (_LEFT + _RADIUS, _TOP + _RADIUS)
    outer, joint, inner = (_circle(centre, size / 2 * scale) for size in (outside, interface, bore))
    holes = [inner] if bore else []
    strokes: list[Stroke] = [
        Path(outer, "o", True),
        *hatched(outer, hub, 13, holes=[joint]),
        *hatched(joint, shaft, 13, holes=holes, lean=-45),
        *(Path(ring, "o0", True) for ring in (outer, joint, *holes)),
        *_axes(centre),
        *_pushes(centre, interface / 2 * scale, min(outside - interface, interface - bore) / 2 * scale),
        *_words(words, pressure),
    ]
    high = _TOP + 2 * _RADIUS + 30 + _WORDS + 18
    return Drawing(_label(words, pressure), 0, 0, 2 * (_LEFT + _RADIUS), high, tuple(strokes))


def _circle(centre: Point, radius: float) -> tuple[Point, ...]:
    return tuple(
        (centre[0] + radius * cos(2 * pi * k / _SIDES), centre[1] + radius * sin(2 * pi * k / _SIDES))
        for k in range(_SIDES)
    )


def _axes(centre: Point) -> list[Stroke]:
    x, y = centre
    reach = _RADIUS + 14
    return [Path(((x - reach, y), (x + reach, y)), "c"), Path(((x, y - reach), (x, y + reach)), "c")]


def _pushes(centre: Point, radius: float, wall: float) -> list[Stroke]:
    """Arrows that leave the joint outwards into the hub and inwards into the shaft."""
    reach = min(0.8 * wall, 30.0)
    strokes: list[Stroke] = []
    for k in range(_ARROWS):
        c, s = cos(2 * pi * (k + 0.5) / _ARROWS), sin(2 * pi * (k + 0.5) / _ARROWS)
        foot = (centre[0] + radius * c, centre[1] + radius * s)
        for way in (1, -1):
            tip = (foot[0] + way * reach * c, foot[1] + way * reach * s)
            strokes += [Path((foot, tip), "hl"), arrow(tip, foot, length=min(13.0, reach / 2))]
    return strokes


def _words(words: Sequence[str], pressure: str) -> list[Stroke]:
    outside, interface, bore = words
    said = [f"hub {outside}", f"meet at {interface}" + (f", bore {bore}" if bore else "")]
    y = _TOP + 2 * _RADIUS + 40
    lines = [*said, f"pressure {pressure}"]
    return [
        Text(_LEFT + _RADIUS, y + 26 * k, text, "hott" if k == 2 else "fig", size=SIZE)
        for k, text in enumerate(lines)
    ]


def _label(words: Sequence[str], pressure: str) -> str:
    bore = f", bored {words[2]}" if words[2] else ""
    return f"Section of a hub of {words[0]} on a shaft of {words[1]}{bore}; pressure {pressure} between them"
