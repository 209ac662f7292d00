"""What waits for castings, after any sequence of happenings: always what its definition gives from nothing.

The definition is our own (no source); `tests.oracles.waiting` works it out a second, slow way.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from buildlog.models import Happening
from buildlog.waiting.facts import Event, Facts, LineFact, NeedFact, PartFact
from buildlog.waiting.standing import work_out
from tests import oracles

TODAY = date(2026, 3, 14)
PARTS, LINES = range(1, 7), range(1, 4)
SOME_PARTS = st.sampled_from(PARTS)
DAYS = st.integers(-60, 0).map(lambda days: TODAY + timedelta(days=days))
PROMISES = st.none() | st.integers(-30, 60).map(lambda days: TODAY + timedelta(days=days))
MOST = 3  # at a time
CHAIN = {(part, part - 1) for part in PARTS if part > 1}


@st.composite
def engines(draw: Any) -> Facts:
    """Parts in some order, castings of their own, needs of others, and an order of making without circles."""
    # Of one casting many parts claim the same, of three there is more to wait for.
    castings = st.integers(1, draw(st.sampled_from([1, 3])))
    keys = draw(st.permutations([f"P-{place}" for place in PARTS]))
    parts = []
    for pk, key in zip(PARTS, keys, strict=True):
        own = draw(st.none() | castings | castings)
        wanted = draw(st.integers(1, 3)) if own else 0
        since = draw(st.none() | DAYS) if own else None
        is_made = draw(st.sampled_from([False, False, True]))
        parts.append(PartFact(pk, key, (key, ""), is_made, own, wanted, since))
    needs = draw(st.lists(st.builds(NeedFact, SOME_PARTS, castings, st.integers(1, 3), DAYS), max_size=4))
    pairs = draw(st.sets(st.tuples(SOME_PARTS, SOME_PARTS), max_size=9) | st.just(CHAIN))
    lines = [LineFact(pk, draw(castings), pk, f"O-{pk}", "Thrupwell Foundry", TODAY) for pk in LINES]
    return Facts(
        parts=tuple(parts),
        needs=tuple({(need.part, need.casting): need for need in needs}.values()),
        firsts=tuple((part, first) for part, first in pairs if part > first),
        lines=tuple(lines),
    )


@st.composite
def stories(draw: Any) -> Facts:
    """An engine, and happenings each of which the actions would let through as things then stood."""
    facts = draw(engines())
    events: list[Event] = []
    for serial in range(draw(st.integers(0, 30))):
        if events and draw(st.integers(0, 7)) == 0:
            events = without(events, draw(st.sampled_from(events)))
            continue
        open_now = possible(facts, events)
        kind = draw(st.sampled_from(sorted({one[0] for one in open_now})))
        one = draw(st.sampled_from([one for one in open_now if one[0] == kind]))
        new = [draw(happening(2 * serial, *one))]
        if kind == "received" and draw(st.booleans()):
            # Half of what comes is looked at at once and is good: without it little would be on hand.
            new.append(replace(new[0], pk=2 * serial + 1, kind="accepted"))
        events = sorted([*events, *new], key=lambda one: (one.on, one.pk))
    return replace(facts, events=tuple(events))


@st.composite
def happening(
    draw: Any, pk: int, kind: str, casting: int, line: int | None, part: int | None, most: int
) -> Event:
    """One of what could happen, some day: all that is owed where it is not coming, or up to so many."""
    quantity = most if kind == "cancelled" else min(most, draw(st.integers(1, MOST)))
    promised = draw(PROMISES) if kind in ("ordered", "chased") else None
    return Event(pk, kind, casting, quantity, draw(DAYS), line, part, promised, "blown")


def possible(facts: Facts, events: list[Event]) -> list[tuple[Any, ...]]:
    """What could happen next: kind, casting, line, part, how many at most."""
    found: list[tuple[Any, ...]] = []
    open_parts = [part.pk for part in facts.parts if not part.is_made]
    lines = [(line.casting, line) for line in facts.lines] + [
        (casting, None) for casting in castings_of(facts)
    ]
    for casting, line in lines:
        pk = line.pk if line else None
        total = totals(events, casting, pk)
        owed = oracles.owed_on(line, events) if line else 0
        unseen = total["received"] - total["accepted"] - total["rejected"]
        good = total["accepted"] - total["found bad"]
        found += [("ordered", casting, pk, None, MOST)] if line else []
        found += [("chased", casting, pk, None, 0), ("cancelled", casting, pk, None, owed)] if owed else []
        found += [("received", casting, pk, None, MOST)]
        found += [("accepted", casting, pk, None, unseen), ("rejected", casting, pk, None, unseen)]
        found += [("found bad", casting, pk, part, good) for part in (None, *open_parts)]
    found += [
        ("allotted", part.casting, None, part.pk, can_allot(facts, events, part)) for part in facts.parts
    ]
    return [one for one in found if one[4] or one[0] == "chased"]


def castings_of(facts: Facts) -> list[int]:
    """Every casting that a line, a part or a need names."""
    named = {line.casting for line in facts.lines} | {need.casting for need in facts.needs}
    return sorted(named | {part.casting for part in facts.parts if part.casting is not None})


def totals(events: Iterable[Event], casting: int, line: int | None) -> Counter[str]:
    """How many of each kind happened to a casting on a line."""
    found: Counter[str] = Counter()
    for event in events:
        if (event.casting, event.line) == (casting, line):
            found[str(event.kind)] += event.quantity
    return found


def can_allot(facts: Facts, events: list[Event], part: PartFact) -> int:
    """How many a part may still be given by hand: it claims them, and nobody else was given them."""
    if part.casting is None or part.is_made:
        return 0
    claims = [one for one in facts.parts if one.casting == part.casting]
    given = oracles.allotted_one_by_one(events, part.casting)
    standing = {one.pk: min(given.count(one.pk), one.wanted) for one in claims if not one.is_made}
    used = sum(one.wanted for one in claims if one.is_made)
    good = sum(
        event.quantity * {"accepted": 1, "found bad": -1}.get(event.kind, 0)
        for event in events
        if event.casting == part.casting
    )
    return max(min(part.wanted - standing[part.pk], good - used - sum(standing.values())), 0)


def without(events: list[Event], undone: Event) -> list[Event]:
    """What is left with one happening undone; all of it where something rests on that one."""
    rest = [one for one in events if one.pk != undone.pk]
    total = totals(rest, undone.casting, undone.line)
    if total["accepted"] + total["rejected"] > total["received"] or total["found bad"] > total["accepted"]:
        return events
    same = [one for one in rest if (one.casting, one.line) == (undone.casting, undone.line)]
    if undone.kind == "ordered" and not total["ordered"] and same:
        return events
    return rest


def check_standing(standing, told: oracles.Waiting) -> None:
    """All that is worked out, against the same worked out from nothing."""
    for casting, good in told.good.items():
        assert standing.held_of(casting).good == good
    counted = {line: count.owed for (_, line), count in standing.counts.items() if line is not None}
    assert {line: counted.get(line, 0) for line in told.owed} == told.owed
    owed = {one.line.pk: one for held in standing.held.values() for one in held.owed}
    assert {line: one.quantity for line, one in owed.items()} == {
        line: quantity for line, quantity in told.owed.items() if quantity
    }
    assert {line: one.promised_on for line, one in owed.items()} == told.promised
    shorts = {(short.part, short.casting): (short.quantity, short.since) for short in standing.shorts}
    assert shorts == told.short
    assert {casting: share.free for casting, share in standing.shares.items()} == {
        casting: told.free[casting] for casting in standing.shares
    }
    unmade = {pk for pk, part in standing.parts.items() if not part.is_made}
    for pk in standing.parts:
        firsts = {first for part, first in standing.facts.firsts if {part, first} <= unmade and part == pk}
        assert set(standing.wait_of(pk).firsts) == firsts
    assert {pk: standing.wait_of(pk).castings for pk in standing.parts} == told.waits
    assert {casting: set(holding.parts) for casting, holding in standing.holdings.items()} == told.holds
    assert {casting: set(holding.alone) for casting, holding in standing.holdings.items()} == told.alone


@given(stories())
@settings(max_examples=300)
def test_waiting_when_anything_has_happened_then_it_is_what_the_definition_gives_from_nothing(facts):
    check_standing(work_out(facts, TODAY), oracles.waiting(facts))


@given(stories())
def test_waiting_when_anything_has_happened_then_never_for_what_is_accepted_and_free(facts):
    standing = work_out(facts, TODAY)
    made = {part.pk for part in facts.parts if part.is_made}
    for short in standing.shorts:
        assert short.part not in made
        good = standing.held_of(short.casting).good
        if short.is_own:
            assert standing.shares[short.casting].free == 0
        else:
            need = next(n for n in facts.needs if (n.part, n.casting) == (short.part, short.casting))
            assert good < need.quantity
    for share in standing.shares.values():
        assert 0 <= share.used + sum(claim.got for claim in share.claims) <= max(share.good, 0)
        assert all(0 <= claim.got <= claim.wanted for claim in share.claims)
    assert not made & standing.held_up


@given(stories())
def test_waiting_when_everything_wanted_comes_and_is_good_then_nothing_waits_for_a_casting(facts):
    serial, events = 1000, list(facts.events)
    for casting in castings_of(facts):
        for kind in (Happening.RECEIVED, Happening.ACCEPTED):
            events.append(Event(serial, kind, casting, 99, TODAY))
            serial += 1
    after = work_out(replace(facts, events=tuple(events)), TODAY)
    assert after.holdings == {}
    assert after.held_up == set()
