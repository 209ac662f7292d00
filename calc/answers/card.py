"""What a kept sum of dividing puts on a work card: figures worked to, proof, tally, picture."""

from collections.abc import Callable, Mapping
from fractions import Fraction
from math import gcd
from typing import Any, TypedDict

from calc.answers import indexing
from calc.answers.indexing_words import gear_words, gears
from calc.answers.shapes import Answer, Case, plate_picture
from calc.kernel.indexing_differential import sense_text
from calc.kernel.wording import bracketed, decimal_text, dms_text, mixed_text, move_sum
from calc.models import CalculationRecord
from calc.sheets import BigFigure, PlatePicture, Say, Tally, TallyRow, home_line, row_ends, tally_note

Row = Mapping[str, Any]


class CardSum(TypedDict):
    """The part of a card that its sum fills; every text is as it is printed."""

    work: str  # "84 divisions"
    head: str  # "40 : 1"
    figures: list[BigFigure]
    proof: Say | None
    notes: list[Say]
    plate: PlatePicture | None
    tally: Tally | None
    stops: str


def card_sum(record: CalculationRecord) -> CardSum:
    """The card's share of a kept sum, from what was kept and the row that was chosen."""
    inputs, answer = record.inputs, record.context["answer"]
    found = _row_in_use(record)
    if found is None:
        return _no_setting(record, answer)
    method, row = found
    count = _count(inputs)
    return {
        "work": f"{count} divisions" if count else f"moves of {dms_text(_angle(inputs))}",
        "head": "direct plate" if method == "direct" else f"{inputs['ratio']} : 1",
        "figures": [*_FIGURES[method](row), {"label": "One division", "value": dms_text(_angle(inputs))}],
        "proof": _proof(count, inputs, method, row),
        "notes": _NOTES[method](row) if method in _NOTES else [],
        "plate": _picture(answer),
        "tally": _tally(count, method, inputs, row) if count else None,
        "stops": "pin home, end of a round" if method in ("plain", "direct") else "end of a round",
    }


def _row_in_use(record: CalculationRecord) -> tuple[str, dict[str, Any]] | None:
    if record.key == "indexing-schedule":
        return "plain", record.inputs
    chosen = record.context.get("chosen")
    return indexing.row_in_use(Case(inputs=record.inputs, results=record.results, chosen=chosen))


def _no_setting(record: CalculationRecord, answer: Answer) -> CardSum:
    return {
        "work": record.title,
        "head": f"{record.inputs['ratio']} : 1",
        "figures": [],
        "proof": {"strong": f"{answer['big']}.", "text": answer["under"]},
        "notes": [],
        "plate": None,
        "tally": None,
        "stops": "",
    }


def _count(inputs: Row) -> int | None:
    """The number of divisions, also where a move that goes a whole number of times round was asked for."""
    if inputs.get("divisions"):
        return int(inputs["divisions"])
    round_about = 360 / Fraction(str(inputs["angle"]))
    return int(round_about) if round_about.denominator == 1 else None


# ---- figures worked to -----------------------------------------------------------------------------------


def _plain(row: Row) -> list[BigFigure]:
    return [
        {
            "label": "Index, turn one way only",
            "value": _move(row),
            "wide": bool(row["turns"] and row["holes"]),
        },
        _arms(row),
        {"label": "Pin home every", "value": str(_home(row)), "unit": "moves" if _home(row) > 1 else "move"},
    ]


def _direct(row: Row) -> list[BigFigure]:
    home = row["circle"] // gcd(row["circle"], row["holes"])
    return [
        {"label": "Direct plate, worm out", "value": f"{row['holes']} in {row['circle']}"},
        {"label": "Pin home every", "value": str(home), "unit": "moves" if home > 1 else "move"},
    ]


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
            "value": _move(row),
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


def _move(row: Row) -> str:
    turns, holes = row["turns"], row["holes"]
    whole = f"{turns} turn{'' if turns == 1 else 's'}"
    if not holes:
        return whole
    return f"{whole} + {holes} in {row['circle']}" if turns else f"{holes} in {row['circle']}"


def _arms(row: Row) -> BigFigure:
    if not row["holes"]:
        return {"label": "Sector arms", "value": "none", "unit": "same hole each time"}
    return {"label": "Sector arms, pin’s hole counted", "value": str(row["holes"] + 1), "unit": "holes"}


def _home(row: Row) -> int:
    return int(row["circle"]) // gcd(int(row["circle"]), int(row["holes"]))


# ---- proof and notes -------------------------------------------------------------------------------------


def _proof(count: int | None, inputs: Row, method: str, row: Row) -> Say:
    witness = (
        f"First mark every one lightly and count {count}. Tick each cut."
        if count
        else "Check the first move."
    )
    if method == "compound":
        sign = "+" if row["same_direction"] else "−"
        one = f"{row['holes_a']}/{row['circle_a']} {sign} {row['holes_b']}/{row['circle_b']}"
        wanted = Fraction(int(inputs["ratio"])) * _angle(inputs) / 360
        return {"strong": f"Proof: {one} = {mixed_text(wanted)} turn.", "text": witness}
    if method == "direct":
        return {"strong": f"Proof: {count} × {row['holes']} = {row['circle']} holes.", "text": witness}
    move = bracketed(move_sum(row["turns"], row["holes"], row["circle"]))
    if method == "differential":
        e = mixed_text(
            int(inputs["ratio"]) - (count or 0) * (row["turns"] + Fraction(row["holes"], row["circle"]))
        )
        return {
            "strong": f"Proof: {inputs['ratio']} − {count} × {move} = {e}, the plate’s turns.",
            "text": witness,
        }
    total = (row["turns"] + Fraction(row["holes"], row["circle"])) * (count or 1)
    said = "Proof" if method == "plain" else "Not exact"
    return {"strong": f"{said}: {count or 1} × {move} = {mixed_text(total)}.", "text": witness}


def _angle(inputs: Row) -> Fraction:
    """The angle of one move. [deg]"""
    return Fraction(str(inputs["angle"])) if inputs.get("angle") else Fraction(360, int(inputs["divisions"]))


def _differential_notes(row: Row) -> list[Say]:
    return [
        {"strong": f"Without the gears this makes {row['works_as_divisions']}.", "text": gear_words(row)},
    ]


def _nearest_notes(row: Row) -> list[Say]:
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
    if second:
        caption = f"{moved} in {plate['circle']}, then {abs(second['spaces'])} in {second['circle']}"
    return {**plate_picture(plate), "caption": caption}


def _tally(count: int, method: str, inputs: Row, row: Row) -> Tally:
    ends = row_ends(count)
    if method in ("plain", "direct", "nearest"):
        one = int(row.get("turns", 0)) * int(row["circle"]) + int(row["holes"])
        holes = [str(end * one % row["circle"]) for end in ends]
        home = list(range(_home(row), count + 1, _home(row)))
        line = home_line(home)
    else:
        holes, home = ["" for _ in ends], []
        line = {"strong": "Watch the spindle’s own degrees after each row.", "text": ""}
    each = _made_angle(inputs, row) if method == "nearest" else _angle(inputs)
    rows: list[TallyRow] = [
        {"hole": hole, "angle": f"{_two_places(end * each)}°"} for end, hole in zip(ends, holes, strict=True)
    ]
    return {
        "count": count,
        "home": home,
        "rows": rows,
        "note": tally_note(count),
        "home_line": line,
        "passes": 3,
    }


def _made_angle(inputs: Row, row: Row) -> Fraction:
    """The angle one move really makes, where the setting is not exact. [deg]"""
    turns = Fraction(row["holes"], row["circle"]) + int(row["turns"])
    return turns * 360 / int(inputs["ratio"])


def _two_places(value: Fraction) -> str:
    whole, _, places = decimal_text(value, 2).partition(".")
    return f"{whole}.{places:0<2}"
