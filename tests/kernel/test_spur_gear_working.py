"""Every line of working of a spur gear, worked again from its formula and from its figures."""

import re
from fractions import Fraction
from math import acos, cos, degrees, pi, radians, tan

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

CHECKS = [
    (key, check)
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] == "spur-gear"
]
#: Entries together that reach lines no published check does.
MORE = [
    ("more", {"id": name, "calculation": "spur-gear", "entered": entered})
    for name, entered in {
        "everything": {
            "teeth": "25", "diametral_pitch": "8", "mate_teeth": "57", "profile_shift": "0.25",
            "backlash": "0.004 in", "pin_diameter": "0.216 in", "outside_diameter_measured": "3.43 in",
            "span_teeth": "4", "depth_system": "2.2+0.002", "cutter_set": "15",
        },
        "shifted-in": {
            "teeth": "40", "module": "1.25", "mate_teeth": "21", "profile_shift": "-0.2",
            "backlash": "0.05 mm", "pin_diameter": "2.1 mm", "pressure_angle": "14 1/2",
            "depth_system": "2.2+0.002",
        },
        "millimetres-on-a-dp": {
            "teeth": "33", "diametral_pitch": "12", "mate_teeth": "44", "pin_diameter": "3.5 mm",
            "backlash": "0.07 mm", "outside_diameter_measured": "74 mm",
        },
        "past-the-base-circle": {"teeth": "12", "module": "3", "mate_teeth": "120"},
        "odd-pitch": {"teeth": "31", "diametral_pitch": "7 1/3", "mate_teeth": "13", "pressure_angle": "20"},
        "many": {"teeth": "1000", "module": "0.35", "mate_teeth": "999"},
    }.items()
]  # fmt: skip
ALL = CHECKS + MORE


def worked(check):
    calculation = get("spur-gear")
    inputs = read_entries(calculation, check["entered"]).inputs
    return inputs, calculation.function(**inputs)


def names_of(inputs, results, *, is_mate):
    """What each word of a formula stands for, in the unit of the working."""
    unit = Fraction(254, 10) if inputs["diametral_pitch"] else 1
    own = results["mate"] if is_mate else results
    shift = Fraction(0) if is_mate else inputs["profile_shift"]
    alpha = radians(inputs["pressure_angle"])
    length = {
        name.removesuffix("_mm").replace("_", " "): Fraction(own[name]) / unit
        for name in own
        if name.endswith("_mm") and own[name] is not None
    }
    names = length | {
        "diametral pitch": inputs["diametral_pitch"] or 1,
        "module": Fraction(results["module_mm"]) / unit,
        "pressure angle": inputs["pressure_angle"],
        "shift": shift,
        "teeth": own.get("teeth", inputs["teeth"]),
        "teeth spanned": own["span_teeth"],
        "half the backlash": Fraction(inputs["backlash"] or 0) / unit / 2,
        "tooth along the pitch circle": length["tooth thickness"],
        "tip diameter": length["outside diameter"],
        "pin": Fraction(inputs["pin_diameter"] or 0) / unit,
    }
    names["half angle"] = Fraction(degrees(length["tooth thickness"] / length["pitch diameter"]))
    if inputs["outside_diameter_measured"] and not is_mate:
        names["tip diameter"] = Fraction(inputs["outside_diameter_measured"]) / unit
        names["outside diameter as measured"] = names["tip diameter"]
    if inputs["pin_diameter"] and own["over_pins_mm"]:
        names |= pin_names(names, Fraction(own["over_pins_mm"]) / unit)
    return names | pair_names(inputs, results, alpha, unit)


def pin_names(names, over):
    """The angle at the pin, back from the size over it."""
    across = float(over - names["pin"])
    if names["teeth"] % 2:
        across /= cos(pi / 2 / names["teeth"])
    angle = acos(float(names["base diameter"]) / across)
    return {"angle at the pin": Fraction(degrees(angle)), "involute at the pin": Fraction(tan(angle) - angle)}


def pair_names(inputs, results, alpha, unit):
    if not results["mate"]:
        return {}
    mate = results["mate"]
    running = Fraction(results["running_centre_distance_mm"]) / unit
    angle = acos(min(1.0, float(results["centre_distance_mm"]) / float(running * unit) * cos(alpha)))
    return {
        "mate’s teeth": mate["teeth"],
        "mate’s tip diameter": Fraction(mate["outside_diameter_mm"]) / unit,
        "mate’s base diameter": Fraction(mate["base_diameter_mm"]) / unit,
        "centre distance": Fraction(results["centre_distance_mm"]) / unit,
        "running centres": running,
        "angle of the pair": Fraction(degrees(angle)),
        "involute of the pair": Fraction(tan(angle) - angle),
        "path of contact": Fraction(results["contact_ratio"] * pi * cos(alpha))
        * Fraction(results["module_mm"])
        / unit,
    }


def greatest_not_above(figures):
    lows, teeth = re.fullmatch(r"the greatest of ([0-9, ]+) not above ([0-9]+)", figures).groups()
    return max(int(low) for low in lows.split(", ") if int(low) <= int(teeth))


@pytest.mark.parametrize(("key", "check"), ALL, ids=[f"{key}#{check['id']}" for key, check in ALL])
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, check):
    inputs, outcome = worked(check)
    for step in outcome.working:
        value, half = shown_value(step.value)
        if step.figures.startswith("the greatest"):
            assert greatest_not_above(step.figures) == value
            continue
        assert step.value.count("."), step
        assert abs(evaluate(step.figures) - value) <= half * Fraction(1001, 1000), step
        names = names_of(inputs, outcome.results, is_mate=step.label.startswith("Mate"))
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half * Fraction(1001, 1000), step


@pytest.mark.parametrize(("key", "check"), MORE, ids=[check["id"] for _, check in MORE])
def test_results_when_shown_in_the_working_then_each_is_there_to_its_places(key, check):
    inputs, outcome = worked(check)
    unit, places = (25.4, 4) if inputs["diametral_pitch"] else (1, 3)
    for is_mate in (False, True):
        own = outcome.results["mate"] if is_mate else outcome.results
        shown = {step.value for step in outcome.working if step.label.startswith("Mate") == is_mate}
        for name in ("outside_diameter_mm", "root_diameter_mm", "chordal_thickness_mm", "span_mm"):
            close = {f"{float(own[name]) / unit + nudge:.{places}f}" for nudge in (-1e-9, 1e-9)}
            assert close & shown, name


def test_every_line_when_its_source_is_read_then_it_is_known():
    known = {tables.read_source(key).short for key in tables.source_keys()} | {"common practice, no source"}
    for _, check in ALL:
        for step in worked(check)[1].working:
            assert any(step.source.startswith(short) for short in known), step.source


def test_sources_when_listed_then_they_are_those_of_the_lines():
    outcome = worked(MORE[0][1])[1]
    shorts = [tables.read_source(key).short for key in outcome.sources]
    named = {step.source for step in outcome.working}
    for short in shorts:
        assert any(source.startswith(short) for source in named), short
