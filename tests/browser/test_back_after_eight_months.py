"""Back after eight months: the home page names the job, the days and the next step, and opens the place.

The evening of 11 March 2025 to that of 20 November are 254 days by the calendar; 29 moves of 40 spaces on 47
holes leave the pin 1160 mod 47 = 32 holes on, as the note has it.
"""

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import expect

from buildlog import clock
from buildlog.models import LogEntry
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_marlpit, make_owner, part_of, said

pytestmark = pytest.mark.django_db(transaction=True)

LEFT = datetime(2025, 3, 11, 21, 5, tzinfo=UTC)
BACK = datetime(2025, 11, 20, 19, 30, tzinfo=UTC)
NOTE = (
    "29 of 47 cut, head indexed ready for 30, first pass 0.180, pin 32 holes on from the start hole, "
    "do not move the table"
)


@pytest.fixture
def owner():
    return make_owner()


@pytest.fixture
def wheel(owner):
    """A wheel that was left at its thirtieth tooth, photographed as it stood, its sum kept."""
    with clock.stopped_at(LEFT):
        build = factories.make_build(owner)
        wheel = factories.make_part(build, number="S-012", name="Second-shaft wheel 47 T", stage="in hand")
        factories.make_record(wheel, user=owner, divisions="47")
        entry = factories.make_log_entry(
            part=wheel,
            by=owner,
            done="47 T wheel",
            left_off=NOTE,
            next="See that the head has not moved, cut 30",
        )
        factories.make_photo(
            part=wheel, entry=entry, taken_on=LEFT.date(), caption="Pin, arms and table lock"
        )
    with clock.stopped_at(BACK):
        yield wheel


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_home_when_back_after_254_days_then_job_days_next_step_and_photo_and_the_link_opens_the_part(
    page_at, owner, wheel, width
):
    page = page_at(width, user=owner)
    page.goto("/")
    left = page.get_by_label("Left off", exact=True)
    expect(left).to_contain_text("254 days ago, Tuesday 11 March, you left off at S-012")
    expect(left).to_contain_text(NOTE)
    expect(left).to_contain_text("agrees with itself")
    expect(left).to_contain_text("See that the head has not moved, cut 30")
    shown = left.get_by_alt_text("Pin, arms and table lock")
    expect(shown).to_be_visible()
    assert shown.evaluate("image => image.complete && image.naturalWidth > 0")
    # Nothing of the sheet comes before it but its heading.
    assert left.bounding_box()["y"] < page.get_by_role("heading", name="In hand").bounding_box()["y"]
    expect_no_sideways(page)
    left.get_by_role("link", name="Open S-012").click()
    expect(page).to_have_url(re.compile(f"{wheel.get_absolute_url()}$"))
    expect(page.get_by_role("heading", level=1)).to_contain_text("Second-shaft wheel 47 T")


def test_home_when_the_next_evening_is_written_down_from_there_then_it_follows(page_at, owner, wheel):
    """The whole of an entry on a telephone, its touches counted: all that is not typed."""
    page = page_at(PHONE, user=owner, has_touch=True)
    page.goto("/")
    touches = 0

    def touch(place):
        nonlocal touches
        touches += 1
        place.tap()

    touch(page.get_by_role("link", name="Write in the log"))
    expect(page.get_by_label(re.compile("^Part"))).to_have_value("S-012")
    for label, text in (
        ("What was done", "Teeth 30 to 47"),
        ("Left off", "All 47 cut, wheel still on the mandrel"),
        ("Next", "Deburr, then gauge over pins"),
    ):
        place = page.get_by_label(re.compile(f"^{label}"))
        touch(place)
        page.keyboard.type(text)
    touch(page.locator(".picks label", has_text="120"))
    save = page.get_by_role("button", name="Write it down")
    assert_in_reach(page, save)
    expect_no_sideways(page)
    touch(save)
    expect(said(page)).to_contain_text("Written in the log.")
    assert touches <= 12
    entry = LogEntry.objects.latest("pk")
    assert (entry.part, entry.minutes, entry.on) == (wheel, 120, BACK.date())
    page.goto("/")
    left = page.get_by_label("Left off", exact=True)
    expect(left).to_contain_text("Today, Thursday 20 November, you left off at S-012")
    expect(left).to_contain_text("Deburr, then gauge over pins")
    expect(left).to_contain_text("The one before, Tuesday 11 March")


def assert_in_reach(page, button):
    """Seen without scrolling wherever the page stands, and as large as a thumb with oil on it wants."""
    for place in ("0", "document.body.scrollHeight"):
        page.evaluate(f"window.scrollTo(0, {place})")
        box = button.bounding_box()
        assert box["height"] >= 64
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= page.viewport_size["height"]


def test_entry_when_written_on_a_telephone_then_every_place_to_touch_is_large_enough(page_at, owner, wheel):
    page = page_at(PHONE, user=owner)
    page.goto(f"/builds/{wheel.build_id}/log/new/")
    page.locator("details summary", has_text="Links").click()
    small = page.evaluate(
        """() => [...document.querySelectorAll(`form.big :is(input:not([type=hidden], [type=radio]),
             textarea, select, .picks label, summary, .btn)`)]
             .map((one) => [one.name || one.textContent, one.getBoundingClientRect().height])
             .filter(([, height]) => height < 44)"""
    )
    assert small == []


def test_entry_when_there_is_no_script_and_the_save_is_touched_twice_then_it_is_one(page_at, owner, wheel):
    page = page_at(PHONE, script=False, user=owner)
    page.goto(f"/builds/{wheel.build_id}/log/new/")
    page.get_by_label(re.compile("^What was done")).fill("Teeth 30 to 33")
    page.locator(".picks label", has_text="90").click()
    # An impatient thumb: the form goes out twice with the same token.
    page.get_by_role("button", name="Write it down").dblclick()
    expect(said(page)).to_contain_text("Written in the log.")
    assert LogEntry.objects.filter(done="Teeth 30 to 33").count() == 1


def test_minutes_when_touched_after_typing_or_typed_after_a_touch_then_the_later_counts(
    page_at, owner, wheel
):
    page = page_at(PHONE, user=owner)
    page.goto(f"/builds/{wheel.build_id}/log/new/")
    typed = page.get_by_label(re.compile("^How long"))
    typed.fill("75")
    page.locator(".picks label", has_text="90").click()
    expect(typed).to_have_value("")
    typed.fill("2 h 20")
    expect(page.get_by_label("other", exact=True)).to_be_checked()
    page.get_by_label(re.compile("^What was done")).fill("Teeth 30 to 33")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("main")).to_contain_text("2 h 20 min")


def test_demo_when_it_is_looked_at_then_it_begins_with_its_own_254_days(page_at, owner):
    build = make_marlpit(owner)
    page = page_at(PHONE, user=owner)
    page.goto(build.get_absolute_url())
    left = page.get_by_label("Left off", exact=True)
    expect(left).to_contain_text("254 days ago")
    expect(left).to_contain_text("29 of 47 cut")
    left.get_by_role("link", name="Open S-012").click()
    expect(page).to_have_url(re.compile(f"{part_of(build, 'S-012').get_absolute_url()}$"))
    page.goto(f"/builds/{build.pk}/log/")
    page.get_by_role("link", name=re.compile("^The year")).click()
    expect_no_sideways(page)
    page.locator(".month a").first.click()
    expect(page.locator(".log article")).not_to_have_count(0)
