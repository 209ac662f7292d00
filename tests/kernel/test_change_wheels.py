"""Trains of change gears for threads and leads: against every train there is, and the worked examples.

That 127 goes into every exact train between inches and millimetres: 25.4 = 2 x 127 / 10, and 127 is a prime.
Checks of the sources run from their checks.toml in test_published.
"""

from fractions import Fraction
from itertools import permutations
from math import prod

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.change_wheels import change_wheels
from calc.kernel.errors import OutOfRange
from calc.kernel.trains import NEAREST_MOST, trains_for
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)
FEW = [20, 25, 30, 38, 40, 40, 45, 50, 63]


def every_ratio(wheels):
    """Every ratio of one pair or two, by trying every order of the wheels. Second way."""
    found = {Fraction(one, two) for one, two in permutations(wheels, 2)}
    return found | {Fraction(a * b, c * d) for a, b, c, d in permutations(wheels, 4)}


EVERY = every_ratio(FEW)


@pytest.mark.parametrize(
    "wanted",
    [Fraction(60, 127), Fraction(2, 5), Fraction(40, 127), Fraction(635, 600), Fraction(9, 4), Fraction(3, 7)]
    + [Fraction(n, 97) for n in (11, 20, 48, 97, 150, 300)],
    ids=str,
)
def test_trains_when_every_order_is_tried_then_the_exact_and_the_nearest_are_the_same(wanted):
    found = trains_for(FEW, wanted)
    if wanted in EVERY:
        assert found.exact
        assert not found.nearest
        assert all(train.ratio == wanted for train in found.exact)
        return
    assert not found.exact
    # A train of two pairs in which a driver and a driven wheel are alike is one of a pair already.
    least = sorted(abs(ratio - wanted) for ratio in EVERY)[:3]
    assert [abs(train.ratio - wanted) for train in found.nearest[:3]] == least
    assert len(found.nearest) <= NEAREST_MOST


@pytest.mark.parametrize("wheels", [[30, 60], [20, 20, 40], [24, 24, 28, 32, 40, 44, 48, 56]])
def test_trains_when_found_then_no_wheel_is_used_oftener_than_it_is_owned(wheels):
    for wanted in (Fraction(1, 2), Fraction(7, 5), Fraction(1)):
        found = trains_for(wheels, wanted)
        for train in (*found.exact, *found.nearest):
            used = [*train.drivers, *train.driven]
            assert all(used.count(wheel) <= wheels.count(wheel) for wheel in used)
            assert train.ratio == Fraction(prod(train.drivers), prod(train.driven))


def test_wheels_when_a_millimetre_thread_is_cut_on_an_inch_screw_without_127_then_its_cost_is_told():
    # (30 x 63) / (40 x 100) x 3.175 = 1.5001875 mm: 0.1875 um in 1.5 mm, 3.125 um in 25 mm, worked by hand.
    found = change_wheels(
        pitch=Fraction(3, 2), screw_threads_per_inch=Fraction(8), wheels_owned=[20, 30, 40, 63, 100]
    )
    row = found.results["nearest_trains"][0]
    assert (sorted(row["drivers"]), sorted(row["driven"])) == ([30, 63], [40, 100])
    assert row["pitch_mm"] == pytest.approx(1.5001875)
    assert row["error_um"] == pytest.approx(0.1875)
    assert row["error_over_25_um"] == pytest.approx(3.125)
    assert row["error_over_inch_um"] == pytest.approx(3.175)
    assert row["error_percent"] == pytest.approx(0.0125)
    assert found.results["missing_factor"] == 127
    assert "127" in next(one.text for one in found.warnings if one.code == "no-exact")


@pytest.mark.parametrize(
    ("thread", "screw", "turns", "travel"),
    [
        # A multiple of the screw's threads: anywhere. 9 on 8: every 8 threads of the screw, an inch.
        ({"threads_per_inch": 16}, {"screw_threads_per_inch": 8}, 1, INCH / 8),
        ({"threads_per_inch": 9}, {"screw_threads_per_inch": 8}, 8, INCH),
        ({"pitch": 2}, {"screw_pitch": 3}, 2, 6),
        ({"pitch": 3}, {"screw_pitch": 6}, 1, 6),
        # A millimetre on 8 to the inch: 40 turns of the screw are 127 mm.
        ({"pitch": 1}, {"screw_threads_per_inch": 8}, 40, 127),
    ],
)
def test_half_nut_when_it_may_be_dropped_then_whole_threads_and_whole_turns_have_passed(
    thread, screw, turns, travel
):
    given = {name: Fraction(value) for name, value in (thread | screw).items()}
    found = change_wheels(wheels_owned=[*FEW, 127], **given).results
    assert found["half_nut_turns"] == turns
    assert found["half_nut_every_mm"] == pytest.approx(float(travel))
    threads = found["half_nut_every_mm"] / found["pitch_mm"]
    assert threads == pytest.approx(round(threads))
    assert (turns > 1) is any(
        one.code == "half-nut" for one in change_wheels(wheels_owned=[*FEW, 127], **given).warnings
    )


@pytest.mark.parametrize("key", ["change-wheels", "milling-lead"])
def test_pitch_when_given_in_both_ways_or_neither_then_refused_by_name(key):
    calculation = get(key)
    usual = read_entries(calculation, dict(calculation.example)).inputs
    with pytest.raises(OutOfRange) as refused:
        calculation.function(**usual | {"screw_pitch": Fraction(3)})
    assert refused.value.field == "screw_pitch"
    with pytest.raises(OutOfRange) as refused:
        calculation.function(**usual | {"screw_threads_per_inch": None})
    assert refused.value.field == "screw_threads_per_inch"


@pytest.mark.parametrize("key", ["change-wheels", "milling-lead"])
def test_limit_when_stood_on_then_worked_and_outside_refused_by_name(key):
    calculation = get(key)
    usual = read_entries(calculation, dict(calculation.example)).inputs
    for field in calculation.inputs:
        if field.low is None or field.kind == "counts":
            continue
        whole = field.kind == "count"
        pair = {"pitch": "threads_per_inch", "screw_pitch": "screw_threads_per_inch"}
        other = {**pair, **{two: one for one, two in pair.items()}}.get(field.name)
        cleared = {other: None} if other in usual else {}
        for edge, out in ((field.low, -1 if whole else -HAIR), (field.high, 1 if whole else HAIR)):
            value = int(edge) if whole else edge
            assert calculation.function(**usual | cleared | {field.name: value}).working
            with pytest.raises(OutOfRange) as refused:
                calculation.function(**usual | cleared | {field.name: value + out})
            assert refused.value.field == field.name


@pytest.mark.parametrize("wheels", [[20], [20] * 61, [7, 40], [40, 401]], ids=str)
def test_wheels_when_the_list_is_no_set_then_refused_by_name(wheels):
    with pytest.raises(OutOfRange) as refused:
        change_wheels(pitch=Fraction(1), screw_pitch=Fraction(3), wheels_owned=wheels)
    assert refused.value.field == "wheels_owned"


# ---- the working -----------------------------------------------------------------------------------------

ENTRIES = [
    *[("change-wheels", one["entered"]) for one in tables.read_checks("screwcutting")],
    *[
        ("milling-lead", one["entered"])
        for one in tables.read_checks("milling1914")
        if one["calculation"] == "milling-lead"
    ],
    ("change-wheels", dict(get("change-wheels").example)),
    ("milling-lead", dict(get("milling-lead").example)),
    ("change-wheels", {"threads_per_inch": "11.5", "screw_pitch": "3 mm", "wheels_owned": "20,30,41,55,60"}),
    ("milling-lead", {"lead": "333.3 mm", "screw_pitch": "5 mm", "change_gears": "24,28,32,40,44"}),
]


def names_of(inputs, results):
    """What each word of a formula stands for."""
    names = {}
    if "pitch" in inputs:
        screw, wanted = (
            inputs[pitch] or INCH / inputs[tpi]
            for pitch, tpi in (("screw_pitch", "screw_threads_per_inch"), ("pitch", "threads_per_inch"))
        )
        ratio = wanted / screw
        names |= {"pitch of the thread": wanted, "pitch of the lead screw": screw}
        names |= {"p": ratio.numerator, "q": ratio.denominator}
        names |= {"turns of the screw": results["half_nut_turns"]}
    else:
        screw = inputs["screw_pitch"] or INCH / inputs["screw_threads_per_inch"]
        turns = inputs["ratio"] if inputs["drive"] == "worm" else 1
        names |= {"lead of the machine": screw * turns, "lead": inputs["lead"], "pitch of the screw": screw}
        names |= {"turns for one of the spindle": turns, "diameter": inputs["work_diameter"]}
    return {name: value for name, value in names.items() if value is not None}


@pytest.mark.parametrize(("key", "entered"), ENTRIES, ids=lambda one: str(one)[:60])
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, entered):
    inputs = read_entries(get(key), entered).inputs
    outcome = get(key).function(**inputs)
    exact, nearest = (outcome.results[f"{which}_trains"] for which in ("exact", "nearest"))
    names, rows = names_of(inputs, outcome.results), [*exact, *nearest]
    trains = iter([row for row in rows[:3] for _ in range(1 if exact or key == "milling-lead" else 2)])
    for step in outcome.working:
        own = dict(names)
        if key == "change-wheels" and ("drivers / driven" in step.formula or "pitch cut" in step.formula):
            row = next(trains)
            own |= {"drivers": prod(row["drivers"]), "driven": prod(row["driven"])}
            own["pitch cut"] = Fraction(own["drivers"], own["driven"]) * own["pitch of the lead screw"]
        elif "(drivers / driven)" in step.formula:
            row = next(trains)
            own |= {"drivers": prod(row["drivers"]), "driven": prod(row["driven"])}
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half + HAIR, step
        assert abs(evaluate(in_figures(step.formula, own)) - value) <= half + HAIR, step
