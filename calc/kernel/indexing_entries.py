"""Kernel room: what is asked of a dividing head, checked once, and the limits it is checked by."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from calc.kernel.errors import OutOfRange
from calc.kernel.wording import dms_text

Row = dict[str, Any]

#: Fewest and most of each entry, and why, in the words the builder reads.
DIVISIONS = (2, 10_000)
DIVISIONS_REASON = (
    "One is no division, and past ten thousand the errors of any worm are greater than a division."
)
ANGLE_DEG = (Fraction(1, 60), Fraction(360))
ANGLE_REASON = "A move of less than a minute of arc is beyond a head's plates; a whole turn is 360 degrees."
RATIO = (1, 360)
RATIO_REASON = (
    "It is the turns of the crank for one turn of the spindle: most heads are 40, 60, 72, 80 or 90 to one."
)
CIRCLE = (2, 1000)
CIRCLES_MOST = 100
CIRCLES_MOST_TO_A_FACE = 40
CIRCLE_REASON = (
    "Count the holes all round one circle of the plate; a hundred circles are more than any set of plates."
)
GEAR = (8, 400)
GEARS_MOST = 30
GEAR_REASON = "They are the teeth of the change gears owned; thirty gears are more than two full sets."
DIRECT_MOST = 12
DIRECT_REASON = "They are the rings of holes on the spindle's own plate; a plate has a few."

ARMY = "US Army course OD1644, milling, p. 30"
ANGULAR = "Machinery's Handbook, 1916, angular indexing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dividing:
    """One question put to the head, with every entry checked."""

    divisions: int | None  # None when the angle does not go into a turn a whole number of times
    angle: Fraction  # of one move, degrees
    by_angle: bool
    ratio: int
    faces: tuple[tuple[int, ...], ...]
    gears: tuple[int, ...]
    quarter: bool
    direct: tuple[int, ...]

    @property
    def move(self) -> Fraction:
        """Crank turns for one move, exactly."""
        return self.angle * self.ratio / 360

    @property
    def finest(self) -> Fraction:
        """The least move that must come to whole holes: a quarter of the move when that is asked for."""
        return self.move / 4 if self.quarter else self.move

    @property
    def circles(self) -> tuple[int, ...]:
        """Every circle once, the largest first."""
        return tuple(sorted({circle for face in self.faces for circle in face}, reverse=True))

    def faces_with(self, circle: int) -> list[int]:
        """The faces that have the circle, counted from one as entered."""
        return [place for place, face in enumerate(self.faces, 1) if circle in face]


def check_range(
    field: str, value: Fraction | int, limits: tuple[Fraction | int, Fraction | int], reason: str
) -> None:
    """Refuse a value outside its limits, by name."""
    low, high = limits
    if not low <= value <= high:
        ends = (dms_text(Fraction(low)), dms_text(Fraction(high))) if field == "angle" else (low, high)
        raise OutOfRange(field, f"{ends[0]} to {ends[1]}", reason)


def check_list(field: str, values: Sequence[int], limits: tuple[int, int], most: int, reason: str) -> None:
    """Refuse a list that is too long or holds a value outside its limits."""
    if len(values) > most:
        raise OutOfRange(field, f"at most {most} in the list", reason)
    for value in values:
        check_range(field, value, limits, reason)


def dividing(
    *,
    divisions: int | None,
    angle: Fraction | None,
    ratio: int,
    circles: Sequence[Sequence[int]],
    change_gears: Sequence[int],
    keep_quarter: str,
    direct_circles: Sequence[int],
) -> Dividing:
    """The checked question; raises OutOfRange naming the first entry that breaks a limit."""
    wanted = _angle_of_one_move(divisions, angle)
    check_range("ratio", ratio, RATIO, RATIO_REASON)
    _check_circles(circles)
    check_list("change_gears", change_gears, GEAR, GEARS_MOST, GEAR_REASON)
    check_list("direct_circles", direct_circles, CIRCLE, DIRECT_MOST, DIRECT_REASON)
    if keep_quarter not in ("no", "yes"):
        raise OutOfRange(
            "keep_quarter", "no or yes", "The setting must also give a quarter of a division, or need not."
        )
    times = 360 / wanted
    return Dividing(
        divisions=times.numerator if times.denominator == 1 and times > 1 else None,
        angle=wanted,
        by_angle=divisions is None,
        ratio=ratio,
        faces=tuple(tuple(face) for face in circles),
        gears=tuple(sorted(change_gears)),
        quarter=keep_quarter == "yes",
        direct=tuple(sorted(set(direct_circles))),
    )


def _angle_of_one_move(divisions: int | None, angle: Fraction | None) -> Fraction:
    if divisions is not None and angle is not None:
        raise OutOfRange("angle", "either the divisions or the angle, not both", "Clear one of the two.")
    if divisions is not None:
        check_range("divisions", divisions, DIVISIONS, DIVISIONS_REASON)
        return Fraction(360, divisions)
    if angle is None:
        raise OutOfRange(
            "divisions", "one of two is wanted", "Enter how many divisions, or the angle of one move."
        )
    check_range("angle", angle, ANGLE_DEG, ANGLE_REASON)
    return Fraction(angle)


def _check_circles(faces: Sequence[Sequence[int]]) -> None:
    if not faces or not all(faces):
        raise OutOfRange(
            "circles", "at least one circle on each face", "Enter the circles of the plates to hand."
        )
    for face in faces:
        check_list("circles", face, CIRCLE, CIRCLES_MOST_TO_A_FACE, CIRCLE_REASON)
    check_list("circles", [circle for face in faces for circle in face], CIRCLE, CIRCLES_MOST, CIRCLE_REASON)
