"""The scrap book: written in from a count or by itself, totalled by cause, mended, put in the bin and back.

The crank pinion of 17 teeth, scrapped at tooth 12 by a wrong hole with 3.5 h lost, is the worked example that
the book was asked for with.
"""

from datetime import UTC, date, datetime
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from buildlog import clock
from buildlog.actions.demo import load_demo, remove_demo
from buildlog.actions.parts import bin_part
from buildlog.actions.scrap import bin_scrap, restore_scrap, show_again, write_scrap
from buildlog.actions.stages import CountRefusedError
from buildlog.backup.database import NOUNS
from buildlog.log_words import read_lost
from buildlog.models import Build, LessonShown, Part, Scrap
from buildlog.scrap_book import scrap_of, totals
from tests.buildlog.demo_rows import PROGRESS
from tests.factories import make_build, make_part, make_scrap
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, links, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 5, 3, 19, 30, tzinfo=UTC)


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 3 May 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def pinion(build):
    return make_part(build, number="S-013", name="Crank pinion 17 T, 8 DP", leading_size="2.375 in OD")


@pytest.fixture
def new(build):
    return reverse("scrap_new", args=[build.pk])


SAID = {
    "part": "S-013",
    "count": "1",
    "kind": "scrap",
    "cause": "setting",
    "happened": "Wrong hole at tooth 12",
    "minutes": "3.5",
    "lesson": "Pinch the sector arms before every move",
    "show_on": "operation",
    "operation": "teeth",
}


# ---- hours lost ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("3.5", 210),
        ("3 h 30", 210),
        ("3 h 30 min", 210),
        ("3h30", 210),
        ("3:30", 210),
        ("3.5 h", 210),
        ("210 min", 210),
        ("3 1/2", 210),
        ("1/2", 30),
        ("24", 1440),
        ("40 h", 2400),
        ("999 h", 59940),
        ("1 min", 1),
    ],
)
def test_hours_lost_when_written_as_a_builder_does_then_the_minutes_they_come_to(text, minutes):
    assert read_lost(text) == minutes


@pytest.mark.parametrize("text", ["0", "0 min", "1000 h", "90", "a lot", "-3", "3,5 h", "٣", "1/0", "3.5.1"])
def test_hours_lost_when_they_cannot_be_meant_then_refused(text):
    with pytest.raises(ValueError, match="min|empty|Write"):
        read_lost(text)


def test_hours_lost_when_a_bare_figure_is_past_a_day_then_asked_whether_hours_or_minutes():
    with pytest.raises(ValueError, match="90 h, or 90 min"):
        read_lost("90")


# ---- written ---------------------------------------------------------------------------------------------


def test_scrap_when_written_then_all_of_it_is_there_and_who_and_when(site, cast, pinion, new):
    page = fill_in(site, new, **SAID)
    scrap = Scrap.objects.get()
    assert (scrap.part, scrap.count, scrap.kind, scrap.cause) == (pinion, 1, "scrap", "setting")
    assert (scrap.minutes, scrap.on, scrap.at, scrap.by) == (210, date(2025, 5, 3), NOW, cast.owner)
    assert (scrap.lesson, scrap.show_on, scrap.operation) == (SAID["lesson"], "operation", "teeth")
    said = words(page)
    for text in ("Wrong hole at tooth 12", "3 h 30 min", "Setting", "same operation: teeth"):
        assert text in said
    assert "To be printed on the next card of the same part" in said
    assert "To be printed on the next card of the same operation, teeth" in said
    assert "the other hand" not in said


def test_scrap_when_no_tick_stands_then_the_count_of_the_part_stays_and_its_history_says_it(
    site, pinion, new
):
    fill_in(site, new, **SAID)
    pinion.refresh_from_db()
    assert (pinion.scrap, pinion.stage) == (0, "not started")
    assert pinion.history.first().text == ("In the scrap book, 1 scrap, setting: Wrong hole at tooth 12")


def test_scrap_when_it_is_to_be_counted_then_the_part_counts_it_once(site, pinion, new):
    fill_in(site, new, **SAID | {"count": "2", "count_now": "on"})
    pinion.refresh_from_db()
    assert (pinion.scrap, pinion.stage) == (2, "in hand")
    assert pinion.history.count() == 1
    assert "+2 scrap, setting: Wrong hole at tooth 12" in pinion.history.get().text


def test_rework_when_the_tick_stands_then_nothing_is_counted_as_scrap(site, pinion, new):
    page = fill_in(site, new, **SAID | {"kind": "rework", "count_now": "on"})
    pinion.refresh_from_db()
    assert pinion.scrap == 0
    assert "1 for rework" in words(page)


@pytest.mark.parametrize("ticked", ["", "on"])
def test_scrap_when_sent_twice_then_one_entry_and_one_count(site, pinion, new, ticked):
    sent = left_as_it_comes(site, new) | SAID | ({"count_now": ticked} if ticked else {})
    first, second = site.post(new, sent), site.post(new, sent)
    assert first["Location"] == second["Location"] == Scrap.objects.get().get_absolute_url()
    pinion.refresh_from_db()
    assert pinion.scrap == bool(ticked)
    assert pinion.history.count() == 1


def test_scrap_when_its_token_is_of_another_build_then_nothing_is_found(site, cast, pinion, new):
    token = uuid4()
    other = make_build(cast.owner, name="Second engine")
    make_scrap(make_part(other), token=token)
    assert site.post(new, left_as_it_comes(site, new) | SAID | {"token": str(token)}).status_code == 404
    assert Scrap.objects.filter(build=pinion.build).count() == 0


def test_scrap_when_the_part_cannot_count_so_many_then_refused_and_nothing_is_written(site, pinion, new):
    Part.objects.filter(pk=pinion.pk).update(scrap=99_999)
    page = site.post(new, left_as_it_comes(site, new) | SAID | {"count_now": "on"})
    assert page.status_code == 422
    assert "How many: 100000 is past 99999" in alerts(page)
    assert Scrap.objects.count() == 0
    assert pinion.history.count() == 0
    assert entries(page)["happened"] == SAID["happened"]


def test_write_when_the_count_is_refused_then_the_error_names_the_entry(build, pinion):
    Part.objects.filter(pk=pinion.pk).update(scrap=99_999)
    scrap = Scrap(build=build, part=pinion, on=clock.today(), cause="tool", happened="x")
    with pytest.raises(CountRefusedError) as refused:
        write_scrap(scrap, token=uuid4(), count_now=True, by=None)
    assert refused.value.field == "count"


@pytest.mark.parametrize(
    ("entry", "typed", "told"),
    [
        ("part", "", "Which part was it?"),
        ("part", "S-999", "No part S-999 is in this build"),
        ("count", "0", "0 is no number of pieces: write a whole number from 1 to 9999"),
        ("count", "10000", "from 1 to 9999"),
        ("count", "-1", "from 1 to 9999"),
        ("count", "two", "two is no number of pieces"),
        ("count", "", "How many?"),
        ("cause", "", "Choose the nearest cause"),
        ("cause", "bad luck", "bad luck"),
        ("kind", "", "scrap or rework"),
        ("happened", "", "Say what happened"),
        ("minutes", "ages", "“ages” is no time. Write hours, as 3.5 or 3 h 30"),
        ("minutes", "90", "90 h, or 90 min?"),
        ("lesson", "x" * 301, "300"),
        ("operation", "", "Which operation? Write it in one word"),
        ("on", "2025-05-04", "is still to come"),
        ("on", "some day", "is no day"),
        ("happened", "turned\u202e round", "unseen sign"),
    ],
)
def test_scrap_when_an_entry_is_wrong_then_said_at_it_and_nothing_typed_is_lost(
    site, pinion, new, entry, typed, told
):
    sent = left_as_it_comes(site, new) | SAID | {entry: typed}
    page = site.post(new, sent)
    assert page.status_code == 422
    assert told in words(page)
    stand = entries(page)
    assert all(stand[name] == text for name, text in sent.items() if name in SAID and name != entry)
    assert Scrap.objects.count() == 0


def test_scrap_when_no_lesson_is_written_then_no_operation_is_asked_for(site, pinion, new):
    page = fill_in(site, new, **SAID | {"lesson": "", "operation": ""})
    assert Scrap.objects.get().lesson == ""
    assert "None is written down" in words(page)


def test_scrap_when_its_part_is_in_the_bin_then_refused(site, cast, pinion, new):
    bin_part(pinion, by=cast.owner)
    assert "S-013 is in the bin" in alerts(site.post(new, left_as_it_comes(site, new) | SAID))


def test_scrap_when_the_part_is_of_another_build_then_not_known_here(site, cast, new):
    make_part(make_build(cast.owner, name="Second engine"), number="S-013")
    assert "No part S-013" in alerts(site.post(new, left_as_it_comes(site, new) | SAID))


# ---- from where one came ---------------------------------------------------------------------------------


def test_count_when_some_are_scrap_then_the_part_offers_to_write_down_why_and_asks_for_nothing(site, pinion):
    page = count(site, pinion, good="", scrap="2", note="wrong hole at tooth 12")
    assert "2 counted as scrap." in words(page)
    way = next(link for link in links(page) if "counted=1" in link)
    stands = entries(site.get(way))
    assert (stands["part"], stands["count"], stands["happened"]) == ("S-013", "2", "wrong hole at tooth 12")
    assert "count_now" not in stands
    assert Scrap.objects.count() == 0


def count(site, part, **said):
    token = {"token": str(uuid4())}
    return site.post(reverse("part_count", args=[part.pk]), said | token, follow=True)


@pytest.mark.parametrize("said", [{"good": "2", "scrap": ""}, {"good": "3", "scrap": "-1"}])
def test_count_when_none_are_scrap_then_nothing_is_offered(site, pinion, said):
    Part.objects.filter(pk=pinion.pk).update(scrap=1)
    page = count(site, pinion, note="", **said)
    assert "counted as scrap" not in words(page)


def test_page_of_a_part_when_scrap_is_written_from_it_then_the_tick_stands(site, pinion):
    way = next(link for link in links(site.get(pinion.get_absolute_url())) if "/scrap/new/" in link)
    stands = entries(site.get(way))
    assert (stands["part"], stands["count"], stands["count_now"]) == ("S-013", "1", "on")


@pytest.mark.parametrize("query", ["", "?part=S-999", "?part=&count=many&note="])
def test_new_entry_when_it_comes_from_no_part_then_the_tick_is_empty(site, new, query):
    stands = entries(site.get(new + query))
    assert (stands["part"], stands["count"]) == ("", "1")
    assert "count_now" not in stands


@pytest.mark.parametrize("query", ["?spoilt=many", "?spoilt=-2", "?spoilt=0", "?spoilt=123456789"])
def test_page_of_a_part_when_its_address_names_no_count_then_nothing_is_said_of_one(site, pinion, query):
    assert "counted as scrap" not in words(site.get(pinion.get_absolute_url() + query))


# ---- listed ----------------------------------------------------------------------------------------------


def test_book_when_listed_then_totals_by_cause_and_hours_are_right(site, build, pinion):
    make_scrap(pinion, cause="setting", count=2, minutes=210)
    make_scrap(pinion, cause="setting", kind="rework", minutes=45)
    make_scrap(pinion, cause="tool", minutes=None)
    make_scrap(pinion, cause="tool", minutes=600, binned_at=NOW)
    make_scrap(make_part(make_build(name="Another")), cause="drawing", count=50)
    page = site.get(reverse("scrap_list", args=[build.pk]))
    # 210 + 45 = 255 minutes are 4 h 15.
    assert line_of(page, "Setting").split() == ["Setting", "2", "1", "4", "h", "15", "min"]
    assert line_of(page, "Tool 1").split() == ["Tool", "1", "0", "—"]
    assert line_of(page, "In all").split() == ["In", "all", "3", "1", "4", "h", "15", "min"]
    said = words(page)
    assert "3 entries" in said
    assert "Drawing 50" not in said


def test_totals_then_as_adding_up_one_by_one(build, pinion):
    for place in range(40):
        make_scrap(
            pinion,
            cause=["drawing", "count", "tired"][place % 3],
            kind=["scrap", "rework"][place % 2],
            count=place + 1,
            minutes=place * 7 or None,
        )
    found = Scrap.objects.live()
    by_cause, in_all = totals(found)
    for total in by_cause:
        own = [one for one in found if one.cause == total.cause]
        assert total.minutes == sum(one.minutes or 0 for one in own)
        assert total.scrap == sum(one.count for one in own if one.kind == "scrap")
        assert total.rework == sum(one.count for one in own if one.kind == "rework")
    assert in_all.minutes == sum(one.minutes or 0 for one in found)
    assert (in_all.entries, in_all.scrap + in_all.rework) == (40, 820)


def test_book_when_narrowed_then_only_what_was_asked_for(site, build, pinion):
    wheel = make_part(build, number="S-014", name="Crank pinion 27 T")
    make_scrap(pinion, cause="setting", happened="Wrong hole")
    make_scrap(wheel, cause="tool", happened="Chattered")
    book = reverse("scrap_list", args=[build.pk])
    assert "Chattered" not in words(site.get(book, {"cause": "setting"}))
    assert "Wrong hole" not in words(site.get(book, {"part": "S-014"}))
    assert "No part S-999" in words(site.get(book, {"part": "S-999"}))
    assert "No entry is like that" in words(site.get(book, {"cause": "drawing"}))


def test_book_when_it_is_long_then_turned_page_by_page(site, build, pinion):
    for place in range(60):
        make_scrap(pinion, happened=f"Number {place:02}")
    book = reverse("scrap_list", args=[build.pk])
    assert "page 1 of 2" in words(site.get(book))
    assert "Number 00" in words(site.get(book, {"page": 2}))
    assert "60 scrap" not in words(site.get(book))


def test_book_when_empty_then_says_how_it_fills(site, build):
    assert "Every builder makes some parts twice" in words(site.get(reverse("scrap_list", args=[build.pk])))


def test_page_of_a_part_then_its_entries_and_the_lessons_of_its_other_hand(site, build):
    left = make_part(build, number="H-021", hand="L")
    right = make_part(build, number="H-021", hand="R")
    make_scrap(left, happened="Bored from the wrong side", lesson="Mark the outside first", minutes=90)
    make_scrap(left, happened="Dropped it", lesson="")
    section = words(site.get(left.get_absolute_url()))
    assert "Bored from the wrong side" in section
    assert "1 h 30 min" in section
    other = words(site.get(right.get_absolute_url()))
    assert "From H-021-L" in other
    assert "Mark the outside first" in other
    assert "Dropped it" not in other


def test_part_when_it_has_no_hand_then_a_part_of_its_number_with_one_is_no_twin(build):
    plain, left = make_part(build, number="H-030"), make_part(build, number="H-030", hand="L")
    make_scrap(left)
    make_scrap(plain)
    assert not scrap_of(plain).of_twin
    assert not scrap_of(left).of_twin


# ---- mended, put in the bin ------------------------------------------------------------------------------


def test_entry_when_changed_then_it_says_when_and_the_count_stays(site, pinion):
    scrap = make_scrap(pinion)
    page = fill_in(site, reverse("scrap_edit", args=[scrap.pk]), happened="Wrong circle", count="3")
    scrap.refresh_from_db()
    pinion.refresh_from_db()
    assert (scrap.happened, scrap.count, scrap.minutes, pinion.scrap) == ("Wrong circle", 3, 210, 0)
    assert "changed on 3 May 2025" in words(page)


def test_entry_when_nothing_is_changed_then_it_does_not_say_so(site, pinion):
    scrap = make_scrap(pinion)
    fill_in(site, reverse("scrap_edit", args=[scrap.pk]))
    scrap.refresh_from_db()
    assert scrap.changed_at is None
    assert pinion.history.count() == 0


def test_entry_when_another_tab_changed_it_meanwhile_then_told_once_and_nothing_is_lost(site, pinion):
    scrap = make_scrap(pinion)
    edit = reverse("scrap_edit", args=[scrap.pk])
    sent = left_as_it_comes(site, edit) | {"happened": "Mine"}
    fill_in(site, edit, happened="Theirs")
    page = site.post(edit, sent)
    assert page.status_code == 422
    assert "Theirs" in alerts(page)
    assert entries(page)["happened"] == "Mine"
    assert site.post(edit, left_as_it_comes(site, edit) | entries(page)).status_code == 302
    scrap.refresh_from_db()
    assert scrap.happened == "Mine"


def test_entry_when_its_part_is_in_the_bin_then_it_can_still_be_mended(site, cast, pinion):
    scrap = make_scrap(pinion)
    bin_part(pinion, by=cast.owner)
    fill_in(site, reverse("scrap_edit", args=[scrap.pk]), happened="Wrong circle")
    scrap.refresh_from_db()
    assert scrap.happened == "Wrong circle"


def test_entry_when_put_in_the_bin_and_taken_back_then_as_it_was(site, build, pinion):
    scrap, book = make_scrap(pinion), reverse("scrap_list", args=[build.pk])
    site.post(reverse("scrap_bin", args=[scrap.pk]))
    assert "is in the bin since 3 May 2025" in words(site.get(scrap.get_absolute_url()))
    assert "In the bin" in words(site.get(book))
    assert "Wrong hole at tooth 12" not in words(site.get(pinion.get_absolute_url()))
    assert site.get(reverse("scrap_edit", args=[scrap.pk])).status_code == 404
    site.post(reverse("scrap_restore", args=[scrap.pk]))
    assert "Wrong hole at tooth 12" in words(site.get(pinion.get_absolute_url()))
    assert "In the bin" not in words(site.get(book))


def test_bin_when_pressed_twice_then_done_once(pinion):
    scrap = make_scrap(pinion)
    assert [bin_scrap(scrap, by=None), bin_scrap(scrap, by=None)] == [True, False]
    assert not show_again(scrap, by=None)
    assert [restore_scrap(scrap, by=None), restore_scrap(scrap, by=None)] == [True, False]


# ---- around it -------------------------------------------------------------------------------------------


def test_backup_then_it_counts_the_book(db):
    assert NOUNS["scrap book"] == Scrap._meta.db_table


def test_counts_when_tried_past_what_is_kept_then_the_model_refuses(build, pinion):
    for number in (0, 10_000):
        scrap = Scrap(build=build, part=pinion, on=NOW, count=number, cause="tool", happened="x", at=NOW)
        with pytest.raises(ValidationError, match="count"):
            scrap.full_clean()


def test_demo_when_loaded_then_its_book_agrees_with_the_counts_of_its_parts(cast):
    load_demo(cast.owner)
    book = Scrap.objects.filter(build__is_demo=True).select_related("part")
    pinion = book.get(part__number="S-013")
    assert (pinion.count, pinion.minutes, pinion.operation) == (1, 210, "teeth")
    assert "Wrong hole at tooth 12" in pinion.happened
    for one in book.filter(kind="scrap"):
        counted = PROGRESS[one.part.key]["scrap"]
        assert one.count == int(counted) == one.part.scrap, one.part.key
    assert not LessonShown.objects.exists()


def test_page_of_a_part_when_its_note_says_the_lesson_already_then_not_said_twice(site, build):
    left = make_part(build, number="H-021", hand="L", lesson="Bored wrong: mark the outside first")
    right = make_part(build, number="H-021", hand="R", lesson="From H-021-L: Mark the outside first")
    make_scrap(left, lesson="Mark the outside first")
    for part in (left, right):
        assert words(site.get(part.get_absolute_url())).casefold().count("mark the outside first") == 1


def test_find_when_a_lesson_or_what_happened_is_looked_for_then_the_entry_is_found(site, build, pinion):
    scrap = make_scrap(pinion, happened="Wrong hole at tooth 12", lesson="Pinch the sector arms")
    make_scrap(pinion, happened="Wrong hole in the bin", binned_at=NOW)
    find = reverse("find_page", args=[build.pk])
    for text in ("sector arms", "wrong hole"):
        page = site.get(find, {"find": text})
        assert scrap.get_absolute_url() in links(page)
        assert "in the bin" not in words(page)


def test_demo_when_taken_away_then_its_book_goes_with_it(cast):
    load_demo(cast.owner)
    remove_demo(Build.objects.get(is_demo=True))
    assert not Scrap.objects.exists()
