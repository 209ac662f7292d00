"""Photos: brought in one by one, shown small and large, mended, put in the bin and taken back."""

import logging
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.core.files.base import ContentFile, File
from django.core.files.storage import storages
from django.db import transaction

from buildlog import clock
from buildlog.actions.bins import put_in_bin, take_from_bin
from buildlog.actions.stages import Doer, note_history
from buildlog.changes import recording, row_of
from buildlog.forms.days import FIRST_DAY
from buildlog.kept_files import FULL_DISK, Brought, digest_of, has_original, short_name, store_original
from buildlog.models import Build, Casting, Concession, DatedBy, LogEntry, Part, Photo
from buildlog.picture_files import Picture, PictureError, copies_of, day_of, read_picture
from buildlog.storage import ORIGINALS, PREVIEWS

#: What a builder writes about a photo.
TYPED = ("taken_on", "caption", "before_closing_up", "part", "entry", "casting", "concession")
#: Those of them that point at something.
POINTING = ("part", "entry", "casting", "concession")
NAME_LENGTH = 120
log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What all the photos that are brought in together have in common."""

    part: Part | None = None
    entry: LogEntry | None = None
    casting: Casting | None = None
    concession: Concession | None = None
    caption: str = ""
    before_closing_up: bool = False


def bring_in(build: Build, file: "File[Any]", about: About, *, by: Doer, token: UUID) -> Brought[Photo]:
    """Keep one file as a photo, or say why not; nothing of it is stored by half.

    The same bytes are one photo. The same token and the same bytes are one bringing in, told twice.
    """
    name = short_name(file.name or "")
    sha256 = digest_of(file)
    known = Photo.objects.filter(build=build, sha256=sha256).first()
    if known and has_original(known):
        return _known(build, name, known, by=by, token=token)
    try:
        picture = read_picture(file, file.size)
        photo = _described(Photo(build=build, sha256=sha256, file_name=name, size=file.size), picture, about)
        _store(file, photo, picture)
    except PictureError as wrong:
        return Brought(name, state="wrong", why=str(wrong))
    except OSError:
        log.exception("A photo could not be written")
        return Brought(name, state="wrong", why=FULL_DISK)
    return _enter(photo, by=by, token=token)


def _described(photo: Photo, picture: Picture, about: About) -> Photo:
    """What the file says and what the builder said; a day the camera cannot have meant is left aside."""
    day = day_of(picture.taken, first=FIRST_DAY, last=clock.today())
    photo.kind, photo.width, photo.height = picture.kind, picture.width, picture.height
    photo.taken_on = day or clock.today()
    photo.taken_time = f"{picture.taken:%H:%M:%S}" if picture.taken else ""
    photo.dated_by = DatedBy.FILE if day else DatedBy.ARRIVAL
    photo.part = about.part or next((one.part for one in (about.entry, about.concession) if one), None)
    photo.entry, photo.casting, photo.concession = about.entry, about.casting, about.concession
    photo.caption, photo.before_closing_up = about.caption, about.before_closing_up
    return photo


def _store(file: "File[Any]", photo: Photo, picture: Picture) -> None:
    """The original first, whole; what is shown of it can always be made again."""
    store_original(file, photo)
    try:
        _keep_copies(photo, picture.small, picture.large)
    except OSError:
        log.warning("What is shown of photo %s could not be written; it is made when asked for", photo.sha256)


@transaction.atomic
def _enter(photo: Photo, *, by: Doer, token: UUID) -> Brought[Photo]:
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


def _known(build: Build, name: str, photo: Photo, *, by: Doer, token: UUID) -> Brought[Photo]:
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


# ---- mending, the bin ------------------------------------------------------------------------------------


@transaction.atomic
def change_photo(photo: Photo, *, by: Doer) -> bool:
    """Write what a builder said of a photo; whether anything differs from what stood."""
    stood = Photo.objects.select_for_update(of=("self",)).select_related("part").get(pk=photo.pk)
    names = [f"{name}_id" if name in POINTING else name for name in TYPED]
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


def bin_photo(photo: Photo, *, by: Doer) -> None:
    """Put a photo in the bin: its file stays where it is."""
    put_in_bin(photo, photo.build, str(photo), by=by, part=photo.part, line=_line(photo))


def restore_photo(photo: Photo, *, by: Doer) -> None:
    """Take a photo out of the bin."""
    take_from_bin(photo, photo.build, str(photo), by=by, part=photo.part, line=_line(photo))


def _line(photo: Photo) -> str:
    return f"Photo of {_day(photo.taken_on)}"


def _day(day: date) -> str:
    return clock.day_in_full(day)
