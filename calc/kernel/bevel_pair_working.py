"""Kernel room: the lines of working of a bevel pair: its cones first, then each gear."""

from calc.kernel.bevel_pair_sizes import ENDS, Bevel, Cones, arc_at, set_over_of
from calc.kernel.formative import cutter_line
from calc.kernel.spur_gear_entries import METRIC, PROVED, TEXTBOOKS, figure, line
from calc.kernel.spur_gear_measuring import ANGLE_PLACES, FINE_PLACES, bare
from calc.kernel.spur_gear_sizes import FINE, FINE_EXTRA_IN, depth_source
from calc.kernel.units import INCH
from calc.kernel.wording import fixed
from calc.kernel.working import WORKED_HERE, Step

NAVY_BEVEL = "US Navy training manual Machinery Repairman, NAVEDTRA 14345, ch. 14"
ELEMENTS = "Machine Elements in Mechanical Design, 4th edition, p. 337"
#: Places of an angle on its own line: the heads and slides it is set on show fewer.
SHOWN_ANGLE = 5


def degrees_text(angle: float) -> str:
    """An angle inside a sum."""
    return f"{fixed(angle, FINE_PLACES)}°"


def bevel_steps(gear: Bevel, mate: Bevel) -> list[Step]:
    """Every line: the cones, what the teeth have in common, the gear, the mate."""
    return [
        *_cone_steps(gear, mate),
        *_end_steps(gear.cones),
        *_tooth_steps(gear.cones),
        *_gear_steps(gear),
        *_set_over_steps(gear),
        *_gear_steps(mate),
    ]


def _cone_steps(gear: Bevel, mate: Bevel) -> list[Step]:
    """Both pitch angles, and the cone distance."""
    asked, pitch = gear.cones.question, gear.cones.question.pitch
    shaft, source = f"{figure(asked.shaft_angle)}°", TEXTBOOKS if asked.shaft_angle == 90 else PROVED
    across = pitch.of("teeth", str(gear.teeth))
    half = f"(2 × sin({degrees_text(gear.pitch_angle)}))"
    words = "(2 × sin(pitch angle))"
    if asked.is_small:
        face = figure(asked.face)
        distance = (f"{across[0]} / {words} + face width", f"{across[1]} / {half} + {face}")
    else:
        distance = (f"{across[0]} / {words}", f"{across[1]} / {half}")
    return [
        line(
            "Pitch angle",
            (
                "atan(sin(shaft angle) / (mate’s teeth / teeth + cos(shaft angle)))",
                f"atan(sin({shaft}) / ({mate.teeth} / {gear.teeth} + cos({shaft})))",
            ),
            fixed(gear.pitch_angle, SHOWN_ANGLE),
            "°",
            source,
        ),
        line(
            "Mate: pitch angle",
            ("shaft angle − pitch angle of the gear", f"{shaft} − {degrees_text(gear.pitch_angle)}"),
            fixed(mate.pitch_angle, SHOWN_ANGLE),
            "°",
            source,
        ),
        line(
            "Cone distance, apex to large end" + (": that of the small end and the face" * asked.is_small),
            distance,
            fixed(gear.cones.cone_distance, pitch.places),
            pitch.unit,
            ELEMENTS if not asked.is_small else PROVED,
        ),
    ]


def _end_steps(cones: Cones) -> list[Step]:
    """How the small end stands to the large, the module of the end that was not given, the face's limits."""
    asked, pitch, whole = cones.question, cones.question.pitch, bare(cones.cone_distance)
    ratio = (f"({whole} − {figure(asked.face)}) / {whole}", "(cone distance − face width) / cone distance")
    shown = figure(pitch.figure)
    given = ("1 / diametral pitch", f"1 / {shown}") if pitch.per_inch else ("module", shown)
    other = "large" if asked.is_small else "small"
    turned = ("/", "×")[other == "small"]
    return [
        line("Small-end factor", (ratio[1], ratio[0]), fixed(cones.factor, ANGLE_PLACES), source=NAVY_BEVEL),
        line(
            f"Module of the {other} end",
            (
                f"{given[0]} {turned} small-end factor",
                f"{given[1]} {turned} {fixed(cones.factor, FINE_PLACES + 2)}",
            ),
            fixed(cones.large_module if asked.is_small else cones.small_module, pitch.places + 1),
            pitch.unit,
            PROVED,
        ),
        line(
            "Longest face by the cone distance",
            ("cone distance / 3", f"{whole} / 3"),
            fixed(cones.cone_distance / 3, pitch.places),
            pitch.unit,
            ELEMENTS,
        ),
        line(
            "Longest face by the pitch; the lesser of the two is the limit",
            ("10 × module of the large end", f"10 × {bare(cones.large_module)}"),
            fixed(10 * cones.large_module, pitch.places),
            pitch.unit,
            ELEMENTS,
        ),
        *(_arc_step(cones, end) for end in ENDS),
    ]


def _arc_step(cones: Cones, end: str) -> Step:
    """Half the circular pitch of an end: one tooth along the pitch circle."""
    pitch, module = cones.question.pitch, cones.module_at(end)
    return line(
        f"Tooth along the pitch circle of the {end} end, the arc",
        (f"π × module of the {end} end / 2", f"π × {bare(module)} / 2"),
        fixed(arc_at(cones, end), pitch.places),
        pitch.unit,
        PROVED,
    )


def _tooth_steps(cones: Cones) -> list[Step]:
    """Depth, addendum and dedendum, and the two angles they make at the apex of taper teeth."""
    asked, pitch = cones.question, cones.question.pitch
    end = "small" if cones.is_parallel else "large"
    where = "all along" if cones.is_parallel else "at the large end"
    module = f"module of the {end} end"
    depth = _depth(cones, module)
    whole, addendum, dedendum = (bare(value) for value in (cones.whole_depth, cones.addendum, cones.dedendum))
    steps = [
        line(
            f"Whole depth {where}, system {asked.depth_system}",
            depth,
            fixed(cones.whole_depth, pitch.places),
            pitch.unit,
            depth_source(asked.depth_system, pitch),
        ),
        line(
            f"Dedendum {where}, the addendum being one module of the {end} end",
            (f"whole depth − {module}", f"{whole} − {addendum}"),
            fixed(cones.dedendum, pitch.places),
            pitch.unit,
            WORKED_HERE,
        ),
    ]
    if cones.is_parallel:
        return steps
    distance = bare(cones.cone_distance)
    for name, height, angle in (
        ("addendum", addendum, cones.addendum_angle),
        ("dedendum", dedendum, cones.dedendum_angle),
    ):
        words = module if name == "addendum" else "dedendum"
        formula = (f"atan({words} / cone distance)", f"atan({height} / {distance})")
        steps.append(line(f"{name.capitalize()} angle", formula, fixed(angle, SHOWN_ANGLE), "°", TEXTBOOKS))
    return steps


def _depth(cones: Cones, module: str) -> tuple[str, str]:
    """Whole depth as a formula and in figures, of the cutter's own module."""
    asked = cones.question
    if asked.depth_system != FINE:
        return f"{asked.depth_system} × {module}", f"{asked.depth_system} × {bare(cones.addendum)}"
    extra = figure(FINE_EXTRA_IN if asked.pitch.per_inch else FINE_EXTRA_IN * INCH)
    return f"2.2 × {module} + {extra}", f"2.2 × {bare(cones.addendum)} + {extra}"


def _gear_steps(gear: Bevel) -> list[Step]:
    return [
        *_blank_steps(gear),
        *_cutter_steps(gear),
        *_chord_steps(gear, "large"),
        *_chord_steps(gear, "small"),
    ]


def _blank_steps(gear: Bevel) -> list[Step]:
    """What the blank is turned to: diameters, its three angles, its crown."""
    cones, pitch = gear.cones, gear.cones.question.pitch
    angle, teeth = degrees_text(gear.pitch_angle), gear.teeth
    end = "small" if cones.is_parallel else "large"
    across, addendum = bare(gear.pitch_diameter), bare(cones.addendum)
    distance = bare(cones.cone_distance)
    lengths = [
        (
            "pitch diameter at the large end",
            ("teeth × module of the large end", f"{teeth} × {bare(cones.large_module)}"),
            gear.pitch_diameter,
        ),
        (
            "outside diameter",
            (
                f"pitch diameter + 2 × module of the {end} end × cos(pitch angle)",
                f"{across} + 2 × {addendum} × cos({angle})",
            ),
            gear.outside_diameter,
        ),
        (
            "crown to apex, along the axis",
            (
                f"cone distance × cos(pitch angle) − module of the {end} end × sin(pitch angle)",
                f"{distance} × cos({angle}) − {addendum} × sin({angle})",
            ),
            gear.crown_to_apex,
        ),
    ]
    steps = [
        line(gear.label(label), formula, fixed(value, pitch.places), pitch.unit, PROVED)
        for label, formula, value in lengths
    ]
    return [*steps[:2], *_angle_steps(gear), steps[2]]


def _angle_steps(gear: Bevel) -> list[Step]:
    """The angles the blank is turned to and the head is tilted to, each from the gear's own axis."""
    cones, angle = gear.cones, degrees_text(gear.pitch_angle)
    face, root = ("pitch angle", angle), ("pitch angle", angle)
    if not cones.is_parallel:
        face = ("pitch angle + addendum angle", f"{angle} + {degrees_text(cones.addendum_angle)}")
        root = ("pitch angle − dedendum angle", f"{angle} − {degrees_text(cones.dedendum_angle)}")
    source = PROVED if cones.is_parallel else NAVY_BEVEL
    return [
        line(gear.label("face angle of the blank"), face, fixed(gear.face_angle, SHOWN_ANGLE), "°", source),
        line(
            gear.label("root angle, the tilt of the head"),
            root,
            fixed(gear.root_angle, SHOWN_ANGLE),
            "°",
            source,
        ),
        line(
            gear.label("angle of the back cone, from the axis"),
            ("90° − pitch angle", f"90° − {angle}"),
            fixed(gear.back_angle, SHOWN_ANGLE),
            "°",
            NAVY_BEVEL,
        ),
    ]


def _cutter_steps(gear: Bevel) -> list[Step]:
    """The formative teeth, and the cutter they pick."""
    formula = ("teeth / cos(pitch angle)", f"{gear.teeth} / cos({fixed(gear.pitch_angle, FINE_PLACES + 2)}°)")
    steps = [
        line(
            gear.label("formative teeth, not rounded"),
            formula,
            fixed(gear.formative, 3),
            "teeth",
            TEXTBOOKS,
        )
    ]
    picked = cutter_line(gear.label("cutter"), gear.formative, gear.cones.question.cutter_set)
    return [*steps, picked] if picked else steps


def _chord_steps(gear: Bevel, end: str) -> list[Step]:
    """One tooth straight across at an end, and the addendum that is measured at."""
    cones, pitch = gear.cones, gear.cones.question.pitch
    arc, long = f"arc of the {end} end", bare(arc_at(cones, end))
    across = f"(teeth × module of the {end} end)"
    size = f"({gear.teeth} × {bare(cones.module_at(end))})"
    tip = "small" if cones.is_parallel else end
    angle = degrees_text(gear.pitch_angle)
    thickness = (
        f"{arc} − {arc} × {arc}² / (6 × {across}²)",
        f"{long} − {long} × {long}² / (6 × {size}²)",
    )
    addendum = (
        f"module of the {tip} end + {arc}² × cos(pitch angle) / (4 × {across})",
        f"{bare(cones.module_at(tip))} + {long}² × cos({angle}) / (4 × {size})",
    )
    return [
        line(gear.label(label), formula, fixed(value, pitch.places), pitch.unit, METRIC)
        for label, formula, value in (
            (f"chordal thickness at the {end} end", thickness, gear.chord(end)),
            (f"chordal addendum at the {end} end", addendum, gear.chordal_addendum(end)),
        )
    ]


def _set_over_steps(gear: Bevel) -> list[Step]:
    """Set-over and roll of the two trimming rounds, for a cutter that was measured."""
    setting, asked = set_over_of(gear), gear.cones.question
    if setting is None or asked.thick_large is None or asked.thick_small is None:
        return []
    large, small = figure(asked.thick_large), figure(asked.thick_small)
    drawn = "cone distance / face width × (thickness at the large end − thickness at the small end)"
    figures = f"{bare(gear.cones.cone_distance)} / {figure(asked.face)} × ({large} − {small})"
    return [
        line(
            "Set-over of the table, each side of the centre",
            (f"(thickness at the large end − {drawn}) / 2", f"({large} − {figures}) / 2"),
            fixed(setting.offset, asked.pitch.places),
            asked.pitch.unit,
            PROVED,
        ),
        line(
            "Roll of the blank, opposite to the table",
            (
                f"180° / π × (arc of the large end − {drawn}) / pitch diameter",
                f"180° / π × ({bare(arc_at(gear.cones, 'large'))} − {figures}) / {bare(gear.pitch_diameter)}",
            ),
            fixed(setting.roll, 4),
            "°",
            PROVED,
        ),
    ]
