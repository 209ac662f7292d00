"""How the answer of `bevel-differential` is shown: whether it goes, what would, the cones in section."""

from math import radians, sin
from typing import Any

from calc.answers.gear_words import degrees_text, warned
from calc.answers.shapes import Answer, Case, empty_answer, fact, size_line, units_word
from calc.kernel.units import Unit, in_or_mm, turned
from calc.kernel.wording import exact, mixed_text
from calc.sheets import Picture, SizeLine

MEMBERS = ("left", "right", "pinion")
#: Millimetres of a module where none is given: the section is then to scale without a size.
_BARE_MODULE = 1.0


def answer(case: Case) -> Answer:
    """Whether it goes together large, what goes and how it turns beside it, the gears in section."""
    inputs, results = case.inputs, case.results
    pinions = f"{inputs['pinions']} pinions"
    big = f"{pinions} go" if results["goes_together"] else f"{pinions} do not go"
    sides = f"{inputs['left_teeth']} and {inputs['right_teeth']} teeth"
    shown = empty_answer(f"Between side gears of {sides}", big, facts=[])
    go = ", ".join(map(str, results["pinions_that_go"])) or "none"
    ratio = mixed_text(exact(results["ratio"]).limit_denominator(1000))
    shown["facts"] = [
        fact("Pinions that go, of 2 to 6", go),
        fact("Right gear, left one held", ratio, "turns to one of the carrier"),
    ]
    if results["pinion_shaft_angle_deg"] is not None:
        angle = degrees_text(results["pinion_shaft_angle_deg"])
        shown["facts"].append(fact("Pinion’s shaft to the axle", angle))
        shown["pictures"] = [_picture(case)]
        shown["sizes"] = {
            "title": "Cones and distances from the apex",
            "note": units_word(_unit(case)) if results["cone_distance_mm"] is not None else "degrees",
            "columns": ["Left", "Right", "Pinion"],
            "lines": _lines(case),
        }
    shown["beware"], shown["notes"] = warned(case)
    has_sizes = results["cone_distance_mm"] is not None
    shown["units"] = f"{units_word(_unit(case))}, degrees" if has_sizes else "counts, degrees"
    return shown


def _unit(case: Case) -> Unit:
    """In inches by its diametral pitch, in millimetres by its module, in the page's own without."""
    if case.inputs.get("module") is not None:
        return "mm"
    return "inch" if case.inputs.get("diametral_pitch") is not None else case.unit


def _lines(case: Case) -> list[SizeLine]:
    results, unit = case.results, _unit(case)

    def each(name: str) -> list[Any]:
        return [results[f"{member}_{name}"] for member in MEMBERS]

    teeth = [str(case.inputs[f"{member}_teeth"]) for member in MEMBERS]
    lines = [
        size_line("Teeth", teeth),
        size_line("Pitch angle", [degrees_text(angle) for angle in each("pitch_angle_deg")]),
    ]
    if results["cone_distance_mm"] is None:
        return lines
    distance = turned(results["cone_distance_mm"], unit)
    return [
        *lines,
        size_line("Cone distance", [distance] * 3),
        size_line("Apex to large pitch circle", [turned(size, unit) for size in each("mounting_mm")]),
        size_line("Apex to outer tip edge", [turned(size, unit) for size in each("crown_to_apex_mm")]),
    ]


def _picture(case: Case) -> Picture:
    inputs, results = case.inputs, case.results
    module = _module(case)
    # Without a pitch the cone distance is of module 1: half the left teeth over the sine of its angle.
    distance = results["cone_distance_mm"]
    figures: dict[str, Any] = {
        **{f"{member}_teeth": inputs[f"{member}_teeth"] for member in MEMBERS},
        **{f"{member}_angle": float(results[f"{member}_pitch_angle_deg"]) for member in MEMBERS},
        "cone_distance": float(distance) if distance is not None else _bare_distance(case),
        "module": module,
    }
    number = in_or_mm(exact(inputs["pinions"]), "mm", 0)
    return {
        "kind": "bevel-differential",
        "figures": figures,
        "strong": f"Side gears and one pinion of {number}",
        "text": "drawn to scale, the face a third of the cone distance, hubs and bores left out",
        "wide": True,
        "hatches": ["ci"],
    }


def _module(case: Case) -> float:
    if case.inputs.get("module") is not None:
        return float(case.inputs["module"])
    pitch = case.inputs.get("diametral_pitch")
    return _BARE_MODULE if pitch is None else 25.4 / float(pitch)


def _bare_distance(case: Case) -> float:
    angle = radians(float(case.results["left_pitch_angle_deg"]))
    return float(case.inputs["left_teeth"]) / 2 / sin(angle)
