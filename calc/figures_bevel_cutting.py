"""Cutting a bevel pair: the spaces that three rounds leave, the rounds themselves, the pair in mesh."""

from collections.abc import Sequence
from math import cos, sin
from typing import TypedDict

from calc.figures import Anchor, Drawing, Path, Point, Role, Stroke, Text
from calc.figures_hatch import SIZE, arrow, hatched

#: A flank: angle of half the space and radius, from the bottom up, on the developed back cone. [radian, mm]
Flank = Sequence[Sequence[float]]
#: Departures from the wanted flank are drawn so many times.
TIMES = 10
_PANEL, _GAP, _TOP = 300.0, 34.0, 40.0
_WORDS = 92.0
_SHOWN = 0.74  # of a pitch, to either side of the pitch point
ENDS = ("small end", "middle", "large end")


class Section(TypedDict):
    """One section of a member on its developed back cone."""

    pitch_radius: float  # [mm]
    pitch: float  # tooth to tooth along the pitch circle [mm]
    working: float  # lowest radius of the flank that works [mm]
    wanted: Flank
    left: Flank
    rounds: list[Flank]  # what each of the three alone would leave


class Stand(TypedDict):
    """How cutter and blank stand in one round, seen along the feed from the small end."""

    set_over: float  # of the cutter, right of the blank's centre [mm]
    lift: float  # shallower than the first round [mm]
    roll: float  # of the blank on its developed back cone, top to the right [radian]


def _point(radius: float, angle: float, pitch_radius: float) -> Point:
    """A point of the developed back cone from the pitch point, right and up."""
    return radius * sin(angle), radius * cos(angle) - pitch_radius


def _line(flank: Flank, pitch_radius: float, side: int, turn: float = 0.0) -> list[Point]:
    return [_point(radius, turn + side * angle, pitch_radius) for angle, radius in flank]


def _put(points: Sequence[Point], centre: Point, scale: float) -> tuple[Point, ...]:
    """Points of the work on the drawing, whose y goes down."""
    return tuple((centre[0] + x * scale, centre[1] - y * scale) for x, y in points)


# ---- the space -------------------------------------------------------------------------------------------


def spaces(*, sections: Sequence[Section], teeth: int) -> Drawing:
    """The tooth space at the small end, in the middle and at the large end, all three to one scale.

    Parameters
    ----------
    sections : sequence of three
        From the small end to the large.
    teeth : int
        Of the gear. [count]

    Notes
    -----
    Left: what each round alone leaves. Right: the flank wanted, and in red what is left of it, its
    departure ten times as large.
    """
    scale = _PANEL / (1.12 * max(section["pitch"] for section in sections))
    strokes: list[Stroke] = []
    high = max(_reach(section) for section in sections) * scale
    for place, section in enumerate(sections):
        centre = (_PANEL / 2 + place * (_PANEL + _GAP), _TOP + high)
        strokes += _space(section, centre, scale)
        strokes.append(Text(centre[0], 22, ENDS[place], "fig", size=SIZE))
    deep = max(_depth(section) for section in sections) * scale
    bottom = _TOP + high + deep + 30
    wide = 3 * _PANEL + 2 * _GAP
    strokes += _legend(bottom, wide)
    label = f"Tooth spaces of the {teeth} at three places along the face, as three rounds leave them"
    return Drawing(label, 0, 0, wide, bottom + _WORDS, tuple(strokes))


def _reach(section: Section) -> float:
    return max(radius for _, radius in section["wanted"]) - section["pitch_radius"]


def _depth(section: Section) -> float:
    return section["pitch_radius"] - min(radius for _, radius in section["left"])


def _space(section: Section, centre: Point, scale: float) -> list[Stroke]:
    pitch = section["pitch_radius"]

    def put(flank: Flank, side: int) -> tuple[Point, ...]:
        return _put(_line(flank, pitch, side), centre, scale)

    strokes: list[Stroke] = [Path(put(one, -1), "t0") for one in section["rounds"] if one]
    strokes += [Path(put(section["left"], side), "o0") for side in (-1, 1)]
    foot = section["left"][0]
    strokes.append(Path(put([foot], -1) + put([foot], 1), "o0"))
    strokes += [Path(put(section["wanted"], side), "h") for side in (-1, 1)]
    strokes.append(Path(_put(_departed(section), centre, scale), "hl"))
    strokes.append(_pitch_line(section, centre, scale))
    strokes += [_tip(section, side, centre, scale) for side in (-1, 1)]
    return strokes


def _departed(section: Section) -> list[Point]:
    """The right flank as it is left, its departure from the wanted one drawn ten times."""
    return [_point(radius, angle, section["pitch_radius"]) for angle, radius in _departures(section)]


def _departures(section: Section) -> list[tuple[float, float]]:
    """Angle and radius of the flank that works, its departure drawn ten times."""
    left = {round(radius, 6): angle for angle, radius in section["left"]}
    return [
        (angle + TIMES * (left[round(radius, 6)] - angle), radius)
        for angle, radius in section["wanted"]
        if round(radius, 6) in left and radius >= section["working"]
    ]


def _pitch_line(section: Section, centre: Point, scale: float) -> Stroke:
    radius, half = section["pitch_radius"], section["pitch"] / section["pitch_radius"] / 2
    points = [_point(radius, half * (step - 8) / 8, radius) for step in range(17)]
    return Path(_put(points, centre, scale), "c")


def _tip(section: Section, side: int, centre: Point, scale: float) -> Stroke:
    """The face of the tooth beside the space, to the middle of the tooth."""
    pitch = section["pitch_radius"]
    angle, radius = section["left"][-1]
    half = section["pitch"] / pitch / 2
    points = [
        _point(radius, side * (angle + (half - angle) * step / 6), pitch) for step in range(7) if angle < half
    ]
    return Path(_put(points, centre, scale), "o0")


def _legend(top: float, wide: float) -> list[Stroke]:
    """What the lines are, each with a piece of itself."""
    said: tuple[tuple[Role, str], ...] = (
        ("t0", "left of the space: what each round alone would leave"),
        ("h", "the flank wanted"),
        ("hl", f"right: what is left, its departure {TIMES} times"),
    )
    strokes: list[Stroke] = []
    for place, (role, text) in enumerate(said):
        y = top + 26 * place
        strokes.append(Path(((wide / 2 - 250, y), (wide / 2 - 204, y)), role))
        strokes.append(Text(wide / 2 - 192, y + 0.35 * SIZE, text, "fig", "start", SIZE))
    return strokes


# ---- the rounds ------------------------------------------------------------------------------------------


def rounds(
    *,
    cutter: Sequence[Sequence[float]],
    stands: Sequence[Stand],
    pitch_radius: float,
    pitch: float,
    addendum: float,
    words: Sequence[Sequence[str]],
) -> Drawing:
    """How cutter and blank stand in each round shown, seen along the feed from the small end.

    Parameters
    ----------
    cutter : sequence of points
        Right edge of the cutter from its corner up: across, and up from the pitch line. [mm]
    stands : sequence
        The rounds in their order: all three, or one alone.
    pitch_radius, pitch, addendum : float
        Of the small end on its developed back cone. [mm]
    words : sequence of pairs
        Under each round: what is done at the handles, and which flank it trims.
    """
    scale = _PANEL / (1.9 * pitch)
    strokes: list[Stroke] = []
    high = (addendum + 0.62 * pitch) * scale
    deep = (-cutter[0][1] + 0.25 * pitch) * scale
    for place, (stand, lines) in enumerate(zip(stands, words, strict=True)):
        centre = (_PANEL / 2 + place * (_PANEL + _GAP), _TOP + high)
        strokes += _round(cutter, stand, (pitch_radius, pitch, addendum), centre, scale)
        bottom = centre[1] + deep
        strokes += [
            Text(centre[0], bottom + 34 + 24 * row, text, "word" if row == 0 else "fig", size=SIZE)
            for row, text in enumerate(lines)
        ]
    wide, bottom = len(stands) * (_PANEL + _GAP) - _GAP, _TOP + high + deep
    named = "each of the three rounds" if len(stands) > 1 else "one of the trimming rounds"
    label = f"Cutter and blank in {named}, seen along the feed from the small end"
    return Drawing(label, 0, 0, wide, bottom + 34 + 24 * max(len(lines) for lines in words), tuple(strokes))


def _round(
    cutter: Sequence[Sequence[float]],
    stand: Stand,
    blank: tuple[float, float, float],
    centre: Point,
    scale: float,
) -> list[Stroke]:
    pitch_radius, pitch, addendum = blank
    edge = [(x, y + stand["lift"]) for x, y in cutter]
    left = [(-x, y) for x, y in reversed(edge)]
    moved = [(x + stand["set_over"], y) for x, y in (*left, *edge)]
    first = [(-x, y) for x, y in reversed(cutter)] + [(x, y) for x, y in cutter]
    rolled = [_rolled((x, y), stand["roll"], pitch_radius) for x, y in first]
    tip = pitch_radius + addendum
    half = 0.85 * pitch / pitch_radius
    face = [_point(tip, half * (step - 12) / 12, pitch_radius) for step in range(25)]
    outline = _put(moved, centre, scale)
    strokes: list[Stroke] = [Path(_put(face, centre, scale), "t0"), *hatched(outline, "st", 14)]
    if stand["set_over"]:
        strokes.append(Path(_put(rolled, centre, scale), "h"))
    strokes.append(Path(outline, "o0", True))
    strokes.append(_middle((0.0, 0.0), cutter, addendum, pitch, centre, scale, "c"))
    if stand["set_over"]:
        strokes += _trimmed(moved, stand, centre, scale)
        strokes += _ways(stand, (tip, pitch_radius, pitch), centre, scale)
    return strokes


def _rolled(point: Point, roll: float, pitch_radius: float) -> Point:
    """A point of the blank after it was rolled, top to the right."""
    x, y = point[0], point[1] + pitch_radius
    return x * cos(roll) + y * sin(roll), y * cos(roll) - x * sin(roll) - pitch_radius


def _middle(
    at: Point, cutter: Sequence[Sequence[float]], addendum: float, pitch: float, centre: Point,
    scale: float, role: Role,
) -> Stroke:  # fmt: skip
    ends = ((at[0], cutter[0][1] - 0.1 * pitch), (at[0], addendum + 0.2 * pitch))
    return Path(_put(ends, centre, scale), role)


def _trimmed(moved: Sequence[Point], stand: Stand, centre: Point, scale: float) -> list[Stroke]:
    """The edge that trims: the left flank where the cutter stands to the right."""
    half = len(moved) // 2
    flank = moved[:half] if stand["set_over"] > 0 else moved[half:]
    return [Path(_put(flank, centre, scale), "hl")]


def _ways(stand: Stand, blank: tuple[float, float, float], centre: Point, scale: float) -> list[Stroke]:
    """Arrows: which way the cutter stands off, and which way the top of the blank is rolled."""
    tip, pitch_radius, pitch = blank
    way = 1 if stand["set_over"] > 0 else -1
    up = tip - pitch_radius + 0.56 * pitch
    start, end = ((0.0, up), (way * 0.5 * pitch, up))
    over = _put((start, end), centre, scale)
    strokes: list[Stroke] = [Path(over, "d"), arrow(over[1], over[0])]
    strokes.append(Text(centre[0] + way * 4, over[0][1] - 9, "cutter", "fig", _anchor(way), SIZE * 0.85))
    radius = tip + 0.28 * pitch
    turn = way * 0.52 * pitch / pitch_radius
    arc = [_point(radius, turn * step / 8, pitch_radius) for step in range(9)]
    rolled = _put(arc, centre, scale)
    strokes += [Path(rolled, "d"), arrow(rolled[-1], rolled[-2])]
    at = rolled[-1]
    strokes.append(Text(at[0] + way * 8, at[1] + 4, "blank", "fig", _anchor(way), SIZE * 0.85))
    return strokes


def _anchor(way: int) -> Anchor:
    return "start" if way > 0 else "end"


# ---- the pair --------------------------------------------------------------------------------------------


def mesh(*, gear: Sequence[Section], mate: Sequence[Section], teeth: int, mate_teeth: int) -> Drawing:
    """The pair in mesh at the small end, in the middle and at the large end, on the developed back cones.

    Parameters
    ----------
    gear, mate : sequence of three
        Sections from the small end to the large.
    teeth, mate_teeth : int
        [count]

    Notes
    -----
    What departs from the wanted flank is drawn ten times as large, on both: so is the free space.
    """
    scale = _PANEL / (1.5 * max(section["pitch"] for section in gear))
    strokes: list[Stroke] = []
    high = 1.45 * max(_reach(section) for section in gear) * scale
    for place, (own, other) in enumerate(zip(gear, mate, strict=True)):
        centre = (_PANEL / 2 + place * (_PANEL + _GAP), _TOP + high)
        strokes += _tooth_row(own, centre, scale, turned=False)
        strokes += _tooth_row(other, centre, scale, turned=True)
        strokes.append(Text(centre[0], 22, ENDS[place], "fig", size=SIZE))
    wide, bottom = 3 * _PANEL + 2 * _GAP, _TOP + 2 * high + 26
    said = f"below the {teeth}, above the {mate_teeth}; free space {TIMES} times"
    strokes.append(Text(wide / 2, bottom + 12, said, "fig", size=SIZE))
    label = f"The {teeth} and the {mate_teeth} in mesh at three places along the face"
    return Drawing(label, 0, 0, wide, bottom + 34, tuple(strokes))


def _tooth_row(section: Section, centre: Point, scale: float, *, turned: bool) -> list[Stroke]:
    """The flanks beside the middle space, or of the tooth turned into it: wanted, and as they depart."""
    half = section["pitch"] / section["pitch_radius"] / 2
    # The gear has a space in the middle, its mate a tooth: half a pitch on.
    places = (-half, half) if turned else (-2 * half, 0.0, 2 * half)
    wanted = [(angle, radius) for angle, radius in section["wanted"] if radius >= section["working"]]
    strokes: list[Stroke] = []
    for place in places:
        for side in (-1, 1):
            strokes += _flank_in_mesh(section, wanted, (place, side), (centre, scale), "h", turned=turned)
            strokes += _flank_in_mesh(
                section, _departures(section), (place, side), (centre, scale), "hl" if turned else "o0",
                turned=turned,
            )  # fmt: skip
    return strokes


def _flank_in_mesh(
    section: Section,
    flank: Sequence[tuple[float, float]],
    place: tuple[float, int],
    on: tuple[Point, float],
    role: Role,
    *,
    turned: bool,
) -> list[Stroke]:
    """One flank, as far as it stands in the panel; the mate's is turned upside down."""
    turn, side = place
    points = [_point(radius, turn + side * angle, section["pitch_radius"]) for angle, radius in flank]
    kept = [(x, -y if turned else y) for x, y in points if abs(x) <= _SHOWN * section["pitch"]]
    return [Path(_put(kept, *on), role)] if len(kept) > 1 else []
