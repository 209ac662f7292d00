"""Kernel room: what the builder must know about an indexing answer before cutting."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from calc.kernel.indexing_differential import sense_text
from calc.kernel.indexing_entries import Dividing, Row
from calc.kernel.wording import decimal_text, dms_text, exact_float, mixed_text, move_text
from calc.kernel.working import Caution

Lists = Mapping[str, list[Row] | None]

#: Settings with gears that are warned of one by one; every row says itself what it makes without.
GEARS_NAMED = 3
#: The commonest head, and the one it is most often taken for.
OTHER_HEADS = (40, 60)


def no_plain_text(task: Dividing) -> str:
    """That no circle serves plainly, and which would."""
    factor = task.finest.denominator
    if task.quarter and any(circle % task.move.denominator == 0 for circle in task.circles):
        return (
            "No plain setting with these circles gives a quarter of the move as well: "
            f"it wants a circle that divides by {factor}. You own none."
        )
    return f"No plain setting with these circles: it wants a circle that divides by {factor}. You own none."


def would_do(task: Dividing, lists: Lists) -> list[str]:
    """What would make a plain answer: a circle, or another head."""
    factor = task.finest.denominator
    heads = [f"A head of {row['ratio']} to 1: {_moved(row)}." for row in lists["other_ratios"] or ()]
    return [f"A circle of {factor} holes, or of any number that divides by {factor}.", *heads]


def _moved(row: Row) -> str:
    return move_text(row["turns"], row["holes"], row["circle"])


def cautions(task: Dividing, lists: Lists, *, exact: bool) -> Iterator[Caution]:
    """Every caution the answer needs, the weightiest first."""
    if lists["plain"]:
        yield _of_head(task, lists["plain"][0])
        return
    yield Caution(code="no-plain", text=no_plain_text(task))
    others = lists["other_ratios"]
    if others:
        words = ", ".join(f"{row['ratio']} to 1: {_moved(row)}" for row in others)
        yield Caution(code="other-ratio", text=f"On another head these circles are plain: {words}.")
    if lists["differential"]:
        yield from _of_gears(task, lists["differential"])
    if lists["compound"]:
        yield _of_compound(lists["compound"][0])
    if not exact and lists["nearest"]:
        yield _of_nearest(task, lists["nearest"][0])


def _of_head(task: Dividing, row: Row) -> Caution:
    """What the same move makes on another head: no plate shows which head it is on."""
    other = next(ratio for ratio in OTHER_HEADS if ratio != task.ratio)
    if task.divisions is None:
        made = f"turns the work {dms_text(task.angle * task.ratio / other)}"
    else:
        made = f"makes {mixed_text(Fraction(task.divisions * other, task.ratio))} divisions"
    return Caution(
        code="head-ratio",
        text=(
            f"Worked for a head of {task.ratio} to 1; on one of {other} to 1, {_moved(row)} {made}. Count "
            "the turns of the crank for one turn of the spindle once, and write them on the head."
        ),
    )


def _of_gears(task: Dividing, rows: list[Row]) -> Iterator[Caution]:
    """What each setting makes with the gears left off, and the first with the plate turning the wrong way."""
    first_of: dict[str, Row] = {}
    for row in rows:
        first_of.setdefault(str(row["works_as_divisions"]), row)
    for made, row in list(first_of.items())[:GEARS_NAMED]:
        text = f"{_moved(row)} without the gears makes {made}, not {task.divisions}."
        yield Caution(code="without-gears", text=text)
    wrong = rows[0]["wrong_way_divisions"]
    yield Caution(
        code="plate-sense",
        text=(
            f"For {_moved(rows[0])} the plate turns {sense_text(rows[0])}; the other way it makes {wrong}. "
            "How many idlers it takes depends on the head: turn the crank and look before cutting."
        ),
    )
    yield Caution(
        code="geared-head",
        text=(
            "With the gears on, the head stands level, no spiral can be milled, and the plate’s stop pin "
            "must be out (common practice, no source)."
        ),
    )


def _of_compound(row: Row) -> Caution:
    sense = "the same way" if row["same_direction"] else "the other way"
    return Caution(
        code="compound-two-moves",
        text=(
            f"Compound: each division is two moves on one face, {row['holes_a']} in {row['circle_a']} and "
            f"then {row['holes_b']} in {row['circle_b']} {sense}. One left out or turned the wrong way "
            "spoils the work."
        ),
    )


def _of_nearest(task: Dividing, row: Row) -> Caution:
    size = abs(exact_float(row["error_arcsec"]))
    error = decimal_text(size, 1 if size >= 1 else 2)
    way = "long" if row["error_arcsec"] > 0 else "short"
    text = f"Nothing exact with what is entered. Nearest is {_moved(row)}: each move is {error}″ {way}"
    if row["closing_error_arcsec"] is None:
        return Caution(code="nearest-only", text=f"{text}.")
    closing = exact_float(row["closing_error_arcsec"]) / 3600
    wide = "narrower" if closing > 0 else "wider"
    text = f"{text}, and the last space {dms_text(abs(closing))} {wide} than the others."
    if 2 * abs(closing) > task.angle:
        text += (
            f" It makes {row['works_as_divisions']}, not {task.divisions}: no use for work that must close."
        )
    return Caution(code="nearest-only", text=text)
