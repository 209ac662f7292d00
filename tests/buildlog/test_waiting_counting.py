"""Castings counted line by line: owed, promised, claimed again. The rules are our own (no source)."""

from datetime import date, timedelta

import pytest

from buildlog.models import Happening
from buildlog.waiting.counting import Count, Owed, count_castings, count_lines
from buildlog.waiting.facts import Event, LineFact

DAY = date(2026, 3, 1)
PROMISED, LATER = date(2026, 4, 1), date(2026, 5, 1)


def line_of(pk):
    return LineFact(pk, 1, pk, f"O-{pk:03}", "Thrupwell Foundry", DAY)


def counted(*happened):
    """The count after (kind, quantity) or (kind, quantity, promised), a day apart."""
    count = Count()
    for place, (kind, quantity, *promised) in enumerate(happened):
        on = DAY + timedelta(days=place)
        promise = promised[0] if promised else None
        count.take(Event(place, kind, 1, quantity, on, 1, None, promise, f"reason {place}"))
    return count


ORDERED, CHASED, CANCELLED = Happening.ORDERED, Happening.CHASED, Happening.CANCELLED
RECEIVED, ACCEPTED, REJECTED = Happening.RECEIVED, Happening.ACCEPTED, Happening.REJECTED
FOUND_BAD = Happening.FOUND_BAD


@pytest.mark.parametrize(
    ("happened", "owed", "unseen", "good"),
    [
        ([(ORDERED, 3)], 3, 0, 0),
        ([(ORDERED, 3), (RECEIVED, 2)], 1, 2, 0),
        ([(ORDERED, 3), (RECEIVED, 2), (ACCEPTED, 1)], 1, 1, 1),
        ([(ORDERED, 3), (RECEIVED, 2), (ACCEPTED, 1), (REJECTED, 1)], 2, 0, 1),
        ([(ORDERED, 3), (RECEIVED, 3), (ACCEPTED, 3)], 0, 0, 3),
        ([(ORDERED, 3), (RECEIVED, 3), (ACCEPTED, 3), (FOUND_BAD, 1)], 1, 0, 2),
        ([(ORDERED, 3), (RECEIVED, 1), (CANCELLED, 2)], 0, 1, 0),
        ([(ORDERED, 3), (RECEIVED, 1), (CANCELLED, 2), (ORDERED, 1)], 1, 1, 0),
        ([(ORDERED, 1), (RECEIVED, 2), (ACCEPTED, 2)], 0, 0, 2),
        ([(RECEIVED, 2), (ACCEPTED, 1), (REJECTED, 1)], 0, 0, 1),
    ],
)
def test_line_when_things_happened_then_owed_unseen_and_good(happened, owed, unseen, good):
    count = counted(*happened)
    assert (count.owed, count.unseen, count.good) == (owed, unseen, good)


@pytest.mark.parametrize(
    ("happened", "promised"),
    [
        ([(ORDERED, 2, PROMISED)], PROMISED),
        ([(ORDERED, 2, PROMISED), (CHASED, 0)], PROMISED),
        ([(ORDERED, 2, PROMISED), (CHASED, 0, LATER)], LATER),
        ([(ORDERED, 2, PROMISED), (ORDERED, 1)], PROMISED),
        # One of two came and was no good: the other is still promised, and the one in its place is not.
        ([(ORDERED, 2, PROMISED), (RECEIVED, 1), (REJECTED, 1)], PROMISED),
        ([(ORDERED, 2, PROMISED), (RECEIVED, 1), (REJECTED, 1), (RECEIVED, 1)], None),
        # What was promised has come: nothing is promised in place of a bad one until somebody asks.
        ([(ORDERED, 1, PROMISED), (RECEIVED, 1), (REJECTED, 1)], None),
        ([(ORDERED, 1, PROMISED), (RECEIVED, 1), (REJECTED, 1), (CHASED, 0)], None),
        ([(ORDERED, 1, PROMISED), (RECEIVED, 1), (REJECTED, 1), (CHASED, 0, LATER)], LATER),
        ([(ORDERED, 1, PROMISED), (RECEIVED, 1), (ACCEPTED, 1), (FOUND_BAD, 1)], None),
        ([(ORDERED, 2, PROMISED), (CANCELLED, 2), (ORDERED, 1)], None),
        ([(RECEIVED, 1), (ORDERED, 1, PROMISED), (ACCEPTED, 1), (FOUND_BAD, 1)], None),
    ],
)
def test_line_when_days_were_given_then_the_one_that_still_stands(happened, promised):
    assert counted(*happened).promised_on == promised


def test_line_when_rejected_then_the_last_reason_and_day_are_kept():
    count = counted((ORDERED, 2), (RECEIVED, 2), (REJECTED, 1), (ACCEPTED, 1), (FOUND_BAD, 1))
    assert (count.last_rejected_on, count.reason) == (DAY + timedelta(days=4), "reason 4")
    assert (count.first_received_on, count.last_accepted_on) == (
        DAY + timedelta(days=1), DAY + timedelta(days=3),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("happened", "is_claim"),
    [
        ([(ORDERED, 2)], False),
        ([(ORDERED, 2), (RECEIVED, 2), (REJECTED, 1)], True),
        ([(ORDERED, 2), (RECEIVED, 1), (REJECTED, 1)], False),
        ([(ORDERED, 2), (RECEIVED, 2), (REJECTED, 1), (RECEIVED, 1), (ACCEPTED, 2)], False),
    ],
)
def test_line_when_all_that_is_owed_is_in_place_of_bad_ones_then_a_claim(happened, is_claim):
    assert counted(*happened).is_claim is is_claim


def test_owed_when_its_day_is_past_then_overdue_from_the_day_after():
    owed = Owed(line_of(1), 1, PROMISED, is_claim=False)
    days = [owed.overdue(PROMISED + timedelta(days=days)) for days in (-1, 0, 1, 143)]
    assert days == [0, 0, 1, 143]
    assert Owed(line_of(1), 1, None, is_claim=False).overdue(LATER) == 0


def test_casting_when_on_several_lines_then_added_up_and_the_first_promised_first():
    events = [
        Event(1, ORDERED, 1, 1, DAY, 1),
        Event(2, ORDERED, 1, 2, DAY, 2, None, LATER),
        Event(3, ORDERED, 1, 1, DAY, 3, None, PROMISED),
        Event(4, RECEIVED, 1, 2, DAY, None),
        Event(5, ACCEPTED, 1, 1, DAY, None),
        Event(6, ORDERED, 2, 5, DAY, 4),
    ]
    lines = [line_of(pk) for pk in (1, 2, 3, 4)]
    held = count_castings(count_lines(events), lines)
    assert [(owed.line.pk, owed.quantity) for owed in held[1].owed] == [(3, 1), (2, 2), (1, 1)]
    assert (held[1].good, held[1].unseen, held[1].to_come) == (1, 1, 4)
    assert held[2].to_come == 5
