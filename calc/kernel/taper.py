"""Kernel room: a taper by name, by its sizes, by its rate or by its angle, and how it is set."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import atan, degrees, radians, sin, tan
from typing import Any

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.tables import read_source
from calc.kernel.taper_cautions import cautions
from calc.kernel.tapers import KEY, Named, nearest, taper_named
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text
from calc.kernel.working import COMMON, Outcome, Step

DIAMETER_MM = (Fraction(), Fraction(2000))
DIAMETER_REASON = "It is a diameter of something that is turned; nought is a point."
LENGTH_MM = (Fraction(1, 10), Fraction(5000))
LENGTH_REASON = "It is the length of something on a lathe."
RATE = (Fraction(1, 2000), Fraction(8))
RATE_REASON = "Flatter is parallel, and steeper is turned as a face."
ANGLE_DEG = (Fraction(1, 30), Fraction(150))
ANGLE_REASON = "Flatter is parallel, and blunter is turned as a face."
SINE_BAR_MM = (Fraction(10), Fraction(1000))
SINE_BAR_REASON = "It is the distance between the rollers: 5 in, 10 in, 100 mm, 200 mm."
#: Places an angle is shown to, and a rate.
ANGLE_PLACES, RATE_PLACES = 5, 6
GEOMETRY = "worked here by trigonometry"


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """A taper as it is to be worked: its rate, its sizes where known, how it was said."""

    rate: Fraction  # on the diameter, in one length
    said_by: str  # name, rate, included_angle or sizes
    named: Named | None
    included: Fraction  # degrees
    large: Fraction | None
    small: Fraction | None
    length: Fraction | None
    worked_size: str = ""  # the size that was worked out of the other two


def angle_of(slope: Fraction) -> Fraction:
    """The angle of a slope. [degree]"""
    return Fraction(degrees(atan(slope)))


def taper(
    *,
    name: str | None = None,
    rate: Fraction | None = None,
    included_angle: Fraction | None = None,
    large_diameter: Fraction | None = None,
    small_diameter: Fraction | None = None,
    length: Fraction | None = None,
    work_length: Fraction | None = None,
    sine_bar: Fraction | None = None,
) -> Outcome:
    """A taper said in one way, in all the others, and how slide, tailstock and sine bar are set to it.

    Rates are on the diameter. A taper key slopes on one face: that face has the whole rate.

    Parameters
    ----------
    name : str, optional
        A taper of the table. [-]
    rate : Fraction, optional
        What the diameter changes by in one length. [-] 0.0005 to 8
    included_angle : Fraction, optional
        Between the two sides. [degree] 2′ to 150°
    large_diameter : Fraction, optional
        At the large end. [mm] 0 mm to 2000 mm
    small_diameter : Fraction, optional
        At the small end; nought where it runs out to a point. [mm] 0 mm to 2000 mm
    length : Fraction, optional
        Between them, along the axis. [mm] 0.1 mm to 5000 mm
    work_length : Fraction, optional
        The whole work between centres, not the taper alone. [mm] 0.1 mm to 5000 mm
    sine_bar : Fraction, optional
        Between its rollers. [mm] 10 mm to 1000 mm

    Returns
    -------
    Outcome
        ``rate`` [-] on the diameter; ``taper_per_foot`` [inch per foot]; ``half_angle_deg`` [degree], to
        which the compound slide is set; ``included_angle_deg`` [degree]; ``face_angle_deg`` [degree], of
        a face that has the whole rate; ``large_diameter_mm`` [millimetre], ``small_diameter_mm``
        [millimetre] and ``length_mm`` [millimetre], none where not known; ``tailstock_set_over_mm``
        [millimetre]; ``sine_bar_height_mm`` [millimetre], for the included angle; ``nearest_named`` [-]
        and ``nearest_taper_per_foot`` [inch per foot].

    Raises
    ------
    OutOfRange
        An entry is outside its limits, the taper is not said, or is said twice.
    NotInTable
        There is no taper of that name.

    Notes
    -----
    Half angle = atan(rate / 2), included = 2 × half, face = atan(rate). Set-over = rate × the whole
    work / 2. Height = sine bar × sin(included angle). Beside a name, a rate or an angle two of the three
    sizes give the third; a name alone has those of the table.

    Examples
    --------
    >>> round(taper(name="MT2").results["half_angle_deg"], 5)
    1.43069

    Sources
    -------
    tapers, Morse, Jarno, Brown & Sharpe, Jacobs; pins, keys and pipe.

    Checks
    ------
    tapers#morse-2, tapers#jarno, tapers#pipe, tapers#sine-bar, tapers#morse-3-sizes
    """
    _checked(
        rate=(rate, RATE, RATE_REASON, ""),
        included_angle=(included_angle, ANGLE_DEG, ANGLE_REASON, "°"),
        large_diameter=(large_diameter, DIAMETER_MM, DIAMETER_REASON, " mm"),
        small_diameter=(small_diameter, DIAMETER_MM, DIAMETER_REASON, " mm"),
        length=(length, LENGTH_MM, LENGTH_REASON, " mm"),
        work_length=(work_length, LENGTH_MM, LENGTH_REASON, " mm"),
        sine_bar=(sine_bar, SINE_BAR_MM, SINE_BAR_REASON, " mm"),
    )
    _said_once(name, rate, included_angle, (large_diameter, small_diameter, length))
    task = _task(name, rate, included_angle, large_diameter, small_diameter, length)
    if work_length is not None and task.length is not None and work_length < task.length:
        raise OutOfRange(
            "work_length",
            f"at least the taper’s own {decimal_text(task.length, 3)} mm",
            "It is the whole work between centres, not the taper.",
        )
    return Outcome(
        results=_results(task, work_length, sine_bar),
        working=tuple(_working(task, work_length, sine_bar)),
        warnings=tuple(cautions(task.rate, task.included, task.named, task.length, work_length, sine_bar)),
        sources=(KEY,),
    )


def _checked(**entries: tuple[Fraction | None, tuple[Fraction, Fraction], str, str]) -> None:
    for field, (value, limits, reason, unit) in entries.items():
        check_within(field, value, limits, unit, reason)


def _said_once(
    name: str | None, rate: Fraction | None, angle: Fraction | None, sizes: Sequence[Fraction | None]
) -> None:
    """Whether the taper is said in one way, and in one way only."""
    ways = {"name": name, "rate": rate, "included_angle": angle}
    said = [field for field, value in ways.items() if value is not None]
    known = sum(size is not None for size in sizes)
    if len(said) > 1:
        raise OutOfRange(said[1], "left out", "The taper is said already by the entry before it.")
    if said and known == len(sizes):
        raise OutOfRange(
            "length", "left out", "Two sizes and the taper give the third: leave one of the sizes out."
        )
    if not said and known < len(sizes):
        raise OutOfRange(
            "name",
            "a name, or a rate, or an angle, or both diameters and the length",
            "The taper is to be said in one way.",
        )


def _task(
    name: str | None, rate: Fraction | None, angle: Fraction | None,
    large: Fraction | None, small: Fraction | None, length: Fraction | None,
) -> Taper:  # fmt: skip
    named = taper_named(name) if name is not None else None
    if named and large is None and small is None and length is None:
        large, small, length = named.large, named.small, named.length
    _ordered(large, small)
    if large is not None and small is not None and length is not None and not named:
        found, said_by = (large - small) / length, "sizes"
        _checked(length=(found, RATE, f"That is the rate these sizes give. {RATE_REASON}", ""))
    elif named:
        found, said_by = named.rate, "name"
    elif angle is not None:
        found, said_by = 2 * Fraction(tan(radians(angle / 2))), "included_angle"
    else:
        found, said_by = rate or Fraction(), "rate"
    worked_size, large, small, length = _third(found, large, small, length)
    return Taper(
        rate=found, said_by=said_by, named=named, included=angle or 2 * angle_of(found / 2),
        large=large, small=small, length=length, worked_size=worked_size,
    )  # fmt: skip


def _ordered(large: Fraction | None, small: Fraction | None) -> None:
    if large is not None and small is not None and small >= large:
        raise OutOfRange(
            "small_diameter", f"less than {decimal_text(large, 4)} mm", "It is the smaller of the two ends."
        )


def _third(
    rate: Fraction, large: Fraction | None, small: Fraction | None, length: Fraction | None
) -> tuple[str, Fraction | None, Fraction | None, Fraction | None]:
    """The size that is missing, out of the other two."""
    if large is not None and length is not None and small is None:
        small = large - rate * length
        if small < 0:
            most = decimal_text(large / rate, 3)
            raise OutOfRange("length", f"at most {most} mm", "The taper has come to its point there.")
        return "small diameter", large, small, length
    if small is not None and length is not None and large is None:
        return "large diameter", small + rate * length, small, length
    if large is not None and small is not None and length is None:
        return "length", large, small, (large - small) / rate
    return "", large, small, length


def _results(task: Taper, work: Fraction | None, bar: Fraction | None) -> dict[str, Any]:
    names, per_foot = nearest(task.rate)
    return {
        "rate": float(task.rate),
        "taper_per_foot": float(task.rate * 12),
        "half_angle_deg": float(task.included / 2),
        "included_angle_deg": float(task.included),
        "face_angle_deg": float(angle_of(task.rate)),
        "large_diameter_mm": None if task.large is None else float(task.large),
        "small_diameter_mm": None if task.small is None else float(task.small),
        "length_mm": None if task.length is None else float(task.length),
        "tailstock_set_over_mm": None if work is None else float(task.rate * work / 2),
        "sine_bar_height_mm": None if bar is None else float(_height(bar, task.included)),
        "nearest_named": names,
        "nearest_taper_per_foot": float(per_foot),
    }


def _height(bar: Fraction, angle: Fraction) -> Fraction:
    return bar * Fraction(sin(radians(angle)))


def _working(task: Taper, work: Fraction | None, bar: Fraction | None) -> list[Step]:
    """The rate, the angles, then each length in millimetres and in inches."""
    lines = Lines(Fraction(1))
    _rate_line(lines, task)
    if task.said_by == "included_angle":
        lines.bare("Half angle, for the compound slide", "included angle / 2", "{} / 2", [task.included],
                   lambda angle: angle / 2, ANGLE_PLACES, "°", GEOMETRY)  # fmt: skip
    else:
        lines.bare("Half angle, for the compound slide", "atan(rate / 2)", "atan({} / 2)", [task.rate],
                   lambda rate: angle_of(rate / 2), ANGLE_PLACES, "°", GEOMETRY)  # fmt: skip
        lines.bare("Included angle", "2 × atan(rate / 2)", "2 × atan({} / 2)", [task.rate],
                   lambda rate: 2 * angle_of(rate / 2), ANGLE_PLACES, "°", GEOMETRY)  # fmt: skip
    lines.bare("Angle of a face with the whole rate, as a key has", "atan(rate)", "atan({})", [task.rate],
               angle_of, ANGLE_PLACES, "°", GEOMETRY)  # fmt: skip
    steps = list(lines.steps)
    for unit in (Fraction(1), INCH):
        both = Lines(unit)
        _length_lines(both, task, work, bar)
        steps += both.steps
    return steps


def _rate_line(lines: Lines, task: Taper) -> None:
    label = "Rate on the diameter"
    if task.named:
        source = f"{read_source(KEY).short}, {'read' if task.named.origin == 'read' else 'from memory'}"
        lines.bare(f"{label}, from the taper to the foot", "taper per foot / 12", "{} / 12",
                   [task.named.per_foot], lambda foot: foot / 12, RATE_PLACES, "", source)  # fmt: skip
    elif task.said_by == "included_angle":
        lines.bare(label, "2 × tan(included angle / 2)", "2 × tan({} / 2)", [task.included],
                   lambda angle: 2 * Fraction(tan(radians(angle / 2))), RATE_PLACES, "",
                   GEOMETRY)  # fmt: skip
    elif task.said_by == "sizes":
        ends = [task.large or Fraction(), task.small or Fraction(), task.length or Fraction()]
        lines.bare(label, "(large diameter − small diameter) / length", "({} − {}) / {}", ends,
                   lambda large, small, length: (large - small) / length, RATE_PLACES, "")  # fmt: skip
    if task.said_by != "name":
        lines.bare("Taper to the foot, inches", "rate × 12", "{} × 12", [task.rate],
                   lambda rate: rate * 12, 5, "in/ft")  # fmt: skip


def _length_lines(lines: Lines, task: Taper, work: Fraction | None, bar: Fraction | None) -> None:
    large, small, length = (size or Fraction() for size in (task.large, task.small, task.length))
    if task.worked_size == "small diameter":
        lines.length("Small diameter", "large diameter − rate × length", "{0} − {2} × {1}",
                     [large, length], lambda end, long, rate: end - rate * long,
                     plain=[task.rate])  # fmt: skip
    elif task.worked_size == "large diameter":
        lines.length("Large diameter", "small diameter + rate × length", "{0} + {2} × {1}",
                     [small, length], lambda end, long, rate: end + rate * long,
                     plain=[task.rate])  # fmt: skip
    elif task.worked_size == "length":
        lines.length("Length", "(large diameter − small diameter) / rate", "({0} − {1}) / {2}",
                     [large, small], lambda one, two, rate: (one - two) / rate,
                     plain=[task.rate])  # fmt: skip
    if work is not None:
        lines.length("Set-over of the tailstock", "rate × work length / 2", "{1} × {0} / 2", [work],
                     lambda long, rate: rate * long / 2, COMMON, plain=[task.rate])  # fmt: skip
    if bar is not None:
        lines.length("Under one roller of the sine bar", "sine bar × sin(included angle)", "{} × sin({})",
                     [bar], _height, GEOMETRY, plain=[task.included])  # fmt: skip
