"""Every line of the working of every check on indexing, worked again from its formula and its figures."""

from fractions import Fraction
from math import prod

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

#: Other sums have words of their own in their formulas: the test beside each works those lines again.
CHECKS = [
    (key, check)
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"].startswith("indexing")
]
#: The quarter wanted, gears and direct rings together reach lines that no published check does.
MORE = [
    ("more", {"id": name, "calculation": "indexing", "entered": entered})
    for name, entered in {
        "quarter": {"divisions": "16", "circles": "16,20,24", "keep_quarter": "yes"},
        "quarter-turns": {"divisions": "6", "circles": "18,24", "keep_quarter": "yes"},
        "direct": {"divisions": "8", "circles": "15,16", "direct_circles": "24,30"},
        "gears": {"divisions": "53", "circles": "43,49", "change_gears": "24,24,28,32,40,56,72"},
        "two-pairs": {"divisions": "53", "circles": "49", "change_gears": "24,40,56,72"},
        "nearest-turns": {"divisions": "13", "circles": "17"},
        "nearest-angle": {"angle": "1.234 deg", "circles": "49"},
        "long-angle": {"angle": "12.345678901234567890123456789012345", "circles": "47,49"},
    }.items()
]
ALL = CHECKS + MORE


def worked(check):
    calculation = get(check["calculation"])
    inputs = read_entries(calculation, check["entered"]).inputs
    return inputs, calculation.function(**inputs)


def names_of(inputs, results):
    """What each word of a formula stands for, from the entries and the first row of each list."""
    names = {"divisions": results.get("divisions") or inputs.get("divisions"), "ratio": inputs["ratio"]}
    names["angle"] = inputs.get("angle") or Fraction(360, names["divisions"])
    names["crank turns"] = Fraction(names["angle"]) * inputs["ratio"] / 360
    for row in (results.get("compound") or ())[:1]:
        names |= {"first spaces": row["holes_a"], "first circle": row["circle_a"]}
        names |= {"second spaces": row["holes_b"], "second circle": row["circle_b"]}
    for row in (results.get("direct") or ())[:1]:
        names["ring"] = row["circle"]
    return {name: value for name, value in names.items() if value is not None}


def setting_names(row):
    return {"whole turns": row["turns"], "spaces": row["holes"], "circle": row["circle"]}


def row_for(step, inputs, results):
    if "rows" in results:
        return inputs
    if results["plain"]:
        return results["plain"][0]
    method = "nearest" if "Nearest" in step.label or "last space" in step.label else "differential"
    return (results[method] or [None])[0]


@pytest.mark.parametrize(("key", "check"), ALL, ids=[f"{key}#{check['id']}" for key, check in ALL])
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, check):
    inputs, outcome = worked(check)
    assert outcome.working
    for step in outcome.working:
        if step.formula == "of the circles owned":
            circles_line_agrees(step, inputs, outcome.results)
            continue
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        names = names_of(inputs, outcome.results)
        row = row_for(step, inputs, outcome.results)
        if row:
            names |= setting_names(row)
        if row and "drivers" in row:
            names |= {"drivers": prod(row["drivers"]), "driven": prod(row["driven"])}
            names["plate turns"] = inputs["ratio"] - names["divisions"] * moved(row)
        if "error" in step.formula:
            names["error"] = (moved(row) - names["crank turns"]) * 360 * 3600 / inputs["ratio"]
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half, step


def moved(row):
    return row["turns"] + Fraction(row["holes"], row["circle"])


def circles_line_agrees(step, inputs, results):
    owned = {circle for face in inputs["circles"] for circle in face}
    serving = {row["circle"] for row in results["plain"]}
    shown = owned if step.value == "all" else {int(c) for c in step.value.split(", ") if step.value != "none"}
    assert shown == serving
    assert step.figures.endswith(f"of the {len(owned)} circle" + ("" if len(owned) == 1 else "s"))


def test_every_line_when_its_source_is_read_then_it_is_known():
    known = {tables.read_source(key).short for key in tables.source_keys()} | {"common practice, no source"}
    for _, check in ALL:
        for step in worked(check)[1].working:
            assert any(step.source.startswith(short) for short in known), step.source
