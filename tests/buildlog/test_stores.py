"""Waiting on castings: the page that says what stands still, for which casting, and what to do about it.

The figures of the first tests are those of the invented build Marlpit: an overdue order that holds up 19
parts, seven of them by one casting alone. What is expected is worked out by hand beside each check.
"""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions import stores
from buildlog.models import StoresEvent
from buildlog.waiting import rows
from buildlog.waiting.places import places_of
from buildlog.waiting.standing import standing_of
from tests.cast import check_page
from tests.factories import (
    make_assembly,
    make_casting,
    make_casting_part,
    make_delivery,
    make_need,
    make_order,
    make_part,
    make_supplier,
)
from tests.pages import fill_in, line_of, words

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("stopped_clock")]

#: The stopped clock stands at 14 March 2026.
TODAY = date(2026, 3, 14)


def page_of(site, build):
    return site.get(reverse("stores", args=[build.pk]))


def use(part, assembly):
    part.uses.create(assembly=assembly, quantity=1)
    return part


def table(build):
    return rows.table_of(standing_of(build), places_of(build))


@pytest.fixture
def cylinder(build):
    """Two castings of one late order: 19 parts want the first, 12 of them the second as well."""
    supplier = make_supplier(build, name="Thrupwell Foundry")
    before = make_casting(build, number="K-013", name="Flywheel")
    wait = make_order(before, supplier=supplier, number="O-001", ordered_on=TODAY - timedelta(400))
    make_delivery(wait.lines.get(), on=TODAY - timedelta(304))  # 400 - 304 is 96 days
    assembly = make_assembly(build, code="CY", name="Cylinder", balloon="4")
    block = make_casting(build, number="K-022", name="Cylinder block")
    cover = make_casting(build, number="K-024", name="Steam-chest cover")
    for place in range(19):
        part = use(make_part(build, number=f"CY-{place:03}"), assembly)
        make_need(part, block, since=date(2026, 2, 2))
        if place < 12:
            make_need(part, cover, since=date(2026, 2, 2))
    late = make_order(
        block, cover, supplier=supplier, number="O-017", ordered_on=date(2025, 9, 1),
        promised_on=TODAY - timedelta(143),
    )  # fmt: skip
    return block, cover, late


def test_page_when_castings_are_overdue_then_it_says_what_they_hold_up_and_for_how_long(
    site, build, cylinder
):
    page = page_of(site, build)
    text = words(page)
    assert (
        "Saturday 14 March 2026. 1 of 1 assembly waits, 19 parts, for 2 of the 3 castings; 1 is on hand"
        in text
    )
    assert "Overdue: 2 castings, 143 days" in text
    assert (
        "Order O-017, Thrupwell Foundry, holds up 19 parts, 7 of them by K-022 alone. "
        "Longest wait before: 96 days."
    ) in text
    line = line_of(page, "K-022 Cylinder block")
    assert line.startswith("4 Cylinder 19 parts wait")
    assert line.endswith("O-017 2 Feb overdue 143 days, promised 22 Oct 2025 19 7")
    assert line_of(page, "K-024").endswith("O-017 2 Feb overdue 143 days, promised 22 Oct 2025 12 —")
    assert line_of(page, "1 assembly 2 castings") == "1 assembly 2 castings 1 order 2 overdue 19"


def test_page_when_counts_overlap_then_it_says_why_they_do_not_add_up(site, build, cylinder):
    # 12 of the 19 want both: 19 + 12 = 31, and 19 parts.
    wanted = (
        "The 12 parts that want K-024 also want K-022, so the two castings under Cylinder hold up 19, not 31."
    )
    assert wanted in words(page_of(site, build))


def test_page_when_the_castings_come_and_are_good_then_nothing_waits(site, build, cylinder):
    *_, late = cylinder
    for line in late.lines.all():
        make_delivery(line)
    text = words(page_of(site, build))
    assert "Nothing waits for a casting" in text
    assert "No part waits for a casting. Of 3 castings, 3 are on hand and accepted." in text
    assert "Overdue" not in text


def test_page_when_a_casting_came_and_nobody_looked_then_its_parts_still_wait(site, build, cylinder):
    block, _, late = cylinder
    make_delivery(late.lines.get(casting=block), good=-1)
    text = words(page_of(site, build))
    assert "Here, to be looked at: 1 casting" in text
    assert "19 parts" in text
    assert "1 here, to be looked at" in line_of(page_of(site, build), "K-022 Cylinder block")


def test_page_when_something_is_not_ordered_then_it_leads_to_an_order_for_it(site, build):
    lifter, ring = make_casting(build, number="K-061"), make_casting(build, number="K-058")
    for casting, count in ((lifter, 5), (ring, 3)):
        for _ in range(count):
            make_need(make_part(build), casting, since=date(2026, 2, 2))
    page = page_of(site, build)
    assert (
        "Not ordered: 2 castings K-061 and K-058 hold up 8 parts. Wanted since 2 Feb 2026. Order them"
        in words(page)
    )
    assert f"{reverse('order_new', args=[build.pk])}?wanted=all" in page.content.decode()


def test_page_when_one_on_hand_is_claimed_twice_then_both_claims_and_where_to_allot_it(site, build):
    bracket = make_casting(build, number="K-033", name="Hornplate bracket")
    left = make_casting_part(bracket, number="H-021", hand="L")
    right = make_casting_part(bracket, number="H-021", hand="R")
    order = make_order((bracket, 2), number="O-016")
    make_delivery(order.lines.get(), 2, good=1, reason="blowhole in the foot")
    text = words(page_of(site, build))
    assert "One on hand, two claims K-033: one good, one rejected (blowhole in the foot)." in text
    assert "H-021-L and H-021-R both claim the good one. Allot it" in text
    stores.allot(bracket, right, 1, by=None)
    text = words(page_of(site, build))
    assert "two claims" not in text
    assert "1 part waits" in text
    assert standing_of(build).held_up == {left.pk}


def test_page_when_a_claim_has_no_day_then_it_says_so_and_since_the_rejection(site, build):
    bracket = make_casting(build, number="K-033", name="Hornplate bracket")
    make_casting_part(bracket, casting_since=date(2026, 1, 5))
    order = make_order(bracket, number="O-016", ordered_on=date(2026, 1, 6), promised_on=date(2026, 2, 1))
    make_delivery(order.lines.get(), good=0, on=date(2026, 2, 20))
    assert "claim, O-016 20 Feb no date given" in line_of(page_of(site, build), "K-033")


def test_page_when_part_of_an_order_was_rejected_then_the_rest_is_still_overdue(site, build):
    strap = make_casting(build, number="K-036", name="Eccentric strap")
    make_casting_part(strap, castings_each=2)
    order = make_order((strap, 2), ordered_on=date(2026, 1, 6), promised_on=date(2026, 3, 1))
    make_delivery(order.lines.get(), 1, good=0, on=date(2026, 2, 20))
    # One has come and was no good; the other was promised for 1 March, 13 days ago.
    assert "overdue 13 days, promised 1 Mar" in line_of(page_of(site, build), "K-036")


def test_page_when_an_assembly_hangs_on_another_then_its_parts_count_under_the_top_one(site, build):
    top = make_assembly(build, code="FW", name="Front axle and wheels", balloon="3")
    below = make_assembly(build, code="FH", name="Front hubs", balloon="3.1", parent=top)
    casting = make_casting(build)
    use(make_casting_part(casting, number="FH-001"), below)
    page = page_of(site, build)
    assert line_of(page, casting.number).startswith("3 Front axle and wheels 1 part waits")
    assert "Front hubs" not in words(page)


def test_page_when_a_part_is_used_nowhere_then_it_is_not_forgotten(site, build):
    casting = make_casting(build)
    make_casting_part(casting)
    assert line_of(page_of(site, build), casting.number).startswith("Used nowhere yet 1 part waits")


def test_page_when_assemblies_wait_then_most_held_up_first_and_the_idle_ones_named(site, build):
    few, many = make_assembly(build, name="Boiler"), make_assembly(build, name="Cylinder")
    idle = make_assembly(build, name="Shafts, gears, flywheel")
    casting = make_casting(build)
    for assembly, count in ((few, 1), (many, 3)):
        for _ in range(count):
            use(make_casting_part(casting), assembly)
    use(make_part(build), idle)
    text = words(page_of(site, build))
    assert text.index("Cylinder 3 parts wait") < text.index("Boiler 1 part waits")
    assert "One of the three waits for no casting: Shafts, gears, flywheel." in text
    assert "A casting that several assemblies wait for stands under each of them." in text
    assert [row.holds_up for row in table(build).rows[0].castings] == [4]


def test_total_when_a_part_is_used_in_two_assemblies_then_it_counts_once(build):
    casting = make_casting(build)
    part = make_casting_part(casting)
    for name in ("Boiler", "Cylinder"):
        use(part, make_assembly(build, name=name))
    found = table(build)
    assert [row.waiting for row in found.rows] == [1, 1]
    assert found.parts == 1
    assert "Parts used in several assemblies count in each, and once in the total." in found.remarks[-1]


def test_page_when_the_register_is_empty_then_it_says_what_to_do(site, build):
    text = words(page_of(site, build))
    assert "No casting is in the register yet" in text
    assert "Give a part its casting’s number" in text


def test_page_then_members_see_it_and_strangers_find_nothing(cast):
    check_page(cast, reverse("stores", args=[cast.build.pk]))


def test_page_when_the_build_grows_then_it_asks_eleven_times_and_no_more(site, build, cylinder):
    page_of(site, build)  # The session has its build.
    counts = []
    for _ in range(2):
        with CaptureQueriesContext(connection) as queries:
            page_of(site, build)
        counts.append(len(queries))
        for _ in range(10):
            casting = make_casting(build)
            use(make_casting_part(casting), make_assembly(build))
            make_delivery(make_order(casting).lines.get(), good=0)
    # Session, user, build, six for how it stands, assemblies and uses.
    assert counts == [11, 11]


# ---- taking back -----------------------------------------------------------------------------------------


def undo(site, event, **data):
    return site.post(reverse("event_undo", args=[event.pk]), data, follow=True)


def test_event_when_taken_back_then_it_stays_to_be_read_and_counts_no_more(site, build, cast):
    casting = make_casting(build)
    make_casting_part(casting)
    make_delivery(make_order(casting, number="O-001").lines.get())
    event = StoresEvent.objects.get(kind="accepted")
    page = undo(site, event)
    assert f"Taken back: {casting.number}, 1 accepted of O-001." in words(page)
    event.refresh_from_db()
    assert (event.undone_by, event.undone_at) == (cast.owner, clock.now())
    assert "<s>1 accepted of O-001</s>" in page.content.decode()
    assert "taken back 14 Mar 2026 by owner" in words(page)
    assert standing_of(build).held_of(casting.pk).good == 0


def test_event_when_something_rests_on_it_then_it_stays_and_says_what_to_take_back_first(site, build):
    casting = make_casting(build)
    make_delivery(make_order(casting).lines.get())
    page = undo(site, StoresEvent.objects.get(kind="received"))
    assert "These have been accepted or rejected since: take that back first." in words(page)
    assert StoresEvent.objects.filter(undone_at=None).count() == 3


def test_event_when_taken_back_twice_then_once(site, build):
    casting = make_casting(build)
    make_order(casting)
    event = StoresEvent.objects.get()
    undo(site, event)
    first = StoresEvent.objects.get().undone_at
    with clock.stopped_at(clock.now() + timedelta(hours=1)):
        undo(site, event)
    assert StoresEvent.objects.get().undone_at == first


def test_event_when_taken_back_on_the_page_of_an_order_then_back_to_it(site, build):
    order = make_order(make_casting(build))
    answer = site.post(reverse("event_undo", args=[StoresEvent.objects.get().pk]), {"order": "1"})
    assert answer["Location"] == order.get_absolute_url()


def test_whole_way_when_done_through_the_pages_then_waiting_follows_each_step(site, build):
    """Ordered, part of it comes, one is rejected, another comes: what waits changes each time."""
    assembly = make_assembly(build, name="Motion and valve gear")
    strap = make_casting(build, number="K-036", name="Eccentric strap")
    use(make_casting_part(strap, castings_each=2), assembly)

    def stands():
        return line_of(page_of(site, build), "K-036 Eccentric strap × ")

    assert "× 2 not ordered" in stands()
    typed = {"new_supplier": "Dunmarrow Bronze", "line-0-promised_on": "2026-04-01"}
    fill_in(site, reverse("order_new", args=[build.pk]) + "?wanted=all", **typed)
    assert "× 2 O-001 14 Mar promised 1 Apr" in stands()
    line = build.orders.get().lines.get()
    fill_in(site, reverse("delivery_new", args=[build.pk]), **{f"came_{line.pk}": "1"})
    assert "× 2 O-001 14 Mar 1 here, to be looked at" in stands()
    prefix = f"k{strap.pk}-{line.pk}"
    judged = {f"{prefix}-verdict": "wrong", f"{prefix}-reason": "blowhole"}
    fill_in(site, reverse("judge", args=[build.pk]), **judged)
    assert "× 2 O-001 14 Mar promised 1 Apr" in stands()
    fill_in(site, reverse("delivery_new", args=[build.pk]), **{f"came_{line.pk}": "2"})
    fill_in(site, reverse("judge", args=[build.pk]), **{f"{prefix}-verdict": "accept"})
    assert "Nothing waits for a casting" in words(page_of(site, build))
