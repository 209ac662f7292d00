"""Drills before a reamer. Trap 20: allowances a side and on the diameter, holes drilled oversize."""

from fractions import Fraction
from itertools import pairwise

import pytest

from calc.kernel.bore_sequence import bore_sequence
from calc.kernel.drills import stock
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def order(outcome):
    return [row["drill"] for row in outcome.results["drills"]]


def slow_last(bore, low):
    """The largest drill that leaves enough, by trying every one."""
    best = None
    for drill in stock():
        if bore - (drill.mm + Fraction(5, 100)) >= low and (best is None or drill.mm > best.mm):
            best = drill
    return best


@pytest.mark.parametrize(
    ("bore", "reamer", "low", "high"),
    [
        # The reamer-maker's tables, read; hand reamers from memory.
        ("0.125", "machine", "0.005", "0.010"), ("0.170", "machine", "0.005", "0.010"),
        ("0.171", "machine", "0.008", "0.012"), ("0.280", "machine", "0.008", "0.012"),
        ("0.281", "machine", "0.010", "0.016"), ("0.880", "machine", "0.010", "0.016"),
        ("0.881", "machine", "0.015", "0.030"), ("2.5", "machine", "0.015", "0.030"),
        ("0.25", "hand", "0.002", "0.005"), ("0.5", "hand", "0.003", "0.006"),
        ("1", "hand", "0.004", "0.008"),
    ],
)  # fmt: skip
def test_allowance_when_a_bore_is_in_a_range_then_that_of_the_table_and_the_rule_holds(
    bore, reamer, low, high
):
    size = Fraction(bore) * INCH
    outcome = bore_sequence(finished_bore=size, reamer=reamer)
    results = outcome.results
    assert results["allowance_low_mm"] == pytest.approx(float(Fraction(low) * INCH))
    assert results["allowance_high_mm"] == pytest.approx(float(Fraction(high) * INCH))
    assert results["last_drill"] == slow_last(size, Fraction(low) * INCH).name
    assert results["stock_left_mm"] >= results["allowance_low_mm"] - 1e-12
    assert ("too-much-left" in codes(outcome)) == (results["stock_left_mm"] > results["allowance_high_mm"])


def test_allowance_when_a_bore_is_on_an_edge_then_it_belongs_below():
    for edge, low, above in (
        ("0.17", "0.005", "0.008"),
        ("0.28", "0.008", "0.010"),
        ("0.88", "0.010", "0.015"),
    ):
        size = Fraction(edge) * INCH
        for bore, wanted in ((size, low), (size + HAIR, above)):
            found = bore_sequence(finished_bore=bore).results["allowance_low_mm"]
            assert found == pytest.approx(float(Fraction(wanted) * INCH))


def test_trap_20_when_stock_is_told_then_on_the_diameter_with_each_side_beside_it():
    """1/2 in: 31/64 and 0.05 mm leave 12.7 - 12.353125 mm on the diameter, half of it a side."""
    results = bore_sequence(finished_bore=Fraction("12.7")).results
    assert results["last_drill"] == "31/64"
    assert results["hole_mm"] == 12.353125
    assert results["stock_left_mm"] == 0.346875
    assert results["stock_left_a_side_mm"] == 0.1734375


def test_trap_20_when_the_hole_is_oversize_then_it_is_counted():
    """12.4 mm would leave 0.3 mm of 12.7 were holes to size; 0.05 over, 0.25 is under the 0.254 wanted."""
    outcome = bore_sequence(finished_bore=Fraction("12.7"), drills_owned=["12 mm", "12.4 mm"])
    assert outcome.results["last_drill"] == "12 mm"
    # A drill whose hole leaves the low allowance exactly will do.
    edge = bore_sequence(finished_bore=Fraction("12.7"), drills_owned=["12.396 mm"]).results
    assert edge["stock_left_mm"] == 0.254
    with pytest.raises(NoSolution):
        bore_sequence(finished_bore=Fraction("12.7"), drills_owned=["12.3961 mm"])


def test_too_much_when_left_then_warned_and_beyond_a_32nd_never():
    outcome = bore_sequence(finished_bore=Fraction("12.7"), drills_owned=["12 mm"])
    assert codes(outcome) == ["too-much-left"]
    assert "1/32" not in outcome.warnings[0].text
    far = bore_sequence(finished_bore=Fraction("12.7"), drills_owned=["11.5 mm"])
    assert "more than 1/32 in" in far.warnings[0].text


def test_none_owned_when_small_enough_then_no_solution_says_what_would_do():
    with pytest.raises(NoSolution) as none:
        bore_sequence(finished_bore=Fraction("12.7"), drills_owned=["1/2", "13 mm"])
    assert "12.396 mm" in none.value.message
    assert none.value.would_do[0] == "Drill 31/64, 0.4844 in (12.303 mm)."


def test_order_when_drills_are_large_then_each_pilot_is_half_the_next_at_most():
    outcome = bore_sequence(finished_bore=Fraction("28.575"))
    assert order(outcome) == ["7 mm", "14 mm", "28 mm"]
    sizes = [row["drill_mm"] for row in outcome.results["drills"]]
    assert all(one <= following / 2 for one, following in pairwise(sizes))
    assert order(bore_sequence(finished_bore=Fraction("6.35"))) == ["B"]
    # Advice only: with no pilot owned the last drill stands alone.
    assert order(bore_sequence(finished_bore=Fraction("28.575"), drills_owned=["28 mm"])) == ["28 mm"]


def test_no_reamer_when_bored_then_no_allowance_and_a_drill_of_the_bores_size_is_too_large():
    outcome = bore_sequence(finished_bore=Fraction(10), reamer="none", drills_owned=["9.5 mm", "10 mm"])
    results = outcome.results
    assert (results["last_drill"], results["stock_left_mm"]) == ("9.5 mm", 0.45)
    assert results["allowance_low_mm"] is None
    assert results["allowance_high_mm"] is None
    assert codes(outcome) == ["no-reamer"]


@pytest.mark.parametrize("edge", ["1", "63.5"])
def test_bore_when_at_its_limit_then_worked_and_outside_refused(edge):
    bore = Fraction(edge)
    assert bore_sequence(finished_bore=bore, reamer="none").results["last_drill"]
    with pytest.raises(OutOfRange) as refused:
        bore_sequence(finished_bore=bore + (HAIR if bore > 1 else -HAIR), reamer="none")
    assert refused.value.field == "finished_bore"


@pytest.mark.parametrize(("bore", "reamer"), [("2.286", "machine"), ("3.175", "hand"), ("25.41", "hand")])
def test_bore_when_outside_the_table_of_the_reamer_then_refused_by_name(bore, reamer):
    with pytest.raises(OutOfRange) as refused:
        bore_sequence(finished_bore=Fraction(bore), reamer=reamer)
    assert refused.value.field == "finished_bore"
    assert f"with a {reamer} reamer" in str(refused.value)


@pytest.mark.parametrize(
    ("entered", "field"),
    [({"reamer": "floating"}, "reamer"), ({"drills_owned": []}, "drills_owned"),
     ({"drills_owned": ["5 mm"] * 601}, "drills_owned")],
)  # fmt: skip
def test_entries_when_they_cannot_be_used_then_refused_by_name(entered, field):
    with pytest.raises(OutOfRange) as refused:
        bore_sequence(finished_bore=Fraction(10), **entered)
    assert refused.value.field == field


def test_drill_owned_when_there_is_none_such_then_refused_by_name():
    with pytest.raises(NotInTable) as refused:
        bore_sequence(finished_bore=Fraction(10), drills_owned=["#99"])
    assert refused.value.field == "drills_owned"


def test_hand_reamer_when_used_then_told_that_the_figures_are_from_memory():
    assert "from-memory" in codes(bore_sequence(finished_bore=Fraction(10), reamer="hand"))
