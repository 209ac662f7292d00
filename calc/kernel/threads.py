"""Kernel room: the threads there are tables of, and the sizes their form gives them."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.tables import read_table
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text

MM = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """The shape of a thread, each figure in pitches."""

    name: str
    angle_deg: Fraction  # between the flanks
    pitch_part: Fraction  # from the diameter over the thread down to the pitch diameter
    full: Fraction  # 100 % of engagement, on the diameter: the core of the nut lies so far down
    root: Fraction  # down to the root of the screw
    radius: Fraction | None  # of crest and root; None where they are flat
    other: Fraction | None = None  # the second base of engagement in use


WHITWORTH = Form(
    name="Whitworth",
    angle_deg=Fraction(55),
    pitch_part=Fraction("0.640327"),
    full=Fraction("1.280654"),
    root=Fraction("1.280654"),
    radius=Fraction("0.137329"),
)
BA = Form(
    name="BA",
    angle_deg=Fraction("47.5"),
    pitch_part=Fraction("0.6"),
    full=Fraction("1.2"),
    root=Fraction("1.2"),
    radius=Fraction("0.1808"),
)
SIXTY = Form(
    name="ISO and Unified",
    angle_deg=Fraction(60),
    pitch_part=Fraction("0.649519"),
    full=Fraction("1.082532"),
    root=Fraction("1.226869"),
    radius=None,
    other=Fraction("1.299038"),
)


@dataclass(frozen=True, slots=True)
class Listed:
    """A tapping drill some table gives, and how that is known."""

    drill: str
    origin: str  # "read", "memory", "derived"
    use: str = ""  # what the table has it for


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """One thread of a series; lengths in millimetres."""

    series: str  # "BSW" "BSF" "BSB" "ME" "BSP" "BA" "UNC" "UNF" "M"
    size: str  # as the series writes it: "1/4", "#10", "2", "6"
    tpi: Fraction | None  # none where the series goes by the pitch
    major: Fraction
    pitch: Fraction
    form: Form
    unit: Fraction  # millimetres in the unit it is worked in
    source: str
    origin: str
    rounded: bool = False  # the depth to 0.001 mm first, as ISO 228-1 has it
    coarse: bool = True
    drills: tuple[Listed, ...] = ()
    clearance: Listed | None = None
    core_listed: str = ""  # a size called a drill that is the core

    @property
    def name(self) -> str:
        """The thread as it is written in full: ``1/4 BSF``, ``1/4x40 ME``, ``10-32 UNF``, ``M6x1``."""
        bare = self.size.removeprefix("#")
        if self.series in ("UNC", "UNF"):
            return f"{bare}-{_plain(self.tpi)} {self.series}"
        if self.series == "ME":
            return f"{bare}x{_plain(self.tpi)} ME"
        return f"M{bare}x{_plain(self.pitch)}" if self.series == "M" else f"{bare} {self.series}"

    @property
    def unit_word(self) -> str:
        """The unit it is worked in, as written after a figure."""
        return "in" if self.unit == INCH else "mm"

    @property
    def drop(self) -> Fraction:
        """From the diameter over the thread down to the pitch diameter; the depth of a rounded form."""
        exact = self.form.pitch_part * self.pitch
        return Fraction((exact * 2000 + 1) // 2, 1000) if self.rounded else exact

    @property
    def pitch_diameter(self) -> Fraction:
        """The pitch diameter."""
        return self.major - self.drop

    @property
    def core(self) -> Fraction:
        """The minor diameter of the nut: what a drilled hole may not be under."""
        return self.major - (2 * self.drop if self.rounded else self.form.full * self.pitch)

    @property
    def root(self) -> Fraction:
        """The diameter at the root of the screw."""
        return self.core if self.form.radius is not None else self.major - self.form.root * self.pitch

    @property
    def depth(self) -> Fraction:
        """How deep the screw is cut, on one side."""
        return (self.major - self.root) / 2

    def engagement(self, hole: Fraction, base: Fraction | None = None) -> Fraction:
        """How much of the full thread a hole leaves, in per cent of a base in pitches on the diameter."""
        return 100 * (self.major - hole) / ((base or self.form.full) * self.pitch)

    def hole(self, engagement: Fraction, base: Fraction) -> Fraction:
        """The hole that leaves so much of the full thread."""
        return self.major - base * self.pitch * engagement / 100


def _plain(value: Fraction | None) -> str:
    return decimal_text(value or Fraction(), 4)


def inch_value(size: str) -> Fraction:
    """A size in inches as tables write it: ``1 1/4``, ``3/16``, ``2``; by number, 0.060 + 0.013 n."""
    if size.startswith("#"):
        return Fraction("0.06") + Fraction("0.013") * int(size[1:])
    return sum((Fraction(part) for part in size.split()), Fraction())


@lru_cache(maxsize=1)
def threads() -> tuple[Thread, ...]:
    """Every thread of every table."""
    return tuple(thread for read in _READERS for thread in read())


def _inch(series: str, key: str, row: Mapping[str, str], form: Form = WHITWORTH, **more: object) -> Thread:
    tpi = Fraction(row["tpi"])
    return Thread(
        series=series, size=row["size"], tpi=tpi, major=inch_value(row["size"]) * INCH, pitch=INCH / tpi,
        form=form, unit=INCH, source=key, origin=row["origin"], **more,  # type: ignore[arg-type]
    )  # fmt: skip


def _listed(row: Mapping[str, str], *columns: tuple[str, str]) -> tuple[Listed, ...]:
    """The tapping drills of a row, in the order of the columns named; as drills are named here."""
    return tuple(
        Listed(drill_name(row[column]), row[f"{column}_origin"], use)
        for column, use in columns
        if row[column]
    )


def drill_name(printed: str) -> str:
    """A drill's name as it is written here: ``5.1 mm`` for 5.10 mm, ``5/16`` for 5/16 in."""
    if printed.endswith(" mm"):
        return f"{decimal_text(Fraction(printed.removesuffix(' mm')), 4)} mm"
    return printed.removesuffix(" in")


def _bsw() -> Iterator[Thread]:
    for row in read_table("bs84", "bsw").rows:
        yield _inch("BSW", "bs84", row, drills=_listed(row, ("tapping_drill", "")))


def _bsf() -> Iterator[Thread]:
    for row in read_table("bs84", "bsf").rows:
        drills = _listed(row, ("tapping_drill", "steel"))
        yield _inch("BSF", "bs84", row, drills=drills, core_listed=row["listed_core"])


def _bsb() -> Iterator[Thread]:
    for row in read_table("bs84", "bsb").rows:
        yield _inch("BSB", "bs84", row, drills=_listed(row, ("tapping_drill", "steel")))


def _me() -> Iterator[Thread]:
    for row in read_table("me_threads", "me").rows:
        drills = _listed(row, ("tapping_drill_steel", "steel"), ("tapping_drill", ""))
        yield _inch("ME", "me_threads", row, drills=drills)


def _unified() -> Iterator[Thread]:
    for row in read_table("unified", "unified").rows:
        drills = _listed(row, ("tapping_drill", ""))
        yield _inch(row["series"], "unified", row, SIXTY, drills=drills)


def _bsp() -> Iterator[Thread]:
    for row in read_table("iso228", "parallel").rows:
        tpi = Fraction(row["tpi"])
        yield Thread(
            series="BSP", size=row["size"], tpi=tpi, major=Fraction(row["major"]), pitch=INCH / tpi,
            form=WHITWORTH, unit=MM, source="iso228", origin=row["origin"], rounded=True,
            drills=_listed(row, ("tapping_drill", "")),
        )  # fmt: skip


def _ba() -> Iterator[Thread]:
    for row in read_table("bs93", "ba").rows:
        clearance = _listed(row, ("clearance_drill", ""))
        yield Thread(
            series="BA", size=row["number"], tpi=None, major=Fraction(row["major"]),
            pitch=Fraction(row["pitch"]), form=BA, unit=MM, source="bs93", origin=row["origin"],
            drills=_listed(row, ("tapping_drill_usual", ""), ("tapping_drill", "")),
            clearance=clearance[0] if clearance else None,
        )  # fmt: skip


def _metric() -> Iterator[Thread]:
    holes = {row["size"]: row for row in read_table("spanners", "clearance").rows}
    for row in read_table("iso_metric", "metric").rows:
        hole = holes.get(row["major"])
        yield Thread(
            series="M", size=row["major"], tpi=None, major=Fraction(row["major"]),
            pitch=Fraction(row["pitch"]), form=SIXTY, unit=MM, source="iso_metric", origin=row["origin"],
            coarse=row["series"] == "coarse", drills=_listed(row, ("tapping_drill", "")),
            clearance=Listed(hole["clearance_drill"], hole["origin"]) if hole else None,
        )  # fmt: skip


_READERS: tuple[Callable[[], Iterator[Thread]], ...] = (
    _bsw, _bsf, _bsb, _me, _bsp, _ba, _unified, _metric,
)  # fmt: skip
