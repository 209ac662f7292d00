"""How the answer of `worm-pair` is shown: the lead, what is turned and gashed, the pair in section."""

from typing import Any

from calc.answers.gear_words import degrees_text, minutes_text, warned
from calc.answers.shapes import (
    WHY,
    Answer,
    Case,
    Fact,
    both,
    empty_answer,
    fact,
    size_line,
    unit_word,
    units_word,
)
from calc.answers.spur_gear import DEPTH_WORDS
from calc.kernel.units import Unit, fine, in_or_mm, turned
from calc.kernel.wording import exact
from calc.kernel.worm_pair_sizes import worm_in_inches
from calc.sheets import Picture, SizeLine


def answer(case: Case) -> Answer:
    """The lead large, centres and angles beside it, worm and wheel side by side, the pair in section."""
    unit: Unit = "inch" if worm_in_inches(case.inputs) else "mm"
    big, small = both(exact(case.results["lead_mm"]), unit, 4, 3)
    shown = empty_answer("Screwcut the worm to a lead of", big, facts=_facts(case, unit))
    shown["big_small"] = small
    shown["beware"], shown["notes"] = warned(case)
    shown["sizes"] = {
        "title": "Sizes",
        "note": units_word(unit),
        "columns": ["Worm", "Wheel"],
        "lines": _lines(case, unit),
    }
    shown["pictures"] = [_picture(case, unit)]
    shown["units"], shown["why"] = f"{units_word(unit)}, degrees", WHY
    return shown


def _facts(case: Case, unit: Unit) -> list[Fact]:
    results, short = case.results, unit_word(unit)
    system = DEPTH_WORDS.get(results["depth_system"], results["depth_system"])
    angle = results["lead_angle_deg"]
    return [
        fact("Centres", turned(results["centre_distance_mm"], unit), short),
        fact("Ratio", in_or_mm(exact(results["ratio"]), "mm", 2).rstrip("0").rstrip("."), "to 1"),
        fact("Wheel gashed at", degrees_text(angle), minutes_text(angle)),
        fact(f"Depth, {system}", fine(results["whole_depth_mm"], unit), short),
    ]


def _lines(case: Case, unit: Unit) -> list[SizeLine]:
    results = case.results
    return [
        size_line("Starts, teeth", [str(case.inputs["starts"]), str(case.inputs["wheel_teeth"])]),
        size_line(
            "Pitch diameter",
            [fine(case.inputs["worm_diameter"], unit), fine(results["wheel_pitch_diameter_mm"], unit)],
        ),
        size_line(
            "Over the threads, throat",
            [turned(results["worm_outside_diameter_mm"], unit), turned(results["throat_diameter_mm"], unit)],
            finished=True,
        ),
        size_line("Bottom of the thread", [fine(results["worm_root_diameter_mm"], unit), ""]),
        size_line("Radius of the throat", ["", fine(results["throat_radius_mm"], unit)]),
        size_line("Axial pitch, circular pitch", [fine(results["axial_pitch_mm"], unit)] * 2),
        size_line("Lead", [fine(results["lead_mm"], unit), ""]),
        size_line("Whole depth", [fine(results["whole_depth_mm"], unit)] * 2, finished=True),
    ]


def _picture(case: Case, unit: Unit) -> Picture:
    inputs, results = case.inputs, case.results
    figures: dict[str, Any] = {
        "starts": inputs["starts"],
        "wheel_teeth": inputs["wheel_teeth"],
        "module": float(results["module_mm"]),
        "pressure_angle": float(inputs["pressure_angle"]),
        "whole_depth": float(results["whole_depth_mm"]),
        "worm_diameter": float(inputs["worm_diameter"]),
        "unit": unit,
    }
    return {
        "kind": "worm-pair",
        "figures": figures,
        "strong": "Worm cut along its axis, wheel in its middle plane",
        "text": "drawn to scale, the length of the worm and the bores left out",
        "wide": True,
        "hatches": ["st"],
    }
