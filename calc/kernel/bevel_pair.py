"""Kernel room: a pair of straight bevel gears, taper or parallel, as blanks are turned and teeth measured."""

from fractions import Fraction
from typing import Any

from calc.kernel.bevel_pair_cautions import cautions
from calc.kernel.bevel_pair_entries import asked
from calc.kernel.bevel_pair_sizes import Bevel, Cones, pair_of, set_over_of
from calc.kernel.bevel_pair_working import ELEMENTS, NAVY_BEVEL, bevel_steps
from calc.kernel.formative import cutter_results
from calc.kernel.spur_gear_entries import METRIC, MILLING, NAVY_DEPTH, PROVED, TABLES, TEXTBOOKS, read_pitch
from calc.kernel.working import Outcome

SOURCE_KEYS = {
    TEXTBOOKS: "gear_textbooks",
    ELEMENTS: "machine_elements",
    NAVY_BEVEL: "navedtra14345_bevel",
    NAVY_DEPTH: "navedtra14345",
    TABLES: "gear_tables",
    METRIC: "metric_gear_technology",
    MILLING: "milling1914",
    PROVED: "gear_rules",
}


def bevel_pair(
    *,
    teeth: int,
    mate_teeth: int,
    face_width: Fraction,
    module: Fraction | None = None,
    diametral_pitch: Fraction | None = None,
    tooth_depth: str = "taper",
    pitch_at: str | None = None,
    shaft_angle: Fraction = Fraction(90),
    pressure_angle: Fraction = Fraction(20),
    depth_system: str | None = None,
    cutter_set: str = "8",
    cutter_thickness_large: Fraction | None = None,
    cutter_thickness_small: Fraction | None = None,
) -> Outcome:
    """Cones, blanks, cutters and tooth measurements of a pair of straight bevel gears.

    Use it before the blanks are turned: it gives the angles the top slide is set to, the diameters and
    the crown, the tilt of the head, the cutter by the formative number, and the chords at both ends.

    Parameters
    ----------
    teeth : int
        Teeth of the gear. [count] 6 to 1000
    mate_teeth : int
        Teeth of the gear it runs with. [count] 6 to 1000
    face_width : Fraction
        Length of the teeth along the pitch cone, at most half the cone distance. [mm] 0.5 mm to 500 mm
    module : Fraction, optional
        Pitch diameter to a tooth; this or the diametral pitch. [mm] 0.2 mm to 25 mm
    diametral_pitch : Fraction, optional
        Teeth to an inch of pitch diameter; this or the module. [per inch] 1 DP to 120 DP
    tooth_depth : str
        Teeth that taper towards the apex, or of parallel depth. [-] taper or parallel
    pitch_at : str, optional
        The end the pitch is of; by default the large end of taper teeth, the small of parallel.
        [-] large or small
    shaft_angle : Fraction
        Between the two shafts where they meet. [degree] 5° to 175°
    pressure_angle : Fraction
        Pressure angle of the cutter. [degree] 14° to 30°
    depth_system : str, optional
        Whole depth in modules; by default 2.157 with a diametral pitch and 2.25 with a module.
        [-] 2.157 or 2.25 or 2.2+0.002 or 2.4
    cutter_set : str
        Cutters in the set; 15 has the half numbers. [-] 8 or 15
    cutter_thickness_large : Fraction, optional
        Of this gear's taper cutter, a large-end dedendum from its tip. [mm] 0.05 mm to 100 mm
    cutter_thickness_small : Fraction, optional
        Of the same cutter, a small-end dedendum from its tip. [mm] 0.05 mm to 100 mm

    Returns
    -------
    Outcome
        Of the gear: ``pitch_angle_deg`` [degree], ``pitch_diameter_mm`` [millimetre] and
        ``outside_diameter_mm`` [millimetre] at the large end, ``outside_diameter_small_mm``
        [millimetre] at the small, ``face_angle_deg`` [degree], ``root_angle_deg`` [degree], the tilt
        of the head, ``back_angle_deg`` [degree] from the axis, ``formative_teeth`` [count] not rounded,
        ``cutter_number`` [-] as stamped, ``cutter_from_teeth`` [count] and ``cutter_to_teeth`` [count],
        none to a rack, ``pitch_to_apex_mm`` [millimetre], ``crown_to_apex_mm`` [millimetre] and
        ``crown_to_apex_small_mm`` [millimetre] along the axis, ``chordal_thickness_large_mm``
        [millimetre] at ``chordal_addendum_large_mm`` [millimetre], ``chordal_thickness_small_mm``
        [millimetre] at ``chordal_addendum_small_mm`` [millimetre], ``undercut`` [-] and
        ``undercut_limit_teeth`` [count], formative; ``set_over_mm`` [millimetre] of the table and
        ``roll_deg`` [degree] of the blank, each side, where its cutter’s thicknesses are given; and
        ``mate`` [-], its own under the same names. Of the pair: ``cone_distance_mm`` [millimetre] to the
        large end, ``mean_cone_distance_mm`` [millimetre] to
        the middle of the face, ``small_end_factor`` [count],
        ``addendum_mm`` [millimetre], ``dedendum_mm`` [millimetre], ``whole_depth_mm`` [millimetre] at the
        large end and ``whole_depth_small_mm`` [millimetre], ``face_width_limit_mm`` [millimetre],
        ``face_width_nominal_mm`` [millimetre],
        ``module_large_mm`` [millimetre], ``module_small_mm`` [millimetre], ``cutter_module_mm``
        [millimetre], ``ratio`` [count] of the larger to the smaller. As used: ``depth_system`` [-],
        ``pitch_at`` [-].

    Raises
    ------
    OutOfRange
        An entry is outside its limits; module and diametral pitch are both given, or neither; the shaft
        angle makes a pitch angle 90 degrees or more; the face leaves less than half a tooth.

    Notes
    -----
    Tangent of the pitch angle = sine of the shaft angle / (mate's teeth / teeth + cosine of it). Cone
    distance = pitch diameter / (2 * sine of the pitch angle).
    Taper: face angle = pitch angle + addendum angle, root angle = pitch angle - dedendum angle, so that
    face and root cones meet at the pitch apex; everything at the small end is (R - F) / R of the large.
    Parallel: face, pitch and root angle are one; addendum and depth are the small end's all along.
    Outside diameter = pitch diameter + 2 * addendum * cosine of the pitch angle.
    Taper teeth by a cutter of thickness T and t at the two ends: set-over = (T - R / F * (T - t)) / 2,
    roll = (s - R / F * (T - t)) / pitch diameter, in radians.
    Chord = s - s³ / (6 d²) at addendum + s² * cosine of the pitch angle / (4 d), s being half the
    circular pitch of that end and d its pitch diameter.

    Examples
    --------
    >>> bevel_pair(teeth=36, mate_teeth=16, face_width=Fraction(9), module=Fraction(1)).results["ratio"]
    Fraction(9, 4)

    Sources
    -------
    machine_elements, p. 337: cone distance, limits of the face. navedtra14345_bevel, ch. 14: face, root
    and back angles, small-end factor.
    gear_textbooks, pitch angles, formative teeth, addendum and dedendum angles. metric_gear_technology,
    sec. 10: chordal sizes. milling1914, p. 149: ranges of the cutters. gear_rules, outside
    diameter and crown; parallel depth; set-over and roll.

    Checks
    ------
    machine_elements#bevel-16-48, gear_textbooks#bevel-24-36, gear_textbooks#bevel-40-60,
    gear_rules#bevel-20-40, gear_rules#bevel-mitre-30, gear_rules#bevel-parallel-20-30,
    gear_rules#bevel-24-30-degrees, gear_rules#bevel-parallel-20-40
    """
    question = asked(
        teeth=teeth,
        mate_teeth=mate_teeth,
        shaft_angle=shaft_angle,
        pitch=read_pitch(module, diametral_pitch),
        pitch_at=pitch_at,
        tooth_depth=tooth_depth,
        face_width=face_width,
        angle=pressure_angle,
        depth_system=depth_system,
        cutter_set=cutter_set,
        thick_large=cutter_thickness_large,
        thick_small=cutter_thickness_small,
    )
    gear, mate = pair_of(question)
    working = tuple(bevel_steps(gear, mate))
    keys = [SOURCE_KEYS[step.source] for step in working if step.source in SOURCE_KEYS]
    return Outcome(
        results=_of_gear(gear)
        | _settings(gear)
        | _of_pair(gear.cones)
        | {"mate": {"teeth": mate_teeth} | _of_gear(mate)},
        working=working,
        warnings=tuple(dict.fromkeys(cautions(gear, mate))),
        sources=tuple(dict.fromkeys(keys)),
    )


def _of_gear(gear: Bevel) -> dict[str, Any]:
    """The results of one gear."""
    in_mm = gear.cones.question.pitch.in_mm
    lengths = {
        "pitch_diameter_mm": gear.pitch_diameter,
        "outside_diameter_mm": gear.outside_diameter,
        "outside_diameter_small_mm": gear.small_outside_diameter,
        "pitch_to_apex_mm": gear.pitch_to_apex,
        "crown_to_apex_mm": gear.crown_to_apex,
        "crown_to_apex_small_mm": gear.small_crown_to_apex,
        "chordal_thickness_large_mm": gear.chord("large"),
        "chordal_addendum_large_mm": gear.chordal_addendum("large"),
        "chordal_thickness_small_mm": gear.chord("small"),
        "chordal_addendum_small_mm": gear.chordal_addendum("small"),
    }
    return {
        "pitch_angle_deg": gear.pitch_angle,
        "face_angle_deg": gear.face_angle,
        "root_angle_deg": gear.root_angle,
        "back_angle_deg": gear.back_angle,
        **{name: length * in_mm for name, length in lengths.items()},
        "formative_teeth": gear.formative,
        **cutter_results(gear.formative, gear.cones.question.cutter_set),
        "undercut": gear.is_undercut,
        "undercut_limit_teeth": gear.undercut_limit,
    }


def _settings(gear: Bevel) -> dict[str, Any]:
    """Set-over and roll for the cutter that was measured; none without."""
    setting, in_mm = set_over_of(gear), gear.cones.question.pitch.in_mm
    return {
        "set_over_mm": setting.offset * float(in_mm) if setting else None,
        "roll_deg": setting.roll if setting else None,
    }


def _of_pair(cones: Cones) -> dict[str, Any]:
    """The results that both gears share, and what was used."""
    asked_for, in_mm = cones.question, cones.question.pitch.in_mm
    small, large = sorted((asked_for.teeth, asked_for.mate_teeth))
    depth_small = cones.whole_depth if cones.is_parallel else cones.at_small(cones.whole_depth)
    return {
        "cone_distance_mm": cones.cone_distance * in_mm,
        "mean_cone_distance_mm": cones.mean_distance * in_mm,
        "small_end_factor": cones.factor,
        "addendum_mm": cones.addendum * in_mm,
        "dedendum_mm": cones.dedendum * in_mm,
        "whole_depth_mm": cones.whole_depth * in_mm,
        "whole_depth_small_mm": depth_small * in_mm,
        "face_width_limit_mm": cones.face_limit * in_mm,
        "face_width_nominal_mm": cones.face_nominal * in_mm,
        "module_large_mm": cones.large_module * in_mm,
        "module_small_mm": cones.small_module * in_mm,
        "cutter_module_mm": cones.cutter_module * in_mm,
        "ratio": Fraction(large, small),
        "depth_system": asked_for.depth_system,
        "pitch_at": asked_for.pitch_at,
    }
