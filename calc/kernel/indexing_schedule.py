"""Kernel room: the schedule of an indexing setting, hole and angle for every division."""

from fractions import Fraction
from math import gcd

from calc.kernel.errors import OutOfRange
from calc.kernel.indexing_entries import CIRCLE, CIRCLE_REASON, RATIO, RATIO_REASON, Row, check_range
from calc.kernel.wording import bracketed, dms_text, mixed_text, move_sum, move_text
from calc.kernel.working import Caution, Outcome, Step, line

DIVISIONS = (2, 1000)
DIVISIONS_REASON = (
    "The schedule has a row for each division, and a thousand are more than are ever moved by hand."
)
TURNS = (0, 360)
TURNS_REASON = "They are the whole turns of the crank in one move."
HOLES_REASON = (
    "Whole turns are entered as turns; the spaces are what is left, one circle less one at the most."
)


def indexing_schedule(*, divisions: int, circle: int, holes: int, turns: int = 0, ratio: int = 40) -> Outcome:
    """Where the pin and the spindle stand at every division, to be followed with a finger while cutting.

    Parameters
    ----------
    divisions : int
        Equal divisions round the work. [count] 2 to 1000
    circle : int
        Holes of the circle in use. [count] 2 to 1000
    holes : int
        Spaces moved on the circle, besides the whole turns. [count] 0 to 999, less than the circle
    turns : int
        Whole turns of the crank in one move. [count] 0 to 360
    ratio : int
        Turns of the crank for one turn of the spindle. [count] 1 to 360

    Returns
    -------
    Outcome
        ``rows`` [-], one for each division: ``division`` [count], ``total_turns`` [count] of the crank
        since the start, ``total_turns_text`` [-] the same as whole turns and holes, ``hole`` [count] the
        pin is in, counted from its first, ``angle_deg`` [degree] of the spindle, ``home`` [-] whether
        the pin is in its first hole; ``home_every`` [count] moves between.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or the setting does not come round: after the last
        division the crank must have made the head's whole ratio, and the pin be at hole 0.

    Notes
    -----
    Before division n, n - 1 moves have been made: total_turns = (n - 1) * (turns + holes / circle),
    hole = (n - 1) * holes modulo circle, angle = total_turns * 360 / ratio.
    A move over several divisions at a time goes round more than once and is taken when it meets
    every division; the angle is then counted within one turn.

    Examples
    --------
    >>> indexing_schedule(divisions=84, circle=42, holes=20).results["rows"][50]["hole"]
    34

    Sources
    -------
    derived, no page: the pin is followed in exact fractions.

    Checks
    ------
    derived#schedule-84
    """
    check_range("divisions", divisions, DIVISIONS, DIVISIONS_REASON)
    check_range("ratio", ratio, RATIO, RATIO_REASON)
    check_range("circle", circle, CIRCLE, CIRCLE_REASON)
    check_range("turns", turns, TURNS, TURNS_REASON)
    check_range("holes", holes, (0, circle - 1), HOLES_REASON)
    move = turns + Fraction(holes, circle)
    rounds = _rounds(divisions, ratio, circle, move)
    rows = [_row(place, move, circle, ratio) for place in range(divisions)]
    return Outcome(
        results={"rows": rows, "home_every": circle // gcd(circle, holes)},
        working=_working(divisions, ratio, circle, turns, holes, rounds),
        warnings=_cautions(rounds),
        sources=(),
    )


def _row(moves: int, move: Fraction, circle: int, ratio: int) -> Row:
    total = moves * move
    whole, part = divmod(total, 1)
    hole = int(part * circle)
    words = f"{whole} {hole}/{circle}" if whole and hole else f"{hole}/{circle}" if hole else str(whole)
    return {
        "division": moves + 1,
        "total_turns": int(total) if total.denominator == 1 else float(total),
        "total_turns_text": words,
        "hole": hole,
        "angle_deg": float(total * 360 / ratio % 360),
        "home": hole == 0,
    }


def _rounds(divisions: int, ratio: int, circle: int, move: Fraction) -> int:
    """Turns of the spindle that all the moves make; refuses a setting that does not meet every division."""
    total = divisions * move
    rounds = total / ratio
    if move and rounds.denominator == 1 and gcd(int(rounds), divisions) == 1:
        return int(rounds)
    wanted = Fraction(ratio, divisions)
    if circle % wanted.denominator:
        offer = f"A circle that divides by {wanted.denominator} would do."
    else:
        turns, holes = divmod(int(wanted * circle), circle)
        offer = f"{move_text(turns, holes, circle)} would do."
    raise OutOfRange(
        "holes",
        f"{divisions} moves must make {ratio} turns of the crank",
        f"these make {mixed_text(total)}, so the row after the last is not back at the start. {offer}",
    )


def _cautions(rounds: int) -> tuple[Caution, ...]:
    if rounds == 1:
        return ()
    return (
        Caution(
            code="several-at-a-time",
            text=f"Each move passes {rounds} divisions: the work goes round {rounds} times in all.",
        ),
    )


def _working(
    divisions: int, ratio: int, circle: int, turns: int, holes: int, rounds: int
) -> tuple[Step, ...]:
    moved = move_sum(turns, holes, circle)
    move = turns + Fraction(holes, circle)
    return (
        line(
            "Turns of the crank for one move",
            "whole turns + spaces / circle",
            moved,
            mixed_text(move),
            "turn",
        ),
        line(
            "Proof: crank turns of all the moves",
            "divisions × (whole turns + spaces / circle)",
            f"{divisions} × {bracketed(moved)}",
            str(ratio * rounds),
            "turns",
        ),
        line(
            "Pin back in its first hole",
            "circle / gcd(spaces, circle)",
            f"{circle} / gcd({holes}, {circle})",
            str(circle // gcd(circle, holes)),
            "moves",
        ),
        line(
            "Angle of one move",
            "360 × (whole turns + spaces / circle) / ratio",
            f"360 × {bracketed(moved)} / {ratio}",
            dms_text(360 * move / ratio),
        ),
    )
