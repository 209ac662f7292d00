"""How the answer of `spur-gear` is shown: the blank, the facts at the machine, the sizes side by side."""

from collections.abc import Mapping
from typing import Any

from calc.answers.shapes import (
    WHY,
    Answer,
    Beware,
    Case,
    Fact,
    both,
    empty_answer,
    fact,
    unit_word,
    units_word,
)
from calc.catalogue.spur_gear import pitch_words
from calc.kernel.units import INCH, Unit, fine, in_or_mm, turned
from calc.kernel.wording import decimal_text, exact
from calc.sheets import Picture, SizeLine

#: Warnings that stop the work, each with its heading; the others are notes.
STOPS = {
    "centre-distance": "The drawing’s centres are others",
    "no-cutter": "No cutter of the set",
    "interference": "The tips reach too deep",
    "contact-low": "Hardly in touch",
    "span-off-flank": "The span misses the flank",
    "pin-low": "The pins stand too low",
    "pin-high": "The pins stand too high",
    "pin-sinks": "The pins sink in",
    "pin-bottoms": "The pins rest on the bottom",
}
#: The answer of a drawing that is only rounded is a note.
ROUNDED = "may be rounded"
DEPTH_WORDS = {"2.2+0.002": "2.2 + 0.002 in"}


def answer(case: Case) -> Answer:
    """The blank large, what is set at the machine beside it, both gears' sizes, and the two drawings."""
    unit = unit_of(case.inputs)
    big, small = both(exact(case.results["outside_diameter_mm"]), unit, 3, 2)
    shown = empty_answer("Turn the blank to", big, facts=_facts(case, unit))
    shown["big_small"] = small
    shown["kept_as"] = f"{big}, depth {fine(case.results['whole_depth_mm'], unit)} by {_system(case)}"
    shown["beware"], shown["notes"] = _warned(case)
    shown["sizes"] = {
        "title": "Sizes",
        "note": units_word(unit),
        "columns": _columns(case.results, case.inputs),
        "lines": _lines(case, unit),
    }
    shown["pictures"] = _pictures(case, unit)
    shown["units"], shown["why"] = units_word(unit), WHY
    return shown


def _system(case: Case) -> str:
    """The depth system as it is spoken of."""
    system = str(case.results["depth_system"])
    return DEPTH_WORDS.get(system, system)


def unit_of(inputs: Mapping[str, Any]) -> Unit:
    """A gear by its diametral pitch is worked and shown in inches, one by its module in millimetres."""
    return "inch" if inputs.get("diametral_pitch") is not None else "mm"


def range_text(own: Mapping[str, Any]) -> str:
    """The range marked on the cutter: ``55 to 134``, ``135 to a rack``, ``13``."""
    low, high = own["cutter_from_teeth"], own["cutter_to_teeth"]
    if low is None:
        return "none serves"
    return str(low) if low == high else f"{low} to {'a rack' if high is None else high}"


# ---- the box ---------------------------------------------------------------------------------------------


def _facts(case: Case, unit: Unit) -> list[Fact]:
    results, short = case.results, unit_word(unit)
    facts = [
        fact(f"Depth of tooth, {_system(case)}", fine(results["whole_depth_mm"], unit), short),
        fact("Cutter marked", range_text(results), pitch_words(dict(case.inputs))),
        _measure(case, unit, short),
    ]
    if results["mate"]:
        centres = results["running_centre_distance_mm"]
        label = f"Centres with {case.inputs['mate_teeth']} T"
        facts.append(fact(label, turned(centres, unit), short))
        facts.append(fact("Ratio", in_or_mm(exact(results["ratio"]), "mm", 3), "to 1"))
    else:
        at = f"{short}, at {fine(results['chordal_addendum_mm'], unit)}"
        facts.append(fact("Chord", fine(results["chordal_thickness_mm"], unit), at))
    return facts


def _measure(case: Case, unit: Unit, short: str) -> Fact:
    """The span, or the chord where the anvils would miss the flanks."""
    results = case.results
    play = "backlash off" if case.inputs.get("backlash") else "no backlash"
    if _span_goes(case, case.inputs["teeth"]):
        label = f"Span over {results['span_teeth']}"
        return fact(label, turned(results["span_mm"], unit), f"{short}, {play}")
    at = fine(results["chordal_addendum_mm"], unit)
    return fact(f"Chord, at {at}", fine(results["chordal_thickness_mm"], unit), f"{short}, {play}")


def _span_goes(case: Case, teeth: int) -> bool:
    """Whether the anvils of the span touch the flanks of the gear of so many teeth."""
    off = (one["text"] for one in case.warnings if one["code"] == "span-off-flank")
    return not any(f" of the {teeth} teeth" in text for text in off)


def _warned(case: Case) -> tuple[list[Beware], list[str]]:
    """What stops the work, under headings, and the notes."""
    beware: list[Beware] = []
    notes: list[str] = []
    for one in case.warnings:
        title = STOPS.get(one["code"])
        if title and ROUNDED not in one["text"]:
            beware.append({"title": title, "text": one["text"]})
        else:
            notes.append(one["text"])
    return beware, notes


# ---- the sizes side by side ------------------------------------------------------------------------------


def _columns(results: Mapping[str, Any], inputs: Mapping[str, Any]) -> list[str]:
    mate = results["mate"]
    if not mate:
        return ["Gear"]
    if inputs["teeth"] == mate["teeth"]:
        return ["Gear", "Mate"]
    return ["Wheel", "Pinion"] if inputs["teeth"] > mate["teeth"] else ["Pinion", "Wheel"]


def _lines(case: Case, unit: Unit) -> list[SizeLine]:
    own = {**case.results, "teeth": case.inputs["teeth"]}
    gears = [own, case.results["mate"]] if case.results["mate"] else [own]

    def sizes(label: str, name: str, *, finished: bool = False, is_turned: bool = False) -> SizeLine:
        show = turned if is_turned else fine
        cells = ["" if gear[name] is None else show(gear[name], unit) for gear in gears]
        return {"label": label, "cells": cells, "finished": finished}

    def words(label: str, cells: list[str]) -> SizeLine:
        return {"label": label, "cells": cells, "finished": False}

    lines = [
        words("Teeth", [str(gear["teeth"]) for gear in gears]),
        sizes("Pitch diameter", "pitch_diameter_mm"),
        sizes("Outside diameter", "outside_diameter_mm", finished=True, is_turned=True),
        sizes("Root diameter", "root_diameter_mm"),
        sizes("Whole depth", "whole_depth_mm", finished=True),
        sizes("Chordal thickness", "chordal_thickness_mm"),
        sizes("at addendum", "chordal_addendum_mm"),
        sizes(f"Span over {'; over '.join(str(gear['span_teeth']) for gear in gears)}", "span_mm"),
    ]
    if case.inputs.get("pin_diameter") is not None:
        pin = decimal_text(exact(case.inputs["pin_diameter"]) / (INCH if unit == "inch" else 1), 4)
        lines.append(sizes(f"Over pins {pin}", "over_pins_mm"))
    lines.append(words("Cutter, by its range", [range_text(gear) for gear in gears]))
    return [*lines, words(_undercut_label(gears), [_undercut(gear, gears) for gear in gears])]


def _undercut_label(gears: list[dict[str, Any]]) -> str:
    limits = {in_or_mm(exact(gear["undercut_limit_teeth"]), "mm", 1) for gear in gears}
    return f"Undercut by a rack, below {limits.pop()} teeth" if len(limits) == 1 else "Undercut by a rack"


def _undercut(gear: Mapping[str, Any], gears: list[dict[str, Any]]) -> str:
    said = "yes" if gear["undercut"] else "none"
    if len({one["undercut_limit_teeth"] for one in gears}) == 1:
        return said
    return f"{said}, below {in_or_mm(exact(gear['undercut_limit_teeth']), 'mm', 1)}"


# ---- the drawings ----------------------------------------------------------------------------------------


def _pictures(case: Case, unit: Unit) -> list[Picture]:
    inputs, results = case.inputs, case.results
    names = ", ".join(_columns(results, inputs)).capitalize()
    is_open = inputs.get("face_width") is None
    return [
        {
            "kind": "gear-blank",
            "figures": _shared(case, unit) | _blank(case),
            "strong": f"{names}, blank in section",
            "text": f"drawn to scale{'; the face as usual, none is given' if is_open else ''}",
            "wide": True,
        },
        {
            "kind": "gear-tooth",
            "figures": _shared(case, unit) | _tooth(case),
            "strong": f"Tooth of the {inputs['teeth']}",
            "text": _tooth_words(inputs, results),
            "wide": False,
        },
    ]


def _shared(case: Case, unit: Unit) -> dict[str, Any]:
    """What both drawings are made from."""
    inputs, results = case.inputs, case.results
    return {
        "teeth": inputs["teeth"],
        "module": float(results["module_mm"]),
        "pressure_angle": float(inputs["pressure_angle"]),
        "whole_depth": float(results["whole_depth_mm"]),
        "shift": float(inputs.get("profile_shift") or 0),
        "backlash": float(inputs.get("backlash") or 0),
        "unit": unit,
    }


def _blank(case: Case) -> dict[str, Any]:
    face, centres = case.inputs.get("face_width"), case.results["running_centre_distance_mm"]
    return {
        "mate_teeth": case.inputs.get("mate_teeth"),
        "centres": None if centres is None else float(centres),
        "face_width": None if face is None else float(face),
    }


def _tooth(case: Case) -> dict[str, Any]:
    results, turned = case.results, case.inputs.get("outside_diameter_measured")
    short = 0.0 if turned is None else float(exact(results["outside_diameter_mm"]) - exact(turned)) / 2
    return {
        "chordal_thickness": float(results["chordal_thickness_mm"]),
        "chordal_addendum": float(results["chordal_addendum_mm"]),
        "short_of_tip": short,
    }


def _tooth_words(inputs: Mapping[str, Any], results: Mapping[str, Any]) -> str:
    angle = decimal_text(exact(inputs["pressure_angle"]), 4)
    words = f"{angle}° involute, the foot as a disc cutter leaves it; drawn to scale"
    return f"{words}. A rack would undercut it" if results["undercut"] else words
