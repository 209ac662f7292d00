"""The computer dies: a backup by the button, the machine lost, and all of it back from the one file."""

import re
import shutil
import subprocess
import sys

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import HEIGHT
from tests.browser.steps import DESK, said
from tests.picture_files import picture
from tests.started_site import PATIENCE, ROOT, StartedSite, environment

PASSWORD = "Twelve evenings a month"
NAME = re.compile(r"hornplate-.*\.zip")


@pytest.fixture
def start_site():
    started = []

    def run(*arguments):
        started.append(StartedSite(*arguments))
        return started[-1]

    yield run
    for site in started:
        site.kill()


@pytest.fixture
def browse(chromium):
    contexts = []

    def run(address):
        contexts.append(chromium.new_context(base_url=address, viewport={"width": DESK, "height": HEIGHT}))
        contexts[-1].set_default_timeout(20_000)
        return contexts[-1].new_page()

    yield run
    for context in contexts:
        context.close()


#: The words of a page but those on the last backup: the new machine has none of its own yet.
WORDS = """() => [...document.querySelectorAll("main section")]
    .filter(one => one.querySelector("h2")?.innerText.startsWith("Backup"))
    .forEach(one => one.remove()) || document.querySelector("main").innerText"""


def words(page, place):
    page.goto(place)
    return page.evaluate(WORDS)


def original(page, place):
    return page.request.get(place).body()


def sign_in(page):
    page.goto("/sign-in/")
    page.get_by_label("Name").fill("owner")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()


def begin(page, first):
    """The owner's first evening: a password, and two photos brought in."""
    page.goto(re.search(r"http://\S+?(/sign-in/\S+)", first.said)[1])
    for number in range(page.locator("input[type=password]").count()):
        page.locator("input[type=password]").nth(number).fill(PASSWORD)
    page.get_by_role("button", name="Keep it and sign in").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()

    # Two photos of a part, brought in as a builder does.
    contents = [picture(size=(320, 240)), picture(size=(320, 240))]
    build = re.search(r"/builds/\d+/", page.get_by_role("link", name="Parts").first.get_attribute("href"))[0]
    page.goto(f"{build}photos/new/")
    page.get_by_label("Pictures").set_input_files(
        [{"name": f"IMG_{n}.jpg", "mimeType": "image/jpeg", "buffer": one} for n, one in enumerate(contents)]
    )
    page.get_by_role("button", name="Bring them in").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Photos")
    return build, contents


def restore(kept, fresh):
    """The one command on the new machine."""
    done = subprocess.run(
        [sys.executable, "manage.py", "restore", str(kept)], cwd=ROOT, env=environment(fresh),
        capture_output=True, text=True, timeout=PATIENCE, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "2 photos" in done.stdout


def test_computer_when_it_dies_then_a_backup_restored_elsewhere_has_the_same_pages_and_photos(
    start_site, browse, tmp_path
):
    folder, disk, fresh = tmp_path / "data", tmp_path / "stick", tmp_path / "new machine"
    first = start_site(folder, "--demo")
    page = browse(first.address)
    build, contents = begin(page, first)
    page.goto("/backups/")
    page.get_by_role("button", name="Make a backup now").click()
    expect(said(page)).to_contain_text("restored beside and compared")
    expect(said(page)).to_contain_text("2 photos")
    disk.mkdir()
    with page.expect_download() as coming:
        page.get_by_role("link", name=NAME).first.click()
    kept = disk / coming.value.suggested_filename
    coming.value.save_as(kept)
    places = [build, f"{build}parts/", f"{build}photos/", f"{build}log/", "/parts/1/", "/tooling/"]
    before = {place: words(page, place) for place in places}
    pictures = [original(page, f"/photos/{number}/original/") for number in (1, 2)]
    assert sorted(pictures) == sorted(contents)

    first.kill()
    shutil.rmtree(folder)
    restore(kept, fresh)
    page = browse(start_site(fresh).address)
    sign_in(page)
    assert {place: words(page, place) for place in places} == before
    assert [original(page, f"/photos/{number}/original/") for number in (1, 2)] == pictures
    page.goto(f"{build}photos/")
    shown = page.locator("main img")
    expect(shown).to_have_count(2)
    for number in range(2):
        shown.nth(number).scroll_into_view_if_needed()
        expect(shown.nth(number)).to_have_js_property("complete", value=True)
        assert shown.nth(number).evaluate("image => image.naturalWidth") > 0
