"""What a kept sum of dividing puts on a work card: figures worked to, proof, tally, picture."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import gcd
from typing import Any

from calc.answers import indexing
from calc.answers.card_shapes import (
    CUTTER_CAUTION,
    TOLD_BY_THE_TALLY,
    Asked,
    CardSum,
    Role,
    Typed,
    two_places,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.indexing_words import arcsec, gear_words, gears
from calc.answers.shapes import Answer, Case, plate_picture
from calc.kernel.indexing_differential import sense_text
from calc.kernel.wording import bracketed, dms_text, mixed_text, move_sum, move_text
from calc.models import CalculationRecord
from calc.sheets import BigFigure, PlatePicture, Say, Tally, TallyRow, home_line, row_ends, tally_note

KIND = "dividing"
WORDS = "dividing"
ROLE: Role = "dividing"
ASKS: frozenset[Asked] = frozenset()
Row = Mapping[str, Any]
#: A kept angle is a decimal; the fraction of a degree that was typed has a lesser denominator than this.
ANGLE_PARTS = 1_000_000


@dataclass(frozen=True, slots=True)
class _Asked:
    """What was asked of the head; `count` is None where the angle does not go into a turn."""

    count: int | None
    angle: Fraction  # of one move, degrees
    ratio: int


def unit_of(_record: CalculationRecord) -> None:
    """Counts and degrees alone."""


def share(record: CalculationRecord, _typed: Typed) -> CardSum:
    """The card's share of a kept sum, from what was kept and the row that was chosen."""
    answer, found = record.context["answer"], _row_in_use(record)
    if found is None:
        return _no_setting(record, answer)
    method, row = found
    asked = _asked(record)
    work = f"{asked.count} divisions" if asked.count else f"moves of {dms_text(asked.angle)}"
    one: BigFigure = {
        "label": "One division" if asked.count else "One move",
        "value": dms_text(asked.angle),
        "rank": TOLD_BY_THE_TALLY + 1,
    }
    made = empty_share(KIND, work, f"Divide: {work}", ROLE)
    made |= {
        "count": asked.count,
        "head": "" if method == "direct" else f"{asked.ratio} : 1",
        "figures": [*_FIGURES[method](row), one],
        "proof": _proof(asked, method, row),
        "notes": _NOTES[method](row) if method in _NOTES else [],
        "plate": _picture(answer),
        "tally": _tally(asked, asked.count, method, row) if asked.count else None,
        "stops": "pin home, end of a round" if method in ("plain", "direct") else "end of a round",
        "cautions": [CUTTER_CAUTION],
    }
    return made


def _row_in_use(record: CalculationRecord) -> tuple[str, dict[str, Any]] | None:
    if record.key == "indexing-schedule":
        return "plain", record.inputs
    chosen = record.context.get("chosen")
    return indexing.row_in_use(Case(inputs=record.inputs, results=record.results, chosen=chosen))


def _no_setting(record: CalculationRecord, answer: Answer) -> CardSum:
    work = record.title.removeprefix("Indexing, ")
    made = empty_share(KIND, work, f"Divide: {work}", ROLE)
    made |= {
        "count": record.inputs.get("divisions"),
        "head": f"{record.inputs['ratio']} : 1",
        "proof": {"strong": f"{answer['big']}.", "text": answer["under"]},
        "cautions": [CUTTER_CAUTION],
    }
    return made


def _asked(record: CalculationRecord) -> _Asked:
    inputs, results = record.inputs, record.results
    count = inputs.get("divisions") or results.get("divisions")
    angle = Fraction(360, count) if count else Fraction(inputs["angle"]).limit_denominator(ANGLE_PARTS)
    return _Asked(count, angle, int(inputs["ratio"]))


# ---- figures worked to -----------------------------------------------------------------------------------


def _plain(row: Row) -> list[BigFigure]:
    return [
        {
            "label": "Index, turn one way only",
            "value": move_text(row["turns"], row["holes"], row["circle"]),
            "wide": bool(row["turns"] and row["holes"]),
        },
        _arms(row),
        _pin_home(_home(row)),
    ]


def _direct(row: Row) -> list[BigFigure]:
    home = row["circle"] // gcd(row["circle"], row["holes"])
    return [
        {"label": "Direct plate, worm out", "value": f"{row['holes']} in {row['circle']}"},
        _pin_home(home),
    ]


def _pin_home(moves: int) -> BigFigure:
    unit = "moves" if moves > 1 else "move"
    return {"label": "Pin home every", "value": str(moves), "unit": unit, "rank": TOLD_BY_THE_TALLY}


def _compound(row: Row) -> list[BigFigure]:
    way = "same way" if row["same_direction"] else "OTHER way"
    return [
        {"label": "First, crank", "value": f"{row['holes_a']} in {row['circle_a']}"},
        {"label": f"Then plate and crank, {way}", "value": f"{row['holes_b']} in {row['circle_b']}"},
    ]


def _differential(row: Row) -> list[BigFigure]:
    return [
        {
            "label": "Index, turn one way only",
            "value": move_text(row["turns"], row["holes"], row["circle"]),
            "wide": bool(row["turns"] and row["holes"]),
        },
        _arms(row),
        {"label": "Change gears, drivers / driven", "value": gears(row), "wide": len(row["drivers"]) > 1},
        {"label": "Plate turns", "value": sense_text(row).split()[0], "unit": "the crank"},
    ]


_FIGURES: dict[str, Callable[[Row], list[BigFigure]]] = {
    "plain": _plain,
    "nearest": _plain,
    "direct": _direct,
    "compound": _compound,
    "differential": _differential,
}


def _arms(row: Row) -> BigFigure:
    if not row["holes"]:
        return {"label": "Sector arms", "value": "none", "unit": "same hole each time"}
    return {"label": "Sector arms, pin’s hole counted", "value": str(row["holes"] + 1), "unit": "holes"}


def _home(row: Row) -> int:
    return int(row["circle"]) // gcd(int(row["circle"]), int(row["holes"]))


# ---- proof and notes -------------------------------------------------------------------------------------


def _proof(asked: _Asked, method: str, row: Row) -> Say:
    count = asked.count
    witness = (
        f"First mark every one lightly and count {count}. Tick each cut."
        if count
        else "Check the first move."
    )
    said = "Not exact" if method == "nearest" else "Proof"
    return {"strong": f"{said}: {_PROOFS.get(method, _plain_proof)(asked, row)}.", "text": witness}


def _plain_proof(asked: _Asked, row: Row) -> str:
    move, turns = bracketed(move_sum(row["turns"], row["holes"], row["circle"])), _turns(row)
    if asked.count:
        return f"{asked.count} × {move} = {mixed_text(asked.count * turns)}"
    return f"{move} × 360/{asked.ratio} = {mixed_text(turns * 360 / asked.ratio)}°"


def _direct_proof(asked: _Asked, row: Row) -> str:
    if asked.count:
        return f"{asked.count} × {row['holes']} = {asked.count * row['holes']} holes"
    angle = Fraction(row["holes"], row["circle"]) * 360
    return f"{row['holes']}/{row['circle']} × 360 = {mixed_text(angle)}°"


def _compound_proof(asked: _Asked, row: Row) -> str:
    sign = "+" if row["same_direction"] else "−"
    one = f"{row['holes_a']}/{row['circle_a']} {sign} {row['holes_b']}/{row['circle_b']}"
    return f"{one} = {mixed_text(asked.ratio * asked.angle / 360)} turn"


def _differential_proof(asked: _Asked, row: Row) -> str:
    move = bracketed(move_sum(row["turns"], row["holes"], row["circle"]))
    plate = mixed_text(asked.ratio - (asked.count or 0) * _turns(row)).replace("-", "−")
    return f"{asked.ratio} − {asked.count} × {move} = {plate}, the plate’s turns"


_PROOFS: dict[str, Callable[[_Asked, Row], str]] = {
    "direct": _direct_proof,
    "compound": _compound_proof,
    "differential": _differential_proof,
}


def _turns(row: Row) -> Fraction:
    """The crank turns of one move, exactly."""
    return int(row["turns"]) + Fraction(row["holes"], row["circle"])


def _differential_notes(row: Row) -> list[Say]:
    return [
        {"strong": f"Without the gears this makes {row['works_as_divisions']}.", "text": gear_words(row)},
        {"strong": "The plate’s stop pin is out.", "text": "See which way the plate turns before cutting."},
    ]


def _nearest_notes(row: Row) -> list[Say]:
    if row["closing_error_arcsec"] is None:
        way = "far" if row["error_arcsec"] > 0 else "short"
        return [{"strong": f"Each move is {arcsec(row['error_arcsec'])} too {way}.", "text": ""}]
    closing = dms_text(abs(Fraction(str(row["closing_error_arcsec"])) / 3600))
    way = "shorter" if float(row["closing_error_arcsec"]) > 0 else "longer"
    return [{"strong": f"The last space is {closing} {way} than the others.", "text": ""}]


def _compound_notes(_: Row) -> list[Say]:
    return [
        {"strong": "Two moves to every division.", "text": "Easily one is left out: tick after the second."}
    ]


_NOTES: dict[str, Callable[[Row], list[Say]]] = {
    "differential": _differential_notes,
    "nearest": _nearest_notes,
    "compound": _compound_notes,
}


# ---- picture and tally -----------------------------------------------------------------------------------


def _picture(answer: Answer) -> PlatePicture | None:
    plate = answer["plate"]
    if plate is None:
        return None
    moved, second = plate["spaces"], plate["second"]
    arms = f", {plate['sector_holes']} holes" if plate["sector_holes"] else ""
    caption = f"{moved} space{'' if moved == 1 else 's'}{arms}"
    if not moved:
        caption = "whole turns, same hole"
    if second:
        caption = f"{moved} in {plate['circle']}, then {abs(second['spaces'])} in {second['circle']}"
    return {**plate_picture(plate), "caption": caption}


def _tally(asked: _Asked, count: int, method: str, row: Row) -> Tally:
    ends = row_ends(count)
    if method in ("plain", "direct", "nearest"):
        one = int(row.get("turns", 0)) * int(row["circle"]) + int(row["holes"])
        holes = [str(end * one % row["circle"]) for end in ends]
        home = list(range(_home(row), count + 1, _home(row)))
        line = home_line(home)
    else:
        holes, home = ["" for _ in ends], []
        line = {"strong": "Watch the spindle’s own degrees after each row.", "text": ""}
    # A setting that is not exact makes another angle than the one wanted.
    each = _turns(row) * 360 / asked.ratio if method == "nearest" else asked.angle
    rows: list[TallyRow] = [
        {"hole": hole, "angle": f"{two_places(end * each)}°"} for end, hole in zip(ends, holes, strict=True)
    ]
    return {
        "count": count,
        "home": home,
        "rows": rows,
        "note": tally_note(count),
        "home_line": line,
        "passes": 3,
    }
