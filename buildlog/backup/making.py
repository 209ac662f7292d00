"""Making a backup, and proving one by restoring it into a folder of its own."""

import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
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
from buildlog.storage import is_half_written

BESIDE = ".backup-"
SWEPT_AFTER = 24 * 60 * 60  # seconds


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What came out of an archive that was restored beside."""

    made_at: datetime
    program: str
    counts: dict[str, int]  # by what a builder calls them
    files: int
    size: int  # of the archive, bytes
    missing: tuple[str, ...] = ()  # files that a row belongs to and that are not there
    spoilt: tuple[str, ...] = ()  # files whose bytes are no longer those that were brought


def make_backup(folder: Path, *, now: datetime) -> tuple[Path, Proof]:
    """Write an archive of the database and all files into the folder, prove it, and say where it is.

    A file that is missing from the disk does not stop it: the proof names it.

    Raises ArchiveError where what was written cannot be restored, OSError where it cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    _sweep(folder)
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
        proof = prove(written, work)
        os.chmod(written, 0o600)
        _to_disk(written)
        os.replace(written, target)
    return target, proof


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
        if path.is_file() and not is_half_written(path.name):
            yield f"{FILES}{path.relative_to(root).as_posix()}", path


def _member(path: Path) -> Member:
    with path.open("rb") as file:
        return digest_of(file)


def _to_disk(path: Path) -> None:
    """A power cut after this leaves the whole file there."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _sweep(folder: Path) -> None:
    """Take away what a backup left that was cut off a day ago or longer: nobody is writing there now."""
    for left in folder.glob(f"{BESIDE}*"):
        with suppress(OSError):
            if left.is_dir() and time.time() - left.stat().st_mtime > SWEPT_AFTER:
                shutil.rmtree(left)


@contextmanager
def _beside(folder: Path) -> Iterator[Path]:
    """A folder of its own on the same disk, gone afterwards."""
    with tempfile.TemporaryDirectory(prefix=BESIDE, dir=folder) as made:
        yield Path(made)


def prove(path: Path, beside: Path | None = None) -> Proof:
    """Check every byte of an archive and restore it into a folder of its own; raises ArchiveError.

    The folder is made in `beside`, where there is room for it, or among the files of passage.
    """
    with tempfile.TemporaryDirectory(prefix="hornplate-proof-", dir=beside) as made:
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
    missing, spoilt = _compared(copy, manifest)
    return Proof(
        made_at=datetime.fromisoformat(manifest.made_at),
        program=manifest.program,
        counts=database.counted(counts),
        files=len(manifest.members) - 1,
        size=path.stat().st_size,
        missing=missing,
        spoilt=spoilt,
    )


def _compared(copy: Path, manifest: Manifest) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The files that rows belong to and that are not in the archive, and those with other bytes in them."""
    missing, spoilt = [], []
    for place, sha256, called in database.files_named(copy):
        member = manifest.members.get(f"{FILES}{place}")
        if member is None:
            missing.append(called)
        elif member.sha256 != sha256:
            spoilt.append(called)
    return tuple(missing), tuple(spoilt)
