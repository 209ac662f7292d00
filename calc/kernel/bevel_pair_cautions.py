"""Kernel room: what a builder must know about a bevel pair before turning a blank or fetching a cutter."""

from collections.abc import Iterator
from math import cos, radians, sin

from calc.kernel.bevel_pair_sizes import Bevel, Cones, arc_at, set_over_of
from calc.kernel.formative import cutter_cautions
from calc.kernel.spur_gear_cautions import USUAL_ANGLES, USUAL_SYSTEMS
from calc.kernel.spur_gear_cutters import cutter_for
from calc.kernel.spur_gear_sizes import FINE
from calc.kernel.wording import fixed
from calc.kernel.working import Caution


def cautions(gear: Bevel, mate: Bevel) -> Iterator[Caution]:
    """Every caution the answer needs, the weightiest first."""
    cones = gear.cones
    yield from _of_face(cones)
    for one in (gear, mate):
        if one.face_angle >= 90:
            yield _past_flat(one)
    yield _of_kind(cones)
    yield from _of_end(cones)
    yield from _of_set_over(gear)
    for one in (gear, mate):
        yield from cutter_cautions(
            f"The {one.teeth}",
            one.formative,
            cones.question.cutter_set,
            is_metric=not cones.question.pitch.per_inch,
        )
    for one in (gear, mate):
        yield from _of_wrong_rule(one)
    if not cones.is_parallel:
        yield _of_face_angle(gear, mate)
    yield _of_depth(gear)
    yield from _of_tooth(gear, mate)


def _of_face(cones: Cones) -> Iterator[Caution]:
    pitch, face = cones.question.pitch, float(cones.question.face)
    if face <= cones.face_limit:
        return
    third = cones.face_limit < 10 * float(cones.large_module)
    yield Caution(
        code="face-wide",
        text=(
            f"The face of {pitch.shown(face)} is over the limit of {pitch.shown(cones.face_limit)}, "
            f"{'a third of the cone distance' if third else 'ten modules of the large end'}: the teeth are "
            f"then {fixed(cones.factor, 2)} of their size at the small end, and a form cutter fits one end "
            "only. Shorten the face."
        ),
    )


def _past_flat(gear: Bevel) -> Caution:
    return Caution(
        code="face-past-flat",
        text=(
            f"The face angle of the {gear.teeth} is {fixed(gear.face_angle, 2)}°: its face leans back past "
            "flat, and the outer tips stand behind the inner ones."
        ),
    )


def _of_kind(cones: Cones) -> Caution:
    """Which kind of tooth this is and what follows; the two are never mixed."""
    pitch = cones.question.pitch
    if cones.is_parallel:
        text = (
            "Parallel depth: an ordinary spur cutter of the small end’s pitch "
            f"({_named(cones, is_small=True)}), the head tilted to the pitch angle, the blank turned by the "
            f"large end’s module of {fixed(cones.large_module, pitch.places + 1)} {pitch.unit}. Both gears "
            "are made this way: they do not run with taper-depth ones."
        )
    else:
        text = (
            f"Taper depth: a thin bevel cutter of the large end’s pitch ({_named(cones, is_small=False)}), "
            "which must pass the small end’s space, and the head tilted to the root angle. A spur cutter "
            "of this pitch would spoil the small end. These do not run with parallel-depth gears."
        )
    return Caution(code="one-kind", text=text)


def _named(cones: Cones, *, is_small: bool) -> str:
    """The pitch of an end as the trade says it."""
    asked, module = cones.question, cones.small_module if is_small else cones.large_module
    if asked.is_small == is_small:
        return asked.pitch.text
    figure = 1 / float(module) if asked.pitch.per_inch else float(module)
    return f"{fixed(figure, 3)} DP" if asked.pitch.per_inch else f"module {fixed(figure, 3)}"


def _of_end(cones: Cones) -> Iterator[Caution]:
    """The pitch given at the end where the cutter is not."""
    asked = cones.question
    if asked.is_parallel == asked.is_small:
        return
    end, other = ("small", "large") if asked.is_small else ("large", "small")
    yield Caution(
        code="pitch-other-end",
        text=(
            f"{asked.pitch.text} was given for the {end} end, and the cutter of {asked.tooth_depth} teeth "
            f"belongs to the {other} end: that is {_named(cones, is_small=not asked.is_small)}. A "
            f"cutter of {asked.pitch.text} does not suit."
        ),
    )


def _of_set_over(gear: Bevel) -> Iterator[Caution]:
    """How the two trimming rounds are set, and a cutter that is too thick for the small end."""
    setting, pitch = set_over_of(gear), gear.cones.question.pitch
    if setting is None:
        return
    space, thick = arc_at(gear.cones, "small"), float(gear.cones.question.thick_small or 0)
    if thick > space:
        yield Caution(
            code="gash-wide",
            text=(
                f"The cutter is {pitch.shown(thick)} thick at the small end’s pitch line, the space there "
                f"{pitch.shown(space)}: the first gash would spoil the tooth. It wants a thinner cutter."
            ),
        )
    elif min(setting.offset, setting.roll) <= 0:
        yield Caution(
            code="set-over-odd",
            text=(
                "The set-over or the roll comes out below nought: these are not the thicknesses of a cutter "
                "for this gear. Measure them again, each at the depth of the pitch line of its end."
            ),
        )
    else:
        yield Caution(
            code="set-over",
            text=(
                f"After a gash on centre, set the table over {pitch.shown(setting.offset)} and roll the "
                f"blank {fixed(setting.roll, 3)}° the opposite way ({fixed(setting.roll / 9, 3)} of a turn "
                "at 40 to 1), trim one side of every tooth, then both the other way from the centre. Seen "
                "from the blank, cutter and space move to the same hand. Measure both ends before the second "
                "side."
            ),
        )


def _of_wrong_rule(gear: Bevel) -> Iterator[Caution]:
    """What the formative number is not, where the slip would fetch another cutter."""
    angle, cutter_set = radians(gear.pitch_angle), gear.cones.question.cutter_set
    right = cutter_for(gear.formative, cutter_set)
    wrong = {"sin": gear.teeth / sin(angle), "cos³, the rule of helical gears,": gear.teeth / cos(angle) ** 3}
    slips = []
    for rule, teeth in wrong.items():
        other = cutter_for(teeth, cutter_set)
        if other and other != right:
            slips.append(f"teeth / {rule} would give {fixed(teeth, 2)}, No. {other.number}")
    if slips:
        yield Caution(
            code="formative-rule",
            text=(
                f"Formative teeth of the {gear.teeth} are teeth / cos of its own pitch angle, "
                f"{fixed(gear.formative, 2)}. It is not another rule: {'; '.join(slips)}."
            ),
        )


def _of_face_angle(gear: Bevel, mate: Bevel) -> Caution:
    """The other reading of the face angle: clearance the same all along."""
    other = [one.pitch_angle + one.cones.dedendum_angle for one in (gear, mate)]
    return Caution(
        code="face-angle",
        text=(
            "Face angles are the pitch angle and the addendum angle, face and root cones meeting at the "
            "apex, the older practice. The other reading takes the mate’s dedendum angle, for the same "
            f"clearance all along: {fixed(other[0], 3)}° for the {gear.teeth} in place of "
            f"{fixed(gear.face_angle, 3)}°, {fixed(other[1], 3)}° for the {mate.teeth} in place of "
            f"{fixed(mate.face_angle, 3)}°. Keep to one of the two for both gears."
        ),
    )


def _of_depth(gear: Bevel) -> Caution:
    """Which proportions were used, and the depth by the other system."""
    cones, pitch = gear.cones, gear.cones.question.pitch
    system = cones.question.depth_system
    beside = ", ".join(
        f"{pitch.shown(cones.depth_by(one))} by {one}" for one in USUAL_SYSTEMS if one != system
    )
    text = (
        f"Addendum {pitch.shown(cones.addendum)}, dedendum {pitch.shown(cones.dedendum)}, whole depth "
        f"{pitch.shown(cones.whole_depth)} by {system}; it would be {beside}, and the root angle with it. "
        "The depth belongs to the cutter: take the one marked on it. Generated gears often have long and "
        "short addenda, which these are not."
    )
    if system == FINE and 20 * float(cones.cutter_module * pitch.in_mm) > 25.4:
        text += " The system 2.2+0.002 is for 20 DP and finer."
    return Caution(code="depth-systems", text=text)


def _of_tooth(gear: Bevel, mate: Bevel) -> Iterator[Caution]:
    for one in (gear, mate):
        if one.is_undercut:
            yield Caution(
                code="undercut",
                text=(
                    f"The {one.teeth}, formative {fixed(one.formative, 2)}, is below "
                    f"{fixed(one.undercut_limit, 1)}: teeth of full depth generated by a rack would be "
                    "undercut. A disc cutter leaves the foot in its own form (common practice, no source)."
                ),
            )
    if gear.cones.question.angle not in USUAL_ANGLES:
        yield Caution(
            code="angle-unusual",
            text="Stock cutters are made for 14 1/2 and 20 degrees: read the angle off the cutter.",
        )
