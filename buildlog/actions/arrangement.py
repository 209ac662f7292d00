"""The picture under the balloons: brought in, taken from a photo, taken away; the balloons placed on it."""

import logging
from collections.abc import Mapping
from pathlib import PurePath
from typing import Any

from django.core.files.base import ContentFile, File
from django.core.files.storage import storages
from django.db import transaction

from buildlog import clock
from buildlog.changes import Doer, recording
from buildlog.kept_files import digest_of, short_name, store_original
from buildlog.models import Arrangement, BalloonPlace, Build, Photo, Spot
from buildlog.picture_files import Picture, PictureError, copies_of, read_picture
from buildlog.storage import ORIGINALS, PREVIEWS

STAYS = "What stood under the balloons stays there."
log = logging.getLogger(__name__)


def put_picture(
    build: Build, file: "File[Any]", *, by: Doer, photo: Photo | None = None, name: str = ""
) -> Arrangement:
    """Put a picture under the balloons of a build; the one that was there goes into the bin.

    A picture that was there before comes out of the bin with its balloons; on a new one they stand where they
    stood on the last.

    Raises
    ------
    PictureError
        It cannot be kept; what stood there stays.
    """
    sha256 = digest_of(file)
    try:
        picture = read_picture(file, file.size)
        new = Arrangement(
            build=build,
            sha256=sha256,
            kind=picture.kind,
            size=file.size,
            width=picture.width,
            height=picture.height,
            file_name=short_name(name or file.name or ""),
            photo=photo,
        )
        _store(file, new, picture)
    except PictureError as wrong:
        raise PictureError(f"{_sentence(str(wrong))} {STAYS}") from None
    except OSError:
        log.exception("A picture for the arrangement could not be written")
        raise PictureError(
            f"It could not be written. Is the disk full? Make room on it, and choose it again. {STAYS}"
        ) from None
    return _enter(new, by=by)


def put_photo(build: Build, photo: Photo, *, by: Doer) -> Arrangement:
    """Put one of the build's photos under the balloons: its file is copied; raises PictureError as above."""
    try:
        with storages[ORIGINALS].open(photo.file) as original:
            name = PurePath(photo.file_name).name
            return put_picture(build, File(original, name=name), by=by, photo=photo, name=name)
    except OSError:
        raise PictureError(
            f"The file of this photo is no longer in its folder. Choose another. {STAYS}"
        ) from None


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _store(file: "File[Any]", arrangement: Arrangement, picture: Picture) -> None:
    """The original first, whole; what is shown of it can always be made again."""
    store_original(file, arrangement)
    try:
        _keep_copies(arrangement.sha256, picture.small, picture.large)
    except OSError:
        log.warning("What is shown of %s could not be written; it is made when asked for", arrangement.file)


def copy_name(sha256: str, size: str) -> str:
    """Named by the bytes it was made from, so that it is never another picture's."""
    return f"arrangements/{sha256[:2]}/{sha256}-{size}.jpg"


def _keep_copies(sha256: str, small: bytes, large: bytes) -> None:
    for size, content in (("small", small), ("large", large)):
        storages[PREVIEWS].save(copy_name(sha256, size), ContentFile(content))


def shown_arrangement(arrangement: Arrangement, size: str) -> bytes | None:
    """The copy that is shown, `small` or `large`, made now where it is not there; None where it cannot be."""
    previews, name = storages[PREVIEWS], copy_name(arrangement.sha256, size)
    try:
        if not previews.exists(name):
            with storages[ORIGINALS].open(arrangement.file) as original:
                _keep_copies(arrangement.sha256, *copies_of(original))
        with previews.open(name) as file:
            return bytes(file.read())
    except (OSError, PictureError) as wrong:
        log.warning("The picture of arrangement %s cannot be shown: %s", arrangement.pk, wrong)
        return None


# ---- one at a time, the bin ------------------------------------------------------------------------------


@transaction.atomic
def _enter(new: Arrangement, *, by: Doer) -> Arrangement:
    Build.objects.select_for_update().get(pk=new.build_id)
    pictures = Arrangement.objects.pictures().filter(build_id=new.build_id)
    known = pictures.filter(sha256=new.sha256).first()
    last = pictures.filter(binned_at=None).first()
    with recording(new.build_id, "Another picture under the balloons", by=by) as change:
        change.watch(pictures, BalloonPlace.objects.filter(arrangement__build=new.build_id))
        if known:
            return _take_back(known)
        _bin_all(new.build_id)
        new.at, new.by_id = clock.now(), by.pk if by else None
        new.save()
        if last:
            _write(new, {place.assembly_id: place.spot for place in last.places.all()})
    return new


def _take_back(arrangement: Arrangement) -> Arrangement:
    if arrangement.binned_at:
        _bin_all(arrangement.build_id)
        arrangement.binned_at = None
        arrangement.save(update_fields=["binned_at"])
    return arrangement


def _bin_all(build_id: int) -> None:
    pictures = Arrangement.objects.pictures().filter(build_id=build_id, binned_at=None)
    pictures.update(binned_at=clock.now())


@transaction.atomic
def bin_picture(build: Build, *, by: Doer) -> None:
    """Take the picture away: its file and its balloons stay with it in the bin."""
    Build.objects.select_for_update().get(pk=build.pk)
    with recording(build, "The picture under the balloons put in the bin", by=by) as change:
        change.watch(build.arrangements.all())
        _bin_all(build.pk)


@transaction.atomic
def restore_picture(arrangement: Arrangement, *, by: Doer) -> Arrangement:
    """Put a picture under the balloons again; the one that is there goes into the bin."""
    Build.objects.select_for_update().get(pk=arrangement.build_id)
    with recording(arrangement.build_id, "A picture put under the balloons again", by=by) as change:
        change.watch(Arrangement.objects.filter(build=arrangement.build_id))
        return _take_back(Arrangement.objects.get(pk=arrangement.pk))


# ---- balloons --------------------------------------------------------------------------------------------


@transaction.atomic
def place_balloons(build: Build, spots: Mapping[int, Spot], *, by: Doer) -> bool:
    """Put the balloons of a build where they are said to be, all of them; whether anything differs.

    `spots` holds those that stand by hand, by their assembly; every other stands as drawn, or nowhere.
    """
    Build.objects.select_for_update().get(pk=build.pk)
    found = build.arrangements.filter(binned_at=None)
    ground = found.pictures().first() or found.filter(sha256="").first()
    is_new = ground is None
    if ground is None:
        ground = Arrangement(build=build, at=clock.now(), by_id=by.pk if by else None)
        if not spots:
            return False
    with recording(build, "Balloons placed", by=by) as change:
        change.watch(found, BalloonPlace.objects.filter(arrangement__build=build))
        if is_new:
            ground.save()
        return _write(ground, spots)


def _write(ground: Arrangement, spots: Mapping[int, Spot]) -> bool:
    stood = {place.assembly_id: place for place in ground.places.all()}
    if {pk: place.spot for pk, place in stood.items()} == dict(spots):
        return False
    ground.places.exclude(assembly_id__in=spots).delete()
    for assembly, (end_x, end_y, x, y) in spots.items():
        if assembly in stood and stood[assembly].spot == spots[assembly]:
            continue
        place = stood.get(assembly) or BalloonPlace(arrangement=ground, assembly_id=assembly)
        place.end_x, place.end_y, place.x, place.y = end_x, end_y, x, y
        place.save()
    return True
