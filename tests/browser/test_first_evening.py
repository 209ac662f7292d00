"""The whole way in one evening: first sign-in, the list, the 84-tooth wheel, its division, its card."""

import re

import pytest
from playwright.sync_api import expect

from buildlog.actions.owner_account import owner_account, sign_in_link
from buildlog.models import DividingHead, Part, PartUse, WorkCard
from calc.models import CalculationRecord
from tests.browser.steps import DESK, PARTS_LIST, PHONE, bring_in, expect_no_sideways, said
from tests.pages import pdf_text

PASSWORD = "second shaft wheel"
#: A plate with one face (common practice, no source), and one with two as an Army text lists its circles
#: (US Army course OD1644).
PLATES = (
    ("2", "21,23,27,29,31,33", ""),
    ("4", "24,25,28,30,34,37,38,39,41,42,43", "46,47,49,51,53,54,57,58,59,62,66"),
)


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
@pytest.mark.parametrize("width", [DESK, PHONE])
def test_first_evening_when_wheel_of_84_is_divided_then_its_card_has_84_boxes_and_four_marks(
    page_at, live_server, width, script
):
    page = page_at(width, script=script)
    sign_in_the_first_time(page, live_server)
    begin_build(page)
    take_in_the_list(page)
    write_down_the_head(page)
    find_the_wheel(page)
    divide_and_keep(page)
    text = print_the_card(page)
    boxes, homes = tally_of(text)
    # Home after 42 / gcd(20, 42) = 21 moves of 20 spaces in the 42 circle: derived.
    assert boxes == list(range(1, 85))
    assert homes == [21, 42, 63, 84]
    assert "S-016" in text
    assert "check the drawing" in text.lower()


def sign_in_the_first_time(page, live_server):
    link = sign_in_link(owner_account(), live_server.url)
    page.goto(link)
    expect(page).not_to_have_url(link)
    page.get_by_label("New password", exact=False).first.fill(PASSWORD)
    page.get_by_label("New password once more").fill(PASSWORD)
    page.get_by_role("button", name="Keep it and sign in").click()
    expect(page.get_by_role("heading", level=1, name="Builds")).to_be_visible()
    expect_no_sideways(page)


def begin_build(page):
    page.get_by_role("link", name="Begin a build").first.click()
    page.get_by_label("Name").fill("Marlpit")
    page.get_by_label("Scale").fill("4 in")
    page.get_by_role("button", name="Begin it").click()
    expect(said(page)).to_contain_text("Marlpit is begun")
    expect_no_sideways(page)


def take_in_the_list(page):
    bring_in(page, PARTS_LIST)
    expect(page.get_by_role("heading", level=1, name="parts.csv")).to_be_visible()
    expect(page.get_by_text("Read as UTF-8, separated by commas, 440 rows")).to_be_visible()
    assert not Part.objects.exists()
    expect_no_sideways(page)
    page.get_by_role("button", name="Take it in: 420 made, 0 changed").click()
    expect(said(page)).to_contain_text("parts.csv is taken in: 420 part records made")
    expect(page.get_by_role("heading", name="420 parts")).to_be_visible()
    assert (Part.objects.count(), PartUse.objects.count()) == (420, 440)
    expect_no_sideways(page)


def write_down_the_head(page):
    page.get_by_role("link", name="Tooling").click()
    page.get_by_role("link", name="Add a head").click()
    page.get_by_label("Name").fill("H1")
    page.get_by_label("Ratio").fill("40")
    for line, (name, front, back) in zip(
        page.get_by_role("group", name="Another plate").all(), PLATES, strict=True
    ):
        line.get_by_label("Plate").fill(name)
        line.get_by_label("Circles", exact=True).fill(front)
        line.get_by_label("Circles on the back").fill(back)
    expect_no_sideways(page)
    page.get_by_role("button", name="Write it down").click()
    expect(said(page)).to_contain_text("H1 is written down")
    assert DividingHead.objects.get().circles_text == " / ".join(
        circles for _, *faces in PLATES for circles in faces if circles
    )


def find_the_wheel(page):
    page.get_by_role("searchbox", name="Find in this build").fill("84-tooth")
    page.get_by_role("searchbox", name="Find in this build").press("Enter")
    row = page.get_by_role("listitem").filter(has_text="S-016")
    expect(row).to_contain_text("Final-drive wheel 84 T")
    expect_no_sideways(page)
    row.get_by_role("link", name="Final-drive wheel 84 T").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("S-016 Final-drive wheel 84 T")


def divide_and_keep(page):
    page.locator("#work-out").get_by_role("link", name="Indexing", exact=True).click()
    expect(page.get_by_label("Divisions")).to_have_value("84")
    page.get_by_role("button", name="Work it out").click()
    # 40/84 of a turn is 10/21, which is 20 spaces in the 42 circle: derived.
    expect(page.locator("#answer")).to_contain_text("20 spaces in the 42 circle")
    expect_no_sideways(page)
    page.get_by_role("button", name="Keep on S-016").click()
    # The heading is the same before and after: the sheet on paper is there only once it is kept.
    expect(page.get_by_role("link", name="PDF of the sum")).to_be_visible()
    expect(page.get_by_role("heading", level=1, name="Indexing, 84 divisions")).to_be_visible()
    assert CalculationRecord.objects.get().part.key == "S-016"


def print_the_card(page):
    page.get_by_role("link", name="Print the card").click()
    page.get_by_label("Operation").fill("Op 50 Cut 84 teeth")
    page.get_by_role("button", name="Make the card").click()
    expect(page.get_by_role("heading", level=1, name=f"Card {WorkCard.objects.get().number}")).to_be_visible()
    expect_no_sideways(page)
    address = page.get_by_role("link", name="Open the PDF").get_attribute("href")
    answer = page.context.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    pages = pdf_text(answer.body())
    assert len(pages) == 1
    return pages[0]


def tally_of(text):
    """The numbers of the boxes as they follow one another, and those with the mark of the pin at home."""
    found = re.findall(r"\b(\d+)(◥?)", text.split("hole, angle")[1])
    boxes = [(int(number), mark) for place, (number, mark) in enumerate(found, 1) if int(number) == place]
    return [number for number, _ in boxes], [number for number, mark in boxes if mark]
