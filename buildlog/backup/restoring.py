"""Putting a backup in the place of what is there, which is kept beside."""

import os
import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.db import connections
from django.db.migrations.loader import MigrationLoader

from buildlog.backup import database
from buildlog.backup.archive import DATABASE, FILES, ArchiveError, read_manifest
from buildlog.backup.making import Proof, restored_into

#: What SQLite keeps beside its file while it is in use.
JOURNALS = ("-wal", "-shm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What was put in place, and where that which was there before is kept."""

    proof: Proof
    before: Path | None


def restore(path: Path, *, now: datetime) -> Restored:
    """Check the archive whole, restore it beside, compare, and only then change places.

    Raises ArchiveError with what is wrong; nothing has then been touched.
    """
    present = database.sqlite_file()
    _check_known(path)
    connections.close_all()
    if database.is_in_use(present):
        raise ArchiveError("Hornplate is running on this data: stop it first, then restore.")
    with tempfile.TemporaryDirectory(prefix=".restore-", dir=present.parent) as made:
        proof = restored_into(path, Path(made))
        before = _change_places(Path(made), present, now)
    return Restored(proof=proof, before=before)


def _check_known(path: Path) -> None:
    """An archive of a later Hornplate is refused: its records have fields that this one does not know."""
    manifest = read_manifest(path)
    loader = MigrationLoader(None, ignore_no_migrations=True)
    known = {f"{app}.{name}" for app, name in loader.disk_migrations}
    squashed = {f"{app}.{name}" for one in loader.disk_migrations.values() for app, name in one.replaces}
    unknown = [name for name in manifest.migrations if name not in known | squashed]
    if unknown:
        raise ArchiveError(
            f"It was made by a later Hornplate ({manifest.program}), which knows {unknown[-1]}: restore it "
            "with that one, or bring this one up to date."
        )


def _change_places(made: Path, present: Path, now: datetime) -> Path | None:
    """Move what is there aside and the restored in; where a move fails, everything goes back."""
    files = Path(settings.MEDIA_ROOT)
    aside = present.parent / f"before-restore-{now:%Y%m%d-%H%M%S-%f}"
    (made / FILES).mkdir(exist_ok=True)
    there = [one for one in (present, *(_journal(present, end) for end in JOURNALS), files) if one.exists()]
    moves = [(one, aside / one.name) for one in there]
    moves += [(made / DATABASE, present), (made / FILES, files)]
    if there:
        aside.mkdir()
    done: list[tuple[Path, Path]] = []
    try:
        for source, target in moves:
            os.replace(source, target)
            done.append((source, target))
    except OSError as error:
        for source, target in reversed(done):
            os.replace(target, source)
        raise ArchiveError(
            f"The files could not change places ({error.strerror}); all is as it was."
        ) from error
    return aside if there else None


def _journal(path: Path, end: str) -> Path:
    return path.with_name(path.name + end)
