"""A sheet looked at closer: by keys, wheel, drag and two fingers, on a wide screen and on a telephone."""

import pytest
from playwright.sync_api import expect

from buildlog import sheet_previews
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_owner
from tests.drawing_files import pdf

pytestmark = pytest.mark.django_db(transaction=True)

PLACES = """box => [box.scrollLeft, box.scrollTop, box.querySelector('.canvas').offsetWidth]"""
MIDDLE = """box => {
    const seen = box.getBoundingClientRect(), sheet = box.querySelector('.canvas').getBoundingClientRect();
    return [(seen.left + box.clientWidth / 2 - sheet.left) / sheet.width,
            (seen.top + box.clientHeight / 2 - sheet.top) / sheet.height];
}"""


@pytest.fixture
def owner():
    return make_owner()


@pytest.fixture
def drawing(owner):
    return factories.make_drawing(factories.make_build(owner), "B", number="7", title="Hornplates")


@pytest.fixture
def file(drawing):
    return factories.make_sheet_file(drawing, content=pdf(2), name="sheet-7.pdf")


def opened(page, file, query=""):
    """The page of the sheet, once it is drawn and laid out."""
    page.goto(file.get_absolute_url() + query)
    box = page.locator(".pan.live")
    expect(box).to_be_visible(timeout=30_000)
    return box


def fitting(box):
    return box.evaluate(PLACES)[2]


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_sheet_when_looked_at_closer_by_keys_and_wheel_then_larger_moved_and_whole_again(
    page_at, owner, file, width
):
    page = page_at(width, user=owner)
    box = opened(page, file)
    expect_no_sideways(page)
    whole = fitting(box)
    box.focus()
    for _ in range(5):
        page.keyboard.press("+")
    left, top, wide = box.evaluate(PLACES)
    assert wide == pytest.approx(whole * 1.25**5, rel=0.01)
    assert box.evaluate(MIDDLE) == pytest.approx([0.5, 0.5], abs=0.02)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    assert box.evaluate(PLACES)[:2] == pytest.approx([left + 60, top + 60], abs=2)
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowUp")
    assert box.evaluate(PLACES)[:2] == pytest.approx([left, top], abs=2)
    page.keyboard.press("-")
    assert fitting(box) == pytest.approx(whole * 1.25**4, rel=0.01)
    page.keyboard.press("0")
    assert fitting(box) == pytest.approx(whole, abs=2)
    frame = box.bounding_box()
    page.mouse.move(frame["x"] + frame["width"] / 2, frame["y"] + 40)
    for _ in range(3):
        page.mouse.wheel(0, -100)
    expect(page.locator(".viewer output")).to_have_text("195 %")
    page.mouse.wheel(0, 100)
    expect(page.locator(".viewer output")).to_have_text("156 %")
    page.get_by_role("button", name="Whole sheet").click()
    expect(page.locator(".viewer output")).to_have_text("100 %")
    page.get_by_role("button", name="Larger").click()
    expect(page.locator(".viewer output")).to_have_text("125 %")
    expect_no_sideways(page)


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_sheet_when_dragged_then_it_follows_the_hand(page_at, owner, file, width):
    page = page_at(width, user=owner)
    box = opened(page, file)
    box.focus()
    for _ in range(6):
        page.keyboard.press("+")
    left, top, _ = box.evaluate(PLACES)
    frame = box.bounding_box()
    x, y = frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 70, y - 50, steps=7)
    page.mouse.up()
    assert box.evaluate(PLACES)[:2] == pytest.approx([left + 70, top + 50], abs=3)


def test_sheet_when_two_fingers_part_then_larger_and_together_then_smaller(page_at, owner, file):
    page = page_at(PHONE, user=owner, has_touch=True)
    box = opened(page, file)
    whole, frame = fitting(box), box.bounding_box()
    x, y = frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 3
    session = page.context.new_cdp_session(page)

    def fingers(kind, *apart):
        points = [{"x": x - far, "y": y, "id": 1} for far in apart]
        points += [{"x": x + far, "y": y, "id": 2} for far in apart]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    fingers("touchStart", 30)
    for far in (40, 60, 80, 90):
        fingers("touchMove", far)
    assert fitting(box) == pytest.approx(3 * whole, rel=0.05)
    for far in (70, 45):
        fingers("touchMove", far)
    assert fitting(box) == pytest.approx(1.5 * whole, rel=0.05)
    fingers("touchEnd")
    expect_no_sideways(page)


def test_pins_when_the_sheet_is_made_larger_then_keep_their_size_and_their_place_and_lead_on(
    page_at, owner, drawing, file
):
    erratum = factories.make_erratum(drawing, page=1, x=0.25, y=0.25)
    page = page_at(DESK, user=owner)
    box = opened(page, file)
    ring, spot = page.locator(".pins .ring"), page.locator(".pins .spot")
    for _ in range(3):
        seen, sheet = spot.bounding_box(), page.locator(".canvas").bounding_box()
        assert ring.bounding_box()["width"] == pytest.approx(32.5, abs=3)
        middle = (seen["x"] + seen["width"] / 2 - sheet["x"]) / sheet["width"]
        assert middle == pytest.approx(0.25, abs=0.005)
        box.focus()
        page.keyboard.press("+")
    page.get_by_role("link", name="E-001").first.click()
    page.wait_for_url(f"**{erratum.get_absolute_url()}")


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_spot_when_touched_or_chosen_by_keys_then_on_the_entry_of_an_erratum(page_at, owner, file, width):
    page = page_at(width, user=owner)
    box = opened(page, file, "?place=1")
    sheet = page.locator(".canvas").bounding_box()
    page.mouse.click(sheet["x"] + sheet["width"] / 4, sheet["y"] + sheet["height"] / 4)
    page.wait_for_url("**/errata/new/**&x=0.2*&y=0.2*")
    assert float(page.get_by_label("Across").input_value()) == pytest.approx(25, abs=0.5)
    box = opened(page, file, "?place=1")
    box.focus()
    wide = fitting(box)
    for _ in range(2):
        page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    page.wait_for_url("**/errata/new/**&x=*&y=0.5000")
    x = float(page.url.partition("&x=")[2].partition("&")[0])
    assert x == pytest.approx(0.5 + (2 * 60 - 6) / wide, abs=0.003)


def test_sheet_when_there_is_no_script_then_at_its_full_size_in_a_box_and_a_spot_is_sent_on(
    page_at, owner, file
):
    page = page_at(PHONE, user=owner, script=False)
    page.goto(file.get_absolute_url())
    expect(page.locator("main")).to_contain_text("Being drawn")
    sheet_previews.drawer.settle()
    page.goto(file.get_absolute_url())
    expect(page.locator(".pan img")).to_have_js_property("naturalWidth", 4000)
    expect(page.get_by_role("button", name="Whole sheet")).not_to_be_visible()
    expect_no_sideways(page)
    page.get_by_role("link", name="Pin an erratum to a spot").click()
    expect(page.locator("input[type=image]")).to_have_js_property("offsetWidth", 4000)
    page.locator("input[type=image]").click(position={"x": 200, "y": 100})
    page.wait_for_url("**/errata/new/**&x=0.05&y=0.03*")


def test_file_when_added_then_its_preview_comes_by_itself(page_at, owner, drawing):
    page = page_at(PHONE, user=owner)
    page.goto(drawing.get_absolute_url())
    page.locator("#files summary", has_text="Add files").click()
    page.get_by_label("Files").set_input_files(
        {"name": "sheet-7.pdf", "mimeType": "application/pdf", "buffer": pdf()}
    )
    page.get_by_role("button", name="Bring them in").click()
    expect(page.locator("#files img")).to_have_js_property("naturalWidth", 400, timeout=30_000)
    expect(page.locator("#files .shown")).not_to_contain_text("Being drawn", timeout=30_000)
    page.get_by_role("link", name="Look at sheet-7.pdf").click()
    expect(page.locator(".pan.live")).to_be_visible(timeout=30_000)
