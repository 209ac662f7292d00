"""Waiting in a real browser: a casting from wanted to accepted, and where it was left off 254 days later."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from buildlog import clock
from buildlog.models import Casting, Happening, StoresEvent
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner, said

#: The days of the journey; what is waited for on each follows from what happened until then.
WANTED = datetime(2026, 3, 14, 10, 0, tzinfo=UTC)
FIRST_CAME = datetime(2026, 4, 18, 10, 0, tzinfo=UTC)
SECOND_CAME = datetime(2026, 4, 22, 10, 0, tzinfo=UTC)
LAST_CAME = datetime(2026, 5, 11, 10, 0, tzinfo=UTC)
LEFT_OFF = "Port face scraped to the marks; angle plate still set up, not to be moved."
NEXT = "Drill the stud holes from the cover."


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def chest(owner):
    """Two valve chests are needed, and a cover that cannot be drilled without one of them."""
    assembly = factories.make_assembly(factories.make_build(owner), code="C", name="Cylinder")
    factories.make_part(assembly=assembly, number="C-002", name="Valve-chest cover", material="brass")
    return factories.make_part(
        assembly=assembly, number="C-001", name="Valve chest", material="cast iron", quantity=2
    )


@pytest.mark.parametrize(
    ("width", "script"), [(DESK, True), (PHONE, False)], ids=["desk", "phone, no script"]
)
def test_casting_when_ordered_rejected_and_replaced_then_every_page_says_what_waits(
    page_at, owner, chest, width, script
):
    page = page_at(width, script=script, user=owner)
    with clock.stopped_at(WANTED):
        say_what_is_needed(page, chest)
        expect_waiting(page, chest, "not ordered", order="not ordered", since="14 Mar")
        write_the_order(page)
        expect_waiting(page, chest, "promised 20 Apr", order="O-001", since="14 Mar")
    with clock.stopped_at(FIRST_CAME):
        receive_one(page, chest, to_come=2)
        expect_waiting(page, chest, "1 here, to be looked at", order="O-001", since="14 Mar")
        reject_it(page, chest)
        # The promise stands for the one that has not come; the wait begins again with the rejection.
        expect_waiting(page, chest, "promised 20 Apr", order="O-001", since="18 Apr")
    with clock.stopped_at(SECOND_CAME):
        expect_waiting(page, chest, "overdue 2 days, promised 20 Apr", order="O-001", since="18 Apr")
        receive_one(page, chest, to_come=2)
        accept_it(page)
        # All that was ordered has come: what is owed now is a claim, and promised by nobody. The cover
        # wants one casting to be here, and one is.
        wait = {"order": "claim, O-001", "since": "18 Apr", "short": 1, "parts": 1}
        expect_waiting(page, chest, "no date given", **wait)
        ask_after_it(page, chest)
        expect_waiting(page, chest, "promised 11 May", **wait)
    with clock.stopped_at(LAST_CAME):
        expect_waiting(page, chest, "promised today", **wait)
        receive_one(page, chest, to_come=1)
        accept_it(page)
        expect_no_waiting(page, chest)
    happened = StoresEvent.objects.order_by("pk").values_list("kind", "quantity")
    assert list(happened) == [
        (Happening.ORDERED, 2),
        (Happening.RECEIVED, 1),
        (Happening.REJECTED, 1),
        (Happening.RECEIVED, 1),
        (Happening.ACCEPTED, 1),
        (Happening.CHASED, 0),
        (Happening.RECEIVED, 1),
        (Happening.ACCEPTED, 1),
    ]


def say_what_is_needed(page, chest):
    """The casting comes into the register with the part that names it; the cover names it after that."""
    page.goto(chest.get_absolute_url())
    expect(page.locator("#waits")).to_contain_text("Nothing that is written down.")
    write_needs(page, "Its own casting", "k-040")
    assert Casting.objects.get().number == "K-040"
    page.goto(chest.build.parts.get(number="C-002").get_absolute_url())
    write_needs(page, "Other castings it cannot go on without", "K-040")


def write_needs(page, label, text):
    page.get_by_role("link", name="what it needs").click()
    page.get_by_label(label).fill(text)
    expect_no_sideways(page)
    page.get_by_role("button", name="Write it down").click()
    expect(said(page)).to_contain_text("Written down.")


def write_the_order(page):
    page.get_by_role("link", name="Stores", exact=True).click()
    page.get_by_role("link", name="Order it").click()
    line = page.get_by_role("group", name="Line 1", exact=True)
    expect(line.get_by_label("Casting")).to_have_value("K-040")
    expect(line.get_by_label("How many")).to_have_value("2")
    expect(page.get_by_label("Number", exact=False).first).to_have_value("O-001")
    page.get_by_label("Or a new supplier").fill("Thrupwell Foundry")
    line.get_by_label("Price each").fill("48.50")
    line.get_by_label("Promised").fill("2026-04-20")
    expect_no_sideways(page)
    page.get_by_role("button", name="Write the order").click()
    expect(said(page)).to_contain_text("Order O-001 is written down.")


def receive_one(page, chest, *, to_come):
    page.goto(chest.build.orders.get().get_absolute_url())
    page.get_by_role("link", name="Goods received").click()
    expect(page.locator(".came").first).to_contain_text(f"of {to_come} to come")
    page.get_by_label("How many of K-040 came").fill("1")
    expect_no_sideways(page)
    page.get_by_role("button", name="Write down what came").click()
    expect(page.get_by_role("heading", level=1, name="Look at what came")).to_be_visible()


def reject_it(page, chest):
    page.goto(f"/builds/{chest.build_id}/stores/look/")
    page.get_by_label("Wrong", exact=True).check()
    page.get_by_role("button", name="Put away and claim").click()
    # Without a reason nothing is written, and the verdict stays.
    expect(page.get_by_role("alert")).to_contain_text("Say what is wrong with it")
    expect(page.get_by_label("Wrong", exact=True)).to_be_checked()
    page.get_by_label("blowhole").check()
    page.get_by_label("In your own words").fill("into the steam port")
    expect_no_sideways(page)
    page.get_by_role("button", name="Put away and claim").click()
    expect(said(page)).to_contain_text("1 rejected (K-040)")
    page.get_by_role("link", name="K-040").first.click()
    expect(page.get_by_text("blowhole: into the steam port").first).to_be_visible()


def accept_it(page):
    page.get_by_label("Accept", exact=True).check()
    page.get_by_label("enough to machine").check()
    page.get_by_role("button", name="Put away and claim").click()
    expect(said(page)).to_contain_text("1 accepted")


def ask_after_it(page, chest):
    page.goto(chest.build.orders.get().get_absolute_url())
    asked = page.locator("details").filter(has_text="Asked after all of it")
    asked.locator("summary").click()
    asked.get_by_label("What was said").fill("in the next heat")
    asked.get_by_label("Promised now").fill("2026-05-11")
    expect_no_sideways(page)
    asked.get_by_role("button", name="Asked after all of it").click()
    expect(said(page)).to_contain_text("Asked after, and written down.")


def section(page, heading):
    return page.locator("section").filter(has=page.get_by_role("heading", name=heading))


def expect_waiting(page, chest, words, *, order, since, short=2, parts=2):
    """Part, assembly, stores, arrangement and home page all say the same of K-040."""
    many = " × 2" if short == 2 else ""
    held = f"{parts} parts" if parts > 1 else "1 part"
    wait = f"{parts} wait" if parts > 1 else "1 waits"
    page.goto(chest.get_absolute_url())
    expect(page.locator("#waits")).to_contain_text(f"K-040 Valve chest{many}: {words}")
    expect(page.locator("#waits")).to_contain_text(f"since {since} 2026")
    page.goto(chest.uses.get().assembly.get_absolute_url())
    expect(page.get_by_role("heading", name="Made, of 2")).to_contain_text(f"; {wait}")
    expect(section(page, "Waits for castings")).to_contain_text(words_of("K-040 Valve chest", words, held))
    page.goto(f"/builds/{chest.build_id}/stores/")
    expect(page.get_by_role("row").filter(has_text="K-040")).to_contain_text(
        words_of("Cylinder", f"{held} wait", f"K-040 Valve chest{many}", order, since, words)
    )
    expect_no_sideways(page)
    page.goto(f"/builds/{chest.build_id}/engine/")
    expect(page.get_by_role("row").filter(has_text="Cylinder")).to_contain_text(
        words_of(f"K-040 {words}", wait)
    )
    page.goto(chest.build.get_absolute_url())
    expect(page.get_by_role("row").filter(has_text="K-040")).to_contain_text(words_of(words, held))


def words_of(*pieces):
    """These words one after another, whatever stands between them."""
    return re.compile(".*".join(re.escape(piece) for piece in pieces), re.S)


def expect_no_waiting(page, chest):
    page.goto(chest.get_absolute_url())
    expect(page.locator("#waits")).to_contain_text("Nothing that is written down.")
    page.goto(chest.uses.get().assembly.get_absolute_url())
    expect(page.get_by_role("heading", name="Made, of 2")).to_have_text("Made, of 20 in hand, 2 not started")
    expect(page.get_by_text("Waits for castings")).to_have_count(0)
    for key in ("C-001", "C-002"):
        row = page.get_by_role("row").filter(has_text=key)
        expect(row).to_contain_text("Not started")
        expect(row).not_to_contain_text(re.compile("K-040|wait"))
    page.goto(f"/builds/{chest.build_id}/stores/")
    expect(page.get_by_role("main")).to_contain_text("Nothing waits for a casting")
    page.goto(f"/builds/{chest.build_id}/engine/")
    expect(page.get_by_role("row").filter(has_text="Cylinder")).not_to_contain_text(re.compile("K-040|wait"))
    page.goto(chest.build.get_absolute_url())
    expect(page.get_by_text("Waits for castings")).to_have_count(0)


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_log_when_opened_after_254_days_then_home_says_where_it_was_left_off_and_what_is_next(
    page_at, owner, chest, script
):
    page = page_at(PHONE, script=script, user=owner)
    with clock.stopped_at(WANTED):
        page.goto("/")
        page.get_by_role("link", name="Write in the log").click()
        page.get_by_label("How long").fill("2 h 20")
        page.get_by_role("combobox", name="Part").fill("c-001")
        page.get_by_label("Left off").fill(LEFT_OFF)
        page.get_by_label("Next").fill(NEXT)
        expect_no_sideways(page)
        page.get_by_role("button", name="Write it down").click()
        page.goto("/")
        expect(page.get_by_label("Left off")).to_contain_text("Today, Saturday 14 March, you left off")
    # 14 March to 23 November of one year: 17 + 30 + 31 + 30 + 31 + 31 + 30 + 31 + 23 = 254 days, a Monday.
    with clock.stopped_at(WANTED + timedelta(days=254)):
        page.goto("/")
        where = page.get_by_label("Left off")
        expect(page.get_by_role("main")).to_contain_text("Monday 23 November 2026")
        expect(where).to_contain_text("254 days ago, Saturday 14 March, you left off at C-001 Valve chest")
        expect(where).to_contain_text(LEFT_OFF)
        expect(where.locator(".next")).to_contain_text(NEXT)
        expect_no_sideways(page)
        where.get_by_role("link", name="Open C-001").click()
        expect(page.get_by_role("heading", level=1)).to_contain_text("C-001 Valve chest")
        expect(section(page, "Log")).to_contain_text(words_of("14 Mar 2026", LEFT_OFF, NEXT, "2 h 20 min"))
