"""Goods received: what is in the box is counted, then looked at; only what is accepted counts as on hand."""

from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog.actions import stores
from buildlog.models import StoresEvent
from buildlog.waiting.standing import standing_of
from tests.factories import (
    make_build,
    make_casting,
    make_casting_part,
    make_delivery,
    make_order,
    make_supplier,
)
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, words

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("stopped_clock")]

TODAY = date(2026, 3, 14)
HUGE = "9" * 30


@pytest.fixture
def box(build):
    """Nine castings of five lines, as in the worked example of the box that holds a wrong one."""
    lines = (("K-005", 3), ("K-009", 1), ("K-012", 1), ("K-036", 2), ("K-047", 2))
    castings = [(make_casting(build, number=number), many) for number, many in lines]
    for casting, many in castings:
        make_casting_part(casting, castings_each=many)
    supplier = make_supplier(build, name="Thrupwell Foundry")
    return make_order(*castings, number="O-019", supplier=supplier, ordered_on=TODAY - timedelta(60))


def line(order, number):
    return order.lines.get(casting__number=number)


def came(order, **counts):
    """`K_005=3` typed beside the casting K-005."""
    return {f"came_{line(order, number.replace('_', '-')).pk}": many for number, many in counts.items()}


def received(build):
    return reverse("delivery_new", args=[build.pk])


def looking(build):
    return reverse("judge", args=[build.pk])


def prefix(order, number):
    one = line(order, number)
    return f"k{one.casting_id}-{one.pk}"


def found(order, number, verdict, **typed):
    start = prefix(order, number)
    return {f"{start}-verdict": verdict} | {f"{start}-{name}": text for name, text in typed.items()}


ALL = {"K_005": "3", "K_009": "1", "K_012": "1", "K_036": "2", "K_047": "2"}


# ---- counting --------------------------------------------------------------------------------------------


def test_box_when_counted_then_all_of_it_is_to_be_looked_at_and_nothing_on_hand(site, build, box, cast):
    page = fill_in(site, received(build), **came(box, **ALL), text="Box burst at one corner")
    assert "9 castings came. Now look at them." in words(page)
    assert "9 castings, 5 lines. Only what is accepted counts as on hand." in words(page)
    told = StoresEvent.objects.filter(kind="received")
    assert {(one.on, one.by, one.text) for one in told} == {(TODAY, cast.owner, "Box burst at one corner")}
    assert all(held.good == 0 for held in standing_of(build).held.values())
    assert len(standing_of(build).held_up) == 5


def test_box_when_only_part_of_it_came_then_the_rest_is_still_owed(site, build, box):
    fill_in(site, received(build), **came(box, K_005="2"))
    standing = standing_of(build)
    bar = line(box, "K-005").casting_id
    assert standing.held_of(bar).unseen == 2
    assert [owed.quantity for owed in standing.held_of(bar).owed] == [1]
    assert "of 1 to come" in line_of(site.get(received(build)), "K-005")


def test_page_of_one_order_then_only_its_lines_even_those_that_are_done(site, build, box):
    other = make_order(make_casting(build, number="K-070"), number="O-020")
    make_delivery(line(box, "K-009"))
    page = site.get(reverse("order_received", args=[box.pk]))
    assert "of 0 to come" in line_of(page, "K-009")
    assert f"came_{other.lines.get().pk}" not in entries(page)
    assert "Order O-019, Thrupwell Foundry." in words(page)


def test_page_then_lists_what_is_owed_and_leaves_out_what_is_not(site, build, box):
    make_delivery(line(box, "K-009"))
    shown = entries(site.get(received(build)))
    assert f"came_{line(box, 'K-009').pk}" not in shown
    assert f"came_{line(box, 'K-005').pk}" in shown


def test_casting_without_an_order_when_it_is_on_hand_already_then_taken_in(site, build):
    casting = make_casting(build, number="K-040")
    part = make_casting_part(casting)
    start = f"{received(build)}?casting=K-040"
    assert entries(site.get(start))["loose-0-number"] == "K-040"
    fill_in(site, start, **{"loose-0-quantity": "1", "loose-1-number": " k040", "loose-1-quantity": "2"})
    assert StoresEvent.objects.get().quantity == 3  # two rows of one casting are one thing that happened
    fill_in(site, looking(build), **{f"k{casting.pk}-none-verdict": "accept"})
    assert part.pk not in standing_of(build).held_up
    assert standing_of(build).held_of(casting.pk).good == 3


def test_delivery_when_sent_twice_then_written_once(site, build, box):
    typed = left_as_it_comes(site, received(build)) | came(box, K_005="2")
    answers = [site.post(received(build), typed) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert StoresEvent.objects.filter(kind="received").count() == 1


def test_delivery_when_counted_in_two_tabs_then_the_second_is_asked_whether_it_is_a_slip(site, build, box):
    tabs = [left_as_it_comes(site, received(build)) | came(box, K_009="1") for _ in range(2)]
    site.post(received(build), tabs[0])
    page = site.post(received(build), tabs[1])
    assert page.status_code == 422
    assert "Nothing of K-009 is still to come on O-019. Is it written down already?" in alerts(page)
    assert entries(page)[f"came_{line(box, 'K-009').pk}"] == "1"
    assert StoresEvent.objects.filter(kind="received").count() == 1


def test_delivery_when_more_came_than_is_owed_and_it_is_no_slip_then_written(site, build, box):
    typed = left_as_it_comes(site, received(build)) | came(box, K_009="2")
    assert "More came than is owed, and it is no slip" in words(site.post(received(build), typed))
    site.post(received(build), typed | {"over": "on"})
    assert StoresEvent.objects.get(kind="received").quantity == 2


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("-1", "-1 cannot be: write a whole number from 0 to 999."),
        ("1000", "1000 cannot be: write a whole number from 0 to 999."),
        (HUGE, "“999999999999” is no number of castings: write a whole number from 0 to 999."),
        ("2½", "“2½” is no number of castings: write a whole number from 0 to 999."),
        ("٣", "“٣” is no number of castings: write a whole number from 0 to 999."),
        ("4", "Only 3 of K-005 is still to come on O-019."),
    ],
)
def test_count_when_it_is_wrong_then_told_at_it_and_nothing_is_lost(site, build, box, typed, why):
    said = came(box, K_005=typed, K_009="1") | {"text": "Box burst", "loose-0-number": "K-012"}
    page = fill_in(site, received(build), **(said | {"loose-0-quantity": "1"}))
    assert page.status_code == 422
    assert f"How many of K-005 came: {why}" in alerts(page)
    shown = entries(page)
    assert {name: shown[name] for name in said} == said
    assert not StoresEvent.objects.filter(kind="received").exists()


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"on": "2026-03-15"}, "Came on: 15 Mar 2026 is still to come."),
        (
            {"on": "2026-01-01"},
            "Came on: Order O-019 was written on 13 Jan 2026: nothing of it can have been rec",
        ),
        ({"on": ""}, "Came on: Which day was it?"),
        ({"text": "x" * 201}, "Note: Ensure this value has at most 200 characters"),
        ({"token": "none"}, "Token: Enter a valid UUID."),
    ],
)
def test_delivery_when_the_rest_is_wrong_then_told_and_nothing_is_lost(site, build, box, typed, why):
    page = fill_in(site, received(build), **(came(box, K_005="1") | typed))
    assert page.status_code == 422
    assert why in alerts(page)
    assert entries(page)[f"came_{line(box, 'K-005').pk}"] == "1"
    assert not StoresEvent.objects.filter(kind="received").exists()


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (("K-999", "1"), "Casting: K-999 is not in the register of castings."),
        (("K-005", ""), "How many: How many of K-005? Write a whole number from 1 to 999."),
        (("", "2"), "Casting: Which casting is this? Write its number, or empty the line."),
        (("K-005", "0"), "How many: 0 cannot be: write a whole number from 1 to 999."),
    ],
)
def test_casting_without_an_order_when_the_entry_is_wrong_then_told_at_it(site, build, box, typed, why):
    page = fill_in(site, received(build), **{"loose-0-number": typed[0], "loose-0-quantity": typed[1]})
    assert page.status_code == 422
    assert f"Line 1, {why[0].lower()}{why[1:]}" in alerts(page)
    assert not StoresEvent.objects.filter(kind="received").exists()


def test_delivery_when_nothing_is_counted_then_told(site, build, box):
    page = fill_in(site, received(build))
    assert "Nothing is counted yet: write how many came beside what it is." in alerts(page)


def test_delivery_when_a_line_of_another_build_is_sent_then_it_is_not_touched(site, build, box):
    elsewhere = make_order(make_casting(make_build(name="Second engine")))
    fill_in(site, received(build), **{f"came_{elsewhere.lines.get().pk}": "1"})
    assert not StoresEvent.objects.filter(kind="received").exists()


# ---- looking ---------------------------------------------------------------------------------------------


@pytest.fixture
def counted(build, box):
    for one in box.lines.all():
        make_delivery(one, {"K-005": 3, "K-036": 2, "K-047": 2}.get(one.casting.number, 1), good=-1)
    return box


def test_box_when_one_is_the_wrong_casting_then_its_parts_stay_waiting_and_the_others_go(
    site, build, counted
):
    """A second chimney saddle instead of the base ring: eight are put away and one is claimed."""
    typed = {}
    for number in ("K-005", "K-012", "K-036", "K-047"):
        typed |= found(counted, number, "accept")
    typed |= found(counted, "K-009", "wrong", reason="wrong one sent", words="a second chimney saddle, K-008")
    page = fill_in(site, looking(build), **typed)
    assert "8 accepted, 1 rejected (K-009)." in words(page)
    standing = standing_of(build)
    ring = line(counted, "K-009").casting_id
    assert standing.missing == [ring]
    assert standing.held_of(ring).reason == "wrong one sent: a second chimney saddle, K-008"
    assert standing.held_of(ring).owed[0].is_claim


def test_casting_when_accepted_then_what_was_looked_at_and_noted_is_kept_with_it(site, build, counted):
    start = prefix(counted, "K-047")
    typed = left_as_it_comes(site, looking(build)) | found(
        counted, "K-047", "accept", note="hard spot by the gate, one hub"
    )
    site.post(looking(build), typed | {f"{start}-checks": ["right one", "cleaned", "enough to machine"]})
    told = StoresEvent.objects.get(kind="accepted")
    assert (told.quantity, told.text) == (
        2,
        "right one, cleaned, enough to machine; hard spot by the gate, one hub",
    )
    assert "hard spot by the gate, one hub" in words(site.get(told.casting.get_absolute_url()))


def test_casting_when_some_are_wrong_then_those_and_the_rest_stay_to_be_looked_at(site, build, counted):
    page = fill_in(
        site, looking(build), **found(counted, "K-005", "wrong", wrong="1", good="1", reason="broken")
    )
    assert "1 accepted, 1 rejected (K-005), 7 left to be looked at." in words(page)
    held = standing_of(build).held_of(line(counted, "K-005").casting_id)
    assert (held.good, held.rejected, held.unseen) == (1, 1, 1)


def test_casting_when_left_for_later_then_nothing_happens_to_it(site, build, counted):
    page = fill_in(site, looking(build), **found(counted, "K-005", "later"))
    assert "9 left to be looked at." in words(page)
    assert not StoresEvent.objects.filter(kind__in=("accepted", "rejected")).exists()


@pytest.mark.parametrize(
    ("number", "typed", "why"),
    [
        ("K-009", {}, "Say what is wrong with it: it is what the supplier will be told."),
        ("K-005", {"reason": "hard"}, "How many of the 3 are wrong? Write a whole number from 1 to 3."),
        (
            "K-005",
            {"reason": "hard", "wrong": "4"},
            "4 wrong and 0 good make 4; only 3 are here to be looked at.",
        ),
        (
            "K-005",
            {"reason": "hard", "wrong": "2", "good": "2"},
            "2 wrong and 2 good make 4; only 3 are here",
        ),
        ("K-005", {"reason": "hard", "wrong": "0"}, "0 cannot be: write a whole number from 1 to 999."),
        ("K-005", {"reason": "hard", "wrong": "-1"}, "-1 cannot be: write a whole number from 1 to 999."),
        ("K-005", {"reason": "hard", "wrong": HUGE}, "“999999999999” is no number of castings"),
        ("K-009", {"words": "x" * 201}, "Ensure this value has at most 200 characters"),
        ("K-009", {"words": "soft\u202e"}, "There is an unseen sign in it (U+202E)"),
        (
            "K-009",
            {"reason": "ugly", "words": "soft"},
            "Select a valid choice. ugly is not one of the available",
        ),
    ],
)
def test_verdict_when_it_is_wrong_then_told_and_nothing_is_lost_or_written(
    site, build, counted, number, typed, why
):
    said = found(counted, number, "wrong", **typed) | found(counted, "K-012", "accept", note="sound")
    page = fill_in(site, looking(build), **said)
    assert page.status_code == 422
    assert f"{number}: {why}" in alerts(page)
    shown = entries(page)
    assert all(shown[name] == text for name, text in said.items() if text != "ugly")
    assert not StoresEvent.objects.filter(kind__in=("accepted", "rejected")).exists()


def test_look_when_said_to_be_before_it_came_then_told(site, build, box):
    make_delivery(line(box, "K-009"), good=-1, on=TODAY - timedelta(3))
    typed = found(box, "K-009", "accept") | {"look_on": "", "on": "2026-03-10"}
    page = fill_in(site, looking(build), **typed)
    assert "Looked at on: K-009 came on 11 Mar 2026: it was looked at then, or later." in alerts(page)
    assert entries(page)["on"] == "2026-03-10"


def test_look_when_sent_twice_then_written_once(site, build, counted):
    typed = left_as_it_comes(site, looking(build)) | found(counted, "K-005", "accept")
    typed |= found(counted, "K-009", "wrong", reason="hard")
    typed |= {"pair": [prefix(counted, number)[1:] for number in ("K-005", "K-009")]}
    for _ in range(2):
        assert site.post(looking(build), typed).status_code == 302
    assert StoresEvent.objects.filter(kind__in=("accepted", "rejected")).count() == 2


def test_look_when_another_tab_was_before_it_then_told_and_nothing_is_written_twice(site, build, counted):
    typed = left_as_it_comes(site, looking(build)) | found(counted, "K-009", "wrong", reason="hard")
    typed |= found(counted, "K-012", "accept")
    typed |= {"pair": [prefix(counted, number)[1:] for number in ("K-009", "K-012")]}
    one = line(counted, "K-009")
    stores.judge(one.casting, one, accepted=1, rejected=0, reason="", on=TODAY, by=None)
    page = site.post(looking(build), typed)
    assert page.status_code == 422
    assert "K-009: Only 0 are here to be looked at; 1 cannot be." in alerts(page)
    # All or nothing: the one that could have been written is not written alone.
    assert StoresEvent.objects.filter(kind="accepted").count() == 1


@pytest.mark.parametrize("pair", ["x", "0-none", "999999999-1", "1-" + HUGE, "-", "1-2-3"])
def test_look_when_a_pair_is_made_up_then_it_is_passed_over(site, build, counted, pair):
    said = {"pair": pair, "on": "2026-03-14", "token": str(uuid4())}
    answer = site.post(looking(build), said)
    assert answer.status_code in (302, 422)
    assert not StoresEvent.objects.filter(kind="accepted").exists()


def test_look_when_all_of_it_is_done_then_it_says_so(site, build):
    assert "All of it has been looked at" in words(site.get(looking(build)))


def test_pages_when_more_came_then_they_ask_no_more(site, build, counted):
    counts = []
    for _ in range(2):
        pages = {}
        for name in ("delivery_new", "judge"):
            address = reverse(name, args=[build.pk])
            site.get(address)
            with CaptureQueriesContext(connection) as queries:
                site.get(address)
            pages[name] = len(queries)
        counts.append(pages)
        for _ in range(5):
            order = make_order((make_casting(build), 2))
            make_delivery(order.lines.get(), 1, good=-1)
    # Session, user, build, six for how it stands, lines of orders.
    assert counts == [{"delivery_new": 10, "judge": 10}] * 2


def test_pages_when_a_stranger_or_nobody_asks_then_nothing_is_found(cast, counted):
    for address in (received(cast.build), looking(cast.build)):
        assert cast.client("stranger").get(address).status_code == 404
        assert cast.client("stranger").post(address, came(counted, K_005="1")).status_code == 404
        assert Client().get(address).status_code == 302


@pytest.mark.parametrize("name", ["order_new", "delivery_new", "judge"])
@pytest.mark.parametrize("total", [None, "x", "-1", "100000000"])
def test_entry_when_the_count_of_its_lines_is_spoilt_then_refused_and_no_error(site, build, box, name, total):
    said = {"on": "2026-03-14", "token": str(uuid4())}
    said |= {f"{prefix}-TOTAL_FORMS": total for prefix in ("line", "loose") if total}
    answer = site.post(reverse(name, args=[build.pk]), said)
    assert answer.status_code in (302, 422)
    assert build.orders.count() == 1
    assert not StoresEvent.objects.exclude(kind="ordered").exists()
