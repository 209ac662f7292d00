"""What is said of a backup: how much is in it, how old it is, how large."""

from collections.abc import Mapping
from datetime import date, datetime

from django.utils import timezone

from buildlog.backup.making import Proof
from calc.kernel.wording import plural

KILO = 1000


def counted_words(counts: Mapping[str, int], files: int) -> str:
    """`1 build, 420 parts, 611 log entries … and 12 files`: every noun, so that a loss is seen."""
    said = [f"{number} {noun if number != 1 else noun.removesuffix('s')}" for noun, number in counts.items()]
    said = [words.replace("entrie", "entry") if words.endswith("entrie") else words for words in said]
    return f"{', '.join(said)} and {plural(files, 'file')}"


def made_words(proof: Proof) -> str:
    at = timezone.localtime(proof.made_at)
    return f"made on {at.day} {at:%B %Y} at {at:%H:%M} by Hornplate {proof.program}, {size_words(proof.size)}"


def size_words(size: int) -> str:
    """`7.5 MB`: by the thousand, as disks are sold."""
    if size < KILO**2:
        return f"{max(1, round(size / KILO))} kB"
    return f"{size / KILO**2:.1f} MB" if size < KILO**3 else f"{size / KILO**3:.2f} GB"


def age_words(made_at: datetime, today: date) -> str:
    days = (today - timezone.localtime(made_at).date()).days
    return "of today" if days <= 0 else "a day old" if days == 1 else f"{days} days old"
