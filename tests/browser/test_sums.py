"""A sum in a real browser: echo, wrong entries, kept once, a site that has stopped."""

import pytest
from playwright.sync_api import expect

from calc.models import CalculationRecord
from tests import factories
from tests.browser.steps import DESK, PHONE, make_owner, said


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def part(owner):
    build = factories.make_build(owner)
    factories.make_head(owner)
    assembly = factories.make_assembly(build)
    return factories.make_part(build, assembly=assembly, number="S-016", leading_size="84 T, 6 DP")


@pytest.fixture
def address(part):
    return f"{part.get_absolute_url()}calculate/indexing/"


def test_angle_when_typed_as_a_builder_does_then_its_reading_appears_without_reload(page_at, owner, address):
    # A quarter of a degree is 15 minutes.
    page = page_at(DESK, user=owner)
    page.goto(address)
    page.evaluate("window.untouched = true")
    page.get_by_label("Divisions").fill("")
    page.get_by_text("Angle of one move", exact=False).first.click()
    for typed, read in (("1.1/4", "read as 1 1/4° = 1° 15′"), ("11 1/2 deg", "read as 11 1/2° = 11° 30′")):
        page.get_by_label("Angle of one move").fill(typed)
        page.keyboard.press("Tab")
        expect(page.get_by_text(read)).to_be_visible()
    page.get_by_label("Divisions").fill("9**9**9")
    page.keyboard.press("Tab")
    expect(page.locator("#e-divisions-read")).to_contain_text("only plain figures are read")
    expect(page.get_by_label("Divisions")).to_have_value("9**9**9")
    assert page.evaluate("window.untouched")


def test_answer_when_worked_out_then_it_comes_without_reload_and_back_leads_to_the_empty_entry(
    page_at, owner, address
):
    page = page_at(DESK, user=owner)
    page.goto(f"{address}?divisions=")
    page.evaluate("window.untouched = true")
    page.get_by_label("Divisions").fill("13")
    page.get_by_role("button", name="Work it out").click()
    # 40/13 is 3 1/13, which is 3 turns and 3 spaces in the 39 circle: derived.
    expect(page.locator("#answer")).to_contain_text("3 turns and 3 spaces in the 39 circle")
    expect(page).to_have_title("Indexing, 13 divisions · Hornplate")
    assert page.evaluate("window.untouched")
    assert "divisions=13" in page.url
    page.go_back()
    expect(page.locator("#answer")).to_have_count(0)
    expect(page.get_by_role("navigation", name="Build")).to_be_visible()


WRONG = (
    ("9**9**9", "“9**9**9” is a sum or a power"),
    ("-3", "-3 is too small"),
    ("10^400", "“10^400” is a sum or a power"),
    ("8\u202e4", "hidden character"),
    ("1 3/16 mmm", "not “mmm”"),
    ("", "Enter how many divisions"),
)


@pytest.mark.parametrize(("width", "script"), [(DESK, True), (PHONE, False)])
def test_divisions_when_they_cannot_be_read_then_told_and_what_was_typed_stays(
    page_at, owner, address, width, script
):
    page = page_at(width, script=script, user=owner)
    page.goto(address)
    page.get_by_label("Ratio of the head").fill("60")
    for typed, message in WRONG:
        page.get_by_label("Divisions").fill(typed)
        page.get_by_role("button", name="Work it out").click()
        expect(page.get_by_role("alert")).to_contain_text(message)
        expect(page.get_by_label("Divisions")).to_have_value(typed)
        expect(page.get_by_label("Ratio of the head")).to_have_value("60")
        expect(page.locator("#answer")).to_have_count(0)
    assert not CalculationRecord.objects.exists()
    page.get_by_label("Divisions").fill("84")
    page.get_by_role("button", name="Work it out").click()
    # 60/84 is 5/7, which is 15 spaces in the 21 circle: derived.
    expect(page.locator("#answer")).to_contain_text("in the 49 circle")
    expect(page.get_by_role("alert")).to_have_count(0)


@pytest.mark.parametrize("script", [True, False])
def test_keep_when_clicked_twice_then_one_is_kept(page_at, owner, address, part, script):
    page = page_at(DESK, script=script, user=owner)
    page.goto(address)
    page.get_by_role("button", name="Keep on S-016").dblclick()
    expect(page.get_by_role("heading", level=1, name="Indexing, 84 divisions")).to_be_visible()
    expect(page.get_by_role("link", name="PDF of the sum")).to_be_visible()
    page.goto(part.get_absolute_url())
    expect(page.get_by_role("link", name="Indexing, 84 divisions")).to_have_count(1)
    assert CalculationRecord.objects.count() == 1


def test_site_when_it_stops_under_an_open_page_then_told_and_what_was_typed_stays(
    page_at, owner, address, watch
):
    watch.expected += ["net::ERR_CONNECTION_REFUSED", "htmx:sendError"]
    page = page_at(PHONE, user=owner)
    page.goto(f"{address}?divisions=")
    page.get_by_label("Divisions").fill("84")
    page.route("**/calculate/**", lambda route: route.abort("connectionrefused"))
    page.get_by_role("button", name="Work it out").click()
    expect(said(page)).to_contain_text("The site does not answer. Is it still running?")
    expect(said(page)).to_be_in_viewport()
    expect(page.get_by_label("Divisions")).to_have_value("84")
    page.unroute("**/calculate/**")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator("#answer")).to_contain_text("20 spaces in the 42 circle")


@pytest.mark.parametrize(
    ("status", "words"),
    [
        (500, "nothing was stored"),
        (403, "This page has been open too long"),
        (404, "That is not there any more"),
    ],
)
def test_site_when_it_refuses_an_open_page_then_told_what_to_do(
    page_at, owner, address, watch, status, words
):
    watch.expected += [f"status of {status}", f"Error Code {status}"]
    page = page_at(DESK, user=owner)
    page.goto(f"{address}?divisions=")
    page.get_by_label("Divisions").fill("84")
    page.route("**/calculate/**", lambda route: route.fulfill(status=status, body="no"))
    page.get_by_role("button", name="Work it out").click()
    expect(said(page)).to_contain_text(words)
    expect(page.get_by_label("Divisions")).to_have_value("84")


def test_entry_when_signed_out_meanwhile_then_told_to_load_the_page_again(page_at, owner, address, watch):
    watch.expected += ["status of 403", "Error Code 403"]
    page = page_at(DESK, user=owner)
    page.goto(f"{address}?divisions=")
    other = page.context.new_page()
    other.goto(address)
    other.get_by_role("button", name="sign out").click()
    expect(other.get_by_role("heading", level=1, name="Sign in")).to_be_visible()
    page.get_by_label("Divisions").fill("84")
    page.get_by_role("button", name="Work it out").click()
    expect(said(page)).to_contain_text("somebody signed in or out in another tab")
    expect(page.get_by_label("Divisions")).to_have_value("84")
    expect(page.get_by_role("heading", level=1)).to_have_count(1)
