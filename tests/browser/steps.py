"""Steps that several journeys take."""

from pathlib import Path

from django.contrib.auth.models import User
from playwright.sync_api import Locator, Page

from buildlog.actions import demo
from buildlog.models import Build, Part
from tests import factories
from tests.browser.looking import SIDEWAYS

PARTS_LIST = demo.FOLDER / "parts.csv"
DESK, PHONE = 1280, 390


def make_owner() -> User:
    return factories.make_user("owner", is_superuser=True)


def make_marlpit(owner: User) -> Build:
    """The demo build, as it is loaded for a builder who looks round."""
    demo.load_demo(owner)
    return Build.objects.get(is_demo=True)


def part_of(build: Build, number: str, hand: str = "") -> Part:
    return build.parts.get(number=number, hand=hand)


def bring_in(page: Page, file: Path | dict) -> None:
    """From the page of an empty parts list to the preview of a list."""
    page.get_by_role("link", name="Bring in a list").first.click()
    page.get_by_label("The list").set_input_files(file)
    page.get_by_role("button", name="Read the list").click()


def said(page: Page) -> Locator:
    """The line that says what has just been done."""
    return page.locator("#said")


def expect_no_sideways(page: Page) -> None:
    page.wait_for_load_state()  # The style sheet has come by then,
    while page.evaluate("document.readyState") != "complete":  # but not where the next page is half here.
        page.wait_for_timeout(50)
    found = page.evaluate(SIDEWAYS)
    assert not found, f"{page.url}: {found}"
