"""Parts in a real browser: stage, counts, quantities, the list and back, two tabs, the keyboard alone."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import expect

from buildlog.models import Part
from tests import factories
from tests.browser.steps import DESK, PHONE, make_marlpit, make_owner, part_of, said


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def build(owner):
    return factories.make_build(owner)


def entry(page, label):
    """An entry by the first words of its label; its help follows them."""
    return page.get_by_role("textbox", name=re.compile(f"^{label}"))


def stage_button(page, name):
    return page.get_by_role("form", name="Stage").get_by_role("button", name=name)


@pytest.mark.parametrize(("width", "script"), [(DESK, True), (PHONE, False)])
def test_spokes_when_17_then_7_are_counted_then_the_list_says_24_of_24_machined(
    page_at, owner, build, width, script
):
    # Figures as a builder would have them: 24 needed, 17 good and 2 scrap, next evening 7 more.
    wheel = factories.make_assembly(build, name="Front axle and wheels")
    part = factories.make_part(build, assembly=wheel, number="FW-004", name="Front-wheel spoke", quantity=24)
    page = page_at(width, script=script, user=owner)
    page.goto(part.get_absolute_url())
    stage_button(page, "In hand").click()
    expect(stage_button(page, "In hand")).to_have_attribute("aria-pressed", "true")
    count(page, good="17", scrap="2")
    expect(page.get_by_text("17/24 good, 7 to make; 2 scrap")).to_be_visible()
    page.get_by_role("link", name="Parts", exact=True).click()
    expect(row_of(page, "FW-004")).to_contain_text(re.compile(r"17/24.*7 to make", re.S))
    row_of(page, "FW-004").get_by_role("link", name="FW-004").click()
    count(page, good="7")
    expect(page.get_by_text("24/24 good; 2 scrap")).to_be_visible()
    expect(stage_button(page, "Machined")).to_have_attribute("aria-pressed", "true")
    part.refresh_from_db()
    assert (part.good, part.scrap, part.stage) == (24, 2, "machined")


def count(page, *, good="", scrap=""):
    page.get_by_label("Good, to add").fill(good)
    page.get_by_label("Scrap, to add").fill(scrap)
    page.get_by_role("button", name="Count").click()


def row_of(page, key):
    return page.get_by_role("row").filter(has=page.get_by_role("link", name=key, exact=True))


@pytest.mark.parametrize("script", [True, False])
def test_stud_when_the_pump_takes_5_then_23_are_needed_at_once(page_at, owner, build, script):
    # Used in three places: 8 on the cover, 10 on the steam chest, 6 on the pump: 24; the pump at 5: 23.
    cover, chest, pump = (
        factories.make_assembly(build, name=name) for name in ("Cylinder cover", "Steam chest", "Feed pump")
    )
    part = factories.make_part(build, assembly=cover, quantity=8, number="ST-012", name="Stud 2 BA")
    part.uses.create(assembly=chest, quantity=10)
    part.uses.create(assembly=pump, quantity=6)
    page = page_at(DESK, script=script, user=owner)
    page.goto(part.get_absolute_url())
    expect(page.get_by_text("24 needed in all")).to_be_visible()
    line = page.get_by_role("listitem").filter(has=page.get_by_label("How many in Feed pump"))
    line.get_by_label("How many in Feed pump").fill("5")
    line.get_by_role("button", name="set").click()
    expect(page.get_by_text("23 needed in all")).to_be_visible()
    expect(page.get_by_text("Needed fell from 24 to 23")).to_be_visible()


@pytest.mark.parametrize("script", [True, False])
def test_size_when_typed_as_a_builder_does_then_part_shows_it_first_and_the_other_unit_after(
    page_at, owner, build, script
):
    # 1.1/4 is a trade habit for 1 1/4; 25.4 mm to the inch by definition.
    page = page_at(DESK, script=script, user=owner)
    page.goto(f"/builds/{build.pk}/parts/new/")
    entry(page, "Number").fill("S-030")
    entry(page, "Name").fill("Shaft end")
    entry(page, "Leading size").fill("1.1/4 dia")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("S-030 Shaft end")
    expect(page.locator(".facts-line")).to_contain_text(re.compile(r"1 1/4\s*in dia\s*31\.75 mm"))
    page.get_by_role("link", name="Change", exact=True).click()
    expect(entry(page, "Leading size")).to_have_value("1.1/4 dia")
    entry(page, "Leading size").fill("30 mm")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".facts-line")).to_contain_text(re.compile(r"30\s*mm\s*1\.1811 in"))


def test_size_when_typed_then_its_reading_appears_without_reload(page_at, owner, build):
    # As it is typed there.
    page = page_at(DESK, user=owner)
    page.goto(f"/builds/{build.pk}/parts/new/")
    page.evaluate("window.untouched = true")
    for typed, read in (
        ("1.1/4", "read as 1 1/4 in = 31.75 mm"),
        ("1 3/16", "read as 1 3/16 in = 30.1625 mm"),
        ("30 mm", "read as 30 mm = 1.1811 in"),
        ("1 3/16 mmm", "mmm"),
    ):
        entry(page, "Leading size").fill(typed)
        expect(page.get_by_role("status")).to_contain_text(read)
        expect(entry(page, "Leading size")).to_have_value(typed)
    assert page.evaluate("window.untouched")


@pytest.mark.parametrize("script", [True, False])
def test_part_entry_when_a_size_cannot_be_read_then_all_that_was_typed_stays(page_at, owner, build, script):
    typed = {"Name": "Shaft end", "Leading size": "1 3/16 mmm", "Made of": "cast iron", "Notes": "new"}
    page = page_at(PHONE, script=script, user=owner)
    page.goto(f"/builds/{build.pk}/parts/new/")
    entry(page, "Number").fill("S-030")
    for label, text in typed.items():
        entry(page, label).fill(text)
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("alert")).to_contain_text("mmm")
    for label, text in typed.items():
        expect(entry(page, label)).to_have_value(text)
    assert not Part.objects.exists()


def test_parts_list_when_narrowed_and_gone_back_then_the_whole_page_stands_there_again(page_at, owner):
    build = make_marlpit(owner)
    in_hand = build.parts.filter(stage="in hand").count()
    page = page_at(DESK, user=owner)
    page.goto(f"/builds/{build.pk}/parts/")
    expect(page.get_by_role("heading", name="420 parts")).to_be_visible()
    page.evaluate("window.untouched = true")
    page.get_by_role("combobox", name="State").select_option("In hand")
    expect(page.get_by_role("heading", name=f"{in_hand} parts")).to_be_visible()
    assert page.evaluate("window.untouched"), "the whole page was loaded for a narrower list"
    assert parse_qs(urlsplit(page.url).query)["stage"] == ["in hand"]
    page.get_by_role("link", name="Made/need").click()
    expect(page.get_by_role("columnheader", name="Made/need")).to_have_attribute("aria-sort", "ascending")
    expect(page.get_by_role("heading", name=f"{in_hand} parts")).to_be_visible()
    page.go_back()
    page.go_back()
    expect(page.get_by_role("heading", name="420 parts")).to_be_visible()
    expect(page.get_by_role("heading", level=1, name="Parts")).to_be_visible()
    expect(page.get_by_role("navigation", name="Build")).to_be_visible()
    expect(page.get_by_role("combobox", name="State")).to_have_value("")


def test_parts_list_when_narrowed_without_script_then_one_button_shows_it(page_at, owner):
    build = make_marlpit(owner)
    page = page_at(PHONE, script=False, user=owner)
    page.goto(f"/builds/{build.pk}/parts/")
    page.get_by_role("combobox", name="State").select_option("In hand")
    page.get_by_role("button", name="Show these").click()
    expect(page.get_by_role("heading", name=re.compile(r"^19 parts"))).to_be_visible()
    expect(page.get_by_role("combobox", name="State")).to_have_value("in hand")


def test_two_tabs_when_renumbered_in_one_then_counted_in_the_other_on_the_same_part(page_at, owner, build):
    part = factories.make_part(
        build, assembly=factories.make_assembly(build), number="S-040", name="Pinion", quantity=4
    )
    one = page_at(DESK, user=owner)
    two = one.context.new_page()
    two.goto(part.get_absolute_url())
    one.goto(part.get_absolute_url())
    one.get_by_role("link", name="Change", exact=True).click()
    entry(one, "Number").fill("S-041")
    one.get_by_role("button", name="Write it down").click()
    expect(one.get_by_role("heading", level=1)).to_contain_text("S-041 Pinion")
    count(two, good="3")
    expect(two.get_by_role("heading", level=1)).to_contain_text("S-041 Pinion")
    expect(two.get_by_text("3/4 good, 1 to make")).to_be_visible()
    part.refresh_from_db()
    assert (part.number, part.good) == ("S-041", 3)


@pytest.mark.parametrize("script", [True, False])
def test_two_tabs_when_renumbered_in_one_then_the_entry_open_in_the_other_does_not_undo_it_unseen(
    page_at, owner, build, script
):
    part = factories.make_part(
        build, assembly=factories.make_assembly(build), number="S-040", name="Pinion", quantity=4
    )
    one = page_at(DESK, script=script, user=owner)
    two = one.context.new_page()
    for tab in (one, two):
        tab.goto(f"{part.get_absolute_url()}change/")
    entry(one, "Number").fill("S-041")
    one.get_by_role("button", name="Write it down").click()
    expect(one.get_by_role("heading", level=1)).to_contain_text("S-041 Pinion")
    entry(two, "Made of").fill("bright mild steel")
    two.get_by_role("button", name="Write it down").click()
    expect(two.get_by_role("alert")).to_contain_text("This part has been changed since you opened the page.")
    expect(two.get_by_role("alert").get_by_role("row").filter(has_text="Number")).to_contain_text("S-041")
    expect(entry(two, "Made of")).to_have_value("bright mild steel")
    part.refresh_from_db()
    assert (part.number, part.material) == ("S-041", "")
    expect(entry(two, "Number")).to_have_value("S-041")
    two.get_by_role("button", name="Write it down").click()
    expect(two.get_by_role("heading", level=1)).to_contain_text("S-041 Pinion")
    part.refresh_from_db()
    assert (part.number, part.material) == ("S-041", "bright mild steel")


def test_stage_when_touched_twice_in_a_hurry_then_one_line_of_history(page_at, owner, build):
    part = factories.make_part(build, assembly=factories.make_assembly(build))
    page = page_at(PHONE, user=owner)
    page.goto(part.get_absolute_url())
    stage_button(page, "In hand").dblclick()
    expect(stage_button(page, "In hand")).to_have_attribute("aria-pressed", "true")
    assert part.history.filter(text__contains="in hand").count() == 1


def test_keyboard_alone_when_used_then_from_sign_in_to_a_stage(page_at, owner, build):
    part = factories.make_part(build, assembly=factories.make_assembly(build), number="S-016")
    page = page_at(DESK)
    page.goto("/sign-in/")
    expect(page.get_by_label("Name")).to_be_focused()
    page.keyboard.type("owner")
    tab_to(page, "Password")
    page.keyboard.type("workshop evening")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="Where was I?")).to_be_visible()
    tab_to(page, "Parts")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="Parts")).to_be_visible()
    tab_to(page, "S-016")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("S-016")
    tab_to(page, "In hand")
    page.keyboard.press("Space")
    expect(stage_button(page, "In hand")).to_have_attribute("aria-pressed", "true")
    part.refresh_from_db()
    assert part.stage == "in hand"


FOCUSED = """() => {
  const one = document.activeElement, style = getComputedStyle(one);
  const words = one.labels?.length ? one.labels[0].innerText : one.innerText || one.ariaLabel || "";
  return {
    words: one === document.body ? "" : words.trim(),
    seen: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
  };
}"""


def tab_to(page, words, most=60):
    """Press Tab until what bears these words has the focus, which must be seen at every step."""
    page.wait_for_load_state()  # The style sheet has come by then.
    for _ in range(most):
        page.keyboard.press("Tab")
        at = page.evaluate(FOCUSED)
        if at["words"]:
            assert at["seen"], f"the focus cannot be seen on {at['words']!r}"
        if at["words"] == words:
            return
    pytest.fail(f"{words!r} was not reached with {most} presses of Tab")


def test_stranger_when_given_the_link_then_nothing_is_there(page_at, watch, owner, build):
    part = factories.make_part(build, number="S-016")
    record = factories.make_record(part, user=owner)
    stranger = factories.make_user("stranger")
    watch.expected.append("status of 404")
    page = page_at(DESK, user=stranger)
    for address in (
        build.get_absolute_url(),
        part.get_absolute_url(),
        f"{part.get_absolute_url()}change/",
        record.get_absolute_url(),
    ):
        answer = page.goto(address)
        assert answer.status == 404, address
        expect(page.get_by_role("heading", level=1, name="Not here")).to_be_visible()
        expect(page.get_by_text("S-016")).to_have_count(0)
    for address in (f"/records/{record.pk}.pdf", f"/records/{record.pk}.json"):
        assert page.context.request.get(address).status == 404, address
    assert part_of(build, "S-016").history.count() == 0


def test_signing_out_when_done_then_back_shows_nothing_of_the_build(page_at, owner, build):
    part = factories.make_part(build, number="S-016", name="Final-drive wheel")
    page = page_at(DESK, user=owner)
    page.goto(part.get_absolute_url())
    page.get_by_role("button", name="sign out").click()
    expect(page.get_by_role("heading", level=1, name="Sign in")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", level=1, name="Sign in")).to_be_visible()
    expect(said(page)).to_be_empty()
    expect(page.get_by_text("Final-drive wheel")).to_have_count(0)
