"""What a missing casting holds up, through parts that are made after others. The rules are our own."""

from datetime import date

import pytest

from buildlog.waiting.facts import Facts, PartFact
from buildlog.waiting.following import follow
from buildlog.waiting.sharing import Short

BLOCK, COVER = 22, 24


def engine(*firsts, made=()):
    """Parts 1 to 5, of which those of `made` are; each pair is a part and the one made before it."""
    parts = tuple(PartFact(pk, f"CY-{pk}", (f"CY-{pk}", ""), pk in made) for pk in range(1, 6))
    return Facts(parts=parts, firsts=firsts)


def short(part, casting):
    return Short(part, casting, 1, date(2026, 3, 1), is_own=True)


def held(facts, *shorts):
    """casting: parts it holds up, and those that wait for it alone."""
    _, holdings = follow(facts, shorts)
    return {casting: (set(one.parts), set(one.alone)) for casting, one in holdings.items()}


def test_casting_when_nothing_comes_after_its_part_then_it_holds_up_that_one():
    assert held(engine(), short(1, BLOCK)) == {BLOCK: ({1}, {1})}


def test_casting_when_parts_come_after_others_then_it_holds_up_all_of_them():
    chain = engine((2, 1), (3, 2), (4, 3))
    assert held(chain, short(1, BLOCK)) == {BLOCK: ({1, 2, 3, 4}, {1, 2, 3, 4})}


def test_casting_when_another_is_wanted_as_well_then_it_alone_holds_up_fewer():
    both = engine((2, 1), (3, 1), (4, 3))
    assert held(both, short(1, BLOCK), short(3, COVER)) == {
        BLOCK: ({1, 2, 3, 4}, {1, 2}),
        COVER: ({3, 4}, set()),
    }


@pytest.mark.parametrize(("made", "reached"), [((2,), {1}), ((3,), {1, 2})])
def test_casting_when_a_part_on_the_way_is_made_then_what_comes_after_it_is_free(made, reached):
    assert held(engine((2, 1), (3, 2), made=made), short(1, BLOCK)) == {BLOCK: (reached, reached)}


def test_part_when_one_before_it_is_made_then_it_waits_for_that_no_more():
    waits, _ = follow(engine((2, 1), (2, 3), made=(3,)), [short(1, BLOCK)])
    assert waits[2].firsts == [1]
    assert waits[2].shorts == []
    assert waits[1].shorts == [short(1, BLOCK)]


def test_part_when_one_before_it_is_in_the_bin_then_it_does_not_wait_for_that():
    waits, holdings = follow(engine((2, 99), (99, 1)), [short(1, BLOCK)])
    assert 2 not in waits
    assert holdings[BLOCK].parts == {1}


def test_parts_when_they_wait_in_a_circle_then_each_once():
    assert held(engine((2, 1), (1, 2)), short(1, BLOCK)) == {BLOCK: ({1, 2}, {1, 2})}
