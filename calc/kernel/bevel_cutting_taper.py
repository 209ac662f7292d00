"""Kernel room: taper teeth by a thin bevel cutter: set-over and roll from its thickness at both ends.

Another method than the three rounds of a spur cutter at one depth, for other blanks; nothing is shared but
the counts of teeth, the shafts, the face and the dividing head.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import radians
from typing import Any

from calc.kernel.bevel_cutting_rolls import Head, Roll
from calc.kernel.bevel_pair_entries import THICK_MM, THICK_REASON, Asked
from calc.kernel.bevel_pair_entries import asked as bevel_asked
from calc.kernel.bevel_pair_sizes import Bevel, SetOver, arc_at, pair_of, set_over_of
from calc.kernel.bevel_pair_working import degrees_text
from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.formative import cutter_results
from calc.kernel.spur_gear_entries import (
    MODULE_MM,
    MODULE_REASON,
    PITCH,
    PROVED,
    Pitch,
    figure,
    line,
    read_pitch,
)
from calc.kernel.spur_gear_entries import PITCH_REASON as PITCH_RANGE_REASON
from calc.kernel.spur_gear_measuring import bare
from calc.kernel.wording import fixed, mixed_text
from calc.kernel.working import Caution, Step

PITCH_REASON = (
    "Taper teeth are cut by a thin bevel cutter of the large end’s pitch, which the three rounds of a spur "
    "cutter do not use: enter it with the thicknesses, or leave all of them empty."
)


@dataclass(frozen=True, slots=True)
class Measured:
    """What was entered for taper teeth; None where it was not. Lengths in mm."""

    module: Fraction | None
    diametral_pitch: Fraction | None
    large: Fraction | None  # thickness of the gear's cutter, a dedendum of the large end from its tip
    small: Fraction | None
    mate_large: Fraction | None
    mate_small: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """One gear cut with taper teeth."""

    bevel: Bevel
    setting: SetOver
    head: Head
    roll: Roll  # the nearest whole holes on a circle that also indexes the gear

    @property
    def missed(self) -> float:
        """What the roll is short by, along the pitch circle of the large end: the flank is left so thick."""
        short = self.setting.roll - float(self.roll.degrees)
        return radians(short) * float(self.bevel.pitch_diameter) / 2


def tapers_of(
    measured: Measured,
    *,
    like: Asked,
    depth_system: str | None,
    face_width: Fraction,
    heads: tuple[Head, Head],
) -> tuple[Taper | None, Taper | None]:
    """The gear and its mate with taper teeth, each where its cutter was measured; else None."""
    pitch = _pitch_of(measured)
    if pitch is None:
        return None, None
    found = []
    for is_mate, thick in enumerate(
        ((measured.large, measured.small), (measured.mate_large, measured.mate_small))
    ):
        teeth = (like.mate_teeth, like.teeth) if is_mate else (like.teeth, like.mate_teeth)
        question = bevel_asked(
            teeth=teeth[0], mate_teeth=teeth[1], shaft_angle=like.shaft_angle, pitch=pitch, pitch_at="large",
            tooth_depth="taper", face_width=face_width, angle=like.angle, depth_system=depth_system,
            cutter_set="8", thick_large=thick[0], thick_small=thick[1],
        )  # fmt: skip
        bevel = pair_of(question)[0]
        setting = set_over_of(bevel)
        found.append(
            None if setting is None else _taper(bevel, setting, heads[is_mate], is_mate=bool(is_mate))
        )
    return found[0], found[1]


def _pitch_of(measured: Measured) -> Pitch | None:
    """The bevel cutter's pitch; None where nothing of taper teeth was entered, half of it is refused."""
    fields = {
        "taper_thickness_large": measured.large,
        "taper_thickness_small": measured.small,
        "taper_mate_thickness_large": measured.mate_large,
        "taper_mate_thickness_small": measured.mate_small,
    }
    for field, thick in fields.items():
        check_within(field, thick, THICK_MM, " mm", THICK_REASON)
    given = {field for field, thick in fields.items() if thick is not None}
    has_pitch = measured.module is not None or measured.diametral_pitch is not None
    if not given and not has_pitch:
        return None
    if not has_pitch:
        raise OutOfRange("taper_diametral_pitch", "wanted with a thickness of a bevel cutter", PITCH_REASON)
    for large, small in (
        ("taper_thickness_large", "taper_thickness_small"),
        ("taper_mate_thickness_large", "taper_mate_thickness_small"),
    ):
        _check_both(large, small, fields)
    if not given:
        raise OutOfRange("taper_thickness_large", "wanted with a pitch of taper teeth", THICK_REASON)
    return _read_pitch(measured)


def _read_pitch(measured: Measured) -> Pitch:
    """The one pitch entered, within its limits."""
    if measured.module is not None and measured.diametral_pitch is not None:
        raise OutOfRange(
            "taper_module", "either a module or a diametral pitch, not both", "Clear one of the two."
        )
    check_within("taper_module", measured.module, MODULE_MM, " mm", MODULE_REASON)
    check_within("taper_diametral_pitch", measured.diametral_pitch, PITCH, "", PITCH_RANGE_REASON)
    return read_pitch(measured.module, measured.diametral_pitch)


def _check_both(large: str, small: str, fields: dict[str, Fraction | None]) -> None:
    thick, thin = fields[large], fields[small]
    if (thick is None) != (thin is None):
        raise OutOfRange(
            large if thick is None else small,
            "both thicknesses or neither",
            f"Measure it at both depths. {THICK_REASON}",
        )
    if thick is not None and thin is not None and thin > thick:
        raise OutOfRange(
            small,
            "at most the thickness at the large end",
            "The small end is cut by the thinner part of the cutter, nearer to its tip.",
        )


def _taper(bevel: Bevel, setting: SetOver, head: Head, *, is_mate: bool) -> Taper:
    """One gear's setting; thicknesses that are not of a cutter for it are refused."""
    prefix = "taper_mate_thickness_" if is_mate else "taper_thickness_"
    shown, thin = bevel.cones.question.pitch.shown, bevel.cones.question.thick_small
    space = arc_at(bevel.cones, "small")
    if thin is not None and float(thin) > space:
        raise OutOfRange(
            f"{prefix}small",
            f"at most the space of {shown(space)} at the small end",
            "The first gash would spoil the tooth there: it wants a thinner cutter. A spur cutter goes by "
            "the other method, at one depth.",
        )
    if min(setting.offset, setting.roll) <= 0:
        raise OutOfRange(
            f"{prefix}small",
            "thicknesses of a bevel cutter for this gear",
            "With these the set-over or the roll comes out below nought. Measure again, each at the depth of "
            "the pitch line of its end.",
        )
    return Taper(bevel=bevel, setting=setting, head=head, roll=_nearest(head, setting.roll))


def _nearest(head: Head, degrees: float) -> Roll:
    """The whole holes nearest to a roll, on the largest of the circles that come as near."""
    wanted = Fraction(degrees) * head.ratio / 360
    rolls = [
        Roll(spaces=max(1, round(wanted * circle)), circle=circle, ratio=head.ratio)
        for circle in head.index_circles
    ]
    return min(rolls, key=lambda roll: (abs(roll.crank - wanted), -roll.circle))


def taper_results(tapers: tuple[Taper | None, Taper | None]) -> dict[str, Any] | None:
    """Both gears under the names of the results; None where no bevel cutter was measured."""
    gear, mate = tapers
    if gear is None and mate is None:
        return None
    return {**(_of_taper(gear) if gear else {}), "mate": _of_taper(mate) if mate else None}


def _of_taper(taper: Taper) -> dict[str, Any]:
    cones, in_mm = taper.bevel.cones, float(taper.bevel.cones.question.pitch.in_mm)
    circle, head = taper.roll.circle, taper.head
    rolled, index = divmod(taper.roll.spaces, circle), divmod(int(head.move * circle), circle)
    return {
        **cutter_results(taper.bevel.formative, "8"),
        "head_tilt_deg": taper.bevel.root_angle,
        "face_angle_deg": taper.bevel.face_angle,
        "cone_distance_mm": cones.cone_distance * in_mm,
        "depth_mm": float(cones.whole_depth) * in_mm,
        "set_over_mm": taper.setting.offset * in_mm,
        "roll_wanted_deg": taper.setting.roll,
        "roll_deg": float(taper.roll.degrees),
        "roll_turns": rolled[0],
        "roll_circle": circle,
        "roll_holes": rolled[1],
        "roll_missed_mm": taper.missed * in_mm,
        "index_circle": circle,
        "index_turns": index[0],
        "index_holes": index[1],
        "index_sector_holes": index[1] + 1,
    }


def taper_steps(tapers: Sequence[Taper | None]) -> Iterator[Step]:
    """Set-over, roll and crank of each gear whose cutter was measured."""
    for name, taper in zip(("Taper teeth, ", "Mate: taper teeth, "), tapers, strict=True):
        if taper is not None:
            yield from _steps(name, taper)


def _steps(name: str, taper: Taper) -> Iterator[Step]:
    bevel, asked = taper.bevel, taper.bevel.cones.question
    large, small = figure(asked.thick_large or 0), figure(asked.thick_small or 0)
    drawn = f"{bare(bevel.cones.cone_distance)} / {figure(asked.face)} × ({large} − {small})"
    words = "cone distance / face width × (thickness at the large end − thickness at the small end)"
    yield line(
        f"{name}set-over of the table, each side",
        (f"(thickness at the large end − {words}) / 2", f"({large} − {drawn}) / 2"),
        fixed(taper.setting.offset, asked.pitch.places),
        asked.pitch.unit,
        PROVED,
    )
    arc = f"{bare(arc_at(bevel.cones, 'large'))} − {drawn}"
    yield line(
        f"{name}roll of the blank, opposite to the table",
        (
            f"180 / π × (arc of the large end − {words}) / pitch diameter",
            f"180 / π × ({arc}) / {bare(bevel.pitch_diameter)}",
        ),
        fixed(taper.setting.roll, 4),
        "°",
        PROVED,
    )
    yield line(
        f"{name}turns of the crank for that, wanted",
        ("ratio × roll / 360", f"{taper.head.ratio} × {degrees_text(taper.setting.roll)[:-1]} / 360"),
        fixed(taper.setting.roll * taper.head.ratio / 360, 4),
        "turn",
        PROVED,
    )


def taper_cautions(tapers: Sequence[Taper | None]) -> Iterator[Caution]:
    """That these are other gears than those of the three rounds, and what the holes make of the roll."""
    known = [taper for taper in tapers if taper is not None]
    if not known:
        return
    pitch = known[0].bevel.cones.question.pitch
    yield Caution(
        code="taper-apart",
        text=(
            f"Taper teeth of {pitch.text} at the large end, by a thin bevel cutter, are another method on "
            "another blank, turned to face and root angles that meet at the apex: nothing of one plan goes "
            "with the other, and the gears do not run together. Gash on centre first, move the table by the "
            "set-over, roll the blank the opposite way, trim; then both the other way from the centre."
        ),
    )
    for taper in known:
        done = "leaves on" if taper.missed > 0 else "takes too much, by"
        yield Caution(
            code="taper-roll",
            text=(
                f"Taper teeth of the {taper.bevel.teeth}: the roll of {fixed(taper.setting.roll, 3)}° is "
                f"{mixed_text(taper.roll.crank)} of a turn in whole holes, {taper.roll.spaces} in "
                f"{taper.roll.circle}, which {done} {pitch.shown(abs(taper.missed))} at the large end."
            ),
        )
