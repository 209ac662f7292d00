"""Every line of working of bevel pairs, differentials, helical gears and worms, worked again."""

import re
from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

KEYS = ("bevel-pair", "bevel-differential", "helical-gear", "worm-pair")
CHECKS = [
    (key, check)
    for key in tables.source_keys()
    for check in tables.read_checks(key)
    if check["calculation"] in KEYS
]
#: Entries together that reach lines no published check does.
MORE = [
    ("more", {"id": name, "calculation": key, "entered": entered})
    for name, key, entered in (
        ("odd-pitch", "bevel-pair", {
            "teeth": "31", "mate_teeth": "17", "diametral_pitch": "7 1/3", "face_width": "19 mm",
            "shaft_angle": "77° 30'", "cutter_set": "15", "depth_system": "2.2+0.002",
            "cutter_thickness_large": "0.14 in", "cutter_thickness_small": "3 mm",
        }),
        ("taper-by-the-small-end", "bevel-pair", {
            "teeth": "9", "mate_teeth": "43", "module": "1.75", "face_width": "7/16 in", "pitch_at": "small",
        }),
        ("parallel-by-the-large-end", "bevel-pair", {
            "teeth": "40", "mate_teeth": "25", "diametral_pitch": "10", "face_width": "0.7 in",
            "tooth_depth": "parallel", "pitch_at": "large", "shaft_angle": "115", "depth_system": "2.2+0.002",
        }),
        ("parallel-fine", "bevel-pair", {
            "teeth": "40", "mate_teeth": "25", "module": "0.7", "face_width": "5 mm",
            "tooth_depth": "parallel", "depth_system": "2.2+0.002",
        }),
        ("unequal-sides", "bevel-differential", {
            "left_teeth": "36", "right_teeth": "27", "pinion_teeth": "19", "pinions": "4", "module": "1.25",
        }),
        ("no-cones", "bevel-differential", {
            "left_teeth": "17", "right_teeth": "60", "pinion_teeth": "10", "pinions": "5",
            "diametral_pitch": "7 1/3",
        }),
        ("none-go", "bevel-differential", {
            "left_teeth": "24", "right_teeth": "23", "pinion_teeth": "12", "pinions": "2",
        }),
        ("helical-all", "helical-gear", {
            "teeth": "31", "mate_teeth": "9", "diametral_pitch": "7 1/3", "helix_angle": "23° 17'",
            "profile_shift": "-0.15", "pressure_angle": "14 1/2", "depth_system": "2.2+0.002",
            "cutter_set": "15",
        }),
        ("helical-transverse", "helical-gear", {
            "teeth": "31", "module": "1.75", "helix_angle": "33", "pitch_in": "transverse",
            "depth_system": "2.2+0.002", "mate_teeth": "40",
        }),
        ("worm-fine", "worm-pair", {
            "starts": "3", "wheel_teeth": "41", "axial_pitch": "7 mm", "worm_diameter": "1 1/3 in",
            "depth_system": "2.2+0.002", "pressure_angle": "14 1/2",
        }),
        ("worm-odd-pitch", "worm-pair", {
            "starts": "2", "wheel_teeth": "33", "diametral_pitch": "7 1/3", "worm_diameter": "31 mm",
        }),
    )
]  # fmt: skip
ALL = CHECKS + MORE


def worked(check):
    calculation = get(check["calculation"])
    inputs = read_entries(calculation, check["entered"]).inputs
    return inputs, calculation.function(**inputs)


def names_of(key, inputs, results, unit, *, is_mate):
    """What each word of a formula stands for, in the unit of the working."""
    names = {"diametral pitch": inputs["diametral_pitch"], "module": inputs["module"]}
    if key == "bevel-differential":
        return names | differential_names(inputs, results)
    own = results["mate"] if is_mate else results
    names |= {"pressure angle": inputs["pressure_angle"]}
    for name, value in {**results, **own}.items():
        if name.endswith("_mm") and value is not None:
            names[name.removesuffix("_mm").replace("_", " ")] = Fraction(value) / unit
        elif name.endswith("_deg") and value is not None:
            names[name.removesuffix("_deg").replace("_", " ")] = Fraction(value)
    names["module"] = inputs["module"] or names.get("module")
    return names | OWN_NAMES[key](inputs, results, own, unit)


def differential_names(inputs, results):
    names = {f"{member} teeth": inputs[f"{member}_teeth"] for member in ("left", "right", "pinion")}
    names["pinions"] = inputs["pinions"]
    for member in ("left", "right", "pinion"):
        angle = results[f"{member}_pitch_angle_deg"]
        if angle is not None:
            names[f"{member} pitch angle"] = Fraction(angle)
            names["spread"] = inputs[f"{member}_teeth"] / evaluate(f"sin({Fraction(angle)}°)")
    return names


def bevel_names(inputs, results, own, unit):
    names = {
        "teeth": own.get("teeth", inputs["teeth"]),
        "mate’s teeth": inputs["mate_teeth"],
        "shaft angle": inputs["shaft_angle"],
        "pitch angle of the gear": results["pitch_angle_deg"],
        "face width": inputs["face_width"] / unit,
        "small-end factor": results["small_end_factor"],
        "addendum angle": own["face_angle_deg"] - own["pitch_angle_deg"],
        "dedendum angle": own["pitch_angle_deg"] - own["root_angle_deg"],
    }
    for end in ("large", "small"):
        module = Fraction(results[f"module_{end}_mm"]) / unit
        names[f"module of the {end} end"] = module
        names[f"arc of the {end} end"] = evaluate(f"π × {module} / 2")
        names[f"thickness at the {end} end"] = Fraction(inputs[f"cutter_thickness_{end}"] or 0) / unit
    return names


def helical_names(inputs, results, own, unit):
    is_mate = own is not results
    shift = Fraction(0) if is_mate else inputs["profile_shift"]
    alpha = f"{inputs['pressure_angle']}°".join("()")
    zv = own["cutter_teeth"]
    return {
        "teeth": own.get("teeth", inputs["teeth"]),
        "mate’s teeth": inputs["mate_teeth"] or 0,
        "helix angle": inputs["helix_angle"],
        "shift": shift,
        "formative teeth": zv,
        "half angle": Fraction(90) / Fraction(zv)
        + 360 * shift * evaluate(f"tan{alpha}") / evaluate("π") / Fraction(zv),
    }


def worm_names(inputs, results, own, unit):
    return {
        "starts": inputs["starts"],
        "wheel teeth": inputs["wheel_teeth"],
        "worm diameter": inputs["worm_diameter"] / unit,
    }


OWN_NAMES = {"bevel-pair": bevel_names, "helical-gear": helical_names, "worm-pair": worm_names}


def picked(figures):
    lows, teeth = re.fullmatch(r"the greatest of ([0-9, ]+) not above ([0-9.]+)", figures).groups()
    return str(max(int(low) for low in lows.split(", ") if int(low) <= Fraction(teeth)))


def dividing(figures):
    total = int(re.fullmatch(r"of 2 to 6, those that divide ([0-9]+)", figures)[1])
    return ", ".join(str(number) for number in range(2, 7) if total % number == 0) or "none"


@pytest.mark.parametrize(("key", "check"), ALL, ids=[f"{key}#{check['id']}" for key, check in ALL])
def test_working_when_worked_again_then_formula_figures_and_value_agree(key, check):
    inputs, outcome = worked(check)
    inches = any(step.unit == "in" for step in outcome.working)
    unit = Fraction(254, 10) if inches else Fraction(1)
    for step in outcome.working:
        if step.figures.startswith("the greatest"):
            assert picked(step.figures) == step.value
            continue
        if step.figures.startswith("of 2 to 6"):
            assert dividing(step.figures) == step.value
            continue
        value, half = shown_value(step.value)
        slack = half * Fraction(1001, 1000)
        assert abs(evaluate(step.figures) - value) <= slack, step
        names = names_of(
            check["calculation"], inputs, outcome.results, unit, is_mate=step.label.startswith("Mate")
        )
        known = {name: number for name, number in names.items() if number is not None}
        assert abs(evaluate(in_figures(step.formula, known)) - value) <= slack, step


def test_every_line_when_its_source_is_read_then_it_is_known():
    known = {tables.read_source(key).short for key in tables.source_keys()} | {"common practice, no source"}
    for _, check in ALL:
        outcome = worked(check)[1]
        for step in outcome.working:
            assert any(step.source.startswith(short) for short in known), step.source
        named = {step.source for step in outcome.working}
        for key in outcome.sources:
            assert any(source.startswith(tables.read_source(key).short) for source in named), key
