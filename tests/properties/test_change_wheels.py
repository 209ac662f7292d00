"""What must hold of trains of change gears, whatever is entered."""

import json
import re
from fractions import Fraction
from math import prod

from hypothesis import given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.change_wheels import change_wheels
from calc.kernel.milling_lead import milling_lead
from calc.registry import get

INCH = Fraction(254, 10)
sets = st.lists(st.integers(8, 400), min_size=2, max_size=14)
pitches = st.fractions(min_value=Fraction(1, 10), max_value=100, max_denominator=500)
leads = st.fractions(min_value=1, max_value=20000, max_denominator=100)


def no_odd_figures(results):
    text = json.dumps(plain_json(results), allow_nan=False)
    assert not re.search(r"-0\.0(?![0-9])", text)


@given(sets, pitches, pitches)
def test_wheels_when_worked_then_each_train_is_owned_and_cuts_what_it_says(wheels, pitch, screw):
    results = change_wheels(wheels_owned=wheels, pitch=pitch, screw_pitch=screw).results
    no_odd_figures(results)
    for row in (*results["exact_trains"], *results["nearest_trains"]):
        used = [*row["drivers"], *row["driven"]]
        assert all(used.count(one) <= wheels.count(one) for one in used)
        made = Fraction(prod(row["drivers"]), prod(row["driven"])) * screw
        assert abs(Fraction(row["pitch_mm"]) - made) < Fraction(1, 10**9)
        assert (made == pitch) is (row in results["exact_trains"])
    assert bool(results["exact_trains"]) is not bool(results["nearest_trains"])
    errors = [abs(row["error_um"]) for row in results["nearest_trains"]]
    assert errors == sorted(errors)


@given(sets, leads, pitches)
def test_leads_when_worked_then_each_train_gives_what_it_says(gears, lead, screw):
    results = milling_lead(change_gears=gears, lead=lead, screw_pitch=screw).results
    no_odd_figures(results)
    for row in (*results["exact_trains"], *results["nearest_trains"]):
        made = 40 * screw * Fraction(prod(row["driven"]), prod(row["drivers"]))
        assert abs(Fraction(row["lead_mm"]) - made) <= made / 10**12
        assert abs(row["lead_error_mm"] - float(made - lead)) < 1e-6


@given(sets, st.integers(4, 80), st.integers(1, 40))
def test_pitch_when_typed_in_inches_in_millimetres_or_by_the_inch_then_the_same_answer(wheels, tpi, screw):
    wheel_text = ", ".join(map(str, wheels))
    typed = [
        {"threads_per_inch": f"{tpi}", "screw_threads_per_inch": f"{screw}"},
        {"pitch": f"1/{tpi} in", "screw_pitch": f"1/{screw} in"},
    ]
    found = [
        change_wheels(**read_entries(get("change-wheels"), one | {"wheels_owned": wheel_text}).inputs).results
        for one in typed
    ]
    assert found[0] == found[1]
