"""Kernel room: the lines of working of a helical gear and its mate."""

from fractions import Fraction
from math import degrees

from calc.kernel.formative import cutter_line
from calc.kernel.helical_gear_sizes import Helical
from calc.kernel.spur_gear_entries import METRIC, PROVED, TEXTBOOKS, figure, line
from calc.kernel.spur_gear_measuring import ANGLE_PLACES, bare
from calc.kernel.spur_gear_sizes import FINE, FINE_EXTRA_IN, depth_source
from calc.kernel.units import INCH
from calc.kernel.wording import fixed
from calc.kernel.working import Step


def helical_steps(gear: Helical, mate: Helical | None) -> list[Step]:
    """Every line: the pitch both share, the gear, the pair, the mate."""
    steps = [*_shared_steps(gear), *_gear_steps(gear)]
    return [*steps, centre_step(gear, mate), *_gear_steps(mate)] if mate else steps


def _shared_steps(gear: Helical) -> list[Step]:
    """Normal and transverse module, the transverse pressure angle, the depth."""
    pitch, helix, alpha = gear.pitch, f"{figure(gear.helix)}°", f"{figure(gear.angle)}°"
    given = ("1 / diametral pitch", f"1 / {figure(pitch.figure)}")
    if not pitch.per_inch:
        given = ("module", figure(pitch.figure))
    turned, other, value = "/", "Transverse", gear.transverse_module
    if gear.is_transverse:
        turned, other, value = "×", "Normal", gear.normal_module
    deep, normal = "normal module", bare(gear.normal_module)
    depth = (f"{gear.depth_system} × {deep}", f"{gear.depth_system} × {normal}")
    if gear.depth_system == FINE:
        extra = figure(FINE_EXTRA_IN if pitch.per_inch else FINE_EXTRA_IN * INCH)
        depth = (f"2.2 × {deep} + {extra}", f"2.2 × {normal} + {extra}")
    return [
        line(
            f"{other} module",
            (f"{given[0]} {turned} cos(helix angle)", f"{given[1]} {turned} cos({helix})"),
            fixed(value, pitch.places + 1),
            pitch.unit,
            TEXTBOOKS,
        ),
        line(
            "Transverse pressure angle",
            (
                "atan(tan(pressure angle) / cos(helix angle))",
                f"atan(tan({alpha}) / cos({helix}))",
            ),
            fixed(gear.transverse_angle, 4),
            "°",
            TEXTBOOKS,
        ),
        line(
            f"Whole depth, system {gear.depth_system}",
            depth,
            fixed(gear.whole_depth, pitch.places),
            pitch.unit,
            depth_source(gear.depth_system, pitch),
        ),
    ]


def _gear_steps(gear: Helical) -> list[Step]:
    return [*_size_steps(gear), *_cutter_steps(gear), *_chord_steps(gear)]


def _size_steps(gear: Helical) -> list[Step]:
    """Diameters, lead and axial pitch."""
    pitch, helix, normal = gear.pitch, f"{figure(gear.helix)}°", bare(gear.normal_module)
    across, shift = bare(gear.pitch_diameter), figure(gear.shift)
    outside = ("pitch diameter + 2 × normal module", f"{across} + 2 × {normal}")
    if gear.shift:
        outside = (
            "pitch diameter + 2 × (1 + shift) × normal module",
            f"{across} + 2 × (1 + {shift}) × {normal}",
        )
    lead = ("π × pitch diameter / tan(helix angle)", f"π × {across} / tan({helix})")
    lines = [
        (
            "pitch diameter",
            ("teeth × transverse module", f"{gear.teeth} × {bare(gear.transverse_module)}"),
            gear.pitch_diameter,
            TEXTBOOKS,
        ),
        ("outside diameter", outside, gear.outside_diameter, TEXTBOOKS),
        (
            "root diameter",
            (
                f"{outside[0]} − 2 × whole depth",
                f"{outside[1]} − 2 × {bare(gear.whole_depth)}",
            ),
            gear.root_diameter,
            PROVED,
        ),
        ("lead of the helix", lead, gear.lead, PROVED),
        (
            "axial pitch, the face that keeps a tooth always in mesh",
            (f"{lead[0]} / teeth", f"{lead[1]} / {gear.teeth}"),
            gear.axial_pitch,
            PROVED,
        ),
    ]
    return [
        line(gear.label(label), formula, fixed(value, pitch.places), pitch.unit, source)
        for label, formula, value, source in lines
    ]


def _cutter_steps(gear: Helical) -> list[Step]:
    helix = f"{figure(gear.helix)}°"
    formative = line(
        gear.label("formative teeth for the cutter, not rounded"),
        (
            "teeth / (cos(helix angle)² × cos(helix angle))",
            f"{gear.teeth} / (cos({helix})² × cos({helix}))",
        ),
        fixed(gear.formative, 3),
        "teeth",
        TEXTBOOKS,
    )
    picked = cutter_line(gear.label("cutter"), gear.formative, gear.cutter_set)
    return [formative, picked] if picked else [formative]


def _chord_steps(gear: Helical) -> list[Step]:
    """Half angle of the formative tooth, its chord, and the addendum that is measured at."""
    pitch, normal, teeth = gear.pitch, bare(gear.normal_module), bare(gear.formative)
    psi = fixed(degrees(gear.half_angle), ANGLE_PLACES + 1)
    half = ("90° / formative teeth", f"90° / {teeth}")
    tip = ("normal module", normal)
    if gear.shift:
        alpha, shift = f"{figure(gear.angle)}°", figure(gear.shift)
        half = (
            f"{half[0]} + 360° × shift × tan(pressure angle) / (π × formative teeth)",
            f"{half[1]} + 360° × {shift} × tan({alpha}) / (π × {teeth})",
        )
        tip = ("(1 + shift) × normal module", f"(1 + {shift}) × {normal}")
    across = ("normal module × formative teeth", f"{normal} × {teeth}")
    return [
        line(gear.label("half angle of a tooth of the formative gear"), half, psi, "°", METRIC),
        line(
            gear.label("chordal thickness, square to the tooth"),
            (f"{across[0]} × sin(half angle)", f"{across[1]} × sin({psi}°)"),
            fixed(gear.chordal_thickness, pitch.places),
            pitch.unit,
            METRIC,
        ),
        line(
            gear.label("chordal addendum: from the tip down to that chord"),
            (
                f"{tip[0]} + {across[0]} / 2 × (1 − cos(half angle))",
                f"{tip[1]} + {across[1]} / 2 × (1 − cos({psi}°))",
            ),
            fixed(gear.chordal_addendum, pitch.places),
            pitch.unit,
            METRIC,
        ),
    ]


def centre_distance(gear: Helical, mate: Helical) -> Fraction | float:
    """Nominal, on parallel shafts: half the sum of the pitch diameters."""
    return (gear.pitch_diameter + mate.pitch_diameter) / 2


def centre_step(gear: Helical, mate: Helical) -> Step:
    """The line of the nominal centres."""
    return line(
        "Centre distance on parallel shafts, nominal",
        (
            "(teeth + mate’s teeth) × transverse module / 2",
            f"({gear.teeth} + {mate.teeth}) × {bare(gear.transverse_module)} / 2",
        ),
        fixed(centre_distance(gear, mate), gear.pitch.places),
        gear.pitch.unit,
        TEXTBOOKS,
    )
