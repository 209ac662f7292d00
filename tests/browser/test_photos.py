"""Photos as a builder brings them in: from a telephone's width, with script and without, one of them bad."""

import io
import re

import pytest
from PIL import Image
from playwright.sync_api import expect

from buildlog.models import Photo
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner, said
from tests.picture_files import exif_of, noise, picture

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def owner():
    return make_owner()


@pytest.fixture
def part(owner):
    return factories.make_part(factories.make_build(owner), number="B-002", name="Boiler")


def chosen(*contents):
    return [
        {"name": f"IMG_{place}.jpg", "mimeType": "image/jpeg", "buffer": content}
        for place, content in enumerate(contents)
    ]


def three():
    """Two photographs, one of them turned, and one that was cut short on its way."""
    first = noise((1200, 900), exif=exif_of(taken="2026:03:01 10:00:00", turned=6, placed=True))
    second = noise((900, 600), exif=exif_of(taken="2026:03:01 10:05:00"))
    return [first, noise((600, 400))[:20000], second]


def test_photos_when_three_are_sent_one_by_one_then_each_says_how_it_went(page_at, owner, part):
    page = page_at(PHONE, user=owner)
    page.goto(part.get_absolute_url())
    page.locator("#photos summary").click()
    page.get_by_label("Pictures").set_input_files(chosen(*three()))
    page.get_by_label("What is on them").fill("Inside, before the last plate")
    page.get_by_label("Before closing up").check()
    page.get_by_role("button", name="Bring them in").click()
    rows = page.locator(".sending li")
    expect(rows.nth(0)).to_contain_text("IMG_0.jpg: is in.")
    expect(rows.nth(1)).to_contain_text("IMG_1.jpg: the picture is cut short or damaged")
    expect(rows.nth(2)).to_contain_text("IMG_2.jpg: is in.")
    expect_no_sideways(page)
    page.get_by_role("link", name="See those that are in").click()
    pictures = page.locator("#photos img")
    expect(pictures).to_have_count(2)
    expect(page.locator("#photos")).to_contain_text("Inside, before the last plate")
    assert part.photos.filter(before_closing_up=True).count() == 2


def test_photos_when_all_that_are_sent_are_good_then_the_page_shows_them_at_once(page_at, owner, part):
    page = page_at(DESK, user=owner)
    page.goto(part.get_absolute_url())
    page.locator("#photos summary").click()
    page.get_by_label("Pictures").set_input_files(chosen(picture(), picture()))
    page.get_by_role("button", name="Bring them in").click()
    expect(page.locator("#photos img")).to_have_count(2)
    # The same again: nothing doubled, and said so.
    contents = [picture()]
    for told in ("is in.", "is here already"):
        page.goto(f"/builds/{part.build_id}/photos/new/")
        page.get_by_label("Pictures").set_input_files(chosen(*contents))
        page.get_by_role("button", name="Bring them in").click()
        if told == "is in.":
            expect(page.get_by_role("heading", name="3 photos", exact=True)).to_be_visible()
        else:
            expect(page.locator(".sending li").first).to_contain_text(told)
    assert Photo.objects.count() == 3


def test_photos_when_the_site_goes_away_then_said_so_and_sending_again_goes_on(page_at, watch, owner, part):
    watch.expected.append("Failed to load resource")
    page = page_at(PHONE, user=owner)
    page.goto(f"/builds/{part.build_id}/photos/new/")
    page.get_by_label("Pictures").set_input_files(chosen(picture(), picture()))
    page.route("**/photos/new/", lambda route: route.abort())
    page.get_by_role("button", name="Bring them in").click()
    expect(page.locator(".sending li").first).to_contain_text("IMG_0.jpg did not get there")
    assert not Photo.objects.exists()
    page.unroute("**/photos/new/")
    page.get_by_role("button", name="Bring them in").click()
    expect(page.get_by_role("heading", name="2 photos", exact=True)).to_be_visible()


def test_photos_when_there_is_no_script_then_sent_together_and_looked_through_by_links(page_at, owner, part):
    page = page_at(PHONE, script=False, user=owner)
    page.goto(f"/builds/{part.build_id}/photos/")
    page.get_by_role("link", name="Add photos").first.click()
    page.get_by_label("Pictures").set_input_files(chosen(*three()))
    page.get_by_label(re.compile("^Part")).fill("b-002")
    page.get_by_role("button", name="Bring them in").click()
    expect(page.get_by_role("alert")).to_contain_text("IMG_1.jpg: the picture is cut short or damaged")
    expect(page.locator("main")).to_contain_text("2 photos are in.")
    page.get_by_role("link", name="See them").click()
    page.get_by_role("link", name="Photo IMG_2.jpg").click()
    page.get_by_role("link", name="Earlier").click()
    shown = page.locator(".slide img")
    # The camera was held upright: what is shown stands upright too.
    box = shown.bounding_box()
    assert box["height"] > box["width"]
    expect_no_sideways(page)
    page.get_by_label("Caption").fill("The boiler, inside")
    page.get_by_role("button", name="Write it down").click()
    expect(said(page)).to_contain_text("Written down.")
    page.get_by_role("button", name="Put it in the bin").click()
    expect(page.locator("main")).to_contain_text("This photo is in the bin")
    page.get_by_role("button", name="Take it back").click()
    expect(said(page)).to_contain_text("The photo is back among the others.")


def test_photos_when_looked_through_by_keys_then_the_arrows_go_to_the_earlier_and_the_later(
    page_at, owner, part
):
    earlier = factories.make_photo(part=part, taken_on="2026-02-01", caption="The earlier")
    later = factories.make_photo(part=part, taken_on="2026-02-02", caption="The later")
    page = page_at(DESK, user=owner)
    page.goto(later.get_absolute_url())
    page.keyboard.press("ArrowLeft")
    expect(page).to_have_url(re.compile(f"{earlier.get_absolute_url()}$"))
    page.wait_for_load_state()  # A key that is pressed before the page is there is nobody's.
    page.keyboard.press("ArrowRight")
    expect(page).to_have_url(re.compile(f"{later.get_absolute_url()}$"))
    page.wait_for_load_state()
    # In an entry the arrows are the entry's.
    page.get_by_label("Caption").press("ArrowLeft")
    expect(page.get_by_label("Caption")).to_be_focused()
    assert page.url.endswith(later.get_absolute_url())


def test_original_when_taken_then_it_is_the_file_that_was_sent(page_at, owner, part):
    content = noise((400, 300), exif=exif_of(placed=True))
    photo = factories.make_photo(part=part, content=content)
    page = page_at(DESK, user=owner)
    page.goto(photo.get_absolute_url())
    with page.expect_download() as caught:
        page.get_by_role("link", name="Take the original").click()
    taken = caught.value.path().read_bytes()
    assert taken == content
    assert Image.open(io.BytesIO(taken)).getexif().get_ifd(0x8825)
