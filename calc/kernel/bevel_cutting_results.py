"""Kernel room: the plans of a bevel pair under the names of the results."""

from math import radians
from typing import Any

from calc.kernel.bevel_cutting_entries import Cutting
from calc.kernel.bevel_cutting_plans import Plan, Plans, Task, Way, tasks_of
from calc.kernel.bevel_cutting_rolls import Head
from calc.kernel.bevel_cutting_section import Member, flank_errors, tooth_chord
from calc.kernel.bevel_pair_sizes import Bevel

#: What a builder does in each round, seen along the feed from the small end, the blank's face up. At the
#: handles the table goes one way and the roll the other, because the table carries the blank.
DIRECTIONS = (
    {
        "round": "first",
        "cutter": "on the centre of the blank",
        "table": "on its centre setting",
        "blank": "on its central setting",
        "flank": "neither: the space is cut to full depth",
    },
    {
        "round": "second",
        "cutter": "to the right of the blank’s centre",
        "table": "to the left",
        "blank": "rolled so that its top goes to the right",
        "flank": "left flank of each space, most at the large end",
    },
    {
        "round": "third",
        "cutter": "to the left of the blank’s centre",
        "table": "to the right",
        "blank": "rolled so that its top goes to the left",
        "flank": "right flank of each space, most at the large end",
    },
)


def results_of(question: Cutting, plans: Plans) -> dict[str, Any]:
    """Every result of the sum."""
    tasks, module = tasks_of(question), question.module_mm
    in_mm = question.pitch.in_mm
    cones = question.cones
    return {
        "textbook": _plan(question, tasks, plans.textbook),
        "best": _plan(question, tasks, plans.best),
        "given": None if plans.given is None else _plan(question, tasks, plans.given),
        **_rolls("", tasks[0], module),
        **_rolls("mate_", tasks[1], module),
        "directions": [dict(row) for row in DIRECTIONS],
        "blank": _blank(question.gear),
        "mate_blank": _blank(question.mate),
        "cone_distance_mm": cones.cone_distance * float(in_mm),
        "module_large_mm": float(cones.large_module) * float(in_mm),
        "cutter_module_mm": cones.cutter_module * in_mm,
        "whole_depth_mm": cones.whole_depth * in_mm,
        "depth_system": cones.question.depth_system,
    }


def _rolls(prefix: str, task: Task, module: float) -> dict[str, Any]:
    """What the plates make of the quarter."""
    return {
        f"{prefix}roll_exact": bool(task.head.quarter_circles),
        f"{prefix}quarter_circles": sorted(task.head.quarter_circles),
        f"{prefix}quarter_missed_mm": quarter_missed(task.member, task.head) * module,
    }


def quarter_missed(member: Member, head: Head) -> float:
    """What the textbook's roll, its set-over put right, leaves on at the large pitch line. [modules]"""
    short = head.quarter - head.rolls()[0].crank
    grown = member.small_radius * member.face / member.small_distance
    return radians(float(short * 360 / head.ratio)) * grown


def _plan(question: Cutting, tasks: tuple[Task, Task], plan: Plan) -> dict[str, Any]:
    """One plan: the gear, its mate, and how the pair runs."""
    module = question.module_mm
    return {
        **_of_way(question.gear, tasks[0], plan.gear, module),
        "mate": _of_way(question.mate, tasks[1], plan.mate, module),
        "running_error_mm": plan.run.error * module,
        "backlash_mm": plan.run.backlash * module,
        "bearing": plan.run.bearing,
    }


def _of_way(bevel: Bevel, task: Task, way: Way, module: float) -> dict[str, Any]:
    """How one member is set and cut, and the teeth that leaves."""
    in_mm = bevel.cones.question.pitch.in_mm
    rows = [
        {"station": station, "left_on_mm": left_on * module, "cut_away_mm": cut_away * module}
        for station, left_on, cut_away in flank_errors(task.member, way.settings)
    ]
    return {
        "cutter_number": way.cutter.number,
        "cutter_from_teeth": way.cutter.lowest,
        "cutter_to_teeth": way.cutter.highest,
        "head_tilt_deg": bevel.pitch_angle,
        "depth_mm": float(bevel.cones.whole_depth * in_mm),
        "trim_shallower_mm": way.settings.shallower * module,
        "set_over_mm": way.settings.set_over * module,
        "roll_deg": float(way.crank * 360 / task.head.ratio),
        **_crank(task.head, way),
        "flank": rows,
        "worst_left_on_mm": max(row["left_on_mm"] for row in rows),
        "worst_cut_away_mm": max(row["cut_away_mm"] for row in rows),
        "tooth_small_mm": tooth_chord(task.member, way.settings, 0) * module,
        "tooth_large_mm": tooth_chord(task.member, way.settings, 1) * module,
    }


def _crank(head: Head, way: Way) -> dict[str, Any]:
    """Roll and index on the one circle; of a gear rolled by other means the roll has none."""
    circle = way.roll.circle if way.roll else head.index_circles[0]
    turns, holes = divmod(int(head.move * circle), circle)
    rolled = divmod(way.roll.spaces, circle) if way.roll else (None, None)
    return {
        "roll_turns": rolled[0],
        "roll_circle": way.roll.circle if way.roll else None,
        "roll_holes": rolled[1],
        "index_circle": circle,
        "index_turns": turns,
        "index_holes": holes,
        "index_sector_holes": holes + 1,
    }


def _blank(bevel: Bevel) -> dict[str, Any]:
    """The blank, and the chords wanted at both ends."""
    in_mm = float(bevel.cones.question.pitch.in_mm)
    return {
        "pitch_diameter_mm": float(bevel.pitch_diameter) * in_mm,
        "outside_diameter_mm": bevel.outside_diameter * in_mm,
        "outside_diameter_small_mm": bevel.small_outside_diameter * in_mm,
        "face_angle_deg": bevel.face_angle,
        "formative_teeth": bevel.formative,
        "crown_to_apex_mm": bevel.crown_to_apex * in_mm,
        "chordal_thickness_small_mm": bevel.chord("small") * in_mm,
        "chordal_addendum_small_mm": bevel.chordal_addendum("small") * in_mm,
        "chordal_thickness_large_mm": bevel.chord("large") * in_mm,
        "chordal_addendum_large_mm": bevel.chordal_addendum("large") * in_mm,
    }
