"""The schedule against a pin moved hole by hole, and its refusals."""

from fractions import Fraction

import pytest

from calc.kernel.errors import OutOfRange
from calc.kernel.indexing_schedule import indexing_schedule
from tests.oracles import pin_walk, plain_settings


@pytest.mark.parametrize(
    ("divisions", "ratio", "circle"),
    [(84, 40, 42), (84, 40, 21), (13, 40, 39), (6, 40, 18), (40, 40, 15), (69, 60, 23)],
)
def test_schedule_when_the_pin_is_moved_hole_by_hole_then_every_row_agrees(divisions, ratio, circle):
    turns, holes = plain_settings(divisions, ratio, [[circle]])[circle]
    rows = indexing_schedule(
        divisions=divisions, ratio=ratio, circle=circle, turns=turns, holes=holes
    ).results["rows"]
    walk = list(pin_walk(circle, turns, holes, divisions))
    assert len(rows) == divisions
    for place, row in enumerate(rows):
        whole, hole = walk[place]
        assert (row["division"], row["hole"]) == (place + 1, hole)
        assert row["total_turns"] == float(whole + Fraction(hole, circle))
        assert row["angle_deg"] == float(Fraction(360 * place, divisions))
    assert walk[-1] == (ratio, 0)


def test_schedule_when_it_starts_then_it_stands_at_nought():
    first = indexing_schedule(divisions=84, circle=42, holes=20).results["rows"][0]
    assert first == {
        "division": 1, "total_turns": 0, "total_turns_text": "0", "hole": 0, "angle_deg": 0.0, "home": True,
    }  # fmt: skip


def test_schedule_when_50_of_84_are_indexed_then_the_pin_stands_34_holes_on():
    row = indexing_schedule(divisions=84, circle=42, holes=20).results["rows"][50]
    assert (row["total_turns_text"], row["hole"], round(row["angle_deg"], 2)) == ("23 34/42", 34, 214.29)


@pytest.mark.parametrize(
    ("entries", "offer"),
    [
        ({"divisions": 84, "circle": 42, "holes": 19}, "20 in 42 would do"),
        ({"divisions": 57, "circle": 33, "holes": 22}, "A circle that divides by 57 would do"),
        ({"divisions": 10, "circle": 20, "holes": 0}, "4 turns would do"),
        ({"divisions": 4, "circle": 20, "turns": 20, "holes": 0}, "10 turns would do"),
    ],
)
def test_schedule_when_it_does_not_come_round_then_it_is_refused_and_says_what_would(entries, offer):
    """57 with 22 in 33 is back at hole 0 after 38 turns, but the work has not gone round."""
    with pytest.raises(OutOfRange) as refused:
        indexing_schedule(**entries)
    assert refused.value.field == "holes"
    assert offer in refused.value.reason


def test_schedule_when_it_passes_several_at_a_time_then_every_division_is_met_once():
    outcome = indexing_schedule(divisions=7, circle=21, turns=17, holes=3)
    angles = sorted(row["angle_deg"] for row in outcome.results["rows"])
    assert angles == [float(Fraction(360 * n, 7)) for n in range(7)]
    assert outcome.warnings[0].code == "several-at-a-time"


@pytest.mark.parametrize(
    ("field", "entries"),
    [
        ("divisions", {"divisions": 1}), ("divisions", {"divisions": 1001}), ("circle", {"circle": 1}),
        ("circle", {"circle": 1001}), ("holes", {"holes": -1}), ("holes", {"holes": 42}),
        ("turns", {"turns": -1}),
        ("turns", {"turns": 361}), ("ratio", {"ratio": 0}), ("ratio", {"ratio": 361}),
    ],
)  # fmt: skip
def test_schedule_when_an_entry_is_outside_its_limit_then_it_is_refused_by_name(field, entries):
    with pytest.raises(OutOfRange) as refused:
        indexing_schedule(**({"divisions": 84, "circle": 42, "holes": 20} | entries))
    assert refused.value.field == field
