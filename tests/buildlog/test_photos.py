"""Photos kept: the file byte for byte, once, whole or not at all; what they belong to; the bin."""

import hashlib
from datetime import date
from pathlib import Path
from threading import Barrier, Thread
from uuid import uuid4

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import storages
from django.db import connection

from buildlog import storage
from buildlog.actions import photos
from buildlog.actions.photos import About, bring_in
from buildlog.finding import find
from buildlog.models import DatedBy, Photo
from tests.factories import (
    make_build,
    make_casting,
    make_log_entry,
    make_part,
    make_photo,
)
from tests.picture_files import exif_of, noise, picture, upload

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("files", "stopped_clock")]

TODAY = date(2026, 3, 14)


def lying(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def brought(build, content, about=None, *, name="IMG_0001.jpg", by=None, token=None):
    return bring_in(build, upload(content, name), about or About(), by=by, token=token or uuid4())


def told(part) -> list[str]:
    return list(part.history.order_by("pk").values_list("text", flat=True))


# ---- brought in ------------------------------------------------------------------------------------------


def test_photo_when_of_twelve_megapixels_then_its_file_is_kept_byte_for_byte(files, build):
    content = noise((4000, 3000), exif=exif_of(taken="2026:03:13 20:15:00", turned=6, placed=True))
    photo = brought(build, content).thing
    sha256 = hashlib.sha256(content).hexdigest()
    assert lying(files) == [f"photos/{build.pk}/{sha256}.jpg"]
    assert (files / photo.file).read_bytes() == content
    assert (photo.sha256, photo.size, photo.width, photo.height) == (sha256, len(content), 3000, 4000)
    assert (photo.taken_on, photo.taken_time, photo.dated_by) == (date(2026, 3, 13), "20:15:00", "file")


@pytest.mark.parametrize("taken", ["", "2026:03:15 10:00:00", "1904:01:01 00:00:00"])
def test_photo_when_the_file_gives_no_day_that_can_be_meant_then_of_the_day_it_came(build, taken):
    photo = brought(build, picture(exif=exif_of(taken=taken))).thing
    assert (photo.taken_on, photo.dated_by) == (TODAY, DatedBy.ARRIVAL)


def test_photo_when_brought_in_then_with_all_that_was_said_of_it(cast, build):
    part, casting = make_part(build), make_casting(build)
    entry = make_log_entry(build)
    about = About(part=part, entry=entry, casting=casting, caption="Inside, 57 T", before_closing_up=True)
    token = uuid4()
    photo = Photo.objects.get(pk=brought(build, picture(), about, by=cast.owner, token=token).thing.pk)
    assert (photo.part, photo.entry, photo.casting) == (part, entry, casting)
    assert (photo.caption, photo.search_text, photo.before_closing_up) == (
        "Inside, 57 T",
        "inside, 57t <57t>",
        True,
    )
    assert (photo.by, photo.batch, photo.file_name) == (cast.owner, token, "IMG_0001.jpg")
    assert told(part) == ["Photos brought in"]


def test_photo_when_brought_in_at_a_log_entry_then_of_its_part_too(build):
    part = make_part(build)
    entry = make_log_entry(part=part)
    assert brought(build, picture(), About(entry=entry)).thing.part == part


def test_photos_when_many_come_together_then_the_part_is_told_once(build):
    part, token = make_part(build), uuid4()
    for _ in range(14):
        brought(build, picture(), About(part=part), token=token)
    assert told(part) == ["Photos brought in"]
    assert part.photos.count() == 14


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("x" * 300 + ".jpeg", "x" * 111 + "…xxx.jpeg"),
        ("two\nlines\u202e.jpg", "two lines .jpg"),
        ("", "a file without a name"),
    ],
)
def test_photo_when_the_name_of_its_file_is_odd_then_kept_on_one_line(build, name, kept):
    file = ContentFile(picture(), name or None)
    assert bring_in(build, file, About(), by=None, token=uuid4()).thing.file_name == kept


# ---- the same bytes --------------------------------------------------------------------------------------


def test_photo_when_the_same_bytes_come_again_then_one_photo_and_said_so(files, build):
    content, part = picture(), make_part(build)
    first = brought(build, content, About(caption="First"))
    again = brought(build, content, About(part=part, caption="Again"), name="copy.jpg")
    assert (again.state, again.thing) == ("here", first.thing)
    assert again.words == "copy.jpg: is here already, byte for byte. It is kept once."
    assert Photo.objects.get().caption == "First"
    assert len(lying(files)) == 1
    assert told(part) == []


def test_photo_when_the_same_sending_is_repeated_then_it_is_told_as_the_first_time(build):
    content, token = picture(), uuid4()
    assert [brought(build, content, token=token).state for _ in range(2)] == ["new", "new"]
    assert Photo.objects.count() == 1


def test_photo_when_it_is_in_the_bin_then_bringing_it_in_takes_it_back(build):
    content, part = picture(), make_part(build)
    photo = make_photo(part=part, content=content)
    photos.bin_photo(photo, by=None)
    assert brought(build, content).state == "back"
    assert Photo.objects.get().binned_at is None
    assert told(part)[-2:] == [
        "Photo of 14 Mar 2026 put in the bin",
        "Photo of 14 Mar 2026 taken back out of the bin",
    ]


def test_photo_when_another_build_has_the_same_then_each_has_its_own(files, build):
    content, other = picture(), make_build(name="Second engine")
    assert [brought(one, content).state for one in (build, other)] == ["new", "new"]
    assert len(lying(files)) == 2


@pytest.mark.parametrize("left", [None, b"", b"half"])
def test_photo_when_its_file_was_lost_or_left_by_half_then_the_whole_is_written(files, build, left):
    content = picture()
    place = files / f"photos/{build.pk}/{hashlib.sha256(content).hexdigest()}.jpg"
    place.parent.mkdir(parents=True)
    if left is not None:
        place.write_bytes(left)
    assert brought(build, content).state == "new"
    assert place.read_bytes() == content


def test_photo_when_its_row_is_there_and_its_file_was_taken_away_then_it_comes_back(files, build):
    content = picture()
    photo = make_photo(build, content=content, caption="First")
    (files / photo.file).unlink()
    assert brought(build, content).state == "here"
    assert (files / photo.file).read_bytes() == content
    assert Photo.objects.get() == photo


# ---- nothing by half -------------------------------------------------------------------------------------

REFUSED = {
    "empty.jpg": (b"", "the file is empty"),
    "holiday.jpg": (b"MZ\x90\x00" + bytes(500), "is a program"),
    "cut.jpg": (noise((300, 200))[:9000], "cut short or damaged"),
    "drawn.svg": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "an SVG drawing"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_file_when_refused_then_named_and_nothing_of_it_is_there(files, build, name):
    content, why = REFUSED[name]
    found = brought(build, content, name=name)
    assert (found.state, found.thing) == ("wrong", None)
    assert found.words.startswith(f"{name}: ")
    assert why in found.words
    assert (lying(files), Photo.objects.count()) == ([], 0)


def test_photo_when_the_disk_is_full_then_said_so_and_nothing_of_it_is_there(files, build, monkeypatch):
    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(storage.os, "fsync", full)
    found = brought(build, picture())
    assert (found.state, Photo.objects.count(), lying(files)) == ("wrong", 0, [])
    assert "could not be written. Is the disk full?" in found.words


def test_photo_when_only_what_is_shown_cannot_be_written_then_kept_all_the_same(files, build, monkeypatch):
    def full(*_given):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(photos, "_keep_copies", full)
    assert brought(build, picture()).state == "new"
    assert len(lying(files)) == 1


def test_storage_when_a_file_is_written_over_then_it_holds_the_new_bytes_and_nothing_lies_beside(files):
    originals = storages[storage.ORIGINALS]
    for content in (b"first", b"second"):
        assert originals.save("a/b.jpg", ContentFile(content)) == "a/b.jpg"
    assert lying(files) == ["a/b.jpg"]
    assert (files / "a/b.jpg").read_bytes() == b"second"


@pytest.mark.django_db(transaction=True)
def test_photo_when_two_send_the_same_in_one_moment_then_one_photo():
    build, content, start, found = make_build(), picture(), Barrier(2), []

    def send():
        try:
            start.wait(10)
            found.append(brought(build, content).state)
        finally:
            connection.close()

    threads = [Thread(target=send) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert sorted(found) == ["here", "new"]
    assert Photo.objects.count() == 1


# ---- what is shown ---------------------------------------------------------------------------------------


def test_copies_when_a_photo_comes_then_made_at_once_apart_from_the_original(files, build, tmp_path):
    photo = make_photo(build)
    made = [f"photos/{photo.sha256[:2]}/{photo.sha256}-{size}.jpg" for size in ("large", "small")]
    assert lying(tmp_path / storage.PREVIEWS) == made


def test_copies_when_they_were_lost_then_made_again(build, tmp_path):
    photo = make_photo(build, content=noise((900, 600)))
    first = photos.shown_picture(photo, "small")
    for path in (tmp_path / storage.PREVIEWS).rglob("*.jpg"):
        path.unlink()
    assert photos.shown_picture(photo, "small") == first
    assert len(lying(tmp_path / storage.PREVIEWS)) == 2


# ---- mended, binned, and what they belong to gone --------------------------------------------------------


def test_photo_when_changed_then_written_and_both_parts_are_told(build):
    one, other = make_part(build), make_part(build)
    photo = make_photo(part=one)
    photo.part, photo.caption, photo.taken_on = other, "Inside the boiler", date(2025, 11, 2)
    assert photos.change_photo(photo, by=None)
    photo.refresh_from_db()
    assert (photo.part, photo.search_text, photo.dated_by) == (other, "inside the boiler", DatedBy.HAND)
    assert told(one)[-1] == "Photo of 2 Nov 2025 is no longer with it"
    assert told(other) == ["Photo of 2 Nov 2025 put with it"]
    assert not photos.change_photo(photo, by=None)


def test_photo_when_what_it_belongs_to_is_deleted_then_it_stays(files, build):
    part, entry, casting = make_part(build), make_log_entry(build), make_casting(build)
    photo = make_photo(part=part, entry=entry, casting=casting)
    for thing in (part, entry, casting):
        thing.delete()
    photo.refresh_from_db()
    assert (photo.part, photo.entry, photo.casting) == (None, None, None)
    assert len(lying(files)) == 1


def test_photo_when_put_in_the_bin_then_its_file_stays_and_it_comes_back(files, build):
    photo = make_photo(build)
    photos.bin_photo(photo, by=None)
    photos.bin_photo(photo, by=None)
    assert list(Photo.objects.live()) == []
    assert len(lying(files)) == 1
    photos.restore_photo(photo, by=None)
    assert list(Photo.objects.live()) == [photo]


def test_photos_when_put_in_order_then_by_day_then_by_the_cameras_clock():
    build = make_build()
    moments = [(date(2026, 3, 1), "10:00:00"), (date(2026, 2, 1), "23:00:00"), (date(2026, 3, 1), "09:59:59"),
               (date(2026, 3, 1), "")]  # fmt: skip
    made = [make_photo(build, taken_on=on, taken_time=time) for on, time in moments]
    order = [made[1], made[3], made[2], made[0]]
    assert list(build.photos.earliest_first()) == order
    assert list(build.photos.latest_first()) == order[::-1]
    for place, photo in enumerate(order):
        assert list(build.photos.before(photo)) == order[:place][::-1]
        assert list(build.photos.after(photo)) == order[place + 1 :]


def test_find_when_a_caption_holds_the_words_then_found_among_the_photos(build):
    part = make_part(build, number="B-002")
    photo = make_photo(part=part, caption="57-tooth blank on the mandrel", taken_on=date(2025, 11, 2))
    binned = make_photo(build, caption="57 T, out of focus")
    photos.bin_photo(binned, by=None)
    for text in ("57T", "mandrel blank"):
        group = next(group for group in find(build, text) if group.title == "Photos")
        assert [(line.ref, line.url, line.on) for line in group.lines] == [
            ("B-002", photo.get_absolute_url(), date(2025, 11, 2))
        ]
