"""Every line of working of every press fit, worked again from its formula and from its figures."""

from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.working import LOOKED_UP
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

#: Entries together that reach lines no published check does.
MORE = {
    "bored": {
        "interface": "60 mm", "hub_outside": "120 mm", "shaft_bore": "20 mm", "interference": "0.045 mm",
        "length": "40 mm", "friction": "0.1", "hub_material": "grey iron", "assembly_clearance": "0.03 mm",
    },
    "thin-hub": {
        "interface": "1 1/3 in", "hub_outside": "1.4 in", "interference": "0.7 thou", "length": "7/16 in",
        "friction": "0.15", "hub_material": "brass", "shaft_material": "aluminium",
    },
    "own-figures": {
        "interface": "7 mm", "hub_outside": "31 mm", "interference": "0.0033 mm", "hub_e": "62000",
        "hub_poisson": "0.213", "shaft_e": "206 GPa", "shaft_poisson": "0.29",
        "hub_expansion": "6.3e-6 per degF", "length": "3.7 mm", "friction": "0.123",
    },
    "small": {"interface": "1 mm", "hub_outside": "1.3 mm", "interference": "0.0001 mm"},
    "large": {
        "interface": "2000 mm", "hub_outside": "5000 mm", "interference": "5 mm", "length": "2000 mm",
        "friction": "1", "shaft_bore": "1999 mm",
    },
}  # fmt: skip
ALL = MORE | {
    f"{key}#{check['id']}": check["entered"]
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] == "press-fit"
}  # fmt: skip
#: What a line's figure is called on the lines below it.
CALLED = {
    "E of the hub": "hub E", "Poisson’s ratio of the hub": "hub ratio", "E of the shaft": "shaft E",
    "Poisson’s ratio of the shaft": "shaft ratio",
    "Expansion of the hub, millionths to a degree": "expansion",
}  # fmt: skip


def worked(entered):
    calculation = get("press-fit")
    inputs = read_entries(calculation, entered, unit="mm").inputs
    return inputs, calculation.function(**inputs)


def names_of(inputs, results):
    """What each word of a formula stands for; what a line above gave, worked here anew and not rounded."""
    d, outside = inputs["interface"], inputs["hub_outside"]
    bore = inputs["shaft_bore"] or Fraction(0)
    names = {
        "interface": d, "outside": outside, "bore": bore, "interference": inputs["interference"],
        "assembly clearance": inputs["assembly_clearance"], "length": inputs["length"] or 0,
        "friction": inputs["friction"] or 0, "pressure": Fraction(results["pressure_mpa"]),
        "force": Fraction(results["axial_force_n"] or 0),
    }  # fmt: skip
    names["hub shape"] = (outside**2 + d**2) / (outside**2 - d**2)
    names["shaft shape"] = (d**2 + bore**2) / (d**2 - bore**2)
    return names


@pytest.mark.parametrize("entered", ALL.values(), ids=ALL)
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs, outcome = worked(entered)
    names = names_of(inputs, outcome.results)
    formulas = 0
    for step in outcome.working:
        value, half = shown_value(step.value)
        half = max(half, Fraction(1, 10**6))
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.label in CALLED:
            names[CALLED[step.label]] = evaluate(step.figures)
        if step.formula == LOOKED_UP or step.formula.startswith("as "):
            continue
        formulas += 1
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half, step
        if step.label.startswith("Give of the"):
            # The line shows millionths; the next takes them unrounded.
            names[f"{step.label.split(' ')[3].strip(',')} give"] = evaluate(in_figures(step.formula, names))
    assert formulas >= 6
