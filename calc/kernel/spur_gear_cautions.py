"""Kernel room: what a builder must know about a spur gear before turning the blank and cutting it."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from calc.kernel.spur_gear_cutters import HALF_NUMBERS_PITCH, cutter_for
from calc.kernel.spur_gear_entries import Asked
from calc.kernel.spur_gear_measuring import (
    chordal_addendum,
    pins,
    span,
    span_is_on_flank,
    span_that_goes,
    touching_diameter,
)
from calc.kernel.spur_gear_mesh import Mesh, shift_without_undercut
from calc.kernel.spur_gear_sizes import FINE, Gear, depth_of
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import Caution

#: The systems worth naming beside the one in use: 2.4 is for fine teeth alone.
USUAL_SYSTEMS = ("2.157", "2.25")
#: The least contact and the least land on a tip that are thought sound; common practice, no source.
LEAST_CONTACT, LEAST_LAND = 1.2, 0.2
#: A difference a drawing's own rounding may make, in inches.
ROUNDED_IN = Fraction(6, 10_000)
USUAL_ANGLES = (Fraction(29, 2), Fraction(20))


def cautions(question: Asked, gear: Gear, mesh: Mesh | None) -> Iterator[Caution]:
    """Every caution the answer needs, the weightiest first."""
    gears = (gear, mesh.mate) if mesh else (gear,)
    if mesh and question.drawing_centres is not None:
        yield from _of_drawing(mesh, question.drawing_centres)
    if mesh:
        yield from _of_mesh(mesh)
    for one in gears:
        yield from _of_tooth(one)
    yield from _of_blank(gear)
    yield _of_depth(gear)
    yield from _of_angle(gear)
    for one in gears:
        yield from _of_cutter(one)
    yield from _of_set(gear)
    for one in gears:
        yield from _of_span(one, is_chosen=one is gear and question.span_teeth is not None)
        yield from _of_pins(one)


def _called(gear: Gear) -> str:
    return f"{gear.teeth} teeth"


def _of_drawing(mesh: Mesh, drawn: Fraction) -> Iterator[Caution]:
    """The drawing's centres against those worked out, and what may lie behind the difference."""
    pitch, more = mesh.gear.pitch, drawn - mesh.centres
    if not more:
        return
    text = (
        f"The drawing’s centres of {pitch.shown(drawn)} less the {pitch.shown(mesh.centres)} worked out "
        f"leave {pitch.shown(more)}. "
    )
    if abs(more) < ROUNDED_IN * _inch(pitch.per_inch):
        yield Caution(code="centre-distance", text=f"{text}The drawing’s figure may be rounded.")
        return
    text += "Find out which is wrong before a hole is bored."
    total = 2 * drawn / pitch.module
    if mesh.gear.shift:
        text += f" With the shift the pair runs at {pitch.shown(mesh.running_centres)}."
    elif drawn == (mesh.gear.outside_diameter + mesh.mate.outside_diameter) / 2:
        text += " The drawing’s figure is half the sum of the outside diameters, not of the pitch diameters."
    elif total.denominator == 1:
        text += f" At {pitch.text} it would suit {total} teeth in the two; these have {_sum_of_teeth(mesh)}."
    yield Caution(code="centre-distance", text=text)


def _sum_of_teeth(mesh: Mesh) -> int:
    return mesh.gear.teeth + mesh.mate.teeth


def _of_mesh(mesh: Mesh) -> Iterator[Caution]:
    gear, pitch = mesh.gear, mesh.gear.pitch
    if gear.shift:
        yield Caution(
            code="shifted-centres",
            text=(
                "The mate is reckoned without shift, so the pair runs at "
                f"{pitch.shown(mesh.running_centres)}, not at the nominal {pitch.shown(mesh.centres)}. "
                "A mate shifted as much the other way would run at the nominal centres."
            ),
        )
    for one, other in ((gear, mesh.mate), (mesh.mate, gear)):
        if mesh.interferes(one):
            yield Caution(
                code="interference",
                text=(
                    f"The tips of the {one.teeth} reach below the base circle of the {other.teeth}, where "
                    "there is no involute: contact is reckoned to that circle only. The cutters of a set "
                    "ease the flanks for it; other teeth may bind (common practice, no source)."
                ),
            )
    if mesh.contact_ratio < LEAST_CONTACT:
        yield Caution(
            code="contact-low",
            text=(
                f"Contact ratio {fixed(mesh.contact_ratio, 2)}: below {LEAST_CONTACT} one pair of teeth is "
                "hardly in before the last is out, and the gears are noisy (common practice, no source)."
            ),
        )


def _of_tooth(gear: Gear) -> Iterator[Caution]:
    """Undercut, a thin tip, an angle no stock cutter has."""
    if gear.is_undercut:
        yield Caution(
            code="undercut",
            text=(
                f"{_called(gear)} are fewer than {fixed(gear.undercut_limit, 1)}: a hob or a rack undercuts "
                f"the flank. A shift of {fixed(shift_without_undercut(gear), 3)} would clear it. A disc "
                "cutter leaves the foot of the tooth in its own form instead (common practice, no source)."
            ),
        )
    land = gear.thickness_at(float(gear.tip_diameter))
    if land < LEAST_LAND * float(gear.pitch.module):
        yield Caution(
            code="thin-tip",
            text=(
                f"The tip of {_called(gear)} is only {gear.pitch.shown(land)} wide; a fifth of a module is "
                "the least that stands knocks (common practice, no source)."
            ),
        )
    if gear.angle not in USUAL_ANGLES and not gear.is_mate:
        yield Caution(
            code="angle-unusual",
            text="Stock cutters are made for 14 1/2 and 20 degrees: read the angle off the cutter.",
        )


def _of_blank(gear: Gear) -> Iterator[Caution]:
    """What a blank that is not to size does to the chordal addendum and to the depth."""
    if gear.measured is None or gear.measured == gear.outside_diameter:
        return
    pitch, under = gear.pitch, gear.outside_diameter - gear.measured
    size = "under" if under > 0 else "over"
    feed = gear.whole_depth - under / 2
    yield Caution(
        code="blank-size",
        text=(
            f"The blank measures {pitch.shown(gear.measured)}, {pitch.shown(abs(under))} {size} its "
            f"{pitch.shown(gear.outside_diameter)}: half of that is in the chordal addendum of "
            f"{pitch.shown(chordal_addendum(gear))}. From this tip the full depth is {pitch.shown(feed)}."
        ),
    )


def _of_depth(gear: Gear) -> Caution:
    """The depth by the other systems: the one to use is marked on the cutter."""
    pitch, system = gear.pitch, gear.depth_system
    others = [one for one in USUAL_SYSTEMS if one != system]
    beside = ", ".join(f"{pitch.shown(depth_of(one, pitch))} by {one}" for one in others)
    text = (
        f"Whole depth {pitch.shown(gear.whole_depth)} by {system}; it would be {beside}. The depth belongs "
        "to the cutter: take the one marked on it."
    )
    if system == FINE and 20 * pitch.module > _inch(pitch.per_inch):
        text += " The system 2.2+0.002 is for 20 DP and finer."
    return Caution(code="depth-systems", text=text)


def _of_angle(gear: Gear) -> Iterator[Caution]:
    """The span at the other usual angle, which tells an old gear's from a new one's."""
    if gear.angle not in USUAL_ANGLES or not span_is_on_flank(gear):
        return
    other = next(angle for angle in USUAL_ANGLES if angle != gear.angle)
    apart = span(replace(gear, angle=other))
    yield Caution(
        code="angles",
        text=(
            f"Worked at {decimal_text(gear.angle, 1)}°. The same teeth cut at {decimal_text(other, 1)}° "
            f"would span {gear.pitch.shown(apart)} over {gear.span_teeth}: gears of the two angles do not "
            "run together, so read the angle off the cutter or measure the mate."
        ),
    )


def _inch(per_inch: bool) -> Fraction:
    """An inch in the unit of the working."""
    return Fraction(1) if per_inch else INCH


def _of_cutter(gear: Gear) -> Iterator[Caution]:
    cutter = cutter_for(gear.teeth, gear.cutter_set)
    if cutter is None:
        yield Caution(
            code="no-cutter",
            text=(
                f"No cutter of the set serves {_called(gear)}: the sets begin at 12. It wants a hob, a "
                "shaper or a form tool made for it."
            ),
        )
        return
    if gear.cutter_set == "8" and _half_numbers_offered(gear):
        closer = cutter_for(gear.teeth, "15")
        if closer and closer.number != cutter.number:
            yield Caution(
                code="half-number",
                text=(
                    f"{_called(gear)} are in the upper part of the range {cutter.range_text}. Half numbers "
                    f"are offered at this pitch: No. {closer.number}, {closer.range_text}, comes nearer."
                ),
            )


def _half_numbers_offered(gear: Gear) -> bool:
    low, high = HALF_NUMBERS_PITCH
    diametral = _inch(gear.pitch.per_inch) / gear.pitch.module
    return low <= diametral <= high


def _of_set(gear: Gear) -> Iterator[Caution]:
    """What goes for the set of cutters rather than for one of them."""
    cutter = cutter_for(gear.teeth, "8")
    if not gear.pitch.per_inch and cutter:
        yield Caution(
            code="numbered-other-way",
            text=(
                "Some metric sets are numbered the other way, 1 for 12 and 13 teeth and 8 for a rack (from "
                f"memory): there {_called(gear)} take No. {cutter.reversed_number}. Go by the range marked "
                f"on the cutter, {cutter.range_text}, not by its number."
            ),
        )
    if gear.cutter_set == "15" and not _half_numbers_offered(gear):
        yield Caution(
            code="half-numbers-pitch",
            text="Half numbers are listed for 2 to 8 DP only: make sure the set is to be had at this pitch.",
        )


def _of_span(gear: Gear, *, is_chosen: bool) -> Iterator[Caution]:
    if span_is_on_flank(gear):
        return
    pitch, good = gear.pitch, span_that_goes(gear)
    where = "above the tips" if touching_diameter(gear) > float(gear.tip_diameter) else "below the flank"
    advice = f"Take {good}." if good else "No span of this gear can be measured: use the chord or pins."
    asked = " as asked" if is_chosen else ""
    yield Caution(
        code="span-off-flank",
        text=(
            f"Over {gear.span_teeth} of the {_called(gear)}{asked} the anvils would touch at "
            f"{pitch.shown(touching_diameter(gear))} diameter, {where}. {advice}"
        ),
    )


PIN_FAULTS = {
    "low": "does not stand above the tips: flat anvils rest on the teeth. Take a larger one",
    "high": "is too big: it rides on the tips and not on the flanks. Take a smaller one",
    "sinks": "is too small: it would sink below the flanks. Take a larger one",
    "bottoms": "is too small: it would rest on the bottom of the space. Take a larger one",
}


def _of_pins(gear: Gear) -> Iterator[Caution]:
    found = pins(gear)
    if found is None or not found.fault or gear.pin is None:
        return
    pin = f"{decimal_text(gear.pin, 4)} {gear.pitch.unit}"
    usual = gear.pitch.shown(Fraction("1.728") * gear.pitch.module)
    yield Caution(
        code=f"pin-{found.fault}",
        text=(
            f"In {_called(gear)} a pin of {pin} {PIN_FAULTS[found.fault]}; 1.728 modules, {usual}, is usual "
            "(from memory; other sizes are in use)."
        ),
    )
