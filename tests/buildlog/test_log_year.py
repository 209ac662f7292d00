"""Kinds of time, and the year at a glance: days marked, hours by month and kind, the longest gap."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.log_year import longest_gap, year_of
from buildlog.models import LogEntry, TimeKind
from tests.cast import check_page
from tests.factories import make_build, make_log_entry, make_part
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, links, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 11, 20, 21, 5, tzinfo=UTC)
TODAY = NOW.date()


@pytest.fixture(autouse=True)
def evening():
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def new(build):
    return reverse("log_new", args=[build.pk])


@pytest.fixture
def log(build):
    return reverse("log_list", args=[build.pk])


def year_page(build, year=2025):
    return reverse("log_year", args=[build.pk, year])


def marks(build, year=2025, today=TODAY):
    """The days of the year's sheet that are marked, by their day."""
    found = year_of(build, year, today)
    days = [day for month in found.months for week in month.weeks for day in week]
    return {day.on: (day.ink, day.words) for day in days if day.ink}


# ---- kinds of time ---------------------------------------------------------------------------------------


def test_kind_when_nothing_is_said_then_at_the_bench(site, new):
    assert entries(site.get(new))["kind"] == "bench"
    fill_in(site, new, done="Cut")
    fill_in(site, new, done="Bored", kind="")
    assert {entry.kind for entry in LogEntry.objects.all()} == {"bench"}


@pytest.mark.parametrize("kind", TimeKind)
def test_kind_when_chosen_then_kept_and_said(site, new, kind):
    page = fill_in(site, new, done="Something", kind=kind.value)
    assert LogEntry.objects.get().kind == kind
    assert kind.label.lower() in words(page)


def test_kind_when_it_is_none_then_refused(site, new):
    page = fill_in(site, new, done="Cut", kind="sleeping")
    assert "Kind of time: " in alerts(page)
    assert not LogEntry.objects.exists()


def test_log_when_of_several_kinds_then_the_hours_of_each_stand_there(site, build, log):
    for kind, minutes in (("bench", 90), ("bench", 60), ("tooling", 45), ("drawing", None)):
        make_log_entry(build, kind=kind, minutes=minutes)
    page = words(site.get(log))
    assert "3 h 15 min in all" in page
    assert "bench or machine 2 h 30 min tooling 45 min" in page
    assert "4 entries" in page


# ---- how long, in one touch ------------------------------------------------------------------------------


@pytest.mark.parametrize("minutes", [30, 60, 90, 120, 180])
def test_minutes_when_touched_then_kept_and_touched_when_it_is_changed(site, new, minutes):
    fill_in(site, new, done="Cut", quick=str(minutes))
    entry = LogEntry.objects.get()
    assert entry.minutes == minutes
    again = left_as_it_comes(site, reverse("log_edit", args=[entry.pk]))
    assert (again["quick"], again["minutes"]) == (str(minutes), "")


def test_minutes_when_touched_and_typed_then_both_alike_or_asked_which(site, new):
    page = fill_in(site, new, done="Cut", quick="90", minutes="75")
    assert "Two times stand here: 90 minutes and “75”" in alerts(page)
    assert (entries(page)["quick"], entries(page)["minutes"]) == ("90", "75")
    fill_in(site, new, done="Cut", quick="90", minutes="1 h 30")
    assert LogEntry.objects.get().minutes == 90


def test_minutes_when_the_touch_is_none_that_is_offered_then_refused(site, new):
    assert fill_in(site, new, done="Cut", quick="91").status_code == 422


# ---- the part of the entry before ------------------------------------------------------------------------


def test_part_when_an_entry_is_begun_then_that_of_the_last_entry_stands_there(site, build, new):
    wheel, shaft = (make_part(build, number=number, name="Thing") for number in ("S-012", "S-003"))
    make_log_entry(part=shaft, on=date(2025, 3, 8))
    make_log_entry(part=wheel, on=date(2025, 3, 11))
    make_log_entry(build, on=date(2025, 3, 12))
    page = site.get(new)
    assert entries(page)["part"] == "S-012"
    assert "The same part again, as 254 days ago" in words(page)
    assert entries(site.get(f"{new}?part="))["part"] == ""
    assert entries(site.get(f"{new}?part=S-003"))["part"] == "S-003"


def test_part_when_cleared_then_the_entry_is_about_none(site, build, new):
    make_log_entry(part=make_part(build, number="S-012"))
    fill_in(site, new, part="", done="Swept the shop")
    assert LogEntry.objects.get(done="Swept the shop").part is None


def test_part_when_the_last_is_in_the_bin_then_the_one_before_it(site, build, new):
    shaft = make_part(build, number="S-003")
    make_log_entry(part=shaft, on=date(2025, 3, 8))
    make_log_entry(part=make_part(build, number="S-012", binned_at=NOW), on=date(2025, 3, 11))
    assert entries(site.get(new))["part"] == "S-003"


def test_entry_when_read_then_the_same_part_again_is_one_touch(site, build, new):
    wheel = make_part(build, number="S-012")
    page = site.get(make_log_entry(part=wheel).get_absolute_url())
    assert f"{new}?part={wheel.pk}" in links(page)


# ---- the year --------------------------------------------------------------------------------------------


def test_year_then_each_day_with_an_entry_is_marked_by_its_hours_in_words_too(site, build, log):
    """The bounds are the middle mark up to three hours, the light one up to one: this project's own."""
    for day, minutes in ((1, None), (2, 60), (3, 61), (4, 180), (5, 181), (6, 20)):
        make_log_entry(build, on=date(2025, 3, day), minutes=minutes)
    make_log_entry(build, on=date(2025, 3, 6), minutes=170)
    assert marks(build) == {
        "2025-03-01": ("day0", "1 March: 1 entry, no time said"),
        "2025-03-02": ("day1", "2 March: 1 entry, 1 h"),
        "2025-03-03": ("day2", "3 March: 1 entry, 1 h 1 min"),
        "2025-03-04": ("day2", "4 March: 1 entry, 3 h"),
        "2025-03-05": ("day3", "5 March: 1 entry, 3 h 1 min"),
        "2025-03-06": ("day3", "6 March: 2 entries, 3 h 10 min"),
    }
    page = site.get(year_page(build))
    assert f"{log}?on=2025-03-06" in links(page)
    assert 'aria-label="6 March: 2 entries, 3 h 10 min"' in page.content.decode()


@pytest.mark.parametrize("year", [2023, 2024, 2025])
def test_year_then_every_day_of_it_stands_under_its_weekday(build, year):
    """Held against the calendar of the standard library, a leap year among them."""
    found = year_of(build, year, TODAY)
    days = [
        date(year, number, day.number)
        for number, month in enumerate(found.months, 1)
        for week in month.weeks
        for weekday, day in enumerate(week)
        if day.number and date(year, number, day.number).weekday() == weekday
    ]
    assert days == [date(year, 1, 1) + timedelta(days=past) for past in range(365 + (year == 2024))]


def test_year_then_hours_by_month_and_kind_and_all(site, build):
    for month, kind, minutes in (
        (3, "bench", 90), (3, "bench", 30), (3, "tooling", 45), (10, "tooling", 15), (10, "buying", None),
    ):  # fmt: skip
        make_log_entry(build, on=date(2025, month, 11), kind=kind, minutes=minutes)
    make_log_entry(build, on=date(2024, 12, 31), minutes=1000)
    page = site.get(year_page(build))
    assert line_of(page, "March 2 h") == "March 2 h 45 min — 2 h 45 min 3"
    assert line_of(page, "October —") == "October — 15 min — 15 min 2"
    assert line_of(page, "July —") == "July — — — — —"
    assert line_of(page, "2025 2 h") == "2025 2 h 1 h — 3 h 5"
    said = words(page)
    assert "5 entries on 2 days" in said
    assert "1 entry says no time" in said
    assert "Drawing or thinking" not in said


def test_gap_then_the_longest_between_two_days_the_earlier_of_two_alike():
    days = [date(2025, 1, 1), date(2025, 1, 11), date(2025, 3, 11), date(2025, 3, 21)]
    assert (longest_gap(days).days, longest_gap(days).left) == (59, date(2025, 1, 11))
    assert longest_gap([date(2025, 1, 1), date(2025, 1, 11), date(2025, 1, 21)]).left == date(2025, 1, 1)
    assert longest_gap(days[:1]) is None
    assert longest_gap([]) is None


def test_gap_when_a_builder_was_away_then_told_without_a_word_of_blame(site, build):
    """11 March to 20 November 2025 are 254 days by the calendar."""
    for on in (date(2025, 3, 8), date(2025, 3, 11), date(2025, 11, 20)):
        make_log_entry(build, on=on)
    page = words(site.get(year_page(build)))
    assert "254 days, from 11 March 2025 to 20 November 2025" in page
    for word in ("streak", "only", "lost", "should", "behind", "%"):
        assert word not in page.lower(), word


def test_gap_when_it_runs_over_the_end_of_a_year_then_both_years_tell_it(site, build):
    for on in (date(2023, 6, 1), date(2025, 3, 11)):
        make_log_entry(build, on=on)
    for year in (2023, 2024, 2025):
        assert "649 days, from 1 June 2023 to 11 March 2025" in words(site.get(year_page(build, year)))


def test_year_when_nothing_is_written_in_it_then_a_plain_sheet_of_it(site, build):
    page = site.get(year_page(build))
    assert page.status_code == 200
    assert "No entry is of this year" in words(page)
    assert marks(build) == {}


def test_years_then_turned_from_the_first_with_an_entry_to_this_one(site, build):
    make_log_entry(build, on=date(2023, 3, 11))
    assert year_page(build, 2024) in links(site.get(year_page(build)))
    assert year_page(build, 2026) not in links(site.get(year_page(build)))
    first = links(site.get(year_page(build, 2023)))
    assert year_page(build, 2022) not in first
    assert year_page(build, 2024) in first


@pytest.mark.parametrize("year", [0, 1949, 2026, 9999, 10**12])
def test_year_when_there_is_none_such_then_not_found(site, build, year):
    assert site.get(year_page(build, year)).status_code == 404


def test_year_then_nothing_of_other_builds_and_not_for_strangers(cast, build):
    make_log_entry(make_build(cast.owner, name="Second engine"), on=date(2025, 3, 11))
    assert marks(build) == {}
    check_page(cast, year_page(build))


def test_day_when_asked_for_then_its_entries_alone(site, build, log):
    make_log_entry(build, on=date(2025, 3, 11), done="Cut the wheel")
    make_log_entry(build, on=date(2025, 3, 12), done="Swept the shop")
    page = words(site.get(log, {"on": "2025-03-11"}))
    assert "1 entry on Tuesday 11 March" in page
    assert "Cut the wheel" in page
    assert "Swept" not in page
    assert "2 entries" in words(site.get(log, {"on": "no day"}))


def test_log_then_a_way_to_its_year(site, build, log):
    assert year_page(build, 2025) in links(site.get(log))
    make_log_entry(build, on=date(2019, 3, 11))
    assert year_page(build, 2019) in links(site.get(log))


def test_year_when_the_log_has_3000_entries_then_asked_in_two_queries(site, build, django_assert_num_queries):
    LogEntry.objects.bulk_create(
        LogEntry(build=build, on=TODAY - timedelta(days=day % 700), minutes=10, written_at=NOW)
        for day in range(3000)
    )
    with django_assert_num_queries(2):
        assert year_of(build, 2025, TODAY).time.entries > 1000
    site.get(year_page(build))  # The session has the build by then.
    with CaptureQueriesContext(connection) as queries:
        site.get(year_page(build))
    assert len(queries) <= 5


def test_gap_when_nobody_has_come_back_yet_then_it_runs_to_today(site, build):
    """From 11 March to 20 November 2025 are 254 days by the calendar, and it is the 20th."""
    for on in (date(2025, 3, 8), date(2025, 3, 11)):
        make_log_entry(build, on=on)
    assert "254 days, from 11 March 2025 to today" in words(site.get(year_page(build)))
