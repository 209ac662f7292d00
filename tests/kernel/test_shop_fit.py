"""The workshop allowances of 1914: bands, ends of the table, and that they are marked as old."""

from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel.errors import OutOfRange
from calc.kernel.shop_fit import shop_fit
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

INCH = Fraction(254, 10)


def thou(outcome):
    return [round(outcome.results[f"shaft_{end}_um"] / 25.4, 6) for end in ("es", "ei")]


def worked(inches, which, **more):
    return shop_fit(nominal=Fraction(inches) * INCH, fit=which, **more)


@pytest.mark.parametrize(
    ("inches", "entered", "limits"),
    [
        # As a reference page and Turning and Boring, 1914, print them.
        ("1/2", {"which": "forced"}, [1.0, 0.5]),
        ("17/32", {"which": "forced"}, [2.0, 1.5]),  # between two bands: the upper
        ("33/32", {"which": "driving"}, [1.5, 1.0]),
        ("3", {"which": "push"}, [-0.5, -1.0]),
        ("1", {"which": "running"}, [-1.2, -2.7]),
        ("1", {"which": "running", "running_class": "Y"}, [-1.0, -2.0]),
        ("4", {"which": "running", "running_class": "Z"}, [-1.0, -2.2]),
        ("5", {"which": "running"}, [-3.0, -5.7]),
    ],
)
def test_limits_when_worked_then_as_printed(inches, entered, limits):
    assert thou(worked(inches, **entered)) == limits


@pytest.mark.parametrize(
    ("inches", "entered", "field"),
    [
        ("5.001", {"which": "forced"}, "nominal"),
        ("4.001", {"which": "running", "running_class": "Y"}, "nominal"),
        ("4.001", {"which": "running", "running_class": "Z"}, "nominal"),
        ("0.06", {"which": "push"}, "nominal"),
        ("1", {"which": "tight"}, "fit"),
        ("1", {"which": "running", "running_class": "W"}, "running_class"),
    ],
)
def test_entry_when_the_table_does_not_go_there_then_it_is_refused_by_name(inches, entered, field):
    with pytest.raises(OutOfRange) as refused:
        worked(inches, **entered)
    assert refused.value.field == field


def test_answer_when_given_then_marked_as_old_and_the_hole_is_the_nominal():
    outcome = worked("1 1/2".replace("1 1/2", "3/2"), "forced")
    assert outcome.results["hole_upper_mm"] == outcome.results["hole_lower_mm"] == 38.1
    assert outcome.results["kind"] == "interference"
    (old,) = [one for one in outcome.warnings if one.code == "old-allowance"]
    assert "1914" in old.text
    assert "no standard" in old.text


def test_entries_when_inch_and_metric_then_the_same():
    entries = [
        read_entries(get("shop-fit"), {"nominal": text, "fit": "push"}) for text in ("2 in", "50.8 mm")
    ]
    assert entries[0].inputs == entries[1].inputs


@pytest.mark.parametrize("which", ["running", "push", "driving", "forced"])
@pytest.mark.parametrize("nominal", ["1 1/2 in", "1/3 in", "40 mm"])
def test_working_when_worked_again_then_formula_figures_and_value_agree(nominal, which):
    inputs = read_entries(get("shop-fit"), {"nominal": nominal, "fit": which}).inputs
    names = {"nominal": inputs["nominal"], "inches": inputs["nominal"] / INCH}
    names |= {"hole lower": Fraction(0), "hole upper": Fraction(0)}
    for step in shop_fit(**inputs).working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.formula == "from the table":
            names[step.label.partition(" of ")[0].lower()] = value
            continue
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half, step
