"""Kept sums in a real browser: copied as text, put to a part once, a chain that says what has changed."""

import pytest
from playwright.sync_api import expect

from calc.models import CalculationRecord
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner

#: What stands in for the clipboard, which a page over plain HTTP may not reach.
HEARD = """
Object.defineProperty(window, "isSecureContext", { get: () => false });
document.execCommand = (what) => { window.copied = document.activeElement.value; return what === "copy"; };
"""


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def record(owner):
    return factories.make_record(user=owner)


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_text_when_copied_over_plain_http_then_it_is_the_whole_sum(page_at, owner, record, width):
    page = page_at(width, user=owner)
    page.add_init_script(HEARD)
    page.goto(record.get_absolute_url())
    page.get_by_role("button", name="Copy the text").click()
    expect(page.get_by_text("Copied.")).to_be_visible()
    copied = page.evaluate("window.copied")
    assert f"Sum {record.pk}, revision 1" in copied
    assert "10 spaces in the 21 circle" in copied
    expect(page.locator("textarea.vh")).to_have_count(0)
    expect_no_sideways(page)


def test_text_when_a_sum_is_worked_out_in_place_then_its_button_copies_that_sum(page_at, owner):
    page = page_at(DESK, user=owner)
    page.add_init_script(HEARD)
    page.goto("/calc/indexing/?divisions=84&ratio=40&circles=15,16,17,18,19,20,21")
    page.get_by_label("Divisions", exact=True).fill("60")
    page.get_by_role("button", name="Work it out").click()
    expect(page).to_have_title("Indexing, 60 divisions · Hornplate")
    page.get_by_role("button", name="Copy the text").click()
    expect(page.get_by_text("Copied.")).to_be_visible()
    assert "Indexing, 60 divisions" in page.evaluate("window.copied")


def test_text_when_there_is_no_script_then_the_link_opens_it(page_at, owner, record):
    page = page_at(DESK, script=False, user=owner)
    page.goto(record.get_absolute_url())
    expect(page.get_by_role("button", name="Copy the text")).to_have_count(0)
    page.get_by_role("link", name="plain text").click()
    expect(page.locator("body")).to_contain_text("10 spaces in the 21 circle")


@pytest.mark.parametrize("script", [True, False])
def test_sum_of_no_part_when_put_to_one_with_a_double_click_then_it_is_kept_once(
    page_at, owner, record, script
):
    part = factories.make_part(factories.make_build(owner), number="S-016")
    page = page_at(PHONE, script=script, user=owner)
    page.goto(record.get_absolute_url())
    page.get_by_role("link", name="Put it to a part").click()
    page.get_by_label("Number, words or size").fill("S-016")
    page.get_by_role("button", name="Look for it").click()
    page.get_by_role("button", name="Put it to S-016").dblclick()
    expect(page.get_by_text(f"Put to this part from sum {record.pk}")).to_be_visible()
    assert CalculationRecord.objects.filter(part=part).count() == 1


def test_chain_when_the_fit_is_worked_out_again_then_the_keyway_says_so(page_at, owner):
    part = factories.make_part(factories.make_build(owner), number="S-016", name="Boss")
    fit = factories.make_record(part, user=owner, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    page = page_at(DESK, user=owner)
    page.goto(f"{part.get_absolute_url()}calculate/keyway/?standard=b17.1")
    page.get_by_role("button", name="Keep on S-016").click()
    expect(page.get_by_role("heading", name="It rests on")).to_be_visible()
    again = factories.make_record(part, user=owner, key="fit", nominal="1.253 in", hole="H7", shaft="g6")
    page.reload()
    told = f"Sum {fit.pk}, limits and fits, was worked out again as sum {again.pk}"
    expect(page.get_by_text(told)).to_be_visible()
    page.get_by_role("link", name="Work it out again").first.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("1.253 in")
