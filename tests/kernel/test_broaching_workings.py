"""Every line of the working of broaching and of the strength of a key, worked again from its figures."""

from fractions import Fraction
from math import pi

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.broaching_entries import unit_of_key
from calc.registry import get
from tests.oracles import evaluate, in_figures, rise_by_angle, shown_value

KEYS = ("broaching", "key-strength")
CHECKS = [
    (check["calculation"], f"{key}#{check['id']}", check["entered"])
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] in KEYS
]
BROACHED = {"bore": "1 1/8 in", "key_width": "1/4 in", "hub_crown_depth": "0.116 in"}
LOADED = {"shaft": "1 1/3 in", "key_width": "5/16 in", "key_height": "1/4 in", "length": "1 2/7 in",
          "allowable_shear": "3 ton/in2", "allowable_crushing": "13333 psi"}  # fmt: skip
MORE = [
    ("broaching", "thin", BROACHED | {"rise_per_pass": "0.045 in", "shims": "0.02, 0.02, 0.013, 0.031 in"}),
    ("broaching", "thirds", BROACHED | {"bore": "1 1/3 in", "rise_per_pass": "1/17 in",
                                         "shims": "1/18, 1/19 in"}),
    ("broaching", "metric", {"bore": "30.02 mm", "key_width": "8 mm", "hub_crown_depth": "3.3 mm",
                             "rise_per_pass": "1.7 mm", "shims": "1.6 mm"}),
    ("key-strength", "torque", LOADED | {"torque": "900 lbf in"}),
    ("key-strength", "power", LOADED | {"power": "7 1/3 hp", "speed": "213"}),
]  # fmt: skip
ALL = CHECKS + MORE


def broaching_names(inputs, results, step):
    """What each word of a formula stands for, in the unit of the sum."""
    unit = unit_of_key(inputs["key_width"])
    row = next(
        (one for one in results["passes"] if step.label.startswith(f"Pass {one['pass']}:")),
        results["passes"][0],
    )
    sizes = {
        "bore": inputs["bore"], "key width": inputs["key_width"], "crown depth": inputs["hub_crown_depth"],
        "rise": inputs["rise_per_pass"], "depth so far": row["depth_mm"], "stack": row["shim_mm"],
        "shims together": sum(row["shims"]),
        "chord rise": rise_by_angle(float(inputs["bore"]), float(inputs["key_width"])),
    }  # fmt: skip
    return {name: Fraction(size) / unit for name, size in sizes.items()}


def strength_names(inputs, results, step):
    shaft = inputs["shaft"]
    torque = inputs["torque"]
    if torque is None:
        torque = inputs["power"] * 30 / (Fraction(pi) * inputs["speed"])
    return {
        "power": inputs["power"] or 0, "speed": inputs["speed"] or 1, "torque": torque, "shaft": shaft,
        "force": 2000 * torque / shaft, "width": inputs["key_width"], "height": inputs["key_height"],
        "length": inputs["length"] or 0, "shear allowed": inputs["allowable_shear"],
        "crushing allowed": inputs["allowable_crushing"],
    }  # fmt: skip


@pytest.mark.parametrize(("key", "_id", "entered"), ALL, ids=[one[1] for one in ALL])
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, _id, entered):
    calculation = get(key)
    inputs = read_entries(calculation, entered).inputs
    outcome = calculation.function(**inputs)
    names_of = broaching_names if key == "broaching" else strength_names
    assert len(outcome.working) >= 5
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        again = evaluate(in_figures(step.formula, names_of(inputs, outcome.results, step)))
        # The names come from results in floating point, good to fifteen places.
        assert abs(again - value) <= half + Fraction(1, 10**8), step
