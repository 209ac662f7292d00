"""A wrong change of 38 threads in a real browser: shown first, made, found out, undone in one step."""

import pytest
from playwright.sync_api import expect

from buildlog.models import ThreadUse
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_marlpit, make_owner, part_of, said

PLACES = 38


@pytest.mark.parametrize(
    ("width", "script"), [(DESK, True), (PHONE, False)], ids=["desk", "phone, no script"]
)
def test_change_of_38_threads_when_wrong_then_undone_in_one_step(page_at, transactional_db, width, script):
    owner = make_owner()
    build = make_marlpit(owner)
    page = page_at(width, script=script, user=owner)
    page.goto(f"/builds/{build.pk}/parts/")
    page.get_by_role("link", name="Threads used").first.click()
    expect(page.get_by_text("both on this engine: near fits, not interchangeable").first).to_be_visible()
    expect_no_sideways(page)
    page.get_by_role("link", name="Change one everywhere").click()
    page.locator("select[name=thread]").select_option(label="M6 × 1")
    page.locator("input[name=to]").fill("1/4 BSF")
    page.locator("select[name=assembly]").select_option(label="T Tender, tanks, pipes")
    page.get_by_role("button", name="Show every place").click()
    expect(page.get_by_role("checkbox")).to_have_count(PLACES)
    expect(page.get_by_text("38 places on 24 parts in T Tender, tanks, pipes")).to_be_visible()
    expect_no_sideways(page)
    page.get_by_role("button", name="Change what is ticked to 1/4 BSF").click()
    expect(said(page)).to_contain_text("38 places changed: M6 × 1 to 1/4 BSF")
    assert ThreadUse.objects.filter(thread="M6x1").count() == 0
    page.get_by_role("button", name="Undo: M6 × 1 to 1/4 BSF").click()
    expect(said(page)).to_contain_text("Undone: M6 × 1 to 1/4 BSF")
    expect_no_sideways(page)
    assert ThreadUse.objects.filter(thread="M6x1").count() == PLACES
    page.goto(part_of(build, "T-005").get_absolute_url())
    happened = page.get_by_text("Undone: M6 × 1 to 1/4 BSF")
    expect(happened).to_be_visible()
    expect(page.get_by_text("M6 × 1 changed to 1/4 BSF")).to_be_visible()
