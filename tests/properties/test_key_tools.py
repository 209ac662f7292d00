"""What must hold of every keyway that is broached and of every key under load, whatever is entered."""

import json
from fractions import Fraction
from itertools import combinations
from math import ceil

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.broaching import broaching
from calc.kernel.broaching_entries import broaching_of
from calc.kernel.broaching_shims import missing_shims
from calc.kernel.errors import NoSolution, OutOfRange
from calc.kernel.key_strength import key_strength
from calc.registry import get
from tests.oracles_broaching import fewest_passes

depths = st.integers(20, 300).map(lambda count: Fraction(count, 100))
rises = st.integers(8, 300).map(lambda count: Fraction(count, 100))
shim_lists = st.lists(st.integers(1, 300).map(lambda count: Fraction(count, 100)), max_size=6)


def broached(depth, rise, shims, room=Fraction(15, 100)):
    return broaching(
        bore=Fraction(30), key_width=Fraction(8), hub_crown_depth=depth, rise_per_pass=rise, shims=shims,
        hub_crown_depth_max=depth + room,
    )  # fmt: skip


@given(depths, rises, shim_lists)
def test_passes_when_worked_out_then_as_by_trying_every_stack(depth, rise, shims):
    second = fewest_passes(depth, depth + Fraction(15, 100), rise, shims)
    if second is None:
        with pytest.raises(NoSolution, match="missing") as none:
            broached(depth, rise, shims)
        assert none.value.would_do
        return
    passes = broached(depth, rise, shims).results["passes"]
    assert (len(passes), pytest.approx(passes[-1]["shim_mm"])) == (second[0], float(second[1]))


@given(depths, rises, shim_lists)
def test_stacks_when_worked_out_then_owned_rising_and_never_by_more_than_the_rise(depth, rise, shims):
    try:
        outcome = broached(depth, rise, shims)
    except NoSolution:
        assume(False)
    passes = outcome.results["passes"]
    json.dumps(plain_json(outcome.results), allow_nan=False)
    assert len(passes) >= ceil(depth / rise) - ("not-deep-enough" in {one.code for one in outcome.warnings})
    before = -1.0
    for row in passes:
        left = [float(shim) for shim in shims]
        for piece in row["shims"]:
            left.remove(piece)
        assert row["shim_mm"] == pytest.approx(sum(row["shims"]))
        assert row["shim_mm"] > before
        assert before < 0 or row["shim_mm"] - before <= float(rise) + 1e-12
        assert row["across_mm"] == pytest.approx(30 + row["depth_mm"])
        before = row["shim_mm"]
    assert passes[0]["shims"] == []
    assert str(passes[0]["shim_mm"]) == "0.0"


def test_missing_shims_when_added_to_those_owned_then_there_is_an_answer():
    few = [Fraction(5, 100), Fraction(40, 100), Fraction(130, 100)]
    for count in range(len(few) + 1):
        for shims in combinations(few, count):
            task = broaching_of(
                bore=Fraction(30), key_width=Fraction(8), hub_crown_depth=Fraction(3),
                rise_per_pass=Fraction(7, 10), shims=shims, hub_length=None, guide_length=None,
                hub_crown_depth_max=Fraction(31, 10),
            )  # fmt: skip
            assert broached(Fraction(3), Fraction(7, 10), [*shims, *missing_shims(task)], Fraction(1, 10))


#: What stands beside an entry at one of its limits, where the plain entries would not let it.
BROACH = {
    "bore": Fraction(300), "key_width": Fraction(63), "hub_crown_depth": Fraction(4),
    "rise_per_pass": Fraction(4), "shims": None, "hub_length": None, "guide_length": None,
    "hub_crown_depth_max": None,
}  # fmt: skip
SMALL = {"key_width": Fraction(2), "hub_crown_depth": Fraction(2, 10), "rise_per_pass": Fraction(2, 10)}
DEEP = {"rise_per_pass": Fraction(10), "shims": [Fraction(10)] * 3}
LOAD = {
    "torque": Fraction(5), "power": None, "speed": None, "shaft": Fraction(500), "key_width": Fraction(20),
    "key_height": Fraction(20), "length": None, "allowable_shear": Fraction(50),
    "allowable_crushing": Fraction(50),
}  # fmt: skip
POWERED = {"torque": None, "power": Fraction(100), "speed": Fraction(100)}
BESIDE = {
    ("bore", "low"): SMALL,
    ("key_width", "low"): SMALL,
    ("hub_crown_depth", "low"): SMALL,
    ("hub_crown_depth", "high"): DEEP,
    ("rise_per_pass", "low"): SMALL | {"shims": [Fraction(2, 100)] * 9},
    ("rise_per_pass", "high"): {"hub_crown_depth": Fraction(10)},
    ("hub_crown_depth_max", "low"): SMALL,
    ("power", "low"): POWERED,
    ("power", "high"): POWERED,
    ("speed", "low"): POWERED,
    ("speed", "high"): POWERED,
    ("shaft", "low"): {"key_width": Fraction(1), "key_height": Fraction(1)},
}


@pytest.mark.parametrize("end", ["low", "high"])
@pytest.mark.parametrize(
    ("key", "plain", "name"),
    [
        (key, plain, field.name)
        for key, plain in (("broaching", BROACH), ("key-strength", LOAD))
        for field in get(key).inputs
    ],
)
def test_entry_when_at_its_limit_then_it_answers_and_a_hair_outside_it_is_refused_by_name(
    key, plain, name, end
):
    calculation = get(key)
    field = next(one for one in calculation.inputs if one.name == name)
    edge, hair = getattr(field, end), Fraction(1, 10**6)
    outside = edge - hair if end == "low" else edge + hair
    beside = BESIDE.get((name, end), {})
    entered = plain | {other: value for other, value in beside.items() if other in plain}
    at, past = ([edge], [outside]) if field.kind == "lengths" else (edge, outside)
    assert calculation.function(**entered | {name: at}).working
    with pytest.raises(OutOfRange) as refused:
        calculation.function(**entered | {name: past})
    assert refused.value.field == name


@given(
    st.fractions(min_value=Fraction(1, 100), max_value=10**6, max_denominator=1000),
    st.fractions(min_value=20, max_value=500, max_denominator=100),
    st.fractions(min_value=Fraction(1, 2), max_value=10, max_denominator=100),
    st.fractions(min_value=1, max_value=1000, max_denominator=10),
)
def test_key_when_as_long_as_wanted_then_it_is_at_one_limit_and_past_none(torque, shaft, size, stress):
    allowed = {"allowable_shear": stress, "allowable_crushing": min(stress * 3 / 2, Fraction(1000))}
    entered = {"torque": torque, "shaft": shaft, "key_width": size, "key_height": size * 4 / 5} | allowed
    assume(size * 4 / 5 >= Fraction(1, 2))
    wanted = Fraction(key_strength(**entered).results["length_wanted_mm"])
    assume(1 <= wanted <= 1000)
    results = key_strength(**entered, length=wanted).results
    json.dumps(plain_json(results), allow_nan=False)
    shares = [results[f"{name}_mpa"] / float(allowed[f"allowable_{name}"]) for name in ("shear", "crushing")]
    assert max(shares) == pytest.approx(1)


def test_entries_when_in_inches_or_in_millimetres_then_the_same_answer():
    calculation = get("broaching")
    inch = {"bore": "1.125 in", "key_width": "0.25 in", "hub_crown_depth": "0.116 in",
            "rise_per_pass": "0.058 in", "shims": "0.058 in"}  # fmt: skip
    metric = {"bore": "28.575 mm", "key_width": "6.35 mm", "hub_crown_depth": "2.9464 mm",
              "rise_per_pass": "1.4732 mm", "shims": "1.4732 mm"}  # fmt: skip
    found = [calculation.function(**read_entries(calculation, typed).inputs) for typed in (inch, metric)]
    assert found[0].results == found[1].results
