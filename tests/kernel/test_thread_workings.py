"""Every line of the working of every check on threads and drills, worked again from formula and figures."""

from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.drills import drill_of
from calc.kernel.threads import threads
from calc.kernel.threads_names import thread_named
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

KEYS = ("thread", "tapping-drill", "bore-sequence")
CHECKS = [
    (check["calculation"], f"{key}#{check['id']}", check["entered"])
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] in KEYS
]
#: Every thread there is, odd drills and odd bores: no check reaches these.
MORE = [("thread", one.name, {"thread": one.name}) for one in threads()]
MORE += [
    ("tapping-drill", f"{one.name} {share}", {"thread": one.name, "engagement": share})
    for one in threads()[::7]
    for share in ("33 1/3", "65", "72.5")
]
MORE += [
    ("tapping-drill", "odd drill", {"thread": "1/4 BSF", "drill": "5.3217 mm"}),
    ("tapping-drill", "older base", {"thread": "M10", "engagement": "70", "base": "1.299038"}),
    ("bore-sequence", "large", {"finished_bore": "1 1/8"}),
    ("bore-sequence", "third", {"finished_bore": "1 1/3"}),
    ("bore-sequence", "hand", {"finished_bore": "12 mm", "reamer": "hand"}),
    ("bore-sequence", "owned", {"finished_bore": "20 mm", "drills_owned": "1/8 to 1/2 by 1/64, 18 mm"}),
]
ALL = CHECKS + MORE
LOOKED_UP = "from the table"
INCH = Fraction(254, 10)


def worked(key, entered):
    calculation = get(key)
    inputs = read_entries(calculation, entered).inputs
    return inputs, calculation.function(**inputs)


def names_for_thread(inputs, results, step):
    """What each word of a formula stands for, in the unit of the thread."""
    found = thread_named(inputs["thread"])
    names = {
        "major diameter": found.major / found.unit,
        "pitch": found.pitch / found.unit,
        "depth": found.drop / found.unit,
    }
    if found.tpi is not None:
        names["threads to the inch"] = found.tpi
    if step.label.startswith("Engagement left by the drill "):
        name = step.label.removeprefix("Engagement left by the drill ").partition(",")[0].partition(" or ")[0]
        names["drill"] = drill_of("drill", name).mm / found.unit
    if "drill_exact_mm" in results:
        wanted = inputs["engagement"]
        names["engagement"] = Fraction(75) if wanted is None else wanted
    return names


def names_for_bore(inputs, results, step):
    unit = INCH if step.unit == "in" else Fraction(1)
    drills = [drill_of("drill", row["drill"].partition(" or ")[0]).mm for row in results["drills"]]
    names = {"bore": inputs["finished_bore"] / unit, "hole": (drills[-1] + Fraction(5, 100)) / unit}
    names["drill"] = drills[-1]
    names["least allowance in inches"] = (
        Fraction(results["allowance_low_mm"] or 0).limit_denominator(10**6) / INCH
    )
    names["least allowance"] = Fraction(results["allowance_low_mm"] or 0).limit_denominator(10**6)
    if step.label.startswith("Pilot before "):
        following = step.label.removeprefix("Pilot before ").partition(",")[0].partition(" or ")[0]
        names["following drill"] = drill_of("drill", following).mm
    return names


@pytest.mark.parametrize(("key", "_id", "entered"), ALL, ids=[one[1] for one in ALL])
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, _id, entered):
    inputs, outcome = worked(key, entered)
    assert len(outcome.working) >= 3
    names_of = names_for_bore if key == "bore-sequence" else names_for_thread
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.formula == LOOKED_UP:
            assert step.figures == step.value
        else:
            again = evaluate(in_figures(step.formula, names_of(inputs, outcome.results, step)))
            assert abs(again - value) <= half, step


@pytest.mark.parametrize(
    ("key", "_id", "entered"),
    [one for one in ALL if one[0] != "bore-sequence"],
    ids=lambda one: str(one)[:30],
)
def test_working_when_read_then_each_size_of_the_answer_stands_on_a_line(key, _id, entered):
    inputs, outcome = worked(key, entered)
    unit = thread_named(inputs["thread"]).unit
    values = [shown_value(step.value) for step in outcome.working]
    sizes = [
        Fraction(outcome.results[name]).limit_denominator(10**9) / unit
        for name in (
            "major_diameter_mm",
            "pitch_mm",
            "pitch_diameter_mm",
            "minor_diameter_mm",
            "root_diameter_mm",
        )
        if name in outcome.results
    ]
    shares = [outcome.results["engagement_percent"]]
    if inputs.get("drill") is None and key == "tapping-drill":
        sizes.append(Fraction(outcome.results["drill_exact_mm"]).limit_denominator(10**9) / unit)
        rows = [*outcome.results["smaller_drills"], *outcome.results["larger_drills"]]
        shares = [row["engagement_percent"] for row in rows]
    for wanted in (*sizes, *(Fraction(share).limit_denominator(10**9) for share in shares)):
        assert any(abs(wanted - value) <= half + Fraction(1, 10**8) for value, half in values), wanted


def test_bore_when_worked_then_what_is_left_stands_there_in_both_units():
    _, outcome = worked("bore-sequence", {"finished_bore": "1/2"})
    left = [(step.value, step.unit) for step in outcome.working if step.label == "Left on the diameter"]
    assert left == [("0.347", "mm"), ("0.0137", "in")]


def test_every_line_when_its_source_is_read_then_it_is_known():
    known = {tables.read_source(key).short for key in tables.source_keys()} | {"common practice, no source"}
    for key, _, entered in ALL:
        for step in worked(key, entered)[1].working:
            assert any(step.source.startswith(short) for short in known), step.source
