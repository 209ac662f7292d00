"""How the answer of `bevel-pair` is shown: the blank and its angles, both gears' sizes, the section."""

from collections.abc import Mapping
from typing import Any

from calc.answers.gear_words import columns, degrees_text, minutes_text, of_each, warned
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
from calc.kernel.wording import exact
from calc.sheets import Picture, SizeLine


def answer(case: Case) -> Answer:
    """The blank large, its angles and the cutter beside it, both gears' sizes, the pair in section."""
    unit = unit_of(case.inputs)
    big, small = both(exact(case.results["outside_diameter_mm"]), unit, 3, 2)
    shown = empty_answer("Turn the blank to", big, facts=_facts(case, unit))
    shown["big_small"] = small
    shown["under"] = f"Face at {degrees_text(case.results['face_angle_deg'])} from the axis"
    shown["beware"], shown["notes"] = warned(case)
    shown["sizes"] = {
        "title": "Sizes",
        "note": units_word(unit),
        "columns": columns(case.inputs["teeth"], case.inputs["mate_teeth"]),
        "lines": _lines(case, unit),
    }
    shown["pictures"] = [_picture(case, unit)]
    shown["units"], shown["why"] = f"{units_word(unit)}, degrees", WHY
    return shown


def _facts(case: Case, unit: Unit) -> list[Fact]:
    results, short = case.results, unit_word(unit)
    system = DEPTH_WORDS.get(results["depth_system"], results["depth_system"])
    where = "all along" if case.inputs["tooth_depth"] == "parallel" else "at the large end"
    facts = [
        fact(
            "Head tilted to", degrees_text(results["root_angle_deg"]), minutes_text(results["root_angle_deg"])
        ),
        fact(
            "Cutter marked",
            range_text(results),
            f"{cutter_pitch(results, unit)}, formative {_raw(results)}",
        ),
        fact(f"Depth of tooth {where}", fine(results["whole_depth_mm"], unit), f"{short}, {system}"),
        fact("Back cone at", degrees_text(results["back_angle_deg"]), "from the axis"),
        fact("Crown to apex", turned(results["crown_to_apex_mm"], unit), short),
    ]
    if results["set_over_mm"] is not None:
        facts += [
            fact("Set-over, each side", fine(results["set_over_mm"], unit), short),
            fact("Roll, opposite to it", f"{in_or_mm(exact(results['roll_deg']), 'mm', 3)}°"),
        ]
    return facts


def _raw(gear: Any) -> str:
    """Formative teeth, not rounded to a whole number."""
    return in_or_mm(exact(gear["formative_teeth"]), "mm", 2)


def cutter_pitch(results: Mapping[str, Any], unit: Unit) -> str:
    """The pitch of the cutter as the trade says it, whichever end it was given for."""
    module = exact(results["cutter_module_mm"])
    if unit == "inch":
        return f"{in_or_mm(1 / (module / exact('25.4')), 'mm', 3).rstrip('0').rstrip('.')} DP"
    return f"module {in_or_mm(module, 'mm', 3).rstrip('0').rstrip('.')}"


def _lines(case: Case, unit: Unit) -> list[SizeLine]:
    results = case.results
    gears = [{**results, "teeth": case.inputs["teeth"]}, results["mate"]]

    def angle(label: str, name: str, *, finished: bool = False) -> SizeLine:
        return size_line(label, [degrees_text(gear[name]) for gear in gears], finished=finished)

    def size(label: str, name: str, *, finished: bool = False, is_turned: bool = False) -> SizeLine:
        return size_line(label, of_each(gears, name, unit, is_turned=is_turned), finished=finished)

    return [
        size_line("Teeth", [str(gear["teeth"]) for gear in gears]),
        size("Pitch diameter, large end", "pitch_diameter_mm"),
        size("Outside diameter, large end", "outside_diameter_mm", finished=True, is_turned=True),
        size("Outside diameter, small end", "outside_diameter_small_mm", is_turned=True),
        angle("Pitch angle", "pitch_angle_deg"),
        angle("Face angle, top slide", "face_angle_deg", finished=True),
        angle("Back cone, top slide", "back_angle_deg", finished=True),
        angle("Root angle, tilt of the head", "root_angle_deg", finished=True),
        size("Crown to apex, large end", "crown_to_apex_mm", is_turned=True),
        size("Crown to apex, small end", "crown_to_apex_small_mm", is_turned=True),
        size("Pitch circle to apex", "pitch_to_apex_mm", is_turned=True),
        size("Chord, large end", "chordal_thickness_large_mm"),
        size("at addendum", "chordal_addendum_large_mm"),
        size("Chord, small end", "chordal_thickness_small_mm"),
        size("at addendum", "chordal_addendum_small_mm"),
        size_line("Formative teeth", [_raw(gear) for gear in gears]),
        size_line("Cutter, by its range", [range_text(gear) for gear in gears]),
        *_shared_lines(case, unit),
    ]


def _shared_lines(case: Case, unit: Unit) -> list[SizeLine]:
    """What both gears have alike."""
    results = case.results
    cells = {
        "Cone distance": turned(results["cone_distance_mm"], unit),
        "Longest sound face": turned(results["face_width_limit_mm"], unit),
        "Whole depth, large end": fine(results["whole_depth_mm"], unit),
        "Whole depth, small end": fine(results["whole_depth_small_mm"], unit),
        "Addendum, large end": fine(results["addendum_mm"], unit),
        "Dedendum, large end": fine(results["dedendum_mm"], unit),
        "Small-end factor": in_or_mm(exact(results["small_end_factor"]), "mm", 4),
    }
    return [
        size_line(label, [cell, cell], finished=label.startswith("Whole")) for label, cell in cells.items()
    ]


def _picture(case: Case, unit: Unit) -> Picture:
    inputs, results = case.inputs, case.results
    mate = results["mate"]
    figures: dict[str, Any] = {
        "teeth": inputs["teeth"],
        "mate_teeth": inputs["mate_teeth"],
        "pitch_angle": float(results["pitch_angle_deg"]),
        "mate_pitch_angle": float(mate["pitch_angle_deg"]),
        "cone_distance": float(results["cone_distance_mm"]),
        "face_width": float(inputs["face_width"]),
        "addendum": float(results["addendum_mm"]),
        "dedendum": float(results["dedendum_mm"]),
        "angles": [
            [float(gear[f"{name}_angle_deg"]) for name in ("face", "root", "back")]
            for gear in (results, mate)
        ],
        "is_parallel": inputs["tooth_depth"] == "parallel",
        "unit": unit,
    }
    return {
        "kind": "bevel-pair",
        "figures": figures,
        "strong": "The pair in section",
        "text": "angles from each gear’s own axis; drawn to scale, hubs and bores left out",
        "wide": True,
        "hatches": ["ci"],
    }
