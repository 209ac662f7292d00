"""Every page once: nothing sideways, every entry labelled, words to be read in both lights and on paper."""

import json
from pathlib import Path
from types import SimpleNamespace
from uuid import uuid4

import pytest
from django.core.files.storage import storages
from django.urls import reverse
from django.utils.http import urlencode
from playwright.sync_api import expect

from buildlog.actions import take_in_list
from buildlog.actions.cards import make_card
from buildlog.actions.log import change_entry
from buildlog.changes import recording, row_of
from buildlog.lists.reading import read_list
from buildlog.models import Assembly
from buildlog.sheet_previews import drawer, state_of
from buildlog.storage import ORIGINALS
from buildlog.views import help_pages
from calc import registry
from calc.answers import card
from tests import factories
from tests.browser.looking import FAINT, GROUND, ON_PAPER, SIDEWAYS, SPOKEN
from tests.browser.steps import DESK, make_marlpit, make_owner, part_of
from tests.doors import OF_BUILD, OWN_PAGES, SIGNED_IN, address
from tests.errata_world import errata_world
from tests.made_world import made_world
from tests.stores_world import stores_world
from tests.threads_world import threads_world

#: Each sum as it was kept once: its entries, and the unit they were typed in.
KEPT = Path(__file__).resolve().parents[1] / "calc" / "kept"
PHONES = (390, 360)
HEIGHT = 900
#: Addresses that answer with a file or with part of a page.
NO_PAGES = {
    "record_pdf", "record_json", "record_text", "sum_text", "part_sum_text", "card_pdf", "list_csv",
    "list_xlsx", "list_pdf", "list_sample", "size_echo", "part_echo", "photo_small",
    "photo_large", "photo_original", "sheet_picture", "sheet_shown", "sheet_original",
    "arrangement_small", "arrangement_large", "arrangement_drawn",
}  # fmt: skip
NOWHERE = "/nowhere/"
#: A name with nowhere to break, such as an address somebody has pasted in.
LONG = "Hornplatebracketforthesecondshaftbearingcap" * 2
HEADINGS = "Number,Name,Assembly,Quantity,Leading size"
GOOD = f"{HEADINGS}\nX-001,Trial shaft,New things,2,1.1/4 dia\nS-016,,S,1,\n"
WRONG = f"{HEADINGS}\nX-001,{LONG},New things,2,16-Mar\nX-002,,,0,\n"
#: Other ways the same pages are asked for.
ASKED = {
    "part_list": ["?find=84T&sort=stage&down=on", f"?find={LONG[:60]}", "?waiting=yes&page=2"],
    "part_split": ["?split=2+(1L+1R)"],
    "part_calculate": [
        "?divisions=9967&circles=15,16",
        "?divisions=9**9**9&ratio=-3",
        "?divisions=127&circles=15,16,17,18,19,20/21,23,27,29,31,33&change_gears=",
    ],
    "list_draft": ["?show=all"],
    "order_new": ["?wanted=all"],
    "casting_list": ["?show=waited", "?find=nothing+like+it"],
    "log_list": ["?part=S-016", f"?part={LONG[:40]}", "?find=nothing+like+it", "?on=2025-03-11"],
    "log_new": ["?part=S-016"],
    "photo_list": ["?part=S-016&closing=on", f"?part={LONG[:40]}", "?find=nothing+like+it"],
    "photo_new": ["?part=S-016"],
    "scrap_list": [f"?part={LONG[:40]}", "?cause=tool"],
    "scrap_new": ["?part=S-016&count=2&counted=1"],
    "thread_bulk": ["?thread=M6x1&to=1/4+BSF", f"?thread=M6x1&to={LONG[:40]}", "?thread=1/4+BSF&to=M6"],
}
SCHEDULE = "?divisions=84&ratio=40&circle=42&turns=0&holes=20"


def make_world():
    """Marlpit with something on every page."""
    owner = make_owner()
    build = make_marlpit(owner)
    part = part_of(build, "S-016")
    record = factories.make_record(part, user=owner)
    assembly = build.assemblies.get(code="S")
    with recording(build, LONG, by=owner) as change:
        change.watch(row_of(assembly))
        Assembly.objects.filter(pk=assembly.pk).update(name=LONG[:80])
    return SimpleNamespace(
        owner=owner,
        build=build,
        change=build.changes.get(),
        part=part,
        use=part.uses.get(),
        assembly=assembly,
        record=record,
        card=card_of(record, operation="Op 50 Cut 84 teeth"),
        draft=keep_draft(build, owner, GOOD),
        **stores_world(build),
        **made_world(build),
        entry=mended(build.log.get(part__number="S-013"), owner),
        **threads_world(build, where=LONG[:60]),
        **errata_world(build, words=LONG),
        photo=factories.make_photo(part=part, caption=LONG, before_closing_up=True),
        scrap=factories.make_scrap(part, happened=LONG, lesson=LONG, show_on="operation", operation="teeth"),
        arrangement=_arrangement(build),
        drawing=build.drawings.get(number="13"),
        sheet_file=drawn_sheet(build.drawings.get(number="13")),
        head=owner.dividing_heads.first(),
        cutter=owner.gear_cutters.first(),
        own_record=factories.make_record(user=owner),
        plan=factories.make_plan(part, user=owner),
    )


def drawn_sheet(drawing):
    """A file that is drawn already, so that no page changes while it is looked at."""
    file = factories.make_sheet_file(drawing, name=f"{LONG}.png")
    state_of(file, 1, "full")
    drawer.settle()
    return file


def lost_sheet(drawing):
    """A file that is no longer in its folder, so that it cannot be shown."""
    file = factories.make_sheet_file(drawing, name=f"{LONG}.png")
    storages[ORIGINALS].delete(file.file)
    return file


def mended(entry, owner):
    """An entry that was changed into another of long words and a link, and back again."""
    for words in (LONG, entry.next):
        entry.next, entry.links, entry.kind = words, f"https://example.org/{LONG}", "tooling"
        change_entry(entry, by=owner)
    return entry


def _arrangement(build):
    """A picture of the builder's own, with balloons of the tree's tops but one; one has a very long name."""
    tops = list(build.assemblies.filter(parent=None))
    tops[0].name = LONG
    tops[0].save()
    arrangement = factories.make_arrangement(build, name=f"{LONG}.jpg")
    for number, assembly in enumerate(tops[:-1], start=1):
        factories.make_place(arrangement, assembly, at=(f"0.{number}", "0.1"))
    return arrangement


def card_of(*records, operation=""):
    """A card of the part with the kept sums given; a gear with the passes that are proposed for it."""
    gears = [record for record in records if card.is_gear(record)]
    said = {
        "records": list(records),
        "paper": "A4",
        "operation": operation,
        "machine": "",
        "held_on": "",
        "passes": card.read_passes(gears[0], card.proposed_passes(gears[0])) if gears else (),
        "leave_off": False,
        "token": uuid4(),
    }
    return make_card(records[0].part, said, by=records[0].made_by, address="")


def kept_sums(part, owner):
    """Every sum there is, kept on that part."""
    kept = [json.loads((KEPT / f"{key}-1.json").read_text()) for key in registry.catalogue()]
    return {
        one["key"]: factories.make_record(
            part, user=owner, key=one["key"], unit=one["unit"], **one["entered"]
        )
        for one in kept
    }


def sum_pages(world):
    """Each sum: nothing entered, worked out, entered wrongly, its checks, kept, and on a card."""
    part = factories.make_part(
        world.build, assembly=world.assembly, number="S-998", name="Wheel", leading_size="84 T, 6 DP"
    )
    kept = kept_sums(part, world.owner)
    pages = {}
    for key, record in kept.items():
        page = reverse("calculate", args=[key])
        pages |= {
            f"{key}, nothing entered": page,
            f"{key}, worked out": f"{page}?{urlencode(record.entered)}",
            f"{key}, entered wrongly": f"{page}?{urlencode(dict.fromkeys(record.entered, LONG))}",
            f"{key}, for a part": reverse("part_calculate", args=[part.pk, key]),
            f"{key}, checks": reverse("sum_checks", args=[key]),
            f"{key}, kept": record.get_absolute_url(),
        }
    pages["part_page, sums"] = part.get_absolute_url()
    pages["card_new, sums"] = reverse("card_new", args=[part.pk])
    pages["card_page, gear"] = card_of(kept["spur-gear"], kept["indexing"]).get_absolute_url()
    pages["card_page, keyway and fit"] = card_of(kept["keyway"], kept["fit"]).get_absolute_url()
    return pages


def keep_draft(build, owner, text):
    return take_in_list.keep_draft(build, owner, f"{LONG}.csv", read_list("list.csv", text.encode()))


def long_part(build):
    """A part with all that can be long about it."""
    return factories.make_part(
        build,
        assembly=build.assemblies.get(code="S"),
        number="S-999-2B",
        name=LONG,
        material=LONG[:80],
        waits_for=LONG,
        notes=LONG * 3,
        lesson=LONG,
    )


def all_pages(world):
    """The address of every page by a name of its own: each page of the site, and its other states."""
    doors = {name: args for name, args in (OF_BUILD | OWN_PAGES | SIGNED_IN).items() if name not in NO_PAGES}
    pages = {
        f"{name}{query}": address(world, name, args) + query
        for name, args in doors.items()
        for query in ["", *ASKED.get(name, [])]
    }
    empty = factories.make_build(world.owner, name="Second engine")
    for name in (
        "build_page", "engine", "part_list", "card_list", "bin_page", "list_in", "log_list", "photo_list",
        "drawing_list", "erratum_list", "stores", "casting_list", "order_list", "order_new", "delivery_new",
        "judge",
    ):  # fmt: skip
        pages[f"{name}, empty"] = reverse(name, args=[empty.pk])
    long, twin = long_part(world.build), part_of(world.build, "H-021", "L")
    gears = factories.make_record(world.part, user=world.owner, divisions="127", change_gears=factories.GEARS)
    below = Assembly.objects.exclude(parent=None).first()
    wrong = keep_draft(world.build, world.owner, WRONG)
    return (
        pages
        | sum_pages(world)
        | {
            "part_page, long": long.get_absolute_url(),
            "part_edit, long": reverse("part_edit", args=[long.pk]),
            "part_page, twin": twin.get_absolute_url(),
            "assembly_page, below": below.get_absolute_url(),
            "record_page, gears": gears.get_absolute_url(),
            "list_draft, wrong": reverse("list_draft", args=[world.build.pk, wrong.pk]),
            "calculate, schedule": reverse("calculate", args=["indexing-schedule"]) + SCHEDULE,
            "sheet_page, lost": lost_sheet(world.drawing).get_absolute_url(),
            "nothing there": NOWHERE,
        }
    )


@pytest.mark.parametrize("every_other", [0, 1])
def test_pages_when_looked_at_then_nothing_sideways_and_all_can_be_read(
    page_at, transactional_db, watch, every_other
):
    watch.expected.append("status of 404")
    world = make_world()
    page = page_at(DESK, user=world.owner)
    # Two halves, so that they may run side by side.
    look_through(page, dict(list(all_pages(world).items())[every_other::2]))


def look_through(page, pages):
    """Open each page and look at it; all that is wrong with any is told together."""
    faults = []
    for name, where in pages.items():
        page.set_viewport_size({"width": DESK, "height": HEIGHT})
        status = page.goto(where).status
        if status not in (200, 422) and where != NOWHERE:
            faults.append(f"{name}: status {status}")
        faults += [f"{name}: {one}" for one in look_at(page)]
    assert not faults, "\n".join(faults)


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


#: Entries that are refused with a long word in every line of text.
REFUSED = (
    "order_new", "delivery_new", "log_new", "log_edit", "drawing_new", "issue_new", "casting_new",
    "part_needs", "part_new", "order_edit", "erratum_new", "erratum_edit", "erratum_part",
)  # fmt: skip


def test_entries_when_refused_then_nothing_sideways_and_all_can_be_read(page_at, transactional_db):
    world = make_world()
    page = page_at(DESK, user=world.owner)
    faults = []
    for name in REFUSED:
        faults += refused(page, world, name, send_long_words)
    faults += refused(page, world, "judge", send_wrong_without_reason)
    faults += refused(page, world, "order_page", add_nothing)
    faults += refused(page, world, "part_page", count_too_many)
    assert not faults, "\n".join(faults)


def refused(page, world, name, send):
    page.set_viewport_size({"width": DESK, "height": HEIGHT})
    page.goto(address(world, name, OF_BUILD[name]))
    send(page)
    expect(page.get_by_role("alert").first).to_be_visible()
    page.wait_for_load_state()  # The style sheet has come by then.
    return [f"{name}, refused: {one}" for one in look_at(page)]


def send_long_words(page):
    form = page.locator("main form.form")
    for line in form.locator("input[type=text]:visible").all():
        line.fill(LONG[: int(line.get_attribute("maxlength") or 60)])
    for line in form.locator("textarea:visible").all():
        line.fill("\u202e")  # Turns round what is read after it, so it is refused.
    form.locator("button.go").last.click()


def send_wrong_without_reason(page):
    page.get_by_label("Wrong", exact=True).first.check()
    page.locator("main form.form button.go").click()


def add_nothing(page):
    page.locator("summary", has_text="Add a casting to this order").click()
    page.get_by_role("button", name="Add a casting to this order").click()


def count_too_many(page):
    page.get_by_label("Good, to add").fill("100000")
    page.get_by_role("button", name="Count").click()


def test_pages_when_signed_out_then_nothing_sideways_and_all_can_be_read(page_at):
    helps = [reverse("help_page", args=[one[0]]) for one in help_pages.PAGES]
    pages = ["/sign-in/", "/sign-in/MQ/spoilt-link/", "/help/", *helps]
    look_through(page_at(DESK), {where: where for where in pages})


SPOILT = """<!doctype html><title>Spoilt</title><body><p class="sheet">{text}</p><h3>No headings above it</h3>
<input name="size"><svg role="img"></svg><a href="#nowhere"></a>
<div id="a"></div><div id="a"></div><nav>Nav</nav>
<pre>{wide}</pre><font color="#777777">grey on white</font></body>"""


def test_looking_when_a_page_is_spoilt_then_every_fault_is_found(page_at):
    page = page_at(DESK)
    page.set_content(SPOILT.format(text="<b>word</b> " * 20, wide="x" * 400))
    found = "\n".join(look_at(page))
    for fault in (
        "0 headings of level 1",
        "no language",
        "level 3 after 1",
        "no label: <input",
        "no name: <svg",
        "no words: <a",
        "dead link",
        "two of id a",
        "4.48 to 1: grey on white",  # (1.05) / (0.1844 + 0.05), by the formula of WCAG 2.2
        "both lights look alike",
        "on paper: <nav",
        "at 360: the page is",
    ):
        assert fault in found, fault


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
