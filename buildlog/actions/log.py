"""Writing in the log of the workshop, and mending what was written."""

from uuid import UUID

from django.db import transaction

from buildlog import clock
from buildlog.actions.tokens import written_with
from buildlog.changes import Doer, recording, row_of
from buildlog.models import Build, LogEntry, LogVersion, Part
from buildlog.numbers import key_of, read_number

#: What a builder writes; a change of any of it is dated.
TYPED = ("on", "minutes", "kind", "part", "done", "left_off", "next", "links")
#: A key is typed with what follows it as often as alone: `H-021 L`, `S-012 Second-shaft wheel`.
_WORDS_OF_A_KEY = 2


@transaction.atomic
def write_entry(entry: LogEntry, *, token: UUID, by: Doer) -> LogEntry:
    """Write a new entry; the same token gives the entry that was written with it.

    Raises
    ------
    PermissionError
        The token belongs to an entry of another build.
    """
    # The build is held first: of two clicks at once the second finds the entry of the first.
    Build.objects.select_for_update().get(pk=entry.build_id)
    written = written_with(token, LogEntry, build_id=entry.build_id)
    if written:
        return written
    entry.token, entry.written_at, entry.by_id = token, clock.now(), by.pk if by else None
    with recording(entry.build_id, f"Log of {clock.day_in_full(entry.on)} written", by=by) as change:
        entry.save()
        change.came(entry)
    return entry


@transaction.atomic
def change_entry(entry: LogEntry, *, by: Doer) -> bool:
    """Write an entry as it now is, keeping what it said before and when; whether anything differs."""
    stood = LogEntry.objects.select_for_update().get(pk=entry.pk)
    names = ["part_id" if name == "part" else name for name in TYPED]
    said = {name: getattr(stood, name) for name in names}
    if all(text == getattr(entry, name) for name, text in said.items()):
        return False
    with recording(entry.build_id, f"Log of {clock.day_in_full(stood.on)} changed", by=by) as change:
        change.watch(row_of(stood), stood.versions.all())
        entry.changed_at = clock.now()
        LogVersion.objects.create(entry=entry, at=entry.changed_at, by_id=by.pk if by else None, **said)
        entry.save(update_fields=[*TYPED, "changed_at", "search_text"])
    return True


def part_named(build: Build, text: str) -> Part:
    """The part that a key names, whatever is typed after it: `S-012`, `s-012 second-shaft wheel`.

    Raises
    ------
    ValueError
        No part of the build has this key, or it is in the bin; the message says what to do.
    """
    keys = _keys(text)
    found = Part.objects.filter(build=build, number__in={number for number, _ in keys})
    # A key is free again when its part is in the bin: of two parts of one key the live one is meant.
    parts = {part.key: part for part in sorted(found, key=lambda part: part.binned_at is None)}
    named = [parts[key_of(*key)] for key in keys if key_of(*key) in parts]
    live = next((part for part in named if not part.binned_at), None)
    if live:
        return live
    if named:
        raise ValueError(f"{named[0].key} is in the bin. Take it back first, or leave this empty.")
    typed = " ".join(text.split())[:20]
    hands = sorted(part.key for part in parts.values() if not part.binned_at)
    if hands:
        raise ValueError(f"No part {typed} is in this build. Is {' or '.join(hands)} meant?")
    raise ValueError(
        f"No part {typed} is in this build. Write its number as in the parts list, or leave this empty."
    )


def _keys(text: str) -> list[tuple[str, str]]:
    """The numbers and hands that may be meant: of all the words, of the first two, of the first."""
    words = text.split()
    found = []
    for count in (len(words), _WORDS_OF_A_KEY, 1):
        try:
            found.append(read_number(" ".join(words[:count])))
        except ValueError:
            continue
    return found
