"""Every line of the working of a fit, worked again; those that are looked up are looked up again."""

import csv
from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.fit import fit
from calc.kernel.working import LOOKED_UP
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value


def read_rows(path):
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


MORE = {
    "delta": {"nominal": "25 mm", "hole": "K7", "shaft": "h6"},
    "halved": {"nominal": "2 mm", "hole": "JS9", "shaft": "js8"},
    "large": {"nominal": "2500 mm", "hole": "P7", "shaft": "n6"},
    "thirds": {"nominal": "1/3 in", "hole": "H7", "shaft": "p6"},
    "sixty-fourths": {"nominal": "1 3/64 in", "hole": "G7", "shaft": "js5"},
    "shaft-to-suit": {"nominal": "2 in", "hole": "P7", "shaft": "h6", "hole_measured": "1.9985 in"},
    "hole-to-suit": {"nominal": "40 mm", "hole": "H7", "shaft": "p6", "shaft_measured": "40.0351 mm"},
    "fine": {"nominal": "5 mm", "hole": "P3", "shaft": "h01"},
}
CHECKS = [
    (f"{key}#{check['id']}", check["entered"])
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] == "fit"
]
ALL = [*CHECKS, *MORE.items()]


def entered_and_worked(entered):
    inputs = read_entries(get("fit"), entered).inputs
    return inputs, fit(**inputs)


def names_of(inputs, results):
    """What each word of a formula stands for: from the entries, the results and the table of grades."""
    names = {"nominal": inputs["nominal"]}
    for side, upper, lower in (("hole", "ES", "EI"), ("shaft", "es", "ei")):
        if not inputs[side]:
            continue
        names |= {upper: exact(results[f"{side}_es_um"]), lower: exact(results[f"{side}_ei_um"])}
        names[f"IT{inputs[side].lstrip('abcdefghjkmnprstuvxyzABCDEFGHJKMNPRSTUVXYZ')}"] = exact(
            results[f"{side}_tolerance_um"]
        )
        names |= {f"{side} {which}": exact(results[f"{side}_{which}_mm"]) for which in ("upper", "lower")}
        if inputs[f"{side}_measured"] is not None:
            names[f"{side} measured"] = inputs[f"{side}_measured"]
    if inputs["hole"] and inputs["shaft"]:
        names["least clearance"] = names["EI"] - names["es"]
    return names


def exact(value):
    """A figure of the results as it was before it became a number: to a thousandth of a micrometre."""
    return Fraction(value).limit_denominator(10**7)


@pytest.mark.parametrize(("name", "entered"), ALL, ids=[name for name, _ in ALL])
def test_working_when_worked_again_then_formula_figures_and_value_agree(name, entered):
    inputs, outcome = entered_and_worked(entered)
    names, before = names_of(inputs, outcome.results), {}
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.formula == LOOKED_UP:
            before[table_word(step)] = value
            continue
        formula = step.formula.partition(" = ")[2] or step.formula
        again = evaluate(in_figures(formula, names | before))
        assert abs(again - value) <= half + Fraction(1, 10**6), step


def table_word(step):
    """What a line calls a figure that the line before it read in a table."""
    words = {"Tabled": "tabled value", "Delta": "delta", "Deviation": "shaft deviation"}
    return words.get(step.label.split(" ")[0], step.label)


@pytest.mark.parametrize(("name", "entered"), ALL, ids=[name for name, _ in ALL])
def test_working_when_a_line_is_looked_up_then_its_table_has_that_figure_at_that_size(name, entered):
    """The tables read here a second time, row by row, by the range the line names."""
    for step in entered_and_worked(entered)[1].working:
        assert step.source.startswith(("ISO 286-1", "worked here in exact fractions")), step
        if step.formula != LOOKED_UP or "note to M6" in step.source:
            continue
        span = step.label.partition("over ")[2].split(" ")
        table = {
            "standard tolerance grades": "it_grades",
            "deviations of holes": "hole_deviations",
            "deviations of shafts": "shaft_deviations",
            "deviations over 500 mm": "deviations_over_500",
        }[step.source.partition(", ")[2].partition(" (")[0]]
        (row,) = [
            row
            for row in read_rows(tables.SOURCES / "iso286" / f"{table}.csv")
            if (row["over_mm"], row["upto_mm"]) == (span[0], span[2])
        ]
        figures = {Fraction(cell) for cell in list(row.values())[2:] if cell}
        assert shown_value(step.value)[0] in figures, step
