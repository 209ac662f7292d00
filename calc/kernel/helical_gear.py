"""Kernel room: a helical gear and its mate on parallel shafts, as they are turned, cut and measured."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

from calc.kernel.formative import cutter_cautions, cutter_results
from calc.kernel.helical_gear_sizes import Helical, check_entries
from calc.kernel.helical_gear_working import centre_distance, helical_steps
from calc.kernel.spur_gear_cautions import USUAL_ANGLES, USUAL_SYSTEMS
from calc.kernel.spur_gear_cutters import cutter_for
from calc.kernel.spur_gear_entries import (
    METRIC,
    MILLING,
    NAVY_DEPTH,
    PROVED,
    TABLES,
    TEXTBOOKS,
    figure,
    read_depth_system,
    read_pitch,
)
from calc.kernel.wording import fixed
from calc.kernel.working import Caution, Outcome

SOURCE_KEYS = {
    TEXTBOOKS: "gear_textbooks",
    METRIC: "metric_gear_technology",
    NAVY_DEPTH: "navedtra14345",
    TABLES: "gear_tables",
    MILLING: "milling1914",
    PROVED: "gear_rules",
}


def helical_gear(
    *,
    teeth: int,
    helix_angle: Fraction,
    module: Fraction | None = None,
    diametral_pitch: Fraction | None = None,
    mate_teeth: int | None = None,
    pitch_in: str = "normal",
    pressure_angle: Fraction = Fraction(20),
    depth_system: str | None = None,
    cutter_set: str = "8",
    profile_shift: Fraction = Fraction(0),
) -> Outcome:
    """Sizes of a helical gear and its mate, the lead to mill it by, its cutter and its chord.

    Use it before the blank is turned and the change gears are looked for: pitch and pressure angle are
    the cutter's, square to the tooth, and everything in the plane of the face is got from them.

    Parameters
    ----------
    teeth : int
        Teeth of the gear. [count] 6 to 1000
    helix_angle : Fraction
        Of the tooth to the axis, at the pitch circle. [degree] 1° to 60°
    module : Fraction, optional
        This or the diametral pitch. [mm] 0.2 mm to 25 mm
    diametral_pitch : Fraction, optional
        This or the module. [per inch] 1 DP to 120 DP
    mate_teeth : int, optional
        Teeth of the gear it runs with on a parallel shaft. [count] 6 to 1000
    pitch_in : str
        The plane the pitch is of: square to the tooth, or of the face. [-] normal or transverse
    pressure_angle : Fraction
        Of the cutter, square to the tooth. [degree] 14° to 30°
    depth_system : str, optional
        Whole depth in normal modules; by default 2.157 with a diametral pitch and 2.25 with a module.
        [-] 2.157 or 2.25 or 2.2+0.002 or 2.4
    cutter_set : str
        Cutters in the set; 15 has the half numbers. [-] 8 or 15
    profile_shift : Fraction
        How far the cutter is held out, in normal modules. [-] -0.5 to 1

    Returns
    -------
    Outcome
        ``normal_module_mm`` [millimetre], ``normal_diametral_pitch`` [per inch],
        ``transverse_module_mm`` [millimetre], ``transverse_pressure_angle_deg`` [degree],
        ``pitch_diameter_mm`` [millimetre], ``outside_diameter_mm`` [millimetre], ``root_diameter_mm``
        [millimetre], ``addendum_mm`` [millimetre], ``whole_depth_mm`` [millimetre], ``cutter_teeth``
        [count], formative and not rounded, ``cutter_number`` [-] as stamped, ``cutter_from_teeth``
        [count] and ``cutter_to_teeth`` [count], none to a rack, ``lead_mm`` [millimetre],
        ``axial_pitch_mm`` [millimetre], ``chordal_thickness_mm`` [millimetre] and
        ``chordal_addendum_mm`` [millimetre] square to the tooth. With a mate ``centre_distance_mm``
        [millimetre], nominal on parallel shafts, ``ratio`` [count] of the larger to the smaller, and
        ``mate`` [-], its own sizes under the same names. As used: ``depth_system`` [-].

    Raises
    ------
    OutOfRange
        An entry is outside its limits; module and diametral pitch are both given, or neither.

    Notes
    -----
    Transverse module = normal module / cosine of the helix angle; pitch diameter = teeth * transverse
    module; outside diameter = pitch diameter + 2 * (1 + shift) * normal module; lead = pi * pitch
    diameter / tangent of the helix angle. Cutter by teeth / cosine³. The chord is that of a spur gear of
    the formative number and the normal module. The mate is reckoned without shift.

    Examples
    --------
    >>> helical_gear(teeth=24, helix_angle=Fraction(30), module=Fraction(2)).results["cutter_number"]
    '3'

    Sources
    -------
    gear_textbooks, transverse sizes and formative teeth. metric_gear_technology, sec. 10: chordal sizes.
    milling1914, p. 149: ranges of the cutters. gear_rules, lead.

    Checks
    ------
    gear_textbooks#helical-20-50, gear_textbooks#helical-normal-pitch, metric_gear_technology#helical-16,
    gear_rules#helical-24-45
    """
    pitch = read_pitch(module, diametral_pitch)
    gear = Helical(
        is_mate=False,
        teeth=teeth,
        pitch=pitch,
        pitch_in=pitch_in,
        helix=Fraction(helix_angle),
        angle=Fraction(pressure_angle),
        depth_system=read_depth_system(depth_system, pitch),
        cutter_set=cutter_set,
        shift=Fraction(profile_shift),
    )
    check_entries(gear, mate_teeth)
    mate = None
    if mate_teeth is not None:
        mate = replace(gear, is_mate=True, teeth=mate_teeth, shift=Fraction(0))
    working = tuple(helical_steps(gear, mate))
    keys = [SOURCE_KEYS[step.source] for step in working if step.source in SOURCE_KEYS]
    return Outcome(
        results=_results(gear, mate),
        working=working,
        warnings=tuple(dict.fromkeys(_cautions(gear, mate))),
        sources=tuple(dict.fromkeys(keys)),
    )


def _results(gear: Helical, mate: Helical | None) -> dict[str, Any]:
    in_mm = gear.pitch.in_mm
    counts = sorted((gear.teeth, mate.teeth)) if mate else None
    return {
        **_sizes(gear),
        "centre_distance_mm": centre_distance(gear, mate) * in_mm if mate else None,
        "ratio": Fraction(counts[1], counts[0]) if counts else None,
        "mate": {"teeth": mate.teeth} | _sizes(mate) if mate else None,
        "depth_system": gear.depth_system,
    }


def _sizes(gear: Helical) -> dict[str, Any]:
    """The results that a gear has and its mate as well."""
    in_mm = gear.pitch.in_mm
    lengths = {
        "normal_module_mm": gear.normal_module,
        "transverse_module_mm": gear.transverse_module,
        "pitch_diameter_mm": gear.pitch_diameter,
        "outside_diameter_mm": gear.outside_diameter,
        "root_diameter_mm": gear.root_diameter,
        "addendum_mm": gear.addendum,
        "whole_depth_mm": gear.whole_depth,
        "lead_mm": gear.lead,
        "axial_pitch_mm": gear.axial_pitch,
        "chordal_thickness_mm": gear.chordal_thickness,
        "chordal_addendum_mm": gear.chordal_addendum,
    }
    return {
        **{name: length * in_mm for name, length in lengths.items()},
        "normal_diametral_pitch": 25.4 / float(gear.normal_module * in_mm),
        "transverse_pressure_angle_deg": gear.transverse_angle,
        "cutter_teeth": gear.formative,
        **cutter_results(gear.formative, gear.cutter_set),
    }


# ---- what must be known ----------------------------------------------------------------------------------


def _cautions(gear: Helical, mate: Helical | None) -> Iterator[Caution]:
    gears = [gear, mate] if mate else [gear]
    for one in gears:
        yield from cutter_cautions(
            f"The {one.teeth}", one.formative, one.cutter_set, is_metric=not one.pitch.per_inch
        )
    yield from _of_pitch(gear)
    for one in gears:
        yield from _of_wrong_rule(one)
    if mate:
        yield Caution(
            code="hands",
            text=(
                "On parallel shafts the two gears are of opposite hands and of one helix angle. On crossed "
                "shafts these centres do not hold."
            ),
        )
    if gear.shift:
        yield Caution(
            code="shifted-centres",
            text="The mate is reckoned without shift: the pair does not run at the nominal centres.",
        )
    yield _of_depth(gear)
    if gear.angle not in USUAL_ANGLES:
        yield Caution(
            code="angle-unusual",
            text="Stock cutters are made for 14 1/2 and 20 degrees: read the angle off the cutter.",
        )


def _of_pitch(gear: Helical) -> Iterator[Caution]:
    """A transverse pitch was given: no stock cutter is of it."""
    if not gear.is_transverse:
        return
    normal = float(gear.normal_module)
    cutter = f"{fixed(1 / normal, 2)} DP" if gear.pitch.per_inch else f"module {fixed(normal, 3)}"
    yield Caution(
        code="transverse-pitch",
        text=(
            f"{gear.pitch.text} was given for the plane of the face: the cutter is square to the tooth and "
            f"must be of {cutter}. A cutter of {gear.pitch.text} does not suit."
        ),
    )


def _of_wrong_rule(gear: Helical) -> Iterator[Caution]:
    """The cutter that the real teeth, or the rule of bevel gears, would fetch."""
    right = cutter_for(gear.formative, gear.cutter_set)
    slips = []
    for rule, teeth in (("its own teeth", float(gear.teeth)), ("teeth / cos", gear.teeth / gear.cosine)):
        other = cutter_for(teeth, gear.cutter_set)
        if other and other != right:
            slips.append(f"{rule}, {figure(round(teeth, 2))}, would give No. {other.number}")
    if slips:
        yield Caution(
            code="formative-rule",
            text=(
                f"The cutter for the {gear.teeth} goes by teeth / cos³ of the helix angle, "
                f"{fixed(gear.formative, 2)}. It is not another rule: {'; '.join(slips)}."
            ),
        )


def _of_depth(gear: Helical) -> Caution:
    pitch, system = gear.pitch, gear.depth_system
    beside = ", ".join(
        f"{pitch.shown(gear.depth_by(one))} by {one}" for one in USUAL_SYSTEMS if one != system
    )
    return Caution(
        code="depth-systems",
        text=(
            f"Whole depth {pitch.shown(gear.whole_depth)} by {system}, in normal modules; it would be "
            f"{beside}. The depth belongs to the cutter: take the one marked on it."
        ),
    )
