"""The tolerance zones of a fit drawn to scale about the zero line, with the play between them."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from calc.figures import Drawing, Path, Role, Stroke, Text
from calc.figures_hatch import SIZE, arrow, hatched
from calc.kernel.wording import decimal_text

#: How high the deepest spread of deviations stands, and the room over it for what the columns are.
_HIGH, _HEAD, _FOOT = 250.0, 84.0, 10.0
_ZONE = 98.0  # how wide a zone stands
_LABELS = 74.0  # room for figures beside a zone
_PLAY = 114.0  # room for one dimension between the zones
_WIDE = 2 * (_LABELS + _ZONE + _PLAY)
_STEP = 19.0  # from one line of words, or one figure, to the next
_BELOW = 46.0  # under the lowest line, for the figure of a line that stands there and for the words
_LEAN = {"hole": 45.0, "shaft": -45.0}
#: The units that limits are given in, and the places they are shown to at most.
_PLACES = {"µm": 1, "thou": 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Zone:
    """One side: its symbol, its limits from the nominal, where it stands."""

    side: str
    symbol: str
    upper: float
    lower: float
    left: float
    unit: str

    @property
    def right(self) -> float:
        return self.left + _ZONE


@dataclass(frozen=True, slots=True, kw_only=True)
class _Play:
    """A distance between the sides: what it is called, where it begins and ends."""

    words: tuple[str, str]
    start: float
    end: float
    unit: str

    @property
    def figure(self) -> str:
        return f"{_plain(abs(self.start - self.end), _PLACES[self.unit])} {self.unit}"


def zones(
    *,
    nominal: str,
    hole: str = "",
    shaft: str = "",
    hole_um: Sequence[float] = (),
    shaft_um: Sequence[float] = (),
    measured: str = "",
    measured_um: float = 0.0,
    unit: str = "µm",
) -> Drawing:
    """The tolerance zones of one fit to scale, the limits of each beside it.

    Parameters
    ----------
    nominal : str
        The nominal size with its unit, for the zero line.
    hole, shaft : str
        The symbols; empty for a side that is not asked for.
    hole_um, shaft_um : sequence of two
        Upper and lower limit of each side, from the nominal. [micrometre]
    measured : str
        The side that is made already: ``hole``, ``shaft`` or none.
    measured_um : float
        Its size from the nominal. [micrometre]
    unit : str
        ``µm``; or ``thou``, where limits and sizes are in thousandths of an inch instead.
    """
    both = bool(hole and shaft)
    first = _LABELS if both else (_WIDE - _ZONE) / 2
    sides = [
        _Zone(side=side, symbol=symbol, upper=limits[0], lower=limits[1], left=left, unit=unit)
        for side, symbol, limits, left in (
            ("hole", hole, hole_um, first),
            ("shaft", shaft, shaft_um, _WIDE - _LABELS - _ZONE if both else first),
        )
        if symbol
    ]
    made = [measured_um] if measured else []
    ends = [end for one in sides for end in (one.upper, one.lower)] + [0.0, *made]
    scale = _Scale(top=max(ends), unit=_HIGH / (max(ends) - min(ends)))
    zero = ((sides[0].left - 12, scale.y(0)), (sides[-1].right + 12, scale.y(0)))
    strokes: list[Stroke] = [Path(zero, "o0")]
    for place, one in enumerate(sides):
        own = made if one.side == measured else []
        strokes += [*_zone(one, scale), *_figures(one, scale, own, left=place == 0), *_heading(one)]
        strokes += _as_measured(one, scale, own)
    strokes += _plays(sides, scale, measured, measured_um)
    strokes += _words(nominal, measured, unit)
    high = _HEAD + _HIGH + _BELOW + _FOOT + (_STEP if measured else 0)
    return Drawing(_label(sides), 0, 0, _WIDE, high, tuple(strokes))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scale:
    """Micrometres from the nominal to the height on the drawing."""

    top: float
    unit: float

    def y(self, value: float) -> float:
        return _HEAD + (self.top - value) * self.unit


def _zone(one: _Zone, scale: _Scale) -> list[Stroke]:
    top, bottom = scale.y(one.upper), scale.y(one.lower)
    corners = ((one.left, top), (one.right, top), (one.right, bottom), (one.left, bottom))
    lines = hatched(corners, "ci", 11, lean=_LEAN[one.side])
    return [Path(corners, "o", True), *lines, Path(corners, "o0", True)]


def _as_measured(one: _Zone, scale: _Scale, made: Sequence[float]) -> list[Stroke]:
    """The side as measured, a strong line across its column."""
    return [Path(((one.left - 8, scale.y(at)), (one.right + 8, scale.y(at))), "hl") for at in made]


def _heading(one: _Zone) -> list[Stroke]:
    middle = one.left + _ZONE / 2
    return [
        Text(middle, 24, one.side.capitalize(), "fig", size=SIZE),
        Text(middle, 24 + 1.4 * _STEP, one.symbol, "word", size=1.4 * SIZE),
    ]


def _figures(one: _Zone, scale: _Scale, made: Sequence[float], *, left: bool) -> list[Stroke]:
    """The limits beside the zone, on its outer side, kept clear of each other."""
    roles: list[tuple[float, Role]] = [(end, "fig") for end in dict.fromkeys((one.upper, one.lower))]
    roles += [(at, "hott") for at in made]
    if left and 0 not in (one.upper, one.lower):
        roles.append((0, "fig"))
    roles.sort(key=lambda entry: -entry[0])
    heights = _spread([scale.y(value) for value, _ in roles])
    x = one.left - 14 if left else one.right + 14
    return [
        Text(x, y + 0.35 * SIZE, signed(value, _PLACES[one.unit]), role, "end" if left else "start", SIZE)
        for (value, role), y in zip(roles, heights, strict=True)
    ]


def _spread(heights: Sequence[float]) -> list[float]:
    """The same heights, from above to below, moved apart where figures would stand on each other."""
    placed: list[float] = []
    for height in heights:
        placed.append(max(height, placed[-1] + _STEP) if placed else height)
    # What was pushed down takes the one over it half way back up, so that both stay by their lines.
    over = [low - height for low, height in zip(placed, heights, strict=True)]
    return [height - max(over) / 2 for height in placed]


def _plays(sides: Sequence[_Zone], scale: _Scale, measured: str, measured_um: float) -> list[Stroke]:
    """The two distances between the sides, or the tolerance of one alone."""
    if len(sides) == 1:
        (one,) = sides
        play = _Play(words=("tolerance", ""), start=one.upper, end=one.lower, unit=one.unit)
        return _play(play, scale, one.right + _PLAY / 2, ((one.right, one.upper), (one.right, one.lower)))
    hole, shaft = sides
    limits = {"hole": (hole.upper, hole.lower), "shaft": (shaft.upper, shaft.lower)}
    if measured:
        limits[measured] = (measured_um, measured_um)
    most = _Play(
        words=_named("greatest", limits), start=limits["hole"][0], end=limits["shaft"][1], unit=hole.unit
    )
    least = _Play(
        words=_named("least", limits), start=limits["hole"][1], end=limits["shaft"][0], unit=hole.unit
    )
    marks: list[Stroke] = []
    for place, play in enumerate((most, least)):
        at = hole.right + _PLAY * (place + 0.5)
        marks += _play(play, scale, at, ((hole.right, play.start), (shaft.left, play.end)))
    return marks


def _named(which: str, limits: dict[str, tuple[float, float]]) -> tuple[str, str]:
    """Greatest or least, clearance or interference: what is below nought is interference, and turns about."""
    (hole_upper, hole_lower), (shaft_upper, shaft_lower) = limits["hole"], limits["shaft"]
    most, least = hole_upper - shaft_lower, hole_lower - shaft_upper
    if which == "greatest":
        return ("greatest", "clearance") if most > 0 else ("least", "interference")
    return ("least", "clearance") if least >= 0 else ("greatest", "interference")


def _play(
    play: _Play, scale: _Scale, x: float, feet: tuple[tuple[float, float], tuple[float, float]]
) -> list[Stroke]:
    """A dimension down the page between two heights, named over its column."""
    top, bottom = sorted((scale.y(play.start), scale.y(play.end)))
    marks: list[Stroke] = [
        Path(((edge + (4 if edge < x else -4), scale.y(at)), (x + (5 if edge < x else -5), scale.y(at))), "d")
        for edge, at in feet
    ]
    if bottom - top > 28:
        marks += [
            Path(((x, top), (x, bottom)), "d"),
            arrow((x, top), (x, bottom)),
            arrow((x, bottom), (x, top)),
        ]
    else:
        over, under = (x, top - 22), (x, bottom + 22)
        marks += [Path((over, under), "d"), arrow((x, top), over), arrow((x, bottom), under)]
    words = [word for word in (*play.words, play.figure) if word]
    first = 24 + _STEP * (3 - len(words)) / 2
    return marks + [
        Text(x, first + _STEP * line, word, "word" if word == play.figure else "fig", size=SIZE)
        for line, word in enumerate(words)
    ]


def _words(nominal: str, measured: str, unit: str) -> list[Stroke]:
    """What the zero line is, and the unit of the figures."""
    y = _HEAD + _HIGH + _BELOW
    said = [f"zero line: {nominal}; figures in {unit}"]
    said += [f"strong line: the {measured} as measured"] if measured else []
    return [Text(_WIDE / 2, y + _STEP * place, text, "fig", size=SIZE) for place, text in enumerate(said)]


def signed(value: float, places: int = 1) -> str:
    """A limit from the nominal: ``+25``, ``−12.5``, ``0``."""
    plain = _plain(abs(value), places)
    return plain if plain == "0" else f"{'+' if value > 0 else '−'}{plain}"


def _plain(value: float, places: int = 1) -> str:
    """A figure to so many places, without a needless nought."""
    return decimal_text(Fraction(value).limit_denominator(10**6), places)


def _label(sides: Sequence[_Zone]) -> str:
    """The picture in words, for those who cannot see it."""
    said = [
        f"{one.side} {one.symbol} from {signed(one.lower, _PLACES[one.unit])} "
        f"to {signed(one.upper, _PLACES[one.unit])}"
        for one in sides
    ]
    unit = "micrometres" if sides[0].unit == "µm" else "thousandths of an inch"
    return f"Tolerance zones to scale, in {unit} from the nominal size: {' and '.join(said)}"
