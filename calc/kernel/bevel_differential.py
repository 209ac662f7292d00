"""Kernel room: whether a bevel differential goes together, how fast its sides turn, and where they sit."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import acos, asin, atan, cos, degrees, pi, sin, sqrt
from typing import Any

from calc.kernel.errors import OutOfRange
from calc.kernel.spur_gear_entries import (
    PROVED,
    TEETH,
    TEETH_REASON,
    Pitch,
    check_range,
    figure,
    line,
    read_pitch,
)
from calc.kernel.spur_gear_measuring import FINE_PLACES
from calc.kernel.wording import decimal_text, fixed, mixed_text, plural
from calc.kernel.working import WORKED_HERE, Caution, Outcome, Step

PINIONS = (2, 6)
PINIONS_REASON = (
    "It is how many equally spaced pinions the carrier holds: two, three or four on most engines."
)
SOURCE_KEYS = {WORKED_HERE: "derived", PROVED: "gear_rules"}
#: The gears of a differential by the names of their results.
MEMBERS = ("left", "right", "pinion")
#: How often each pitch angle counts in the half turn that they come to.
WEIGHTS = (("left", ""), ("right", ""), ("pinion", "2 × "))


@dataclass(frozen=True, slots=True, kw_only=True)
class Train:
    """A differential: its counts, and the half angles of its pitch cones where there are such cones."""

    left: int
    right: int
    pinion: int
    pinions: int
    pitch: Pitch | None
    half_spread: float | None  # cone distance over half a module; None where the cones cannot meet

    @property
    def total(self) -> int:
        """Teeth of both side gears."""
        return self.left + self.right

    @property
    def that_go(self) -> list[int]:
        """Numbers of equally spaced pinions that go together."""
        return [number for number in range(PINIONS[0], PINIONS[1] + 1) if self.total % number == 0]

    @property
    def ratio(self) -> Fraction:
        """Turns of the right gear for one of the carrier, the left one held."""
        return 1 + Fraction(self.left, self.right)

    def teeth(self, member: str) -> int:
        """Teeth of a member by its name."""
        return {"left": self.left, "right": self.right, "pinion": self.pinion}[member]

    def cone(self, member: str) -> float | None:
        """Pitch angle of a member. [radian]"""
        return None if self.half_spread is None else asin(self.teeth(member) / self.half_spread)


def bevel_differential(
    *,
    left_teeth: int,
    right_teeth: int,
    pinion_teeth: int,
    pinions: int,
    module: Fraction | None = None,
    diametral_pitch: Fraction | None = None,
) -> Outcome:
    """Whether the pinions of a bevel differential go in equally spaced, its ratio and its cones.

    Use it before the carrier is drilled: pinions that do not go together are found only when the last
    of them will not enter.

    Parameters
    ----------
    left_teeth : int
        Teeth of the left side gear. [count] 6 to 1000
    right_teeth : int
        Teeth of the right side gear. [count] 6 to 1000
    pinion_teeth : int
        Teeth of one pinion. [count] 6 to 1000
    pinions : int
        Pinions in the carrier, equally spaced. [count] 2 to 6
    module : Fraction, optional
        Of the large end, for the mounting distances; this or the diametral pitch. [mm] 0.2 mm to 25 mm
    diametral_pitch : Fraction, optional
        Of the large end, for the mounting distances; this or the module. [per inch] 1 DP to 120 DP

    Returns
    -------
    Outcome
        ``goes_together`` [-], ``pinions_that_go`` [-], those of 2 to 6, ``pinions_clear`` [-], whether the
        pinions stand clear of one another at the apex, ``ratio`` [count], turns of the right gear for one
        of the carrier with the left held, ``left_pitch_angle_deg`` [degree], ``right_pitch_angle_deg``
        [degree], ``pinion_pitch_angle_deg`` [degree], ``pinion_shaft_angle_deg`` [degree] between the
        pinion's shaft and the left gear's. With a pitch ``cone_distance_mm`` [millimetre], and from the
        apex along each shaft to the large pitch circle ``left_mounting_mm`` [millimetre],
        ``right_mounting_mm`` [millimetre] and ``pinion_mounting_mm`` [millimetre], to the outer tip edge
        ``left_crown_to_apex_mm`` [millimetre], ``right_crown_to_apex_mm`` [millimetre] and
        ``pinion_crown_to_apex_mm`` [millimetre].

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or module and diametral pitch are both given.

    Notes
    -----
    Hold one side gear and turn the carrier by one pinion's spacing: the other turns by (left + right) /
    pinions of its own teeth, which must be a whole number. The pinions' own teeth do not enter.
    Speeds: left teeth * left + right teeth * right = (left + right teeth) * carrier.
    The cones share one apex: the pitch angles of left, right and twice the pinion come to 180 degrees.

    Examples
    --------
    >>> bevel_differential(left_teeth=20, right_teeth=25, pinion_teeth=12, pinions=3).results["ratio"]
    Fraction(9, 5)

    Sources
    -------
    derived, assembly condition and ratio. gear_rules, cones and mounting distances.

    Checks
    ------
    gear_rules#differential-24, gear_rules#differential-25, gear_rules#differential-21,
    gear_rules#differential-22, gear_rules#differential-20-25
    """
    for field, teeth in (
        ("left_teeth", left_teeth), ("right_teeth", right_teeth), ("pinion_teeth", pinion_teeth)
    ):  # fmt: skip
        check_range(field, teeth, TEETH, TEETH_REASON)
    check_range("pinions", pinions, PINIONS, PINIONS_REASON)
    if module is not None and diametral_pitch is not None:
        raise OutOfRange("module", "either a module or a diametral pitch, not both", "Clear one of the two.")
    pitch = None if module is None and diametral_pitch is None else read_pitch(module, diametral_pitch)
    train = Train(
        left=left_teeth,
        right=right_teeth,
        pinion=pinion_teeth,
        pinions=pinions,
        pitch=pitch,
        half_spread=_half_spread(left_teeth, right_teeth, pinion_teeth),
    )
    working = (*_counting(train), *_cones(train), *_mounting(train))
    keys = dict.fromkeys(SOURCE_KEYS[step.source] for step in working)
    return Outcome(
        results=_results(train), working=working, warnings=tuple(_cautions(train)), sources=tuple(keys)
    )


def _half_spread(left: int, right: int, pinion: int) -> float | None:
    """Cone distance over half a module, where the four pitch angles come to a half turn; None for nowhere."""
    if left == right:
        return sqrt(left**2 + pinion**2)
    # Above the largest count the sum of the angles only falls, so the root is found by halving.
    low, high = float(max(left, right, pinion)), float(2 * (left + right + 2 * pinion))

    def excess(spread: float) -> float:
        return sum(asin(min(1.0, teeth / spread)) for teeth in (left, right, pinion, pinion)) - pi

    if excess(low) <= 0:
        return None
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if excess(middle) > 0 else (low, middle)
    return (low + high) / 2


# ---- the results -----------------------------------------------------------------------------------------


def _results(train: Train) -> dict[str, Any]:
    angles = {member: train.cone(member) for member in MEMBERS}
    left, pinion = angles["left"], angles["pinion"]
    return {
        "goes_together": train.pinions in train.that_go,
        "pinions_that_go": train.that_go,
        "pinions_clear": _is_clear(train),
        "ratio": train.ratio,
        **{
            f"{member}_pitch_angle_deg": None if angle is None else degrees(angle)
            for member, angle in angles.items()
        },
        "pinion_shaft_angle_deg": None if left is None or pinion is None else degrees(left + pinion),
        "cone_distance_mm": _in_mm(train, _cone_distance(train)),
        **{f"{member}_mounting_mm": _in_mm(train, _to_apex(train, member)) for member in MEMBERS},
        **{f"{member}_crown_to_apex_mm": _in_mm(train, _crown(train, member)) for member in MEMBERS},
    }


def _in_mm(train: Train, length: float | None) -> float | None:
    return None if length is None or train.pitch is None else length * float(train.pitch.in_mm)


def _cone_distance(train: Train) -> float | None:
    if train.pitch is None or train.half_spread is None:
        return None
    return train.half_spread * float(train.pitch.module) / 2


def _to_apex(train: Train, member: str) -> float | None:
    """From the plane of the large pitch circle to the apex."""
    angle, distance = train.cone(member), _cone_distance(train)
    return None if angle is None or distance is None else distance * cos(angle)


def _crown(train: Train, member: str) -> float | None:
    """From the outer tip edge to the apex, the addendum being one module."""
    along = _to_apex(train, member)
    if along is None or train.pitch is None or train.half_spread is None:
        return None
    return along - float(train.pitch.module) * train.teeth(member) / train.half_spread


def _is_clear(train: Train) -> bool | None:
    """Whether neighbouring pinions, tips and all, stand clear of one another; None without cones."""
    left, pinion = train.cone("left"), train.cone("pinion")
    if left is None or pinion is None or train.half_spread is None:
        return None
    return 2 * (pinion + atan(2 / train.half_spread)) < _between(left + pinion, train.pinions)


def _between(shaft: float, pinions: int) -> float:
    """The angle between the shafts of neighbouring pinions that stand at an angle to the axle. [radian]"""
    return acos(cos(shaft) ** 2 + sin(shaft) ** 2 * cos(2 * pi / pinions))


# ---- the working -----------------------------------------------------------------------------------------


def _counting(train: Train) -> list[Step]:
    each = Fraction(train.total, train.pinions)
    both = f"({train.left} + {train.right})"
    whole = "a whole number: it goes" if each.denominator == 1 else "not a whole number: it does not go"
    return [
        line(
            f"Teeth passed from pinion to pinion, {whole}",
            ("(left teeth + right teeth) / pinions", f"{both} / {train.pinions}"),
            mixed_text(each),
            "teeth",
            WORKED_HERE,
        ),
        line(
            "Pinions that go",
            (
                "of 2 to 6, those that divide left teeth + right teeth",
                f"of 2 to 6, those that divide {train.total}",
            ),
            ", ".join(map(str, train.that_go)) or "none",
            source=WORKED_HERE,
        ),
        line(
            "Turns of the right gear for one of the carrier, the left one held",
            ("1 + left teeth / right teeth", f"1 + {train.left} / {train.right}"),
            mixed_text(train.ratio),
            "turns",
            WORKED_HERE,
        ),
    ]


def _cones(train: Train) -> list[Step]:
    """The pitch angles: of equal side gears from the two counts, else from the spread where they close."""
    if train.half_spread is None:
        return []
    spread, words = decimal_text(Fraction(train.half_spread), FINE_PLACES), "spread"
    steps = []
    if train.left == train.right:
        spread, words = f"√({train.left}² + {train.pinion}²)", "√(left teeth² + pinion teeth²)"
    else:
        steps.append(
            line(
                "Spread, in half modules, at which the four pitch angles come to 180°",
                (
                    " + ".join(f"{times}asin({name} teeth / spread)" for name, times in WEIGHTS),
                    " + ".join(f"{times}asin({train.teeth(name)} / {spread})" for name, times in WEIGHTS),
                ),
                "180.0000",
                "°",
                PROVED,
            )
        )
    for member in MEMBERS:
        angle = train.cone(member)
        steps.append(
            line(
                f"Pitch angle, {member}",
                (
                    f"asin({member} teeth / {words})",
                    f"asin({train.teeth(member)} / {spread})",
                ),
                fixed(degrees(angle or 0), 4),
                "°",
                PROVED,
            )
        )
    return steps


def _mounting(train: Train) -> list[Step]:
    """Cone distance, and each member's two distances from the apex."""
    pitch, distance = train.pitch, _cone_distance(train)
    if pitch is None or distance is None or train.half_spread is None:
        return []
    spread = decimal_text(Fraction(train.half_spread), FINE_PLACES)
    module, module_words = (
        (f"1 / {figure(pitch.figure)}", "1 / diametral pitch")
        if pitch.per_inch
        else (figure(pitch.figure), "module")
    )
    words = f"spread / 2 × {module_words}"
    steps = [
        line(
            "Cone distance, half the spread in modules",
            (words, f"{spread} / 2 × {module}"),
            fixed(distance, pitch.places),
            pitch.unit,
            PROVED,
        )
    ]
    for member in MEMBERS:
        along, crown = _to_apex(train, member), _crown(train, member)
        angle = f"{fixed(degrees(train.cone(member) or 0), FINE_PLACES)}°"
        base = (f"{words} × cos({member} pitch angle)", f"{spread} / 2 × {module} × cos({angle})")
        tip = (f"{module_words} × sin({member} pitch angle)", f"{module} × sin({angle})")
        for label, said, value in (
            (f"Apex to large pitch circle, {member}", base, along),
            (f"Apex to outer tip edge, {member}", (f"{base[0]} − {tip[0]}", f"{base[1]} − {tip[1]}"), crown),
        ):
            steps.append(line(label, said, fixed(value or 0, pitch.places), pitch.unit, PROVED))
    return steps


# ---- what must be known ----------------------------------------------------------------------------------


def _cautions(train: Train) -> Iterator[Caution]:
    go = train.that_go
    if train.pinions not in go:
        each = mixed_text(Fraction(train.total, train.pinions))
        would = f"{_listed(go)} would go" if go else "no number from 2 to 6 would"
        yield Caution(
            code="does-not-go",
            text=(
                f"{train.pinions} equally spaced pinions do not go in between {train.left} and "
                f"{train.right} teeth: {train.total} / {train.pinions} is {each}, not a whole number. With "
                f"these gears {would}. {_teeth_that_go(train)}"
            ),
        )
    if train.half_spread is None:
        yield Caution(
            code="no-cones",
            text=(
                f"Pinions of {train.pinion} teeth cannot reach both side gears of {train.left} and "
                f"{train.right} with one apex: the larger would have to be an internal gear. Take more teeth "
                "on the pinions or side gears more alike."
            ),
        )
    elif _is_clear(train) is False:
        yield Caution(
            code="pinions-foul",
            text=(
                f"{train.pinions} pinions of {train.pinion} teeth foul one another, whatever "
                "the counts say: take fewer pinions, or fewer teeth on each."
            ),
        )
    if train.left != train.right and train.half_spread is not None:
        left, pinion = train.cone("left") or 0.0, train.cone("pinion") or 0.0
        yield Caution(
            code="tilted-pinions",
            text=(
                "The side gears differ, so the pinions’ shafts are not square to the axle: "
                f"{fixed(degrees(left + pinion), 3)}° from the left gear’s shaft."
            ),
        )


def _teeth_that_go(train: Train) -> str:
    """The nearest counts of equal side gears, or of the right one, that these pinions go with."""
    if train.left == train.right:
        step = train.pinions // (2 if train.pinions % 2 == 0 else 1)
        below = train.left // step * step
        return (
            f"Equal side gears want teeth divisible by {step} for {train.pinions} pinions: {below} or "
            f"{below + step}."
        )
    over = train.total % train.pinions
    return (
        f"Or a right gear of {train.right - over} or {train.right - over + train.pinions} teeth with "
        f"{plural(train.pinions, 'pinion')}."
    )


def _listed(numbers: list[int]) -> str:
    return " and ".join(", ".join(map(str, numbers)).rsplit(", ", 1))
