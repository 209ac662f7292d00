"""What an entry of the log said before it was changed: the first wording and those after it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from buildlog.log_words import said_of
from buildlog.models import LogEntry, LogVersion

LABELS = {
    "on": "Date",
    "minutes": "How long",
    "kind": "Kind of time",
    "part": "Part",
    "done": "Done",
    "left_off": "Left off",
    "next": "Next",
    "links": "Links",
}


@dataclass(frozen=True)
class Said:
    """One thing that an entry said, and whether it was changed in the wording after."""

    label: str
    text: str
    changed: bool


@dataclass(frozen=True)
class Earlier:
    """An entry as it stood from one moment to another."""

    written_at: datetime
    changed_at: datetime
    by: str  # who changed it
    is_first: bool
    said: list[Said]


def wordings_of(entry: LogEntry) -> list[Earlier]:
    """The wordings before the one that stands, the first of all first, in one query."""
    if not entry.changed_at:
        return []
    versions = list(entry.versions.select_related("part", "by"))
    after: Sequence[LogEntry | LogVersion] = [*versions[1:], entry]
    written_at = [entry.written_at, *(version.at for version in versions)]
    return [
        Earlier(
            written_at=since,
            changed_at=version.at,
            by=version.by.get_username() if version.by else "",
            is_first=version is versions[0],
            said=_said(version, following),
        )
        for version, following, since in zip(versions, after, written_at, strict=False)
    ]


def _said(version: LogVersion, following: LogEntry | LogVersion) -> list[Said]:
    """All that a wording says, and what was taken into it only after, as empty."""
    later = dict(said_of(following))
    return [
        Said(LABELS[name], text, text != later[name])
        for name, text in said_of(version)
        if text or later[name] != text
    ]
