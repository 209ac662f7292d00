"""Kernel room: what is asked of the cutting of a bevel pair, checked once, and its limits."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import atan2, cos, floor, radians, sin

from calc.kernel.bevel_cutting_rolls import Head, head_for
from calc.kernel.bevel_pair_entries import asked as bevel_asked
from calc.kernel.bevel_pair_sizes import Bevel, Cones, pair_of
from calc.kernel.errors import NoSolution, OutOfRange, check_within
from calc.kernel.indexing_entries import (
    CIRCLE,
    CIRCLE_REASON,
    CIRCLES_MOST,
    CIRCLES_MOST_TO_A_FACE,
    RATIO,
    RATIO_REASON,
    check_list,
)
from calc.kernel.spur_gear_cutters import Cutter, cutters
from calc.kernel.spur_gear_entries import FACE_MM, Pitch, check_choice, read_pitch
from calc.kernel.spur_gear_entries import FACE_REASON as FACE_RANGE_REASON
from calc.kernel.wording import decimal_text, mixed_text

TEETH = (12, 200)
TEETH_REASON = (
    "The set of form cutters begins at 12 teeth: fewer want a form tool made for them, or generating. Past "
    "200 the roll is finer than the holes of any plate."
)
FACE_REASON = (
    "Past a third of the cone distance the large end is so much coarser than its cutter that no setting "
    "saves the form. Shorten the face, or take more teeth of a finer pitch."
)
PITCH_ANGLE_DEG = 85
SHAFT_REASON = (
    "Nearer to flat, the head cannot be tilted so far and the floor of the cut leaves the blank; at 90 it is "
    "a crown gear and past it an internal one, which a disc cutter cannot reach. Bring the shafts or the "
    "counts of teeth nearer together."
)
CUTTER = (1, 8)
CUTTER_REASON = (
    "They are the numbers stamped on the cutters of the set of eight, 1 for 135 teeth to a rack down to 8 "
    "for 12 and 13; a set that counts the other way is entered by what its ranges are here."
)
CUTTERS_MOST = 8
MATE_CUTS = ("textbook", "as given")
MATE_CUT_REASON = (
    "A mate that is cut already is held as it is, by the textbook or as its settings are given; leave it "
    "empty to plan both."
)
ROLL_TURNS = (Fraction(1, 1000), Fraction(20))
ROLL_REASON = (
    "It is turns of the crank from the central setting, each side: 16/39, or 1 5/39; about a quarter of the "
    "move from tooth to tooth."
)
SET_OVER_MM = (Fraction(0), Fraction(50))
SET_OVER_REASON = (
    "It is how far the table stands from the centre, each side; about three quarters of a module."
)
SHALLOWER_MM = (Fraction(0), Fraction(10))
SHALLOWER_REASON = (
    "It is how much less deep the two trimming rounds are than the first; a tenth of a module is usual, and "
    "more leaves steps at the foot."
)
#: Most of the settings a builder may try, in modules, and the roll in quarters: the form is lost beyond.
MOST_SET_OVER, MOST_SHALLOWER, MOST_ROLL = Fraction(2), Fraction(1, 2), Fraction(2)
#: Shaft angles the model was checked at.
CHECKED_DEG = (60, 120)
OWN_FIELDS = ("cutter", "roll", "set_over", "trim_shallower")


@dataclass(frozen=True, slots=True)
class Own:
    """Settings of the builder's own for one member; what he left empty is None."""

    prefix: str  # of the fields: "try_", "mate_try_", "mate_"
    cutter: int | None
    roll: Fraction | None  # turns of the crank
    set_over: Fraction | None  # mm
    trim_shallower: Fraction | None  # mm

    @property
    def is_empty(self) -> bool:
        """Whether nothing was entered."""
        return all(getattr(self, name) is None for name in OWN_FIELDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """One question about cutting a bevel pair, with every entry checked."""

    gear: Bevel
    mate: Bevel
    head: Head
    mate_head: Head
    faces: tuple[tuple[int, ...], ...]
    owned: tuple[Cutter, ...]  # from the fewest teeth
    mate_cut: str | None
    mate_own: Own  # of a mate that is cut
    own: Own  # to try
    mate_try: Own

    @property
    def pitch(self) -> Pitch:
        """The pitch of the cutters."""
        return self.gear.cones.question.pitch

    @property
    def module_mm(self) -> float:
        """The module of the cutters. [mm]"""
        return float(self.pitch.module * self.pitch.in_mm)

    @property
    def cones(self) -> Cones:
        """What the two gears have in common."""
        return self.gear.cones


def cutting(
    *,
    teeth: int,
    mate_teeth: int,
    shaft_angle: Fraction,
    module: Fraction | None,
    diametral_pitch: Fraction | None,
    face_width: Fraction,
    pressure_angle: Fraction,
    depth_system: str | None,
    ratio: int,
    circles: Sequence[Sequence[int]],
    cutter_numbers: Sequence[int],
    mate_cut: str | None,
    owns: tuple[Own, Own, Own],
) -> Cutting:
    """The checked question; raises OutOfRange naming the first entry that breaks a limit."""
    check_within("teeth", teeth, TEETH, "", TEETH_REASON)
    check_within("mate_teeth", mate_teeth, TEETH, "", TEETH_REASON)
    gear, mate = _cones_of(
        teeth, mate_teeth, shaft_angle, read_pitch(module, diametral_pitch), face_width, pressure_angle,
        depth_system,
    )  # fmt: skip
    _check_plates(ratio, circles)
    mate_own, own, mate_try = owns
    question = Cutting(
        gear=gear,
        mate=mate,
        head=_head(teeth, ratio, circles),
        mate_head=_head(mate_teeth, ratio, circles),
        faces=tuple(tuple(face) for face in circles),
        owned=_owned(cutter_numbers),
        mate_cut=mate_cut,
        mate_own=mate_own,
        own=own,
        mate_try=mate_try,
    )
    _check_mate_cut(question)
    _check_own(question, own, question.head)
    _check_own(question, mate_try, question.mate_head)
    _check_own(question, mate_own, question.mate_head, is_cut=True)
    return question


def _cones_of(
    teeth: int,
    mate_teeth: int,
    shaft_angle: Fraction,
    pitch: Pitch,
    face_width: Fraction,
    angle: Fraction,
    depth_system: str | None,
) -> tuple[Bevel, Bevel]:
    """Both blanks of parallel depth; faces too long and cones too flat are refused."""
    check_within("face_width", face_width, FACE_MM, " mm", FACE_RANGE_REASON)
    question = bevel_asked(
        teeth=teeth, mate_teeth=mate_teeth, shaft_angle=shaft_angle, pitch=pitch, pitch_at="small",
        tooth_depth="parallel", face_width=face_width, angle=angle, depth_system=depth_system,
        cutter_set="8", thick_large=None, thick_small=None,
    )  # fmt: skip
    half = float(pitch.module) * teeth / (2 * _sine(question.teeth, question.mate_teeth, shaft_angle)) / 2
    if float(question.face) > half * (1 + 1e-9):
        # Rounded down, so that the limit as shown is one that goes.
        shown = Fraction(floor(half * 10**pitch.places), 10**pitch.places)
        raise OutOfRange(
            "face_width",
            f"at most {pitch.shown(shown)}, half the cone distance of the small end and a third of the large",
            FACE_REASON,
        )
    gear, mate = pair_of(question)
    for one in (gear, mate):
        if one.pitch_angle >= PITCH_ANGLE_DEG:
            raise OutOfRange(
                "shaft_angle",
                f"pitch angles below {PITCH_ANGLE_DEG}°, and the {one.teeth} has "
                f"{decimal_text(Fraction(one.pitch_angle), 2)}°",
                SHAFT_REASON,
            )
    return gear, mate


def _sine(teeth: int, mate: int, shaft_angle: Fraction) -> float:
    """Sine of the gear's pitch angle, before there are cones."""
    shaft = radians(shaft_angle)
    return sin(atan2(teeth * sin(shaft), mate + teeth * cos(shaft)))


def _check_plates(ratio: int, faces: Sequence[Sequence[int]]) -> None:
    check_within("ratio", ratio, RATIO, "", RATIO_REASON)
    if not faces or not all(faces):
        raise OutOfRange(
            "circles", "at least one circle on each face", "Enter the circles of the plates to hand."
        )
    for face in faces:
        check_list("circles", face, CIRCLE, CIRCLES_MOST_TO_A_FACE, CIRCLE_REASON)
    check_list("circles", [circle for face in faces for circle in face], CIRCLE, CIRCLES_MOST, CIRCLE_REASON)


def _head(teeth: int, ratio: int, circles: Sequence[Sequence[int]]) -> Head:
    """The head for one gear; none of the circles indexing it is no slip of the entries."""
    head = head_for(teeth, ratio, circles)
    if not head.index_circles:
        raise NoSolution(
            f"No circle owned indexes {teeth} teeth at {ratio} to 1 in whole holes, so neither teeth nor "
            "rolls can be had on them.",
            (
                f"a circle divisible by {head.move.denominator}: enter it under the circles owned",
                "another count of teeth, or a head of another ratio",
            ),
        )
    return head


def _owned(numbers: Sequence[int]) -> tuple[Cutter, ...]:
    if not numbers:
        raise OutOfRange("cutters", "at least one cutter", f"Enter the numbers owned. {CUTTER_REASON}")
    check_list("cutters", numbers, CUTTER, CUTTERS_MOST, CUTTER_REASON)
    return tuple(cutter for cutter in cutters("8") if int(cutter.number) in numbers)


def _check_mate_cut(question: Cutting) -> None:
    """Refuse settings of a cut mate that is not said to be cut, and half of those of one that is."""
    own = question.mate_own
    if question.mate_cut is not None:
        check_choice("mate_cut", question.mate_cut, MATE_CUTS, MATE_CUT_REASON)
    given = [name for name in OWN_FIELDS if getattr(own, name) is not None]
    if question.mate_cut != "as given":
        if given:
            raise OutOfRange(f"mate_{given[0]}", "only with the mate cut as given", MATE_CUT_REASON)
        return
    for name in OWN_FIELDS[:3]:
        if getattr(own, name) is None:
            raise OutOfRange(
                f"mate_{name}",
                "wanted of a mate that is cut as given",
                f"Enter how it was cut. {MATE_CUT_REASON}",
            )


def _check_own(question: Cutting, own: Own, head: Head, *, is_cut: bool = False) -> None:
    """Refuse settings of the builder's own outside their limits."""
    module = question.pitch.module * question.pitch.in_mm
    for name, limits, unit, reason in (
        ("cutter", CUTTER, "", CUTTER_REASON),
        ("roll", ROLL_TURNS, "", ROLL_REASON),
        ("set_over", SET_OVER_MM, " mm", SET_OVER_REASON),
        ("trim_shallower", SHALLOWER_MM, " mm", SHALLOWER_REASON),
    ):
        check_within(f"{own.prefix}{name}", getattr(own, name), limits, unit, reason)
    shown = question.pitch.shown
    for name, most, reason in (
        ("set_over", MOST_SET_OVER, SET_OVER_REASON),
        ("trim_shallower", MOST_SHALLOWER, SHALLOWER_REASON),
    ):
        value = getattr(own, name)
        if value is not None and value > most * module:
            raise OutOfRange(
                f"{own.prefix}{name}",
                f"at most {shown(most * question.pitch.module)} for this cutter",
                reason,
            )
    if own.roll is not None:
        _check_roll(own, head, is_cut=is_cut)


def _check_roll(own: Own, head: Head, *, is_cut: bool) -> None:
    field = f"{own.prefix}roll"
    if own.roll is None:
        return
    if own.roll > MOST_ROLL * head.quarter:
        raise OutOfRange(
            field, f"at most {mixed_text(MOST_ROLL * head.quarter)} turns for {head.teeth} teeth", ROLL_REASON
        )
    if head.roll(own.roll) is None and not is_cut:
        near = min(head.rolls(), key=lambda roll: (abs(roll.crank - Fraction(own.roll or 0)), roll.crank))
        raise OutOfRange(
            field,
            "whole holes on a circle that also indexes the gear",
            f"The pin cannot change circle between teeth: {_list(head.index_circles)} index "
            f"{head.teeth} teeth, and the nearest roll is {near.spaces} in {near.circle}. {ROLL_REASON}",
        )


def _list(numbers: Sequence[int]) -> str:
    return ", ".join(str(number) for number in sorted(numbers))
