"""Kernel room: the hole for a thread at a wanted engagement, the drills beside it, what a drill leaves."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from calc.kernel.drills import Drill, beside, drill_of, size_text, stock
from calc.kernel.errors import OutOfRange
from calc.kernel.thread import offer_row, sources
from calc.kernel.threads import Thread
from calc.kernel.threads_cautions import length_text, of_engagement, of_thread
from calc.kernel.threads_drills import DERIVED, USUAL_PERCENT, Offer, tapping_drills
from calc.kernel.threads_lines import Lines
from calc.kernel.threads_names import thread_named
from calc.kernel.threads_working import engagement as engagement_line
from calc.kernel.threads_working import part_text, sizes, wanted_hole
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import Outcome

PERCENT = (Fraction(30), Fraction(100))
PERCENT_REASON = "Under 30 % the thread strips; 100 % leaves the whole of it, and no tap cuts that in steel."
USUAL, OLDER = "usual", "1.299038"
BASES = (USUAL, OLDER)
BASE_REASON = "1.299038 pitches is the older American rule, for ISO and Unified threads alone."
#: Drills named on each side of the hole.
SIDE = 2


def tapping_drill(
    *,
    thread: str,
    engagement: Fraction | None = None,
    drill: str | None = None,
    base: str = USUAL,
) -> Outcome:
    """The exact hole for a thread at an engagement, and the drills beside it; or what one drill leaves.

    Parameters
    ----------
    thread : str
        The thread as it is written: ``1/4 BSW``, ``2 BA``, ``M6x1``. [-]
    engagement : Fraction, optional
        How much of the full thread is wanted, in per cent; 75 where no drill is given either. [-] 30 to 100
    drill : str, optional
        The drill in hand, in place of an engagement: ``#24``, ``Q``, ``7/32``, ``5.1 mm``. [-]
    base : str
        What 100 % is: the form's own, or the older 1.299038 pitches of ISO and Unified threads.
        [-] usual or 1.299038

    Returns
    -------
    Outcome
        ``minor_diameter_mm`` [millimetre]; ``drill_exact_mm`` [millimetre], the hole for the engagement or
        the drill in hand; ``engagement_percent`` [percent] it leaves, on ``engagement_base`` [-] pitches,
        ``engagement_other_percent`` [percent] on ``engagement_other_base`` [-], none where one base is in
        use; ``smaller_drills`` [-] and ``larger_drills`` [-], two at or under the hole and two over it,
        the nearest first; ``nearest_drill`` [-] and ``nearest_drill_mm`` [millimetre], the nearest of them;
        ``listed_drills`` [-], what tables give for the thread.

    Raises
    ------
    OutOfRange
        The drill is below the core or leaves no thread; the engagement needs a hole below the core;
        both are given; the base does not belong to the thread; the name has two readings.
    NotInTable
        There is no such thread or drill in the tables.

    Notes
    -----
    Hole = D - k p e / 100, engagement = 100 (D - hole) / (k p): k 1.280654 Whitworth form, 1.2 BA,
    1.082532 ISO and Unified unless 1.299038 is asked for. A drill of the hole's own size counts with the
    smaller ones. No drill below the minor diameter is offered: the list is shorter there.

    Examples
    --------
    >>> round(tapping_drill(thread="1/4 BSW", drill="5.1 mm").results["engagement_percent"], 1)
    76.9

    Sources
    -------
    drills, by number, letter, fraction and millimetre.
    bs84, BSW, BSF and BSB. bs93, BA. iso228, BSP. me_threads, ME. unified, UNC and UNF.
    iso_metric, metric. thread_misprints, drills refused.

    Checks
    ------
    threads_derived#o27, threads_derived#o28, threads_derived#bsw-3-8, threads_derived#me-3-8-32,
    threads_derived#bsw-1-4-75
    """
    found = thread_named(thread)
    per_pitch, other = _bases(found, base)
    lines = Lines(found.unit)
    sizes(lines, found)
    if drill is not None:
        if engagement is not None:
            raise OutOfRange(
                "engagement", "an engagement or a drill, not both", "Leave one of the two empty."
            )
        hole = _checked(found, drill_of("drill", drill))
    else:
        hole = _wanted(found, USUAL_PERCENT if engagement is None else engagement, per_pitch)
        wanted_hole(lines, found, USUAL_PERCENT if engagement is None else engagement, per_pitch)
    core, major = found.core, found.major
    allowed = [one for one in stock() if core <= one.mm < major]
    smaller, larger = beside(allowed, hole, SIDE)
    typed = [Drill(drill, hole)] if drill else []
    for one in [*typed, *(one for one in (*reversed(smaller), *larger) if not typed or one.mm != hole)]:
        engagement_line(lines, found, one, per_pitch)
    results = _results(found, hole, (per_pitch, other), (smaller, larger))
    left = found.engagement(hole)
    return Outcome(
        results=results,
        working=tuple(lines.steps),
        warnings=(*of_engagement(found, left), *of_thread(found, [])),
        sources=sources(found)[:3],
    )


def _bases(thread: Thread, base: str) -> tuple[Fraction, Fraction | None]:
    """The base in use and the one shown beside it."""
    if base not in BASES:
        raise OutOfRange("base", " or ".join(BASES), "It is one of the choices.")
    if base == USUAL:
        return thread.form.full, thread.form.other
    if thread.form.other is None:
        raise OutOfRange("base", f"the form’s own with {thread.name}", BASE_REASON)
    return thread.form.other, thread.form.full


def _checked(thread: Thread, drill: Drill) -> Fraction:
    """The size of a drill that was typed; below the core it is refused, and so is one that leaves nothing."""
    if drill.mm < thread.core:
        left = fixed(thread.engagement(drill.mm), 1)
        raise OutOfRange(
            "drill",
            f"at least {length_text(thread, thread.core)}, the core of {thread.name}",
            f"Drill {size_text(drill)} is below it, {left} % of the thread: the tap would have to cut at its "
            f"root, and breaks. {_instead(thread)}",
        )
    if drill.mm >= thread.major:
        raise OutOfRange(
            "drill",
            f"under {length_text(thread, thread.major)}, which {thread.name} is over the thread",
            f"Drill {size_text(drill)} leaves no thread at all. {_instead(thread)}",
        )
    return drill.mm


def _instead(thread: Thread) -> str:
    offer = tapping_drills(thread)[0]
    return f"Use {size_text(offer.drill)}, {fixed(thread.engagement(offer.drill.mm), 1)} %."


def _wanted(thread: Thread, wanted: Fraction, base: Fraction) -> Fraction:
    """The hole for the engagement; none below the core."""
    low, high = PERCENT
    if not low <= wanted <= high:
        raise OutOfRange("engagement", f"{low} to {high}", PERCENT_REASON)
    hole = thread.hole(wanted, base)
    if hole < thread.core:
        most = thread.engagement(thread.core, base)
        raise OutOfRange(
            "engagement",
            f"at most {_down(most)} % of {part_text(base)} pitches for {thread.name}",
            f"{decimal_text(wanted, 4)} % would need a hole below the core, "
            f"{length_text(thread, thread.core)}.",
        )
    return hole


def _down(value: Fraction) -> str:
    """A percentage to two places, rounded down, so that it may be entered."""
    return fixed(Fraction(int(value * 100), 100), 2)


def _results(
    thread: Thread,
    hole: Fraction,
    bases: tuple[Fraction, Fraction | None],
    sides: tuple[Sequence[Drill], Sequence[Drill]],
) -> dict[str, Any]:
    base, other = bases
    smaller, larger = ([_row(thread, drill, bases) for drill in side] for side in sides)
    every = [*smaller, *larger]
    near = min(every, key=lambda row: abs(row["drill_mm"] - float(hole)))
    return {
        "minor_diameter_mm": float(thread.core),
        "drill_exact_mm": float(hole),
        "engagement_percent": float(thread.engagement(hole, base)),
        "engagement_base": part_text(base),
        "engagement_other_percent": None if other is None else float(thread.engagement(hole, other)),
        "engagement_other_base": None if other is None else part_text(other),
        "smaller_drills": smaller,
        "larger_drills": larger,
        "nearest_drill": near["drill"],
        "nearest_drill_mm": near["drill_mm"],
        "listed_drills": [offer_row(thread, one) for one in tapping_drills(thread) if one.origin != DERIVED],
    }


def _row(thread: Thread, drill: Drill, bases: tuple[Fraction, Fraction | None]) -> dict[str, Any]:
    """A drill beside the hole, on the base in use and the other."""
    row = offer_row(thread, Offer(drill, ""))
    base, other = bases
    row["engagement_percent"] = float(thread.engagement(drill.mm, base))
    row["engagement_other_percent"] = None if other is None else float(thread.engagement(drill.mm, other))
    return {
        name: row[name] for name in ("drill", "drill_mm", "engagement_percent", "engagement_other_percent")
    }
