"""Kernel room: compound indexing, one move as two on two circles of one face."""

from collections.abc import Iterator
from fractions import Fraction
from heapq import nsmallest
from itertools import chain, combinations, islice
from math import gcd

from calc.kernel.indexing_entries import Dividing, Row
from calc.kernel.wording import mixed_text
from calc.kernel.working import Step, line

#: Rows kept of one pair of circles: more than any pair of a usual plate has, and an end to odd entries.
ROWS_OF_A_PAIR = 30
ROWS = 60

#: first circle and holes, second circle and holes, same direction, face
Pair = tuple[int, int, int, int, bool, int]


def compound_rows(task: Dividing) -> list[Row]:
    """Exact pairs of moves on one face: both the same way first, then the fewest holes to count."""
    found: dict[tuple[int, int, int, int, bool], Pair] = {}
    for place, face in enumerate(task.faces, 1):
        for circle_a, circle_b in combinations(sorted(set(face)), 2):
            for pair in _pairs(task.finest, circle_a, circle_b, place):
                found.setdefault(pair[:5], pair)
    return [_row(task, pair) for pair in nsmallest(ROWS, found.values(), key=_order)]


def _order(pair: Pair) -> tuple[bool, int, int, int]:
    circle_a, holes_a, circle_b, holes_b, same, _ = pair
    return not same, holes_a + holes_b, -circle_a - circle_b, circle_a


def _row(task: Dividing, pair: Pair) -> Row:
    circle_a, holes_a, circle_b, holes_b, same, face = pair
    parts = 4 if task.quarter else 1
    row: Row = {
        "circle_a": circle_a,
        "holes_a": holes_a * parts,
        "circle_b": circle_b,
        "holes_b": holes_b * parts,
        "same_direction": same,
        "face": face,
    }
    if task.quarter:
        row |= {"quarter_holes_a": holes_a, "quarter_holes_b": holes_b}
    return row


def _pairs(move: Fraction, circle_a: int, circle_b: int, face: int) -> Iterator[Pair]:
    """Every pair of holes on two circles that makes the move, each once.

    With L the least common multiple, ``x/a + y/b = move`` is ``x·(L/a) + y·(L/b) = move·L``, which has
    answers only when ``move·L`` is whole; then y is fixed but for multiples of a over the common factor.
    A second move of a whole turn or more, or a first one longer than the whole turns of the move and one
    more, comes back to the same holes as a shorter pair and is not listed.
    """
    common = gcd(circle_a, circle_b)
    per_a, per_b = circle_b // common, circle_a // common
    if (circle_a * per_a) % move.denominator:
        return
    total = int(move * circle_a * per_a)
    first = (total * pow(per_b, -1, per_a) - 1) % per_a + 1 if per_a > 1 else 1
    reach = int(move) + 1
    beyond = max(circle_b, int(move * circle_b) + 1)
    beyond += (first - beyond) % per_a
    seconds = chain(
        islice(range(first, circle_b, per_a), ROWS_OF_A_PAIR),
        islice(range(first - per_a, -circle_b, -per_a), ROWS_OF_A_PAIR),
        islice(range(beyond, circle_b * reach, per_a), ROWS_OF_A_PAIR),
    )
    for holes_b in seconds:
        holes_a = (total - holes_b * per_b) // per_a
        pair = _signed_pair(circle_a, holes_a, circle_b, holes_b, reach)
        if pair is not None:
            yield (*pair, face)


def _signed_pair(
    circle_a: int, holes_a: int, circle_b: int, holes_b: int, reach: int
) -> tuple[int, int, int, int, bool] | None:
    """The pair with the forward move first and counts above nought; None when one of them is whole turns."""
    if holes_a % circle_a == 0 or holes_b % circle_b == 0:
        return None
    if holes_a > 0 and holes_b > 0:
        return circle_a, holes_a, circle_b, holes_b, True
    if holes_a > 0:
        return (circle_a, holes_a, circle_b, -holes_b, False) if holes_a < circle_a * reach else None
    within = -holes_a < circle_a and holes_b < circle_b * reach
    return (circle_b, holes_b, circle_a, -holes_a, False) if within else None


def compound_steps(task: Dividing, row: Row) -> list[Step]:
    """The lines of a compound setting: what the two moves come to, and the proof."""
    sign = "+" if row["same_direction"] else "−"
    figures = f"{row['holes_a']}/{row['circle_a']} {sign} {row['holes_b']}/{row['circle_b']}"
    formula = f"first spaces / first circle {sign} second spaces / second circle"
    steps = [
        line(
            "Compound: the two moves together, in crank turns",
            formula,
            figures,
            mixed_text(task.move),
            unit="turn",
        )
    ]
    if task.divisions is not None:
        steps.append(
            line(
                "Proof: crank turns for one turn of the work",
                f"divisions × ({formula})",
                f"{task.divisions} × ({figures})",
                str(task.ratio),
                unit="turns, as the head",
            )
        )
    return steps
