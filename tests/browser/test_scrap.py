"""The scrap book in a real browser: a piece is spoilt, why is written down, the next card says so once."""

import re

import pytest
from playwright.sync_api import expect

from buildlog.models import Scrap, WorkCard
from tests import factories
from tests.browser.steps import DESK, PHONE, make_owner


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.mark.parametrize(("width", "script"), [(DESK, True), (PHONE, False)])
def test_pinion_when_spoilt_at_tooth_12_then_the_card_of_the_larger_one_has_the_lesson_once(
    page_at, owner, width, script
):
    # 3.5 h lost on the 17 T, its lesson on the card of the 27 T: the example the book was asked for with.
    build = factories.make_build(owner)
    pinion = factories.make_part(build, number="S-013", name="Crank pinion 17 T, 8 DP")
    larger = factories.make_part(build, number="S-014", name="Crank pinion 27 T, 8 DP")
    page = page_at(width, script=script, user=owner)
    page.goto(pinion.get_absolute_url())
    page.get_by_label("Scrap, to add").fill("1")
    page.get_by_label("Why, or how").fill("Wrong hole at tooth 12")
    page.get_by_role("button", name="Count").click()
    page.get_by_role("link", name="Write down why").click()
    expect(page.get_by_label("What happened")).to_have_value("Wrong hole at tooth 12")
    expect(page.get_by_label("count it as scrap")).not_to_be_checked()
    page.get_by_label("Hours lost").fill("3.5")
    page.get_by_role("textbox", name=re.compile("^Lesson")).fill("Pinch the sector arms first")
    page.get_by_role("radio", name="Same operation").check()
    page.get_by_role("button", name="Write it down").click()
    # The cause and the operation are still to be given; nothing that was typed is lost.
    expect(page.get_by_role("alert")).to_contain_text("Choose the nearest cause")
    expect(page.get_by_label("Hours lost")).to_have_value("3.5")
    page.get_by_role("radio", name="Setting").check()
    page.get_by_role("combobox", name="Operation").fill("teeth")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("3 h 30 min")).to_be_visible()
    for _ in range(2):
        page.goto(f"{larger.get_absolute_url()}card/")
        page.get_by_role("textbox", name="Operation").fill("Op 50 Cut 27 teeth")
        page.get_by_role("button", name="Make the card").click()
        page.wait_for_url("**/cards/*/")
    second, first = WorkCard.objects.all()
    assert [note["text"] for note in first.sheet["notes"]] == ["Pinch the sector arms first"]
    assert second.sheet["notes"] == []
    pinion.refresh_from_db()
    assert (pinion.scrap, Scrap.objects.get().minutes) == (1, 210)
