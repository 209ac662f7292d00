"""What is said of a backup: how much is in it, how old it is, how large."""

from collections.abc import Mapping
from datetime import date, datetime

from django.utils import timezone

from buildlog.backup.making import Proof

KILO = 1000
#: So many files are named where some are missing.
MOST_NAMED = 10


def counted_words(counts: Mapping[str, int], files: int) -> str:
    """`1 build, 420 parts, 611 log entries … and 12 files`: every noun, so that a loss is seen."""
    said = [_number_of(number, noun) for noun, number in (*counts.items(), ("files", files))]
    return f"{', '.join(said[:-1])} and {said[-1]}"


def _number_of(number: int, noun: str) -> str:
    """`1 log entry`, `2 log entries`; a noun is given in its plural."""
    if number != 1:
        return f"{number} {noun}"
    one = f"{noun[:-3]}y" if noun.endswith("ies") else noun.removesuffix("s")
    return f"1 {one}"


def made_words(proof: Proof) -> str:
    at = timezone.localtime(proof.made_at)
    return f"made on {at.day} {at:%B %Y} at {at:%H:%M} by Hornplate {proof.program}, {size_words(proof.size)}"


def trouble_words(proof: Proof) -> list[str]:
    """What is to be said of files that are missing or spoilt, a sentence to each kind."""
    said = []
    for names, what in (
        (proof.missing, "not on the disk, and so not in it"),
        (proof.spoilt, "no longer what was brought in, and are in it as they are now"),
    ):
        if names:
            more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
            many = "1 file" if len(names) == 1 else f"{len(names)} files"
            said.append(f"Take care: {many} {what}: {', '.join(names[:MOST_NAMED])}{more}.")
    return said


def size_words(size: int) -> str:
    """`7.5 MB`: by the thousand, as disks are sold."""
    if size < KILO**2:
        return f"{max(1, round(size / KILO))} kB"
    return f"{size / KILO**2:.1f} MB" if size < KILO**3 else f"{size / KILO**3:.2f} GB"


def age_words(made_at: datetime, today: date) -> str:
    days = (today - timezone.localtime(made_at).date()).days
    return "of today" if days <= 0 else "a day old" if days == 1 else f"{days} days old"
