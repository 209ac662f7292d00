"""Making a backup, and proving one by restoring it into a folder of its own."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from django.conf import settings

from buildlog.backup import database
from buildlog.backup.archive import (
    DATABASE,
    FILES,
    ArchiveError,
    Manifest,
    Member,
    digest_of,
    read_manifest,
    unpack,
    write_archive,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What came out of an archive that was restored beside."""

    made_at: datetime
    program: str
    counts: dict[str, int]  # by what a builder calls them
    files: int
    size: int  # of the archive, bytes


def make_backup(folder: Path, *, now: datetime) -> Path:
    """Write an archive of the database and all files into the folder, prove it, and say where it is.

    Raises ArchiveError where what was written cannot be restored, OSError where it cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    target = _free_name(folder, now)
    with _beside(folder) as work:
        copy = work / DATABASE
        database.copy_database(database.sqlite_file(), copy)
        sources = {DATABASE: copy} | dict(_files())
        manifest = Manifest(
            made_at=now.isoformat(),
            program=_program(),
            migrations=database.migrations_of(copy),
            counts=database.counts_of(copy),
            members={name: _member(path) for name, path in sources.items()},
        )
        written = work / target.name
        write_archive(written, manifest, sources)
        prove(written)
        os.chmod(written, 0o600)
        _to_disk(written)
        os.replace(written, target)
    return target


def _program() -> str:
    try:
        return version("hornplate")
    except PackageNotFoundError:
        return "as checked out"


def _free_name(folder: Path, now: datetime) -> Path:
    """A name by the day and the hour; a second one in the same minute is numbered."""
    from django.utils import timezone

    stem = f"hornplate-{timezone.localtime(now):%Y-%m-%d-%H%M}"
    name, number = f"{stem}.zip", 1
    while (folder / name).exists():
        number += 1
        name = f"{stem}-{number}.zip"
    return folder / name


def _files() -> Iterator[tuple[str, Path]]:
    root = Path(settings.MEDIA_ROOT)
    for path in sorted(root.rglob("*")) if root.is_dir() else []:
        if path.is_file():
            yield f"{FILES}{path.relative_to(root).as_posix()}", path


def _member(path: Path) -> Member:
    with path.open("rb") as file:
        return digest_of(file)


def _to_disk(path: Path) -> None:
    """A power cut after this leaves the whole file there."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


@contextmanager
def _beside(folder: Path) -> Iterator[Path]:
    """A folder of its own on the same disk, gone afterwards."""
    with tempfile.TemporaryDirectory(prefix=".backup-", dir=folder) as made:
        yield Path(made)


def prove(path: Path) -> Proof:
    """Check every byte of an archive and restore it into a folder of its own; raises ArchiveError."""
    with tempfile.TemporaryDirectory(prefix="hornplate-proof-") as made:
        return restored_into(path, Path(made))


def restored_into(path: Path, folder: Path) -> Proof:
    """Unpack an archive into an empty folder and compare what came out with its list."""
    manifest = read_manifest(path)
    unpack(path, manifest, folder)
    copy = folder / DATABASE
    database.check_database(copy)
    counts = database.counts_of(copy)
    if counts != manifest.counts or database.migrations_of(copy) != manifest.migrations:
        raise ArchiveError("Its database does not hold what its list says.")
    return Proof(
        made_at=datetime.fromisoformat(manifest.made_at),
        program=manifest.program,
        counts=database.counted(counts),
        files=len(manifest.members) - 1,
        size=path.stat().st_size,
    )
