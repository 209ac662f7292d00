"""Dates that a spreadsheet has made of sizes and numbers: recognised, and what was typed guessed back."""

import re
from dataclasses import dataclass

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip
# Spreadsheets write `Mar`, never `MAR`: a part number MAR-16 is left in peace.
_NAMES = "|".join(f"[{name[0]}{name[0].lower()}]{name[1:3]}(?:{name[3:]})?" for name in MONTHS)
_MONTH = rf"(?P<month>{_NAMES}|[Ss]ept)\.?"
_SHAPES = (
    re.compile(r"(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})(?:[ T]\d{1,2}:\d{2}(?::\d{2})?(?:\.\d+)?)?"),
    re.compile(r"(?P<a>\d{1,2})(?P<s>[/.\-])(?P<b>\d{1,2})(?P=s)(?P<y>\d{4})(?: \d{1,2}:\d{2}(?::\d{2})?)?"),
    re.compile(r"(?P<a>\d{1,2})/(?P<b>\d{1,2})/(?P<y>\d{2})"),
    re.compile(rf"(?P<d>\d{{1,2}})[\- ]?{_MONTH}(?:[\- ,]+(?P<y>\d{{4}}|\d{{2}}))?"),
    re.compile(rf"{_MONTH}[\- ]?(?P<n>\d{{1,4}})"),
)


@dataclass(frozen=True)
class MadeDate:
    """A date found where a figure was expected."""

    said: str  # as it reads: `16 March`
    typed: str  # the fraction it was most likely made of: `3/16`; empty where none fits

    @property
    def reason(self) -> str:
        what = self.typed or "what was typed"
        return (
            f"this reads {self.said}, a spreadsheet has made a date of {what}. "
            "Set the column to text and type it again."
        )


def made_date(text: str) -> MadeDate | None:
    """The date a text reads as, or None where it is none."""
    tidy = " ".join(text.split())
    for shape in _SHAPES:
        match = shape.fullmatch(tidy)
        if match:
            return _dated(tidy, match.groupdict())
    return None


def _dated(text: str, found: dict[str, str | None]) -> MadeDate | None:
    year = int(found.get("y") or 0)
    if found.get("n"):
        # `Mar-16` may stand for the 16th, or for March 2016: either way 3 and 16 were typed.
        return MadeDate(text, _fraction([(_month(found), int(str(found["n"])) % 100)]))
    if found.get("a"):
        a, b = int(str(found["a"])), int(str(found["b"]))
        day, month = (b, a) if b > 12 or (a <= 12 and a < b and _is_ruler(b)) else (a, b)
    else:
        day = int(str(found["d"]))
        month = _month(found) if found.get("month") else int(str(found["m"]))
    if not (1 <= month <= 12 and 1 <= day <= 31):
        return None
    pairs = [(month, day), (day, month)] + ([(month, year % 100)] if year and day == 1 else [])
    return MadeDate(f"{day} {MONTHS[month - 1]}", _fraction(pairs))


def _month(found: dict[str, str | None]) -> int:
    short = str(found["month"])[:3].title()
    return next(place for place, name in enumerate(MONTHS, 1) if name.startswith(short))


def _fraction(pairs: list[tuple[int, int]]) -> str:
    """The first pair that is a fraction as a rule has it: odd over 2, 4, 8, 16, 32 or 64."""
    return next(
        (f"{top}/{under}" for top, under in pairs if top % 2 and top < under and _is_ruler(under)), ""
    )


def _is_ruler(under: int) -> bool:
    return under in (2, 4, 8, 16, 32, 64)
