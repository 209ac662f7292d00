"""Stock and castings to scale: a size inside its bar, a section that is weighed, a casting in its pattern."""

from math import cos, radians, sin

from calc.figures import Circle, Drawing, Path, Point, Stroke, Text
from calc.figures_hatch import arc_points, centre_lines, dimension, hatched
from calc.kernel.units import Unit, fine, turned

SIZE = 20.0  # of a figure, in drawing units
_ROOM = 230.0  # the most that a section takes
_WIDE = 460.0  # the window of one
_SPACING = 12.0
_LONG = 380.0  # the most that a bar of the casting takes
_HIGH, _STEP = 30.0, 74.0  # of one bar, and from bar to bar


def stock_size(*, model: float, stock: float, form: str, unit: Unit = "inch") -> Drawing:
    """The size at its scale, cut, with the stock as an outline about it or inside it.

    Parameters
    ----------
    model, stock : float
        The size wanted, and what is sold. [mm]
    form : str
        round, or sheet or plate, of which a strip is drawn.
    unit : str
        What the figures are written in: inch or mm.
    """
    scale = _ROOM / max(model, stock)
    label = f"The size at its scale, {fine(model, unit)}, and the stock, {fine(stock, unit)}"
    if form == "round":
        inner, outer = model * scale / 2, stock * scale / 2
        strokes: list[Stroke] = [
            *hatched(arc_points((0, 0), inner, 0, 360), "st", _SPACING),
            *centre_lines((0, 0), _ROOM / 2 + 16),
            Circle(0, 0, inner, "cut"),
            Circle(0, 0, outer, "hl"),
            *dimension((-inner, 0), (inner, 0), fine(model, unit), away=-(_ROOM / 2 + 46), size=SIZE),
            *dimension((-outer, 0), (outer, 0), fine(stock, unit), away=_ROOM / 2 + 46, size=SIZE,
                       role="hott"),
        ]  # fmt: skip
        return _square(label, strokes)
    return _square(label, _strip(model * scale, stock * scale, fine(model, unit), fine(stock, unit)))


def _strip(model: float, stock: float, wanted: str, have: str) -> list[Stroke]:
    """A strip of plate across its thickness; the stock stands up from the same lower face."""
    half, low = 60.0, _ROOM / 2
    outline = _box(-half, low - model, half, low)
    return [
        *hatched(outline, "st", _SPACING),
        Path(outline, "cut", closed=True),
        Path(_box(-half, low - stock, half, low), "hl", closed=True),
        *dimension((-half, low), (-half, low - model), wanted, away=40, size=SIZE),
        *dimension((half, low), (half, low - stock), have, away=-40, size=SIZE, role="hott"),
    ]


def bar_section(
    *, form: str, across: float, thickness: float | None = None, inside: float | None = None,
    metal: str = "st", unit: Unit = "inch",
) -> Drawing:  # fmt: skip
    """The section of a bar, a plate, a tube or a disc as it is weighed.

    Parameters
    ----------
    form : str
        round, disc, square, hexagon, flat, tube or ring.
    across : float
        Diameter, side, across the flats, width. [mm]
    thickness : float, optional
        Of a flat. [mm]
    inside : float, optional
        Inside diameter of what is hollow. [mm]
    metal : str
        How it is hatched.
    unit : str
        What the figures are written in: inch or mm.
    """
    most = max(across, thickness or 0.0)
    scale = _ROOM / most
    half = across * scale / 2
    outline = _outline(form, half, (thickness or across) * scale / 2)
    hole = arc_points((0, 0), inside * scale / 2, 0, 360) if inside else ()
    top = max(-y for _, y in outline)
    strokes: list[Stroke] = [
        *hatched(outline, metal, _SPACING, holes=[hole] if hole else ()),
        *centre_lines((0, 0), half + 16, top + 16),
        Path(outline, "cut", closed=True),
        *([Path(hole, "cut", closed=True)] if hole else ()),
        *dimension((-half, 0), (half, 0), fine(across, unit), away=-(top + 46), size=SIZE),
    ]
    if form == "flat" and thickness is not None:
        strokes += dimension((half, top), (half, -top), fine(thickness, unit), away=-36, size=SIZE)
    if inside:
        bore = inside * scale / 2
        strokes += dimension((-bore, 0), (bore, 0), fine(inside, unit), away=top + 46, size=SIZE)
    return _square(f"Section, {fine(across, unit)} across", strokes)


def _outline(form: str, half: float, half_high: float) -> tuple[Point, ...]:
    if form in ("square", "flat"):
        return _box(-half, -half_high, half, half_high)
    if form == "hexagon":
        corner = half / cos(radians(30))
        # Flats stand left and right, so that the size across them lies level.
        return tuple(
            (corner * sin(radians(60 * place)), -corner * cos(radians(60 * place))) for place in range(6)
        )
    return arc_points((0, 0), half, 0, 360)


def casting_sizes(*, finished: float, casting: float, pattern: float, unit: Unit = "inch") -> Drawing:
    """Finished size, casting and pattern one under another about one middle.

    Parameters
    ----------
    finished, casting, pattern : float
        The three sizes. [mm]
    unit : str
        What the figures are written in: inch or mm.
    """
    scale = _LONG / max(finished, casting, pattern)
    strokes: list[Stroke] = []
    for place, (word, size) in enumerate(
        (("finished", finished), ("casting", casting), ("pattern", pattern))
    ):
        half, top = size * scale / 2, place * _STEP
        outline = _box(-half, top, half, top + _HIGH)
        hatch = {"finished": "st", "casting": "ci", "pattern": ""}[word]
        strokes += [
            *(hatched(outline, hatch, _SPACING) if hatch else ()),
            Path(outline, "hl" if word == "pattern" else "cut", closed=True),
            Path(((0, top - 8), (0, top + _HIGH + 5)), "c"),
            Text(0, top + _HIGH + 24, f"{word} {turned(size, unit)}", "hott" if word == "pattern" else "fig",
                 "middle", SIZE),
        ]  # fmt: skip
    label = (
        f"Finished {turned(finished, unit)}, casting {turned(casting, unit)}, pattern {turned(pattern, unit)}"
    )
    return Drawing(label, -_LONG / 2 - 24, -28, _LONG + 48, 3 * _STEP + 34, tuple(strokes))


def _box(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _square(label: str, strokes: list[Stroke]) -> Drawing:
    return Drawing(label, -_WIDE / 2, -_WIDE / 2, _WIDE, _WIDE, tuple(strokes))
