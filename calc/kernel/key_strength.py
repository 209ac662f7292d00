"""Kernel room: what a key carries: shear and crushing under a torque, and the length it wants."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import Any

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import COMMON, WORKED_HERE, Caution, Outcome, Step, figures_enough, line

TORQUE_NM = (Fraction(1, 100), Fraction(10**6))
TORQUE_REASON = "It is what the shaft turns the wheel with: look at its unit."
POWER_W = (Fraction(1), Fraction(10**7))
POWER_REASON = "It is the power that goes through the key: look at its unit."
SPEED_RPM = (Fraction(1), Fraction(20_000))
SPEED_REASON = "It is how fast the shaft turns, not the engine."
SHAFT_MM = (Fraction(3), Fraction(500))
SHAFT_REASON = "It is the diameter of the shaft where the key sits."
SIZE_MM = (Fraction(1, 2), Fraction(125))
SIZE_REASON = "It is a size of the key across, not its length."
LENGTH_MM = (Fraction(1), Fraction(1000))
LENGTH_REASON = "It is the length of the key that bears, without rounded ends."
STRESS_MPA = (Fraction(1), Fraction(1000))
STRESS_REASON = "It is the stress that is allowed, the strength of the material by a factor of safety."
#: Pounds force by inches to newton metres, exactly; horsepower in watts, of 33,000 foot pounds a minute.
POUND_FORCE = Fraction("0.45359237") * Fraction("9.80665")
LBF_IN = POUND_FORCE * Fraction("0.0254")
HORSEPOWER = 550 * 12 * LBF_IN
OLDER = 63_000
#: A key longer than this many diameters of its shaft does not bear along the whole of it.
LONGEST = Fraction(3, 2)
PI = Fraction(pi)
#: Stresses of the example below; no advice.
STEEL = {"allowable_shear": Fraction(50), "allowable_crushing": Fraction(100)}
TEXTBOOK = "Machine Design-I, a textbook, example 7.4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """A key with what it carries; millimetres, newtons, megapascals."""

    torque: Fraction  # newton metres
    power: Fraction | None
    speed: Fraction | None
    shaft: Fraction
    width: Fraction
    height: Fraction
    length: Fraction | None
    shear: Fraction
    crushing: Fraction

    @property
    def force(self) -> Fraction:
        return 2000 * self.torque / self.shaft

    @property
    def for_shear(self) -> Fraction:
        return self.force / (self.width * self.shear)

    @property
    def for_crushing(self) -> Fraction:
        return 2 * self.force / (self.height * self.crushing)

    @property
    def wanted(self) -> Fraction:
        return max(self.for_shear, self.for_crushing)

    @property
    def equal_height(self) -> Fraction:
        """The height at which a key of this width is as strong in crushing as in shear."""
        return 2 * self.width * self.shear / self.crushing

    @property
    def as_strong(self) -> Fraction:
        """The length at which the key shears with the shaft, both at the same stress."""
        return PI * self.shaft**2 / (8 * self.width)

    def shear_over(self, length: Fraction) -> Fraction:
        return self.force / (self.width * length)

    def crushing_over(self, length: Fraction) -> Fraction:
        return 2 * self.force / (self.height * length)


def key_strength(
    *,
    shaft: Fraction,
    key_width: Fraction,
    key_height: Fraction,
    allowable_shear: Fraction,
    allowable_crushing: Fraction,
    torque: Fraction | None = None,
    power: Fraction | None = None,
    speed: Fraction | None = None,
    length: Fraction | None = None,
) -> Outcome:
    """The shear and crushing of a key under a torque, and the length that stays within what is allowed.

    A sum on a steady torque. It chooses no stress and says of no key that it is safe.

    Parameters
    ----------
    shaft : Fraction
        Diameter of the shaft at the key. [mm] 3 mm to 500 mm
    key_width : Fraction
        Width of the key. [mm] 0.5 mm to 125 mm
    key_height : Fraction
        Height of the key, of which half bears. [mm] 0.5 mm to 125 mm
    allowable_shear : Fraction
        Stress allowed in shear. [MPa] 1 MPa to 1000 MPa
    allowable_crushing : Fraction
        Stress allowed in crushing, of the softest of key, shaft and hub. [MPa] 1 MPa to 1000 MPa
    torque : Fraction, optional
        What goes through the key; or power and speed. [N m] 0.01 N m to 1000000 N m
    power : Fraction, optional
        What goes through the key, with the speed. [W] 1 W to 10000000 W
    speed : Fraction, optional
        Of the shaft. [turns a minute] 1 turns a minute to 20000 turns a minute
    length : Fraction, optional
        Length of the key that bears; rounded ends are not counted. [mm] 1 mm to 1000 mm

    Returns
    -------
    Outcome
        ``torque_nm`` [newton metre] and ``force_n`` [newton] at the shaft's surface; ``shear_mpa``
        [megapascal] and ``crushing_mpa`` [megapascal] over the length entered, none without one;
        ``length_for_shear_mm`` [millimetre], ``length_for_crushing_mm`` [millimetre] and the greater
        of them, ``length_wanted_mm`` [millimetre]; ``equal_height_mm`` [millimetre], at which both are
        alike; ``length_as_shaft_mm`` [millimetre], at which key and shaft shear together.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or torque and power are both there, or neither.

    Notes
    -----
    Force = 2T / d; shear = 2T / (d b L); crushing = 4T / (d h L), on half the height. Torque = power
    / (2 pi turns a second). As strong as the shaft: L = pi d^2 / (8 b), both at the same stress
    and the shaft without its keyway.

    Examples
    --------
    >>> key_strength(**STEEL, torque=100, shaft=25, key_width=8, key_height=7).results["length_for_shear_mm"]
    20.0

    Sources
    -------
    key_textbooks, worked examples.

    Checks
    ------
    key_textbooks#equal-75, key_textbooks#shear-100, key_textbooks#five-horsepower
    """
    task = _checked(
        Loaded(
            torque=_torque(torque, power, speed), power=power, speed=speed, shaft=shaft, width=key_width,
            height=key_height, length=length, shear=allowable_shear, crushing=allowable_crushing,
        )
    )  # fmt: skip
    return Outcome(
        results=_results(task),
        working=tuple(_working(task)),
        warnings=tuple(_cautions(task)),
        sources=("key_textbooks",),
    )


# ---- entries ---------------------------------------------------------------------------------------------


def _torque(torque: Fraction | None, power: Fraction | None, speed: Fraction | None) -> Fraction:
    """The torque entered, or that of power and speed."""
    if torque is not None and (power is not None or speed is not None):
        raise OutOfRange(
            "torque", "a torque alone, or power and speed", "Each gives the other: leave one empty."
        )
    if torque is not None:
        check_within("torque", torque, TORQUE_NM, " N m", TORQUE_REASON)
        return Fraction(torque)
    if power is None and speed is None:
        raise OutOfRange("torque", "a torque, or power and speed", "Enter what goes through the key.")
    for field, value, limits, unit, reason in (
        ("power", power, POWER_W, "W", POWER_REASON),
        ("speed", speed, SPEED_RPM, "turns a minute", SPEED_REASON),
    ):
        if value is None:
            raise OutOfRange(field, "a power and a speed", "Torque comes of both together.")
        check_within(field, value, limits, f" {unit}", reason)
    assert power is not None
    assert speed is not None
    return power * 60 / (2 * PI * speed)


def _checked(task: Loaded) -> Loaded:
    for field, value, limits, unit, reason in (
        ("shaft", task.shaft, SHAFT_MM, "mm", SHAFT_REASON),
        ("key_width", task.width, SIZE_MM, "mm", SIZE_REASON),
        ("key_height", task.height, SIZE_MM, "mm", SIZE_REASON),
        ("length", task.length, LENGTH_MM, "mm", LENGTH_REASON),
        ("allowable_shear", task.shear, STRESS_MPA, "MPa", STRESS_REASON),
        ("allowable_crushing", task.crushing, STRESS_MPA, "MPa", STRESS_REASON),
    ):
        check_within(field, value, limits, f" {unit}", reason)
    for field, value in (("key_width", task.width), ("key_height", task.height)):
        if 2 * value > task.shaft:
            raise OutOfRange(
                field, "at most half of the shaft", "No shaft is left that such a key could sit in."
            )
    return task


# ---- what is handed back ---------------------------------------------------------------------------------


def _results(task: Loaded) -> dict[str, Any]:
    length = task.length
    return {
        "torque_nm": float(task.torque),
        "force_n": float(task.force),
        "shear_mpa": None if length is None else float(task.shear_over(length)),
        "crushing_mpa": None if length is None else float(task.crushing_over(length)),
        "length_for_shear_mm": float(task.for_shear),
        "length_for_crushing_mm": float(task.for_crushing),
        "length_wanted_mm": float(task.wanted),
        "equal_height_mm": float(task.equal_height),
        "length_as_shaft_mm": float(task.as_strong),
    }


def _step(
    label: str,
    formula: str,
    figures: str,
    values: Sequence[Fraction],
    worked: Callable[..., Fraction],
    unit: str,
    source: str = COMMON,
) -> Step:
    """A line of working with figures enough to be worked again."""
    places = 1 if unit == "N" else 3
    written, shown = figures_enough(values, worked, places, 3)
    return line(label, formula, figures.format(*written), shown, unit, source)


def _working(task: Loaded) -> list[Step]:
    """Torque, force, the lengths by each stress, the stresses over the length entered."""
    steps = []
    if task.power is not None and task.speed is not None:
        steps.append(
            _step("Torque", "power × 60 / (2 × π × speed)", "{} × 60 / (2 × π × {})",
                  [task.power, task.speed], lambda power, speed: power * 60 / (2 * PI * speed), "N m",
                  WORKED_HERE)
        )  # fmt: skip
    force = task.force
    steps += [
        _step("Force at the surface of the shaft", "2 × torque × 1000 / shaft", "2 × {} × 1000 / {}",
              [task.torque, task.shaft], lambda torque, shaft: 2000 * torque / shaft, "N", WORKED_HERE),
        _step("Length wanted for shear", "force / (width × shear allowed)", "{} / ({} × {})",
              [force, task.width, task.shear], lambda pull, wide, most: pull / (wide * most), "mm"),
        _step("Length wanted for crushing, on half the height", "2 × force / (height × crushing allowed)",
              "2 × {} / ({} × {})", [force, task.height, task.crushing],
              lambda pull, high, most: 2 * pull / (high * most), "mm"),
    ]  # fmt: skip
    if task.length is not None:
        steps += [
            _step("Shear over the length entered", "force / (width × length)", "{} / ({} × {})",
                  [force, task.width, task.length], lambda pull, wide, long: pull / (wide * long), "MPa"),
            _step("Crushing over the length entered", "2 × force / (height × length)", "2 × {} / ({} × {})",
                  [force, task.height, task.length],
                  lambda pull, high, long: 2 * pull / (high * long), "MPa"),
        ]  # fmt: skip
    return [*steps, *_alike(task)]


def _alike(task: Loaded) -> list[Step]:
    return [
        _step("Height at which shear and crushing are alike", "2 × width × shear allowed / crushing allowed",
              "2 × {} × {} / {}", [task.width, task.shear, task.crushing],
              lambda wide, shear, crushing: 2 * wide * shear / crushing, "mm", TEXTBOOK),
        _step("Length at which key and shaft shear together", "π × shaft² / (8 × width)",
              "π × {}² / (8 × {})", [task.shaft, task.width],
              lambda shaft, wide: PI * shaft**2 / (8 * wide), "mm", TEXTBOOK),
    ]  # fmt: skip


def _cautions(task: Loaded) -> list[Caution]:
    said = []
    for name, stress, allowed in _stresses(task):
        if stress > allowed:
            said.append(
                Caution(
                    code=f"{name}-too-great",
                    text=f"Over the length entered the key is at {fixed(stress, 1)} MPa in {name}, and "
                    f"{decimal_text(allowed, 1)} MPa is allowed: it wants {fixed(task.wanted, 1)} mm in all.",
                )
            )
    longest = LONGEST * task.shaft
    if max(task.wanted, task.length or task.wanted) > longest:
        said.append(
            Caution(
                code="long-key",
                text=f"Over {decimal_text(longest, 1)} mm, one and a half diameters, a key does not bear "
                "along the whole of it (common practice, no source): take a larger shaft, or two keys.",
            )
        )
    if task.power is not None and task.speed is not None:
        said.append(_older(task.power, task.speed))
    said.append(
        Caution(
            code="steady-torque",
            text="Worked for a steady torque and a key that fits at the sides. Shock and turning both ways "
            "want lower stresses; the keyway weakens the shaft, which is not counted, nor are rounded ends. "
            "The stresses allowed are yours to choose.",
        )
    )
    return said


def _stresses(task: Loaded) -> list[tuple[str, Fraction, Fraction]]:
    if task.length is None:
        return []
    return [
        ("shear", task.shear_over(task.length), task.shear),
        ("crushing", task.crushing_over(task.length), task.crushing),
    ]


def _older(power: Fraction, speed: Fraction) -> Caution:
    """What the rounded constant of older texts gives."""
    horses = power / HORSEPOWER
    older, exact = OLDER * horses / speed, 6600 * 60 / (2 * PI) * horses / speed
    return Caution(
        code="older-constant",
        text=f"The torque is {fixed(exact, 2)} lbf in, 63,025 × hp / turns a minute. Older texts have "
        f"63,000, which gives {fixed(older, 2)} lbf in.",
    )
