"""What the answers of bevel gears, helical gears and worms have in common: columns, figures, warnings."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from calc.answers.shapes import Beware, Case
from calc.kernel.units import Unit, fine, in_or_mm, turned
from calc.kernel.wording import dms_text, exact

#: Warnings that stop the work, each with its heading; the others are notes.
STOPS = {
    "face-wide": "The face is too long",
    "face-past-flat": "The face leans past flat",
    "pitch-other-end": "The pitch is the other end’s",
    "gash-wide": "The cutter is too thick",
    "set-over-odd": "Measure the cutter again",
    "no-cutter": "No cutter of the set",
    "cutter-between": "Between two cutters",
    "transverse-pitch": "The cutter is of another pitch",
    "does-not-go": "It does not go together",
    "no-cones": "No such cones",
    "pinions-foul": "The pinions foul",
}


def degrees_text(angle: Any) -> str:
    """An angle as slides and heads are set: ``26.57°``."""
    return f"{in_or_mm(exact(angle), 'mm', 2)}°"


def minutes_text(angle: Any) -> str:
    """An angle in degrees and minutes, for a scale that shows those: ``26° 34′``."""
    return dms_text(Fraction(round(exact(angle) * 60), 60), 0)


def warned(case: Case) -> tuple[list[Beware], list[str]]:
    """What stops the work, under headings, and the notes."""
    beware: list[Beware] = []
    notes: list[str] = []
    for one in case.warnings:
        title = STOPS.get(one["code"])
        if title:
            beware.append({"title": title, "text": one["text"]})
        else:
            notes.append(one["text"])
    return beware, notes


def columns(teeth: int, mate_teeth: int | None) -> list[str]:
    """Names over the sizes of a gear and its mate."""
    if mate_teeth is None:
        return ["Gear"]
    if teeth == mate_teeth:
        return ["Gear", "Mate"]
    return ["Wheel", "Pinion"] if teeth > mate_teeth else ["Pinion", "Wheel"]


def of_each(
    gears: Sequence[Mapping[str, Any]], name: str, unit: Unit, *, is_turned: bool = False
) -> list[str]:
    """One size of each gear."""
    return [(turned if is_turned else fine)(gear[name], unit) for gear in gears]
