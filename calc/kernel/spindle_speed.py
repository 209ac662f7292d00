"""Kernel room: turns a minute for a cutting speed, the speed of the machine to run at, and the time."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import pi

from calc.kernel.errors import NoSolution, OutOfRange, check_within
from calc.kernel.tables import read_source, read_table
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.wording import fixed
from calc.kernel.working import LOOKED_UP, Caution, Outcome, Step

KEY = "cutting_speeds"
#: Metres in a foot.
FOOT = Fraction(3048, 10_000)
PI = Fraction(pi)
GEOMETRY = "worked here from the way round"
SPEED_M_MIN = (Fraction(1), Fraction(1000))
SPEED_REASON = "Cutting speeds lie between a reamer in hard steel and carbide in aluminium."
DIAMETER_MM = (Fraction(1, 10), Fraction(3000))
DIAMETER_REASON = "It is what turns: the work before the cut, the bore after it, the drill, the cutter."
STEPS = (1, 60_000)
STEPS_REASON = "They are the speeds of one spindle."
MOST_STEPS = 60
LENGTH_MM = (Fraction(1, 10), Fraction(5000))
LENGTH_REASON = "It is what the tool travels in one cut."
FEED_MM = (Fraction(1, 1000), Fraction(10))
FEED_REASON = "It is what the tool travels in one turn."
#: Not from the table.
NO_MATERIAL = "none"
MATERIALS = (
    "aluminium", "brass", "copper", "soft-iron", "hard-iron", "mild-steel", "cast-steel", "tool-steel",
    "stainless",
)  # fmt: skip
#: Carbide runs at about twice the speed of high-speed steel.
TOOLS: Mapping[str, int] = {"hss": 1, "carbide": 2}


def spindle_speed(
    *,
    diameter: Fraction,
    cutting_speed: Fraction | None = None,
    material: str = NO_MATERIAL,
    tool: str = "hss",
    spindle_speeds: Sequence[int] | None = None,
    length: Fraction | None = None,
    feed: Fraction | None = None,
) -> Outcome:
    """Turns a minute for a cutting speed, the nearest the machine has that is not above, and the time.

    Tables of cutting speeds differ by up to twice: start low, and let chip and finish say more.

    Parameters
    ----------
    diameter : Fraction
        Of the work before the cut, of the bore after it, of the drill or cutter. [mm] 0.1 mm to 3000 mm
    cutting_speed : Fraction, optional
        At the edge, instead of a material. [m/min] 1 m/min to 1000 m/min
    material : str
        Takes its speed from the table. [-] none or aluminium or brass or copper or soft-iron or hard-iron
        or mild-steel or cast-steel or tool-steel or stainless
    tool : str
        What cuts; carbide doubles the speed of the table. [-] hss or carbide
    spindle_speeds : sequence of int, optional
        Those the machine has, turns a minute. [count] 1 to 60000, at most 60
    length : Fraction, optional
        Of one cut; wants a feed. [mm] 0.1 mm to 5000 mm
    feed : Fraction, optional
        To one turn; wants a length. [mm] 0.001 mm to 10 mm

    Returns
    -------
    Outcome
        ``cutting_speed_m_min`` [metre per minute]; ``spindle_speed_rpm`` [turn per minute];
        ``nearest_rpm`` [turn per minute], the highest of the machine that is not above, none where none
        were entered; ``speed_run_m_min`` [metre per minute] at that; ``time_min`` [minute], none without
        length and feed; ``other_low_m_min`` [metre per minute] and ``other_high_m_min`` [metre per minute],
        what the other source has for the material.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or one is missing that another wants.
    NoSolution
        Every speed of the machine is above.

    Notes
    -----
    Speed = V / (pi D): 12 V / (pi D) in feet a minute and inches, 1000 V / (pi D) in metres and millimetres.
    Time = length / (feed × the speed run). The table is for high-speed steel and annealed or soft stock.

    Examples
    --------
    >>> round(spindle_speed(diameter=Fraction("38.1"), material="mild-steel").results["spindle_speed_rpm"], 1)
    229.2

    Sources
    -------
    cutting_speeds, high-speed steel.

    Checks
    ------
    cutting_speeds#mild-steel, cutting_speeds#drill, cutting_speeds#time, cutting_speeds#mill
    """
    _checked(diameter, cutting_speed, length, feed, spindle_speeds)
    _said(cutting_speed, material, tool, length, feed)
    row = _row(material)
    speed = Fraction(row["in_use"]) * FOOT * TOOLS[tool] if row else cutting_speed or Fraction()
    turns = speed * 1000 / (PI * diameter)
    step = _step(turns, spindle_speeds)
    run = turns if step is None else Fraction(step)
    time = None if length is None or feed is None else length / (feed * run)
    low, high = _other(row, TOOLS[tool])
    return Outcome(
        results={
            "cutting_speed_m_min": float(speed),
            "spindle_speed_rpm": float(turns),
            "nearest_rpm": step,
            "speed_run_m_min": float(run * PI * diameter / 1000),
            "time_min": None if time is None else float(time),
            "other_low_m_min": low,
            "other_high_m_min": high,
        },
        working=tuple(_working(row, tool, speed, diameter, step, run, length, feed)),
        warnings=tuple(_cautions(row, TOOLS[tool])),
        sources=(KEY,) if row else (),
    )


def _checked(
    diameter: Fraction, speed: Fraction | None, length: Fraction | None, feed: Fraction | None,
    steps: Sequence[int] | None,
) -> None:  # fmt: skip
    for field, value, limits, unit, reason in (
        ("diameter", diameter, DIAMETER_MM, " mm", DIAMETER_REASON),
        ("cutting_speed", speed, SPEED_M_MIN, " m/min", SPEED_REASON),
        ("length", length, LENGTH_MM, " mm", LENGTH_REASON),
        ("feed", feed, FEED_MM, " mm", FEED_REASON),
    ):
        check_within(field, value, limits, unit, reason)
    if steps is not None and not (
        0 < len(steps) <= MOST_STEPS and all(STEPS[0] <= step <= STEPS[1] for step in steps)
    ):
        raise OutOfRange(
            "spindle_speeds", f"{STEPS[0]} to {STEPS[1]}, and {MOST_STEPS} at most", STEPS_REASON
        )


def _said(
    speed: Fraction | None, material: str, tool: str, length: Fraction | None, feed: Fraction | None
) -> None:
    if material not in (NO_MATERIAL, *MATERIALS):
        raise OutOfRange("material", " or ".join((NO_MATERIAL, *MATERIALS)), "It is one of the choices.")
    if tool not in TOOLS:
        raise OutOfRange("tool", " or ".join(TOOLS), "It is one of the choices.")
    if (speed is None) == (material == NO_MATERIAL):
        raise OutOfRange(
            "cutting_speed", "either a cutting speed or a material", "Each gives the speed alone."
        )
    if (length is None) != (feed is None):
        missing = "feed" if feed is None else "length"
        raise OutOfRange(missing, "a length and a feed together", "The time wants both.")


def _row(material: str) -> Mapping[str, str] | None:
    return next((row for row in read_table(KEY, "speeds").rows if row["material"] == material), None)


def _step(turns: Fraction, steps: Sequence[int] | None) -> int | None:
    """The highest speed of the machine that is not above: rounded down, never up."""
    if steps is None:
        return None
    below = [step for step in steps if step <= turns]
    if not below:
        raise NoSolution(
            f"Every speed of the machine is above {fixed(turns, 1)} turns a minute: "
            f"the slowest is {min(steps)}.",
            ["A back gear or a slower range.", "A smaller diameter, or a tool that stands a higher speed."],
        )
    return max(below)


def _other(row: Mapping[str, str] | None, times: int) -> tuple[float | None, float | None]:
    """The lowest and the highest of the other source, whatever the operation."""
    if row is None:
        return None, None
    every = [Fraction(row[name]) for name in ("drill", "turn_low", "turn_high", "mill_low", "mill_high")]
    return float(min(every) * FOOT * times), float(max(every) * FOOT * times)


def _working(
    row: Mapping[str, str] | None, tool: str, speed: Fraction, diameter: Fraction,
    step: int | None, run: Fraction, length: Fraction | None, feed: Fraction | None,
) -> list[Step]:  # fmt: skip
    """In feet a minute and inches where the speed is whole in feet, else in metres and millimetres."""
    in_feet = (speed / FOOT).denominator == 1
    lines = Lines(INCH if in_feet else Fraction(1))
    word, per, shown = ("ft/min", 12, speed / FOOT) if in_feet else ("m/min", 1000, speed)
    if row:
        source = f"{read_source(KEY).short}, a machine’s manual, read"
        lines.bare("Speed for high-speed steel", LOOKED_UP, "{}", [Fraction(row["in_use"])],
                   lambda found: found, 0, "ft/min", source)  # fmt: skip
    if row and tool == "carbide":
        lines.bare("Speed for carbide, about twice", "2 × table speed", "2 × {}", [Fraction(row["in_use"])],
                   lambda found: 2 * found, 0, "ft/min", f"{read_source(KEY).short}, read")  # fmt: skip
    lines.bare("Turns a minute", f"{per} × cutting speed / (π × diameter)", f"{per} × {{}} / (π × {{}})",
               [shown, diameter / lines.unit], lambda fast, wide: per * fast / (PI * wide), 2, "turns/min",
               GEOMETRY)  # fmt: skip
    if step is not None:
        lines.bare("Cutting speed at the speed run", f"π × diameter × speed run / {per}",
                   f"π × {{}} × {{}} / {per}", [diameter / lines.unit, run],
                   lambda wide, fast: PI * wide * fast / per, 1, word, GEOMETRY)  # fmt: skip
    if length is not None and feed is not None:
        lines.bare("Time for one cut", "length / (feed × speed run)", "{} / ({} × {})",
                   [length / lines.unit, feed / lines.unit, run],
                   lambda long, fed, fast: long / (fed * fast), 2, "min", GEOMETRY)  # fmt: skip
    return lines.steps


def _cautions(row: Mapping[str, str] | None, times: int) -> list[Caution]:
    if row is None:
        return []
    doubled = " For carbide all are doubled." if times > 1 else ""
    return [
        Caution(
            code="sources-differ",
            text=f"In use: {row['in_use']} ft/min, from a machine’s manual, for high-speed steel and soft or "
            f"annealed stock. A university’s sheet has {row['drill']} for drilling, {row['turn_low']} to "
            f"{row['turn_high']} for turning and {row['mill_low']} to {row['mill_high']} for milling: start "
            f"at the lower, and go lower still in hard or scaly metal.{doubled}",
        )
    ]
