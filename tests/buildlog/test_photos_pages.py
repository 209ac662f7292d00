"""The pages of photos: many brought in at once, the contact sheet, one alone, the pictures themselves."""

import json
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import storage
from buildlog.actions.concessions import open_concession
from buildlog.actions.parts import bin_part
from buildlog.models import Photo
from tests.factories import (
    make_build,
    make_casting,
    make_characteristic,
    make_log_entry,
    make_part,
    make_photo,
    make_reading,
)
from tests.pages import alerts, entries, fill_in, left_as_it_comes, links, words
from tests.picture_files import CAMERA, exif_of, noise, picture, segments, upload

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("files", "stopped_clock")]

TODAY = date(2026, 3, 14)


@pytest.fixture
def sheet(build) -> str:
    return reverse("photo_list", args=[build.pk])


@pytest.fixture
def new(build) -> str:
    return reverse("photo_new", args=[build.pk])


def send(site, new, *uploads, **said):
    values = {"token": str(uuid4()), "part": "", "caption": ""} | said
    headers = {"Accept": values.pop("accept", "text/html")}
    return site.post(new, values | {"photos": list(uploads)}, headers=headers)


def follow(site, answer):
    assert answer.status_code == 302
    return site.get(answer["Location"])


def body(answer) -> bytes:
    return b"".join(answer.streaming_content) if answer.streaming else answer.content


# ---- many at once ----------------------------------------------------------------------------------------


def test_photos_when_fourteen_of_the_boiler_are_brought_in_then_just_those_are_found_again(
    site, build, sheet, new
):
    boiler, wheel = (
        make_part(build, number="B-002", name="Boiler"),
        make_part(build, number="S-016", name="Wheel"),
    )
    others = [make_photo(part=boiler, caption="Backhead"), make_photo(part=wheel, caption="Inside the rim")]
    inside = [upload(picture(), f"IMG_{place:04}.jpg") for place in range(14)]
    send(site, new, *inside, part="b-002", caption="Inside, before the last plate", before_closing_up="on")
    assert Photo.objects.filter(before_closing_up=True, part=boiler).count() == 14
    found = set(links(site.get(sheet, {"find": "boiler inside"})))
    for photo in Photo.objects.all():
        address = f"{photo.get_absolute_url()}?find=boiler+inside"
        assert (address in found) is (photo not in others)
    assert "14 photos" in words(site.get(sheet, {"part": "B-002", "closing": "on"}))


def test_photos_when_all_are_good_then_said_and_back_to_the_contact_sheet(site, sheet, new):
    answer = send(site, new, upload(picture()), upload(picture()))
    assert answer["Location"] == sheet
    assert "2 photos are in." in words(site.get(sheet))


def test_photos_when_some_are_bad_then_each_is_named_and_the_others_are_in_and_what_was_typed_stays(
    site, build, new, files
):
    part = make_part(build, number="B-002")
    answer = send(
        site, new,
        upload(picture(), "good.jpg"), upload(b"MZ\x90\x00" + bytes(300), "trick.jpg"),
        upload(b"", "empty.png"), upload(noise((300, 200))[:9000], "cut.jpg"),
        upload(picture(), "also good.jpg"),
        part="B-002", caption="Inside",
    )  # fmt: skip
    assert answer.status_code == 422
    said = alerts(answer)
    assert "3 files could not be kept, and nothing of them is stored" in said
    for name, why in (("trick.jpg", "is a program"), ("empty.png", "is empty"), ("cut.jpg", "cut short")):
        assert f"{name}: " in said
        assert why in said
    assert "2 photos are in." in words(answer)
    assert (entries(answer)["part"], entries(answer)["caption"]) == ("B-002", "Inside")
    assert part.photos.count() == 2
    assert len([path for path in files.rglob("*") if path.is_file()]) == 2


def test_photos_when_the_same_batch_is_tried_again_then_no_doubles_and_said_so(site, new):
    contents = [picture() for _ in range(3)]
    for _ in range(2):
        answer = send(site, new, *[upload(one, f"{place}.jpg") for place, one in enumerate(contents)])
    assert "3 were here already, byte for byte, and nothing is kept twice: 0.jpg, 1.jpg, 2.jpg." in words(
        follow(site, answer)
    )
    assert Photo.objects.count() == 3


def test_photos_when_sent_by_two_clicks_then_both_say_the_same(site, new):
    content, token = picture(), str(uuid4())
    for _ in range(2):
        answer = send(site, new, upload(content), token=token)
        assert "1 photo is in." in words(follow(site, answer))
    assert Photo.objects.count() == 1


def test_photos_when_none_is_chosen_then_told_at_the_entry(site, new):
    answer = send(site, new, caption="Inside")
    assert answer.status_code == 422
    assert "No picture is chosen yet" in alerts(answer)
    assert entries(answer)["caption"] == "Inside"


def test_photos_when_the_part_is_not_there_then_nothing_is_kept_and_the_entry_is_named(site, new):
    answer = send(site, new, upload(picture()), part="Z-999", caption="Inside")
    assert answer.status_code == 422
    assert "Part: No part Z-999 is in this build" in alerts(answer)
    assert (entries(answer)["part"], entries(answer)["caption"]) == ("Z-999", "Inside")
    assert not Photo.objects.exists()


@pytest.mark.parametrize("turn", ["\u202e", "\x00"])
def test_photos_when_the_caption_holds_an_unseen_sign_then_refused(site, new, turn):
    answer = send(site, new, upload(picture()), caption=f"In{turn}side")
    assert answer.status_code == 422
    assert not Photo.objects.exists()


def test_photos_when_things_of_another_build_are_named_then_refused(site, cast, new):
    other = make_build(cast.stranger)
    entry, casting = make_log_entry(other), make_casting(other)
    for said in ({"entry": str(entry.pk)}, {"casting": casting.number}, {"entry": "9" * 30}, {"entry": "x"}):
        assert send(site, new, upload(picture()), **said).status_code == 422
    assert not Photo.objects.exists()


@pytest.mark.parametrize("kind", ["part", "entry", "casting"])
def test_photos_when_brought_in_on_the_page_of_a_thing_then_they_are_of_it_and_that_page_comes_back(
    site, build, new, kind
):
    thing = {"part": make_part, "entry": make_log_entry, "casting": make_casting}[kind](build)
    page = thing.get_absolute_url()
    came = left_as_it_comes(site, page)
    answer = site.post(new, came | {"photos": [upload(picture())], "caption": "Seen"})
    assert answer["Location"] == f"{page}#photos"
    photo = Photo.objects.get()
    assert getattr(photo, kind) == thing
    shown = site.get(page)
    assert reverse("photo_small", args=[photo.pk]) in shown.content.decode()
    assert "Seen" in words(shown)


def test_new_photos_when_asked_for_a_part_then_its_number_stands_there(site, build, new):
    make_part(build, number="B-002")
    assert entries(site.get(new, {"part": "B-002"}))["part"] == "B-002"
    assert entries(site.get(new, {"part": "Z-999"}))["part"] == ""


# ---- by script, one by one -------------------------------------------------------------------------------


def by_script(site, new, *uploads, **said):
    answer = send(site, new, *uploads, accept="application/json", **said)
    return answer.status_code, json.loads(answer.content)


def test_photo_when_sent_by_script_then_told_in_json(site, sheet, new):
    content = picture()
    status, told = by_script(site, new, upload(content, "a.jpg"))
    assert (status, told) == (200, {"files": [{"state": "new", "words": "a.jpg: is in."}], "back": sheet})
    _, told = by_script(site, new, upload(content, "b.jpg"))
    assert told["files"][0]["state"] == "here"
    _, told = by_script(site, new, upload(b"words", "c.jpg"))
    assert told["files"][0]["state"] == "wrong"
    assert told["files"][0]["words"].startswith("c.jpg: what is in the file")


def test_photo_when_sent_by_script_with_a_wrong_part_then_the_entry_is_named(site, new):
    status, told = by_script(site, new, upload(picture()), part="Z-999")
    assert status == 422
    assert told["refused"].startswith("Part: No part Z-999 is in this build.")
    assert not Photo.objects.exists()


# ---- the contact sheet -----------------------------------------------------------------------------------


def test_sheet_when_there_are_none_then_it_says_how_to_begin(site, sheet):
    assert "No photos yet" in words(site.get(sheet))


def test_sheet_then_by_days_the_newest_first_and_the_bin_left_out(site, build, sheet):
    for days in (0, 1, 1):
        make_photo(build, taken_on=TODAY - timedelta(days=days))
    make_photo(build, binned_at="2026-03-14T09:00Z")
    said = words(site.get(sheet))
    assert "Saturday 14 March 1 photo" in said
    assert "Friday 13 March 2 photos" in said
    assert said.index("14 March") < said.index("13 March")
    assert "3 photos" in said


def test_sheet_when_there_are_more_than_a_page_then_turned_and_a_day_counts_all_of_its_photos(
    site, build, sheet
):
    Photo.objects.bulk_create(
        Photo(
            build=build, sha256=f"{place:064}", kind="jpeg", size=1, width=4, height=3, taken_on=TODAY,
            at="2026-03-14T09:00Z",
        )
        for place in range(70)
    )  # fmt: skip
    first, second = site.get(sheet), site.get(sheet, {"page": 2})
    assert [page.content.count(b"<img") for page in (first, second)] == [60, 10]
    for page in (first, second):
        assert "Saturday 14 March 70 photos" in words(page)
    assert "?page=2" in links(first)
    assert "?page=1" in links(second)


@pytest.mark.parametrize("query", ["?part=Z-999", "?find=nothing", "?closing=on", "?page=99", "?page=x"])
def test_sheet_when_asked_for_what_is_not_there_then_it_says_so(site, build, sheet, query):
    make_photo(build)
    assert site.get(f"{sheet}{query}").status_code == 200


# ---- one alone -------------------------------------------------------------------------------------------


def test_photo_then_the_earlier_and_the_later_of_those_asked_for_are_a_link_away(site, build):
    part = make_part(build, number="B-002")
    days = [make_photo(part=part if place != 2 else None, build=build, taken_on=TODAY - timedelta(days=place))
            for place in range(4)]  # fmt: skip
    found = links(site.get(days[1].get_absolute_url()))
    assert days[0].get_absolute_url() in found
    assert days[2].get_absolute_url() in found
    query = "?part=B-002"
    found = links(site.get(f"{days[1].get_absolute_url()}{query}"))
    assert f"{days[0].get_absolute_url()}{query}" in found
    assert f"{days[3].get_absolute_url()}{query}" in found


def test_photo_when_mended_then_written_and_the_way_through_the_sheet_is_kept(site, build):
    part, entry, casting = make_part(build), make_log_entry(build), make_casting(build)
    photo = make_photo(build)
    page = f"{photo.get_absolute_url()}?closing=on"
    answer = fill_in(
        site, page, caption="Inside", taken_on="2 Nov 2025", part=part.key, entry=str(entry.pk),
        casting=casting.number.lower(), before_closing_up="on",
    )  # fmt: skip
    assert answer.redirect_chain == [(page, 302)]
    photo.refresh_from_db()
    assert (photo.caption, photo.taken_on, photo.before_closing_up) == ("Inside", date(2025, 11, 2), True)
    assert (photo.part, photo.entry, photo.casting, photo.dated_by) == (part, entry, casting, "hand")
    assert "dated by hand" in words(answer)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"taken_on": ""}, "Which day was it?"),
        ({"taken_on": "2026-03-15"}, "is still to come"),
        ({"part": "Z-999"}, "No part Z-999 is in this build"),
        ({"casting": "Q-1"}, "No casting Q-1 is in this build"),
        ({"caption": "x" * 501}, "500"),
    ],
)
def test_photo_when_an_entry_is_wrong_then_named_and_nothing_is_written(site, build, typed, said):
    photo = make_photo(build, caption="As it was")
    answer = fill_in(site, photo.get_absolute_url(), **typed)
    assert answer.status_code == 422
    assert said in alerts(answer)
    photo.refresh_from_db()
    assert (photo.caption, photo.taken_on) == ("As it was", TODAY)


def test_photo_when_another_tab_has_changed_it_then_told_once_and_nothing_typed_is_lost(site, build):
    photo = make_photo(build)
    page = photo.get_absolute_url()
    came = left_as_it_comes(site, page)
    fill_in(site, page, caption="The other's words")
    answer = site.post(page, came | {"caption": "Mine"})
    assert answer.status_code == 422
    assert "The other's words" in alerts(answer).replace("&#x27;", "'")
    assert entries(answer)["caption"] == "Mine"
    site.post(page, came | {"caption": "Mine", "opened_at": entries(answer)["opened_at"]})
    photo.refresh_from_db()
    assert photo.caption == "Mine"


def test_photo_when_its_part_is_in_the_bin_then_it_can_be_mended_and_stays_with_it(site, build):
    part = make_part(build)
    photo = make_photo(part=part)
    bin_part(part, by=None)
    assert fill_in(site, photo.get_absolute_url(), caption="Still there").status_code == 200
    photo.refresh_from_db()
    assert (photo.part, photo.caption) == (part, "Still there")
    assert site.get(part.get_absolute_url()).content.count(b"<img") == 1


def test_photo_when_put_in_the_bin_then_the_page_offers_it_back_at_once(site, build, sheet):
    photo = make_photo(build)
    answer = site.post(reverse("photo_bin", args=[photo.pk]), follow=True)
    assert "This photo is in the bin since 14 March 2026" in words(answer)
    assert (
        reverse("photo_small", args=[photo.pk])
        in site.get(reverse("bin_page", args=[build.pk])).content.decode()
    )
    answer = site.post(reverse("photo_restore", args=[photo.pk]), follow=True)
    assert "The photo is back among the others." in words(answer)
    assert "1 photo" in words(site.get(sheet))


# ---- the pictures themselves -----------------------------------------------------------------------------


@pytest.mark.parametrize("size", ["photo_small", "photo_large"])
def test_picture_when_served_then_it_carries_no_position_and_only_this_browser_keeps_it(site, build, size):
    content = noise((4000, 3000), exif=exif_of(taken="2026:03:13 20:15:00", turned=6, placed=True))
    photo = make_photo(build, content=content)
    answer = site.get(reverse(size, args=[photo.pk]))
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Cache-Control"] == "private, max-age=604800"
    # Of the markers of ITU-T T.81 only what is needed to see it; EXIF stands in APP1, 0xE1.
    assert {marker for marker, _ in segments(answer.content)} == {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
    assert CAMERA.encode() not in answer.content


@pytest.mark.parametrize(("kind", "served"), [("JPEG", "jpeg"), ("PNG", "png"), ("WEBP", "webp")])
def test_original_when_asked_for_then_byte_for_byte_as_a_file_to_take_away(site, build, kind, served):
    content = picture(kind, exif=exif_of(placed=True))
    photo = make_photo(build, content=content, name="holiday.exe")
    answer = site.get(reverse("photo_original", args=[photo.pk]))
    assert body(answer) == content
    assert answer["Content-Type"] == f"image/{served}"
    ending = "jpg" if served == "jpeg" else served
    assert answer["Content-Disposition"] == f'attachment; filename="holiday.{ending}"'
    assert (answer["X-Content-Type-Options"], answer["Cache-Control"]) == ("nosniff", "private, no-store")
    assert answer["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert answer["Content-Length"] == str(len(content))


def test_original_when_linked_then_the_page_says_what_it_may_hold(site, build):
    photo = make_photo(build)
    page = site.get(photo.get_absolute_url())
    assert reverse("photo_original", args=[photo.pk]) in links(page)
    assert "It may hold where it was taken" in words(page)


@pytest.mark.parametrize("left", [None, b"", b"no picture any more"])
def test_picture_when_it_cannot_be_made_then_a_placeholder_and_never_an_error(
    site, build, files, tmp_path, left
):
    photo = make_photo(build)
    for path in (tmp_path / storage.PREVIEWS).rglob("*.jpg"):
        path.unlink()
    if left is None:
        (files / photo.file).unlink()
    else:
        (files / photo.file).write_bytes(left)
    answer = site.get(reverse("photo_small", args=[photo.pk]))
    assert (answer.status_code, answer["Content-Type"]) == (200, "image/svg+xml")
    assert answer["Cache-Control"] == "private, no-store"
    assert site.get(reverse("photo_original", args=[photo.pk])).status_code == (404 if left is None else 200)


def test_photo_when_brought_in_from_a_concession_then_with_it_and_its_part_and_mended_by_its_number(
    site, build
):
    size = make_characteristic(
        make_part(build, number="S-008"), nominal="1.2500", upper="+0.0005", lower="-0"
    )
    concession = open_concession(make_reading(size, "1.2530"), by=None)
    page = site.get(concession.get_absolute_url())
    sent = {name: entries(page)[name] for name in ("token", "concession", "came_from")}
    said = sent | {"photos": [upload(picture(), "bush.jpg")]}
    answer = site.post(reverse("photo_new", args=[build.pk]), said)
    assert answer["Location"] == f"{concession.get_absolute_url()}#photos"
    photo = Photo.objects.get()
    assert (photo.concession, photo.part) == (concession, concession.part)
    fill_in(site, photo.get_absolute_url(), concession="")
    photo.refresh_from_db()
    assert photo.concession is None
    answer = fill_in(site, photo.get_absolute_url(), concession="c99")
    assert "There is no C-099 in this build" in alerts(answer)
    fill_in(site, photo.get_absolute_url(), concession="c1")
    photo.refresh_from_db()
    assert photo.concession == concession
