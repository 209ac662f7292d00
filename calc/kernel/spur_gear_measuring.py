"""Kernel room: how the teeth of a spur gear are measured, by chord, over a span of teeth and over pins."""

from dataclasses import dataclass
from fractions import Fraction
from math import cos, degrees, hypot, pi, sin, tan

from calc.kernel.involute import angle_of_involute, involute
from calc.kernel.spur_gear_entries import METRIC, PROVED, figure, line
from calc.kernel.spur_gear_sizes import Gear
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import Step

#: Places of a figure that the next line of working takes on, so that it comes out to the places shown.
FINE_PLACES = 8
ANGLE_PLACES = 6


def bare(value: Fraction | float) -> str:
    """A figure inside a sum: exact where it is, else to eight places."""
    return figure(value) if isinstance(value, Fraction) else decimal_text(Fraction(value), FINE_PLACES)


def chordal_thickness(gear: Gear) -> float:
    """Straight across the tooth at the pitch circle."""
    return float(gear.pitch_diameter) * sin(gear.half_angle)


def chordal_addendum(gear: Gear) -> float:
    """From the tip, as measured where that is known, down to that chord."""
    return float(actual_addendum(gear)) + float(gear.pitch_diameter) / 2 * (1 - cos(gear.half_angle))


def actual_addendum(gear: Gear) -> Fraction:
    """Pitch circle to tip: less half of what the blank is under its size."""
    return gear.addendum - (gear.outside_diameter - gear.tip_diameter) / 2


def chordal_steps(gear: Gear) -> list[Step]:
    """The lines of the chordal sizes: half angle, thickness, and the addendum it is measured at."""
    pitch, places = gear.pitch, gear.pitch.places
    psi = fixed(degrees(gear.half_angle), ANGLE_PLACES)
    plain = not gear.shift and not gear.half_backlash
    across = figure(gear.pitch_diameter)
    half = ("90° / teeth", f"90° / {gear.teeth}")
    if not plain:
        half = (
            "180° × tooth along the pitch circle / (π × pitch diameter)",
            f"180° × {fixed(gear.thickness, FINE_PLACES)} / (π × {across})",
        )
    tip, tip_figures = "addendum", figure(gear.addendum)
    if gear.measured is not None:
        tip = "addendum − (outside diameter − outside diameter as measured) / 2"
        tip_figures += f" − ({figure(gear.outside_diameter)} − {figure(gear.measured)}) / 2"
    rise = (
        f"{tip} + pitch diameter / 2 × (1 − cos(half angle))",
        f"{tip_figures} + {across} / 2 × (1 − cos({psi}°))",
    )
    return [
        line(gear.label("half angle of a tooth"), half, psi, "°", METRIC),
        line(
            gear.label("chordal thickness"),
            ("pitch diameter × sin(half angle)", f"{across} × sin({psi}°)"),
            fixed(chordal_thickness(gear), places),
            pitch.unit,
            METRIC,
        ),
        line(
            gear.label("chordal addendum: from the tip down to that chord"),
            rise,
            fixed(chordal_addendum(gear), places),
            pitch.unit,
            METRIC,
        ),
    ]


# ---- over a span of teeth --------------------------------------------------------------------------------


def span(gear: Gear, teeth: int | None = None) -> float:
    """Between flat anvils over so many teeth, along a tangent to the base circle."""
    count = gear.span_teeth if teeth is None else teeth
    return gear.base_diameter * (pi * (count - 1) / gear.teeth + gear.half_angle + involute(gear.alpha))


def touching_diameter(gear: Gear, teeth: int | None = None) -> float:
    """The diameter at which the anvils of a span touch the two flanks."""
    return hypot(gear.base_diameter, span(gear, teeth))


def flank_begins(gear: Gear) -> float:
    """The least diameter at which there is a flank: the base circle, or the root where that is more."""
    return max(gear.base_diameter, float(gear.root_diameter))


def span_is_on_flank(gear: Gear, teeth: int | None = None) -> bool:
    """Whether the anvils touch the flanks, between root and tip."""
    return flank_begins(gear) <= touching_diameter(gear, teeth) <= float(gear.tip_diameter)


def span_that_goes(gear: Gear) -> int | None:
    """Teeth over which the anvils touch nearest the middle of the flank; None where no span will do."""
    middle = (flank_begins(gear) + float(gear.tip_diameter)) / 2
    good = [teeth for teeth in range(1, gear.teeth) if span_is_on_flank(gear, teeth)]
    return min(good, key=lambda teeth: abs(touching_diameter(gear, teeth) - middle), default=None)


def span_step(gear: Gear) -> Step:
    """The line of the span."""
    pitch, alpha, count = gear.pitch, f"{figure(gear.angle)}°", gear.span_teeth
    words, figures = pitch.of("cos(pressure angle)", f"cos({alpha})")
    words += " × (π × (teeth spanned − 1/2) + teeth × inv(pressure angle))"
    figures += f" × (π × ({count} − 1/2) + {gear.teeth} × inv({alpha}))"
    if gear.shift:
        more = pitch.of("2 × shift × sin(pressure angle)", f"2 × {figure(gear.shift)} × sin({alpha})")
        words, figures = f"{words} + {more[0]}", f"{figures} + {more[1]}"
    if gear.half_backlash:
        words += " − half the backlash × cos(pressure angle)"
        figures += f" − {figure(gear.half_backlash)} × cos({alpha})"
    over = f"over {count} teeth" if count > 1 else "over one tooth"
    return line(
        gear.label(f"span {over}"), (words, figures), fixed(span(gear), pitch.places), pitch.unit, PROVED
    )


# ---- over pins -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Pins:
    """Two pins in opposite tooth spaces: where they sit and what is measured over them."""

    involute: float  # at the middle of the pin
    angle: float  # pressure angle there, radians
    middle_diameter: float  # of the circle through the middles
    touching_diameter: float  # where they touch the flanks
    over: float
    fault: str  # "sinks", "high", "low" or "bottoms"; "" where they sit well


def pins(gear: Gear) -> Pins | None:
    """The pins of the gear; None where no pin was given."""
    if gear.pin is None:
        return None
    pin, base = float(gear.pin), gear.base_diameter
    value = pin / base + gear.half_angle + involute(gear.alpha) - pi / gear.teeth
    if value <= 0:
        return Pins(involute=value, angle=0, middle_diameter=0, touching_diameter=0, over=0, fault="sinks")
    angle = angle_of_involute(value)
    middle, along = base / cos(angle), base * tan(angle) - pin
    across = middle if gear.teeth % 2 == 0 else middle * cos(pi / 2 / gear.teeth)
    touching = hypot(base, along)
    return Pins(
        involute=value,
        angle=angle,
        middle_diameter=middle,
        touching_diameter=touching,
        over=across + pin,
        fault=_pin_fault(gear, middle, along, touching),
    )


def _pin_fault(gear: Gear, middle: float, along: float, touching: float) -> str:
    pin, tip = float(gear.pin or 0), float(gear.tip_diameter)
    if middle - pin < float(gear.root_diameter):
        return "bottoms"
    if along < 0 or touching < flank_begins(gear):
        return "sinks"
    if touching > tip:
        return "high"
    return "low" if middle + pin <= tip else ""


def over_pins(gear: Gear) -> float | None:
    """What is measured over the pins; None without a pin, or where it would not rest on the flanks."""
    found = pins(gear)
    return None if found is None or found.fault in ("sinks", "high", "bottoms") else found.over


def pin_steps(gear: Gear) -> list[Step]:
    """The lines of the size over pins: involute and angle at the middle of the pin, and the size."""
    found = pins(gear)
    if found is None or over_pins(gear) is None or gear.pin is None:
        return []
    alpha, across = f"{figure(gear.angle)}°", figure(gear.pitch_diameter)
    words = "pin / base diameter + inv(pressure angle) − π / (2 × teeth)"
    figures = f"{figure(gear.pin)} / ({across} × cos({alpha})) + inv({alpha}) − π / (2 × {gear.teeth})"
    if gear.shift:
        words += " + 2 × shift × tan(pressure angle) / teeth"
        figures += f" + 2 × {figure(gear.shift)} × tan({alpha}) / {gear.teeth}"
    if gear.half_backlash:
        words += " − half the backlash / pitch diameter"
        figures += f" − {figure(gear.half_backlash)} / {across}"
    value, angle = fixed(found.involute, FINE_PLACES + 2), fixed(degrees(found.angle), ANGLE_PLACES)
    odd = gear.teeth % 2 == 1
    total = ("base diameter / cos(angle at the pin)", f"{across} × cos({alpha}) / cos({angle}°)")
    if odd:
        total = (f"{total[0]} × cos(90° / teeth)", f"{total[1]} × cos(90° / {gear.teeth})")
    shown = decimal_text(gear.pin, 4)
    return [
        line(gear.label("involute at the middle of the pin"), (words, figures), value, source=PROVED),
        line(
            gear.label("angle at the pin"),
            ("angle of inv(involute at the pin)", f"angle of inv({value})"),
            angle,
            "°",
            PROVED,
        ),
        line(
            gear.label(f"over pins {shown}{', an odd number of teeth' if odd else ''}"),
            (f"{total[0]} + pin", f"{total[1]} + {figure(gear.pin)}"),
            fixed(found.over, gear.pitch.places),
            gear.pitch.unit,
            PROVED,
        ),
    ]
