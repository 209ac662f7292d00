"""The general arrangement as a builder makes it: a photograph brought in, balloons put on it, one opened."""

import re

import pytest
from playwright.sync_api import expect

from buildlog.models import BalloonPlace
from tests import factories
from tests.browser.steps import DESK, PHONE, expect_no_sideways, make_marlpit, make_owner, said
from tests.picture_files import noise

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def owner():
    return make_owner()


@pytest.fixture
def build(owner):
    build = factories.make_build(owner)
    for number, code, name in (("1", "B", "Boiler"), ("2", "CY", "Cylinder"), ("3", "HW", "Hind wheels")):
        assembly = factories.make_assembly(build, code=code, name=name, balloon=number)
        factories.make_part(build, number=f"{code}-1", assembly=assembly)
    return build


def bring_in(page, build):
    page.goto(f"/builds/{build.pk}/engine/")
    page.get_by_role("link", name="Bring in a picture").click()
    photo = {"name": "engine.jpg", "mimeType": "image/jpeg", "buffer": noise((900, 600))}
    page.get_by_label("Picture").set_input_files(photo)
    page.get_by_role("button", name="Put it under the balloons").click()
    expect(said(page)).to_contain_text("The picture is under the balloons")


def click_at(page, across, down):
    page.wait_for_load_state()  # The style sheet has come by then, and one of the two sizes is hidden.
    shown = page.locator(".spot input:visible")
    shown.scroll_into_view_if_needed()
    box = shown.bounding_box()
    shown.click(position={"x": box["width"] * across / 100, "y": box["height"] * down / 100})


def figures_of(handle) -> tuple[float, ...]:
    """Where a balloon says it stands, in per cent."""
    return tuple(float(figure) for figure in re.findall(r"([\d.]+) %", handle.get_attribute("aria-label")))


def place_of(code) -> tuple[float, ...]:
    """The four figures as they were written down, in per cent."""
    return tuple(float(100 * share) for share in BalloonPlace.objects.get(assembly__code=code).spot)


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_balloons_when_three_are_clicked_and_one_moved_by_keys_then_they_lead_to_their_assemblies(
    page_at, owner, build, width
):
    page = page_at(width, user=owner)
    bring_in(page, build)
    chosen = page.get_by_label("Assembly")
    for name, end, balloon in (
        ("1 Boiler", (30, 50), (30, 20)),
        ("2 Cylinder", (50, 40), (60, 12)),
        ("3 Hind wheels", (70, 70), (88, 40)),
    ):
        # Each is chosen by itself when the last has its place.
        expect(chosen.locator("option:checked")).to_have_text(name)
        click_at(page, *end)
        click_at(page, *balloon)
    expect(page.locator("[data-said]")).to_contain_text("3 Hind wheels stands at")
    boiler = page.get_by_role("button", name="1 Boiler, balloon at")
    across, down = figures_of(boiler)
    boiler.focus()
    for keys in ("ArrowRight", "ArrowRight", "Shift+ArrowDown", "ArrowUp"):
        page.keyboard.press(keys)
    expect(boiler).to_be_focused()
    assert figures_of(boiler) == pytest.approx((across + 2, down + 4), abs=0.01)
    expect_no_sideways(page)
    assert not BalloonPlace.objects.exists()
    page.get_by_role("button", name="Write it down").first.click()
    expect(said(page)).to_contain_text("The balloons stand where you put them.")
    assert place_of("B") == pytest.approx((30, 50, 32, 24), abs=0.5)
    assert place_of("CY") == pytest.approx((50, 40, 60, 12), abs=0.5)
    assert place_of("HW") == pytest.approx((70, 70, 88, 40), abs=0.5)
    expect_no_sideways(page)
    balloon = page.locator("figure.ga a:visible").filter(has_text="2")
    box = balloon.locator("circle").first.bounding_box()
    assert min(box["width"], box["height"]) >= 24
    row = page.locator("section.key tr", has_text="Cylinder").bounding_box()
    assert row["height"] >= 44
    balloon.locator("circle").first.click()
    expect(page.get_by_role("heading", name="Cylinder", exact=True)).to_be_visible()


def test_balloon_when_dragged_and_another_typed_then_both_stand_there(page_at, owner, build):
    boiler, cylinder = (build.assemblies.get(code=code) for code in ("B", "CY"))
    factories.make_place(factories.make_arrangement(build, content=noise((900, 600))), boiler)
    page = page_at(DESK, user=owner)
    page.goto(f"/builds/{build.pk}/arrangement/place/")
    shown = page.locator(".spot input").bounding_box()
    handle = page.get_by_role("button", name="1 Boiler, balloon at").bounding_box()
    page.mouse.move(handle["x"] + handle["width"] / 2, handle["y"] + handle["height"] / 2)
    page.mouse.down()
    page.mouse.move(shown["x"] + shown["width"] * 0.8, shown["y"] + shown["height"] * 0.3, steps=4)
    page.mouse.up()
    for name, figure in (("end_x", "20"), ("end_y", "30"), ("x", "40"), ("y", "101")):
        page.locator(f"#id_{name}_{cylinder.pk}").fill(figure)
    # Enter in an entry writes all down; it is no click on the picture.
    page.locator(f"#id_y_{cylinder.pk}").press("Enter")
    expect(page.get_by_role("alert")).to_contain_text(
        "101 is off the picture. It goes from 0 to 100 per cent."
    )
    page.locator(f"#id_y_{cylinder.pk}").fill("10")
    expect(page.get_by_role("button", name="2 Cylinder, balloon at 40 % across, 10 % down")).to_be_visible()
    page.get_by_role("button", name="Write it down").last.click()
    expect(said(page)).to_contain_text("The balloons stand where you put them.")
    assert place_of("B") == pytest.approx((50, 50, 80, 30), abs=0.5)
    assert place_of("CY") == (20, 30, 40, 10)


@pytest.mark.parametrize("width", [DESK, PHONE])
def test_balloons_when_there_is_no_script_then_the_picture_is_clicked_all_the_same(page_at, owner, width):
    build = make_marlpit(owner)
    page = page_at(width, script=False, user=owner)
    page.goto(f"/builds/{build.pk}/engine/")
    page.get_by_role("link", name="Place the balloons").click()
    page.get_by_label("Assembly").select_option(label="4.3 Governor")
    click_at(page, 31, 30)
    expect(page.get_by_role("status").first).to_contain_text("not written down yet")
    click_at(page, 20, 10)
    expect_no_sideways(page)
    page.get_by_role("button", name="Write it down").first.click()
    assert place_of("GOV") == pytest.approx((31, 30, 20, 10), abs=0.5)
    assert BalloonPlace.objects.count() == 1
    page.get_by_role("link", name="Place the balloons").click()
    page.get_by_role("button", name="Put all back as drawn").click()
    expect(said(page)).to_contain_text("The balloons stand as drawn again.")
    assert not BalloonPlace.objects.exists()
