"""Kernel room: the drills before a reamer, out of those owned, and what is left on for it."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

from calc.kernel.drills import MOST, Drill, drill_of, in_order, size_text, stock
from calc.kernel.errors import NoSolution, OutOfRange, check_within
from calc.kernel.tables import read_source, read_table
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import COMMON, Caution, Outcome

KEY = "reaming"
BORE_MM = (Fraction(1), Fraction(127, 2))
BORE_REASON = "It is a hole that is drilled: the rules for reaming end at 2 1/2 in."
REAMERS = ("machine", "hand", "none")
#: How much over its own size a drill cuts, on the diameter.
OVERSIZE = Fraction(5, 100)
#: A drill larger than this has another before it, of half its size at most.
PILOT_OVER = Fraction(8)
#: More than this on the diameter is too much for any reamer.
NEVER_OVER = INCH / 32
HOW_KNOWN = {"read": "a reamer-maker’s table", "memory": "hand reamers, from memory"}
OVER_RULE = "Applied Science for Metal Workers, 1919, section 313"


@dataclass(frozen=True, slots=True)
class Allowance:
    """What is to be left on the diameter. [mm]"""

    low: Fraction
    high: Fraction | None  # none where nothing is reamed
    source: str


def bore_sequence(
    *, finished_bore: Fraction, reamer: str = "machine", drills_owned: Sequence[str] | None = None
) -> Outcome:
    """The drills for a bore in order, the last before the reamer, and what that leaves on.

    The last drill is by rule. Those before it are advice: another shop starts from another pilot.

    Parameters
    ----------
    finished_bore : Fraction
        The bore as it is to be. [mm] 1 mm to 63.5 mm
    reamer : str
        What finishes it: a machine reamer, a hand reamer, or none, where the drill is the last but boring.
        [-] machine or hand or none
    drills_owned : sequence of str, optional
        The drills to hand, by name; the table's where left out. [-] at most 600

    Returns
    -------
    Outcome
        ``drills`` [-] in order, each with its size; ``last_drill`` [-] and ``last_drill_mm``
        [millimetre], the one before the reamer; ``hole_mm`` [millimetre], what it cuts;
        ``stock_left_mm`` [millimetre] on the diameter and ``stock_left_a_side_mm`` [millimetre];
        ``allowance_low_mm`` [millimetre] and ``allowance_high_mm`` [millimetre] on the diameter, none where
        nothing is reamed.

    Raises
    ------
    OutOfRange
        The bore is outside the table of the reamer, or the list of drills is too long or empty.
    NotInTable
        A drill owned is none.
    NoSolution
        No drill owned is small enough; says which would do.

    Notes
    -----
    The last drill is the largest whose hole, 0.05 mm over its size, leaves at least the low allowance on
    the diameter. Allowances are on the diameter, bores over (exclusive) to up to (inclusive). With no
    reamer the low allowance is nought. Before a drill over 8 mm comes the largest of half its size at most.

    Examples
    --------
    >>> bore_sequence(finished_bore=Fraction("12.7")).results["last_drill"]
    '31/64'

    Sources
    -------
    reaming, allowances before machine and hand reamers.
    drills, by number, letter, fraction and millimetre.

    Checks
    ------
    reaming#half-inch, reaming#quarter-inch, reaming#none-ten
    """
    _checked(finished_bore, reamer)
    owned = stock() if drills_owned is None else _owned(drills_owned)
    allowance = _allowance(finished_bore, reamer)
    last = _last(owned, finished_bore, allowance)
    order = [*_before(owned, last), last]
    left = finished_bore - last.mm - OVERSIZE
    return Outcome(
        results=_results(order, left, allowance),
        working=tuple(_working(finished_bore, order, allowance)),
        warnings=tuple(_cautions(last, left, allowance)),
        sources=(KEY, "drills"),
    )


def _checked(bore: Fraction, reamer: str) -> None:
    check_within("finished_bore", bore, BORE_MM, " mm", BORE_REASON)
    if reamer not in REAMERS:
        raise OutOfRange("reamer", " or ".join(REAMERS), "It is one of the choices.")


def _owned(names: Sequence[str]) -> tuple[Drill, ...]:
    if not names:
        raise OutOfRange("drills_owned", "at least one drill", "Leave it empty for the drills of the table.")
    if len(names) > MOST:
        raise OutOfRange(
            "drills_owned", f"at most {MOST} drills", "Leave it empty for the drills of the table."
        )
    return in_order([drill_of("drills_owned", name) for name in names])


def _allowance(bore: Fraction, reamer: str) -> Allowance:
    """What the reamer wants left, by the size of the bore."""
    if reamer == "none":
        return Allowance(Fraction(), None, COMMON)
    rows = [row for row in read_table(KEY, "allowance").rows if row["reamer"] == reamer]
    for row in rows:
        if Fraction(row["over"]) * INCH < bore <= Fraction(row["upto"]) * INCH:
            source = f"{read_source(KEY).short}, {HOW_KNOWN[row['origin']]}"
            return Allowance(Fraction(row["low"]) * INCH, Fraction(row["high"]) * INCH, source)
    over, upto = Fraction(rows[0]["over"]), Fraction(rows[-1]["upto"])
    raise OutOfRange(
        "finished_bore",
        f"over {decimal_text(over, 4)} to {decimal_text(upto, 4)} in "
        f"({decimal_text(over * INCH, 3)} to {decimal_text(upto * INCH, 3)} mm) with a {reamer} reamer",
        "What such a reamer wants left was read for no other bore.",
    )


def _last(owned: Sequence[Drill], bore: Fraction, allowance: Allowance) -> Drill:
    """The largest drill that leaves enough; no solution where none does, or where it is no drilling."""
    most = bore - allowance.low - OVERSIZE
    fit = [drill for drill in owned if drill.mm <= most]
    if fit:
        return fit[-1]
    best = [drill for drill in stock() if drill.mm <= most][-1:]
    would = [f"Drill {size_text(drill)}." for drill in best]
    smallest = size_text(owned[0])
    raise NoSolution(
        f"No drill owned leaves enough: the smallest is {smallest}, and at most "
        f"{fixed(most, 3)} mm ({fixed(most / INCH, 4)} in) may be drilled.",
        [*would, "A larger bore."],
    )


def _before(owned: Sequence[Drill], last: Drill) -> list[Drill]:
    """Pilots: before a large drill the largest of half its size at most, as long as one is owned."""
    order: list[Drill] = []
    following = last
    while following.mm > PILOT_OVER:
        pilots = [drill for drill in owned if drill.mm <= following.mm / 2]
        if not pilots:
            break
        following = pilots[-1]
        order.insert(0, following)
    return order


def _results(order: Sequence[Drill], left: Fraction, allowance: Allowance) -> dict[str, Any]:
    last = order[-1]
    return {
        "drills": [{"drill": drill.name, "drill_mm": float(drill.mm)} for drill in order],
        "last_drill": last.name,
        "last_drill_mm": float(last.mm),
        "hole_mm": float(last.mm + OVERSIZE),
        "stock_left_mm": float(left),
        "stock_left_a_side_mm": float(left / 2),
        "allowance_low_mm": None if allowance.high is None else float(allowance.low),
        "allowance_high_mm": None if allowance.high is None else float(allowance.high),
    }


def _working(bore: Fraction, order: Sequence[Drill], allowance: Allowance) -> list[Any]:
    """The same in millimetres and in inches: a rack of drills has both."""
    last = order[-1]
    metric, inch = Lines(Fraction(1)), Lines(INCH)
    oversize = f"{read_source(KEY).short}, a rule for trainees"
    if allowance.high is not None:
        inch.table("To be left on the diameter, at least", allowance.low, allowance.source)
        inch.table("To be left on the diameter, at most", allowance.high, allowance.source)
        metric.length(
            "Least allowance in millimetres", "least allowance in inches × 25.4", "{} × 25.4", [],
            lambda low: low * INCH, plain=[allowance.low / INCH],
        )  # fmt: skip
    metric.length(
        "Largest drill", "bore − least allowance − 0.05", "{} − {} − 0.05", [bore, allowance.low],
        lambda size, low: size - low - OVERSIZE, oversize,
    )  # fmt: skip
    metric.length(
        f"Hole that drill {last.name} cuts", "drill + 0.05", "{} + 0.05", [last.mm],
        lambda size: size + OVERSIZE, oversize,
    )  # fmt: skip
    for lines in (metric, inch):
        lines.length(
            "Left on the diameter", "bore − hole", "{} − {}", [bore, last.mm + OVERSIZE],
            lambda size, hole: size - hole,
        )  # fmt: skip
    for drill, following in pairwise(order):
        metric.length(
            f"Pilot before {following.name}, at most; {drill.name} is the largest",
            "following drill / 2", "{} / 2", [following.mm], lambda size: size / 2, COMMON,
        )  # fmt: skip
    return [*inch.steps[:-1], *metric.steps, inch.steps[-1]]


def _cautions(last: Drill, left: Fraction, allowance: Allowance) -> list[Caution]:
    said = []
    both = f"{fixed(left, 3)} mm ({fixed(left / INCH, 4)} in)"
    if allowance.high is not None and left > allowance.high:
        most = f"{fixed(allowance.high, 3)} mm ({fixed(allowance.high / INCH, 4)} in)"
        far = f" It is more than 1/32 in, which {OVER_RULE} never leaves." if left > NEVER_OVER else ""
        said.append(
            Caution(
                code="too-much-left",
                text=f"Drill {last.name} leaves {both} on the diameter, and the reamer wants {most} at most: "
                f"open the hole with a boring tool, or a drill nearer to size.{far}",
            )
        )
    if allowance.high is None:
        said.append(
            Caution(
                code="no-reamer",
                text=f"A drill cuts about 0.05 mm over its size: {last.name} leaves "
                f"{f'{both} on the diameter, to be bored out' if left else 'nothing'}. "
                "A drill of the bore’s own size would leave it too large.",
            )
        )
    elif allowance.source.endswith("memory"):
        said.append(
            Caution(
                code="from-memory",
                text="What a hand reamer wants left is from memory, and it is little: try it in scrap first.",
            )
        )
    return said
