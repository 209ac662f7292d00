"""Every line of the working of every check on keyways, worked again from its formula and its figures."""

from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.registry import get
from tests.oracles import evaluate, in_figures, rise_by_angle, shown_value

CHECKS = [
    (key, check)
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] == "keyway"
]
#: A measured bore, classes of fit, a metric shaft in inches and keys without depths: no check reaches these.
MORE = [
    ("more", {"id": name, "entered": entered})
    for name, entered in {
        "bore": {"shaft_diameter": "1 1/8 in", "standard": "b17.1", "bore_measured": "1.1261 in"},
        "bore-bs46": {"shaft_diameter": "3/4 in", "standard": "bs46", "bore_measured": "19.1 mm"},
        "metric-in-inches": {"shaft_diameter": "20 mm", "standard": "b17.1"},
        "third": {"shaft_diameter": "1 1/3 in", "standard": "bs46"},
        "no-depths": {"shaft_diameter": "1 1/8 in", "standard": "bs46", "section": "rectangular"},
        "free": {"shaft_diameter": "50 mm", "standard": "iso773", "fit": "free"},
        "close": {"shaft_diameter": "8 mm", "standard": "iso773", "fit": "close"},
        "inch-in-mm": {"shaft_diameter": "1 1/8 in", "standard": "iso773"},
        "width": {"shaft_diameter": "1 in", "standard": "b17.1", "key_width": "5/16 in"},
        "taper-bore": {
            "shaft_diameter": "1 in",
            "standard": "b17.1",
            "kind": "taper",
            "bore_measured": "1.0012 in",
        },
        "woodruff-707": {
            "shaft_diameter": "1 in",
            "standard": "b17.1",
            "kind": "woodruff",
            "key_number": "707",
            "bore_measured": "1.0007 in",
        },
    }.items()
]
ALL = CHECKS + MORE
IDS = [f"{key}#{check['id']}" for key, check in ALL]
LOOKED_UP = "from the table"
INCH = Fraction(254, 10)


def worked(entered):
    calculation = get("keyway")
    inputs = read_entries(calculation, entered).inputs
    return inputs, calculation.function(**inputs)


def exactly(value):
    """A number of the results as the fraction it stands for: to a part in a thousand million."""
    return Fraction(value).limit_denominator(10**9)


def names_of(inputs, results):
    """What each word of a formula stands for, in the unit of the standard."""
    unit = Fraction(1) if inputs["standard"] == "iso773" else INCH
    shaft, width = inputs["shaft_diameter"], exactly(results["key_width_mm"])
    bore = inputs["bore_measured"] or shaft
    sizes = {
        "shaft": shaft,
        "bore": bore,
        "key width": width,
        "key height": exactly(results["key_height_mm"]),
    }
    if results["key_height_min_mm"] is not None:
        sizes["key height at least"] = exactly(results["key_height_min_mm"])
    sizes["chord rise"] = Fraction(rise_by_angle(float(shaft), float(width)))
    sizes["bore rise"] = Fraction(rise_by_angle(float(bore), float(width)))
    for place in ("shaft", "hub") if results["shaft_crown_depth_mm"] is not None else ():
        for words, name in (
            ("side depth", "side_depth"),
            ("crown depth", "crown_depth"),
            ("crown depth at most", "crown_depth_max"),
        ):
            sizes[f"{place} {words}"] = exactly(results[f"{place}_{name}_mm"])
    symbols = {"free": ("H9", "D10"), "normal": ("N9", "JS9"), "close": ("P9", "P9")}.get(results["fit"], ())
    for symbol, name in zip((*symbols, "h9"), ("shaft_width", "hub_width", "key_width"), strict=False):
        for which, end in (("lower", "min"), ("upper", "max")):
            limit = results[f"{name}_{end}_mm"]
            if symbols and limit is not None:
                sizes[f"{which} deviation of {symbol}"] = exactly(limit) - width
    return {name: size / unit for name, size in sizes.items()}


def lines_agree(entered):
    """Each line worked again from its figures, and from its formula with the names put in."""
    inputs, outcome = worked(entered)
    assert len(outcome.working) >= 4
    names = names_of(inputs, outcome.results)
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.formula == LOOKED_UP:
            assert step.figures == step.value
        else:
            # The names come from results in floating point, good to fifteen places.
            again = evaluate(in_figures(step.formula.replace("0.005", "1/200"), names))
            assert abs(again - value) <= half + Fraction(1, 10**9), step


@pytest.mark.parametrize(("key", "check"), ALL, ids=IDS)
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, check):
    lines_agree(check["entered"])


@pytest.mark.parametrize(("key", "check"), ALL, ids=IDS)
def test_working_when_read_then_each_size_of_the_answer_stands_on_a_line(key, check):
    inputs, outcome = worked(check["entered"])
    unit = Fraction(1) if inputs["standard"] == "iso773" else INCH
    values = [shown_value(step.value) for step in outcome.working]
    for name in (
        "key_width", "key_height", "chord_rise", "shaft_side_depth", "shaft_crown_depth", "shaft_over_work",
        "shaft_over_work_min", "hub_side_depth", "hub_crown_depth", "hub_over_work", "hub_over_work_max",
        "shaft_width_min", "shaft_width_max", "hub_width_min", "hub_width_max", "key_width_max",
    ):  # fmt: skip
        size = outcome.results[f"{name}_mm"]
        if size is not None:
            wanted = exactly(size) / unit
            assert any(abs(wanted - value) <= half + Fraction(1, 10**9) for value, half in values), name


def test_every_line_when_its_source_is_read_then_it_is_known():
    known = {tables.read_source(key).short for key in tables.source_keys()} | {"common practice, no source"}
    for _, check in ALL:
        for step in worked(check["entered"])[1].working:
            assert any(step.source.startswith(short) for short in known), step.source
