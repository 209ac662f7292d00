"""The form of a thread in the nut, to scale, with the line the tapping drill leaves."""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, radians, sin

from calc.figures import Anchor, Drawing, Path, Point, Role, Stroke, Text
from calc.figures_hatch import dimension, hatched
from calc.kernel.units import INCH, Unit

SIZE = 20.0  # of a figure, in drawing units
_PITCH = 150.0  # one pitch as drawn; all else to the same scale
_PITCHES = 2
_OVER = 66.0  # metal shown over the thread
_SIDE = 200.0  # room for the figures beside it
_ABOVE, _BELOW = 62.0, 58.0
_SPACING = 11.0
_LONGEST = 11  # letters of a drill’s name that have room beside its line
_ARC = 12  # points along one arc


def form(
    *,
    thread: str,
    major: float,
    core: float,
    pitch: float,
    angle: float,
    radius: float,
    drill: float,
    drill_name: str,
    percent: str,
    unit: Unit = "inch",
) -> Drawing:
    """Two pitches of a nut cut along its hole; what the drill takes before the tap is dashed.

    Parameters
    ----------
    thread, drill_name, percent : str
        The thread and the drill by name, and what the drill leaves of the full thread.
    major, core, pitch, radius, drill : float
        Over the thread, core, pitch, radius of crest and root (nought where flat), drill. [mm]
    angle : float
        Between the flanks. [degree]
    unit : str
        What the figures are written in: inch or mm.
    """
    scale = _PITCH / pitch
    deep, hole = (major - core) / 2 * scale, (major - drill) / 2 * scale
    whole = _profile(deep, angle, radius * scale)
    right = _PITCHES * _PITCH
    named = drill_name if len(drill_name) <= _LONGEST else _size(drill, unit)
    cut = [(x, min(y, hole)) for x, y in _with_crossings(whole, hole)]
    outline = [(0.0, -_OVER), *cut, (right, -_OVER)]
    strokes: list[Stroke] = [
        *hatched(outline, "st", _SPACING),
        Path(tuple(outline), "cut", closed=True),
        *_taken(whole, hole),
        Path(((-12.0, 0.0), (right + 12, 0.0)), "c"),
        Path(((-12.0, deep), (right + 12, deep)), "c"),
        Path(((-12.0, hole), (right + 22, hole)), "hl"),
        *dimension(
            (_PITCH / 2, -_OVER), (1.5 * _PITCH, -_OVER), f"pitch {_size(pitch, unit)}", away=26, size=SIZE
        ),
        *_beside(-18, 0, ("over the thread", _size(major, unit)), "end"),
        *_beside(-18, deep, ("core", _size(core, unit)), "end"),
        *_beside(right + 28, hole, (f"drill {named}", percent), "start", hot=True),
    ]
    label = (
        f"Thread of {thread} in the nut, {_plain(angle)}° between the flanks: "
        f"over the thread {_size(major, unit)}, core {_size(core, unit)}, pitch {_size(pitch, unit)}; "
        f"drill {drill_name} leaves {percent}"
    )
    return Drawing(
        label, -_SIDE, -_OVER - _ABOVE, right + 2 * _SIDE, _OVER + _ABOVE + deep + _BELOW, tuple(strokes)
    )


def _profile(deep: float, angle: float, radius: float) -> list[Point]:
    """The profile of the nut, left to right: from a crest, which reaches the core, to a crest."""
    half = _rounded(deep, angle, radius) if radius else _flat(deep)
    # Half a pitch from root to crest, mirrored: a crest stands at each end of a pitch.
    falling = [(_PITCH / 2 - x, y) for x, y in reversed(half)]
    rising = [(_PITCH / 2 + x, y) for x, y in half]
    period = falling + rising[1:]
    return [(x + place * _PITCH, y) for place in range(_PITCHES) for x, y in period]


def _rounded(deep: float, angle: float, radius: float) -> list[Point]:
    """Root arc, flank and crest arc of a rounded form; the arcs run into the flank."""
    lean = radians(angle / 2)
    turn = pi / 2 - lean
    root = [
        (radius * sin(turn * step / _ARC), radius * (1 - cos(turn * step / _ARC))) for step in range(_ARC + 1)
    ]
    crest = [(_PITCH / 2 - x, deep - y) for x, y in reversed(root)]
    return root + crest


def _flat(deep: float) -> list[Point]:
    """An eighth of a pitch flat at the root of the nut, a quarter at its crest."""
    return [(0.0, 0.0), (_PITCH / 16, 0.0), (_PITCH * 3 / 8, deep), (_PITCH / 2, deep)]


def _with_crossings(points: Sequence[Point], level: float) -> list[Point]:
    """The points with those added where the line crosses a level."""
    found = [points[0]]
    for (x1, y1), (x2, y2) in pairwise(points):
        if (y1 - level) * (y2 - level) < 0:
            found.append((x1 + (level - y1) * (x2 - x1) / (y2 - y1), level))
        found.append((x2, y2))
    return found


def _taken(points: Sequence[Point], level: float) -> list[Stroke]:
    """What the drill takes off the crests, one dashed line to each."""
    runs: list[list[Point]] = [[]]
    for x, y in _with_crossings(points, level):
        if y >= level - 1e-9:
            runs[-1].append((x, y))
        elif runs[-1]:
            runs.append([])
    return [Path(tuple(run), "h") for run in runs if len(run) > 2]


def _beside(
    x: float, y: float, words: tuple[str, str], anchor: Anchor, *, hot: bool = False
) -> tuple[Stroke, ...]:
    """Two lines of words at the end of a line: what it is over it, its figure under."""
    role: Role = "hott" if hot else "fig"
    return (
        Text(x, y - 0.2 * SIZE, words[0], "hott" if hot else "word", anchor, SIZE * 0.9),
        Text(x, y + 0.95 * SIZE, words[1], role, anchor, SIZE),
    )


def _size(mm: float, unit: Unit) -> str:
    return f"{mm / float(INCH):.4f} in" if unit == "inch" else f"{mm:.3f} mm"


def _plain(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
