"""Kernel room: the cones of a bevel pair, and the sizes of each of its gears at both ends of the teeth."""

from dataclasses import dataclass
from fractions import Fraction
from math import atan, atan2, degrees, pi, sin, sqrt

from calc.kernel.bevel_pair_entries import FACE_REASON, LONGEST_FACE, Asked
from calc.kernel.errors import OutOfRange
from calc.kernel.formative import snapped
from calc.kernel.involute import in_radians
from calc.kernel.spur_gear_entries import Pitch
from calc.kernel.spur_gear_sizes import depth_of

Length = Fraction | float
ENDS = ("large", "small")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cones:
    """What the two gears of a pair have in common; lengths in the unit of the working."""

    question: Asked
    spread: float  # root of teeth² + mate² + 2 × teeth × mate × cos(shaft angle)
    cone_distance: float  # apex to the large end, along the pitch cone
    large_module: Length
    small_module: Length
    whole_depth: Length  # at the large end; of parallel teeth everywhere

    @property
    def is_parallel(self) -> bool:
        """Whether the teeth keep their depth along the face."""
        return self.question.is_parallel

    @property
    def small_distance(self) -> float:
        """Apex to the small end, along the pitch cone."""
        return self.cone_distance - float(self.question.face)

    @property
    def factor(self) -> float:
        """What is at the small end for one at the large: of modules, diameters and taper depths."""
        return self.small_distance / self.cone_distance

    @property
    def cutter_module(self) -> Length:
        """Module of the cutter: the large end's of a thin bevel cutter, the small end's of a spur cutter."""
        return self.small_module if self.is_parallel else self.large_module

    @property
    def addendum(self) -> Length:
        """At the large end; of parallel teeth everywhere."""
        return self.cutter_module

    @property
    def dedendum(self) -> Length:
        """At the large end; of parallel teeth everywhere."""
        return self.whole_depth - self.addendum

    @property
    def addendum_angle(self) -> float:
        """Between pitch cone and face of the blank. [degree] nought of parallel teeth"""
        return 0.0 if self.is_parallel else degrees(atan(float(self.addendum) / self.cone_distance))

    @property
    def dedendum_angle(self) -> float:
        """Between pitch cone and bottom of the teeth. [degree] nought of parallel teeth"""
        return 0.0 if self.is_parallel else degrees(atan(float(self.dedendum) / self.cone_distance))

    @property
    def face_limit(self) -> float:
        """The lesser of a third of the cone distance and ten modules of the large end."""
        return min(self.cone_distance / 3, 10 * float(self.large_module))

    def depth_by(self, system: str) -> Length:
        """Whole depth by a depth system, of the cutter's own module."""
        if self.cutter_module == self.question.pitch.module:
            return depth_of(system, self.question.pitch)
        return depth_of(system, pitch_of(self.cutter_module, self.question.pitch))

    @property
    def face_nominal(self) -> float:
        """Three tenths of the cone distance."""
        return 0.3 * self.cone_distance

    @property
    def mean_distance(self) -> float:
        """Apex to the middle of the face, along the pitch cone."""
        return self.cone_distance - float(self.question.face) / 2

    def module_at(self, end: str) -> Length:
        """Module of the large or of the small end."""
        return self.large_module if end == "large" else self.small_module

    def at_small(self, length: Length) -> float:
        """A length of the large end as it is at the small end of taper teeth."""
        return float(length) * self.factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Bevel:
    """One gear of the pair; lengths in the unit of the working, angles in degrees."""

    cones: Cones
    is_mate: bool
    teeth: int
    pitch_angle: float
    cosine: float  # of the pitch angle
    sine: float

    def label(self, words: str) -> str:
        """The label of a line of working: that of its mate says so."""
        return f"Mate: {words}" if self.is_mate else f"{words[0].upper()}{words[1:]}"

    @property
    def pitch_diameter(self) -> Length:
        """At the large end."""
        return self.teeth * self.cones.large_module

    @property
    def outside_diameter(self) -> float:
        """Over the tips at the large end."""
        return float(self.pitch_diameter) + 2 * float(self.cones.addendum) * self.cosine

    @property
    def small_outside_diameter(self) -> float:
        """Over the tips at the small end."""
        if self.cones.is_parallel:
            across = self.teeth * float(self.cones.small_module)
            return across + 2 * float(self.cones.addendum) * self.cosine
        return self.cones.at_small(self.outside_diameter)

    @property
    def face_angle(self) -> float:
        """Of the blank, from the gear's axis."""
        return self.pitch_angle + self.cones.addendum_angle

    @property
    def root_angle(self) -> float:
        """Of the bottom of the teeth, from the gear's axis: the tilt of the head."""
        return self.pitch_angle - self.cones.dedendum_angle

    @property
    def back_angle(self) -> float:
        """Of the back cone, from the gear's axis."""
        return 90 - self.pitch_angle

    @property
    def pitch_to_apex(self) -> float:
        """From the plane of the large pitch circle to the apex, along the axis."""
        return self.cones.cone_distance * self.cosine

    @property
    def crown_to_apex(self) -> float:
        """From the outer tip edge to the apex, along the axis."""
        return self.pitch_to_apex - float(self.cones.addendum) * self.sine

    @property
    def small_crown_to_apex(self) -> float:
        """From the inner tip edge to the apex, along the axis."""
        if self.cones.is_parallel:
            return self.cones.small_distance * self.cosine - float(self.cones.addendum) * self.sine
        return self.cones.at_small(self.crown_to_apex)

    @property
    def formative(self) -> float:
        """Teeth of the spur gear whose teeth are of this shape: not rounded."""
        return snapped(self.teeth / self.cosine)

    @property
    def undercut_limit(self) -> float:
        """Formative teeth below which a rack of full depth cuts into the flank."""
        return 2 / sin(in_radians(self.cones.question.angle)) ** 2

    @property
    def is_undercut(self) -> bool:
        """Whether a rack of full depth would undercut it."""
        return self.formative < self.undercut_limit

    def chord(self, end: str) -> float:
        """One tooth straight across at the pitch circle of an end."""
        arc, across = arc_at(self.cones, end), self._diameter(end)
        return arc - arc**3 / (6 * across**2)

    def chordal_addendum(self, end: str) -> float:
        """From the tip down to that chord, along the back cone."""
        arc, across = arc_at(self.cones, end), self._diameter(end)
        addendum = float(self.cones.module_at("small" if self.cones.is_parallel else end))
        return addendum + arc**2 * self.cosine / (4 * across)

    def _diameter(self, end: str) -> float:
        """Of the pitch circle of an end."""
        return self.teeth * float(self.cones.module_at(end))


def arc_at(cones: Cones, end: str) -> float:
    """One tooth along the pitch circle of an end: half the circular pitch there."""
    return pi * float(cones.module_at(end)) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOver:
    """How each side of a taper tooth is trimmed with a form cutter, from the central setting."""

    offset: float  # of the table, in the unit of the working
    roll: float  # of the blank, opposite to the table. [degree]


def set_over_of(gear: Bevel) -> SetOver | None:
    """The setting for a cutter of the thicknesses given; None where they are not.

    The trimmed flank is straight and must point at the apex: that gives the set-over; what is left of a
    quarter of the pitch at the large end gives the roll.
    """
    asked = gear.cones.question
    if asked.thick_large is None or asked.thick_small is None:
        return None
    drawn = gear.cones.cone_distance / float(asked.face) * float(asked.thick_large - asked.thick_small)
    return SetOver(
        offset=(float(asked.thick_large) - drawn) / 2,
        roll=degrees((arc_at(gear.cones, "large") - drawn) / float(gear.pitch_diameter)),
    )


def pitch_of(module: Length, like: Pitch) -> Pitch:
    """A module of the working as a pitch of the same kind as another."""
    exact = Fraction(module)
    return Pitch(figure=1 / exact if like.per_inch else exact, per_inch=like.per_inch)


def pair_of(question: Asked) -> tuple[Bevel, Bevel]:
    """The gear asked for and its mate; a face too long for the cones is refused."""
    teeth, mate, cosine = question.teeth, question.mate_teeth, question.shaft_cosine
    spread = sqrt(teeth**2 + mate**2 + 2 * teeth * mate * cosine)
    given = float(question.pitch.module) * spread / (2 * question.shaft_sine)
    face = float(question.face)
    whole = given + face if question.is_small else given
    _check_face(question, whole)
    factor = (whole - face) / whole
    module = question.pitch.module
    large: Length = float(module) / factor if question.is_small else module
    small: Length = module if question.is_small else float(module) * factor
    is_given = question.is_parallel == question.is_small
    cut = question.pitch if is_given else pitch_of(small if question.is_parallel else large, question.pitch)
    cones = Cones(
        question=question,
        spread=spread,
        cone_distance=whole,
        large_module=large,
        small_module=small,
        whole_depth=depth_of(question.depth_system, cut),
    )
    return _bevel(cones, teeth, mate, is_mate=False), _bevel(cones, mate, teeth, is_mate=True)


def _check_face(question: Asked, cone_distance: float) -> None:
    pitch, most = question.pitch, float(LONGEST_FACE) * cone_distance
    if question.is_small:
        most = cone_distance - float(question.face)
    if float(question.face) > most:
        raise OutOfRange(
            "face_width",
            f"at most {pitch.shown(most)} for {question.teeth} and {question.mate_teeth} teeth, {pitch.text}",
            f"A longer face leaves less than half a tooth at the small end. {FACE_REASON}",
        )


def _bevel(cones: Cones, teeth: int, other: int, *, is_mate: bool) -> Bevel:
    along, out = other + teeth * cones.question.shaft_cosine, teeth * cones.question.shaft_sine
    return Bevel(
        cones=cones,
        is_mate=is_mate,
        teeth=teeth,
        pitch_angle=degrees(atan2(out, along)),
        cosine=along / cones.spread,
        sine=out / cones.spread,
    )
