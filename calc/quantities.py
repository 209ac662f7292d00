"""Calc room: torques, powers, stresses, speeds, masses as typed; lists of lengths."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from calc import measures
from calc.kernel.wording import decimal_text

#: A pound avoirdupois in kilograms, and under standard gravity in newtons, exactly (international yard and
#: pound, 1959).
POUND = Fraction("0.45359237")
POUND_FORCE = POUND * Fraction("9.80665")
_INCH, _FOOT = Fraction("0.0254"), Fraction("0.3048")
_PSI = POUND_FORCE / _INCH**2 / 10**6
#: Horsepower: 33,000 foot pounds a minute.
HORSEPOWER = 550 * _FOOT * POUND_FORCE


@dataclass(frozen=True, slots=True)
class Units:
    """The units of one kind: what each is worth in the base unit, how it is shown, what to write."""

    base: str
    other: str  # what one of the base's family is converted to
    worth: Mapping[str, Fraction]
    words: Mapping[str, str]  # lower case, without spaces, stops and strokes of multiplication
    hint: str
    bare: str  # what a bare figure is; empty where it may be either of two


TORQUE = Units(
    base="N m",
    other="lbf ft",
    worth={
        "N m": Fraction(1), "kN m": Fraction(1000), "N mm": Fraction(1, 1000),
        "lbf ft": POUND_FORCE * _FOOT, "lbf in": POUND_FORCE * _INCH,
    },
    words={
        "nm": "N m", "knm": "kN m", "nmm": "N mm", "lbfft": "lbf ft", "lbft": "lbf ft", "ftlb": "lbf ft",
        "ftlbf": "lbf ft", "ftlbs": "lbf ft", "lbfin": "lbf in", "lbin": "lbf in", "inlb": "lbf in",
        "inlbf": "lbf in", "inlbs": "lbf in",
    },
    hint="Write a torque with its unit: 120 N m, 90 lbf ft or 1080 lbf in.",
    bare="N m",
)  # fmt: skip
POWER = Units(
    base="W",
    other="hp",
    worth={"W": Fraction(1), "kW": Fraction(1000), "hp": HORSEPOWER},
    words={"w": "W", "watt": "W", "watts": "W", "kw": "kW", "hp": "hp", "bhp": "hp", "horsepower": "hp"},
    hint="Write a power with its unit: 3 kW or 5 hp, of 33,000 foot pounds a minute.",
    bare="",
)
STRESS = Units(
    base="MPa",
    other="psi",
    worth={
        "MPa": Fraction(1), "N/cm²": Fraction(1, 100), "GPa": Fraction(1000), "psi": _PSI, "ksi": _PSI * 1000,
        "tonf/in²": _PSI * 2240,
    },
    words={
        "mpa": "MPa", "n/mm2": "MPa", "n/mm²": "MPa", "n/cm2": "N/cm²", "n/cm²": "N/cm²", "gpa": "GPa",
        "psi": "psi", "lbf/in2": "psi", "lbf/in²": "psi", "lb/in2": "psi", "lb/in²": "psi", "ksi": "ksi",
        "tonf/in2": "tonf/in²", "tonf/in²": "tonf/in²", "ton/in2": "tonf/in²", "ton/in²": "tonf/in²",
        "tons/in2": "tonf/in²", "tons/in²": "tonf/in²", "tsi": "tonf/in²",
    },
    hint="Write a stress with its unit: 50 MPa, 7000 psi or 3 ton/in2, of 2,240 lb.",
    bare="MPa",
)  # fmt: skip
SPEED = Units(
    base="turns a minute",
    other="turns a minute",
    worth={"turns a minute": Fraction(1), "turns a second": Fraction(60)},
    words={
        "rpm": "turns a minute", "rev/min": "turns a minute", "r/min": "turns a minute",
        "turnsaminute": "turns a minute", "turns/min": "turns a minute", "rev/s": "turns a second",
        "turnsasecond": "turns a second",
    },
    hint="Write turns a minute: 120, or 120 rpm.",
    bare="turns a minute",
)  # fmt: skip
CUTTING_SPEED = Units(
    base="m/min",
    other="ft/min",
    worth={"m/min": Fraction(1), "ft/min": _FOOT, "m/s": Fraction(60)},
    words={
        "m/min": "m/min", "mpermin": "m/min", "metresaminute": "m/min", "ft/min": "ft/min",
        "ftpermin": "ft/min", "feetaminute": "ft/min", "sfm": "ft/min", "fpm": "ft/min", "m/s": "m/s",
    },
    hint="Write a cutting speed with its unit: 90 ft/min or 27 m/min.",
    bare="",
)  # fmt: skip
MASS = Units(
    base="kg",
    other="lb",
    worth={
        "kg": Fraction(1), "g": Fraction(1, 1000), "tonne": Fraction(1000), "lb": POUND, "oz": POUND / 16,
        "cwt": POUND * 112, "ton": POUND * 2240, "short ton": POUND * 2000,
    },
    words={
        "kg": "kg", "kgs": "kg", "kilogram": "kg", "kilograms": "kg", "g": "g", "gram": "g", "grams": "g",
        "t": "tonne", "tonne": "tonne", "tonnes": "tonne", "lb": "lb", "lbs": "lb", "pound": "lb",
        "pounds": "lb", "oz": "oz", "ounce": "oz", "ounces": "oz", "cwt": "cwt", "ton": "ton", "tons": "ton",
        "longton": "ton", "longtons": "ton", "shortton": "short ton", "shorttons": "short ton",
    },
    hint="Write a mass with its unit: 12 ton of 2,240 lb, 12 short ton of 2,000 lb, 420 lb or 190 kg.",
    bare="kg",
)  # fmt: skip
DENSITY = Units(
    base="kg/m³",
    other="lb/in³",
    worth={
        "kg/m³": Fraction(1), "g/cm³": Fraction(1000), "lb/in³": POUND / _INCH**3, "lb/ft³": POUND / _FOOT**3,
    },
    words={
        "kg/m3": "kg/m³", "kg/m³": "kg/m³", "g/cm3": "g/cm³", "g/cm³": "g/cm³", "g/cc": "g/cm³",
        "kg/l": "g/cm³", "lb/in3": "lb/in³", "lb/in³": "lb/in³", "lb/ft3": "lb/ft³", "lb/ft³": "lb/ft³",
    },
    hint="Write a density with its unit: 7200 kg/m3, 7.2 g/cm3 or 0.26 lb/in3.",
    bare="kg/m³",
)  # fmt: skip
UNITS: Mapping[str, Units] = {
    "torque": TORQUE,
    "power": POWER,
    "stress": STRESS,
    "rpm": SPEED,
    "speed": CUTTING_SPEED,
    "mass": MASS,
    "density": DENSITY,
}


#: Units that are shown in the base unit as well.
BRITISH = frozenset({
    "lbf ft", "lbf in", "hp", "psi", "ksi", "tonf/in²", "ft/min", "lb", "oz", "cwt", "ton", "short ton",
    "lb/in³", "lb/ft³",
})  # fmt: skip
#: Which ton it is.
TONS: Mapping[str, str] = {
    "tonf/in²": " of 2,240 lb", "ton": " of 2,240 lb", "short ton": " of 2,000 lb",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity: its exact value, its figures as typed and its unit."""

    value: Fraction
    figures: str
    unit: str
    units: Units
    is_bare: bool = False  # typed without a unit

    @property
    def base(self) -> Fraction:
        """The value in the base unit of its kind."""
        return self.value * self.units.worth[self.unit]

    def typed(self) -> str:
        return f"{self.figures} {self.unit}"

    def echo(self) -> str:
        """How the entry was read, the same in a unit of the other family, and the unit a bare figure took."""
        british = self.unit in BRITISH
        other = self.units.base if british or self.unit == "turns a second" else self.units.other
        if other == self.unit:
            return self.typed()
        typed = f"{self.typed()}{TONS.get(self.unit, '')}"
        taken = f", taken as {self.unit}" if self.is_bare else ""
        return f"{typed} = {decimal_text(self.base / self.units.worth[other], 3)} {other}{taken}"


def parse(kind: str, text: str) -> Quantity:
    """A quantity of a kind: ``90 lbf ft``, ``3 kW``, ``7000 psi``; a bare one in the base unit, if any."""
    units = UNITS[kind]
    measure = measures.parse_number(_figures(text, units))
    word = _word(text)
    if not word and not units.bare:
        raise measures.EntryError(f"{measure.typed()} has no unit, and it may mean two things. {units.hint}")
    unit = units.words.get(word) if word else units.bare
    if unit is None:
        raise measures.EntryError(f"I can read {measure.typed()}, but not what follows it. {units.hint}")
    return Quantity(measure.value, measure.typed(), unit, units, is_bare=not word)


def _figures(text: str, units: Units) -> str:
    """The figures an entry begins with; all of it where it begins with none, for the refusal."""
    if not text.strip():
        raise measures.EntryError(f"Nothing is entered. {units.hint}")
    found = _FIGURES.match(text.strip())
    return found[0] if found else text


def _word(text: str) -> str:
    rest = _FIGURES.sub("", text.strip(), count=1)
    return re.sub(r"[\s.·⋅*-]", "", rest).lower()


_FIGURES = re.compile(r"[^A-Za-z]*(?<![\s])")


# ---- lists of lengths ------------------------------------------------------------------------------------

_BARE = re.compile(r"[\s0-9./+¼-⅞-]+")
LENGTHS_HINT = "Write sizes with commas between them: 0.058 in, 0.030 in."


def parse_lengths(text: str, default_unit: Literal["inch", "mm"] | None) -> tuple[measures.Measure, ...]:
    """Lengths with commas; a bare one takes the unit written next, else the last written, else the usual."""
    if len(text) > measures.LONGEST_LIST:
        raise measures.EntryError(
            f"That is {len(text)} characters long, and {measures.LONGEST_LIST} are the most. {LENGTHS_HINT}"
        )
    pieces = text.split(",")
    if not all(piece.strip() for piece in pieces):
        raise measures.EntryError(f"There is a comma with nothing beside it. {LENGTHS_HINT}")
    read = [None if _BARE.fullmatch(piece) else measures.parse_length(piece, None) for piece in pieces]
    found: list[measures.Measure] = []
    for place, (piece, measure) in enumerate(zip(pieces, read, strict=True)):
        named = [one.unit for one in (*read[place:], *read[:place][::-1]) if one is not None]
        unit = f" {named[0]}" if named else ""
        found.append(measure or measures.parse_length(f"{piece}{unit}", default_unit))
    return tuple(found)
