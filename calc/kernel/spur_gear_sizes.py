"""Kernel room: the sizes of one spur gear, as its blank is turned and its teeth are cut."""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import cos, pi, sin, tan

from calc.kernel.errors import OutOfRange
from calc.kernel.involute import in_radians, involute, pressure_angle_at
from calc.kernel.spur_gear_entries import METRIC, NAVY, NAVY_DEPTH, PROVED, TABLES, Asked, Pitch, figure, line
from calc.kernel.units import INCH
from calc.kernel.wording import fixed
from calc.kernel.working import COMMON, WORKED_HERE, Step

#: The depth system that has two thousandths of an inch besides the modules.
FINE = "2.2+0.002"
FINE_EXTRA_IN = Fraction(2, 1000)


def depth_source(system: str, pitch: Pitch) -> str:
    """Where a depth system was read; those of the metric tables are common practice with a DP."""
    if system == "2.157":
        return NAVY_DEPTH
    return COMMON if system == FINE or pitch.per_inch else TABLES


def depth_of(system: str, pitch: Pitch) -> Fraction:
    """Whole depth of a tooth in a depth system, in the unit of the working."""
    if system == FINE:
        extra = FINE_EXTRA_IN if pitch.per_inch else FINE_EXTRA_IN * INCH
        return Fraction("2.2") * pitch.module + extra
    return Fraction(system) * pitch.module


@dataclass(frozen=True, slots=True, kw_only=True)
class Gear:
    """One gear with every entry checked; lengths in the unit of the working."""

    is_mate: bool
    teeth: int
    pitch: Pitch
    angle: Fraction  # degrees
    depth_system: str
    cutter_set: str
    shift: Fraction
    span_teeth: int
    half_backlash: Fraction  # off the tooth, along the pitch circle
    pin: Fraction | None
    measured: Fraction | None  # outside diameter as turned

    def label(self, words: str) -> str:
        """The label of a line of working: that of its mate says so."""
        return f"Mate: {words}" if self.is_mate else f"{words[0].upper()}{words[1:]}"

    @property
    def pitch_diameter(self) -> Fraction:
        """Teeth times the module."""
        return self.teeth * self.pitch.module

    @property
    def addendum(self) -> Fraction:
        """Pitch circle to tip: a module and the shift."""
        return (1 + self.shift) * self.pitch.module

    @property
    def whole_depth(self) -> Fraction:
        """Tip to root."""
        return depth_of(self.depth_system, self.pitch)

    @property
    def outside_diameter(self) -> Fraction:
        """What the blank is turned to."""
        return self.pitch_diameter + 2 * self.addendum

    @property
    def root_diameter(self) -> Fraction:
        """Across the bottoms of the tooth spaces."""
        return self.outside_diameter - 2 * self.whole_depth

    @property
    def tip_diameter(self) -> Fraction:
        """Across the tips: as measured where that is known."""
        return self.measured if self.measured is not None else self.outside_diameter

    @property
    def alpha(self) -> float:
        """Pressure angle. [radian]"""
        return in_radians(self.angle)

    @property
    def base_diameter(self) -> float:
        """The circle the involute springs from."""
        return float(self.pitch_diameter) * cos(self.alpha)

    @property
    def circular_pitch(self) -> float:
        """One tooth and one space along the pitch circle."""
        return pi * float(self.pitch.module)

    @property
    def thickness(self) -> float:
        """One tooth along the pitch circle, half the backlash of the pair taken off."""
        shifted = 2 * float(self.shift * self.pitch.module) * tan(self.alpha)
        return self.circular_pitch / 2 + shifted - float(self.half_backlash)

    @property
    def half_angle(self) -> float:
        """Half of the tooth at the pitch circle, from the middle of the gear. [radian]"""
        return self.thickness / float(self.pitch_diameter)

    def thickness_at(self, diameter: float) -> float:
        """One tooth along the circle of another diameter; below nought past the point of the tooth."""
        there = involute(pressure_angle_at(self.base_diameter, diameter))
        return diameter * (self.half_angle + involute(self.alpha) - there)

    @property
    def undercut_limit(self) -> float:
        """Teeth below which the tip of a rack of full depth cuts into the flank."""
        return 2 * float(1 - self.shift) / sin(self.alpha) ** 2

    @property
    def is_undercut(self) -> bool:
        """Whether it has fewer teeth than that; at 30 degrees the limit is whole and a float is not."""
        return self.teeth < self.undercut_limit - 1e-9

    def in_mm(self, length: Fraction | float) -> Fraction | float:
        """A length of the working in millimetres, exact where it was exact."""
        return length * self.pitch.in_mm if isinstance(length, Fraction) else length * float(self.pitch.in_mm)


def usual_span(teeth: int, angle: Fraction) -> int:
    """Teeth to span unless told otherwise: teeth × angle / 180°, rounded up."""
    exact = teeth * angle / 180
    return -(-exact.numerator // exact.denominator)


def gears_of(question: Asked) -> tuple[Gear, Gear | None]:
    """The gear asked for and its mate, each with its half of the backlash; the mate has no shift."""
    gear = Gear(
        is_mate=False,
        teeth=question.teeth,
        pitch=question.pitch,
        angle=question.angle,
        depth_system=question.depth_system,
        cutter_set=question.cutter_set,
        shift=question.shift,
        span_teeth=question.span_teeth or usual_span(question.teeth, question.angle),
        half_backlash=question.backlash / 2,
        pin=question.pin,
        measured=question.measured,
    )
    _check_point(gear)
    if question.mate_teeth is None:
        return gear, None
    span = usual_span(question.mate_teeth, question.angle)
    mate = replace(
        gear, is_mate=True, teeth=question.mate_teeth, shift=Fraction(0), span_teeth=span, measured=None
    )
    _check_point(mate)
    return gear, mate


def _check_point(gear: Gear) -> None:
    """Refuse a tooth that comes to a point before it reaches its tip."""
    if gear.thickness_at(float(gear.tip_diameter)) > 0:
        return
    field = "profile_shift" if gear.shift > 0 else "mate_teeth" if gear.is_mate else "teeth"
    if gear.half_backlash:
        field = "backlash"
    raise OutOfRange(
        field,
        "less than brings the tooth to a point",
        f"With {gear.teeth} teeth at {figure(gear.angle)} degrees the two flanks would meet below the "
        "tip. Take less shift or backlash, or a smaller angle.",
    )


def size_steps(gear: Gear) -> list[Step]:
    """The lines of the sizes: pitch, outside, depth, root and base; the depth is the same for the mate."""
    pitch, teeth, across = gear.pitch, str(gear.teeth), figure(gear.pitch_diameter)
    outside, depth = pitch.of("(teeth + 2)", f"({teeth} + 2)"), depth_formula(gear.depth_system, pitch)
    if gear.shift:
        outside = pitch.of("(teeth + 2 + 2 × shift)", f"({teeth} + 2 + 2 × {figure(gear.shift)})")
    root = ("outside diameter − 2 × whole depth", f"{outside[1]} − 2 × ({depth[1]})")
    base = ("pitch diameter × cos(pressure angle)", f"{across} × cos({figure(gear.angle)}°)")
    deep, deep_source = f"whole depth, system {gear.depth_system}", depth_source(gear.depth_system, pitch)
    lines: list[tuple[str, tuple[str, str], Fraction | float, str]] = [
        (
            "pitch diameter",
            pitch.of("teeth", teeth),
            gear.pitch_diameter,
            NAVY if pitch.per_inch else WORKED_HERE,
        ),
        ("outside diameter", outside, gear.outside_diameter, NAVY if pitch.per_inch else TABLES),
        (deep, depth, gear.whole_depth, deep_source),
        ("root diameter", root, gear.root_diameter, WORKED_HERE),
        ("base diameter", base, gear.base_diameter, PROVED),
    ]
    return [
        line(gear.label(label), formula, fixed(length, pitch.places), pitch.unit, source)
        for label, formula, length, source in lines
        if not (gear.is_mate and label == deep)
    ]


def depth_formula(system: str, pitch: Pitch) -> tuple[str, str]:
    """Whole depth in a depth system as a formula and in figures."""
    if system != FINE:
        return pitch.of(system, system)
    words, figures = pitch.of("2.2", "2.2")
    extra = figure(FINE_EXTRA_IN if pitch.per_inch else FINE_EXTRA_IN * INCH)
    return f"{words} + {extra}", f"{figures} + {extra}"


def thickness_steps(gear: Gear) -> list[Step]:
    """Circular pitch, and the tooth along the pitch circle where shift or backlash make it no plain half."""
    pitch, steps = gear.pitch, []
    if not gear.is_mate:
        value = fixed(gear.circular_pitch, pitch.places)
        steps.append(
            line("Circular pitch", pitch.of("π", "π"), value, pitch.unit, NAVY if pitch.per_inch else PROVED)
        )
    if not gear.shift and not gear.half_backlash:
        return steps
    label, (words, figures) = "tooth along the pitch circle", pitch.of("π / 2", "π / 2")
    if gear.shift:
        tangent = f"2 × {figure(gear.shift)} × tan({figure(gear.angle)}°)"
        more = pitch.of("2 × shift × tan(pressure angle)", tangent)
        words, figures = f"{words} + {more[0]}", f"{figures} + {more[1]}"
    if gear.half_backlash:
        label += ", half of the pair’s backlash off it"
        words, figures = f"{words} − half the backlash", f"{figures} − {figure(gear.half_backlash)}"
    value = fixed(gear.thickness, pitch.places)
    return [*steps, line(gear.label(label), (words, figures), value, pitch.unit, METRIC)]
