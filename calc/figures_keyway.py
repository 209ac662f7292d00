"""The section of a shaft and of a hub with their keyways, to scale, with what is measured at the bench."""

from collections.abc import Sequence
from math import acos, asin, degrees, radians, sin, sqrt

from calc.figures import Anchor, Drawing, Path, Point, Role, Stroke, Text
from calc.figures_hatch import ARROW, arc_points, arrow, centre_lines, dimension, hatched
from calc.kernel.units import INCH, Unit, turned
from calc.kernel.wording import decimal_text, exact, fixed

SIZE = 20.0  # of a figure, in drawing units
_SHAFT, _BORE = 122.0, 92.0  # radii as drawn; all else to the same scale
_HUB = 1.5  # how far out a hub is broken off, in radii of its bore
_SPACING = 10.0
_OFF = 28.0  # from the work to a dimension
_GAP = 4.0
#: Half the width of a window, and how far it reaches up and down: the same for both, so that the centres of
#: shaft and hub stand level side by side.
_HALF, _UP, _DOWN = 252.0, 186.0, 186.0


def shaft(
    *,
    diameter: float,
    key_width: float,
    side_depth: float,
    crown_depth: float,
    unit: Unit = "inch",
) -> Drawing:
    """A shaft cut across, its keyway on top: over the shaft, the width, the depth at the wall.

    Parameters
    ----------
    diameter, key_width, side_depth, crown_depth : float
        The shaft and its keyway. [mm]
    unit : str
        What the figures are written in: inch or mm.
    """
    scale = 2 * _SHAFT / diameter
    half, floor = key_width * scale / 2, -_SHAFT + crown_depth * scale
    corner = -sqrt(_SHAFT**2 - half**2)
    turn = degrees(asin(half / _SHAFT))
    around = arc_points((0, 0), _SHAFT, turn, 360 - turn)
    outline = [*around, (-half, floor), (half, floor)]
    right, left = _SHAFT + _OFF, -_SHAFT - _OFF
    over = diameter - crown_depth
    strokes: list[Stroke] = [
        *hatched(outline, "ci", _SPACING),
        Path(tuple(outline), "cut", closed=True),
        Path(arc_points((0, 0), _SHAFT, -turn, turn), "h"),
        *centre_lines((0, 0), _SHAFT + 14),
        *dimension(
            (-half, corner), (half, corner), width_text(key_width, unit), away=_SHAFT + corner + 34, size=SIZE
        ),
        *upright(right, (half, floor), (0, _SHAFT), turned(over, unit), "hott"),
        *upright(left, (-half, corner), (-half, floor), turned(side_depth, unit), "fig"),
        *_below(_SHAFT, f"{width_text(diameter, unit)} dia"),
    ]
    label = (
        f"Section of the shaft, {width_text(diameter, unit)} diameter: "
        f"keyway {width_text(key_width, unit)} wide, "
        f"{turned(side_depth, unit)} deep at the wall, {turned(over, unit)} over the shaft"
    )
    return _drawing(label, strokes)


def hub(
    *,
    bore: float,
    key_width: float,
    side_depth: float,
    crown_depth: float,
    unit: Unit = "inch",
) -> Drawing:
    """A hub cut across, its keyway on top and the hub broken off: across the bore, the width, the depth.

    Parameters
    ----------
    bore, key_width, side_depth, crown_depth : float
        The bore and its keyway. [mm]
    unit : str
        What the figures are written in: inch or mm.
    """
    scale = 2 * _BORE / bore
    half, floor = key_width * scale / 2, -_BORE - crown_depth * scale
    corner = -sqrt(_BORE**2 - half**2)
    turn = degrees(asin(half / _BORE))
    hollow = [*arc_points((0, 0), _BORE, turn, 360 - turn), (-half, floor), (half, floor)]
    out = max(_HUB * _BORE, -floor + 18)
    broken = broken_off(out)
    right, left = out + _OFF, -out - _OFF
    across = bore + crown_depth
    strokes: list[Stroke] = [
        *hatched(broken, "ci", _SPACING, holes=[hollow], lean=-45),
        Path(tuple(broken), "d", closed=True),
        Path(tuple(hollow), "cut", closed=True),
        Path(arc_points((0, 0), _BORE, -turn, turn), "h"),
        centre_lines((0, 0), out + 12)[0],
        *_inside_width(half, corner, out, width_text(key_width, unit)),
        *upright(right, (half, floor), (0, _BORE), turned(across, unit), "hott"),
        *upright(left, (-half, corner), (-half, floor), turned(side_depth, unit), "fig"),
        *_below(out, f"{width_text(bore, unit)} bore"),
    ]
    label = (
        f"Section of the hub, {width_text(bore, unit)} bore: keyway {width_text(key_width, unit)} wide, "
        f"{turned(side_depth, unit)} deep at the wall, {turned(across, unit)} across the bore"
    )
    return _drawing(label, strokes)


def seat(
    *, diameter: float, key_diameter: float, crown_depth: float, key_height: float, unit: Unit = "inch"
) -> Drawing:
    """A shaft cut along its middle through a Woodruff seat: the half-moon, the key in it, over the shaft.

    Parameters
    ----------
    diameter, key_diameter, crown_depth, key_height : float
        The shaft; the circle of key and cutter; the seat from the top of the shaft; the key. [mm]
    unit : str
        What the figures are written in: inch or mm.
    """
    scale = min(2 * _BORE / diameter, 2 * _SHAFT / key_diameter)
    top, out = -diameter * scale / 2, _SHAFT + 34
    radius, floor = key_diameter * scale / 2, top + crown_depth * scale
    middle = floor - radius
    mouth = degrees(acos((middle - top) / radius))
    arc = arc_points((0, middle), radius, mouth, 360 - mouth)
    key_top = floor - key_height * scale
    flat = degrees(acos((middle - key_top) / radius))
    moon = arc_points((0, middle), radius, flat, 360 - flat)
    # The centre line of the cutter stands where its middle does; the shaft is broken off on either side.
    outline = [(out, top), *arc, (-out, top), (-out, -top), (out, -top)]
    over = diameter - crown_depth
    strokes: list[Stroke] = [
        *hatched(outline, "ci", _SPACING),
        Path(tuple(outline), "cut", closed=True),
        Path(tuple(moon), "d", closed=True),
        Path(((0, min(key_top, top) - 12), (0, -top + 12)), "c"),
        *upright(out + _OFF - 14, (0, floor), (out, -top), turned(over, unit), "hott"),
        *upright(-out - _OFF + 14, (-out, top), (0, floor), turned(crown_depth, unit), "fig"),
        *_below(-top, f"{width_text(key_diameter, unit)} dia cutter"),
    ]
    label = (
        f"Shaft of {width_text(diameter, unit)} diameter cut along its middle: half-moon seat by a cutter of "
        f"{width_text(key_diameter, unit)} diameter, {turned(crown_depth, unit)} deep from the top, "
        f"{turned(over, unit)} over the shaft; the key in it in thin line"
    )
    return _drawing(label, strokes)


def _drawing(label: str, strokes: list[Stroke]) -> Drawing:
    return Drawing(label, -_HALF, -_UP, 2 * _HALF, _UP + _DOWN, tuple(strokes))


# ---- figures as written ------------------------------------------------------------------------------------


def width_text(mm: float, unit: Unit) -> str:
    """A width, a shaft, a bore: as many places as it has, four at most and three at least in inches."""
    value = exact(mm) / (INCH if unit == "inch" else 1)
    if unit == "inch" and (value * 1000).denominator == 1:
        return fixed(value, 3)
    return decimal_text(value, 4)


# ---- strokes ---------------------------------------------------------------------------------------------


def upright(x: float, start: Point, end: Point, text: str, role: Role) -> list[Stroke]:
    """A dimension up and down at the side, its figure level and outside, so that no head is turned."""
    way = 1 if x > 0 else -1
    (_, high), (_, low) = sorted((start, end), key=lambda point: point[1])
    strokes: list[Stroke] = [Path(((px + way * _GAP, py), (x + way * 5, py)), "d") for px, py in (start, end)]
    top, bottom = (x, high), (x, low)
    if low - high > 3 * ARROW:
        strokes += [Path((top, bottom), "d"), arrow(top, bottom), arrow(bottom, top)]
    else:
        above, below = (x, high - 2.2 * ARROW), (x, low + 2.2 * ARROW)
        strokes += [Path((above, below), "d"), arrow(top, above), arrow(bottom, below)]
    anchor: Anchor = "start" if way > 0 else "end"
    return [*strokes, Text(x + way * 8, (high + low) / 2 + 0.35 * SIZE, text, role, anchor, SIZE)]


def _inside_width(half: float, corner: float, out: float, text: str) -> list[Stroke]:
    """The width of the keyway in a hub: in the bore, where nothing is cut; the centre line makes way."""
    lines = dimension((half, corner), (-half, corner), "", away=26)
    foot = corner + 26 + 1.15 * SIZE
    return [
        *(stroke for stroke in lines if not isinstance(stroke, Text)),
        Text(0, foot, text, "fig", "middle", SIZE),
        Path(((0, -out - 12), (0, corner + 20)), "c"),
        Path(((0, foot + 8), (0, out + 12)), "c"),
    ]


def _below(depth: float, text: str) -> list[Stroke]:
    """The diameter in words under the work."""
    return [Text(0, depth + 16 + SIZE, text, "fig", "middle", SIZE)]


def broken_off(radius: float) -> Sequence[Point]:
    """Where a hub is broken off: a circle drawn by an unsteady hand."""
    return [
        point
        for angle in range(0, 360, 3)
        for point in arc_points((0, 0), radius + _unsteady(angle), angle, angle + 0.1)[:1]
    ]


def _unsteady(angle: float) -> float:
    return 1.3 * sin(radians(11 * angle)) + 0.9 * sin(radians(17 * angle + 40))
