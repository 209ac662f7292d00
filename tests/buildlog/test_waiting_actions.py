"""The stores through their real actions: the standing is the definition's after each, and undo brings back.

`tests.oracles.waiting` works the definition out a second time, from the rows as they stand in the database.
"""

from datetime import timedelta
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from buildlog import clock
from buildlog.actions import stages, stores
from buildlog.models import Build, Casting, Happening, OrderLine, Part, Stage, StoresEvent
from buildlog.waiting.facts import Event, Facts, LineFact, NeedFact, PartFact
from buildlog.waiting.standing import Standing, standing_of
from tests import oracles
from tests.factories import (
    make_assembly,
    make_build,
    make_casting,
    make_casting_part,
    make_first,
    make_need,
    make_order,
    make_part,
)
from tests.properties.test_waiting import check_standing, possible

pytestmark = pytest.mark.django_db

KINDS = [*Happening, "made", "spoilt"]
MADE = ("machined", "fitted", "painted", "on the engine")


def engine() -> Build:
    """Two hands that claim one casting; a part of another, one that needs that one, and two in its wake."""
    build = make_build()
    assembly = make_assembly(build)
    bracket, block = make_casting(build, number="K-033"), make_casting(build, number="K-022")
    for hand in "LR":
        make_casting_part(bracket, number="H-021", hand=hand, assembly=assembly, quantity=1)
    own = make_casting_part(block, number="CY-001", assembly=assembly, quantity=2, castings_each=2)
    lagging = make_part(number="CY-035", assembly=assembly)
    make_need(lagging, block, quantity=3)
    cover = make_part(number="CY-004", assembly=assembly)
    make_first(cover, own)
    make_first(make_part(number="CY-011", assembly=assembly), cover)
    make_order((bracket, 2), (block, 3), number="O-016")
    return build


def rows_of(build: Build) -> Facts:
    """What waiting is worked out from, read row by row."""
    numbers = {casting.number: casting.pk for casting in build.castings.all()}
    return Facts(
        parts=tuple(_part_of(part, numbers) for part in build.parts.filter(binned_at=None)),
        needs=tuple(
            NeedFact(need.part_id, need.casting_id, need.quantity, need.since)
            for part in build.parts.all()
            for need in part.casting_needs.all()
        ),
        firsts=tuple((row.part_id, row.first_id) for part in build.parts.all() for row in part.firsts.all()),
        lines=tuple(
            LineFact(line.pk, line.casting_id, line.order_id, "", "", line.order.ordered_on)
            for order in build.orders.all()
            for line in order.lines.all()
        ),
        events=tuple(
            Event(
                row.pk, row.kind, row.casting_id, row.quantity, row.on, row.line_id, row.part_id,
                row.promised_on, row.text,
            )
            for row in sorted(StoresEvent.objects.filter(build=build), key=lambda row: (row.on, row.pk))
            if row.undone_at is None
        ),
    )  # fmt: skip


def _part_of(part: Part, numbers: dict[str, int]) -> PartFact:
    needed = sum(use.quantity for use in part.uses.all())
    own = numbers.get(part.casting_number)
    wanted = part.castings_each * (max(needed, 1) + part.scrap) if own else 0
    order = (part.number_key, part.hand)
    return PartFact(part.pk, part.key, order, part.stage in MADE, own, wanted, part.casting_since)


def told(standing: Standing) -> tuple[Any, ...]:
    """Everything worked out, without what it was worked out from."""
    return (
        dict(standing.counts),
        standing.held,
        standing.shares,
        sorted(standing.shorts, key=lambda short: (short.part, short.casting)),
        standing.waits,
        standing.holdings,
    )


def act(build: Build, kind: str, line: OrderLine | None, casting: Casting, part: Part, data: Any) -> None:
    """One thing done by the action that does it, as a page would."""
    quantity, on = data.draw(st.integers(1, 3)), clock.today() - timedelta(days=data.draw(st.integers(0, 9)))
    promised = data.draw(st.none() | st.just(clock.today() + timedelta(days=9)))
    allowed = _allowed(build, kind, line, casting, part, quantity)
    try:
        match kind:
            case "ordered" if line:
                asked = stores.Asked(casting, quantity, promised_on=promised)
                stores.add_to_order(line.order, asked, on=on, by=None)
            case "chased" if line:
                stores.chase(line, on=on, promised_on=promised, said="next melt", by=None)
            case "cancelled" if line:
                stores.cancel_rest(line, on=on, why="pattern lost", by=None)
            case "received":
                stores.receive(build, {(casting, line): quantity}, on=on, by=None)
            case "accepted":
                stores.judge(casting, line, accepted=quantity, rejected=0, reason="", on=on, by=None)
            case "rejected":
                stores.judge(casting, line, accepted=0, rejected=quantity, reason="blown", on=on, by=None)
            case "found bad":
                stores.find_bad(casting, line, quantity, reason="blown", on=on, by=None, part=part)
            case "allotted":
                stores.allot(casting, part, quantity, by=None)
            case "made":
                stages.set_stage(part, Stage.MACHINED, by=None, token=uuid4(), count_rest=True)
            case "spoilt":
                stages.record_count(part, good=0, scrap=1, by=None, call_machined=False, token=uuid4())
    except stores.StoresRefusedError:
        assert not allowed, f"{kind} was refused"
    else:
        assert allowed is not False, f"{kind} was let through"


def _allowed(build, kind, line, casting, part, quantity) -> bool | None:
    """Whether the rules let it through; None for what is no happening of the stores."""
    if kind not in list(Happening) or (line is None and kind in ("ordered", "chased", "cancelled")):
        return None
    facts = rows_of(build)
    wanted = (kind, casting.pk, None if kind == "allotted" else line and line.pk)
    found = [one for one in possible(facts, list(facts.events)) if one[:3] == wanted]
    if kind in ("chased", "cancelled", "ordered", "received"):
        return bool(found)
    most = [one[4] for one in found if one[3] == (part.pk if kind == "allotted" else None)]
    return bool(most) and quantity <= most[0]


@given(st.data())
@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
def test_standing_when_anything_is_done_then_it_is_the_definitions_and_undo_brings_back(data):
    build = engine()
    lines = [*OrderLine.objects.filter(order__build=build).select_related("casting", "order"), None]
    parts, castings = list(build.parts.all()), list(build.castings.all())
    for _ in range(data.draw(st.integers(1, 12))):
        before, known = told(standing_of(build)), set(StoresEvent.objects.values_list("pk", flat=True))
        kind, line = data.draw(st.sampled_from(KINDS)), data.draw(st.sampled_from(lines))
        casting = line.casting if line else data.draw(st.sampled_from(castings))
        act(build, kind, line, casting, data.draw(st.sampled_from(parts)), data)
        standing = standing_of(build)
        check_standing(standing, oracles.waiting(rows_of(build)))
        new = StoresEvent.objects.exclude(pk__in=known).order_by("-pk")
        if new and data.draw(st.booleans()):
            for event in new:
                stores.undo(event, by=None)
            assert told(standing_of(build)) == before
            assert StoresEvent.objects.filter(pk__in=[event.pk for event in new]).count() == len(new)


@given(st.data())
@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
def test_undo_when_any_happening_is_taken_back_then_it_is_let_through_only_where_nothing_rests_on_it(data):
    build = engine()
    lines = list(OrderLine.objects.filter(order__build=build).select_related("casting", "order"))
    parts = list(build.parts.all())
    for _ in range(data.draw(st.integers(2, 10))):
        line = data.draw(st.sampled_from(lines))
        kind = data.draw(
            st.sampled_from(["received", "accepted", "rejected", "found bad", "chased", "cancelled"])
        )
        act(build, kind, line, line.casting, data.draw(st.sampled_from(parts)), data)
    for event in data.draw(st.permutations(list(StoresEvent.objects.filter(build=build)))):
        before = told(standing_of(build))
        try:
            stores.undo(event, by=None)
        except stores.StoresRefusedError:
            assert told(standing_of(build)) == before
        check_standing(standing_of(build), oracles.waiting(rows_of(build)))
        for count in standing_of(build).counts.values():
            assert 0 <= count.accepted + count.rejected <= count.received
            assert 0 <= count.found_bad <= count.accepted


def test_undo_when_something_rests_on_it_then_refused_until_that_is_undone():
    line = OrderLine.objects.get(order__build=engine(), casting__number="K-033")
    today = clock.today()
    stores.receive(line.order.build, {(line.casting, line): 1}, on=today, by=None)
    stores.judge(line.casting, line, accepted=1, rejected=0, reason="", on=today, by=None)
    stores.find_bad(line.casting, line, 1, reason="blown", on=today, by=None)
    events = {event.kind: event for event in line.events.all()}
    for kind in ("accepted", "received", "ordered"):
        with pytest.raises(stores.StoresRefusedError, match="take that back first"):
            stores.undo(events[kind], by=None)
    for kind in ("found bad", "accepted", "received", "ordered"):
        stores.undo(events[kind], by=None)
    assert not line.events.standing().exists()
    assert standing_of(line.order.build).held_of(line.casting_id).to_come == 0
