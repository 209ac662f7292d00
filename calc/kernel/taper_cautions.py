"""Kernel room: what a builder must know about a taper before it is cut."""

from fractions import Fraction
from math import atan, degrees

from calc.kernel.tapers import Named, tapers
from calc.kernel.wording import fixed
from calc.kernel.working import Caution

#: Past this angle a sine bar grows coarse: a little height is much angle.
SINE_BAR_UP_TO = Fraction(45)
RULE_OF_THUMB = Fraction(1, 24)


def cautions(
    rate: Fraction, included: Fraction, named: Named | None, length: Fraction | None,
    work: Fraction | None, bar: Fraction | None,
) -> list[Caution]:  # fmt: skip
    """What must be known of the taper, the gravest first."""
    said = []
    keys = [one for one in tapers() if one.is_one_face and one.rate == rate]
    if keys:
        said.append(_one_face(rate, included))
    if named is None and rate == RULE_OF_THUMB:
        said.append(
            Caution(
                code="rule-of-thumb",
                text="1/2 in to the foot is only a rule of thumb for Brown & Sharpe: its numbers run from "
                "0.4997 to 0.5033, and No. 10 has 0.5161. Enter the number, as B&S 7.",
            )
        )
    if work is not None and work == length:
        said.append(
            Caution(
                code="work-is-taper",
                text="The work is as long as the taper: the set-over goes by the whole work between centres. "
                "If there is more of it, enter that.",
            )
        )
    if bar is not None and included > SINE_BAR_UP_TO:
        said.append(
            Caution(
                code="steep-sine-bar",
                text="Past 45° a sine bar is coarse: a little height is much angle. Set it from the other "
                "side, to 90° less the angle. Common practice, no source.",
            )
        )
    if named and named.origin != "read":
        said.append(
            Caution(code="from-memory", text=f"The rate of {named.name} is from memory: check the standard.")
        )
    return said


def _one_face(rate: Fraction, included: Fraction) -> Caution:
    face = fixed(Fraction(degrees(atan(rate))), 5)
    half = fixed(included / 2, 5)
    return Caution(
        code="one-face",
        text=f"This is the rate of a taper key, and a key slopes on one face: set that face to {face}°, with "
        f"the whole rate. Half of it, {half}°, is for round work.",
    )
