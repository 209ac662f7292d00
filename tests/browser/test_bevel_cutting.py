"""Cutting a bevel gear in a real browser: planned from the part, one step tried, kept, on a card, a trial."""

import pytest
from playwright.sync_api import expect

from buildlog.models import WorkCard
from calc import trials
from calc.models import CalculationRecord
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner
from tests.pages import pdf_text


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def wheel(owner):
    factories.make_head(owner)
    assembly = factories.make_assembly(factories.make_build(owner))
    wheel = factories.make_part(
        assembly=assembly, number="S-040", name="Differential wheel", leading_size="36 T"
    )
    pinion = factories.make_part(
        assembly=assembly, number="S-041", name="Differential pinion", leading_size="16 T"
    )
    factories.make_mate(wheel, pinion)
    return wheel


@pytest.mark.parametrize(
    ("width", "script"),
    [(DESK, True), (PHONE, True), (PHONE, False)],
    ids=["desk", "phone", "phone, no script"],
)
def test_bevel_gear_when_a_step_is_tried_and_kept_then_card_and_trial_go_by_it(
    page_at, owner, wheel, width, script
):
    page = page_at(width, script=script, user=owner)
    page.goto(f"/parts/{wheel.pk}/calculate/bevel-cutting/")
    for label, value in (("Teeth", "36"), ("Teeth of its mate", "16")):
        expect(page.get_by_label(label, exact=True)).to_have_value(value)
    page.get_by_label("Diametral pitch", exact=True).fill("12")
    page.get_by_label("Face width", exact=True).fill("0.8")
    page.get_by_role("button", name="Work it out").click()
    # Teeth of parallel depth: the head is tilted to the pitch angle, atan(36/16); by hand.
    expect(page.locator("#answer")).to_contain_text("66.04°")
    expect_no_sideways(page)
    try_a_step(page)
    page.get_by_role("button", name="Keep on S-040").click()
    expect(page.get_by_role("link", name="PDF of the sum")).to_be_visible()
    record = CalculationRecord.objects.get()
    assert record.results["given"]["set_over_mm"] > record.results["best"]["set_over_mm"]
    assert record.part == wheel
    write_a_trial(page, record)
    text = print_the_card(page)
    assert "By the tried plan" in text
    assert "16 T mate" in text


def try_a_step(page):
    row = (
        page.locator("tr")
        .filter(has=page.get_by_role("rowheader", name="The 36: set-over", exact=True))
        .first
    )
    row.get_by_role("link").last.click()
    expect(page.get_by_text("Settings tried.").first).to_be_visible()
    expect_no_sideways(page)


def write_a_trial(page, record):
    page.get_by_role("link", name="Write down a trial").click()
    thick = trials.wanted_mm(record)["small"] / 25.4 + 0.006
    page.get_by_label("Small end").fill(f"{thick:.4f}")
    expect_no_sideways(page)
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("0.0060 thick")).to_be_visible()
    expect_no_sideways(page)


def print_the_card(page):
    page.get_by_role("link", name="Print the card").click()
    page.get_by_role("button", name="Make the card").click()
    expect(page.get_by_role("heading", level=1, name=f"Card {WorkCard.objects.get().number}")).to_be_visible()
    address = page.get_by_role("link", name="Open the PDF").get_attribute("href")
    pages = pdf_text(page.context.request.get(address).body())
    assert len(pages) == 1
    return " ".join(pages[0].split())
