"""The archive of a backup: a zip with a manifest of everything in it, sealed by a digest at its very end."""

import hashlib
import json
import zipfile
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, BinaryIO

FORM = 1
MANIFEST = "manifest.json"
DATABASE = "database.sqlite3"
FILES = "files/"
SEAL_LENGTH = 64  # a SHA-256 in hexadecimal, which is the comment at the end of the zip
BLOCK = 1 << 20
NOT_WHOLE = "It is cut short or was altered: what it says of itself at its end does not agree with the rest."


#: Files that are packed already, which packing again would only make slower.
PACKED = {".jpg", ".jpeg", ".png", ".webp", ".pdf", ".zip"}


class ArchiveError(Exception):
    """An archive cannot be used; the message says why, in plain words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One file in the archive."""

    size: int
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """What an archive holds."""

    made_at: str  # ISO 8601, with its zone
    program: str  # the version of Hornplate
    migrations: tuple[str, ...]  # "buildlog.0001_initial", in order
    counts: Mapping[str, int]  # rows by table
    members: Mapping[str, Member]

    def as_json(self) -> bytes:
        return json.dumps(asdict(self) | {"form": FORM}, indent=1, sort_keys=True).encode()


def digest_of(file: BinaryIO, most: int | None = None) -> Member:
    """The size and the SHA-256 of what is left of an open file, or of its next `most` bytes."""
    digest, size = hashlib.sha256(), 0
    while block := file.read(BLOCK if most is None else min(BLOCK, most - size)):
        digest.update(block)
        size += len(block)
    return Member(size=size, sha256=digest.hexdigest())


def write_archive(path: Path, manifest: Manifest, sources: Mapping[str, Path]) -> None:
    """Write the members from where they lie, then the manifest, then the seal over all of it."""
    # A file may be dated before 1980, of which the format of the archive knows nothing.
    with zipfile.ZipFile(
        path, "x", zipfile.ZIP_DEFLATED, compresslevel=6, strict_timestamps=False
    ) as archive:
        for name, source in sources.items():
            packed = Path(name).suffix.lower() in PACKED
            archive.write(source, name, zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED)
        archive.writestr(MANIFEST, manifest.as_json())
        archive.comment = b"0" * SEAL_LENGTH
    with path.open("r+b") as file:
        seal = digest_of(file, path.stat().st_size - SEAL_LENGTH).sha256
        file.seek(-SEAL_LENGTH, 2)
        file.write(seal.encode())


def read_manifest(path: Path) -> Manifest:
    """The manifest of an archive whose seal is whole; raises ArchiveError for any other file."""
    _check_seal(path)
    try:
        with zipfile.ZipFile(path) as archive:
            found = json.loads(archive.read(MANIFEST))
        return _manifest(found)
    except (zipfile.BadZipFile, KeyError, TypeError, ValueError) as error:
        raise ArchiveError("It is no backup of Hornplate: it has no list of what is in it.") from error


def _check_seal(path: Path) -> None:
    try:
        size = path.stat().st_size
        if not zipfile.is_zipfile(path) or size <= SEAL_LENGTH:
            raise ArchiveError(
                "It is no backup of Hornplate, or it is cut short: no such file ends like this."
            )
        with path.open("rb") as file:
            found = digest_of(file, size - SEAL_LENGTH).sha256
            seal = file.read(SEAL_LENGTH)
    except OSError as error:
        raise ArchiveError(f"It cannot be read ({error.strerror}).") from error
    if seal != found.encode():
        raise ArchiveError(NOT_WHOLE)


def _manifest(found: Mapping[str, Any]) -> Manifest:
    if found["form"] != FORM:
        raise ArchiveError(
            f"It is written in form {found['form']}, and this Hornplate reads form {FORM}: use the Hornplate "
            f"that wrote it, version {found['program']}, or a later one."
        )
    return Manifest(
        made_at=found["made_at"],
        program=found["program"],
        migrations=tuple(found["migrations"]),
        counts=dict(found["counts"]),
        members={name: Member(**one) for name, one in found["members"].items()},
    )


def unpack(path: Path, manifest: Manifest, folder: Path) -> None:
    """Write every member into the folder and check it against the manifest; raises ArchiveError."""
    with zipfile.ZipFile(path) as archive:
        names = set(archive.namelist()) - {MANIFEST}
        if names != set(manifest.members) or DATABASE not in names:
            raise ArchiveError("What is in it is not what its list names.")
        for name, member in manifest.members.items():
            target = _inside(folder, name)
            target.parent.mkdir(parents=True, exist_ok=True)
            with archive.open(name) as source, target.open("xb") as copy:
                while block := source.read(BLOCK):
                    copy.write(block)
            with target.open("rb") as copy:
                if digest_of(copy) != member:
                    raise ArchiveError(f"{name} is not as it was when the backup was made.")


def _inside(folder: Path, name: str) -> Path:
    """Where a member goes; a name that leads out of the folder is refused."""
    target = (folder / name).resolve()
    if not target.is_relative_to(folder.resolve()) or not (name == DATABASE or name.startswith(FILES)):
        raise ArchiveError(f"It holds {name[:80]!r}, which has no place in a backup.")
    return target
