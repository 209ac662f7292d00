"""An error on a sheet, in a real browser: flagged everywhere, dealt with, still in the next issue.

The lifting links of sheet 7, 2.310 that should read 2.435, are the worked example that errata were asked
for with.
"""

import re
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from playwright.sync_api import expect

from buildlog import clock
from buildlog.actions.stages import record_count
from buildlog.models import Part
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner, said
from tests.pages import pdf_text

#: An evening of the year before; the evening the layout was drawn, and the evening the next issue came.
BEFORE = datetime(2025, 11, 8, 20, 0, tzinfo=UTC)
FOUND = datetime(2026, 3, 14, 20, 0, tzinfo=UTC)
ISSUE_C = datetime(2026, 6, 2, 19, 0, tzinfo=UTC)
WORDS = "lifting link centres 2.310 should read 2.435"
CHECK = "made to the sheet as printed: check"
CUT = "check before you cut"


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def sheet(owner):
    """Sheet 7 with its three parts: the pair of links is made, and mates with the arm."""
    with clock.stopped_at(BEFORE):
        return sheet_of(owner)


def sheet_of(owner):
    build = factories.make_build(owner)
    motion = factories.make_assembly(build, code="V", name="Motion")
    drawing = factories.make_drawing(build, "B", number="7", title="Weigh shaft")
    arm = factories.make_part(assembly=motion, number="V-015", name="Weigh-shaft arm", sheet="7 B")
    link = factories.make_part(assembly=motion, number="V-016", name="Lifting link", sheet="7 B", quantity=2)
    factories.make_part(assembly=motion, number="V-017", name="Weigh shaft", sheet="7 B")
    factories.make_mate(link, arm)
    factories.make_characteristic(link, name="centres", nominal="2.435 in", upper="+0.002", lower="-0.002")
    record_count(link, good=2, scrap=0, by=owner, call_machined=True, token=uuid4())
    return drawing


@pytest.mark.parametrize(
    ("width", "script"), [(DESK, True), (PHONE, False)], ids=["desk", "phone, no script"]
)
def test_error_on_a_sheet_when_found_then_flagged_dealt_with_and_carried_into_the_next_issue(
    page_at, owner, sheet, width, script
):
    page = page_at(width, script=script, user=owner)
    with clock.stopped_at(FOUND):
        write_it_down(page, sheet)
        expect_flags(page, {"V-015": CUT, "V-016": CHECK, "V-017": CUT})
        expect_card_says(page, "V-015", f"ERRATUM E-001: {WORDS}.")
        expect_card_says(page, "V-016", f"ERRATUM E-001: {WORDS}.")
        measure_and_open_a_concession(page)
        deal(page, "V-016", "Remade", "new pair to the layout")
        expect_cleared(page, "V-016")
    with clock.stopped_at(ISSUE_C):
        a_new_issue_still_has_it(page, sheet)
        expect_flags(page, {"V-015": CUT, "V-017": CUT})
        expect_cleared(page, "V-016")


def write_it_down(page, sheet) -> None:
    page.goto(sheet.get_absolute_url())
    page.get_by_role("link", name="write one down").click()
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("alert")).to_contain_text("some entries want mending")
    page.locator("#id_where").fill("lifting link centres")
    page.locator("#id_as_printed").fill("2.310")
    page.locator("#id_should_be").fill("2.435")
    page.locator("#id_source").fill("own layout")
    page.get_by_label("Checked by you").check()
    expect(page.get_by_label("V-016 Lifting link")).to_be_checked()
    expect_no_sideways(page)
    page.get_by_role("button", name="Write it down").click()
    expect(said(page)).to_contain_text("E-001 is written down.")
    expect(page.locator("#parts")).to_contain_text("3 of 3 still to be looked at")
    expect_no_sideways(page)


def open_part(page, number) -> None:
    page.goto(Part.objects.get(number=number).get_absolute_url())


def expect_flags(page, states) -> None:
    """Each part's page shouts the erratum and says how it stands; the list has a mark with words."""
    for number, state in states.items():
        open_part(page, number)
        flag = page.locator("#errata .note")
        expect(flag).to_contain_text(f"Erratum E-001: {WORDS}")
        expect(flag).to_contain_text(f"Sheet 7, own layout, 14 Mar: {state}.")
        expect_no_sideways(page)
    page.get_by_role("link", name="Parts", exact=True).first.click()
    expect(page.locator("tbody tr", has_text="E-001:")).to_have_count(len(states))
    expect_no_sideways(page)


def print_card(page, number) -> str:
    """The text of a card that is made for a part."""
    open_part(page, number)
    page.get_by_role("link", name="Print the card").click()
    page.get_by_role("button", name="Make the card").click()
    page.wait_for_url("**/cards/*/")
    file = page.request.get(page.url.removesuffix("/") + ".pdf")
    return " ".join(pdf_text(file.body())[0].split())


def expect_card_says(page, number, words) -> None:
    assert words in print_card(page, number)
    expect(page.locator("#errata")).to_contain_text("E-001")
    expect_no_sideways(page)


def measure_and_open_a_concession(page) -> None:
    """The link as it was made: out of limits, so a concession, and the arm has to suit it."""
    open_part(page, "V-016")
    page.get_by_role("link", name="type readings").click()
    page.get_by_label("centres, reading").fill("2.310")
    page.locator("main form").get_by_role("button").first.click()
    expect(page.locator("main")).to_contain_text("Out of limits")
    page.get_by_role("button", name="Open a concession").first.click()
    expect(page.locator("h1")).to_have_text("C-001 on V-016")
    expect(page.locator("#mates")).to_contain_text("V-015")
    open_part(page, "V-015")
    expect(page.locator("main")).to_contain_text("make to suit 2.310 measured 14 Mar")


def deal(page, number, how, note) -> None:
    open_part(page, number)
    page.get_by_role("link", name="Say what was done about it").click()
    page.get_by_role("button", name="That was done").click()
    expect(page.get_by_role("alert")).to_contain_text("Choose what was done about it.")
    page.get_by_label(how, exact=True).check()
    page.get_by_label("Note").fill(note)
    expect_no_sideways(page)
    page.get_by_role("button", name="That was done").click()
    expect(said(page)).to_contain_text(f"E-001 is dealt with on {number}.")


def expect_cleared(page, number) -> None:
    """The flag is gone from page and card; what was done stays in the history."""
    open_part(page, number)
    expect(page.locator("#errata .note")).to_have_count(0)
    main = page.locator("main")
    expect(main).to_contain_text(re.compile("remade 14 Mar: new pair to the layout, by owner"))
    expect(main).to_contain_text(f"E-001 remade: new pair to the layout ({WORDS})")
    assert "ERRATUM" not in print_card(page, number)


def a_new_issue_still_has_it(page, sheet) -> None:
    page.goto(sheet.get_absolute_url())
    page.get_by_role("link", name="A new issue has come").click()
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("#errata-asked")).to_contain_text("Not looked at in issue C yet.")
    expect(page.locator("#behind")).to_contain_text("made to issue B: look over what changed")
    expect_no_sideways(page)
    page.get_by_role("button", name="E-001 is still in issue C").click()
    expect(page.locator("#errata-asked")).to_have_count(0)
    expect(page.locator("#errata")).to_contain_text("still in issue C")
    for tick in page.locator("#behind input[type=checkbox]").all():
        tick.check()
    page.get_by_role("button", name="Those ticked are right to issue C").click()
    expect(said(page)).to_contain_text("3 parts name the issue worked to")
    expect_no_sideways(page)
