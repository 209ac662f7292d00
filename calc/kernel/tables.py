"""Kernel room: published sources, their tables as printed, and the only place that opens files."""

import csv
import hashlib
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

from calc.kernel.errors import NotInTable

#: One folder to a published source: source.toml, checks.toml and its tables.
SOURCES = Path(__file__).resolve().parent.parent / "sources"

REQUIRED = ("key", "title", "short", "edition", "pages", "how_read", "licence")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A published source: what it is, which pages were used and how they were read."""

    key: str
    title: str
    short: str  # as named on a line of working
    edition: str
    pages: str
    how_read: str
    licence: str
    corrections: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The rows of a table as printed, text by column name, and the digest of its file."""

    source: str
    name: str
    rows: tuple[Mapping[str, str], ...]
    digest: str

    def row_for(self, field: str, value: Fraction, *, over: str, to: str) -> Mapping[str, str]:
        """The row whose range holds the value: over (exclusive) to up to (inclusive), compared exactly.

        Parameters
        ----------
        field : str
            Name of the entry, for the refusal.
        value : Fraction
            What is looked up, in the table's own unit.
        over, to : str
            Names of the columns that hold the two ends of each range.

        Returns
        -------
        Mapping
            The row, text by column name.

        Raises
        ------
        NotInTable
            No row's range holds the value; names what the table covers.
        """
        for row in self.rows:
            if Fraction(row[over]) < value <= Fraction(row[to]):
                return row
        first, last = self.rows[0][over], self.rows[-1][to]
        raise NotInTable(field, f"The table {self.name} of {self.source} runs from over {first} to {last}.")


def source_keys() -> tuple[str, ...]:
    """The key of every source there is a folder for, in order."""
    return tuple(sorted(folder.name for folder in SOURCES.iterdir() if (folder / "source.toml").is_file()))


@lru_cache(maxsize=64)
def read_source(key: str, folder: Path = SOURCES) -> Source:
    """The source of that key, from its source.toml."""
    entries = tomllib.loads((folder / key / "source.toml").read_text(encoding="utf-8"))
    missing = [name for name in REQUIRED if not entries.get(name)]
    if missing or entries["key"] != key:
        raise ValueError(f"{key}/source.toml: wanted {', '.join(missing) or 'its own key'}")
    return Source(
        **{name: entries[name] for name in REQUIRED}, corrections=tuple(entries.get("corrections", ()))
    )


@lru_cache(maxsize=64)
def read_table(key: str, name: str, folder: Path = SOURCES) -> Table:
    """A table of a source as printed; lines that begin with a cross-hatch are remarks."""
    content = (folder / key / f"{name}.csv").read_bytes()
    lines = [line for line in content.decode("utf-8").splitlines() if line and not line.startswith("#")]
    rows = tuple(csv.DictReader(lines, strict=True))
    if not rows or any(None in row or None in row.values() for row in rows):
        raise ValueError(f"{key}/{name}.csv: every row wants as many cells as the first")
    return Table(source=key, name=name, rows=rows, digest=hashlib.sha256(content).hexdigest())


def read_checks(key: str, folder: Path = SOURCES) -> Sequence[Mapping[str, Any]]:
    """The checks a source prints, from its checks.toml; none when it has no such file."""
    path = folder / key / "checks.toml"
    if not path.is_file():
        return ()
    checks: Sequence[Mapping[str, Any]] = tomllib.loads(path.read_text(encoding="utf-8"))["check"]
    return checks


@lru_cache(maxsize=64)
def digest(key: str, folder: Path = SOURCES) -> str:
    """One digest over the source's own entry and all its tables, so that a changed table shows."""
    total = hashlib.sha256()
    for path in sorted([folder / key / "source.toml", *(folder / key).glob("*.csv")]):
        total.update(path.name.encode())
        total.update(path.read_bytes())
    return total.hexdigest()


def cite(key: str) -> dict[str, str]:
    """How a record names a source: key, title, edition and digest."""
    source = read_source(key)
    return {"key": key, "title": source.title, "edition": source.edition, "digest": digest(key)}
