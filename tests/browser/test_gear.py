"""A spur gear in a real browser: worked out from part and mate, divided by its teeth, both on one card."""

import pytest
from playwright.sync_api import expect

from buildlog.models import WorkCard
from calc.models import CalculationRecord
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner
from tests.pages import pdf_text


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def wheel(owner):
    """The wheel of 84 teeth and the pinion of 18 it runs with, 6 DP; the pitch is told of the wheel."""
    factories.make_head(owner)
    factories.make_cutter(owner)
    assembly = factories.make_assembly(factories.make_build(owner))
    wheel = factories.make_part(
        assembly=assembly, number="S-016", name="Final-drive wheel", leading_size="84 T, 6 DP"
    )
    pinion = factories.make_part(
        assembly=assembly, number="S-015", name="Second-shaft pinion", leading_size="18 T"
    )
    factories.make_mate(wheel, pinion)
    return wheel


@pytest.mark.parametrize(
    ("width", "script"),
    [(DESK, True), (PHONE, True), (PHONE, False)],
    ids=["desk", "phone", "phone, no script"],
)
def test_gear_when_worked_out_from_part_and_mate_then_it_and_its_dividing_are_on_one_card(
    page_at, owner, wheel, width, script
):
    page = page_at(width, script=script, user=owner)
    page.goto(wheel.get_absolute_url())
    work_out_the_gear(page)
    work_out_the_dividing(page)
    gear, dividing = CalculationRecord.objects.order_by("pk")
    assert (gear.part, dividing.part) == (wheel, wheel)
    assert gear.entered["diametral_pitch"] == "6 DP"
    text = print_the_card(page, gear, dividing)
    # 84 teeth at 6 to the inch are 14 in on the pitch circle, and a tooth's 1/6 in more on each side over
    # the blank: 86/6. 40/84 of a turn is 10/21, which is 20 spaces in the 42 circle. Both derived.
    assert "S-016 Final-drive wheel" in text
    assert "14.333" in text
    assert "20 in 42" in text
    assert "84 × 20/42 = 40" in text
    # Half of 14 in and 3 in, the pitch diameters, are the centres; derived.
    assert "18 T at 8.500" in text
    # 2.157/6, to four places the depth of an old form cutter; derived.
    assert "0.3595" in text
    assert f"Worked from sums {gear.pk} and {dividing.pk}" in text
    assert "check the drawing" in text.lower()


def work_out_the_gear(page):
    page.locator("#work-out").get_by_role("link", name="Spur gear", exact=True).click()
    page.get_by_text("Change an entry").click()
    for label, value, note in (
        ("Teeth", "84", "from the part: 84 teeth"),
        ("Teeth of its mate", "18", "from its mate S-015: 18 teeth"),
        ("Diametral pitch", "6 DP", "from the part: 6 DP"),
    ):
        expect(page.get_by_label(label, exact=True)).to_have_value(value)
        expect(page.locator("#entries").get_by_text(note, exact=True)).to_be_visible()
    page.get_by_label("Face width").fill("2")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator("#answer")).to_contain_text("14.333 in")
    # Half the sum of the pitch diameters, 14 in and 3 in.
    expect(page.locator("#answer")).to_contain_text("8.500 in")
    expect_no_sideways(page)
    page.get_by_role("button", name="Keep on S-016").click()
    expect(page.get_by_text("kept sum")).to_be_visible()
    expect(page.get_by_role("heading", level=1, name="Spur gear, 84 and 18 teeth, 6 DP")).to_be_visible()
    expect(page.get_by_role("link", name="PDF of the sum")).to_be_visible()
    expect_no_sideways(page)


def work_out_the_dividing(page):
    page.get_by_role("link", name="S-016 Final-drive wheel").first.click()
    page.locator("#work-out").get_by_role("link", name="Indexing", exact=True).click()
    gear = CalculationRecord.objects.get()
    expect(page.get_by_label("Divisions")).to_have_value("84")
    expect(page.get_by_text(f"from kept sum {gear.pk}: 84 teeth", exact=True)).to_be_visible()
    expect(page.locator("#answer")).to_contain_text("20 spaces in the 42 circle")
    page.get_by_role("button", name="Keep, and print the card").click()
    expect(page.get_by_role("heading", level=1, name="Work card for S-016")).to_be_visible()


def print_the_card(page, gear, dividing):
    for record in (gear, dividing):
        expect(page.get_by_role("checkbox", name=f"Sum {record.pk}: {record.title}")).to_be_checked()
    expect_no_sideways(page)
    page.get_by_role("button", name="Make the card").click()
    expect(page.get_by_role("heading", level=1, name=f"Card {WorkCard.objects.get().number}")).to_be_visible()
    assert set(WorkCard.objects.get().records.all()) == {gear, dividing}
    expect_no_sideways(page)
    address = page.get_by_role("link", name="Open the PDF").get_attribute("href")
    answer = page.context.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    pages = pdf_text(answer.body())
    assert len(pages) == 1
    return " ".join(pages[0].split())
