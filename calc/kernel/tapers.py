"""Kernel room: tapers by name, with their sizes, and the one nearest to a rate."""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.errors import NotInTable
from calc.kernel.tables import read_table
from calc.kernel.units import INCH

KEY = "tapers"
FAMILIES = "MT0 to MT7, Jarno 2 to 20, B&S 1 to 14, JT0 to JT6, JT33"
RULES = "taper pin, pipe thread, taper key, 7:24"
#: Other ways of writing what stands before the number, and the rules; small letters, no spaces.
_LEADS = {
    "Morse": ("mt", "morse", "morsetaper"),
    "Jarno": ("jarno", "jarnotaper"),
    "Brown & Sharpe": ("b&s", "bs", "brown&sharpe", "brownandsharpe"),
    "Jacobs": ("jt", "jacobs", "jacobstaper"),
}
_RULES = {
    "taper pin, inch": ("taperpin", "taperpininch", "pin"),
    "pipe thread": ("pipethread", "pipe", "bspt", "npt"),
    "taper key, 1/8 in/ft": ("taperkey1/8in/ft", "key1/8in/ft", "taperkeyinch"),
    "taper key, 1:100": ("taperkey1:100", "key1:100"),
    "taper pin, 1:50": ("taperpin1:50", "pin1:50"),
    "7:24": ("7:24", "7/24"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A taper by name: its rate on the diameter, and its sizes where it has any. [mm]"""

    name: str
    family: str
    per_foot: Fraction  # inches on the diameter to a foot
    large: Fraction | None
    small: Fraction | None
    length: Fraction | None
    is_one_face: bool
    origin: str
    aliases: tuple[str, ...]

    @property
    def rate(self) -> Fraction:
        """What the diameter changes by in one length."""
        return self.per_foot / 12


@lru_cache(maxsize=1)
def tapers() -> tuple[Named, ...]:
    """Every taper of the table, in its order."""
    found = []
    for row in read_table(KEY, "tapers").rows:
        large, small, length = (
            Fraction(row[end]) * INCH if row[end] else None for end in ("large_in", "small_in", "length_in")
        )
        leads = _LEADS.get(row["family"], ())
        found.append(
            Named(
                name=row["name"], family=row["family"], per_foot=Fraction(row["taper_per_foot"]),
                large=large, small=small, length=length, is_one_face=row["faces"] == "1",
                origin=row["origin"],
                aliases=_RULES.get(row["name"]) or tuple(plain(lead + row["no"]) for lead in leads),
            )
        )  # fmt: skip
    return tuple(found)


def plain(text: str) -> str:
    """A name in small letters, without spaces, full stops, commas and hyphens."""
    return re.sub(r"[\s.,_-]+", "", text.lower())


def taper_named(text: str) -> Named:
    """The taper of that name, however it is written; refuses a family without its number."""
    wanted = plain(text)
    for one in tapers():
        if wanted in one.aliases or wanted == plain(one.name):
            return one
    raise NotInTable("name", f"There is no taper “{text[:20]}” in the table: {FAMILIES}; {RULES}.")


def group_name(one: Named) -> str:
    """A taper as it is told apart from others: all numbers of Jarno have one rate."""
    return "Jarno, every number" if one.family == "Jarno" else one.name


def nearest(rate: Fraction) -> tuple[str, Fraction]:
    """The names of the tapers nearest to a rate, and the inches to the foot of the first of them."""
    least = min(abs(one.rate - rate) for one in tapers())
    near = [one for one in tapers() if abs(one.rate - rate) == least]
    return "; ".join(dict.fromkeys(map(group_name, near))), near[0].per_foot
