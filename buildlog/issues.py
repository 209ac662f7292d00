"""Issues of a sheet: which one a part names, and how letters follow each other."""

from buildlog.models.parts import SHEET


def issue_named(sheet: str) -> str:
    """The issue that a part names with its sheet: B of `12 B`; empty where it names none."""
    named = SHEET.match(sheet)
    return (named[2] or "").upper() if named else ""


def by_age(issue: str) -> tuple[int, str]:
    """Issues sort as they follow each other: Y, Z, AA; none at all comes before them."""
    return len(issue), issue
