"""Kernel room: a worm and its wheel, or a steering worm and its segment, as they are turned and cut."""

from collections.abc import Iterator
from fractions import Fraction
from math import gcd
from typing import Any

from calc.kernel.spur_gear_cautions import USUAL_SYSTEMS
from calc.kernel.spur_gear_entries import NAVY_DEPTH, PROVED, TABLES, TEXTBOOKS, figure, line
from calc.kernel.spur_gear_measuring import FINE_PLACES
from calc.kernel.spur_gear_sizes import FINE, FINE_EXTRA_IN
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import COMMON, Caution, Outcome, Step
from calc.kernel.worm_pair_sizes import Worm, worm_asked

SOURCE_KEYS = {
    TEXTBOOKS: "gear_textbooks",
    NAVY_DEPTH: "navedtra14345",
    TABLES: "gear_tables",
    PROVED: "gear_rules",
}
#: Below the one a wheel hardly drives its worm back, and above the other the thread wants a tool ground to
#: its slope on both sides. [degree] common practice, no source
HOLDS, STEEP = 6.0, 15.0


def worm_pair(
    *,
    starts: int,
    wheel_teeth: int,
    worm_diameter: Fraction,
    axial_pitch: Fraction | None = None,
    module: Fraction | None = None,
    diametral_pitch: Fraction | None = None,
    pressure_angle: Fraction = Fraction(20),
    depth_system: str | None = None,
) -> Outcome:
    """Sizes of a worm and its wheel, the lead it is screwcut with and the angle its wheel is gashed at.

    Use it for a worm and wheel or a steering worm and segment: shafts at right angles, the worm's pitch
    line chosen, everything else from the pitch.

    Parameters
    ----------
    starts : int
        Threads of the worm. [count] 1 to 12
    wheel_teeth : int
        Teeth of the wheel, of a segment those of the whole circle. [count] 6 to 1000
    worm_diameter : Fraction
        Of the worm, at the pitch line. [mm] 1 mm to 1000 mm
    axial_pitch : Fraction, optional
        From thread to thread along the worm; this, the module or the diametral pitch.
        [mm] 0.5 mm to 100 mm
    module : Fraction, optional
        In the plane of the worm's axis; one of the three. [mm] 0.2 mm to 25 mm
    diametral_pitch : Fraction, optional
        In the plane of the worm's axis; one of the three. [per inch] 1 DP to 120 DP
    pressure_angle : Fraction
        Of the thread's side, in the plane of the worm's axis. [degree] 14° to 30°
    depth_system : str, optional
        Whole depth in modules; by default 2.157 in inches and 2.25 in millimetres.
        [-] 2.157 or 2.25 or 2.2+0.002 or 2.4

    Returns
    -------
    Outcome
        ``ratio`` [count], turns of the worm for one of the wheel, ``axial_pitch_mm`` [millimetre],
        ``module_mm`` [millimetre], ``normal_module_mm`` [millimetre], ``lead_mm`` [millimetre],
        ``lead_angle_deg`` [degree], ``addendum_mm`` [millimetre], ``whole_depth_mm`` [millimetre],
        ``worm_outside_diameter_mm`` [millimetre], ``worm_root_diameter_mm`` [millimetre],
        ``wheel_pitch_diameter_mm`` [millimetre], ``throat_diameter_mm`` [millimetre],
        ``throat_radius_mm`` [millimetre], ``centre_distance_mm`` [millimetre], ``undercut`` [-] and
        ``undercut_limit_teeth`` [count]. As used: ``depth_system`` [-].

    Raises
    ------
    OutOfRange
        An entry is outside its limits; none or more than one of the pitches is given; the thread would
        leave nothing of the worm.

    Notes
    -----
    Axial pitch = pi / diametral pitch = pi * module; lead = starts * axial pitch; tangent of the lead
    angle = lead / (pi * worm diameter). Wheel pitch diameter = teeth * module; centres = half the sum of
    the pitch diameters; over the threads and in the throat two modules more. The addendum is one module.

    Examples
    --------
    >>> worm_pair(starts=2, wheel_teeth=35, worm_diameter=Fraction(22), module=Fraction(2)).results["ratio"]
    Fraction(35, 2)

    Sources
    -------
    gear_textbooks, pitch diameter, axial pitch, lead angle, centres. gear_rules, throat and thread.

    Checks
    ------
    gear_rules#worm-8dp-40, gear_rules#worm-module-2, gear_rules#worm-half-inch
    """
    worm = worm_asked(
        starts=starts,
        wheel_teeth=wheel_teeth,
        worm_diameter=worm_diameter,
        axial_pitch=axial_pitch,
        module=module,
        diametral_pitch=diametral_pitch,
        pressure_angle=pressure_angle,
        depth_system=depth_system,
    )
    working = tuple(_working(worm))
    keys = [SOURCE_KEYS[step.source] for step in working if step.source in SOURCE_KEYS]
    return Outcome(
        results=_results(worm),
        working=working,
        warnings=tuple(_cautions(worm)),
        sources=tuple(dict.fromkeys(keys)),
    )


def _results(worm: Worm) -> dict[str, Any]:
    lengths = {
        "axial_pitch_mm": worm.axial_pitch,
        "module_mm": worm.module,
        "normal_module_mm": worm.normal_module,
        "lead_mm": worm.lead,
        "addendum_mm": worm.module,
        "whole_depth_mm": worm.whole_depth,
        "worm_outside_diameter_mm": worm.worm_outside,
        "worm_root_diameter_mm": worm.worm_root,
        "wheel_pitch_diameter_mm": worm.wheel_pitch_diameter,
        "throat_diameter_mm": worm.throat,
        "throat_radius_mm": worm.throat_radius,
        "centre_distance_mm": worm.centres,
    }
    return {
        "ratio": worm.ratio,
        "lead_angle_deg": worm.lead_angle,
        **{name: length * worm.in_mm for name, length in lengths.items()},
        "undercut": worm.wheel_teeth < worm.undercut_limit,
        "undercut_limit_teeth": worm.undercut_limit,
        "depth_system": worm.depth_system,
    }


# ---- the working -----------------------------------------------------------------------------------------


def _working(worm: Worm) -> list[Step]:
    return [*_pitch_steps(worm), *_lead_steps(worm), *_worm_steps(worm), *_wheel_steps(worm)]


def _pitch_steps(worm: Worm) -> list[Step]:
    """Ratio, and whichever of axial pitch and module was not given."""
    steps = [
        line(
            "Turns of the worm for one of the wheel",
            ("wheel teeth / starts", f"{worm.wheel_teeth} / {worm.starts}"),
            fixed(worm.ratio, 4),
            "turns",
            TEXTBOOKS,
        )
    ]
    if worm.kind == "axial_pitch":
        formula = ("axial pitch / π", f"{figure(worm.figure)} / π")
        return [*steps, line("Module", formula, fixed(worm.module, worm.places + 1), worm.unit, TEXTBOOKS)]
    shown = fixed(worm.axial_pitch, worm.places + 1)
    return [*steps, line("Axial pitch", worm.modules("π", "π"), shown, worm.unit, TEXTBOOKS)]


def _lead_steps(worm: Worm) -> list[Step]:
    """Lead, lead angle, and what the pitch is square to the thread."""
    angle, size = f"{fixed(worm.lead_angle, FINE_PLACES)}°", figure(worm.diameter)
    lead = worm.modules("starts × π", f"{worm.starts} × π")
    if worm.kind == "axial_pitch":
        lead = ("starts × axial pitch", f"{worm.starts} × {figure(worm.figure)}")
    return [
        line("Lead", lead, fixed(worm.lead, worm.places + 1), worm.unit, TEXTBOOKS),
        line(
            "Lead angle at the pitch line, at which the wheel is gashed",
            (
                "atan(lead / (π × worm diameter))",
                f"atan({decimal_text(Fraction(worm.lead), FINE_PLACES + 2)} / (π × {size}))",
            ),
            fixed(worm.lead_angle, 4),
            "°",
            TEXTBOOKS,
        ),
        line(
            "Module square to the thread",
            worm.modules("cos(lead angle)", f"cos({angle})"),
            fixed(worm.normal_module, worm.places + 1),
            worm.unit,
            PROVED,
        ),
    ]


def _worm_steps(worm: Worm) -> list[Step]:
    """The worm over its threads, the depth, and what is left at the bottom."""
    size, two = figure(worm.diameter), worm.modules("2", "2")
    source = COMMON
    if worm.depth_system == "2.157":
        source = NAVY_DEPTH
    elif worm.depth_system != FINE and not worm.per_inch:
        source = TABLES
    depth = worm.modules(worm.depth_system, worm.depth_system)
    if worm.depth_system == FINE:
        extra = figure(FINE_EXTRA_IN if worm.per_inch else FINE_EXTRA_IN * INCH)
        words, figures = worm.modules("2.2", "2.2")
        depth = (f"{words} + {extra}", f"{figures} + {extra}")
    return [
        line(
            "Worm over its threads",
            (f"worm diameter + {two[0]}", f"{size} + {two[1]}"),
            fixed(worm.worm_outside, worm.places),
            worm.unit,
            PROVED,
        ),
        line(
            f"Whole depth, system {worm.depth_system}",
            depth,
            fixed(worm.whole_depth, worm.places),
            worm.unit,
            source,
        ),
        line(
            "Worm at the bottom of its thread",
            (
                f"worm diameter + {two[0]} − 2 × ({depth[0]})",
                f"{size} + {two[1]} − 2 × ({depth[1]})",
            ),
            fixed(worm.worm_root, worm.places),
            worm.unit,
            PROVED,
        ),
    ]


def _wheel_steps(worm: Worm) -> list[Step]:
    """The wheel: pitch and throat diameters, the hollow of its face, the centres, the fewest teeth."""
    size, teeth, one = figure(worm.diameter), str(worm.wheel_teeth), worm.modules("1", "1")
    across = worm.modules("wheel teeth", teeth)
    lines = [
        ("Wheel, pitch diameter", across, worm.wheel_pitch_diameter, TEXTBOOKS),
        (
            "Wheel, throat diameter",
            worm.modules("(wheel teeth + 2)", f"({teeth} + 2)"),
            worm.throat,
            PROVED,
        ),
        (
            "Radius of the throat",
            (f"worm diameter / 2 − {one[0]}", f"{size} / 2 − {one[1]}"),
            worm.throat_radius,
            PROVED,
        ),
        (
            "Centre distance",
            (f"(worm diameter + {across[0]}) / 2", f"({size} + {across[1]}) / 2"),
            worm.centres,
            TEXTBOOKS,
        ),
    ]
    return [
        *(
            line(label, formula, fixed(value, worm.places), worm.unit, source)
            for label, formula, value, source in lines
        ),
        line(
            "Wheel teeth below which the worm undercuts them",
            ("2 / sin(pressure angle)²", f"2 / sin({figure(worm.angle)}°)²"),
            fixed(worm.undercut_limit, 2),
            "teeth",
            TEXTBOOKS,
        ),
    ]


# ---- what must be known ----------------------------------------------------------------------------------


def _of_teeth(worm: Worm) -> Iterator[Caution]:
    """What the counts of starts and teeth bring with them."""
    shared = gcd(worm.starts, worm.wheel_teeth)
    if shared > 1:
        yield Caution(
            code="common-factor",
            text=(
                f"{worm.starts} starts and {worm.wheel_teeth} teeth share {shared}: each thread meets only "
                "some of the teeth, so faults do not wear away evenly (common practice, no source)."
            ),
        )
    if worm.wheel_teeth < worm.undercut_limit:
        yield Caution(
            code="undercut",
            text=(
                f"{worm.wheel_teeth} wheel teeth are fewer than {fixed(worm.undercut_limit, 1)}: the worm "
                "undercuts their flanks. More teeth or a larger pressure angle clear it."
            ),
        )


def _cautions(worm: Worm) -> Iterator[Caution]:
    yield Caution(
        code="worm-diameter",
        text=(
            f"The worm’s {worm.shown(worm.diameter)} is at the pitch line: over the threads it is "
            f"{worm.shown(worm.worm_outside)}. If it was measured over the threads, enter "
            f"{worm.shown(worm.diameter - 2 * worm.module)} instead."
        ),
    )
    if worm.lead_angle < HOLDS:
        yield Caution(
            code="holds",
            text=(
                f"At a lead angle of {fixed(worm.lead_angle, 2)}° the wheel will seldom drive the worm back "
                "(common practice, no source). Shaking and oil undo that: do not trust it to hold a load."
            ),
        )
    if worm.lead_angle > STEEP:
        yield Caution(
            code="lead-steep",
            text=(
                f"The lead angle is {fixed(worm.lead_angle, 2)}°: set the tool, or grind its clearance, to "
                "that slope, and mind that the thread is thinner square to itself than along the axis."
            ),
        )
    yield from _of_teeth(worm)
    beside = ", ".join(
        f"{worm.shown(worm.depth_by(one))} by {one}" for one in USUAL_SYSTEMS if one != worm.depth_system
    )
    yield Caution(
        code="depth-systems",
        text=(
            f"Whole depth {worm.shown(worm.whole_depth)} by {worm.depth_system}; it would be {beside}. Cut "
            "worm and wheel by one of them."
        ),
    )
