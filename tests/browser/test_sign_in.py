"""The first sign-in in a real browser, with and without script, wide and narrow."""

import re

import pytest
from playwright.sync_api import expect

from buildlog.actions.owner_account import owner_account, sign_in_link

PASSWORD = "second shaft wheel"


@pytest.mark.parametrize(("width", "script"), [(1280, True), (390, False)])
def test_first_sign_in_when_password_chosen_then_home_and_next_time_by_form(
    page_at, live_server, width, script
):
    link = sign_in_link(owner_account(), live_server.url)
    page = page_at(width, script=script)
    page.goto(link)
    expect(page).not_to_have_url(link)
    page.get_by_label("New password", exact=False).first.fill(PASSWORD)
    page.get_by_label("New password once more").fill(PASSWORD)
    page.get_by_role("button", name="Keep it and sign in").click()
    expect(page).to_have_url(f"{live_server.url}/")

    other = page_at(width, script=script)
    other.goto("/password/")
    expect(other).to_have_url(re.compile(r"/sign-in/\?next=/password/$"))
    other.get_by_label("Name").fill("owner")
    other.get_by_label("Password").fill(PASSWORD)
    other.get_by_role("button", name="Sign in").click()
    expect(other.get_by_role("heading", name="Change the password")).to_be_visible()


def test_sheet_on_a_phone_when_sign_in_shown_then_nothing_sideways(page_at):
    page = page_at(390)
    page.goto("/sign-in/")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
