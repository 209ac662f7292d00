"""Kernel room: the sizes of one helical gear, in the plane of its teeth and in that of its face."""

from dataclasses import dataclass
from fractions import Fraction
from math import atan, cos, degrees, pi, sin, tan

from calc.kernel.errors import OutOfRange
from calc.kernel.formative import snapped
from calc.kernel.involute import in_radians
from calc.kernel.spur_gear_entries import (
    ANGLE_DEG,
    ANGLE_REASON,
    CUTTER_SET_REASON,
    CUTTER_SETS,
    SHIFT,
    SHIFT_REASON,
    TEETH,
    TEETH_REASON,
    Pitch,
    check_choice,
    check_range,
)
from calc.kernel.spur_gear_sizes import depth_of
from calc.kernel.wording import dms_text

HELIX_DEG = (Fraction(1), Fraction(60))
HELIX_REASON = (
    "It is the angle of the tooth to the gear’s axis at the pitch circle: below one degree it is a spur "
    "gear, and past sixty it is cut as a worm."
)
PITCH_INS = ("normal", "transverse")
PITCH_IN_REASON = (
    "The cutter’s pitch is the normal one, square to the tooth; the transverse is along the face."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Helical:
    """One helical gear with every entry checked; lengths in the unit of the working."""

    is_mate: bool
    teeth: int
    pitch: Pitch
    pitch_in: str  # "normal" or "transverse"
    helix: Fraction  # degrees
    angle: Fraction  # of the cutter, degrees
    depth_system: str
    cutter_set: str
    shift: Fraction  # in normal modules

    def label(self, words: str) -> str:
        """The label of a line of working: that of its mate says so."""
        return f"Mate: {words}" if self.is_mate else f"{words[0].upper()}{words[1:]}"

    @property
    def is_transverse(self) -> bool:
        """Whether the pitch that was given is the transverse one."""
        return self.pitch_in == "transverse"

    @property
    def cosine(self) -> float:
        """Cosine of the helix angle."""
        return cos(in_radians(self.helix))

    @property
    def normal_module(self) -> Fraction | float:
        """Square to the tooth: the cutter's."""
        return float(self.pitch.module) * self.cosine if self.is_transverse else self.pitch.module

    @property
    def transverse_module(self) -> Fraction | float:
        """In the plane of the face: pitch diameter to a tooth."""
        return self.pitch.module if self.is_transverse else float(self.pitch.module) / self.cosine

    @property
    def transverse_angle(self) -> float:
        """Pressure angle in the plane of the face. [degree]"""
        return degrees(atan(tan(in_radians(self.angle)) / self.cosine))

    @property
    def pitch_diameter(self) -> Fraction | float:
        """Teeth times the transverse module."""
        return self.teeth * self.transverse_module

    @property
    def addendum(self) -> float:
        """A normal module and the shift."""
        return float(1 + self.shift) * float(self.normal_module)

    @property
    def outside_diameter(self) -> float:
        """What the blank is turned to."""
        return float(self.pitch_diameter) + 2 * self.addendum

    @property
    def whole_depth(self) -> float:
        """Tip to root, of the cutter."""
        return self.depth_by(self.depth_system)

    def depth_by(self, system: str) -> float:
        """Whole depth by a depth system, in normal modules."""
        exact = Fraction(self.normal_module)
        cut = Pitch(figure=1 / exact if self.pitch.per_inch else exact, per_inch=self.pitch.per_inch)
        return float(depth_of(system, cut))

    @property
    def root_diameter(self) -> float:
        """Across the bottoms of the spaces."""
        return self.outside_diameter - 2 * self.whole_depth

    @property
    def lead(self) -> float:
        """How far a tooth runs along the axis in one turn."""
        return pi * float(self.pitch_diameter) / tan(in_radians(self.helix))

    @property
    def axial_pitch(self) -> float:
        """From tooth to tooth along the axis: the face that keeps a tooth always in mesh."""
        return self.lead / self.teeth

    @property
    def formative(self) -> float:
        """Teeth of the spur gear whose teeth are of this shape, square to the tooth: not rounded."""
        return snapped(self.teeth / self.cosine**3)

    @property
    def half_angle(self) -> float:
        """Half of a tooth of the formative gear. [radian]"""
        return (pi / 2 + 2 * float(self.shift) * tan(in_radians(self.angle))) / self.formative

    @property
    def chordal_thickness(self) -> float:
        """Straight across the tooth, square to it."""
        return float(self.normal_module) * self.formative * sin(self.half_angle)

    @property
    def chordal_addendum(self) -> float:
        """From the tip down to that chord."""
        rise = float(self.normal_module) * self.formative / 2 * (1 - cos(self.half_angle))
        return self.addendum + rise


def check_entries(gear: Helical, mate_teeth: int | None) -> None:
    """Refuse the first entry that breaks a limit, by name."""
    check_range("teeth", gear.teeth, TEETH, TEETH_REASON)
    check_range("mate_teeth", mate_teeth, TEETH, TEETH_REASON)
    if not HELIX_DEG[0] <= gear.helix <= HELIX_DEG[1]:
        ends = f"{dms_text(HELIX_DEG[0])} to {dms_text(HELIX_DEG[1])}"
        raise OutOfRange("helix_angle", ends, HELIX_REASON)
    check_range("pressure_angle", gear.angle, ANGLE_DEG, ANGLE_REASON)
    check_range("profile_shift", gear.shift, SHIFT, SHIFT_REASON)
    check_choice("cutter_set", gear.cutter_set, CUTTER_SETS, CUTTER_SET_REASON)
    check_choice("pitch_in", gear.pitch_in, PITCH_INS, PITCH_IN_REASON)
