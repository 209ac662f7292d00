"""Orders: written, asked after, added to, called off; suppliers and how long they took."""

from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog.models import Order, StoresEvent, Supplier
from buildlog.money import money, read_money
from buildlog.waiting.standing import standing_of
from tests.factories import make_casting, make_casting_part, make_delivery, make_order, make_supplier
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, words

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("stopped_clock")]

TODAY = date(2026, 3, 14)
HUGE = "1" + "0" * 40


@pytest.fixture
def castings(build):
    return [make_casting(build, number=number) for number in ("K-022", "K-024")]


def new(build):
    return reverse("order_new", args=[build.pk])


LINE = {"line-0-number": "K-022", "line-0-quantity": "1"}
GOOD = {"new_supplier": "Thrupwell Foundry", **LINE}


# ---- writing one -----------------------------------------------------------------------------------------


def test_order_when_written_then_with_its_lines_supplier_and_promises(site, build, castings, cast):
    more = {
        "line-0-price": "£1,250.50", "line-0-promised_on": "30 Jun 2026",
        "line-1-number": "k-024 ", "line-1-quantity": "2", "note": "By carrier",
    }  # fmt: skip
    page = fill_in(site, new(build), **GOOD, **more)
    order = build.orders.get()
    assert (order.number, order.supplier.name, order.ordered_on) == ("O-001", "Thrupwell Foundry", TODAY)
    assert [(line.casting.number, line.price) for line in order.lines.all()] == [
        ("K-022", Decimal("1250.50")),
        ("K-024", None),
    ]
    told = StoresEvent.objects.values_list("kind", "quantity", "promised_on", "by")
    assert list(told) == [
        ("ordered", 1, date(2026, 6, 30), cast.owner.pk),
        ("ordered", 2, None, cast.owner.pk),
    ]
    assert "Order O-001 is written down." in words(page)
    assert "£1,250.50 in all, 1 without a price" in words(page)


def test_form_when_opened_then_the_next_number_and_today_and_six_lines(site, build, castings):
    for number in ("O-009", "O-021", "THF 7/88"):
        make_order(castings[0], number=number)
    shown = entries(site.get(new(build)))
    assert shown["number"] == "O-022"
    assert shown["ordered_on"] == "2026-03-14"
    assert [name for name in shown if name.endswith("-quantity")] == [f"line-{n}-quantity" for n in range(6)]


def test_form_when_asked_for_what_is_wanted_then_its_lines_are_filled_in(site, build, castings):
    block, cover = castings
    make_casting_part(block, castings_each=3)
    make_casting_part(cover)
    make_order(cover)
    shown = entries(site.get(f"{new(build)}?wanted=all"))
    # Three of the block are wanted and none is ordered; the cover is on its way.
    assert (shown["line-0-number"], shown["line-0-quantity"]) == ("K-022", "3")
    assert shown["line-1-number"] == ""


def test_form_when_asked_for_one_casting_then_it_stands_in_the_first_line(site, build, castings):
    shown = entries(site.get(f"{new(build)}?casting=k-024&casting=K-777"))
    assert (shown["line-0-number"], shown["line-0-quantity"], shown["line-1-number"]) == ("K-024", "1", "")


def test_form_when_more_is_wanted_than_six_then_a_line_for_each_and_some_over(site, build):
    for _ in range(9):
        make_casting_part(make_casting(build))
    shown = entries(site.get(f"{new(build)}?wanted=all"))
    assert len([name for name in shown if name.endswith("-quantity")]) == 11


@pytest.mark.parametrize("typed", ["k022", "K 022", "k–022"])
def test_order_when_the_hyphen_is_left_out_then_the_casting_is_still_known(site, build, castings, typed):
    fill_in(site, new(build), **GOOD | {"line-0-number": typed})
    assert [line.casting.number for line in build.orders.get().lines.all()] == ["K-022"]


def test_order_when_two_numbers_differ_by_the_hyphen_alone_then_neither_is_guessed(site, build):
    for number in ("K-11-2", "K-1-12"):
        make_casting(build, number=number)
    page = fill_in(site, new(build), **GOOD | {"line-0-number": "K112"})
    assert "K112 is not in the register of castings" in alerts(page)
    fill_in(site, new(build), **GOOD | {"line-0-number": "K-1-12"})
    assert build.orders.get().lines.get().casting.number == "K-1-12"


def test_order_when_sent_twice_then_written_once_and_both_lead_to_it(site, build, castings):
    typed = left_as_it_comes(site, new(build)) | GOOD
    first, second = (site.post(new(build), typed) for _ in range(2))
    assert first["Location"] == second["Location"] == build.orders.get().get_absolute_url()
    assert (Supplier.objects.count(), StoresEvent.objects.count()) == (1, 1)


def test_order_when_two_tabs_write_the_same_number_then_the_second_is_told(site, build, castings):
    tabs = [left_as_it_comes(site, new(build)) | GOOD for _ in range(2)]
    site.post(new(build), tabs[0])
    page = site.post(new(build), tabs[1])
    assert page.status_code == 422
    assert "Number: O-001 is an order of this build already. Give this one another number." in alerts(page)
    assert entries(page)["line-0-number"] == "K-022"
    assert build.orders.count() == 1


def test_supplier_when_named_again_in_other_letters_then_the_same_one(site, build, castings):
    known = make_supplier(build, name="Thrupwell Foundry")
    fill_in(site, new(build), **(GOOD | {"new_supplier": " thrupwell  FOUNDRY"}))
    assert build.orders.get().supplier == known


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (
            {"new_supplier": ""},
            "Supplier: Of whom is it ordered? Choose a supplier, or write a new name below.",
        ),
        ({"new_supplier": "n" * 81}, "Or a new supplier: Ensure this value has at most 80 characters"),
        ({"number": ""}, "Number: This field is required"),
        ({"number": "n" * 21}, "Number: Ensure this value has at most 20 characters"),
        ({"ordered_on": ""}, "Ordered on: Which day was it?"),
        (
            {"ordered_on": "2026-03-15"},
            "Ordered on: 15 Mar 2026 is still to come. Write the day it happened: today",
        ),
        ({"ordered_on": "1949-12-31"}, "Ordered on: 31 Dec 1949 is before 1950."),
        ({"ordered_on": "2026-02-30"}, "Ordered on: “2026-02-30” is no day."),
        ({"note": "n" * 1001}, "Note: Ensure this value has at most 1000 characters"),
    ],
)
def test_order_when_its_head_is_wrong_then_told_and_nothing_is_lost(site, build, castings, typed, why):
    page = fill_in(site, new(build), **(GOOD | typed))
    assert page.status_code == 422
    assert why in alerts(page)
    shown = entries(page)
    assert {name: shown[name] for name in (GOOD | typed)} == GOOD | typed
    assert not build.orders.exists()
    assert not build.suppliers.exists()


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (
            {"line-0-number": "K-999"},
            "casting: K-999 is not in the register of castings. Write the number as it stands there, or",
        ),
        (
            {"line-0-number": ""},
            "casting: Which casting is this line for? Write its number, or empty the line.",
        ),
        ({"line-0-quantity": ""}, "how many: How many of K-022? Write a whole number from 1 to 999."),
        ({"line-0-quantity": "0"}, "how many: 0 cannot be: write a whole number from 1 to 999."),
        ({"line-0-quantity": "-3"}, "how many: -3 cannot be: write a whole number from 1 to 999."),
        ({"line-0-quantity": "1000"}, "how many: 1000 cannot be: write a whole number from 1 to 999."),
        (
            {"line-0-quantity": HUGE},
            "how many: “100000000000” is no number of castings: write a whole number",
        ),
        (
            {"line-0-quantity": "½"},
            "how many: “½” is no number of castings: write a whole number from 1 to 999.",
        ),
        ({"line-0-price": "-5"}, "price each: -5 is less than nothing. Write the price of one, as 13.50."),
        (
            {"line-0-price": "dear"},
            "price each: “dear” is no price. Write it as 13.50, with two places at most.",
        ),
        ({"line-0-price": "1.234"}, "price each: “1.234” is no price."),
        ({"line-0-price": "10000000"}, "price each: 10000000 is past 9,999,999.99, the most that is kept."),
        (
            {"line-0-promised_on": "2037-01-01"},
            "promised: 1 Jan 2037 is more than 10 years off. Is the year a slip?",
        ),
        (
            {"line-0-promised_on": "soon"},
            "promised: “soon” is no day. Write it as 20 Nov 2025, or 20/11/2025.",
        ),
        (
            {"line-1-number": "K-022", "line-1-quantity": "2"},
            "casting: K-022 stands in line 1 already. Put both quantities there.",
        ),
    ],
)
def test_order_when_a_line_is_wrong_then_told_at_it_and_nothing_is_lost(site, build, castings, typed, why):
    page = fill_in(site, new(build), **(GOOD | typed))
    assert page.status_code == 422
    place = 2 if "line-1-number" in typed else 1
    assert f"Line {place}, {why}" in alerts(page)
    shown = entries(page)
    assert {name: shown[name] for name in (GOOD | typed)} == GOOD | typed
    assert not build.orders.exists()


def test_order_when_every_line_is_empty_then_told(site, build, castings):
    page = fill_in(site, new(build), new_supplier="Thrupwell Foundry")
    assert "Nothing is ordered yet: write a casting’s number and how many in a line." in alerts(page)


def test_order_when_supplier_and_another_name_are_given_then_told(site, build, castings):
    known = make_supplier(build, name="Dunmarrow Bronze")
    page = fill_in(site, new(build), supplier=str(known.pk), **GOOD)
    assert "Dunmarrow Bronze is chosen above, and another named here. Empty one of the two." in alerts(page)


def test_order_when_the_supplier_is_of_another_build_then_refused(site, build, castings):
    page = fill_in(site, new(build), supplier=str(make_supplier().pk), **GOOD)
    assert page.status_code == 422
    assert not build.orders.exists()


# ---- its page --------------------------------------------------------------------------------------------


def test_order_when_opened_then_each_line_with_all_that_came_of_it(site, build, castings):
    build.currency = "AUD"
    build.save()
    block, cover = castings
    make_casting_part(block)
    order = make_order((block, 3), cover, number="O-017", promised_on=TODAY - timedelta(5))
    order.lines.filter(casting=block).update(price=Decimal("46.00"))
    make_delivery(order.lines.get(casting=block), 2, good=1)
    page = site.get(order.get_absolute_url())
    # Three ordered, two came, one good, one rejected: two still owed, five days overdue.
    start = "K-022 Cylinder block 46.00 AUD 3 2 1 1 2 overdue 5 days, promised 9 Mar"
    assert line_of(page, "K-022 Cylinder block 46.00").startswith(start)
    assert "138.00 AUD in all, 1 without a price" in words(page)
    assert "3 to come" in words(page)


def act(site, name, pk, **typed):
    said = {"said": "", "promised_on": "", "why": "", "on": "2026-03-14", "token": str(uuid4())}
    return site.post(reverse(name, args=[pk]), said | typed, follow=True)


def test_line_when_asked_after_then_what_was_said_and_the_new_day(site, build, castings):
    order = make_order(castings[0], number="O-017", promised_on=TODAY - timedelta(5))
    page = act(site, "line_chase", order.lines.get().pk, said="in the next heat", promised_on="2026-04-01")
    assert "Asked after, promised 1 Apr: in the next heat" in words(page)
    assert "overdue" not in words(page)
    assert "Asked after on O-017, promised 1 Apr: in the next heat" in words(
        act(site, "line_chase", order.lines.get().pk, casting="1")
    )


def test_line_when_asked_after_without_a_new_day_then_the_old_one_stands(site, build, castings):
    order = make_order(castings[0], promised_on=TODAY - timedelta(5))
    page = act(site, "line_chase", order.lines.get().pk, said="no answer")
    assert "overdue 5 days, promised 9 Mar" in words(page)


def test_order_when_asked_after_as_a_whole_then_every_line_that_is_owed(site, build, castings):
    block, cover = castings
    order = make_order(block, cover, promised_on=TODAY - timedelta(5))
    make_delivery(order.lines.get(casting=block))
    token = str(uuid4())
    for _ in range(2):
        act(site, "order_chase", order.pk, promised_on="2026-04-01", token=token)
    assert [event.casting for event in StoresEvent.objects.filter(kind="chased")] == [cover]


def test_rest_when_not_coming_then_nothing_is_owed_and_it_waits_unordered(site, build, castings):
    block = castings[0]
    make_casting_part(block, castings_each=2)
    order = make_order((block, 2))
    make_delivery(order.lines.get(), 1)
    page = act(site, "line_cancel", order.lines.get().pk, why="pattern lost")
    assert "1 not coming: pattern lost" in words(page)
    assert "nothing owed" in words(page)
    assert not standing_of(build).held_of(block.pk).owed
    assert standing_of(build).short_of(block.pk) == 1


def test_rest_when_not_coming_and_more_is_asked_for_then_that_is_owed(site, build, castings):
    order = make_order((castings[0], 2))
    act(site, "line_cancel", order.lines.get().pk)
    act(site, "order_add", order.pk, number="K-022", quantity="3")
    assert [owed.quantity for owed in standing_of(build).held_of(castings[0].pk).owed] == [3]


@pytest.mark.parametrize("name", ["line_chase", "line_cancel", "order_chase"])
def test_act_when_nothing_is_owed_any_more_then_told_and_kept(site, build, castings, name):
    order = make_order(castings[0])
    make_delivery(order.lines.get())
    pk = order.pk if name == "order_chase" else order.lines.get().pk
    page = act(site, name, pk, said="in the next heat", why="pattern lost")
    assert page.status_code == 422
    assert "Nothing is owed" in alerts(page)
    assert not StoresEvent.objects.filter(kind__in=("chased", "cancelled")).exists()


@pytest.mark.parametrize(
    ("name", "typed", "why"),
    [
        ("line_chase", {"on": "2025-12-31"}, "Asked on: Order O-017 was written on 1 Jan 2026"),
        ("line_chase", {"on": "2026-03-15"}, "Asked on: 15 Mar 2026 is still to come."),
        ("line_chase", {"promised_on": "2126-01-01"}, "Promised now: 1 Jan 2126 is more than 10 years off."),
        ("line_chase", {"said": "x" * 301}, "What was said: Ensure this value has at most 300 characters"),
        ("line_cancel", {"on": "2025-12-31"}, "Told on: Order O-017 was written on 1 Jan 2026"),
        ("line_cancel", {"why": "lost\x07"}, "Why: There is an unseen sign in it (U+0007)"),
        ("order_chase", {"on": "never"}, "Asked on: “never” is no day."),
        ("order_add", {"number": "K-999"}, "Casting: K-999 is not in the register of castings."),
        ("order_add", {"number": ""}, "Casting: Which casting? Write its number, as K-040."),
        ("order_add", {"quantity": "0"}, "How many: 0 cannot be"),
        ("order_add", {"quantity": ""}, "How many: How many? Write a whole number from 1 to 999."),
        ("order_add", {"on": "2025-12-31"}, "Asked for on: Order O-017 was written on 1 Jan 2026"),
    ],
)
def test_act_when_the_entry_is_wrong_then_told_and_nothing_is_lost(site, build, castings, name, typed, why):
    order = make_order(castings[0], number="O-017", ordered_on=date(2026, 1, 1))
    pk = order.lines.get().pk if name.startswith("line") else order.pk
    page = act(site, name, pk, **({"number": "K-024", "quantity": "1"} | typed))
    assert page.status_code == 422
    assert why in alerts(page)
    assert all(
        f'value="{text}"' in page.content.decode() for text in typed.values() if text and text.isprintable()
    )
    assert StoresEvent.objects.count() == 1


def test_more_when_asked_for_twice_with_one_token_then_once(site, build, castings):
    order = make_order(castings[0])
    token = str(uuid4())
    for _ in range(2):
        page = act(site, "order_add", order.pk, number="k-024", quantity="2", price="18", token=token)
    assert "2 of K-024 added" in words(page)
    assert order.lines.count() == 2
    assert StoresEvent.objects.filter(casting=castings[1]).count() == 1


def test_order_when_changed_then_its_number_is_its_own(site, build, castings):
    make_order(castings[0], number="O-001")
    order = make_order(castings[0], number="O-002")
    page = fill_in(site, reverse("order_edit", args=[order.pk]), number="o-001")
    assert "O-001 is another order of this build" in alerts(page)
    fill_in(site, reverse("order_edit", args=[order.pk]), number="THF 7/88", note="Paid")
    order.refresh_from_db()
    assert (order.number, order.note) == ("THF 7/88", "Paid")


def test_page_of_an_order_when_it_is_long_then_asks_no_more(site, build):
    counts = []
    for many in (1, 12):
        order = make_order(*(make_casting(build) for _ in range(many)))
        for line in order.lines.all():
            make_delivery(line, good=0)
        site.get(order.get_absolute_url())
        with CaptureQueriesContext(connection) as queries:
            site.get(order.get_absolute_url())
        counts.append(len(queries))
    # session, user, order, six for how it stands, lines, what happened, what was changed
    assert counts == [12, 12]


# ---- the list, suppliers ---------------------------------------------------------------------------------


def test_orders_when_listed_then_how_each_stands_and_how_long_suppliers_took(site, build, castings):
    block, cover = castings
    make_casting_part(block)
    supplier = make_supplier(build, name="Thrupwell Foundry")
    for days, waited in ((300, 96), (200, 41)):
        done = make_order(cover, supplier=supplier, ordered_on=TODAY - timedelta(days))
        make_delivery(done.lines.get(), on=TODAY - timedelta(days - waited))
    make_order(
        block,
        supplier=supplier,
        number="O-900",
        ordered_on=TODAY - timedelta(50),
        promised_on=TODAY - timedelta(1),
    )
    page = site.get(reverse("order_list", args=[build.pk]))
    line = line_of(page, "O-900")
    assert line == "O-900 Thrupwell Foundry 23 Jan 2026 1 1 overdue 1 day, promised 13 Mar 1"
    assert "Thrupwell Foundry 3 orders, 1 to come 41 to 96 days" in words(page)
    supplier_page = words(site.get(reverse("supplier_edit", args=[supplier.pk])))
    assert "From order to first box: 41 to 96 days, over 2 castings that came." in supplier_page


def test_orders_when_none_then_it_says_what_to_do(site, build):
    assert "No orders yet" in words(site.get(reverse("order_list", args=[build.pk])))


def test_orders_when_more_then_the_list_asks_no_more(site, build):
    address = reverse("order_list", args=[build.pk])
    site.get(address)
    counts = []
    for _ in range(2):
        for _ in range(8):
            make_delivery(make_order(make_casting(build)).lines.get())
        with CaptureQueriesContext(connection) as queries:
            site.get(address)
        counts.append(len(queries))
    assert counts == [11, 11]  # session, user, build, six for how it stands, orders, suppliers


def test_supplier_when_renamed_to_another_then_told(site, build):
    make_supplier(build, name="Dunmarrow Bronze")
    supplier = make_supplier(build, name="Thrupwell Foundry")
    page = fill_in(
        site, reverse("supplier_edit", args=[supplier.pk]), name="dunmarrow bronze", note="Ring Tuesdays"
    )
    assert "dunmarrow bronze is a supplier of this build already." in alerts(page)
    assert entries(page)["note"] == "Ring Tuesdays"
    fill_in(site, reverse("supplier_edit", args=[supplier.pk]), name="Thrupwell Foundry Co")
    supplier.refresh_from_db()
    assert supplier.name == "Thrupwell Foundry Co"


def test_orders_when_a_stranger_or_nobody_asks_then_nothing_is_found(cast, castings):
    order = make_order(castings[0])
    for name in ("order_page", "order_edit", "order_received"):
        assert cast.client("stranger").get(reverse(name, args=[order.pk])).status_code == 404
        assert Client().get(reverse(name, args=[order.pk])).status_code == 302
    assert cast.client("stranger").post(new(cast.build), GOOD).status_code == 404
    assert Order.objects.count() == 1


# ---- money -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("13.50", "13.50"), ("13,50", "13.50"), ("£13", "13"), ("13 €", "13"), ("1,250", "1250"),
        ("1,250.00", "1250"), ("GBP 9.9", "9.9"), ("0", "0"), ("120 kr", "120"), ("9999999.99", "9999999.99"),
    ],
)  # fmt: skip
def test_price_when_typed_as_builders_do_then_read(typed, meant):
    assert read_money(typed) == Decimal(meant)


@pytest.mark.parametrize("typed", ["", "£", "1.2.3", "1,25,0", "１３", "1e3", "NaN", "12 34", "10000000"])
def test_price_when_it_is_none_then_refused(typed):
    with pytest.raises(ValueError, match=r"no price|past"):
        read_money(typed)


def test_amount_when_written_then_in_the_currency_of_the_build():
    assert money(Decimal("1250.5"), "GBP") == "£1,250.50"
    assert money(Decimal("13"), "SEK") == "13.00 SEK"
    assert money(None, "GBP") == "—"
