"""Every page once: nothing sideways, every entry labelled, words that can be read in both lights and on paper."""

from dataclasses import dataclass
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog.actions import cards, take_in_list
from buildlog.lists.reading import read_list
from buildlog.models import Assembly, Build
from buildlog.views import help_pages
from tests import factories
from tests.browser.looking import FAINT, GROUND, ON_PAPER, SIDEWAYS, SPOKEN
from tests.browser.steps import DESK, make_marlpit, make_owner, part_of

PHONES = (390, 360)
HEIGHT = 900
#: A list with one row of each state, or with one that wants mending.
LISTS = {
    "good": "Number,Name,Assembly,Quantity,Leading size\nX-001,Trial shaft,New things,2,1.1/4 dia\nS-016,,S,1,\n",
    "wrong": "Number,Name,Assembly,Quantity,Leading size\nX-001,Trial shaft,New things,2,16-Mar\nX-002,,,0,\n",
}
#: A name with nowhere to break, as long as one may be.
LONG = "Hornplatebracketforthesecondshaftbearingcap" * 2


@dataclass
class Stage:
    """Marlpit with something on every page, and a build with nothing in it."""

    marlpit: Build
    empty: Build
    pages: dict[str, str]


def set_up() -> Stage:
    owner = make_owner()
    marlpit, empty = make_marlpit(owner), factories.make_build(owner, name="Second engine")
    wheel, twin = part_of(marlpit, "S-016"), part_of(marlpit, "H-021", "L")
    record = factories.make_record(wheel, user=owner)
    differential = factories.make_record(wheel, user=owner, divisions="127", change_gears=factories.GEARS)
    card = cards.make_card(
        wheel,
        {
            "record": record,
            "paper": "A4",
            "operation": "Op 50 Cut 84 teeth",
            "machine": "",
            "held_on": "",
            "token": uuid4(),
        },
        by=owner,
        address="",
    )
    long = factories.make_part(
        marlpit,
        assembly=marlpit.assemblies.get(code="S"),
        number="S-999-2B",
        name=LONG,
        material=LONG[:80],
        waits_for=LONG,
        notes=LONG * 3,
        lesson=LONG,
    )
    drafts = {
        name: take_in_list.keep_draft(marlpit, owner, f"{LONG}.csv", read_list("list.csv", text.encode()))
        for name, text in LISTS.items()
    }
    places = {
        "marlpit": marlpit, "empty": empty, "wheel": wheel, "twin": twin, "long": long, "record": record,
        "differential": differential, "card": card, "good": drafts["good"], "wrong": drafts["wrong"],
        "assembly": marlpit.assemblies.get(code="S"), "sub": Assembly.objects.exclude(parent=None).first(),
        "use": wheel.uses.first(), "head": owner.dividing_heads.first(), "cutter": owner.gear_cutters.first(),
    }  # fmt: skip
    return Stage(marlpit, empty, addresses({name: place.pk for name, place in places.items()}))


def addresses(pk: dict[str, int]) -> dict[str, str]:
    """Every page that is looked at, by a name of its own."""
    sum_of = reverse("part_calculate", args=[pk["wheel"], "indexing"])
    pages = {
        "first page": reverse("home"), "new build": reverse("build_new"), "about": reverse("build_edit", args=[pk["marlpit"]]),
        "build": reverse("build_page", args=[pk["marlpit"]]), "build, empty": reverse("build_page", args=[pk["empty"]]),
        "engine": reverse("engine", args=[pk["marlpit"]]), "engine, empty": reverse("engine", args=[pk["empty"]]),
        "assembly": reverse("assembly_page", args=[pk["assembly"]]), "assembly below": reverse("assembly_page", args=[pk["sub"]]),
        "assembly, new": reverse("assembly_new", args=[pk["marlpit"]]), "assembly, change": reverse("assembly_edit", args=[pk["assembly"]]),
        "parts": reverse("part_list", args=[pk["marlpit"]]), "parts, empty": reverse("part_list", args=[pk["empty"]]),
        "parts, found": reverse("part_list", args=[pk["marlpit"]]) + "?find=84T&sort=stage&down=on",
        "parts, none": reverse("part_list", args=[pk["marlpit"]]) + "?find=" + LONG[:60],
        "part": reverse("part_page", args=[pk["wheel"]]), "part with a twin": reverse("part_page", args=[pk["twin"]]),
        "part, long": reverse("part_page", args=[pk["long"]]), "part, new": reverse("part_new", args=[pk["marlpit"]]),
        "part, change": reverse("part_edit", args=[pk["long"]]), "part, history": reverse("part_history", args=[pk["wheel"]]),
        "part, split": reverse("part_split", args=[pk["wheel"], pk["use"]]) + "?split=2+(1L+1R)",
        "bin": reverse("bin_page", args=[pk["marlpit"]]), "cards": reverse("card_list", args=[pk["marlpit"]]),
        "cards, empty": reverse("card_list", args=[pk["empty"]]), "card": reverse("card_page", args=[pk["card"]]),
        "card, new": reverse("card_new", args=[pk["wheel"]]), "tooling": reverse("tooling"),
        "head": reverse("head_edit", args=[pk["head"]]), "head, new": reverse("head_add"),
        "cutter": reverse("cutter_edit", args=[pk["cutter"]]), "cutter, new": reverse("cutter_add"),
        "sums": reverse("sums"), "sum": sum_of, "sum, blank": reverse("calculate", args=["indexing"]),
        "sum, none": f"{sum_of}?divisions=9967&circles=15,16", "sum, wrong": f"{sum_of}?divisions=9**9**9&ratio=-3",
        "sum, nearest": f"{sum_of}?divisions=127&circles=15,16,17,18,19,20/21,23,27,29,31,33",
        "schedule": reverse("calculate", args=["indexing-schedule"]) + "?divisions=84&ratio=40&circle=42&turns=0&holes=20",
        "record": reverse("record_page", args=[pk["record"]]), "record, gears": reverse("record_page", args=[pk["differential"]]),
        "list in": reverse("list_in", args=[pk["marlpit"]]), "list, good": reverse("list_draft", args=[pk["marlpit"], pk["good"]]),
        "list, wrong": reverse("list_draft", args=[pk["marlpit"], pk["wrong"]]), "password": reverse("change_password"),
        "help": reverse("help"), "nothing": "/nowhere/",
    }  # fmt: skip
    return pages | {f"help, {one[0]}": reverse("help_page", args=[one[0]]) for one in help_pages.PAGES}


HALVES = ("first", "second")


def half_of(pages: dict[str, str], half: str) -> list[tuple[str, str]]:
    """Every second page: two halves run side by side."""
    return list(pages.items())[HALVES.index(half) :: 2]


@pytest.mark.parametrize("half", HALVES)
def test_pages_when_looked_at_then_nothing_sideways_and_all_can_be_read(
    page_at, transactional_db, watch, half
):
    watch.expected.append("status of 404")
    stage = set_up()
    page = page_at(DESK, user=stage.marlpit.members.get())
    faults = {}
    for name, address in half_of(stage.pages, half):
        page.set_viewport_size({"width": DESK, "height": HEIGHT})
        page.goto(address)
        if found := look_at(page):
            faults[name] = found
    assert not faults, "\n".join(f"{name}: {found}" for name, found in faults.items())


def look_at(page):
    """All that is wrong with an open page, at a desk in both lights, on paper and on a phone."""
    found = page.evaluate(SPOKEN)
    grounds = set()
    for light in ("light", "dark"):
        page.emulate_media(color_scheme=light)
        grounds.add(page.evaluate(GROUND))
        found += [f"{light}: {one}" for one in page.evaluate(FAINT)]
    if len(grounds) < 2:
        found.append("both lights look alike")
    page.emulate_media(color_scheme="light", media="print")
    found += [f"on paper: {one}" for one in page.evaluate(ON_PAPER)]
    page.emulate_media(media="screen")
    for width in (DESK, *PHONES):
        page.set_viewport_size({"width": width, "height": HEIGHT})
        found += [f"at {width}: {one}" for one in page.evaluate(SIDEWAYS)]
    return found


def test_pages_when_signed_out_then_nothing_sideways_and_all_can_be_read(page_at, watch):
    page = page_at(DESK)
    faults = {}
    for address in ("/sign-in/", "/sign-in/MQ/spoilt-link/", "/help/", "/help/first-steps/"):
        page.set_viewport_size({"width": DESK, "height": HEIGHT})
        page.goto(address)
        if found := look_at(page):
            faults[address] = found
    assert not faults, "\n".join(f"{name}: {found}" for name, found in faults.items())


@pytest.mark.parametrize("script", [True, False])
def test_lamp_when_chosen_then_every_page_of_this_browser_keeps_it(page_at, transactional_db, script):
    page = page_at(DESK, script=script, color_scheme="light")
    page.goto("/sign-in/?next=/password/")
    paper = page.evaluate(GROUND)
    page.get_by_role("button", name="shop").click()
    page.wait_for_load_state()
    assert page.url.endswith("/sign-in/?next=/password/")
    assert page.get_by_role("button", name="shop").get_attribute("aria-pressed") == "true"
    shop = page.evaluate(GROUND)
    assert shop != paper
    page.get_by_role("link", name="Help").click()
    page.wait_for_load_state()
    assert page.evaluate(GROUND) == shop
    page.get_by_role("button", name="as the device").click()
    page.wait_for_load_state()
    assert page.evaluate(GROUND) == paper
