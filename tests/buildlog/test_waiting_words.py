"""How a casting stands that is waited for, in its few words."""

from datetime import date, timedelta

import pytest

from buildlog.models import Casting, Happening
from buildlog.waiting.facts import Event, Facts, LineFact, PartFact
from buildlog.waiting.standing import work_out
from buildlog.waiting.words import stands

TODAY = date(2025, 11, 20)
DAY = TODAY - timedelta(days=100)
BLOCK = 22


def told(*happened, parts=1, wanted=1, lines=1):
    """How the block stands, which so many parts want so many of each."""
    facts = Facts(
        parts=tuple(
            PartFact(pk, f"CY-{pk}", (f"CY-{pk}", ""), False, BLOCK, wanted, DAY)
            for pk in range(1, parts + 1)
        ),
        lines=tuple(
            LineFact(pk, BLOCK, pk, f"O-{16 + pk:03}", "Thrupwell Foundry", DAY) for pk in range(1, lines + 1)
        ),
        events=tuple(
            Event(place, kind, BLOCK, quantity, DAY + timedelta(days=place), line, None, promised, "blown")
            for place, (kind, quantity, line, promised) in enumerate(happened)
        ),
        castings={BLOCK: Casting(pk=BLOCK, number="K-022", name="Cylinder block")},
    )
    said = stands(work_out(facts, TODAY), BLOCK)
    return said.mark, said.words, said.order, said.overdue


def ordered(quantity=1, *, line=1, promised=None):
    return (Happening.ORDERED, quantity, line, promised)


def received(quantity=1, *, line=1):
    return (Happening.RECEIVED, quantity, line, None)


def accepted(quantity=1, *, line=1):
    return (Happening.ACCEPTED, quantity, line, None)


def rejected(quantity=1, *, line=1):
    return (Happening.REJECTED, quantity, line, None)


@pytest.mark.parametrize(
    ("promised", "said"),
    [
        (date(2025, 6, 30), ("late", "overdue 143 days, promised 30 Jun", "O-017", 143)),
        (TODAY - timedelta(days=1), ("late", "overdue 1 day, promised 19 Nov", "O-017", 1)),
        (TODAY, ("wait", "promised today", "O-017", 0)),
        (TODAY + timedelta(days=1), ("wait", "promised tomorrow", "O-017", 0)),
        (date(2025, 12, 19), ("wait", "promised 19 Dec", "O-017", 0)),
        (date(2026, 1, 9), ("wait", "promised 9 Jan 2026", "O-017", 0)),
        (None, ("wait", "no date given", "O-017", 0)),
    ],
)
def test_casting_when_ordered_then_when_it_is_promised_and_how_late_it_is(promised, said):
    assert told(ordered(promised=promised)) == said


def test_casting_when_nobody_was_asked_for_it_then_not_ordered():
    assert told() == ("no", "not ordered", "not ordered", 0)


def test_casting_when_fewer_are_owed_than_wanted_then_the_rest_is_said_to_be_not_ordered():
    assert told(ordered(2), parts=3)[1] == "no date given; 1 more not ordered"
    late = date(2025, 11, 18)
    assert told(ordered(promised=late), wanted=3)[1] == "overdue 2 days, promised 18 Nov; 2 more not ordered"
    assert told(ordered(3), parts=3)[1] == "no date given"


def test_casting_when_here_and_nobody_has_looked_then_it_says_so():
    assert told(ordered(), received())[1:3] == ("1 here, to be looked at", "—")


def test_casting_when_a_bad_one_is_owed_again_then_a_claim_without_a_day():
    came = (ordered(2), received(2), accepted(), rejected())
    assert told(*came, parts=2) == ("wait", "no date given", "claim, O-017", 0)


def test_casting_when_bad_and_nothing_is_coming_then_it_says_so():
    came = (received(line=None), rejected(line=None))
    assert told(*came) == ("no", "rejected; none ordered in its place", "not ordered", 0)


def test_casting_when_one_is_on_hand_and_two_claim_it_then_it_says_so():
    came = (received(line=None), accepted(line=None))
    assert told(*came, parts=2) == ("wait", "1 on hand, more claim it; none ordered", "not ordered", 0)


def test_casting_when_on_two_orders_then_both_are_named_the_first_promised_first():
    soon = ordered(line=2, promised=TODAY + timedelta(days=1))
    assert told(ordered(), soon, parts=2, lines=2) == ("wait", "promised tomorrow", "O-018, O-017", 0)


@pytest.mark.parametrize(
    ("happened", "said"),
    [
        ((ordered(2), received()), ("wait", "1 here, to be looked at; no date given", "O-017", 0)),
        (
            (ordered(2, promised=TODAY + timedelta(days=1)), received()),
            ("wait", "1 here, to be looked at; promised tomorrow", "O-017", 0),
        ),
        (
            (ordered(2, promised=date(2025, 11, 10)), received()),
            ("late", "1 here, to be looked at; overdue 10 days, promised 10 Nov", "O-017", 10),
        ),
        ((ordered(), received()), ("wait", "1 here, to be looked at; 1 more not ordered", "—", 0)),
        ((ordered(2), received(2)), ("wait", "2 here, to be looked at", "—", 0)),
    ],
)
def test_words_when_some_are_here_to_be_looked_at_then_the_rest_is_told_too(happened, said):
    assert told(*happened, wanted=2) == said
