"""Two people at one record, each in a browser of their own; and the back button after a page was sent."""

import re

import pytest
from playwright.sync_api import expect

from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def owner():
    return make_owner()


@pytest.fixture
def helper():
    return factories.make_user("helper")


@pytest.fixture
def build(owner, helper):
    return factories.make_build(owner, helper)


def send(page):
    page.get_by_role("button", name="Write it down").click()


def entry(page, name):
    """An entry by the first words of its label; its help follows them."""
    return page.get_by_role("textbox", name=re.compile(f"^{name}"))


@pytest.mark.parametrize("script", [True, False])
@pytest.mark.parametrize("width", [DESK, PHONE])
def test_part_when_two_people_change_it_then_the_second_sees_both_and_decides(
    page_at, owner, helper, build, width, script
):
    part = factories.make_part(
        build, assembly=factories.make_assembly(build), number="S-040", name="Pinion", quantity=4
    )
    one = page_at(DESK, script=script, user=helper)
    two = page_at(width, script=script, user=owner)
    for page in (one, two):
        page.goto(f"{part.get_absolute_url()}change/")
    entry(one, "Number").fill("S-041")
    entry(one, "Made of").fill("gunmetal")
    send(one)
    expect(one.get_by_role("heading", level=1)).to_contain_text("S-041 Pinion")

    entry(two, "Made of").fill("bright mild steel")
    entry(two, "Notes").fill("Chamfer both ends.\nW" + "x" * 90)
    send(two)
    told = two.get_by_role("alert")
    expect(told).to_contain_text("This part has been changed since you opened the page.")
    expect(told).to_contain_text("by helper")
    for name, typed, now in (("Made of", "bright mild steel", "gunmetal"), ("Number", "S-040", "S-041")):
        row = told.get_by_role("row").filter(has_text=name)
        expect(row).to_contain_text(typed)
        expect(row).to_contain_text(now)
    expect_no_sideways(two)
    expect(entry(two, "Made of")).to_have_value("bright mild steel")
    expect(entry(two, "Number")).to_have_value("S-041")
    part.refresh_from_db()
    assert (part.number, part.material) == ("S-041", "gunmetal")
    send(two)
    expect(two.get_by_role("heading", level=1)).to_contain_text("S-041 Pinion")
    part.refresh_from_db()
    assert (part.number, part.material) == ("S-041", "bright mild steel")
    assert part.notes.startswith("Chamfer both ends.")


def test_log_entry_when_two_people_change_it_then_the_second_sees_both_and_decides(
    page_at, owner, helper, build
):
    written = factories.make_log_entry(build, left_off="Boss faced.", next="Ream the bore.")
    one, two = page_at(DESK, user=helper), page_at(PHONE, user=owner)
    for page in (one, two):
        page.goto(f"/log/{written.pk}/change/")
    entry(one, "Next").fill("Ream to 0.500.")
    send(one)
    expect(one.get_by_role("heading", level=1)).to_contain_text("day")
    entry(two, "Left off").fill("Boss faced, clamp left on.")
    send(two)
    told = two.get_by_role("alert")
    expect(told).to_contain_text("This entry has been changed since you opened the page.")
    expect(told.get_by_role("row").filter(has_text="Next")).to_contain_text("Ream to 0.500.")
    expect_no_sideways(two)
    send(two)
    expect(two.get_by_role("heading", level=1)).to_contain_text("day")
    written.refresh_from_db()
    assert (written.left_off, written.next) == ("Boss faced, clamp left on.", "Ream to 0.500.")


@pytest.mark.parametrize("script", [True, False])
def test_back_button_when_a_saved_page_is_sent_again_after_a_change_then_nothing_is_undone_unseen(
    page_at, owner, helper, build, script
):
    part = factories.make_part(build, number="S-040", name="Pinion")
    one = page_at(DESK, script=script, user=owner)
    one.goto(f"{part.get_absolute_url()}change/")
    entry(one, "Made of").fill("gunmetal")
    send(one)
    expect(one.get_by_role("heading", level=1)).to_contain_text("S-040 Pinion")
    two = page_at(DESK, script=script, user=helper)
    two.goto(f"{part.get_absolute_url()}change/")
    entry(two, "Made of").fill("phosphor bronze")
    send(two)
    expect(two.get_by_role("heading", level=1)).to_contain_text("S-040 Pinion")

    one.go_back()
    # The page is asked for anew; what was typed before is not put over what stands now.
    expect(entry(one, "Made of")).to_have_value("phosphor bronze")
    send(one)
    expect(one.get_by_role("heading", level=1)).to_contain_text("S-040 Pinion")
    part.refresh_from_db()
    assert part.material == "phosphor bronze"


@pytest.mark.parametrize("script", [True, False])
def test_back_button_when_the_page_was_left_before_it_was_sent_then_what_was_typed_is_still_there(
    page_at, owner, build, script
):
    written = factories.make_log_entry(build, left_off="Boss faced.")
    page = page_at(PHONE, script=script, user=owner)
    page.goto(f"/log/{written.pk}/change/")
    entry(page, "Left off").fill("Boss faced, clamp left on.")
    page.get_by_role("link", name="Leave it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("day")
    page.go_back()
    expect(entry(page, "Left off")).to_have_value("Boss faced, clamp left on.")
    send(page)
    expect(page.get_by_role("heading", level=1)).to_contain_text("day")
    written.refresh_from_db()
    assert written.left_off == "Boss faced, clamp left on."
