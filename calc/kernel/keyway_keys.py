"""Kernel room: the keys of each standard as its table gives them, and the one that is used."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from calc.kernel.errors import NoSolution, NotInTable
from calc.kernel.keyway_entries import NAMES, TAPER, WOODRUFF, Keyway, plain_size, size_text, unit_of
from calc.kernel.tables import read_table
from calc.kernel.units import INCH

#: What a hub is cut deeper than half the key, by B17.1.
CLEARANCE = Fraction(5, 1000) * INCH
#: What the hub of a taper key is cut shallower than half the key at its deep end, by B17.1.
TAPER_LESS = Fraction(20, 1000) * INCH
#: The slope of a taper key of B17.1, an eighth of an inch to the foot, all of it on one face: one in this.
TAPER_ONE_IN = 96
#: Up to which shaft B17.1 prefers a square key.
SQUARE_TO = Fraction(13, 2) * INCH


@dataclass(frozen=True, slots=True)
class Limits:
    """Least and most of a size. [mm]"""

    low: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True)
class Depth:
    """The depth a table gives, least and most, and where it is measured. [mm]"""

    low: Fraction
    high: Fraction
    datum: Literal["side", "crown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of a standard; lengths in millimetres, None where nothing was read."""

    standard: str
    section: str
    over: Fraction  # shafts it belongs to: over,
    upto: Fraction  # and up to
    width: Fraction
    height: Fraction
    key_width: Limits | None = None
    shaft_width: Limits | None = None
    hub_width: Limits | None = None
    shaft_depth: Depth | None = None
    hub_depth: Depth | None = None
    length: Limits | None = None
    key_height: Limits | None = None

    @property
    def range_text(self) -> str:
        """The shafts it belongs to: ``over 7/8 in to 1 1/4 in``."""
        unit = unit_of(self.standard)
        return f"over {size_text(self.over, unit)} to {size_text(self.upto, unit)}"

    @property
    def size_text(self) -> str:
        """Width, and height where it is another: ``1/4 in``, ``1/4 × 3/16 in``, ``6 × 6 mm``."""
        unit = unit_of(self.standard)
        width, height = plain_size(self.width, unit), plain_size(self.height, unit)
        if unit == 1:
            return f"{width} × {height} mm"
        return f"{width} in" if width == height else f"{width} × {height} in"


def key_in_use(task: Keyway) -> Key:
    """The key of the shaft, or of the width asked for.

    Raises
    ------
    NotInTable
        The standard has no key for the shaft, or none of that width.
    NoSolution
        It has one for the shaft, but not of the section or of the kind asked for.
    """
    if task.kind != "parallel" and task.standard != "b17.1":
        raise _kind_not_read(task)
    key = _parallel_key(task)
    return tapered(key) if task.kind == TAPER else key


def _parallel_key(task: Keyway) -> Key:
    if task.key_width is not None:
        return _key_of_width(task, task.key_width)
    every = keys(task.standard)
    if not every[0].over < task.shaft <= every[-1].upto:
        unit = task.unit
        raise NotInTable(
            "shaft_diameter",
            f"{NAMES[task.standard]} has keys for shafts over {size_text(every[0].over, unit)} to "
            f"{size_text(every[-1].upto, unit)}, and this one is {size_text(task.shaft, unit)}. Enter the "
            "width of the key to take one of its keys all the same, or choose another standard.",
        )
    found = key_for_shaft(task.standard, task.section, task.shaft)
    if found is None:
        raise _no_section(task, [key for key in every if key.over < task.shaft <= key.upto])
    return found


def key_for_shaft(standard: str, section: str, shaft: Fraction) -> Key | None:
    """The key a standard gives a shaft, of that section or as it prefers; None where it has none."""
    found = [key for key in keys(standard) if key.over < shaft <= key.upto]
    wanted = section or preferred(standard, shaft)
    return next((key for key in found if wanted in ("", key.section)), None)


def preferred(standard: str, shaft: Fraction) -> str:
    """The section a standard prefers for a shaft; empty where it has one key for each shaft."""
    if standard == "b17.1":
        return "square" if shaft <= SQUARE_TO else "rectangular"
    return "square" if standard == "bs46" else ""


def _key_of_width(task: Keyway, width: Fraction) -> Key:
    every = keys(task.standard)
    found = [key for key in every if key.width == width]
    if not found:
        widths = sorted({key.width for key in every}, key=lambda one: abs(one - width))
        offered = " or ".join(size_text(one, task.unit) for one in sorted(widths[:2]))
        raise NotInTable(
            "key_width",
            f"{NAMES[task.standard]} has no key {size_text(width, task.unit)} wide: "
            f"next to it are {offered}.",
        )
    wanted = task.section or preferred(task.standard, task.shaft)
    of_section = [key for key in found if wanted in ("", key.section)]
    if not of_section and task.section:
        raise _no_section(task, found)
    return (of_section or found)[0]


def tapered(key: Key) -> Key:
    """The taper key of the same width and height: the hub by its deep end, the key to its own limits."""
    assert key.hub_depth
    stock = _tolerances("taper plain or gib head", key.width)
    less = CLEARANCE + TAPER_LESS
    return replace(
        key,
        key_width=_about(key.width, stock["width_tol"]),
        key_height=_about(key.height, stock["height_tol"]),
        hub_depth=replace(key.hub_depth, low=key.hub_depth.low - less, high=key.hub_depth.high - less),
    )


def _kind_not_read(task: Keyway) -> NoSolution:
    """That taper and Woodruff keys were read for the American standards alone."""
    kind, name = ("Woodruff", "B17.2") if task.kind == WOODRUFF else ("taper", "B17.1")
    offers = [
        f"The {kind} key of {name}: choose ANSI B17.1, inch.",
        f"A parallel key of {NAMES[task.standard]}: choose the kind parallel.",
    ]
    rate = ""
    if task.kind == TAPER:
        rate = " Metric ones slope one in 100, those of B17.1 one in 96: neither fits the other’s keyway."
    return NoSolution(f"The {kind} keys of {NAMES[task.standard]} were not read.{rate}", offers)


def _no_section(task: Keyway, others: list[Key]) -> NoSolution:
    """That there is no key of the section asked for, and which there is."""
    name = NAMES[task.standard]
    message = (
        f"No {task.section} key for a shaft of {size_text(task.shaft, task.unit)} by {name}: "
        f"its key is {others[0].section}, {others[0].size_text}."
    )
    offers = [f"A {key.section} key, {key.size_text}." for key in others]
    if task.standard == "bs46":
        message = (
            f"The {task.section} key of {name} for a shaft of {size_text(task.shaft, task.unit)} "
            "was not read: only those for shafts over 1 to 1 1/4 in, 2 to 2 1/2 in and 4 to 5 in were."
        )
        theirs = key_for_shaft("b17.1", task.section, task.shaft)
        offers += [f"The {task.section} key of B17.1, {theirs.size_text}."] if theirs else []
    return NoSolution(message, offers)


# ---- the tables ------------------------------------------------------------------------------------------


@lru_cache(maxsize=8)
def keys(standard: str) -> tuple[Key, ...]:
    """Every key of a standard, by size of shaft, square before rectangular."""
    read = {"bs46": _bs46, "b17.1": _b17_1, "iso773": _iso773}[standard]
    return tuple(sorted(read(), key=lambda key: (key.over, key.section != "square")))


def _inches(text: str) -> Fraction:
    """A cell in inches, decimal or as a fraction: ``1 1/4``, ``0.354``. [mm]"""
    return sum((Fraction(part) for part in text.split()), Fraction()) * INCH


def _limits(row: dict[str, str], name: str) -> Limits:
    return Limits(_inches(row[f"{name}_min"]), _inches(row[f"{name}_max"]))


def _bs46() -> list[Key]:
    square = [_bs46_square(row) for row in map(dict, read_table("bs46", "square").rows)]
    rectangular = [
        Key(
            standard="bs46",
            section="rectangular",
            over=_inches(row["shaft_over"]),
            upto=_inches(row["shaft_upto"]),
            width=_inches(row["W"]),
            height=_inches(row["H"]),
        )
        for row in map(dict, read_table("bs46", "rectangular").rows)
    ]
    return square + rectangular


def _bs46_square(row: dict[str, str]) -> Key:
    shaft, hub = _limits(row, "shaft_depth"), _limits(row, "hub_depth")
    return Key(
        standard="bs46",
        section="square",
        over=_inches(row["shaft_over_in"]),
        upto=_inches(row["shaft_upto_in"]),
        width=_inches(row["key"]),
        height=_inches(row["key"]),
        key_width=_limits(row, "key"),
        shaft_width=_limits(row, "shaft_width"),
        hub_width=_limits(row, "hub_width"),
        shaft_depth=Depth(shaft.low, shaft.high, "crown"),
        hub_depth=Depth(hub.low, hub.high, "crown"),
    )


def _b17_1() -> list[Key]:
    return [
        _b17_1_key(row, section)
        for row in map(dict, read_table("b17_1", "sizes").rows)
        for section in ("square", "rectangular")
        if row[f"H_{section}"]
    ]


def _b17_1_key(row: dict[str, str], section: str) -> Key:
    width, side = _inches(row["W"]), _inches(row[f"depth_{section}_in"])
    seat = _tolerances("class 1 keyseat width (shaft and hub); depth column is that of S", width)
    across = _tolerances("class 1 keyseat width (shaft and hub); depth column is that of T", width)
    stock = _tolerances(f"parallel {section} bar stock", width)
    # S may come out small and T large: each by its tolerance deeper at the wall.
    deeper_shaft = -_spread(seat["height_tol"].removeprefix("S ")).low
    deeper_hub = _spread(across["height_tol"].removeprefix("T ")).high
    hub = side + CLEARANCE
    return Key(
        standard="b17.1",
        section=section,
        over=_inches(row["shaft_over"]),
        upto=_inches(row["shaft_upto"]),
        width=width,
        height=_inches(row[f"H_{section}"]),
        key_width=_about(width, stock["width_tol"]),
        shaft_width=_about(width, seat["width_tol"]),
        hub_width=_about(width, across["width_tol"]),
        shaft_depth=Depth(side, side + deeper_shaft, "side"),
        hub_depth=Depth(hub, hub + deeper_hub, "side"),
    )


def _tolerances(kind: str, width: Fraction) -> dict[str, str]:
    """The row of the tolerance table of B17.1 for a key of that width."""
    for row in map(dict, read_table("b17_1", "tolerances").rows):
        if row["kind"] == kind and _inches(row["over_width"]) < width <= _inches(row["to_width"]):
            return row
    raise LookupError(f"b17_1/tolerances.csv has no row of {kind} for {width} mm")


def _spread(text: str) -> Limits:
    """A tolerance as printed: ``+0.002/-0``, ``+0/-0.015``. [mm]"""
    up, low = text.split("/")
    return Limits(_inches(low), _inches(up))


def _about(size: Fraction, text: str) -> Limits:
    spread = _spread(text)
    return Limits(size + spread.low, size + spread.high)


def _iso773() -> list[Key]:
    return [_iso773_key(row) for row in map(dict, read_table("iso773", "keys").rows)]


def _iso773_key(row: dict[str, str]) -> Key:
    width, height, t1, t2 = (Fraction(row[name]) for name in ("b", "h", "t1", "t2"))
    length = Limits(Fraction(row["length_min"]), Fraction(row["length_max"]))
    return Key(
        standard="iso773",
        section="square" if width == height else "rectangular",
        over=Fraction(row["shaft_over_mm"]),
        upto=Fraction(row["shaft_upto_mm"]),
        width=width,
        height=height,
        shaft_depth=Depth(t1, t1 + Fraction(row["t1_tol_plus"]), "crown"),
        hub_depth=Depth(t2, t2 + Fraction(row["t2_tol_plus"]), "crown"),
        length=length if row["length_origin"] == "read" else None,
    )
