"""Calc room: text as a builder types it to an exact number and its unit, and back again."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from calc.kernel.wording import decimal_text, dms_text, mixed_text

#: Longest text read as one size, angle or count; longer is a slip or a paste.
LONGEST = 40
#: Longest leading size of a part, with its words.
LONGEST_SIZE = 120
#: What an inch is parted into on a rule.
RULE_PARTS = (1, 2, 4, 8, 16, 32, 64)
#: Longest list of circles or gears: a hundred circles of four digits with room to spare.
LONGEST_LIST = 1000

#: Millimetres in one of each unit, exactly.
MILLIMETRES: Mapping[str, Fraction] = {
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "thou": Fraction(254, 10_000),
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "um": Fraction(1, 1000),
}

#: Those of them that belong to the inch.
INCH_UNITS = frozenset({"in", "ft", "thou"})

#: Every way a unit of length is written, lower case, without a full stop after it.
LENGTH_WORDS: Mapping[str, str] = {
    '"': "in", "in": "in", "ins": "in", "inch": "in", "inches": "in",
    "'": "ft", "ft": "ft", "foot": "ft", "feet": "ft",
    "thou": "thou", "thous": "thou", "mil": "thou", "mils": "thou",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "um": "um", "µm": "um", "μm": "um", "micron": "um", "microns": "um",
}  # fmt: skip

DEGREE_WORDS = {"deg", "degs", "degree", "degrees", "°"}
MINUTE_WORDS = {"min", "mins", "minute", "minutes", "'"}
SECOND_WORDS = {"sec", "secs", "second", "seconds", '"'}
#: Every way the pitch of teeth is written, lower case, without full stops.
PITCH_WORDS: Mapping[str, str] = {
    "dp": "DP", "diametral pitch": "DP", "per inch": "DP", "/in": "DP",
    "mod": "MOD", "module": "MOD", "modules": "MOD",
}  # fmt: skip

SHOWN_UNITS = {"um": "µm"}

#: Signs that stand for a plain one: primes, curly quotes, long dashes, the fraction stroke, hard spaces.
PLAIN_SIGNS = str.maketrans(
    {
        "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "−": "-", "–": "-", "‐": "-", "‑": "-",
        "⁄": "/", "º": "°", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ", "\t": " ",
        "\n": " ", "\r": " ",
    }
)  # fmt: skip

#: The fractions that are one character: quarter, three eighths and the rest.
VULGAR: Mapping[str, Fraction] = {
    sign: Fraction(unicodedata.numeric(sign)).limit_denominator(10) for sign in "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
}

NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?:"
    rf"(?:(?P<vulgar_whole>[0-9]+)(?:\s+|[-.])?)?(?P<vulgar>[{''.join(VULGAR)}])"
    r"|(?:(?P<whole>[0-9]+)(?:\s+|[-.]))?(?P<top>[0-9]+)\s?/\s?(?P<bottom>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
    r")"
)

SIZE_HINT = "Write a size such as 1 3/16 in, 0.105 in or 30 mm."
ANGLE_HINT = "Write an angle such as 45, 14 1/2 deg or 4° 17' 8.6\"."
COUNT_HINT = "Write a whole number such as 84."
PITCH_HINT = "Write a diametral pitch such as 8 DP, or 8."
MODULE_HINT = "Write a module such as 2 MOD, or 2; it is in millimetres."
NUMBER_HINT = "Write a bare figure such as 0.25 or -1/4."
SYMBOL_HINT = "Write letters and figures only, such as H7 or js6."


class EntryError(ValueError):
    """An entry that cannot be read; ``message`` says what was read, what was not and what to write."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True)
class Measure:
    """One quantity: the text as typed, its exact value, and the unit it was typed in.

    The unit is a length's, `deg`, `DP` (a diametral pitch, to the inch), `MOD` (a module, in
    millimetres), or empty for a bare figure.
    """

    as_entered: str
    value: Fraction
    unit: str
    figures: str = ""

    @property
    def base(self) -> Fraction:
        """The value in millimetres; in degrees for an angle, to the inch for a diametral pitch."""
        return self.value if self.unit in ("deg", "DP", "MOD", "") else self.value * MILLIMETRES[self.unit]

    def typed(self) -> str:
        """The value as typed, one way of writing it, with its unit."""
        if self.unit == "deg":
            return self.figures or f"{mixed_text(self.value)}°"
        return f"{self.figures or mixed_text(self.value)} {SHOWN_UNITS.get(self.unit, self.unit)}".strip()

    def converted(self) -> str:
        """The same size the other way: millimetres for inches, a module for a diametral pitch."""
        if self.unit in ("DP", "MOD"):
            other = decimal_text(MILLIMETRES["in"] / self.value, 4) if self.value else "—"
            return f"module {other} mm" if self.unit == "DP" else f"{other} DP"
        if not self.unit:
            return self.typed()
        if self.unit == "deg":
            by_parts = dms_text(self.value)
            return f"{decimal_text(self.value, 6)}°" if by_parts == self.typed() else by_parts
        if self.unit == "um":
            return f"{decimal_text(self.base / MILLIMETRES['thou'], 2)} thou"
        if self.unit in ("mm", "cm", "m"):
            return f"{decimal_text(self.base / MILLIMETRES['in'], 4)} in"
        return f"{decimal_text(self.base, 4)} mm"

    def echo(self) -> str:
        """How the entry was read, for the builder to see before anything depends on it."""
        typed, converted = self.typed(), self.converted()
        return typed if typed == converted else f"{typed} = {converted}"


@dataclass(frozen=True, slots=True)
class Size:
    """The leading size of a part: its first figure as a measure where it is one, and the words."""

    measure: Measure | None
    words: str
    as_entered: str


def _shortened(text: str) -> str:
    return text if len(text) <= 16 else f"{text[:15]}…"


def _plain(text: str, hint: str, longest: int = LONGEST) -> str:
    """The text with its signs made plain; refuses empty, too long and hidden characters."""
    if len(text) > longest:
        raise EntryError(f"That is {len(text)} characters long, and {longest} are the most. {hint}")
    for sign in text:
        if unicodedata.category(sign) in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp") and sign not in "\t\n\r":
            name = unicodedata.name(sign, "a control character").lower()
            raise EntryError(
                f"There is a hidden character in it ({name}). Clear the entry and type it again."
            )
    plain = text.translate(PLAIN_SIGNS).replace("''", '"').strip()
    if not plain:
        raise EntryError(f"Nothing is entered. {hint}")
    return plain


def _refuse_sums(plain: str, hint: str) -> None:
    """Refuse powers, products and exponents: an entry is one figure, never a sum to be worked out."""
    if re.search(r"[*^×]|[0-9]e[+-]?[0-9]", plain, re.IGNORECASE):
        raise EntryError(
            f"“{_shortened(plain)}” is a sum or a power, and only plain figures are read. {hint}"
        )


def _refuse_comma(plain: str, hint: str) -> None:
    if re.fullmatch(r"[^,]*[0-9],[0-9][^,]*", plain):
        point = plain.replace(",", ".")
        if re.search(r"[0-9],[0-9]{3}(?![0-9])", plain) and not plain.lstrip("+-").startswith("0,"):
            raise EntryError(
                f"“{_shortened(plain)}” has a comma, which may mean two things: "
                f"write {point} or {plain.replace(',', '')}."
            )
        raise EntryError(f"“{_shortened(plain)}” has a comma in it: write {point}.")
    if "," in plain:
        raise EntryError(f"“{_shortened(plain)}” has a comma in it, and one figure is wanted. {hint}")


def _figure(found: re.Match[str]) -> tuple[Fraction, str]:
    """The exact value of a matched number, and the one way of writing it."""
    sign = -1 if found["sign"] == "-" else 1
    minus = "-" if sign < 0 else ""
    if found["decimal"]:
        return sign * Fraction(found["decimal"]), f"{minus}{found['decimal']}"
    if found["vulgar"]:
        whole, part = int(found["vulgar_whole"] or 0), VULGAR[found["vulgar"]]
    else:
        whole, part = int(found["whole"] or 0), _fraction(found)
    shown = f"{part.numerator}/{part.denominator}"
    if found["top"]:
        shown = f"{int(found['top'])}/{int(found['bottom'])}"
    return sign * (whole + part), f"{minus}{whole} {shown}" if whole else f"{minus}{shown}"


def _fraction(found: re.Match[str]) -> Fraction:
    top, bottom = int(found["top"]), int(found["bottom"])
    if bottom == 0:
        raise EntryError(f"{top}/0 is no fraction: nothing can be divided by nought. Write it again.")
    if found["whole"] and top >= bottom:
        total = mixed_text(int(found["whole"]) + Fraction(top, bottom))
        raise EntryError(
            f"The fraction in “{_shortened(found[0].strip())}” is not less than one: "
            f"write {total} if that is meant."
        )
    return Fraction(top, bottom)


def _lead(plain: str, hint: str) -> tuple[re.Match[str], str]:
    """The number an entry begins with, and what stands after it."""
    found = NUMBER.match(plain)
    if found is None:
        raise EntryError(f"I cannot read “{_shortened(plain)}”. {hint}")
    rest = plain[found.end() :]
    if re.match(r"\.?[0-9]|\.|\s*/|\s+[0-9]", rest):
        raise EntryError(
            f"I can read {_figure(found)[1]}, but not “{_shortened(rest.strip())}” after it. {hint}"
        )
    return found, rest.strip()


def _unit_of(word: str, units: Mapping[str, str]) -> str | None:
    bare = word.strip()
    bare = bare[:-1] if bare.endswith(".") and len(bare) > 1 else bare
    if bare == "M":
        return None  # M before or after a number is a metric thread or a slip, never metres.
    return units.get(bare.lower())


def _default(unit: str | None, figures: str) -> str:
    if unit is None:
        raise EntryError(f"Is {figures} in inches or in millimetres? Write {figures} in or {figures} mm.")
    return {"inch": "in", "mm": "mm"}[unit]


def parse_length(text: str, default_unit: Literal["inch", "mm"] | None) -> Measure:
    """A length as a builder writes it: ``1 3/16``, ``1.1/4"``, ``105 thou``, ``30mm``, ``5' 6"``."""
    plain = _plain(text, SIZE_HINT)
    _refuse_sums(plain, SIZE_HINT)
    _refuse_comma(plain, SIZE_HINT)
    feet = _feet_and_inches(text, plain)
    if feet is not None:
        return feet
    found, rest = _lead(plain, SIZE_HINT)
    value, figures = _figure(found)
    unit = _unit_of(rest, LENGTH_WORDS) if rest else _default(default_unit, figures)
    if unit is None:
        raise EntryError(
            f"I can read {figures}, but not “{_shortened(rest)}”. Write the unit as in, mm or thou."
        )
    return Measure(text, value, unit, figures)


def _feet_and_inches(text: str, plain: str) -> Measure | None:
    """Feet and inches together, kept in inches; None when the text is no such pair."""
    found = re.fullmatch(r"(\+?[0-9]+)\s*(?:'|ft\.?|feet|foot)\s*-?\s*([0-9.¼-⅞].*)", plain, re.IGNORECASE)
    if found is None:
        return None
    lead, rest = _lead(found[2], SIZE_HINT)
    inches, figures = _figure(lead)
    if rest and _unit_of(rest, LENGTH_WORDS) != "in":
        raise EntryError(
            f"I can read {found[1]} ft {figures}, but not “{_shortened(rest)}”. Write the second as in."
        )
    if inches >= 12:
        raise EntryError(
            f"{figures} in is a foot or more: write {mixed_text(int(found[1]) * 12 + inches)} in."
        )
    return Measure(text, int(found[1]) * 12 + inches, "in", f"{int(found[1])} ft {figures}")


def parse_angle(text: str) -> Measure:
    """An angle as a builder writes it: ``45``, ``14 1/2 deg``, ``54'``, ``4° 17' 8.6"``."""
    plain = _plain(text, ANGLE_HINT)
    _refuse_sums(plain, ANGLE_HINT)
    _refuse_comma(plain, ANGLE_HINT)
    parts: dict[str, Fraction] = {}
    rest, sign, only = plain, 1, ""
    while rest:
        found, after = _lead(rest, ANGLE_HINT)
        value, figures = _figure(found)
        if parts and found["sign"]:
            raise EntryError(f"“{_shortened(plain)}” has a sign in the middle. {ANGLE_HINT}")
        sign = -1 if found["sign"] == "-" else sign
        part, rest = _angle_part(figures, after, parts)
        parts[part], only = abs(value), figures
    _check_parts(parts)
    total = (
        parts.get("deg", Fraction()) + parts.get("min", Fraction()) / 60 + parts.get("sec", Fraction()) / 3600
    )
    shown = f"{only}°" if list(parts) == ["deg"] else ("-" if sign < 0 else "") + dms_text(total, 4)
    return Measure(text, sign * total, "deg", shown)


def _angle_part(figures: str, after: str, before: Mapping[str, Fraction]) -> tuple[str, str]:
    """Which part of an angle a figure is (deg, min, sec), and the text left after its unit."""
    found = re.match(r"°|'|\"|[a-zµ]+\.?", after, re.IGNORECASE)
    word = found[0].lower().rstrip(".") if found else ""
    rest = after[found.end() :].strip() if found else after
    part = "deg" if word in DEGREE_WORDS or (not after and not before) else None
    part = "min" if word in MINUTE_WORDS else "sec" if word in SECOND_WORDS else part
    if part is None:
        what = f"not “{_shortened(after)}”" if after else "not which part of the angle it is"
        raise EntryError(f"I can read {figures}, but {what}. {ANGLE_HINT}")
    order = ["deg", "min", "sec"]
    if any(order.index(part) <= order.index(earlier) for earlier in before):
        raise EntryError(f"Degrees, then minutes, then seconds, each once. {ANGLE_HINT}")
    return part, rest


def _check_parts(parts: Mapping[str, Fraction]) -> None:
    """Minutes and seconds after a greater part stay under 60, and only the last part has a fraction."""
    named = list(parts.items())
    words = {"min": "minutes", "sec": "seconds"}
    for part, value in named[1:]:
        if value >= 60:
            raise EntryError(
                f"{decimal_text(value, 4)} {words[part]} make a greater part: keep {words[part]} under 60."
            )
    if any(value.denominator != 1 for _, value in named[:-1]):
        raise EntryError(f"Only the last part of an angle may have a fraction. {ANGLE_HINT}")


def parse_count(text: str) -> int:
    """A whole number, digits only."""
    plain = _plain(text, COUNT_HINT)
    _refuse_sums(plain, COUNT_HINT)
    if re.fullmatch(r"[+-]?[0-9]+", plain):
        return int(plain)
    if re.fullmatch(r"[0-9]{1,3}(?:[ ,][0-9]{3})+", plain):
        raise EntryError(f"“{_shortened(plain)}” is in groups: write {re.sub('[ ,]', '', plain)}.")
    found = NUMBER.fullmatch(plain)
    if found is not None:
        raise EntryError(f"{_figure(found)[1]} is no whole number. {COUNT_HINT}")
    start = NUMBER.match(plain)
    if start is None:
        raise EntryError(f"I cannot read “{_shortened(plain)}”. {COUNT_HINT}")
    rest = _shortened(plain[start.end() :].strip())
    raise EntryError(f"I can read {_figure(start)[1]}, but not “{rest}”. {COUNT_HINT}")


def _pitch(text: str, hint: str) -> Measure:
    """A figure with what makes a pitch of it; its unit is DP, MOD, one of length, or empty where bare."""
    plain = _plain(text, hint)
    _refuse_sums(plain, hint)
    _refuse_comma(plain, hint)
    turned = re.fullmatch(r"(dp|mod(?:ule)?)\b\.?\s*(.+)", plain, re.IGNORECASE)
    found, rest = _lead(f"{turned[2]} {turned[1]}" if turned else plain, hint)
    value, figures = _figure(found)
    word = " ".join(rest.lower().replace(".", "").split())
    unit = PITCH_WORDS.get(word) or _unit_of(rest, LENGTH_WORDS)
    if rest and unit is None:
        raise EntryError(f"I can read {figures}, but not “{_shortened(rest)}”. {hint}")
    if value <= 0:
        raise EntryError(f"{figures} is no pitch of teeth: it must be more than nought. {hint}")
    return Measure(text, value, unit or "", figures)


def parse_pitch(text: str) -> Measure:
    """A diametral pitch: ``8 DP``, ``DP 8``, ``8``; bare it is always to the inch."""
    read = _pitch(text, PITCH_HINT)
    if read.unit in ("", "DP"):
        return replace(read, unit="DP")
    if read.unit in ("MOD", "mm"):
        raise EntryError(f"{read.typed()} is a module: enter it as the module, and leave this empty.")
    raise EntryError(f"{read.typed()} is a length, and a diametral pitch is teeth to the inch. {PITCH_HINT}")


def parse_module(text: str) -> Measure:
    """A module: ``2 MOD``, ``2 mm``, ``2``; bare it is always in millimetres."""
    read = _pitch(text, MODULE_HINT)
    if read.unit in ("", "MOD", "mm"):
        return replace(read, unit="MOD")
    if read.unit == "DP":
        raise EntryError(f"{read.typed()} is a diametral pitch: enter it as that, and leave this empty.")
    shown = f"{decimal_text(read.base, 4)} mm"
    raise EntryError(
        f"A module is in millimetres, and this is {read.typed()}: write {shown} if that is meant."
    )


def parse_number(text: str) -> Measure:
    """A bare figure, which may be below nought: ``0.25``, ``-1/4``."""
    plain = _plain(text, NUMBER_HINT)
    _refuse_sums(plain, NUMBER_HINT)
    _refuse_comma(plain, NUMBER_HINT)
    found, rest = _lead(plain, NUMBER_HINT)
    value, figures = _figure(found)
    if rest:
        raise EntryError(f"I can read {figures}, but not “{_shortened(rest)}”: no unit goes with it here.")
    return Measure(text, value, "", figures)


def parse_symbol(text: str) -> str:
    """A symbol of letters and figures, its case kept: ``H7``, ``js6``; a space in it goes."""
    plain = "".join(_plain(text, SYMBOL_HINT).split())
    if re.fullmatch(r"[A-Za-z0-9]+", plain):
        return plain
    odd = next(sign for sign in plain if not re.fullmatch("[A-Za-z0-9]", sign))
    raise EntryError(f"“{_shortened(plain)}” has “{odd}” in it. {SYMBOL_HINT}")


def _counts(plain: str, hint: str) -> tuple[int, ...]:
    counts = []
    for piece in plain.split(","):
        if not piece.strip():
            raise EntryError(f"There is a comma with nothing beside it. {hint}")
        if not re.fullmatch(r"\s*[+-]?[0-9]{1,12}\s*", piece):
            raise EntryError(f"I cannot read “{_shortened(piece.strip())}” as one whole number. {hint}")
        counts.append(int(piece))
    return tuple(counts)


def parse_counts(text: str) -> tuple[int, ...]:
    """Whole numbers with commas between them."""
    hint = "Write whole numbers with commas between them: 24,24,28,32."
    return _counts(_plain(text, hint, LONGEST_LIST), hint)


def parse_circles(text: str) -> tuple[tuple[int, ...], ...]:
    """Index circles: commas inside one face of a plate, a stroke between faces."""
    hint = "Write circles with commas, and a stroke between faces: 15,16,17,18,19,20 / 21,23,27."
    faces = _plain(text, hint, LONGEST_LIST).split("/")
    if any(not face.strip() for face in faces):
        raise EntryError(f"There is a stroke with no circles beside it. {hint}")
    return tuple(_counts(face, hint) for face in faces)


#: Words that say what a size is the size of.
OF_WHAT = frozenset({
    "dia", "diam", "diameter", "ø", "⌀", "bore", "od", "o/d", "o.d", "id", "i/d", "i.d", "pcd", "p.c.d",
    "rad", "radius", "reg", "a/f", "af", "across", "over", "long", "lg", "length", "wide", "width", "thick",
    "thk", "high", "height", "deep", "depth", "face", "stroke", "taper", "angle", "pitch", "centres", "crs",
    "square", "sq", "round", "rd", "rod", "bar", "flat", "plate", "sheet", "tube", "pipe", "hex", "hexagon",
    "x", "×", "by", "outside", "inside", "reamed", "ream", "nominal", "finished", "rough",
})  # fmt: skip
#: Series of threads named by a length.
THREAD_WORDS = frozenset({
    "bsf", "bsw", "whit", "whitworth", "bsp", "me", "unf", "unc", "bsb", "brass",
})  # fmt: skip
#: Words after a figure that make it no length at all.
NO_LENGTH_WORDS = frozenset({
    "t", "teeth", "tooth", "dp", "mod", "module", "ba", "swg", "awg", "gauge", "tpi", "off", "deg", "°",
    "degrees", "start", "starts", "hole", "holes", "spokes", "to", "turns",
})  # fmt: skip


def parse_size(text: str, default_unit: Literal["inch", "mm"] | None) -> Size:
    """The leading size of a part: ``7.375 in OD``, ``1 1/4 dia``, ``36 T, 8 DP``, ``2 BA``, ``see sheet``."""
    plain = _plain(text, SIZE_HINT, longest=LONGEST_SIZE)
    after_sign = plain.lstrip("øØ⌀ ")
    if NUMBER.match(after_sign) is None:
        return Size(None, plain, text)
    comma = re.match(r"[+-]?[0-9]+,[0-9]+(?:\s?[a-zµ\"']+)?", after_sign, re.IGNORECASE)
    if comma is not None:
        _refuse_comma(comma[0], SIZE_HINT)
    feet = re.match(r"[0-9]+\s*(?:'|ft\b\.?)\s*-?\s*[0-9][-0-9 ./]*(?:\"|in\b\.?)", after_sign, re.IGNORECASE)
    if feet is not None:
        return Size(parse_length(feet[0], None), after_sign[feet.end() :].strip(" ,"), text)
    found, rest = _lead(after_sign, SIZE_HINT)
    size = _size_of(text, rest, *_figure(found), default_unit)
    return size if after_sign == plain else Size(size.measure, f"dia {size.words}".strip(), text)


def _size_of(
    text: str, rest: str, value: Fraction, figures: str, default_unit: Literal["inch", "mm"] | None
) -> Size:
    """The size once its first figure is read: by the word after it a length, or none."""
    word = rest[:1] if re.match(r"[x×]\s*[0-9]", rest, re.IGNORECASE) else re.split(r"[\s,;()]", rest)[0]
    bare = word.lower().rstrip(".")
    if bare in NO_LENGTH_WORDS:
        return Size(None, f"{figures} {rest}", text)
    if value <= 0:
        raise EntryError(f"{figures} is no size of a part: it must be more than nought. {SIZE_HINT}")
    unit = _unit_of(word, LENGTH_WORDS) if word else None
    if unit is not None:
        words = rest[len(word) :].strip(" ,")
        return Size(Measure(text, value, unit, figures), words, text)
    if word and bare not in OF_WHAT | THREAD_WORDS:
        raise EntryError(
            f"I can read {figures}, but not “{_shortened(word)}”. Write the unit as in, mm or thou, "
            "and after it what it is the size of: dia, bore, long."
        )
    return Size(Measure(text, value, _default(default_unit, figures), figures), rest.strip(" ,"), text)
