"""Coming back after a gap: the setting as it was photographed, and what has changed since."""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.log import write_entry
from buildlog.log_checks import Move, check_note
from buildlog.models import LogEntry
from buildlog.where import setup_photo
from tests.factories import (
    make_casting,
    make_delivery,
    make_log_entry,
    make_order,
    make_part,
    make_photo,
    make_record,
)
from tests.pages import links, words

pytestmark = pytest.mark.django_db

#: 11 March to 20 November 2025 are 254 days by the calendar.
BACK = datetime(2025, 11, 20, 19, 30, tzinfo=UTC)
LEFT = datetime(2025, 3, 11, 21, 5, tzinfo=UTC)
NOTE = (
    "29 of 47 cut, head indexed ready for 30, first pass 0.180, pin 32 holes on from the start hole, "
    "do not move the table"
)


@pytest.fixture(autouse=True)
def back():
    """It is the evening of 20 November 2025."""
    with clock.stopped_at(BACK):
        yield


@pytest.fixture
def wheel(build):
    return make_part(build, number="S-012", name="Second-shaft wheel 47 T", stage="in hand")


@pytest.fixture
def entry(wheel):
    return make_log_entry(
        part=wheel, on=LEFT.date(), written_at=LEFT, done="47 T wheel", left_off=NOTE, next="Cut tooth 30"
    )


def home(site, build):
    return site.get(build.get_absolute_url())


def photo_of(part, on, entry=None, **changes):
    return make_photo(part.build, part=part, taken_on=on, entry=entry, **changes)


# ---- the day after 254 days ------------------------------------------------------------------------------


def test_home_when_back_after_254_days_then_days_job_note_next_photo_and_the_check(
    site, build, wheel, cast, entry
):
    """29 moves of 40 spaces on 47 holes leave the pin at hole 1160 mod 47 = 32, as the note has it."""
    assert (BACK.date() - LEFT.date()).days == 254
    assert 29 * 40 % 47 == 32
    assert check_note(NOTE, Move(divisions=47, circle=47, turns=0, spaces=40)).agrees
    make_record(wheel, user=cast.owner, divisions="47")
    photo = photo_of(wheel, LEFT.date(), entry, caption="Pin and table")
    page = home(site, build)
    said = words(page)
    for text in (
        "254 days ago, Tuesday 11 March, you left off at S-012 Second-shaft wheel 47 T",
        NOTE,
        "agrees with itself",
        "Cut tooth 30",
        "Pin and table, 11 March 2025",
    ):
        assert text in said, text
    where = page.content.decode()
    assert where.index('aria-label="Left off"') < where.index("In hand</span>")
    assert reverse("photo_small", args=[photo.pk]) in where
    assert photo.get_absolute_url() in links(page)
    assert wheel.get_absolute_url() in links(page)


@pytest.mark.parametrize("days", [0, 1, 8, 254, 2000])
def test_home_when_away_however_long_then_it_begins_with_where_it_was_left(site, build, wheel, days):
    on = BACK.date() - timedelta(days=days)
    make_log_entry(part=wheel, on=on, left_off=NOTE, next="Cut tooth 30")
    page = words(home(site, build))
    assert page.index("you left off at S-012") < page.index("Cut tooth 30") < page.index("In hand")


# ---- the photo -------------------------------------------------------------------------------------------


def test_photo_when_the_entry_has_its_own_then_the_last_of_them_before_any_of_the_part(wheel, entry):
    photo_of(wheel, LEFT.date(), entry)
    last = photo_of(wheel, LEFT.date() + timedelta(days=1), entry)
    photo_of(wheel, LEFT.date())
    assert setup_photo(entry) == last


def test_photo_when_the_entry_has_none_then_the_last_of_its_part_up_to_that_day(wheel, entry):
    photo_of(wheel, date(2025, 3, 1))
    last = photo_of(wheel, LEFT.date())
    photo_of(wheel, date(2025, 3, 12))
    assert setup_photo(entry) == last


def test_photo_when_there_is_none_of_it_then_none(site, build, wheel, entry):
    photo_of(wheel, date(2025, 3, 12))
    photo_of(wheel, LEFT.date(), entry, binned_at=BACK)
    photo_of(make_part(build), LEFT.date())
    assert setup_photo(entry) is None
    assert "<img" not in home(site, build).content.decode()


def test_photo_when_the_entry_is_about_no_part_then_its_own_alone(build, wheel):
    entry = make_log_entry(build)
    make_photo(build)
    assert setup_photo(entry) is None
    own = make_photo(build, entry=entry)
    assert setup_photo(entry) == own


def test_photo_when_asked_for_then_in_one_query(wheel, entry, django_assert_num_queries):
    for _ in range(5):
        photo_of(wheel, LEFT.date())
    with django_assert_num_queries(1):
        setup_photo(entry)


# ---- what has changed since ------------------------------------------------------------------------------


def ordered(build, number, casting, promised_on=None):
    return make_order(
        make_casting(build, number=casting),
        number=number,
        promised_on=promised_on,
        ordered_on=date(2025, 2, 1),
    )


def since(page):
    said = words(page)
    return said[said.index("Since then") : said.index("In hand")] if "Since then" in said else ""


def test_since_when_castings_came_and_orders_fell_due_then_a_line_of_each(site, build, entry):
    before, after = ordered(build, "O-001", "C-001"), ordered(build, "O-002", "C-002")
    make_delivery(before.lines.get(), on=date(2025, 3, 11))
    make_delivery(after.lines.get(), on=date(2025, 3, 12))
    ordered(build, "O-003", "C-003", promised_on=date(2025, 11, 19))
    ordered(build, "O-004", "C-004", promised_on=date(2025, 11, 20))
    page = home(site, build)
    assert "A casting came: C-002. An order became overdue: O-003." in since(page)
    assert {reverse("stores", args=[build.pk]), reverse("order_list", args=[build.pk])} <= set(links(page))


def test_since_when_much_came_then_the_first_four_are_named(site, build, entry):
    for number in range(1, 7):
        make_delivery(ordered(build, f"O-{number}", f"C-00{number}").lines.get(), on=date(2025, 5, number))
    assert "Castings came: C-001, C-002, C-003, C-004 and 2 more." in since(home(site, build))


@pytest.mark.parametrize(("days", "told"), [(30, False), (31, True)])
def test_since_when_away_for_a_month_or_less_then_the_stores_are_left_out(site, build, wheel, days, told):
    make_log_entry(part=wheel, on=BACK.date() - timedelta(days=days))
    make_delivery(ordered(build, "O-001", "C-001").lines.get(), on=BACK.date())
    assert bool(since(home(site, build))) is told


def test_since_when_a_later_entry_left_nothing_off_then_it_is_told(site, build, wheel, entry):
    later = make_log_entry(
        part=wheel, on=date(2025, 3, 20), done="All 47 cut", left_off="", next="",
        written_at=LEFT + timedelta(days=9),
    )  # fmt: skip
    page = home(site, build)
    assert "In the log about S-012: All 47 cut" in since(page)
    assert later.get_absolute_url() in links(page)


def test_since_when_nothing_changed_then_no_word_of_it(site, build, entry):
    assert "Since then" not in words(home(site, build))


# ---- and on from there -----------------------------------------------------------------------------------


def test_home_when_the_next_entry_is_written_then_it_begins_with_that(site, build, wheel, entry):
    new = LogEntry(build=build, part=wheel, on=BACK.date(), left_off="30 of 47 cut", next="Cut tooth 31")
    write_entry(new, token=uuid4(), by=None)
    page = words(home(site, build))
    assert "Today, Thursday 20 November, you left off at S-012" in page
    assert page.index("Cut tooth 31") < page.index("The one before")
