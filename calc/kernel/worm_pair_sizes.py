"""Kernel room: what is asked of a worm and its wheel, checked once, and their sizes."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import atan, cos, degrees, pi, radians, sin
from typing import Any

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.involute import in_radians
from calc.kernel.spur_gear_entries import (
    ANGLE_DEG,
    ANGLE_REASON,
    DEPTH_REASON,
    DEPTHS,
    TEETH,
    Worked,
    check_choice,
    check_range,
    figure,
    read_pitch,
)
from calc.kernel.spur_gear_sizes import FINE, FINE_EXTRA_IN
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, exact, fixed

STARTS = (1, 12)
STARTS_REASON = (
    "It is how many threads run side by side on the worm: one on most steerings, seldom over four."
)
WHEEL_REASON = "It is the teeth of the whole circle, of a steering segment as well."
AXIAL_MM = (Fraction(1, 2), Fraction(100))
AXIAL_REASON = "It is from one thread to the next along the worm, the wheel’s circular pitch."
WORM_MM = (Fraction(1), Fraction(1000))
WORM_REASON = "It is the worm’s diameter at the pitch line, two addenda less than over its threads."
ONE_PITCH = "one of axial pitch, module and diametral pitch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Worm(Worked):
    """A worm and its wheel with every entry checked; lengths in the unit of the working."""

    starts: int
    wheel_teeth: int
    kind: str  # the entry the pitch came by: "axial_pitch", "module" or "diametral_pitch"
    figure: Fraction  # of that entry, in the unit of the working
    diameter: Fraction  # of the worm at the pitch line
    angle: Fraction  # degrees, in the plane of the worm's axis
    depth_system: str

    @property
    def text(self) -> str:
        """The pitch as the trade says it: ``8 DP``, ``module 2``, ``axial pitch 0.5 in``."""
        shown = decimal_text(self.figure, 6)
        if self.kind == "axial_pitch":
            return f"axial pitch {shown} {self.unit}"
        return f"{shown} DP" if self.kind == "diametral_pitch" else f"module {shown}"

    def shown(self, length: Fraction | float) -> str:
        """A length of the working with its unit, for people."""
        return f"{fixed(length, self.places)} {self.unit}"

    def modules(self, words: str, figures: str) -> tuple[str, str]:
        """So many modules as a formula and in figures, by the entry the pitch came by."""
        size = figure(self.figure)
        match self.kind:
            case "diametral_pitch":
                return f"{words} / diametral pitch", f"{figures} / {size}"
            case "module":
                return f"{words} × module", f"{figures} × {size}"
        return f"{words} × axial pitch / π", f"{figures} × {size} / π"

    @property
    def module(self) -> Fraction | float:
        """In the plane of the worm's axis: the wheel's pitch diameter to a tooth."""
        if self.kind == "axial_pitch":
            return float(self.figure) / pi
        return 1 / self.figure if self.kind == "diametral_pitch" else self.figure

    @property
    def axial_pitch(self) -> Fraction | float:
        """From one thread to the next along the worm."""
        return self.figure if self.kind == "axial_pitch" else pi * float(self.module)

    @property
    def lead(self) -> Fraction | float:
        """What the thread moves on in one turn."""
        return self.starts * self.axial_pitch

    @property
    def lead_angle(self) -> float:
        """Of the thread to a plane square to the worm, at the pitch line. [degree]"""
        return degrees(atan(float(self.starts * self.module) / float(self.diameter)))

    @property
    def normal_module(self) -> float:
        """Square to the thread."""
        return float(self.module) * cos(radians(self.lead_angle))

    @property
    def ratio(self) -> Fraction:
        """Turns of the worm for one of the wheel."""
        return Fraction(self.wheel_teeth, self.starts)

    @property
    def wheel_pitch_diameter(self) -> Fraction | float:
        """Wheel teeth times the module."""
        return self.wheel_teeth * self.module

    @property
    def worm_outside(self) -> Fraction | float:
        """Over the threads."""
        return self.diameter + 2 * self.module

    @property
    def whole_depth(self) -> Fraction | float:
        """Tip to root of the thread."""
        return self.depth_by(self.depth_system)

    def depth_by(self, system: str) -> Fraction | float:
        """Whole depth by a depth system."""
        if system == FINE:
            extra = FINE_EXTRA_IN if self.per_inch else FINE_EXTRA_IN * INCH
            return Fraction("2.2") * self.module + extra
        return Fraction(system) * self.module

    @property
    def worm_root(self) -> Fraction | float:
        """Across the bottoms of the thread."""
        return self.worm_outside - 2 * self.whole_depth

    @property
    def throat(self) -> Fraction | float:
        """Of the wheel, across the tips in its middle plane."""
        return self.wheel_pitch_diameter + 2 * self.module

    @property
    def throat_radius(self) -> Fraction | float:
        """Of the hollow in the wheel's face: the worm's pitch radius less the addendum."""
        return self.diameter / 2 - self.module

    @property
    def centres(self) -> Fraction | float:
        """Half the sum of the pitch diameters."""
        return (self.diameter + self.wheel_pitch_diameter) / 2

    @property
    def undercut_limit(self) -> float:
        """Wheel teeth below which a straight-sided worm of full depth cuts into their flanks."""
        return 2 / sin(in_radians(self.angle)) ** 2


def worm_asked(
    *,
    starts: int,
    wheel_teeth: int,
    worm_diameter: Fraction,
    axial_pitch: Fraction | None,
    module: Fraction | None,
    diametral_pitch: Fraction | None,
    pressure_angle: Fraction,
    depth_system: str | None,
) -> Worm:
    """The checked worm; raises OutOfRange naming the first entry that breaks a limit."""
    check_range("starts", starts, STARTS, STARTS_REASON)
    check_range("wheel_teeth", wheel_teeth, TEETH, WHEEL_REASON)
    check_within("worm_diameter", worm_diameter, WORM_MM, " mm", WORM_REASON)
    check_range("pressure_angle", pressure_angle, ANGLE_DEG, ANGLE_REASON)
    kind, size, per_inch = _read_pitch(axial_pitch, module, diametral_pitch)
    system = depth_system or ("2.157" if per_inch else "2.25")
    check_choice("depth_system", system, DEPTHS, DEPTH_REASON)
    worm = Worm(
        starts=starts,
        wheel_teeth=wheel_teeth,
        kind=kind,
        figure=size,
        per_inch=per_inch,
        diameter=Fraction(worm_diameter) / (INCH if per_inch else 1),
        angle=Fraction(pressure_angle),
        depth_system=system,
    )
    if worm.worm_root <= 0:
        least = float(2 * (worm.whole_depth - worm.module))
        raise OutOfRange(
            "worm_diameter",
            f"over {worm.shown(least)} at {worm.text}",
            f"The thread is so deep that nothing would be left of the worm. {WORM_REASON}",
        )
    return worm


def _read_pitch(
    axial_pitch: Fraction | None, module: Fraction | None, diametral_pitch: Fraction | None
) -> tuple[str, Fraction, bool]:
    """Which of the three was given, its figure in the unit of the working, and whether that is the inch."""
    if axial_pitch is None:
        if module is None and diametral_pitch is None:
            raise OutOfRange(
                "axial_pitch", f"{ONE_PITCH} is wanted", "Enter one of them, and leave the others empty."
            )
        pitch = read_pitch(module, diametral_pitch)
        return "diametral_pitch" if pitch.per_inch else "module", pitch.figure, pitch.per_inch
    if module is not None or diametral_pitch is not None:
        raise OutOfRange(
            "module" if module is not None else "diametral_pitch",
            f"{ONE_PITCH}, not two",
            "Clear all but one of them.",
        )
    check_within("axial_pitch", axial_pitch, AXIAL_MM, " mm", AXIAL_REASON)
    per_inch = is_rounder_in_inches(Fraction(axial_pitch))
    return "axial_pitch", Fraction(axial_pitch) / (INCH if per_inch else 1), per_inch


def is_rounder_in_inches(length: Fraction) -> bool:
    """Whether a length is the plainer figure in inches, and so was an inch one: 12.7 mm is 1/2 in."""
    return (length / INCH).denominator <= length.denominator


def worm_in_inches(entries: Mapping[str, Any]) -> bool:
    """Whether a worm of these entries, as typed or as kept, is worked in inches."""
    if entries.get("axial_pitch") is None:
        return entries.get("diametral_pitch") is not None
    return is_rounder_in_inches(exact(entries["axial_pitch"]))
