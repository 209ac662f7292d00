"""A taper along its axis, to scale, with the half angle of the compound slide."""

from fractions import Fraction
from math import radians, tan

from calc.figures import Drawing, Path, Stroke, Text
from calc.figures_hatch import dimension, hatched
from calc.kernel.units import Unit, fine
from calc.kernel.wording import fixed

SIZE = 20.0  # of a figure, in drawing units
_LONG, _HIGH = 340.0, 260.0  # the most that the taper takes
_SPACING = 11.0
_SIDE, _ABOVE, _BELOW = 130.0, 76.0, 76.0


def taper(
    *,
    half_angle: float,
    large: float | None = None,
    small: float | None = None,
    length: float | None = None,
    unit: Unit = "inch",
) -> Drawing:
    """A taper cut along its axis, the large end on the left; its angle is drawn true.

    Parameters
    ----------
    half_angle : float
        Between side and axis. [degree]
    large, small, length : float, optional
        Its sizes; where they are not all known, a piece of a taper stands for it. [mm]
    unit : str
        What the figures are written in: inch or mm.
    """
    across, end, along = _shape(half_angle, large, small, length)
    scale = min(_LONG / along, _HIGH / across)
    big, less, long = across * scale / 2, end * scale / 2, along * scale
    outline = [(0.0, -big), (long, -less), (long, less), (0.0, big)]
    strokes: list[Stroke] = [
        *hatched(outline, "st", _SPACING),
        Path(tuple(outline), "cut", closed=True),
        Path(((-18, 0), (long + 18, 0)), "c"),
        # A side is seen against this line, which lies along the axis: between them is the half angle.
        Path(((0, -big), (long, -big)), "h"),
        Text(long / 2, -big - 14, f"{fixed(Fraction(half_angle), 5)}° to the axis", "hott", "middle", SIZE),
    ]
    if large is not None and small is not None and length is not None:
        strokes += [
            *dimension((0, big), (0, -big), fine(large, unit), away=36, size=SIZE),
            *dimension((long, less), (long, -less), fine(small, unit), away=-36, size=SIZE),
            *dimension((long, big), (0, big), fine(length, unit), away=36, size=SIZE),
        ]
    label = f"A taper along its axis, {fixed(Fraction(half_angle), 5)}° on each side"
    return Drawing(
        label, -_SIDE, -_HIGH / 2 - _ABOVE, _LONG + 2 * _SIDE, _HIGH + _ABOVE + _BELOW, tuple(strokes)
    )


def _shape(
    half_angle: float, large: float | None, small: float | None, length: float | None
) -> tuple[float, float, float]:
    """Large end, small end and length as drawn: those known, or a piece with the true angle."""
    if large is not None and small is not None and length is not None:
        return large, small, length
    slope = 2 * tan(radians(half_angle))
    along = min(2.0, 0.75 / slope)
    return 1.0, 1.0 - slope * along, along
