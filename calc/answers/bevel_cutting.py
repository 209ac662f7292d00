"""How the answer of `bevel-cutting` is shown: settings of three rounds, the teeth they leave, the pair."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from calc.answers.bevel_cutting_pictures import pictures_of
from calc.answers.gear_words import columns as names_of
from calc.answers.gear_words import degrees_text
from calc.answers.shapes import (
    WHY,
    Answer,
    Case,
    Fact,
    Row,
    StepLine,
    Table,
    columns,
    empty_answer,
    fact,
    size_line,
    unit_word,
    units_word,
)
from calc.answers.spur_gear import range_text, unit_of
from calc.kernel.units import INCH, Unit, fine, turned
from calc.kernel.wording import exact, fixed, move_text
from calc.sheets import SizeLine

#: The plans by the name of their result, best first; the last is there where settings were tried.
PLANS = (("best", "best"), ("textbook", "by the textbook"), ("given", "tried"))
BEWARE = {
    "jams": "The pair jams",
    "taper-apart": "Taper teeth are another method",
    "same-hand": "Table and roll go opposite ways",
    "quarter-none": "No quarter in whole holes",
    "belong-together": "The two plans belong together",
    "cutter-not-owned": "The cutter is not to hand",
    "shaft-unchecked": "An angle that was not checked",
}
#: Stations of the face that the table of errors has.
FEW = 4
#: One step of each setting, each way: cutter numbers, holes, and lengths by unit. [mm]
STEP_MM: Mapping[Unit, Fraction] = {"inch": INCH / 1000, "mm": Fraction(2, 100)}


def answer(case: Case) -> Answer:
    """The settings of the gear large, both members beside each other, how the pair runs, the pictures."""
    unit, plan = unit_of(case.inputs), shown_plan(case)
    shown = empty_answer(
        f"Cut the {case.inputs['teeth']} with",
        f"No. {plan['cutter_number']}, head at {degrees_text(plan['head_tilt_deg'])}",
        _under(case),
        _facts(plan, unit),
    )
    shown["big_small"] = f"{range_text(plan)} teeth"
    shown["kept_as"] = (
        f"No. {plan['cutter_number']}, {roll_text(plan)} each side, {fine(plan['set_over_mm'], unit)}"
    )
    shown["beware"] = [
        {"title": BEWARE[one["code"]], "text": one["text"]} for one in case.warnings if one["code"] in BEWARE
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in BEWARE]
    shown["sizes"] = {
        "title": "Settings and blanks",
        "note": f"{units_word(unit)}, degrees",
        "columns": names_of(case.inputs["teeth"], case.inputs["mate_teeth"]),
        "lines": _lines(case, plan, unit),
    }
    shown["pictures"] = pictures_of(case, plan)
    shown["steps"] = _steps(case, plan, unit)
    shown["units"], shown["why"] = f"{units_word(unit)}, degrees", WHY
    return shown


def shown_plan(case: Case) -> Mapping[str, Any]:
    """The plan that the page is about: what was tried where something was, else the best."""
    plan: Mapping[str, Any] = case.results["given"] or case.results["best"]
    return plan


def _under(case: Case) -> str:
    best, by_rule = case.results["best"], case.results["textbook"]
    unit = unit_of(case.inputs)
    error, rule = (fine(one["running_error_mm"], unit) for one in (best, by_rule))
    tried = "Settings tried. " if case.results["given"] else ""
    return f"{tried}The best plan runs within {error} {unit_word(unit)}, the textbook’s within {rule}."


def roll_text(way: Mapping[str, Any]) -> str:
    """A roll as it is counted: ``16 in 39``; the crank's part of a turn where no circle gives it."""
    if way["roll_circle"] is None:
        return degrees_text(way["roll_deg"])
    return move_text(way["roll_turns"], way["roll_holes"], way["roll_circle"])


def index_text(way: Mapping[str, Any]) -> str:
    return move_text(way["index_turns"], way["index_holes"], way["index_circle"])


def _facts(plan: Mapping[str, Any], unit: Unit) -> list[Fact]:
    short = unit_word(unit)
    depth = fine(plan["depth_mm"], unit)
    less = fine(plan["depth_mm"] - plan["trim_shallower_mm"], unit)
    return [
        fact("Index", index_text(plan), f"arms over {plan['index_sector_holes']} holes"),
        fact("Roll each side", roll_text(plan), f"{degrees_text(plan['roll_deg'])} of the blank"),
        fact("Set over each side", fine(plan["set_over_mm"], unit), short),
        fact("Depth, first round", depth, f"{short}, then {less}"),
        fact("Running error", fine(plan["running_error_mm"], unit), short),
        fact("Backlash", fine(plan["backlash_mm"], unit), short),
    ]


def _lines(case: Case, plan: Mapping[str, Any], unit: Unit) -> list[SizeLine]:
    """Settings, blanks and what to measure, both members."""
    ways = (plan, plan["mate"])
    blanks = (case.results["blank"], case.results["mate_blank"])

    def setting(label: str, text: Sequence[str], *, finished: bool = False) -> SizeLine:
        return size_line(label, text, finished=finished)

    def size(label: str, name: str, *, finished: bool = False) -> SizeLine:
        return setting(label, [turned(one[name], unit) for one in blanks], finished=finished)

    def each(label: str, name: str, *, finished: bool = False) -> SizeLine:
        return setting(label, [fine(way[name], unit) for way in ways], finished=finished)

    return [
        setting("Teeth", [str(case.inputs["teeth"]), str(case.inputs["mate_teeth"])]),
        setting("Tilt of the head", [degrees_text(way["head_tilt_deg"]) for way in ways], finished=True),
        setting("Cutter", [f"No. {way['cutter_number']}" for way in ways]),
        setting("marked", [range_text(way) for way in ways]),
        setting("Index", [index_text(way) for way in ways]),
        each("Depth, first round", "depth_mm", finished=True),
        setting(
            "Depth, trimming rounds",
            [fine(way["depth_mm"] - way["trim_shallower_mm"], unit) for way in ways],
            finished=True,
        ),
        each("Set-over, each side", "set_over_mm", finished=True),
        setting("Roll, each side", [roll_text(way) for way in ways]),
        size("Outside diameter, large end", "outside_diameter_mm", finished=True),
        size("Outside diameter, small end", "outside_diameter_small_mm"),
        setting("Face angle", [degrees_text(one["face_angle_deg"]) for one in blanks], finished=True),
        size("Crown to apex", "crown_to_apex_mm"),
        each("Tooth as it will be, small end", "tooth_small_mm"),
        each("large end", "tooth_large_mm"),
        setting("Chord wanted, small end", [fine(one["chordal_thickness_small_mm"], unit) for one in blanks]),
        setting("at addendum", [fine(one["chordal_addendum_small_mm"], unit) for one in blanks]),
        setting("Chord wanted, large end", [fine(one["chordal_thickness_large_mm"], unit) for one in blanks]),
        setting("at addendum", [fine(one["chordal_addendum_large_mm"], unit) for one in blanks]),
    ]  # fmt: skip


# ---- the rows --------------------------------------------------------------------------------------------


def tables(case: Case) -> list[Table]:
    """The rounds in words, the plans side by side, the flanks along the face."""
    unit = unit_of(case.inputs)
    return [
        _rounds(case),
        _running(case, unit),
        _settings(case, unit),
        _flanks(case, unit),
        *_tapers(case, unit),
    ]


def _table(key: str, title: str, note: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Table:
    shown: list[Row] = [{"id": "", "cells": list(cells), "is_chosen": False} for cells in rows]
    return {
        "key": key, "title": title, "note": note, "columns": columns(*heads), "rows": shown,
        "may_choose": False,
    }  # fmt: skip


def _rounds(case: Case) -> Table:
    rows = [
        [row["round"], row["cutter"], row["table"], row["blank"], row["flank"]]
        for row in case.results["directions"]
    ]
    note = "seen along the feed from the small end; the same for both members"
    return _table("rounds", "The three rounds", note, ("Round", "Cutter", "Table", "Blank", "Trims"), rows)


def _named(case: Case) -> list[tuple[str, Mapping[str, Any]]]:
    """The plans there are, each by its name."""
    return [(words, case.results[name]) for name, words in PLANS if case.results[name] is not None]


def _running(case: Case, unit: Unit) -> Table:
    rows = [
        [
            words.capitalize(),
            fine(plan["running_error_mm"], unit),
            fine(plan["backlash_mm"], unit) + (", jams" if plan["backlash_mm"] < 0 else ""),
            f"{round(100 * plan['bearing'])} %",
        ]
        for words, plan in _named(case)
    ]
    note = f"{units_word(unit)}, at the pitch line of the middle of the face"
    heads = ("Plan", "#Running error", "#Backlash", "#Of the face in bearing")
    return _table("running", "How the pair runs", note, heads, rows)


def _settings(case: Case, unit: Unit) -> Table:
    rows = []
    for words, plan in _named(case):
        for teeth, way in ((case.inputs["teeth"], plan), (case.inputs["mate_teeth"], plan["mate"])):
            rows.append(
                [
                    f"The {teeth}, {words}",
                    f"{way['cutter_number']}",
                    roll_text(way),
                    fine(way["set_over_mm"], unit),
                    fine(way["trim_shallower_mm"], unit),
                    fine(way["worst_left_on_mm"], unit),
                    fine(way["worst_cut_away_mm"], unit),
                ]
            )
    heads = (
        "Member", "Cutter No.", "Roll each side", "#Set-over", "#Trims shallower", "#Left on", "#Cut away",
    )  # fmt: skip
    return _table(
        "settings", "The plans side by side", f"{units_word(unit)}; the worst of a flank", heads, rows
    )


def _flanks(case: Case, unit: Unit) -> Table:
    plan, teeth = shown_plan(case), (case.inputs["teeth"], case.inputs["mate_teeth"])
    flanks = (plan["flank"], plan["mate"]["flank"])
    rows = []
    for own, other in zip(*flanks, strict=True):
        if round(own["station"] * 16) % FEW:
            continue
        cells = [fine(row[name], unit) for row in (own, other) for name in ("left_on_mm", "cut_away_mm")]
        rows.append([_place(own["station"]), *cells])
    heads = ("Place", *(f"#The {count}, {word}" for count in teeth for word in ("left on", "cut away")))
    note = f"{units_word(unit)}; one flank, square to it, the worst at each place"
    return _table("flanks", "Along the face", note, heads, rows)


def _place(station: float) -> str:
    if station in (0, 1):
        return "small end" if station == 0 else "large end"
    return "middle" if station == 0.5 else f"{round(100 * station)} % along"


def _tapers(case: Case, unit: Unit) -> list[Table]:
    """Teeth that taper, by the bevel cutter as measured: another method, so another table."""
    found = case.results["taper"]
    if found is None:
        return []
    members = ((case.inputs["teeth"], found), (case.inputs["mate_teeth"], found["mate"]))
    rows = [
        [
            f"The {teeth}",
            degrees_text(one["head_tilt_deg"]),
            degrees_text(one["face_angle_deg"]),
            fine(one["depth_mm"], unit),
            fine(one["set_over_mm"], unit),
            roll_text(one),
            index_text(one),
            fine(one["roll_missed_mm"], unit),
        ]
        for teeth, one in members
        if one and "set_over_mm" in one
    ]
    heads = (
        "Member", "#Head tilted to", "#Face at", "#Depth", "#Set-over", "Roll, the other way", "Index",
        "#Left on by the holes",
    )  # fmt: skip
    note = f"{units_word(unit)}, degrees; another method on another blank"
    return [_table("taper", "Teeth that taper, by the cutter as measured", note, heads, rows)]


# ---- one step each way -----------------------------------------------------------------------------------


def _steps(case: Case, plan: Mapping[str, Any], unit: Unit) -> list[StepLine]:
    """Each setting with what would be entered to try one step less or more of it."""
    found = _steps_of("try_", str(case.inputs["teeth"]), plan, unit)
    if not case.inputs.get("mate_cut"):
        found += _steps_of("mate_try_", str(case.inputs["mate_teeth"]), plan["mate"], unit)
    return found


def _steps_of(prefix: str, teeth: str, way: Mapping[str, Any], unit: Unit) -> list[StepLine]:
    now = {
        f"{prefix}cutter": str(way["cutter_number"]),
        f"{prefix}set_over": _length(way["set_over_mm"], unit),
        f"{prefix}trim_shallower": _length(way["trim_shallower_mm"], unit),
    }
    if way["roll_circle"]:
        now[f"{prefix}roll"] = _part(way, 0)
    lines = [
        _step(now, f"{prefix}cutter", f"The {teeth}: cutter No.", *_numbers(int(way["cutter_number"]))),
        _step(now, f"{prefix}set_over", f"The {teeth}: set-over", *_lengths(way["set_over_mm"], unit)),
        _step(
            now, f"{prefix}trim_shallower", f"The {teeth}: trims shallower by",
            *_lengths(way["trim_shallower_mm"], unit),
        ),
    ]  # fmt: skip
    if way["roll_circle"]:
        lines.insert(1, _step(now, f"{prefix}roll", f"The {teeth}: roll", _part(way, -1), _part(way, 1)))
    return lines


def _step(now: Mapping[str, str], name: str, label: str, less: str, more: str) -> StepLine:
    return {
        "label": label,
        "now": now[name],
        "less": {**now, name: less} if less else {},
        "more": {**now, name: more} if more else {},
        "less_words": less,
        "more_words": more,
    }


def _part(way: Mapping[str, Any], holes: int) -> str:
    """A roll as the crank's part of a turn, so many holes more: ``16/39``."""
    spaces = way["roll_turns"] * way["roll_circle"] + way["roll_holes"] + holes
    return f"{spaces}/{way['roll_circle']}" if spaces > 0 else ""


def _numbers(number: int) -> tuple[str, str]:
    """The cutters beside one: of fewer teeth is a higher number."""
    return (str(number - 1) if number > 1 else "", str(number + 1) if number < 8 else "")


def _length(mm: float, unit: Unit) -> str:
    return f"{fixed(exact(mm) / (INCH if unit == 'inch' else 1), 4)} {unit_word(unit)}"


def _lengths(mm: float, unit: Unit) -> tuple[str, str]:
    step = float(STEP_MM[unit])
    less = mm - step
    return (_length(less, unit) if less >= 0 else "", _length(mm + step, unit))
