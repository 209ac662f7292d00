"""Photos: brought in one by one, shown small and large, mended, put in the bin and taken back."""

import hashlib
import logging
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.core.files.base import ContentFile, File
from django.core.files.storage import Storage, storages
from django.db import transaction

from buildlog import clock
from buildlog.actions.stages import Doer, note_history
from buildlog.changes import recording, row_of
from buildlog.forms.days import FIRST_DAY
from buildlog.models import Build, Casting, DatedBy, LogEntry, Part, Photo
from buildlog.picture_files import Picture, PictureError, copies_of, day_of, read_picture
from buildlog.storage import ORIGINALS, PREVIEWS

#: What a builder writes about a photo.
TYPED = ("taken_on", "caption", "before_closing_up", "part", "entry", "casting")
NAME_LENGTH = 120
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What all the photos that are brought in together have in common."""

    part: Part | None = None
    entry: LogEntry | None = None
    casting: Casting | None = None
    caption: str = ""
    before_closing_up: bool = False


@dataclass(frozen=True, slots=True)
class Brought:
    """What became of one file: a new photo, one that was here, one out of the bin, or why there is none."""

    file_name: str
    photo: Photo | None = None
    state: str = "new"  # or "here", "back", "wrong"
    why: str = ""

    @property
    def words(self) -> str:
        said = {
            "new": "is in",
            "here": "is here already: the same picture, byte for byte. It is kept once",
            "back": "was in the bin; it is taken back out",
            "wrong": self.why.rstrip("."),
        }
        return f"{self.file_name}: {said[self.state]}."


def bring_in(build: Build, file: "File[Any]", about: About, *, by: Doer, token: UUID) -> Brought:
    """Keep one file as a photo, or say why not; nothing of it is stored by half.

    The same bytes are one photo. The same token and the same bytes are one bringing in, told twice.
    """
    name = short_name(file.name or "")
    sha256 = digest_of(file)
    known = Photo.objects.filter(build=build, sha256=sha256).first()
    if known and storages[ORIGINALS].exists(known.file):
        return _known(build, name, known, by=by, token=token)
    try:
        picture = read_picture(file, file.size)
        photo = _described(Photo(build=build, sha256=sha256, file_name=name, size=file.size), picture, about)
        _store(file, photo, picture)
    except PictureError as wrong:
        return Brought(name, state="wrong", why=str(wrong))
    except OSError:
        log.exception("A photo could not be written")
        why = "it could not be written. Is the disk full? Make room on it, and choose the picture again."
        return Brought(name, state="wrong", why=why)
    return _enter(photo, by=by, token=token)


def short_name(name: str) -> str:
    """The name the file came with, on one line and with its ending, where it is no longer than is kept."""
    tidy = "".join(sign if sign.isprintable() else " " for sign in name).strip() or "a file without a name"
    return tidy if len(tidy) <= NAME_LENGTH else f"{tidy[: NAME_LENGTH - 9]}…{tidy[-8:]}"


def digest_of(file: "File[Any]") -> str:
    """The SHA-256 of a file that is brought in."""
    digest = hashlib.sha256()
    for chunk in file.chunks():
        digest.update(chunk)
    return digest.hexdigest()


def _described(photo: Photo, picture: Picture, about: About) -> Photo:
    """What the file says and what the builder said; a day the camera cannot have meant is left aside."""
    day = day_of(picture.taken, first=FIRST_DAY, last=clock.today())
    photo.kind, photo.width, photo.height = picture.kind, picture.width, picture.height
    photo.taken_on = day or clock.today()
    photo.taken_time = f"{picture.taken:%H:%M:%S}" if picture.taken else ""
    photo.dated_by = DatedBy.FILE if day else DatedBy.ARRIVAL
    photo.part = about.part or (about.entry.part if about.entry else None)
    photo.entry, photo.casting = about.entry, about.casting
    photo.caption, photo.before_closing_up = about.caption, about.before_closing_up
    return photo


def _store(file: "File[Any]", photo: Photo, picture: Picture) -> None:
    """The original first, whole; what is shown of it can always be made again."""
    originals = storages[ORIGINALS]
    if not _is_whole(originals, photo):
        originals.save(photo.file, File(file, name=photo.file))
    try:
        _keep_copies(photo, picture.small, picture.large)
    except OSError:
        log.warning("What is shown of photo %s could not be written; it is made when asked for", photo.sha256)


def _is_whole(originals: Storage, photo: Photo) -> bool:
    return originals.exists(photo.file) and originals.size(photo.file) == photo.size


@transaction.atomic
def _enter(photo: Photo, *, by: Doer, token: UUID) -> Brought:
    """Write the row; whoever sends the same bytes in the same moment finds it."""
    Build.objects.select_for_update().get(pk=photo.build_id)
    known = Photo.objects.filter(build=photo.build, sha256=photo.sha256).first()
    if known:
        return _known(photo.build, photo.file_name, known, by=by, token=token)
    photo.at, photo.by_id, photo.batch = clock.now(), by.pk if by else None, token
    photo.save()
    if photo.part:
        note_history(photo.part, "Photos brought in", by=by, token=token)
    return Brought(photo.file_name, photo)


def _known(build: Build, name: str, photo: Photo, *, by: Doer, token: UUID) -> Brought:
    photo.build = build
    if photo.binned_at:
        restore_photo(photo, by=by)
        return Brought(name, photo, "back")
    return Brought(name, photo, "new" if photo.batch == token else "here")


# ---- what is shown ---------------------------------------------------------------------------------------


def shown_picture(photo: Photo, size: str) -> bytes | None:
    """The copy that is shown, `small` or `large`, made now where it is not there; None where it cannot be."""
    previews = storages[PREVIEWS]
    name = preview_name(photo, size)
    try:
        if not previews.exists(name):
            with storages[ORIGINALS].open(photo.file) as original:
                _keep_copies(photo, *copies_of(original))
        with previews.open(name) as file:
            return bytes(file.read())
    except (OSError, PictureError) as wrong:
        log.warning("Photo %s cannot be shown: %s", photo.pk, wrong)
        return None


def preview_name(photo: Photo, size: str) -> str:
    """Named by the bytes it was made from, so that it is never another picture's."""
    return f"photos/{photo.sha256[:2]}/{photo.sha256}-{size}.jpg"


def _keep_copies(photo: Photo, small: bytes, large: bytes) -> None:
    previews = storages[PREVIEWS]
    for size, content in (("small", small), ("large", large)):
        previews.save(preview_name(photo, size), ContentFile(content))


def has_original(photo: Photo) -> bool:
    """Whether the file is still in its folder."""
    return storages[ORIGINALS].exists(photo.file)


def original_bytes(photo: Photo) -> Iterator[bytes]:
    """The file as it came, piece by piece; it is opened when the first is asked for."""
    with storages[ORIGINALS].open(photo.file) as file:
        yield from file.chunks()


# ---- mending, the bin ------------------------------------------------------------------------------------


@transaction.atomic
def change_photo(photo: Photo, *, by: Doer) -> bool:
    """Write what a builder said of a photo; whether anything differs from what stood."""
    stood = Photo.objects.select_for_update(of=("self",)).select_related("part").get(pk=photo.pk)
    names = [f"{name}_id" if name in ("part", "entry", "casting") else name for name in TYPED]
    if all(getattr(stood, name) == getattr(photo, name) for name in names):
        return False
    if stood.taken_on != photo.taken_on:
        photo.dated_by = DatedBy.HAND
    with recording(photo.build, f"{stood}: what it is of", by=by) as change:
        change.watch(row_of(photo))
        photo.save(update_fields=[*TYPED, "dated_by", "search_text"])
        if stood.part_id != photo.part_id:
            day = _day(photo.taken_on)
            if stood.part:
                note_history(stood.part, f"Photo of {day} is no longer with it", by=by)
            if photo.part:
                note_history(photo.part, f"Photo of {day} put with it", by=by)
        return True


@transaction.atomic
def bin_photo(photo: Photo, *, by: Doer) -> None:
    """Put a photo in the bin: its file stays where it is."""
    if photo.binned_at:
        return
    with recording(photo.build, f"{photo} put in the bin", by=by) as change:
        change.watch(row_of(photo))
        photo.binned_at = clock.now()
        photo.save(update_fields=["binned_at"])
        _tell_part(photo, "put in the bin", by=by)


@transaction.atomic
def restore_photo(photo: Photo, *, by: Doer) -> None:
    """Take a photo out of the bin."""
    if not photo.binned_at:
        return
    with recording(photo.build, f"{photo} taken back out of the bin", by=by) as change:
        change.watch(row_of(photo))
        photo.binned_at = None
        photo.save(update_fields=["binned_at"])
        _tell_part(photo, "taken back out of the bin", by=by)


def _tell_part(photo: Photo, what: str, *, by: Doer) -> None:
    if photo.part:
        note_history(photo.part, f"Photo of {_day(photo.taken_on)} {what}", by=by)


def _day(day: date) -> str:
    return clock.day_in_full(day)
