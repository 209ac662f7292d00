"""Kernel room: clearance and interference, and the limits of a side that is made to suit a measured one."""

from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.fit_words import figure_text, micrometres, size_text
from calc.kernel.fit_zones import Zone
from calc.kernel.working import Step, line

OTHER = {"hole": "shaft", "shaft": "hole"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of size of one side, and what its measured size is where it is made already. [mm]"""

    upper: Fraction
    lower: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Both sides as they are to be, the play between them, and the working of it. [mm]"""

    hole: Limits | None
    shaft: Limits | None
    most: Fraction | None  # greatest clearance; below nought it is interference
    least: Fraction | None
    steps: tuple[Step, ...]

    @property
    def kind(self) -> str | None:
        """`clearance`, `transition` or `interference`; None for one side alone."""
        if self.most is None or self.least is None:
            return None
        if self.least >= 0:
            return "clearance"
        return "interference" if self.most <= 0 else "transition"


def limits_of(found: Zone) -> Limits:
    """The limits of a zone as the standard has them."""
    return Limits(upper=found.upper, lower=found.lower)


def fitted(hole: Zone | None, shaft: Zone | None) -> Fitted:
    """Both sides by the standard, and the greatest and least clearance between them."""
    if hole is None or shaft is None:
        alone = [limits_of(found) if found else None for found in (hole, shaft)]
        return Fitted(hole=alone[0], shaft=alone[1], most=None, least=None, steps=())
    most, least = hole.upper - shaft.lower, hole.lower - shaft.upper
    steps = (
        play_step("Greatest", "hole upper − shaft lower", hole.upper, shaft.lower),
        play_step("Least", "hole lower − shaft upper", hole.lower, shaft.upper),
    )
    return Fitted(hole=limits_of(hole), shaft=limits_of(shaft), most=most, least=least, steps=steps)


def play_step(which: str, formula: str, of_hole: Fraction, of_shaft: Fraction) -> Step:
    """A line of clearance: what is below nought is interference."""
    play = of_hole - of_shaft
    below = "; below nought, interference" if play < 0 else ""
    figures = f"{figure_text(of_hole)} − {figure_text(of_shaft)}"
    return line(f"{which} clearance{below}", formula, figures, size_text(play), "mm")


def suited(hole: Zone, shaft: Zone, side: str, measured: Fraction) -> Fitted:
    """The other side's limits, made to suit one that is measured.

    Parameters
    ----------
    hole, shaft : Zone
        Both sides by the standard.
    side : str
        The side that is measured: ``hole`` or ``shaft``.
    measured : Fraction
        Its size. [mm]

    Notes
    -----
    Shaft upper = hole measured - least clearance of the fit, shaft lower = that - the shaft's grade;
    hole lower = shaft measured + least clearance of the fit, hole upper = that + the hole's grade.
    """
    least_um = hole.lower_um - shaft.upper_um
    least_step = line(
        "Least clearance of the fit" + ("; below nought, interference" if least_um < 0 else ""),
        "EI − es",
        f"{figure_text(hole.lower_um)} − {figure_text(shaft.upper_um)}",
        micrometres(least_um),
        "µm",
    )
    made = shaft if side == "hole" else hole
    limits, steps = _made(made, measured, least_um)
    if side == "hole":
        most, least = measured - limits.lower, measured - limits.upper
        plays = [
            play_step("Greatest", "hole measured − shaft lower", measured, limits.lower),
            play_step("Least", "hole measured − shaft upper", measured, limits.upper),
        ]
        of_hole, of_shaft = limits_of(hole), limits
    else:
        most, least = limits.upper - measured, limits.lower - measured
        plays = [
            play_step("Greatest", "hole upper − shaft measured", limits.upper, measured),
            play_step("Least", "hole lower − shaft measured", limits.lower, measured),
        ]
        of_hole, of_shaft = limits, limits_of(shaft)
    return Fitted(hole=of_hole, shaft=of_shaft, most=most, least=least, steps=(least_step, *steps, *plays))


def _made(made: Zone, measured: Fraction, least_um: Fraction) -> tuple[Limits, list[Step]]:
    """The limits of the side to be made: the nearer one by the fit, the other by the side's own grade."""
    side, grade = made.symbol.side, f"IT{made.symbol.grade}"
    sign = "−" if side == "shaft" else "+"
    way = -1 if side == "shaft" else 1
    near = measured + way * least_um / 1000
    far = near + way * made.tolerance_um / 1000
    first, second = ("upper", "lower") if side == "shaft" else ("lower", "upper")
    steps = [
        line(
            f"{side.capitalize()} to suit, {first} limit",
            f"{OTHER[side]} measured {sign} least clearance / 1000",
            f"{figure_text(measured)} {sign} {figure_text(least_um)} / 1000",
            size_text(near),
            "mm",
        ),
        line(
            f"{side.capitalize()} to suit, {second} limit",
            f"{side} {first} {sign} {grade} / 1000",
            f"{figure_text(near)} {sign} {figure_text(made.tolerance_um)} / 1000",
            size_text(far),
            "mm",
        ),
    ]
    return Limits(upper=max(near, far), lower=min(near, far)), steps
