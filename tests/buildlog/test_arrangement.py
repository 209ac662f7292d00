"""The general arrangement: a picture of one's own under the balloons, and balloons placed by hand."""

import hashlib
import io
import re
from decimal import Decimal

import pytest
from django.core.files.storage import storages
from django.db import IntegrityError, transaction
from django.test import Client
from django.urls import reverse
from PIL import Image

from buildlog import storage
from buildlog.actions import arrangement as acting
from buildlog.actions.arrangement import place_balloons, put_picture
from buildlog.actions.demo import load_demo, remove_demo
from buildlog.arrangement import ground_of
from buildlog.backup.database import NOUNS, counted
from buildlog.models import Arrangement, BalloonPlace, Build
from buildlog.picture_files import PictureError
from buildlog.side_views import SIDE_VIEWS
from tests.buildlog.arranged import balloons
from tests.factories import (
    make_arrangement,
    make_assembly,
    make_build,
    make_photo,
    make_place,
    make_user,
)
from tests.pages import alerts, entries, words
from tests.picture_files import CAMERA, exif_of, noise, picture, upload

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("files", "stopped_clock")]


@pytest.fixture
def boiler(build):
    return make_assembly(build, code="B", name="Boiler", balloon="1")


@pytest.fixture
def wheels(build):
    return make_assembly(build, code="FW", name="Front axle and wheels", balloon="3")


def at(name, build):
    return reverse(name, args=[build.pk])


def spot(*figures) -> tuple:
    return tuple(Decimal(figure) for figure in figures)


def send(site, build, content, name="side.jpg"):
    return site.post(at("arrangement_picture", build), {"picture": upload(content, name)})


def placing(assembly, end_x, end_y, x, y) -> dict[str, str]:
    names = ("end_x", "end_y", "x", "y")
    return {f"{name}_{assembly.pk}": figure for name, figure in zip(names, (end_x, end_y, x, y), strict=True)}


def all_black(side) -> bytes:
    written = io.BytesIO()
    Image.new("1", (side, side)).save(written, "PNG")
    return written.getvalue()


# ---- the picture -----------------------------------------------------------------------------------------


def test_picture_when_brought_in_then_kept_byte_for_byte_and_shown_without_the_cameras_notes(
    site, build, boiler, files
):
    content = noise((900, 600), exif=exif_of(taken="2026:03:01 10:00:00", placed=True))
    assert send(site, build, content)["Location"] == at("arrangement_place", build)
    own = build.arrangements.get()
    sha256 = hashlib.sha256(content).hexdigest()
    assert (files / f"arrangements/{build.pk}/{sha256}.jpg").read_bytes() == content
    assert (own.sha256, own.size, own.width, own.height) == (sha256, len(content), 900, 600)
    assert (own.file_name, own.by.get_username()) == ("side.jpg", "owner")
    for size in ("small", "large"):
        shown = site.get(reverse(f"arrangement_{size}", args=[own.pk]))
        assert shown["Content-Type"] == "image/jpeg"
        assert b"Exif" not in shown.content
        assert CAMERA.encode() not in shown.content
    assert f"/arrangements/{own.pk}/large.jpg" in site.get(at("engine", build)).content.decode()


def test_picture_when_lying_on_its_side_then_the_balloons_go_by_how_it_is_looked_at(build):
    own = put_picture(build, upload(noise((900, 600), exif=exif_of(turned=6))), by=None)
    ground = ground_of(build)
    assert (own.width, own.height) == (600, 900)
    assert ground.width / ground.height == pytest.approx(600 / 900)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "The file is empty"),
        (noise((600, 400))[:20000], "The picture is cut short or damaged"),
        (b"%PDF-1.7 " + bytes(200), "What is in the file is a PDF"),
        (all_black(14000), "it has 14,000 × 14,000 pixels, 196 million; a picture may have 100 million"),
    ],
    ids=["empty", "cut short", "pdf", "too many pixels"],
)
def test_picture_when_it_cannot_be_kept_then_said_why_and_the_old_one_stays(site, build, content, said):
    old = make_arrangement(build)
    answer = send(site, build, content)
    assert answer.status_code == 422
    assert said.lower() in alerts(answer).lower()
    assert "What stood under the balloons stays there." in alerts(answer)
    assert [one.pk for one in build.arrangements.filter(binned_at=None)] == [old.pk]
    assert Arrangement.objects.count() == 1


def test_picture_when_none_is_chosen_then_said_so(site, build):
    answer = site.post(at("arrangement_picture", build), {})
    assert answer.status_code == 422
    assert "No picture is chosen yet" in alerts(answer)


def test_picture_when_the_disk_is_full_then_said_so_and_nothing_is_half_there(site, build, monkeypatch):
    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(storages[storage.ORIGINALS], "_save", full)
    answer = send(site, build, picture())
    assert answer.status_code == 422
    assert "Is the disk full?" in alerts(answer)
    assert not Arrangement.objects.exists()


def test_picture_when_replaced_then_the_last_is_in_the_bin_and_the_balloons_stand_as_they_stood(
    site, build, boiler, files
):
    first = make_arrangement(build)
    make_place(first, boiler, end=("0.5", "0.5"), at=("0.3", "0.2"))
    send(site, build, picture())
    second = build.arrangements.get(binned_at=None)
    first.refresh_from_db()
    assert first.binned_at
    assert (files / first.file).is_file()
    assert second.places.get().spot == spot("0.5", "0.5", "0.3", "0.2")
    # Taken back, it has its own balloons again; the other is in the bin with those it had.
    place_balloons(build, {boiler.pk: spot("0.1", "0.1", "0.2", "0.2")}, by=None)
    site.post(reverse("arrangement_restore", args=[first.pk]))
    assert ground_of(build).picture == first
    assert ground_of(build).spots == {boiler.pk: spot("0.5", "0.5", "0.3", "0.2")}
    assert second.places.get().spot == spot("0.1", "0.1", "0.2", "0.2")


def test_picture_when_brought_in_again_then_it_is_the_same_one_with_its_balloons(site, build, boiler):
    content = picture()
    first = make_arrangement(build, content=content)
    make_place(first, boiler)
    send(site, build, content)
    assert Arrangement.objects.count() == 1
    site.post(at("arrangement_bin", build))
    assert ground_of(build) is None
    send(site, build, content)
    assert ground_of(build).picture == first
    assert list(ground_of(build).spots) == [boiler.pk]


def test_picture_when_taken_away_then_in_the_bin_with_a_way_back(site, build, files):
    own = make_arrangement(build)
    site.post(at("arrangement_bin", build))
    assert (files / own.file).is_file()
    page = site.get(at("arrangement_picture", build))
    assert "Take it back" in words(page)
    assert "No picture yet" not in words(site.get(at("engine", build)))  # There is no assembly to place.
    site.post(reverse("arrangement_restore", args=[own.pk]))
    assert ground_of(build).picture == own


def test_picture_when_one_of_the_photos_is_chosen_then_it_outlives_that_photo(site, build, files):
    photo = make_photo(build, name="IMG_7.jpg")
    assert f'value="{photo.pk}"' in site.get(at("arrangement_picture", build)).content.decode()
    site.post(at("arrangement_picture", build), {"photo": photo.pk})
    own = ground_of(build).picture
    assert (own.photo, own.sha256, own.file_name) == (photo, photo.sha256, "IMG_7.jpg")
    assert (files / own.file).read_bytes() == (files / photo.file).read_bytes()
    photo.delete()
    own.refresh_from_db()
    assert own.photo is None
    assert ground_of(build).picture == own


@pytest.mark.parametrize("whose", ["another build", "a stranger", "nobody"])
def test_picture_when_the_photo_is_not_of_the_build_then_nothing_is_found(cast, site, build, whose):
    other = make_build(cast.owner if whose == "another build" else cast.stranger, name="Second engine")
    pk = make_photo(other).pk if whose != "nobody" else "9" * 30
    assert site.post(at("arrangement_picture", build), {"photo": pk}).status_code == 404
    assert not Arrangement.objects.exists()


def test_picture_when_the_photos_file_is_gone_then_said_so(site, build, files):
    photo = make_photo(build)
    (files / photo.file).unlink()
    answer = site.post(at("arrangement_picture", build), {"photo": photo.pk})
    assert answer.status_code == 422
    assert "no longer in its folder" in alerts(answer)


def test_picture_when_its_copies_are_gone_then_made_again_and_without_its_file_said_so(site, build, files):
    own = make_arrangement(build)
    address = reverse("arrangement_large", args=[own.pk])
    storages[storage.PREVIEWS].delete(acting.copy_name(own.sha256, "large"))
    assert site.get(address)["Content-Type"] == "image/jpeg"
    storages[storage.PREVIEWS].delete(acting.copy_name(own.sha256, "large"))
    (files / own.file).unlink()
    assert site.get(address)["Content-Type"] == "image/svg+xml"


def test_picture_when_two_would_lie_there_then_the_database_refuses(build):
    make_arrangement(build)
    second = Arrangement(build=build, sha256="0" * 64, kind="jpeg", at=build.created_at)
    with pytest.raises(IntegrityError), transaction.atomic():
        second.save()


# ---- placing ---------------------------------------------------------------------------------------------


def test_placing_when_written_down_then_all_stand_there_in_shares_of_the_picture(site, build, boiler, wheels):
    make_arrangement(build)
    said = placing(boiler, "45", "50", "30,5 %", "12.25") | placing(wheels, "0", "100", "100", "0")
    answer = site.post(at("arrangement_place", build), said)
    assert answer["Location"] == at("engine", build)
    found = {place.assembly_id: place.spot for place in BalloonPlace.objects.all()}
    assert found == {boiler.pk: spot("0.45", "0.5", "0.305", "0.122"), wheels.pk: spot("0", "1", "1", "0")}
    page = site.get(at("arrangement_place", build))
    assert entries(page)[f"x_{boiler.pk}"] == "30.5"
    # Cleared, a balloon is off the picture.
    site.post(at("arrangement_place", build), placing(boiler, "", "", "", "") | placing(wheels, *"1234"))
    assert [place.assembly for place in BalloonPlace.objects.all()] == [wheels]


@pytest.mark.parametrize(
    ("figure", "said"),
    [
        ("-1", "-1 is off the picture. It goes from 0 to 100 per cent."),
        ("100.1", "100.1 is off the picture. It goes from 0 to 100 per cent."),
        ("left", "left is no number. Write 0 to 100 per cent."),
        ("NaN", "NaN is no number. Write 0 to 100 per cent."),
        ("1e999", "1e999 is off the picture. It goes from 0 to 100 per cent."),
        ("", "A balloon takes four figures"),
    ],
)
def test_placing_when_a_figure_is_wrong_then_named_and_nothing_is_lost_or_written(
    site, build, boiler, wheels, figure, said
):
    make_arrangement(build)
    typed = placing(boiler, "45", "50", figure, "12") | placing(wheels, "10", "20", "30", "40")
    answer = site.post(at("arrangement_place", build), typed)
    assert answer.status_code == 422
    assert "1 Boiler, balloon, across" in alerts(answer)
    assert said in alerts(answer)
    assert {name: entries(answer)[name] for name in typed} == typed
    assert not BalloonPlace.objects.exists()


@pytest.mark.parametrize("figure", ["0", "100"])
def test_placing_when_at_the_very_edge_then_taken(site, build, boiler, figure):
    make_arrangement(build)
    answer = site.post(at("arrangement_place", build), placing(boiler, figure, figure, figure, figure))
    assert answer.status_code == 302
    place = balloons(build)[0].place
    ground = ground_of(build)
    # Its ring stays on the picture all the same, large or small.
    for x, y, ring in ((place.x, place.y, 22), (place.small_x, place.small_y, ground.small)):
        assert ground.left + ring <= x <= ground.right - ring
        assert ground.top + ring <= y <= ground.bottom - ring


def test_placing_when_another_page_moved_them_meanwhile_then_told_once_what_differs(site, build, boiler):
    own = make_arrangement(build)
    make_place(own, boiler, end=("0.5", "0.5"), at=("0.3", "0.2"))
    opened = entries(site.get(at("arrangement_place", build)))["opened_at"]
    site.post(at("arrangement_place", build), placing(boiler, "50", "50", "70", "80"))
    mine = placing(boiler, "50", "50", "10", "10") | {"opened_at": opened}
    answer = site.post(at("arrangement_place", build), mine)
    assert answer.status_code == 422
    assert "have been changed since you opened this page" in alerts(answer)
    assert "1 Boiler stands at 70 across, 80 down" in alerts(answer)
    assert entries(answer)[f"x_{boiler.pk}"] == "10"
    assert own.places.get().x == Decimal("0.7")
    again = mine | {"opened_at": entries(answer)["opened_at"]}
    assert site.post(at("arrangement_place", build), again).status_code == 302
    assert own.places.get().x == Decimal("0.1")


def test_placing_when_the_picture_was_changed_meanwhile_then_told(site, build, boiler):
    make_arrangement(build)
    opened = entries(site.get(at("arrangement_place", build)))["opened_at"]
    make_arrangement(build)
    mine = placing(boiler, "50", "50", "10", "10") | {"opened_at": opened}
    answer = site.post(at("arrangement_place", build), mine)
    assert answer.status_code == 422
    assert not BalloonPlace.objects.exists()


def test_placing_when_the_picture_is_clicked_without_a_script_then_taken_but_not_written(
    site, build, boiler, wheels
):
    make_arrangement(build, content=picture(size=(1280, 640)))
    place = at("arrangement_place", build)
    typed = entries(site.get(place)) | placing(boiler, "1", "2", "3", "4") | {"chosen": str(wheels.pk)}
    # 960 px wide and 480 high as it stands there: a quarter across, half down.
    first = site.post(place, typed | {"wide.x": "240", "wide.y": "240"})
    stands = entries(first)
    assert (stands[f"end_x_{wheels.pk}"], stands[f"end_y_{wheels.pk}"]) == ("25", "50")
    assert (stands[f"x_{boiler.pk}"], stands["turn"], stands["chosen"]) == ("3", "balloon", str(wheels.pk))
    assert "not written down yet" in words(first)
    # The small one is 320 px wide and 160 high.
    second = entries(site.post(place, stands | {"narrow.x": "32", "narrow.y": "16"}))
    assert (second[f"x_{wheels.pk}"], second[f"y_{wheels.pk}"], second["turn"]) == ("10", "10", "end")
    assert not BalloonPlace.objects.exists()
    site.post(place, second)
    assert BalloonPlace.objects.get(assembly=wheels).spot == spot("0.25", "0.5", "0.1", "0.1")
    assert BalloonPlace.objects.get(assembly=boiler).spot == spot("0.01", "0.02", "0.03", "0.04")


def test_placing_when_a_click_makes_no_sense_then_nothing_is_moved(site, build, boiler):
    make_arrangement(build)
    for said in ({"wide.x": "-4", "wide.y": "2"}, {"wide.x": "9" * 40, "wide.y": "1"}, {"chosen": "999"}):
        typed = placing(boiler, "1", "2", "3", "4") | {"wide.x": "10", "wide.y": "10", "chosen": "x"} | said
        answer = site.post(at("arrangement_place", build), typed)
        assert answer.status_code in (200, 302, 422)
    assert not BalloonPlace.objects.exclude(x=Decimal("0.03")).exists()


def test_placing_when_an_assembly_of_another_build_is_named_then_left_alone(cast, site, build, boiler):
    make_arrangement(build)
    strange = make_assembly(make_build(cast.owner, name="Second engine"), code="Z")
    site.post(at("arrangement_place", build), placing(strange, "1", "2", "3", "4"))
    assert not BalloonPlace.objects.exists()


def test_placing_when_there_is_no_picture_then_sent_to_bring_one_in(site, build, boiler):
    assert site.get(at("arrangement_place", build))["Location"] == at("arrangement_picture", build)
    page = words(site.get(at("engine", build)))
    assert "No picture yet" in page


def test_place_when_off_the_picture_then_the_database_refuses(build, boiler):
    own = make_arrangement(build)
    with pytest.raises(IntegrityError), transaction.atomic():
        make_place(own, boiler, at=("1.0001", "0.5"))


# ---- the drawn side view ---------------------------------------------------------------------------------


@pytest.fixture
def demo():
    owner = make_user()
    load_demo(owner)
    return Build.objects.get(is_demo=True)


@pytest.fixture
def demo_site(demo):
    browser = Client()
    browser.force_login(demo.memberships.get().user)
    return browser


def test_drawn_view_when_nothing_is_moved_then_no_place_is_written(demo_site, demo):
    typed = entries(demo_site.get(at("arrangement_place", demo)))
    assert len([name for name in typed if typed[name] and name[0] in "ex"]) >= 27
    assert demo_site.post(at("arrangement_place", demo), typed).status_code == 302
    assert not BalloonPlace.objects.exists()
    assert [one.place for one in balloons(demo)] == list(SIDE_VIEWS["marlpit"].places.values())


def test_drawn_view_when_a_balloon_is_moved_then_that_one_alone_and_put_back_as_drawn(demo_site, demo):
    boiler = demo.assemblies.get(balloon="1")
    typed = entries(demo_site.get(at("arrangement_place", demo)))
    demo_site.post(at("arrangement_place", demo), typed | {f"x_{boiler.pk}": "50", f"y_{boiler.pk}": "10"})
    place = BalloonPlace.objects.get()
    assert (place.assembly, place.x, place.y) == (boiler, Decimal("0.5"), Decimal("0.1"))
    moved = next(one.place for one in balloons(demo) if one.branch.assembly == boiler)
    left, top, width, height = SIDE_VIEWS["marlpit"].box
    assert (moved.x, moved.y) == pytest.approx((left + width / 2, top + height / 10), abs=0.1)
    # A picture of one's own and its balloons know nothing of it, and it stands again when that is gone.
    make_arrangement(demo)
    assert ground_of(demo).spots == {}
    demo_site.post(at("arrangement_bin", demo))
    assert list(ground_of(demo).spots) == [boiler.pk]
    demo_site.post(at("arrangement_as_drawn", demo))
    assert not BalloonPlace.objects.exists()


def test_drawn_view_when_shown_alone_then_every_stroke_has_its_ink(demo_site, demo):
    drawn = demo_site.get(at("arrangement_drawn", demo))
    assert drawn["Content-Type"] == "image/svg+xml"
    assert "class=" not in drawn.content.decode()
    strokes = re.findall(r"<(?:path|circle|rect|polygon|text)\b[^>]*", drawn.content.decode())
    assert len(strokes) > 300
    assert all("fill=" in stroke for stroke in strokes)


def test_demo_when_taken_away_then_its_places_and_pictures_go_with_it(demo):
    make_place(make_arrangement(demo), demo.assemblies.get(balloon="1"))
    remove_demo(demo)
    assert not Arrangement.objects.exists()
    assert not BalloonPlace.objects.exists()


def test_backup_when_counted_then_names_the_pictures_and_the_balloons():
    assert {NOUNS["arrangements"], NOUNS["balloons placed"]} == {
        Arrangement._meta.db_table,
        BalloonPlace._meta.db_table,
    }
    assert counted({"buildlog_balloonplace": 3})["balloons placed"] == 3


def test_put_picture_when_refused_then_the_error_says_what_was_found(build):
    with pytest.raises(PictureError, match="cut short"):
        put_picture(build, upload(noise((600, 400))[:20000]), by=None)
