"""Kernel room: indexing on a dividing head, plain, compound, differential and nearest."""

from collections.abc import Sequence
from fractions import Fraction

from calc.kernel.errors import NoSolution
from calc.kernel.indexing_cautions import cautions, no_plain_text, would_do
from calc.kernel.indexing_compound import compound_rows, compound_steps
from calc.kernel.indexing_differential import differential_rows, differential_steps
from calc.kernel.indexing_entries import ANGULAR, ARMY, Dividing, Row, dividing
from calc.kernel.indexing_plain import (
    TECHNICAL_COLLEGE,
    angle_step,
    direct_rows,
    direct_steps,
    move_steps,
    nearest_rows,
    nearest_steps,
    other_ratios,
    plain_rows,
    plain_steps,
)
from calc.kernel.working import Outcome, Step

SOURCE_KEYS = {ARMY: "od1644", ANGULAR: "mh1916", TECHNICAL_COLLEGE: "technical_college"}


def indexing(
    *,
    circles: Sequence[Sequence[int]],
    divisions: int | None = None,
    angle: Fraction | None = None,
    ratio: int = 40,
    change_gears: Sequence[int] | None = (),
    keep_quarter: str = "no",
    direct_circles: Sequence[int] | None = (),
) -> Outcome:
    """Crank turns and spaces that divide the work, by every method the head's plates and gears allow.

    Use the plain setting when there is one; compound and differential settings are exact as
    well, and the nearest ones say what they leave at the last space.

    Parameters
    ----------
    circles : sequence of faces, each a sequence of int
        Holes of each circle, face by face. [count] 2 to 1000, at most 100, at most 40 on one face
    divisions : int, optional
        Equal divisions round the work; this or the angle. [count] 2 to 10000
    angle : Fraction, optional
        Angle of one move; this or the divisions. [degree] 1/60 to 360
    ratio : int
        Turns of the crank for one turn of the spindle. [count] 1 to 360
    change_gears : sequence of int, optional
        Teeth of the gears owned, one listed twice is owned twice. [count] 8 to 400, at most 30
    keep_quarter : str
        ``yes`` lists only settings that give a quarter of the move as well. [-] no or yes
    direct_circles : sequence of int, optional
        Holes of each ring of the spindle's own plate. [count] 2 to 1000, at most 12

    Returns
    -------
    Outcome
        ``exact`` [-] whether anything is exact; ``divisions`` [count] and ``division_angle_deg``
        [degree]; ``plain``, ``direct``, ``compound``, ``differential`` and ``nearest`` [-], lists of
        settings, best first; ``missing_factor`` [count]; ``other_ratios`` [-], heads of another
        ratio on which these circles are plain.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or divisions and angle are both given, or neither.
    NoSolution
        Nothing is exact, and every circle misses by half a division or more.

    Notes
    -----
    Plain: turns + holes / circle = ratio / divisions = angle * ratio / 360, an exact fraction.
    Compound: holes_a / circle_a +- holes_b / circle_b makes the same, both circles on one face.
    Differential: plate turns for one of the work = ratio - divisions * (turns + holes / circle)
    = drivers / driven, in the same sense as the crank when above nought.
    At most 60 compound pairs are listed, those of one direction and of fewest holes first, and
    at most 16 differential settings, each on every circle that has it.
    Best first is the largest circle first: the larger the circle, the less an error of the pin
    counts. With a quarter asked for, ``missing_factor`` is the one a quarter needs.
    The rules of compound and differential settings are worked here; no page of them was read.

    Examples
    --------
    >>> indexing(divisions=6, circles=[[18], [39]]).results["plain"][0]["proof"]
    '6 × (6 + 26/39) = 40'

    Sources
    -------
    od1644, p. 30: plain indexing, circle and spaces.
    mh1916, angular indexing. technical_college, direct plate and angles.

    Checks
    ------
    od1644#divisions-6, od1644#divisions-42, mh1916#angle-35, technical_college#angle-19,
    trade_school#ratio-60-divisions-92, mh27#a-0.2050, derived#compound-57, derived#differential-57
    """
    task = dividing(
        divisions=divisions, angle=angle, ratio=ratio, circles=circles, change_gears=change_gears or (),
        keep_quarter=keep_quarter, direct_circles=direct_circles or (),
    )  # fmt: skip
    lists = _lists(task)
    exact = any(lists[method] for method in ("plain", "direct", "compound", "differential"))
    if not exact and not lists["nearest"]:
        raise NoSolution(
            no_plain_text(task) + " No setting comes within half a division.", would_do(task, lists)
        )
    results = {
        "exact": exact,
        "divisions": task.divisions,
        "division_angle_deg": float(task.angle),
        **lists,
        "missing_factor": None if lists["plain"] else task.finest.denominator,
    }
    working = tuple(_working(task, lists, exact=exact))
    keys = [SOURCE_KEYS[step.source] for step in working if step.source in SOURCE_KEYS]
    return Outcome(
        results=results,
        working=working,
        warnings=tuple(cautions(task, lists, exact=exact)),
        sources=tuple(dict.fromkeys(keys)),
    )


def _lists(task: Dividing) -> dict[str, list[Row] | None]:
    """The settings by each method; nearest ones and other heads only where no circle serves plainly."""
    plain = plain_rows(task)
    return {
        "plain": plain,
        "direct": direct_rows(task),
        "compound": compound_rows(task),
        "differential": differential_rows(task),
        "nearest": [] if plain else nearest_rows(task),
        "other_ratios": [] if plain else other_ratios(task),
    }


def _working(task: Dividing, lists: dict[str, list[Row] | None], *, exact: bool) -> list[Step]:
    """The lines of the best plain setting, or of the best by each other method where there is none."""
    steps = move_steps(task, lists["plain"] or [])
    if lists["plain"]:
        steps += plain_steps(task, lists["plain"][0])
    else:
        if lists["compound"]:
            steps += compound_steps(task, lists["compound"][0])
        if lists["differential"]:
            steps += differential_steps(task, lists["differential"][0])
        if lists["nearest"] and not exact:
            steps += nearest_steps(task, lists["nearest"][0])
    if lists["direct"]:
        steps += direct_steps(task, lists["direct"][0])
    if task.divisions is not None:
        steps.append(angle_step(task))
    return steps
