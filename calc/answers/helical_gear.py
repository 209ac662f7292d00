"""How the answer of `helical-gear` is shown: the blank, lead and cutter beside it, both gears' sizes."""

from collections.abc import Mapping
from typing import Any

from calc.answers.gear_words import columns, degrees_text, of_each, warned
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
from calc.answers.spur_gear import DEPTH_WORDS, range_text, unit_of
from calc.kernel.units import Unit, fine, in_or_mm, turned
from calc.kernel.wording import dms_text, exact
from calc.sheets import SizeLine


def answer(case: Case) -> Answer:
    """The blank large, what is set at the machine beside it, both gears' sizes."""
    unit = unit_of(case.inputs)
    big, small = both(exact(case.results["outside_diameter_mm"]), unit, 3, 2)
    shown = empty_answer("Turn the blank to", big, facts=_facts(case, unit))
    shown["big_small"] = small
    shown["beware"], shown["notes"] = warned(case)
    shown["sizes"] = {
        "title": "Sizes",
        "note": units_word(unit),
        "columns": columns(case.inputs["teeth"], case.inputs.get("mate_teeth")),
        "lines": _lines(case, unit),
    }
    shown["units"], shown["why"] = f"{units_word(unit)}, degrees", WHY
    return shown


def _facts(case: Case, unit: Unit) -> list[Fact]:
    results, short = case.results, unit_word(unit)
    system = DEPTH_WORDS.get(results["depth_system"], results["depth_system"])
    facts = [
        fact("Lead", turned(results["lead_mm"], unit), short),
        fact("Table swivelled to", dms_text(exact(case.inputs["helix_angle"])), "the helix angle"),
        fact(
            "Cutter marked", range_text(results), f"{cutter_pitch(results, unit)}, formative {_raw(results)}"
        ),
        fact(f"Depth of tooth, {system}", fine(results["whole_depth_mm"], unit), short),
    ]
    if results["mate"]:
        label = f"Centres with {case.inputs['mate_teeth']} T"
        facts.append(fact(label, turned(results["centre_distance_mm"], unit), short))
    return facts


def _raw(gear: Mapping[str, Any]) -> str:
    """Formative teeth, not rounded to a whole number."""
    return in_or_mm(exact(gear["cutter_teeth"]), "mm", 2)


def cutter_pitch(results: Mapping[str, Any], unit: Unit) -> str:
    """The normal pitch as the trade says it."""
    if unit == "inch":
        pitch = in_or_mm(exact(results["normal_diametral_pitch"]), "mm", 3)
        return f"{pitch.rstrip('0').rstrip('.')} DP"
    return f"module {in_or_mm(exact(results['normal_module_mm']), 'mm', 3).rstrip('0').rstrip('.')}"


def _lines(case: Case, unit: Unit) -> list[SizeLine]:
    results = case.results
    own = {**results, "teeth": case.inputs["teeth"]}
    gears = [own, results["mate"]] if results["mate"] else [own]

    def size(label: str, name: str, *, finished: bool = False, is_turned: bool = False) -> SizeLine:
        return size_line(label, of_each(gears, name, unit, is_turned=is_turned), finished=finished)

    return [
        size_line("Teeth", [str(gear["teeth"]) for gear in gears]),
        size("Transverse module", "transverse_module_mm"),
        size_line(
            "Transverse pressure angle",
            [degrees_text(gear["transverse_pressure_angle_deg"]) for gear in gears],
        ),
        size("Pitch diameter", "pitch_diameter_mm"),
        size("Outside diameter", "outside_diameter_mm", finished=True, is_turned=True),
        size("Root diameter", "root_diameter_mm"),
        size("Whole depth", "whole_depth_mm", finished=True),
        size("Lead of the helix", "lead_mm"),
        size("Axial pitch, least face for a tooth always in mesh", "axial_pitch_mm"),
        size("Chord, square to the tooth", "chordal_thickness_mm"),
        size("at addendum", "chordal_addendum_mm"),
        size_line("Formative teeth", [_raw(gear) for gear in gears]),
        size_line("Cutter, by its range", [range_text(gear) for gear in gears]),
    ]
