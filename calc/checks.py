"""The published values each calculation must meet, for people to look at; the tests run the same ones."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.kernel.tables import read_checks, read_source, source_keys


@dataclass(frozen=True, slots=True)
class SourceChecks:
    """What one source holds a calculation to."""

    title: str
    edition: str
    how_read: str
    lines: tuple["Check", ...]


@dataclass(frozen=True, slots=True)
class Check:
    """One worked value: what it is, where it stands, what is typed for it, how it is known."""

    what: str
    page: str
    entered: str
    how: str


def checks_of(key: str) -> list[SourceChecks]:
    """Every check on a calculation, by source; nothing for a calculation that has none."""
    found = []
    for source in source_keys():
        lines = tuple(_check(one) for one in read_checks(source) if one.get("calculation") == key)
        if lines:
            about = read_source(source)
            found.append(SourceChecks(about.title, about.edition, about.how_read, lines))
    return found


def _check(one: Mapping[str, object]) -> Check:
    entered = one.get("entered")
    typed = ", ".join(f"{name} {text}" for name, text in entered.items()) if isinstance(entered, dict) else ""
    return Check(str(one["what"]), str(one.get("page", "")), typed, str(one["how"]))
