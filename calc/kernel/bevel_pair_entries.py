"""Kernel room: what is asked of a pair of bevel gears, checked once, and the limits it is checked by."""

from dataclasses import dataclass
from fractions import Fraction
from math import acos, cos, degrees, radians, sin

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.spur_gear_entries import (
    ANGLE_DEG,
    ANGLE_REASON,
    CUTTER_SET_REASON,
    CUTTER_SETS,
    FACE_MM,
    TEETH,
    TEETH_REASON,
    Pitch,
    check_choice,
    check_range,
    read_depth_system,
)
from calc.kernel.wording import dms_text, fixed

SHAFT_DEG = (Fraction(5), Fraction(175))
SHAFT_REASON = (
    "It is the angle between the two shafts where they meet, 90 on most engines; gears on shafts nearer to "
    "parallel are spur gears."
)
FACE_REASON = "It is the length of the teeth along the pitch cone, a third of the cone distance at most."
#: Of the cone distance: a face longer than this leaves less than half a tooth at the small end.
LONGEST_FACE = Fraction(1, 2)
PITCH_ATS = ("large", "small")
PITCH_AT_REASON = (
    "A pitch belongs to one end of the tooth: the other end’s is got from it and the face width."
)
TOOTH_DEPTHS = ("taper", "parallel")
TOOTH_DEPTH_REASON = (
    "Taper teeth get shallower towards the apex, parallel ones keep their depth: both gears of a pair are "
    "of one kind, and everything about the blank and the cutter follows from it."
)
THICK_MM = (Fraction(1, 20), Fraction(100))
THICK_REASON = "It is of the cutter, as far from its tip as the dedendum of that end of the tooth."
#: Cosines that no float holds exactly, by the angle: where a crown gear begins must not hang on a hair.
COSINES = {Fraction(60): 0.5, Fraction(90): 0.0, Fraction(120): -0.5}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One question about a bevel pair; lengths are in the unit of the working."""

    teeth: int
    mate_teeth: int
    shaft_angle: Fraction  # degrees
    pitch: Pitch
    pitch_at: str  # "large" or "small"
    tooth_depth: str  # "taper" or "parallel"
    face: Fraction
    angle: Fraction  # degrees
    depth_system: str
    cutter_set: str
    thick_large: Fraction | None  # of a bevel cutter, at the pitch line of each end
    thick_small: Fraction | None

    @property
    def is_parallel(self) -> bool:
        """Whether the teeth keep their depth along the face."""
        return self.tooth_depth == "parallel"

    @property
    def is_small(self) -> bool:
        """Whether the pitch that was given is the small end's."""
        return self.pitch_at == "small"

    @property
    def shaft_cosine(self) -> float:
        """Cosine of the shaft angle."""
        return COSINES.get(self.shaft_angle, cos(radians(self.shaft_angle)))

    @property
    def shaft_sine(self) -> float:
        """Sine of the shaft angle."""
        return sin(radians(self.shaft_angle))


def usual_pitch_at(tooth_depth: str) -> str:
    """The end whose pitch is usually given: the large one of taper teeth, the small one of parallel."""
    return "small" if tooth_depth == "parallel" else "large"


def asked(
    *,
    teeth: int,
    mate_teeth: int,
    shaft_angle: Fraction,
    pitch: Pitch,
    pitch_at: str | None,
    tooth_depth: str,
    face_width: Fraction,
    angle: Fraction,
    depth_system: str | None,
    cutter_set: str,
    thick_large: Fraction | None,
    thick_small: Fraction | None,
) -> Asked:
    """The checked question; raises OutOfRange naming the first entry that breaks a limit."""
    check_range("teeth", teeth, TEETH, TEETH_REASON)
    check_range("mate_teeth", mate_teeth, TEETH, TEETH_REASON)
    if not SHAFT_DEG[0] <= shaft_angle <= SHAFT_DEG[1]:
        raise OutOfRange("shaft_angle", f"{dms_text(SHAFT_DEG[0])} to {dms_text(SHAFT_DEG[1])}", SHAFT_REASON)
    check_choice("tooth_depth", tooth_depth, TOOTH_DEPTHS, TOOTH_DEPTH_REASON)
    check_range("face_width", face_width, FACE_MM, FACE_REASON)
    check_range("pressure_angle", angle, ANGLE_DEG, ANGLE_REASON)
    check_choice("cutter_set", cutter_set, CUTTER_SETS, CUTTER_SET_REASON)
    for field, thick in (("cutter_thickness_large", thick_large), ("cutter_thickness_small", thick_small)):
        check_within(field, thick, THICK_MM, " mm", THICK_REASON)
    at = pitch_at or usual_pitch_at(tooth_depth)
    check_choice("pitch_at", at, PITCH_ATS, PITCH_AT_REASON)
    question = Asked(
        teeth=teeth,
        mate_teeth=mate_teeth,
        shaft_angle=Fraction(shaft_angle),
        pitch=pitch,
        pitch_at=at,
        tooth_depth=tooth_depth,
        face=Fraction(face_width) / pitch.in_mm,
        angle=Fraction(angle),
        depth_system=read_depth_system(depth_system, pitch),
        cutter_set=cutter_set,
        thick_large=None if thick_large is None else Fraction(thick_large) / pitch.in_mm,
        thick_small=None if thick_small is None else Fraction(thick_small) / pitch.in_mm,
    )
    _check_cones(question)
    _check_thickness(question)
    return question


def _check_thickness(question: Asked) -> None:
    """Refuse half of the pair of thicknesses, thicknesses of a spur cutter, and a cutter thicker inwards."""
    large, small = question.thick_large, question.thick_small
    if large is None and small is None:
        return
    if large is None or small is None:
        field = "cutter_thickness_large" if large is None else "cutter_thickness_small"
        raise OutOfRange(field, "both thicknesses or neither", f"Measure it at both depths. {THICK_REASON}")
    if question.is_parallel:
        raise OutOfRange(
            "cutter_thickness_large",
            "only with taper depth",
            "The set-over of parallel teeth comes from the small end alone. Leave both thicknesses empty.",
        )
    if small > large:
        raise OutOfRange(
            "cutter_thickness_small",
            f"at most the {question.pitch.shown(large)} of the large end",
            "The small end is cut by the thinner part of the cutter, nearer to its tip.",
        )


def _check_cones(question: Asked) -> None:
    """Refuse shafts at which the larger gear would be a crown gear or an internal one."""
    small, large = sorted((question.teeth, question.mate_teeth))
    if small + large * question.shaft_cosine > 0:
        return
    most = degrees(acos(-small / large))
    raise OutOfRange(
        "shaft_angle",
        f"less than {fixed(most, 4)}° for {large} and {small} teeth",
        f"At that angle the pitch cone of the {large} opens to 90 degrees, a flat crown gear, and beyond it "
        "to an internal one: neither is cut as a bevel. Look at the shaft angle and the teeth.",
    )
