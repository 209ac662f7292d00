"""Kernel room: the lines of working of a keyway, in the unit of its standard."""

from collections.abc import Callable, Sequence
from fractions import Fraction

from calc.kernel.keyway_depths import ISO_KEY, ISO_WIDTHS, Side, root
from calc.kernel.keyway_entries import TAPER, Keyway
from calc.kernel.keyway_keys import CLEARANCE, TAPER_LESS, Key, Limits
from calc.kernel.keyway_woodruff import HUB_CLEARANCE, Woodruff
from calc.kernel.working import COMMON, LOOKED_UP, WORKED_HERE, Step, figure, figures_enough

TABLES = {
    "bs46": "BS 46: Part 1: 1958, parallel keys",
    "b17.1": "ANSI B17.1-1967, sizes and tolerances",
    "iso773": "ISO/R 773, BS 4235-1, DIN 6885-1, parallel keys",
}
WOODRUFF_TABLE = "ANSI B17.2-1967, Woodruff keys"
DEPTH_CONTROL = "ANSI B17.1-1967, depth control"
WIDTHS = "ISO 286-1, by the class of BS 4235-1"
SOURCE_KEYS = {"bs46": ("bs46",), "b17.1": ("b17_1",), "iso773": ("iso773", "iso286")}

#: Places a size is shown to: four of an inch, three of a millimetre; widths by ISO 286 one more.
INCH_PLACES, MM_PLACES = 4, 3
_FEWEST = 6


class Lines:
    """Lines of working gathered one by one; lengths come in millimetres and are written in the unit."""

    def __init__(self, task: Keyway) -> None:
        self.unit, self.word = task.unit, task.unit_word
        self.places = INCH_PLACES if task.unit != 1 else MM_PLACES
        self.steps: list[Step] = []

    def table(self, label: str, value: Fraction, source: str) -> None:
        """A figure read in a table, as it stands there."""
        shown = figure(value / self.unit, self.places, least=3 if self.unit != 1 else 0)
        self._add(label, LOOKED_UP, shown, shown, source)

    def sum(
        self,
        label: str,
        formula: str,
        figures: str,
        values: Sequence[Fraction],
        worked: Callable[..., Fraction],
        source: str = WORKED_HERE,
        *,
        finer: int = 0,
    ) -> None:
        """A figure worked out: braces in `figures` stand for the values, which `worked` takes as well."""
        own = [value / self.unit for value in values]
        written, shown = figures_enough(own, worked, self.places + finer, _FEWEST)
        self._add(label, formula, figures.format(*written), shown, source)

    def _add(self, label: str, formula: str, figures: str, value: str, source: str) -> None:
        self.steps.append(
            Step(label=label, formula=formula, figures=figures, value=value, unit=self.word, source=source)
        )


def working(task: Keyway, key: Key, both: tuple[Side, Side] | None) -> list[Step]:
    """Every line: the key, the rise, shaft and hub by each datum with their limits, the widths."""
    lines = Lines(task)
    where = "the width entered" if task.key_width is not None else f"shafts {key.range_text}"
    lines.table(f"Key for {where}: its width", key.width, TABLES[task.standard])
    lines.table(f"Its height, {key.section} section", key.height, TABLES[task.standard])
    _rise(lines, task, key)
    if both is None:
        half = "Half of the key’s height, where the depths were not read"
        lines.sum(half, "key height / 2", "{} / 2", [key.height], lambda height: height / 2, COMMON)
        return lines.steps
    for side in both:
        _depths(lines, task, key, side)
    shaft = both[0]
    lines.sum(
        "Side depth cut from the top of the shaft leaves the keyway shallow by",
        "shaft crown depth − shaft side depth",
        "{} − {}",
        [shaft.crown, shaft.side],
        lambda crown, side: crown - side,
        WORKED_HERE,
    )
    _widths(lines, task, key)
    return lines.steps


def _rise(lines: Lines, task: Keyway, key: Key) -> None:
    """The chord rise of the shaft, and of the bore where it was measured."""
    source = DEPTH_CONTROL if task.standard == "b17.1" else COMMON
    works = [("shaft", task.shaft)] + ([("bore", task.bore)] if task.bore_measured is not None else [])
    for name, work in works:
        lines.sum(
            f"Chord rise, from the corners of the keyway to the top of the {name}",
            f"({name} − √({name}² − key width²)) / 2",
            "({0} − √({0}² − {1}²)) / 2",
            [work, key.width],
            lambda across, width: (across - root(across**2 - width**2)) / 2,
            source,
            finer=1,
        )


def _depths(lines: Lines, task: Keyway, key: Key, side: Side) -> None:
    """Side and crown depth, the tabled one first, and over the work with its limits."""
    place, shaft = side.place, side.place == "shaft"
    of = "the shaft" if shaft else "the hub"
    rise = "bore rise" if not shaft and task.bore_measured is not None else "chord rise"
    if task.standard == "b17.1":
        _b17_1_side(lines, task, key, of, side)
        _crown(lines, side, rise)
    else:
        lines.table(f"Depth in {of} from its crown, on the centre line", side.crown, TABLES[task.standard])
        lines.table(f"Depth in {of} from its crown, at most", side.crown_max, TABLES[task.standard])
        lines.sum(
            f"Side depth in {of}, at the keyway wall",
            f"{place} crown depth {'−' if shaft else '+'} {rise}",
            f"{{}} {'−' if shaft else '+'} {{}}",
            [side.crown, side.rise],
            (lambda depth, up: depth - up) if shaft else (lambda depth, up: depth + up),
            WORKED_HERE,
        )
    _over(lines, side, DEPTH_CONTROL if task.standard == "b17.1" else WORKED_HERE)


def _crown(lines: Lines, side: Side, rise: str) -> None:
    """Depth from the crown, from the side depth that B17.1 and B17.2 table."""
    shaft = side.place == "shaft"
    lines.sum(
        f"Depth in the {side.place} from its crown, on the centre line",
        f"{side.place} side depth {'+' if shaft else '−'} {rise}",
        f"{{}} {'+' if shaft else '−'} {{}}",
        [side.side, side.rise],
        (lambda depth, up: depth + up) if shaft else (lambda depth, up: depth - up),
        DEPTH_CONTROL,
    )


def woodruff_lines(task: Keyway, moon: Woodruff, key: Key, both: tuple[Side, Side] | None) -> list[Step]:
    """The lines of a Woodruff key: its sizes, the depths read or worked out, and over the work."""
    lines = Lines(task)
    for label, value in (
        (f"Woodruff key {moon.number}: its width", key.width),
        ("Its diameter, and that of the cutter", moon.diameter),
        ("Its height, at least", moon.height.low),
        ("Its height, at most", moon.height.high),
        ("Its flat below the centre of the circle, from memory", moon.flat),
    ):
        lines.table(label, value, WOODRUFF_TABLE)
    _rise(lines, task, key)
    rise = "bore rise" if task.bore_measured is not None else "chord rise"
    for side in both or ():
        _woodruff_side(lines, moon, key, side)
        _crown(lines, side, rise if side.place == "hub" else "chord rise")
        _over(lines, side, DEPTH_CONTROL)
    return lines.steps


def _woodruff_side(lines: Lines, moon: Woodruff, key: Key, side: Side) -> None:
    """Depth at the wall: as it was read, or by the rule that gives the depths that were."""
    label = f"Side depth in the {side.place}, at the keyway wall"
    if moon.shaft_is_read if side.place == "shaft" else moon.hub_is_read:
        lines.table(label, side.side, WOODRUFF_TABLE)
    elif side.place == "shaft":
        lines.sum(
            f"{label}, not read, worked out",
            "key height at least − key width / 2",
            "{} − {} / 2",
            [moon.height.low, key.width],
            lambda height, width: height - width / 2,
        )
    else:
        lines.sum(
            f"{label}, not read, worked out",
            "key width / 2 + 0.006",
            "{} / 2 + {}",
            [key.width, HUB_CLEARANCE],
            lambda width, clear: width / 2 + clear,
        )


def _b17_1_side(lines: Lines, task: Keyway, key: Key, of: str, side: Side) -> None:
    label = f"Side depth in {of}, at the keyway wall"
    if side.place == "shaft":
        lines.sum(label, "key height / 2", "{} / 2", [key.height], lambda height: height / 2, DEPTH_CONTROL)
        return
    if task.kind == TAPER:
        lines.sum(
            f"{label}, at the deep end",
            "key height / 2 − 0.020",
            "{} / 2 − {}",
            [key.height, TAPER_LESS],
            lambda height, less: height / 2 - less,
            DEPTH_CONTROL,
        )
        return
    lines.sum(
        f"{label}, the clearance in it",
        "key height / 2 + 0.005",
        "{} / 2 + {}",
        [key.height, CLEARANCE],
        lambda height, clear: height / 2 + clear,
        DEPTH_CONTROL,
    )


def _over(lines: Lines, side: Side, source: str) -> None:
    """Over the work, and its other limit, which the depth at most gives."""
    shaft = side.place == "shaft"
    name, sign = ("shaft", "−") if shaft else ("bore", "+")
    label = "Over the shaft, from the bottom of the keyway" if shaft else "Across the bore, to the keyway"
    for words, depth, crown in (
        ("", f"{side.place} crown depth", side.crown),
        (", at least" if shaft else ", at most", f"{side.place} crown depth at most", side.crown_max),
    ):
        lines.sum(
            label + words,
            f"{name} {sign} {depth}",
            f"{{}} {sign} {{}}",
            [side.work, crown],
            (lambda work, deep: work - deep) if shaft else (lambda work, deep: work + deep),
            source,
        )


def _widths(lines: Lines, task: Keyway, key: Key) -> None:
    """Least and most of the keyway's width in shaft and hub, and of the key."""
    iso = ISO_WIDTHS.get(task.fit, ("", ""))
    rows = (
        ("Width of the keyway in the shaft", iso[0], key.shaft_width),
        ("Width of the keyway in the hub", iso[1], key.hub_width),
        ("Width of the key", ISO_KEY, key.key_width),
    )
    for label, symbol, limits in rows:
        if limits is None:
            continue
        if task.standard == "iso773":
            _iso_width(lines, f"{label}, {symbol}", symbol, key.width, limits)
        else:
            for end, value in (("least", limits.low), ("most", limits.high)):
                lines.table(f"{label}, at {end}", value, TABLES[task.standard])


def _iso_width(lines: Lines, label: str, symbol: str, width: Fraction, limits: Limits) -> None:
    for end, which, value in (("least", "lower", limits.low), ("most", "upper", limits.high)):
        lines.sum(
            f"{label}, at {end}",
            f"key width + {which} deviation of {symbol}",
            "{} + {}" if value >= width else "{} − {}",
            [width, abs(value - width)],
            (lambda nominal, far: nominal + far) if value >= width else (lambda nominal, far: nominal - far),
            WIDTHS,
            finer=1,
        )
