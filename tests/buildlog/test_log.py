"""The log: written in a minute, found again, mended with the day of it."""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions.parts import bin_part
from buildlog.models import LogEntry
from buildlog.queries import last_entries
from tests.cast import check_act, check_page
from tests.factories import make_build, make_log_entry, make_part, make_record
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, links, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 11, 20, 21, 5, tzinfo=UTC)
TODAY = NOW.date()


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 20 November 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def wheel(build):
    return make_part(build, number="S-012", name="Second-shaft wheel 47 T", stage="in hand")


@pytest.fixture
def new(build):
    return reverse("log_new", args=[build.pk])


@pytest.fixture
def log(build):
    return reverse("log_list", args=[build.pk])


# ---- written ---------------------------------------------------------------------------------------------


def test_entry_when_written_then_all_of_it_is_there_and_who_and_when(site, build, wheel, cast, new):
    page = fill_in(
        site,
        new,
        minutes="2 h 20",
        part="s-012",
        done="Cut 29 teeth",
        left_off="Head ready for 30",
        next="Cut tooth 30",
    )
    entry = LogEntry.objects.get()
    assert page.redirect_chain[-1][0] == entry.get_absolute_url()
    assert (entry.build, entry.part, entry.on, entry.minutes) == (build, wheel, TODAY, 140)
    assert (entry.done, entry.left_off, entry.next) == ("Cut 29 teeth", "Head ready for 30", "Cut tooth 30")
    assert (entry.by, entry.written_at, entry.changed_at) == (cast.owner, NOW, None)
    said = words(page)
    for text in ("Thursday 20 November", "2 h 20 min", "S-012 Second-shaft wheel 47 T", "written by owner"):
        assert text in said, text
    assert "changed on" not in said
    assert "written down on" not in said
    assert "2 h 20 min" in words(site.get(wheel.get_absolute_url()))


@pytest.mark.parametrize("name", ["done", "left_off", "next"])
def test_entry_when_only_one_of_the_three_is_said_then_enough(site, new, name):
    fill_in(site, new, **{name: "Cut tooth 30"})
    entry = LogEntry.objects.get()
    assert getattr(entry, name) == "Cut tooth 30"
    assert (entry.part, entry.minutes, entry.on) == (None, None, TODAY)


def test_entry_when_none_of_the_three_is_said_then_refused(site, new):
    page = fill_in(site, new, minutes="90", done="  ")
    assert page.status_code == 422
    assert "Say at least one of the three" in alerts(page)
    assert not LogEntry.objects.exists()


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"part": "S-999"}, "Part: No part S-999 is in this build"),
        ({"part": "\u202e"}, "Part: There is an unseen sign"),
        ({"part": "-" * 50}, "Part: No part"),
        ({"minutes": "0"}, "How long: 0 is no time"),
        ({"minutes": "1441"}, "more than a day, which has 1440 minutes"),
        ({"minutes": "an evening"}, "is no time"),
        ({"on": "2025-11-21"}, "Date: 21 Nov 2025 is still to come"),
        ({"on": "yesterday"}, "is no day"),
        ({"on": ""}, "Which day was it?"),
        ({"done": "x" * 4001}, "at most 4000"),
        ({"left_off": "x" * 1001}, "at most 1000"),
        ({"next": "x" * 501}, "at most 500"),
    ],
)
def test_entry_when_something_is_wrong_then_said_and_nothing_typed_is_lost(
    site, build, wheel, new, typed, why
):
    sent = {"part": "S-012", "minutes": "90", "done": "Cut", "left_off": "Ready", "next": "Go on"} | typed
    page = fill_in(site, new, **sent)
    assert page.status_code == 422
    assert why in alerts(page)
    assert sent.items() <= entries(page).items()
    assert not LogEntry.objects.exists()


@pytest.mark.parametrize("typed", ["S-012", "s 012", "S-012 Second-shaft wheel", " s-012  "])
def test_part_when_named_loosely_then_found(site, wheel, new, typed):
    fill_in(site, new, part=typed, done="Cut")
    assert LogEntry.objects.get().part == wheel


def test_part_when_it_has_two_hands_then_asked_which(site, build, new):
    left, _ = (make_part(build, number="H-021", hand=hand) for hand in "LR")
    page = fill_in(site, new, part="H-021", done="Bored")
    assert "Is H-021-L or H-021-R meant?" in alerts(page)
    fill_in(site, new, part="h-021 l bracket", done="Bored")
    assert LogEntry.objects.get().part == left


def test_part_when_in_the_bin_then_said_so_and_its_new_namesake_is_meant(site, build, wheel, new):
    bin_part(wheel, by=None)
    assert "S-012 is in the bin" in alerts(fill_in(site, new, part="S-012", done="Cut"))
    again = make_part(build, number="S-012", name="Made anew")
    fill_in(site, new, part="S-012", done="Cut")
    assert LogEntry.objects.get().part == again


def test_part_when_of_another_build_then_not_found(site, cast, new):
    make_part(make_build(cast.owner, name="Second engine"), number="X-1")
    assert "No part X-1 is in this build" in alerts(fill_in(site, new, part="X-1", done="Cut"))


def test_entry_when_sent_twice_then_written_once(site, new):
    sent = left_as_it_comes(site, new) | {"done": "Cut"}
    first, second = (site.post(new, sent) for _ in range(2))
    assert first.url == second.url
    assert LogEntry.objects.count() == 1


def test_entry_when_its_token_is_of_another_build_then_not_found(site, cast, new):
    token = uuid4()
    make_log_entry(make_build(name="Not mine"), token=token)
    sent = left_as_it_comes(site, new) | {"done": "Cut", "token": str(token)}
    assert site.post(new, sent).status_code == 404


def test_entry_when_written_for_an_earlier_day_then_it_says_when_it_was_written(site, new):
    page = fill_in(site, new, on="2025-11-17", done="Cut")
    assert "Monday 17 November" in words(page)
    assert "written down on 20 November 2025" in words(page)


@pytest.mark.parametrize("by", ["pk", "key"])
def test_entry_when_begun_at_a_part_then_the_part_stands_there(site, wheel, new, by):
    page = site.get(f"{new}?part={getattr(wheel, by)}")
    assert entries(page)["part"] == "S-012"
    assert "S-012 Second-shaft wheel 47 T" in words(page)


@pytest.mark.parametrize("asked", ["0", "9" * 30, "none", "%00"])
def test_entry_when_begun_at_no_part_there_is_then_empty(site, wheel, new, asked):
    assert entries(site.get(f"{new}?part={asked}"))["part"] == ""


def test_entry_then_the_keys_in_hand_are_offered_first(site, build, new):
    make_part(build, number="A-001", name="Not begun")
    make_part(build, number="Z-001", name="Begun", stage="in hand", stage_at=NOW)
    offered = site.get(new).content.decode()
    assert offered.index('<option value="Z-001">') < offered.index('<option value="A-001">')


@pytest.mark.parametrize(
    ("typed", "said"),
    [("S-012", "S-012 Second-shaft wheel"), ("S-999", "No part S-999"), ("", ""), ("x" * 300, "No part")],
)
def test_echo_when_a_key_is_typed_then_what_it_names(site, build, wheel, typed, said):
    page = site.get(reverse("part_echo", args=[build.pk]), {"part": typed})
    assert page.status_code == 200
    assert said in words(page)


# ---- held against the kept sum ---------------------------------------------------------------------------


@pytest.mark.parametrize(("hole", "mark"), [(32, "agrees with itself"), (31, "the note says 31")])
def test_entry_when_a_sum_is_kept_then_its_note_is_held_against_it_at_once(
    site, wheel, cast, new, hole, mark
):
    record = make_record(wheel, user=cast.owner, divisions="47")
    page = fill_in(site, new, part="S-012", left_off=f"29 of 47 cut, ready for 30, pin {hole} holes on")
    assert mark in words(page)
    assert record.get_absolute_url() in links(page)


# ---- mended ----------------------------------------------------------------------------------------------


def test_entry_when_changed_then_it_says_when_everywhere(site, build, wheel, cast, log):
    entry = make_log_entry(part=wheel, on=date(2025, 3, 11), by=cast.builder)
    with clock.stopped_at(NOW + timedelta(days=1)):
        page = fill_in(site, reverse("log_edit", args=[entry.pk]), next="Cut tooth 31", minutes="45")
        assert "changed on 21 November 2025" in words(page)
        assert "changed on 21 November 2025" in words(site.get(log))
        assert "changed on 21 November 2025" in words(site.get(build.get_absolute_url()))
    entry.refresh_from_db()
    assert (entry.next, entry.minutes, entry.on) == ("Cut tooth 31", 45, date(2025, 3, 11))
    assert (entry.by, entry.written_at) == (cast.builder, NOW)


def test_entry_when_sent_unchanged_then_it_says_nothing_of_a_change(site, wheel):
    entry = make_log_entry(part=wheel, minutes=90)
    fill_in(site, reverse("log_edit", args=[entry.pk]))
    entry.refresh_from_db()
    assert entry.changed_at is None


def test_entry_when_changed_then_found_by_its_new_words(site, build, wheel, log):
    entry = make_log_entry(part=wheel, done="Cut", left_off="", next="")
    fill_in(site, reverse("log_edit", args=[entry.pk]), done="Bored the boss")
    assert "1 entry" in words(site.get(log, {"find": "boss"}))
    assert "0 entries" in words(site.get(log, {"find": "cut"}))


def test_entry_when_its_part_is_in_the_bin_then_it_stays_about_it(site, wheel):
    entry = make_log_entry(part=wheel)
    bin_part(wheel, by=None)
    page = fill_in(site, reverse("log_edit", args=[entry.pk]), next="Another")
    assert page.status_code == 200
    entry.refresh_from_db()
    assert (entry.part, entry.next) == (wheel, "Another")


def test_entry_when_another_tab_changed_it_then_told_once_and_then_written(site, wheel):
    entry = make_log_entry(part=wheel, next="As it was")
    place = reverse("log_edit", args=[entry.pk])
    here = left_as_it_comes(site, place)
    fill_in(site, place, next="From another tab")
    refused = site.post(place, here | {"next": "From here"})
    assert refused.status_code == 422
    assert "has been changed since you opened the page" in alerts(refused)
    assert "From another tab" in alerts(refused)
    assert entries(refused)["next"] == "From here"
    again = {name: text for name, text in entries(refused).items() if name in here}
    assert site.post(place, again).status_code == 302
    entry.refresh_from_db()
    assert entry.next == "From here"


def test_entry_when_asked_for_by_others_then_as_every_page_of_a_build(cast, wheel):
    entry = make_log_entry(part=wheel)
    for name in ("log_entry", "log_edit"):
        check_page(cast, reverse(name, args=[entry.pk]))
    check_act(cast, reverse("log_edit", args=[entry.pk]), {"done": "Not mine"})
    check_act(cast, reverse("log_new", args=[cast.build.pk]), {"done": "Not mine"})
    entry.refresh_from_db()
    assert "Not mine" not in entry.done
    assert LogEntry.objects.count() == 1


# ---- read ------------------------------------------------------------------------------------------------


def test_log_when_nothing_is_written_then_it_says_what_to_do(site, log, new):
    page = site.get(log)
    assert "Nothing is written yet" in words(page)
    assert new in links(page)


def test_log_then_by_days_the_newest_first_with_the_minutes_of_each_and_of_all(site, build, wheel, log):
    for day, minutes in ((11, 90), (11, 50), (8, None), (12, 45)):
        make_log_entry(build, on=date(2025, 3, day), minutes=minutes)
    page = words(site.get(log))
    places = [
        page.index(text)
        for text in ("Wednesday 12 March 45 min", "Tuesday 11 March 2 h 20 min", "Saturday 8 March")
    ]
    assert places == sorted(places)
    assert "4 entries" in page
    assert "3 h 5 min in all" in page


def test_log_when_of_another_year_then_the_year_stands_there(site, build, log):
    make_log_entry(build, on=date(2024, 3, 11))
    assert "Monday 11 March 2024" in words(site.get(log))


@pytest.mark.parametrize("typed", ["57T", "57 t", "57-tooth wheel", "WHEEL 57 teeth"])
def test_log_when_looked_through_then_however_the_words_are_written(site, build, log, typed):
    make_log_entry(build, done="Wheel of 57 T gashed", minutes=30)
    make_log_entry(build, done="Wheel of 47 T gashed", minutes=30)
    page = words(site.get(log, {"find": typed}))
    assert "1 entry" in page
    assert "30 min in all" in page
    assert "57 T gashed" in page
    assert "47 T gashed" not in page


def test_log_when_narrowed_to_a_part_then_its_entries_alone(site, build, wheel, log):
    make_log_entry(part=wheel, done="Cut the wheel")
    make_log_entry(build, done="Swept the shop")
    page = site.get(log, {"part": "s-012"})
    assert "1 entry about S-012" in words(page)
    assert "Swept the shop" not in words(page)
    assert reverse("log_new", args=[build.pk]) + f"?part={wheel.pk}" in links(page)


def test_log_when_narrowed_to_a_part_that_is_not_there_then_said_so(site, build, log):
    make_log_entry(build, done="Swept the shop")
    page = site.get(log, {"part": "S-999", "find": "shop"})
    assert "No part S-999 is in this build" in alerts(page)
    assert entries(page)["part"] == "S-999"
    assert "Swept" not in words(page)


def test_log_when_nothing_is_like_that_then_a_way_back_to_all(site, build, log):
    make_log_entry(build)
    page = site.get(log, {"find": "unicorn"})
    assert "No entry is like that" in words(page)
    assert log in links(page)


def test_log_when_longer_than_a_page_then_turned_with_what_was_asked(site, build, wheel, log):
    for day in range(60):
        make_log_entry(
            build, part=wheel, on=TODAY - timedelta(days=day), done=f"Session {day:02}.", minutes=10
        )
    page = site.get(log, {"find": "session", "part": "S-012"})
    assert "60 entries" in words(page)
    assert "10 h in all; page 1 of 2" in words(page)
    assert "Session 49." in words(page)
    assert "Session 50." not in words(page)
    earlier = next(link for link in links(page) if "page=2" in link)
    second = site.get(log + earlier)
    assert "Session 50." in words(second)
    assert "60 entries" in words(second)
    assert any("page=1" in link for link in links(second))
    assert site.get(log, {"page": "99"}).status_code == site.get(log, {"page": "x"}).status_code == 200


def test_log_when_a_day_runs_over_the_page_then_its_minutes_are_those_of_all_of_it(site, build, log):
    for _ in range(55):
        make_log_entry(build, minutes=10)
    for page in ("1", "2"):
        assert "Thursday 20 November 9 h 10 min" in words(site.get(log, {"page": page}))


def test_log_then_nothing_of_other_builds(site, cast, log, build):
    make_log_entry(make_build(cast.owner, name="Second engine"), done="Elsewhere")
    make_log_entry(build)
    assert "Elsewhere" not in words(site.get(log))


def test_last_entries_then_those_of_the_part_the_newest_first(build, wheel):
    for day in (8, 11, 9):
        make_log_entry(part=wheel, on=date(2025, 3, day), done=f"of the {day}th")
    make_log_entry(build, done="of no part")
    assert [entry.done for entry in last_entries(wheel, 2)] == ["of the 11th", "of the 9th"]


# ---- how much it asks ------------------------------------------------------------------------------------


def asked(client, place):
    with CaptureQueriesContext(connection) as queries:
        assert client.get(place).status_code == 200
    return len(queries)


def test_pages_when_the_log_grows_to_2000_entries_then_they_ask_no_more(site, cast, build, wheel, log, new):
    make_record(wheel, user=cast.owner, divisions="47")
    entry = make_log_entry(part=wheel, done="47 T", left_off="29 of 47 cut, pin 32 holes on")
    pages = {
        # Who asks (2), the build, the count with the minutes, the page, the minutes of its days; the part.
        log: 6,
        f"{log}?part=S-012": 7,
        f"{log}?find=47T": 6,
        new: 5,  # The entry before, whose part is taken for this one's.
        f"{new}?part=S-012": 5,
        entry.get_absolute_url(): 6,  # Its photos, and what was changed, besides.
        reverse("log_edit", args=[entry.pk]): 4,
    }
    for place in pages:
        site.get(place)
    few = {place: asked(site, place) for place in pages}
    many = [
        LogEntry(
            build=build, part=wheel, on=TODAY - timedelta(days=day), minutes=10, done="47 T", written_at=NOW
        )
        for day in range(2000)
    ]
    for one in many:
        one.derive()
    LogEntry.objects.bulk_create(many)
    assert few == pages
    assert {place: asked(site, place) for place in pages} == few


def test_log_when_it_has_an_entry_of_a_part_then_it_leads_to_both(site, build, wheel, log):
    entry = make_log_entry(part=wheel)
    page = site.get(log)
    assert {entry.get_absolute_url(), wheel.get_absolute_url()} <= set(links(page))
    assert line_of(site.get(build.get_absolute_url()), "Faced the boss and bored it.")
