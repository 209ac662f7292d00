"""Where was I: what was left off and how long ago, what is next, what is in hand, what waits."""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions.parts import bin_part
from buildlog.actions.stages import record_count
from buildlog.models import LogEntry
from calc import records, registry
from tests.conftest import STOPPED_AT
from tests.factories import (
    CIRCLES,
    make_assembly,
    make_build,
    make_casting,
    make_casting_part,
    make_first,
    make_log_entry,
    make_order,
    make_part,
    make_record,
    make_user,
)
from tests.pages import line_of, links, words

pytestmark = pytest.mark.django_db

#: The day after a gap: 11 March to 20 November 2025 are 254 days by the calendar.
BACK = datetime(2025, 11, 20, 19, 30, tzinfo=UTC)
LEFT = date(2025, 3, 11)
#: 29 moves of 40 spaces in a 47 circle: 1160 = 24 × 47 + 32.
NOTE = (
    "29 of 47 cut, head indexed ready for 30, first pass 0.180, pin 32 holes on from the start hole, "
    "do not move the table"
)


@pytest.fixture
def back():
    """It is the evening of 20 November 2025."""
    with clock.stopped_at(BACK):
        yield


@pytest.fixture
def wheel(build):
    return make_part(build, number="S-012", name="Second-shaft wheel 47 T", stage="in hand")


def left_off(part, **changes):
    changes = {"on": LEFT, "left_off": NOTE, "next": "Cut tooth 30 of 47", "done": ""} | changes
    return make_log_entry(part.build, part=part, **changes)


# ---- which build -----------------------------------------------------------------------------------------


def test_home_when_there_is_one_build_then_straight_to_it(site, build):
    assert site.get(reverse("home")).url == build.get_absolute_url()


def test_home_when_there_are_several_then_ones_own_alone(site, cast):
    make_build(cast.builder, name="Not mine")
    make_build(cast.owner, name="Second engine", scale="1:3")
    page = site.get(reverse("home"))
    assert "1:3" in line_of(page, "Second engine")
    assert "Marlpit" in words(page)
    assert "Not mine" not in words(page)


def test_home_when_there_is_none_then_it_says_how_to_begin():
    client = Client()
    client.force_login(make_user())
    page = client.get(reverse("home"))
    assert "Begin with a build" in words(page)
    assert reverse("build_new") in links(page)


def test_home_when_there_are_several_then_the_one_opened_last_on_this_browser(site, cast, build):
    second = make_build(cast.owner, name="Second engine")
    make_log_entry(build)
    site.get(second.get_absolute_url())
    assert site.get(reverse("home")).url == second.get_absolute_url()


def test_home_when_the_browser_knows_nothing_then_the_build_whose_log_was_written_in_last(site, cast, build):
    second = make_build(cast.owner, name="Second engine")
    make_log_entry(second, written_at=BACK)
    make_log_entry(build, written_at=BACK + timedelta(days=1))
    make_log_entry(make_build(name="Not mine"), written_at=BACK + timedelta(days=2))
    assert site.get(reverse("home")).url == build.get_absolute_url()


def test_home_when_the_build_opened_last_is_shared_no_longer_then_not_to_it(site, cast, build):
    gone, _ = make_build(cast.owner, name="Gone"), make_build(cast.owner, name="Second engine")
    site.get(gone.get_absolute_url())
    gone.memberships.all().delete()
    assert site.get(reverse("home")).status_code == 200


def test_build_page_when_there_are_several_then_the_others_are_listed(site, cast, build):
    make_part(build)
    assert "This is the only one you are a member of" in words(site.get(build.get_absolute_url()))
    second = make_build(cast.owner, name="Second engine")
    make_build(cast.builder, name="Not mine")
    page = site.get(build.get_absolute_url())
    assert second.get_absolute_url() in links(page)
    assert "Not mine" not in words(page)


# ---- left off --------------------------------------------------------------------------------------------


def test_build_page_after_254_days_then_it_says_so_and_what_was_left_off_and_what_is_next(site, wheel, back):
    left_off(wheel)
    page = words(site.get(wheel.build.get_absolute_url()))
    assert "254 days ago, Tuesday 11 March, you left off at S-012 Second-shaft wheel 47 T" in page
    assert NOTE in page
    assert "Next Cut tooth 30 of 47" in page


def test_build_page_then_it_leads_to_the_part_its_card_and_the_log(site, wheel, back):
    left_off(wheel)
    found = links(site.get(wheel.build.get_absolute_url()))
    for place in (
        wheel.get_absolute_url(),
        reverse("card_new", args=[wheel.pk]),
        reverse("log_list", args=[wheel.build.pk]),
        reverse("log_new", args=[wheel.build.pk]) + f"?part={wheel.pk}",
    ):
        assert place in found, place


def test_build_page_when_a_sum_is_kept_then_the_note_is_held_against_it(site, wheel, cast, back):
    record = make_record(wheel, user=cast.owner, divisions="47")
    make_record(wheel, user=cast.owner, divisions="4")  # Kept later, and `of 4` stands in `of 47`.
    left_off(wheel)
    page = site.get(wheel.build.get_absolute_url())
    assert "29 moves of 40 in the 47 circle leave the pin at hole 32: the note agrees with itself" in words(
        page
    )
    assert record.get_absolute_url() in links(page)
    assert reverse("card_new", args=[wheel.pk]) + f"?record={record.pk}" in links(page)
    assert b'class="lop"' in page.content


def test_build_page_when_the_note_does_not_agree_then_it_says_what_does_not(site, wheel, cast, back):
    make_record(wheel, user=cast.owner, divisions="47")
    left_off(wheel, left_off=NOTE.replace("32 holes", "33 holes"))
    page = words(site.get(wheel.build.get_absolute_url()))
    assert "leave the pin at hole 32, and the note says 33" in page
    assert "Wrong" in page  # the mark is in the legend


@pytest.mark.parametrize(
    "changes",
    [
        {"divisions": "84"},  # a sum for another number
        {"divisions": "47", "circles": "39,41,43"},  # none of these circles does
        {"divisions": "", "angle": "7.5"},  # by angle
    ],
)
def test_build_page_when_no_kept_sum_is_of_that_number_then_nothing_is_said_of_the_note(
    site, wheel, cast, back, changes
):
    make_record(wheel, user=cast.owner, **changes)
    left_off(wheel)
    page = words(site.get(wheel.build.get_absolute_url()))
    assert "254 days ago" in page
    assert "leave the pin" not in page
    assert "the note" not in page


def test_build_page_when_the_setting_is_of_two_moves_then_nothing_is_said_of_the_pin(site, wheel, cast, back):
    run = records.run(
        registry.get("indexing"),
        {"divisions": "77", "ratio": "40", "circles": CIRCLES},
        chosen={"method": "compound", "index": 0},
    )
    assert run.outcome.results["compound"]
    records.keep(run, part=wheel, user=cast.owner, token=uuid4(), context={}, at=clock.now())
    left_off(wheel, left_off="29 of 77 cut, pin 3 holes on")
    assert "leave the pin" not in words(site.get(wheel.build.get_absolute_url()))


@pytest.mark.parametrize(
    ("days", "said"), [(0, "Today"), (1, "Yesterday"), (3, "3 days ago"), (700, "700 days ago")]
)
def test_build_page_when_some_days_have_gone_by_then_it_says_how_many(site, wheel, back, days, said):
    left_off(wheel, on=BACK.date() - timedelta(days=days))
    assert f"{said}, " in words(site.get(wheel.build.get_absolute_url()))


def test_build_page_then_the_one_before_too_and_no_third(site, wheel, build, back):
    shaft = make_part(build, number="S-003", name="Second shaft")
    left_off(wheel)
    left_off(shaft, on=date(2025, 3, 8), next="Turn the left journal to suit the bush")
    left_off(shaft, on=date(2025, 3, 1), next="Centre it", done="Sawn off")
    page = words(site.get(build.get_absolute_url()))
    assert "The one before, Saturday 8 March: S-003 Second shaft" in page
    assert "Next: Turn the left journal to suit the bush" in page
    assert "Centre it" not in page


def test_build_page_when_the_last_entry_says_only_what_was_done_then_the_one_before_it_stands(
    site, wheel, back
):
    left_off(wheel)
    make_log_entry(wheel.build, on=BACK.date(), done="Swept the shop", left_off="", next="")
    page = words(site.get(wheel.build.get_absolute_url()))
    assert "254 days ago" in page
    assert "The log" in line_of(site.get(wheel.build.get_absolute_url()), "Swept the shop")


def test_build_page_when_two_are_of_one_day_then_the_one_written_last(site, wheel, back):
    left_off(wheel, next="The earlier")
    left_off(wheel, next="The later", written_at=BACK + timedelta(minutes=1))
    page = words(site.get(wheel.build.get_absolute_url()))
    assert page.index("The later") < page.index("The earlier")


def test_build_page_when_the_entry_was_changed_then_it_says_when(site, wheel, back):
    left_off(wheel, changed_at=BACK)
    assert "changed on 20 November 2025" in words(site.get(wheel.build.get_absolute_url()))


def test_build_page_when_the_part_is_in_the_bin_then_no_card_is_offered(site, wheel, back):
    left_off(wheel)
    bin_part(wheel, by=None)
    page = site.get(wheel.build.get_absolute_url())
    assert "S-012" in words(page)
    assert reverse("card_new", args=[wheel.pk]) not in links(page)


def test_build_page_when_a_long_gap_is_told_then_nothing_of_blame(site, wheel, back):
    left_off(wheel, on=date(2019, 3, 11))
    page = words(site.get(wheel.build.get_absolute_url())).lower()
    for word in ("only", "still not", "behind", "lost", "should have", "%", "streak"):
        assert word not in page.replace("this is the only one you are a member of", ""), word


# ---- nothing left off yet --------------------------------------------------------------------------------


def test_build_page_when_no_entry_is_written_then_it_says_what_to_do_and_shows_a_sample(site, build):
    make_part(build)
    page = site.get(build.get_absolute_url())
    assert "This page opens with where you left off, once you have written it down" in words(page)
    assert "How it will look" in words(page)
    assert reverse("log_new", args=[build.pk]) in links(page)


def test_build_page_when_a_sum_was_kept_last_then_it_opens_with_that(site, build, cast):
    make_part(build, number="S-001", name="Flywheel")
    wheel = make_part(build, number="S-016", name="Final-drive wheel 84 T")
    kept = make_record(wheel, user=cast.owner)
    page = words(site.get(build.get_absolute_url()))
    assert f"Kept sum {kept.pk}: Indexing, 84 divisions" in page
    bin_part(wheel, by=cast.owner)
    assert "Kept sum" not in words(site.get(build.get_absolute_url()))


@pytest.mark.parametrize(("days", "said"), [(0, "Today"), (1, "Yesterday"), (23, "23 days ago")])
def test_build_page_when_nothing_was_left_off_then_how_long_ago_and_what_was_last(
    site, build, cast, days, said
):
    part = make_part(build, number="S-016", name="Wheel")
    with clock.stopped_at(STOPPED_AT - timedelta(days=days)):
        record_count(part, good=1, scrap=0, note="bored", by=cast.owner, call_machined=False, token=uuid4())
    with clock.stopped_at(STOPPED_AT):
        page = words(site.get(build.get_absolute_url()))
    assert f"{said}," in page
    assert "the last thing you wrote down was about S-016 Wheel" in page
    assert "+1 good, bored; in hand" in page


def test_build_page_when_nothing_is_in_it_then_it_says_how_to_begin(site, build):
    page = site.get(build.get_absolute_url())
    assert "Nothing is in it yet" in words(page)
    for name in ("list_in", "part_new"):
        assert reverse(name, args=[build.pk]) in links(page)


def test_build_page_when_it_is_no_demo_then_no_word_of_one(site, build):
    make_part(build)
    assert "demo" not in words(site.get(build.get_absolute_url())).lower()


# ---- what happened last ----------------------------------------------------------------------------------


def test_build_page_then_what_happened_last_in_order_whatever_kind_it_was(site, build, cast):
    part = make_part(build, number="S-016", name="Wheel")
    with clock.stopped_at(BACK):
        record_count(part, good=1, scrap=0, note="bored", by=cast.owner, call_machined=False, token=uuid4())
    with clock.stopped_at(BACK + timedelta(hours=1)):
        make_record(part, user=cast.owner)
    make_log_entry(build, part=part, done="Faced it", written_at=BACK + timedelta(hours=2))
    page = words(site.get(build.get_absolute_url()))
    happened = page[page.index("What happened last") :]
    assert happened.index("Faced it") < happened.index("Kept sum") < happened.index("+1 good, bored")


# ---- how the engine stands -------------------------------------------------------------------------------


def test_build_page_then_what_is_in_hand_and_what_waits_for_something_typed(site, build):
    axle = make_assembly(build, code="FW")
    make_part(
        number="FW-1", name="Spoke", assembly=axle, quantity=24, good=17, stage="in hand", stage_at=STOPPED_AT
    )
    for number, since in ((2, "2026-02-01"), (3, "2026-01-01")):
        make_part(
            number=f"FW-{number}", name="Rim", assembly=axle, waits_for=f"plate {number}", waits_since=since
        )
    make_part(number="FW-4", name="Hub", assembly=axle, waits_for="nothing now", stage="fitted")
    bin_part(make_part(number="FW-5", name="Old", assembly=axle, stage="in hand"), by=None)
    page = site.get(build.get_absolute_url())
    said = words(page)
    assert "17/24" in line_of(page, "FW-1 Spoke")
    assert said.index("plate 3") < said.index("plate 2")
    assert "nothing now" not in said
    assert "FW-5" not in line_of(page, "FW-1 Spoke")
    for line in ("Made, of 4 parts 1", "In hand 1", "Not started 2", "Wait, of those not made 2"):
        assert line in said, line


def test_build_page_then_the_castings_that_hold_up_most_and_how_each_stands(site, build, back):
    block, pump = make_casting(build, number="K-022"), make_casting(build, number="K-038", name="Pump body")
    cylinder = make_assembly(build, code="CY", name="Cylinder", balloon="4")
    own = make_casting_part(block, number="CY-001", assembly=cylinder)
    for number in range(2, 5):
        make_first(make_part(build, number=f"CY-00{number}", assembly=cylinder), own)
    make_casting_part(pump, number="P-001", assembly=make_assembly(build, code="P", name="Feed pump"))
    make_order(block, promised_on=date(2025, 6, 30), ordered_on=date(2025, 5, 1))
    page = site.get(build.get_absolute_url())
    # From 30 June to 20 November 2025: 143 days by the calendar.
    line = line_of(page, "K-022")
    assert "4 Cylinder" in line
    assert "overdue 143 days, promised 30 Jun" in line
    assert "4 parts" in line
    assert "not ordered" in line_of(page, "K-038 Pump body")
    assert words(page).index("K-022") < words(page).index("K-038")
    assert "Wait, of those not made; 5 for castings 5" in words(page)
    assert reverse("stores", args=[build.pk]) in links(page)


# ---- how much it asks ------------------------------------------------------------------------------------


def asked(client, place):
    with CaptureQueriesContext(connection) as queries:
        assert client.get(place).status_code == 200
    return len(queries)


def test_build_page_when_the_log_grows_to_2000_entries_then_it_asks_no_more_and_13_times_at_most(
    site, wheel, cast
):
    make_record(wheel, user=cast.owner, divisions="47")
    left_off(wheel)
    place = wheel.build.get_absolute_url()
    site.get(place)
    few = asked(site, place)
    many = [
        LogEntry(
            build=wheel.build,
            part=wheel,
            on=LEFT - timedelta(days=day),
            left_off=NOTE,
            next="Go on",
            written_at=BACK,
        )
        for day in range(2000)
    ]
    LogEntry.objects.bulk_create(many)
    assert asked(site, place) == few <= 13
