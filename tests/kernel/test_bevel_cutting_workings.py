"""Every line of the working of cutting a bevel pair, worked again from its figures."""

import re
from fractions import Fraction

import pytest

from calc.kernel.bevel_cutting import bevel_cutting
from tests.oracles import evaluate, in_figures, shown_value

PLATES = ((15, 16, 17, 18, 19, 20), (21, 23, 27, 29, 31, 33), (37, 39, 41, 43, 47, 49))
ASKED = {
    "module": {"teeth": 20, "mate_teeth": 30, "module": Fraction(2), "face_width": Fraction(18)},
    "pitch": {
        "teeth": 36, "mate_teeth": 16, "diametral_pitch": Fraction(12), "face_width": Fraction(20),
        "depth_system": "2.2+0.002",
    },
    "no-quarter": {"teeth": 24, "mate_teeth": 24, "module": Fraction(7, 4), "face_width": Fraction(9)},
    "odd": {
        "teeth": 29, "mate_teeth": 17, "diametral_pitch": Fraction(22, 3), "face_width": Fraction(19),
        "shaft_angle": Fraction("77.5"), "pressure_angle": Fraction(29, 2),
        "circles": (*PLATES, (29, 58)),
    },
    "held": {
        "teeth": 12, "mate_teeth": 40, "module": Fraction(3), "face_width": Fraction(30),
        "mate_cut": "as given", "mate_cutter": 2, "mate_roll": Fraction(10, 41),
        "mate_set_over": Fraction(12, 5), "ratio": 60,
    },
}  # fmt: skip


def worked(name):
    asked = {"circles": PLATES} | ASKED[name]
    return asked, bevel_cutting(**asked)


def picked(figures):
    lows, teeth = re.fullmatch(r"the greatest of ([0-9, ]+) not above ([0-9.]+)", figures).groups()
    return str(max(int(low) for low in lows.split(", ") if int(low) <= Fraction(teeth)))


@pytest.mark.parametrize("name", ASKED)
def test_working_when_worked_again_then_figures_and_value_agree(name):
    _, outcome = worked(name)
    assert len(outcome.working) > 40
    for step in outcome.working:
        if step.figures.startswith("the greatest"):
            assert picked(step.figures) == step.value
            continue
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half * Fraction(1001, 1000), step


def own_names(asked, outcome, *, is_mate, is_best):
    """What each word of the head's formulas stands for."""
    plan = outcome.results["best" if is_best else "textbook"]
    plan = plan["mate"] if is_mate else plan
    unit = Fraction(254, 10) if "diametral_pitch" in asked else Fraction(1)
    crank = Fraction(plan["roll_deg"]).limit_denominator(10**6) * asked.get("ratio", 40) / 360
    circle = plan["roll_circle"] or 1
    return {
        "ratio": asked.get("ratio", 40),
        "teeth": asked["mate_teeth" if is_mate else "teeth"],
        "roll in turns of the crank": crank,
        "quarter in turns of the crank": Fraction(asked.get("ratio", 40), 4 * asked["teeth"]),
        "circle": circle,
        "whole turns": plan["index_turns"],
        "spaces": plan["index_holes"],
        "module of the large end": Fraction(outcome.results["module_large_mm"]) / unit,
        "module of the small end": Fraction(outcome.results["cutter_module_mm"]) / unit,
        "module": asked.get("module", 0),
        "diametral pitch": asked.get("diametral_pitch", 1),
        "roll": Fraction(plan["roll_deg"]),
        "whole depth": Fraction(outcome.results["whole_depth_mm"]) / unit,
        "trims shallower by": Fraction(plan["trim_shallower_mm"]) / unit,
        "running error in modules": Fraction(
            outcome.results["best" if is_best else "textbook"]["running_error_mm"]
        ) / Fraction(outcome.results["cutter_module_mm"]),
    }  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_formulas_when_the_results_are_put_in_then_the_heads_lines_come_again(name):
    asked, outcome = worked(name)
    seen = 0
    for step in outcome.working:
        is_mate = step.label.startswith("Mate: ")
        words = step.label.removeprefix("Mate: ").lower()
        if not words.startswith(("textbook, ", "best, ")) or "for one of" in words:
            continue
        names = own_names(asked, outcome, is_mate=is_mate, is_best=words.startswith("best"))
        formula = step.formula.replace("sin(roll)", "sin(roll°)")
        value, half = shown_value(step.value)
        # The running error stands on its line to a millionth of a module.
        slack = half + (Fraction(1, 10**5) if "running" in words else Fraction(1, 10**9))
        assert abs(evaluate(in_figures(formula, names)) - value) <= slack, step
        seen += 1
    assert seen >= 8


@pytest.mark.parametrize("name", ASKED)
def test_working_when_read_then_the_settings_of_the_answer_stand_on_lines(name):
    asked, outcome = worked(name)
    values = [
        shown_value(step.value) for step in outcome.working if not step.figures.startswith("the greatest")
    ]
    unit = Fraction(254, 10) if "diametral_pitch" in asked else Fraction(1)
    rule = outcome.results["textbook"]
    sizes = [
        Fraction(rule["set_over_mm"]) / unit,
        Fraction(rule["roll_deg"]),
        Fraction(rule["depth_mm"]) / unit,
    ]
    sizes += [Fraction(outcome.results["best"]["roll_deg"]), Fraction(rule["mate"]["roll_deg"])]
    for size in sizes:
        assert any(abs(size - value) <= half + Fraction(1, 10**9) for value, half in values), size


def test_every_line_when_its_source_is_read_then_it_is_known():
    from calc.kernel import tables

    known = {tables.read_source(key).short for key in tables.source_keys()} | {"common practice, no source"}
    for name in ASKED:
        _, outcome = worked(name)
        for step in outcome.working:
            assert any(step.source.startswith(short) for short in known), step.source
        assert outcome.sources
