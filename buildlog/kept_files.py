"""Files that a builder brought: known by their bytes, stored whole, handed out; what became of each."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from django.core.files.base import File
from django.core.files.storage import storages

from buildlog.storage import ORIGINALS

NAME_LENGTH = 120
#: How the name of each kind that is kept ends.
ENDINGS = {"jpeg": "jpg", "png": "png", "webp": "webp", "pdf": "pdf"}
FULL_DISK = "it could not be written. Is the disk full? Make room on it, and choose it again."
Thing = TypeVar("Thing")


class Kept(Protocol):
    """A record with a file of its own, which lies under `file` among those of the builds."""

    size: int  # [bytes]

    @property
    def file(self) -> str: ...


def short_name(name: str) -> str:
    """The name the file came with, on one line and with its ending, where it is no longer than is kept."""
    tidy = "".join(sign if sign.isprintable() else " " for sign in name).strip() or "a file without a name"
    return tidy if len(tidy) <= NAME_LENGTH else f"{tidy[: NAME_LENGTH - 9]}…{tidy[-8:]}"


def digest_of(file: "File[Any]") -> str:
    """The SHA-256 of a file, by which it is known."""
    digest = hashlib.sha256()
    for chunk in file.chunks():
        digest.update(chunk)
    return digest.hexdigest()


def store_original(file: "File[Any]", thing: Kept) -> None:
    """Keep the file as it came, unless it lies there whole; raises OSError where it cannot be written."""
    originals = storages[ORIGINALS]
    if not (originals.exists(thing.file) and originals.size(thing.file) == thing.size):
        originals.save(thing.file, File(file, name=thing.file))


def has_original(thing: Kept) -> bool:
    """Whether the file is still in its folder."""
    return storages[ORIGINALS].exists(thing.file)


def original_bytes(thing: Kept) -> Iterator[bytes]:
    """The file as it came, piece by piece; it is opened when the first is asked for."""
    with storages[ORIGINALS].open(thing.file) as file:
        yield from file.chunks()


@dataclass(frozen=True, slots=True)
class Brought(Generic[Thing]):
    """What became of one file: a new one, one that was here, one out of the bin, or why it is not kept."""

    file_name: str
    thing: Thing | None = None
    state: str = "new"  # or "here", "back", "wrong"
    why: str = ""

    @property
    def words(self) -> str:
        said = {
            "new": "is in",
            "here": "is here already, byte for byte. It is kept once",
            "back": "was in the bin; it is taken back out",
            "wrong": self.why.rstrip("."),
        }
        return f"{self.file_name}: {said[self.state]}."


def told(brought: Sequence[Brought[Any]], noun: str) -> list[str]:
    """What became of the files that could be kept, a line to a state; `noun` is one of them."""
    names: dict[str, list[str]] = {"new": [], "here": [], "back": []}
    for one in brought:
        if one.state in names:
            names[one.state].append(one.file_name)
    new, here = len(names["new"]), len(names["here"])
    said = [f"{new} {noun}{' is' if new == 1 else 's are'} in."] if new else []
    if here:
        said.append(
            f"{here} {'was' if here == 1 else 'were'} here already, byte for byte, and nothing is kept "
            f"twice: {', '.join(names['here'])}."
        )
    if names["back"]:
        said.append(f"Taken back out of the bin: {', '.join(names['back'])}.")
    return said
