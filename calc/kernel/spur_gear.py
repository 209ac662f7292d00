"""Kernel room: a spur gear and its mate, as they are turned, cut and measured."""

from fractions import Fraction
from typing import Any

from calc.kernel.spur_gear_cautions import cautions
from calc.kernel.spur_gear_cutters import cutter_for, cutter_step
from calc.kernel.spur_gear_entries import (
    METRIC,
    MILLING,
    NAVY,
    NAVY_DEPTH,
    PROVED,
    TABLES,
    TEXTBOOKS,
    asked,
    read_pitch,
)
from calc.kernel.spur_gear_measuring import (
    chordal_addendum,
    chordal_steps,
    chordal_thickness,
    over_pins,
    pin_steps,
    span,
    span_step,
)
from calc.kernel.spur_gear_mesh import Mesh, mesh_of, mesh_steps, undercut_step
from calc.kernel.spur_gear_sizes import Gear, gears_of, size_steps, thickness_steps
from calc.kernel.working import Outcome, Step

SOURCE_KEYS = {
    NAVY: "navedtra14345",
    NAVY_DEPTH: "navedtra14345",
    METRIC: "metric_gear_technology",
    MILLING: "milling1914",
    TABLES: "gear_tables",
    TEXTBOOKS: "gear_textbooks",
    PROVED: "gear_rules",
}


def spur_gear(
    *,
    teeth: int,
    module: Fraction | None = None,
    diametral_pitch: Fraction | None = None,
    mate_teeth: int | None = None,
    pressure_angle: Fraction = Fraction(20),
    depth_system: str | None = None,
    cutter_set: str = "8",
    profile_shift: Fraction = Fraction(0),
    span_teeth: int | None = None,
    face_width: Fraction | None = None,
    backlash: Fraction | None = None,
    pin_diameter: Fraction | None = None,
    outside_diameter_measured: Fraction | None = None,
    drawing_centre_distance: Fraction | None = None,
) -> Outcome:
    """Sizes of a spur gear and its mate, the cutter for each, and how their teeth are measured.

    Use it before a blank is turned: it gives the diameter, the depth, the cutter by its range, and
    the chord, the span and the size over pins that the finished teeth must show.

    Parameters
    ----------
    teeth : int
        Teeth of the gear. [count] 6 to 1000
    module : Fraction, optional
        Pitch diameter to a tooth; this or the diametral pitch. [mm] 0.2 mm to 25 mm
    diametral_pitch : Fraction, optional
        Teeth to an inch of pitch diameter; this or the module. [per inch] 1 DP to 120 DP
    mate_teeth : int, optional
        Teeth of the gear it runs with. [count] 6 to 1000
    pressure_angle : Fraction
        Pressure angle of the cutter. [degree] 14° to 30°
    depth_system : str, optional
        Whole depth in modules; by default 2.157 with a diametral pitch and 2.25 with a module.
        [-] 2.157 or 2.25 or 2.2+0.002 or 2.4
    cutter_set : str
        Cutters in the set; 15 has the half numbers. [-] 8 or 15
    profile_shift : Fraction
        How far the cutter is held out, in modules. [-] -0.5 to 1
    span_teeth : int, optional
        Teeth between the anvils; by default teeth * angle / 180 rounded up. [count] 1 to 500
    face_width : Fraction, optional
        Width of the teeth, for the drawing. [mm] 0.5 mm to 500 mm
    backlash : Fraction, optional
        Play of the pair along the pitch circle; half comes off each gear's tooth. [mm] 0 mm to 5 mm
    pin_diameter : Fraction, optional
        Diameter of the measuring pins. [mm] 0.1 mm to 100 mm
    outside_diameter_measured : Fraction, optional
        Outside diameter of this gear as turned. [mm] 1 mm to 30000 mm
    drawing_centre_distance : Fraction, optional
        The centre distance the drawing gives. [mm] 1 mm to 30000 mm

    Returns
    -------
    Outcome
        Lengths [millimetre]: ``pitch_diameter_mm``, ``outside_diameter_mm``, ``root_diameter_mm``,
        ``base_diameter_mm``, ``circular_pitch_mm``, ``addendum_mm``, ``whole_depth_mm``,
        ``tooth_thickness_mm`` along the pitch circle, ``chordal_thickness_mm``,
        ``chordal_addendum_mm``, ``span_mm`` and ``over_pins_mm``, each [millimetre];
        ``span_teeth`` [count], the teeth of the span. The cutter: ``cutter_number`` [-] as stamped,
        ``cutter_from_teeth`` [count] and ``cutter_to_teeth`` [count], none to a rack.
        ``undercut`` [-] and ``undercut_limit_teeth`` [count]. With a mate
        ``centre_distance_mm`` and ``running_centre_distance_mm`` [millimetre], ``ratio`` [count] of
        the larger to the smaller, ``contact_ratio`` [count], and ``mate`` [-], its own sizes under
        the same names. As used: ``depth_system`` [-], ``module_mm`` [millimetre].

    Raises
    ------
    OutOfRange
        An entry is outside its limits; module and diametral pitch are both given, or neither; the
        drawing's centres are given without a mate; the tooth would come to a point.

    Notes
    -----
    Pitch diameter = teeth / diametral pitch = teeth * module; outside diameter two modules and twice
    the shift more; dedendum = whole depth - addendum.
    Half angle of a tooth = 90 degrees / teeth + shift and less backlash; chordal thickness = pitch
    diameter * sine of it; chordal addendum = addendum + pitch radius * (1 - cosine of it).
    Span over k teeth = module * cos(angle) * (pi * (k - 1/2) + teeth * inv(angle)) + 2 * shift *
    module * sin(angle). The mate is reckoned without shift and with the same pins.
    A disc cutter does not undercut as a rack does: ``undercut`` says where a rack would.
    The size over pins is none where the pin would not rest on the flanks. Contact is reckoned to the
    tip as measured where that is given, and never past a base circle; the ``centre_distance_mm`` is
    nominal, and ``running_centre_distance_mm`` differs from it where the gear is shifted.

    Examples
    --------
    >>> spur_gear(teeth=57, diametral_pitch=Fraction(8)).results["outside_diameter_mm"] / Fraction("25.4")
    Fraction(59, 8)

    Sources
    -------
    navedtra14345, App. III and IV: pitch and outside diameter, depth of 2.157.
    metric_gear_technology, sec. 10: chordal sizes. milling1914, p. 149: ranges of the cutters.
    gear_tables, depth of 2.25 and 2.4. gear_textbooks, smallest pinion. gear_rules, span, pins,
    contact.

    Checks
    ------
    navedtra14345#depth-one-pitch, metric_gear_technology#shifted-12, milling1914#cutter-21,
    gear_textbooks#rack-20, gear_rules#pins-20-24, gear_rules#gear-24-8dp, gear_rules#pair-57-17
    """
    question = asked(
        teeth=teeth,
        mate_teeth=mate_teeth,
        pitch=read_pitch(module, diametral_pitch),
        angle=pressure_angle,
        depth_system=depth_system,
        cutter_set=cutter_set,
        shift=profile_shift,
        span_teeth=span_teeth,
        face_width=face_width,
        backlash=backlash,
        pin=pin_diameter,
        measured=outside_diameter_measured,
        drawing_centres=drawing_centre_distance,
    )
    gear, mate = gears_of(question)
    mesh = mesh_of(gear, mate)
    working = tuple(_working(gear, mesh))
    keys = [SOURCE_KEYS[step.source] for step in working if step.source in SOURCE_KEYS]
    return Outcome(
        results=_sizes(gear) | _of_pair(gear, mesh),
        working=working,
        warnings=tuple(cautions(question, gear, mesh)),
        sources=tuple(dict.fromkeys(keys)),
    )


def _sizes(gear: Gear) -> dict[str, Any]:
    """The results that a gear has and its mate as well."""
    cutter = cutter_for(gear.teeth, gear.cutter_set)
    lengths: dict[str, Fraction | float | None] = {
        "pitch_diameter_mm": gear.pitch_diameter,
        "outside_diameter_mm": gear.outside_diameter,
        "root_diameter_mm": gear.root_diameter,
        "base_diameter_mm": gear.base_diameter,
        "circular_pitch_mm": gear.circular_pitch,
        "addendum_mm": gear.addendum,
        "whole_depth_mm": gear.whole_depth,
        "tooth_thickness_mm": gear.thickness,
        "chordal_thickness_mm": chordal_thickness(gear),
        "chordal_addendum_mm": chordal_addendum(gear),
        "span_mm": span(gear),
        "over_pins_mm": over_pins(gear),
    }
    return {
        **{name: None if length is None else gear.in_mm(length) for name, length in lengths.items()},
        "span_teeth": gear.span_teeth,
        "cutter_number": cutter.number if cutter else None,
        "cutter_from_teeth": cutter.lowest if cutter else None,
        "cutter_to_teeth": cutter.highest if cutter else None,
        "undercut": gear.is_undercut,
        "undercut_limit_teeth": gear.undercut_limit,
    }


def _of_pair(gear: Gear, mesh: Mesh | None) -> dict[str, Any]:
    """The results of the pair, none without a mate, and what was used."""
    return {
        "centre_distance_mm": gear.in_mm(mesh.centres) if mesh else None,
        "running_centre_distance_mm": gear.in_mm(mesh.running_centres) if mesh else None,
        "ratio": mesh.ratio if mesh else None,
        "contact_ratio": mesh.contact_ratio if mesh else None,
        "mate": {"teeth": mesh.mate.teeth} | _sizes(mesh.mate) if mesh else None,
        "depth_system": gear.depth_system,
        "module_mm": gear.in_mm(gear.pitch.module),
    }


def _working(gear: Gear, mesh: Mesh | None) -> list[Step]:
    """The lines of the gear, then of the pair, then of the mate."""
    steps = _of_gear(gear)
    return [*steps, *mesh_steps(mesh), *_of_gear(mesh.mate)] if mesh else steps


def _of_gear(gear: Gear) -> list[Step]:
    steps = size_steps(gear)
    cutter = cutter_for(gear.teeth, gear.cutter_set)
    if cutter:
        label = gear.label(f"cutter {cutter.number}, marked {cutter.range_text}: where its range begins")
        steps.append(cutter_step(label, gear.teeth, cutter, gear.cutter_set))
    return [
        *steps,
        *thickness_steps(gear),
        *chordal_steps(gear),
        span_step(gear),
        *pin_steps(gear),
        undercut_step(gear),
    ]
