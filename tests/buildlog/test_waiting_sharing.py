"""What is on hand of a casting, shared out among the parts that want it: rules of our own (no source)."""

from datetime import date, timedelta

import pytest

from buildlog.models import Happening
from buildlog.waiting.counting import count_castings, count_lines
from buildlog.waiting.facts import Event, Facts, NeedFact, PartFact
from buildlog.waiting.sharing import share_out, shortages

DAY = date(2026, 3, 1)
A, B, C = 1, 2, 3
BRACKET = 33


def part(pk, *, wanted=1, is_made=False, casting=BRACKET, since=DAY):
    return PartFact(pk, f"H-{pk}", (f"H-{pk}", ""), is_made, casting, wanted, since)


def on_hand(quantity, *more):
    """So many came and are good; then what else happened, in its order."""
    events = [(Happening.RECEIVED, quantity, None), (Happening.ACCEPTED, quantity, None), *more]
    return tuple(
        Event(place, kind, BRACKET, many, DAY + timedelta(days=place), None, whose)
        for place, (kind, many, whose) in enumerate(events)
    )


def shared(parts, events, needs=()):
    """The share of the bracket, and who is short of how many."""
    facts = Facts(parts=tuple(parts), needs=tuple(needs), events=events)
    held = count_castings(count_lines(events), ())
    shares = share_out(facts, held)
    shorts = shortages(facts, held, shares)
    return shares.get(BRACKET), {short.part: short.quantity for short in shorts}


def allotted(part, quantity=1):
    return (Happening.ALLOTTED, quantity, part)


def bad(part=None, quantity=1):
    return (Happening.FOUND_BAD, quantity, part)


@pytest.mark.parametrize(
    ("parts", "events", "short", "free"),
    [
        ([part(A)], on_hand(0), {A: 1}, 0),
        ([part(A)], on_hand(1), {}, 0),
        ([part(A)], on_hand(3), {}, 2),
        ([part(A), part(B)], on_hand(1), {B: 1}, 0),
        # In the order of the parts, whichever record is the elder.
        ([part(B), part(A)], on_hand(1), {B: 1}, 0),
        ([part(A, wanted=2), part(B)], on_hand(2), {B: 1}, 0),
        # A part that is made has had its own, wherever it stands in the list.
        ([part(A), part(B, is_made=True)], on_hand(1), {A: 1}, 0),
        ([part(A), part(B, is_made=True)], on_hand(0), {A: 1}, 0),
        # An allotment goes before the order of the parts.
        ([part(A), part(B)], on_hand(1, allotted(B)), {A: 1}, 0),
        ([part(A), part(B)], on_hand(1, allotted(B), bad(B)), {A: 1, B: 1}, 0),
        # Of three allotted two are left: those allotted first have them.
        ([part(A, wanted=2), part(B)], on_hand(3, allotted(A), allotted(B), allotted(A), bad()), {A: 1}, 0),
        ([part(A, wanted=2), part(B)], on_hand(3, allotted(B), allotted(A, 2), bad()), {A: 1}, 0),
        # What was found bad on a part comes off what it was given last, so its first still goes before B's.
        (
            [part(A, wanted=2), part(B)],
            on_hand(3, allotted(A), allotted(B), allotted(A), bad(A), bad()),
            {A: 1, B: 1},
            0,
        ),
        # One found bad before anything was allotted to that part takes nothing away from a later allotment.
        ([part(A), part(B)], on_hand(2, bad(B), allotted(B)), {A: 1}, 0),
        # An allotment to a part that is made, is in the bin or wants it no more counts for nothing.
        ([part(A), part(B, is_made=True)], on_hand(1, allotted(B)), {A: 1}, 0),
        ([part(A)], on_hand(1, allotted(C)), {}, 0),
    ],
)
def test_castings_when_shared_out_then_who_is_short_and_what_is_free(parts, events, short, free):
    share, found = shared(parts, events)
    assert found == short
    assert share.free == free


def test_castings_when_two_are_left_of_three_allotted_in_turn_then_the_first_of_each_have_them():
    parts = [part(A, wanted=2), part(B)]
    share, _ = shared(parts, on_hand(3, allotted(A), allotted(B), allotted(A), bad(A), bad()))
    assert [(claim.part, claim.allotted, claim.got) for claim in share.claims] == [(A, 1, 1), (B, 1, 0)]


@pytest.mark.parametrize(
    ("parts", "events", "is_contested"),
    [
        ([part(A), part(B)], on_hand(1), True),
        ([part(A), part(B)], on_hand(2), False),
        ([part(A), part(B)], on_hand(0), False),
        ([part(A, wanted=2)], on_hand(1), False),
        ([part(A), part(B)], on_hand(1, allotted(A)), False),
        ([part(A), part(B), part(C)], on_hand(2, allotted(A)), True),
        ([part(A), part(B, is_made=True)], on_hand(1), False),
    ],
)
def test_castings_when_more_claim_them_than_they_serve_then_contested(parts, events, is_contested):
    assert shared(parts, events)[0].is_contested is is_contested


@pytest.mark.parametrize(
    ("needs", "events", "short"),
    [
        ([NeedFact(C, BRACKET, 1, DAY)], on_hand(0), {A: 1, C: 1}),
        # It has only to be here: the one that A is made of serves C as well.
        ([NeedFact(C, BRACKET, 1, DAY)], on_hand(1), {}),
        ([NeedFact(C, BRACKET, 3, DAY)], on_hand(1), {C: 2}),
        # A part does not need its own casting a second time, and one in the bin needs nothing.
        ([NeedFact(A, BRACKET, 3, DAY)], on_hand(1), {}),
        ([NeedFact(99, BRACKET, 3, DAY)], on_hand(1), {}),
    ],
)
def test_need_when_a_casting_is_another_parts_then_it_has_only_to_be_here(needs, events, short):
    assert shared([part(A), part(C, casting=None)], events, needs)[1] == short


def test_need_when_the_part_is_made_then_nothing_is_missing():
    made = part(C, casting=None, is_made=True)
    assert shared([made], on_hand(0), [NeedFact(C, BRACKET, 1, DAY)])[1] == {}


@pytest.mark.parametrize(("need", "since"), [(DAY, 3), (DAY + timedelta(days=40), 40), (None, 3)])
def test_short_when_one_was_rejected_then_since_that_day_or_the_later_need(need, since):
    events = tuple(
        Event(place, kind, BRACKET, 1, DAY + timedelta(days=place + 2))
        for place, kind in enumerate((Happening.RECEIVED, Happening.REJECTED))
    )
    facts = Facts(parts=(part(A, since=need),), events=events)
    held = count_castings(count_lines(events), ())
    (short,) = shortages(facts, held, share_out(facts, held))
    assert short.since == DAY + timedelta(days=since)
