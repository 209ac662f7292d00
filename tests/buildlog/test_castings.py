"""Castings: the register, a casting's page, to whom it goes, what turned out bad."""

from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog.actions import stores
from buildlog.models import Casting, StoresEvent
from buildlog.waiting.standing import standing_of
from tests.factories import (
    make_build,
    make_casting,
    make_casting_part,
    make_delivery,
    make_first,
    make_need,
    make_order,
    make_part,
    make_supplier,
)
from tests.pages import alerts, entries, fill_in, line_of, words

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("stopped_clock")]

TODAY = date(2026, 3, 14)


@pytest.fixture
def bracket(build):
    """One good bracket and one rejected, of two ordered; left and right claim one each."""
    casting = make_casting(build, number="K-033", name="Hornplate bracket")
    make_casting_part(casting, number="H-021", hand="L")
    make_casting_part(casting, number="H-021", hand="R")
    supplier = make_supplier(build, name="Thrupwell Foundry")
    order = make_order((casting, 2), number="O-016", supplier=supplier, ordered_on=TODAY - timedelta(60))
    make_delivery(order.lines.get(), 2, good=1, on=TODAY - timedelta(10), reason="blowhole in the foot")
    return casting


def page_of(site, casting):
    return site.get(casting.get_absolute_url())


def allot(site, casting, part, quantity, token=None):
    address = reverse("casting_allot", args=[casting.pk, part.pk])
    return site.post(address, {"quantity": quantity, "token": str(token or uuid4())}, follow=True)


def bad(site, casting, **typed):
    """Sent as the page has it; what is typed goes over what stands there."""
    line = casting.lines.first()
    said = {
        "way": str(line.pk) if line else "none", "quantity": "1", "part": "", "reason": "hard", "words": "",
        "on": "2026-03-14", "token": str(uuid4()),
    }  # fmt: skip
    return site.post(reverse("casting_bad", args=[casting.pk]), said | typed, follow=True)


# ---- the register ----------------------------------------------------------------------------------------


def test_register_when_read_then_every_casting_with_what_there_is_of_it(site, build, bracket):
    make_casting(build, number="K-090", name="Spare fire bar")
    page = site.get(reverse("casting_list", args=[build.pk]))
    line = line_of(page, "Hornplate bracket")
    # Two wanted, one good, none to be looked at, one to come in place of the rejected one.
    assert line == "K-033 Hornplate bracket cast iron 2 1 — 1 no date given; holds up 1 part H-021-L, H-021-R"
    assert "nothing waits for it no part names it" in line_of(page, "K-090")


@pytest.mark.parametrize(
    ("typed", "numbers"),
    [
        ("find=bracket", ["K-033"]),
        ("find=h-021-l", ["K-033"]),
        ("find=thrupwell+o-016", ["K-033"]),
        ("find=gunmetal", ["K-061"]),
        ("find=nothing+like+it", []),
        ("show=none", ["K-061"]),
        ("show=waited", ["K-033", "K-061"]),
        ("show=owed", ["K-033"]),
        ("show=here", ["K-033"]),
        ("show=look", []),
        ("show=rubbish&page=999", ["K-033", "K-061"]),
    ],
)
def test_register_when_narrowed_then_those_and_no_others(site, build, bracket, typed, numbers):
    make_casting_part(make_casting(build, number="K-061", name="Water-lifter body", material="gunmetal"))
    text = words(site.get(f"{reverse('casting_list', args=[build.pk])}?{typed}"))
    assert [number for number in ("K-033", "K-061") if number in text] == numbers
    assert ("No casting is like that" in text) is (not numbers)


def test_register_when_long_then_in_pages_and_in_no_more_queries(site, build):
    address = reverse("casting_list", args=[build.pk])
    site.get(address)
    counts = []
    for _ in range(2):
        with CaptureQueriesContext(connection) as queries:
            page = site.get(address)
        counts.append(len(queries))
        more = [Casting(build=build, number=f"Z-{len(counts)}{place:03}") for place in range(90)]
        Casting.objects.bulk_create(more)
    assert counts == [9, 9]  # session, user, build, six for how it stands
    page = site.get(address)
    assert "1 to 100; page 1 of 2" in words(page)
    assert "Later" in words(page)


# ---- its page --------------------------------------------------------------------------------------------


def test_casting_when_opened_then_claims_orders_and_all_that_happened(site, bracket):
    page = page_of(site, bracket)
    text = words(page)
    assert "cast iron 2 wanted, 1 good, 1 to come" in text
    assert "Claimed by holds up 1 part" in text
    assert line_of(page, "H-021-L").startswith("H-021-L Hornplate bracket wants 1, has 1")
    assert line_of(page, "H-021-R").startswith("H-021-R Hornplate bracket wants 1, has 0")
    line = line_of(page, "O-016 Thrupwell Foundry")
    assert "13 Jan 2026: 2 ordered, 2 came, 1 good, 1 rejected" in line
    assert line.endswith("1 to come no date given")
    told = [
        text.index(said)
        for said in ("2 ordered on O-016", "2 came of O-016", "1 accepted", "1 rejected of O-016: blowhole")
    ]
    assert told == sorted(told)


def test_casting_when_others_cannot_go_on_without_it_then_they_are_named(site, build, bracket):
    needs = make_part(build, number="T-001", name="Trial plate")
    make_need(needs, bracket, quantity=2)
    behind = make_part(build, number="T-002", name="Trial cover")
    make_first(behind, needs)
    page = page_of(site, bracket)
    assert "2 have to be here" in line_of(page, "T-001")
    assert "by way of a part to be made first" in line_of(page, "T-002")


def test_casting_when_its_part_is_made_then_it_has_had_its_own(site, build):
    casting = make_casting(build)
    part = make_casting_part(casting, stage="machined", good=1)
    make_delivery(make_order(casting).lines.get())
    page = page_of(site, casting)
    assert "made: has had 1" in line_of(page, part.key)
    assert "used: what it is for is made" in words(page)
    assert "Allot" not in words(page)


def test_casting_when_opened_then_asks_twelve_times_however_much_happened(site, bracket):
    page_of(site, bracket)
    counts = []
    for _ in range(2):
        with CaptureQueriesContext(connection) as queries:
            page_of(site, bracket)
        counts.append(len(queries))
        for _ in range(5):
            make_delivery(make_order(bracket).lines.get())
            make_casting_part(bracket)
    # session, user, casting, six for how it stands, what happened, photos, what was changed
    assert counts == [12, 12]


# ---- allotting -------------------------------------------------------------------------------------------


def test_claim_when_allotted_by_hand_then_that_part_has_it_and_the_other_waits(site, build, bracket):
    left, right = build.parts.order_by("hand")
    assert standing_of(build).held_up == {right.pk}
    page = allot(site, bracket, right, "1")
    assert "1 of K-033 allotted to H-021-R." in words(page)
    assert "has 1, 1 allotted by hand" in line_of(page, "H-021-R")
    assert standing_of(build).held_up == {left.pk}


def test_claim_when_sent_twice_then_allotted_once(site, build, bracket):
    token = uuid4()
    left = build.parts.get(hand="L")
    for _ in range(2):
        allot(site, bracket, left, "1", token)
    assert StoresEvent.objects.filter(kind="allotted").count() == 1


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("2", "How many: H-021-R wants 1 and has 0 allotted already."),
        ("0", "How many: 0 cannot be: write a whole number from 1 to 999."),
        ("-1", "How many: -1 cannot be: write a whole number from 1 to 999."),
        ("1000", "How many: 1000 cannot be: write a whole number from 1 to 999."),
        ("9" * 30, "How many: “999999999999” is no number of castings: write a whole number from 1 to 999."),
        ("one", "How many: “one” is no number of castings: write a whole number from 1 to 999."),
        ("١", "How many: “١” is no number of castings: write a whole number from 1 to 999."),
        ("", "How many: How many? Write a whole number from 1 to 999."),
    ],
)
def test_claim_when_the_entry_is_wrong_then_it_says_so_at_it_and_keeps_it(site, build, bracket, typed, why):
    page = allot(site, bracket, build.parts.get(hand="R"), typed)
    assert page.status_code == 422
    assert why in words(page)
    assert f'value="{typed}"' in page.content.decode()
    assert not StoresEvent.objects.filter(kind="allotted").exists()


def test_claim_when_the_good_one_is_allotted_in_another_tab_then_refused(site, build, bracket):
    left, right = build.parts.order_by("hand")
    stores.allot(bracket, left, 1, by=None)
    page = allot(site, bracket, right, "1")
    assert page.status_code == 422
    assert "Only 0 of K-033 can still be allotted." in words(page)


def test_claim_when_the_part_no_longer_claims_it_then_told(site, build, bracket):
    other = make_part(build, number="T-001")
    assert "T-001 does not claim K-033." in words(allot(site, bracket, other, "1"))


def test_claim_when_the_part_is_of_another_build_then_not_found(site, cast, bracket):
    elsewhere = make_part(make_build(cast.owner, name="Second engine"))
    assert allot(site, bracket, elsewhere, "1").status_code == 404


# ---- found bad -------------------------------------------------------------------------------------------


def test_casting_when_found_bad_at_the_machine_then_owed_again_and_its_part_waits(site, build, bracket):
    left = build.parts.get(hand="L")
    page = bad(site, bracket, part=str(left.pk), words="by the gate")
    assert "1 of K-033 noted as bad. Thrupwell Foundry owes as many again." in words(page)
    assert "1 found bad of O-016, H-021-L’s: hard: by the gate" in words(page)
    standing = standing_of(build)
    assert standing.held_up == {part.pk for part in build.parts.all()}
    assert [owed.quantity for owed in standing.held_of(bracket.pk).owed] == [2]


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"quantity": "2"}, "How many are bad: Only 1 good of K-033 came this way."),
        ({"quantity": "0"}, "How many are bad: 0 cannot be: write a whole number from 1 to 999."),
        ({"reason": ""}, "What is wrong: Say what is wrong with it: it is what the supplier will be told."),
        ({"on": "2026-03-15"}, "Found on: 15 Mar 2026 is still to come."),
        ({"on": "1926-03-14"}, "Found on: 14 Mar 1926 is before 1950. Is the year a slip?"),
        ({"on": "31 Feb 2026"}, "Found on: “31 Feb 2026” is no day. Write it as 20 Nov 2025, or 20/11/2025."),
        ({"on": ""}, "Found on: Which day was it?"),
        ({"way": "none"}, "Which came by: Select a valid choice."),
        ({"words": "hard\u202e"}, "In your own words: There is an unseen sign in it (U+202E)"),
        ({"words": "x" * 201}, "In your own words: Ensure this value has at most 200 characters"),
    ],
)
def test_found_bad_when_the_entry_is_wrong_then_told_and_nothing_is_lost(site, bracket, typed, why):
    page = bad(site, bracket, **({"words": "by the gate"} | typed if "reason" not in typed else typed))
    assert page.status_code == 422
    assert why in alerts(page)
    for name, text in typed.items():
        if name not in ("way", "reason"):
            assert entries(page)[name] == text
    assert not StoresEvent.objects.filter(kind="found bad").exists()


def test_found_bad_when_sent_twice_then_once(site, bracket):
    token = str(uuid4())
    for _ in range(2):
        assert bad(site, bracket, token=token).status_code == 200
    assert StoresEvent.objects.filter(kind="found bad").count() == 1


def test_found_bad_when_none_is_good_any_more_then_refused_and_no_error(site, build):
    casting = make_casting(build)
    assert bad(site, casting).status_code == 422


# ---- what it is ------------------------------------------------------------------------------------------


def test_casting_when_added_then_in_the_register_under_its_number(site, build):
    page = fill_in(site, reverse("casting_new", args=[build.pk]), number="k–099 ", name="Trial ring")
    assert "K-099 Trial ring" in words(page)
    assert build.castings.get().number == "K-099"


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"number": ""}, "Number: This field is required"),
        ({"number": "K-033"}, "Number: K-033 is in the register already. Give this one another number."),
        ({"number": "k-033"}, "Number: K-033 is in the register already. Give this one another number."),
        ({"number": "k033"}, "Number: K-033 is in the register already. Give this one another number."),
        ({"number": "K" * 21}, "Number: Ensure this value has at most 20 characters"),
        ({"name": "n" * 121}, "Name: Ensure this value has at most 120 characters"),
        ({"note": "n" * 1001}, "Note: Ensure this value has at most 1000 characters"),
    ],
)
def test_casting_when_the_entry_is_wrong_then_told_and_nothing_is_lost(site, build, bracket, typed, why):
    said = {"number": "K-099", "name": "Trial ring", "note": "Look for cracks"} | typed
    page = fill_in(site, reverse("casting_new", args=[build.pk]), **said)
    assert page.status_code == 422
    assert why in alerts(page)
    assert {name: entries(page)[name] for name in said} == said
    assert build.castings.count() == 1


def test_casting_when_changed_then_its_number_stays(site, bracket):
    address = reverse("casting_edit", args=[bracket.pk])
    assert "number" not in entries(site.get(address))
    fill_in(site, address, material="gunmetal", note="Two <b>lugs</b>", number="K-001")
    bracket.refresh_from_db()
    assert (bracket.number, bracket.hatch) == ("K-033", "gm")
    assert "Two &lt;b&gt;lugs&lt;/b&gt;" in page_of(site, bracket).content.decode()


def remove(site, casting):
    return site.post(reverse("casting_remove", args=[casting.pk]), follow=True)


def test_casting_when_nothing_names_it_then_it_goes_out_of_the_register(site, build):
    casting = make_casting(build, number="K-040")
    assert "K-040 is out of the register." in words(remove(site, casting))
    assert not build.castings.exists()


def test_casting_when_a_part_names_it_or_it_was_ordered_then_it_stays(site, build):
    named, ordered = make_casting(build, number="K-001"), make_casting(build, number="K-002")
    part = make_casting_part(named, casting_number="k-001")
    make_order(ordered)
    assert f"K-001 stays: {part.key} is made from it." in words(remove(site, named))
    assert "K-002 stays: a part needs it, or it was ordered or came once." in words(remove(site, ordered))
    assert build.castings.count() == 2


def test_casting_page_when_more_parts_claim_it_than_it_can_serve_then_it_says_so_until_it_is_allotted(
    site, build
):
    casting = make_casting(build, number="K-033")
    left, _ = (make_casting_part(casting, number="H-021", hand=hand) for hand in "LR")
    stores.receive(build, {(casting, None): 1}, on=TODAY, by=None)
    stores.judge(casting, None, accepted=1, rejected=0, reason="", on=TODAY, by=None)
    said = "More parts claim it than what is on hand can serve."
    assert said in words(site.get(casting.get_absolute_url()))
    stores.allot(casting, left, 1, by=None)
    assert said not in words(site.get(casting.get_absolute_url()))
