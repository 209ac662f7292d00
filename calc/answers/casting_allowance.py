"""How the answer of `casting-allowance` is shown: pattern and casting, and the pattern by each book."""

from calc.answers.shapes import (
    WHY,
    Answer,
    Case,
    Fact,
    Row,
    Table,
    both,
    columns,
    empty_answer,
    fact,
    shown_unit,
    size_line,
    units_word,
)
from calc.catalogue.casting_allowance import CASTING_ALLOWANCE
from calc.kernel.casting_books import contraction_text
from calc.kernel.units import in_or_mm
from calc.kernel.wording import exact
from calc.sheets import Picture, SizeTable

BEWARE = {
    "one-or-both": "On one face, or on both",
    "already-included": "Contraction goes on once",
    "books-differ": "The books differ",
    "in-no-book": "In no book read here",
    "allowance-small": "Little is left to machine",
}
UNDER = "The pattern, by a contraction of {contraction} in to the foot, for a casting of {casting}."
BORE = "The core box, by a contraction of {contraction} in to the foot, for a bore cast to {casting}."


def answer(case: Case) -> Answer:
    """The box, the three sizes, the picture."""
    results, unit = case.results, shown_unit(case, "finished_size")
    main, other = both(exact(results["pattern_size_mm"]), unit, 3, 2)
    casting = " = ".join(both(exact(results["casting_size_mm"]), unit, 3, 2))
    under = BORE if case.inputs["surface"] == "bore" else UNDER
    shown = empty_answer(
        CASTING_ALLOWANCE.title_of(dict(case.inputs), case.readings),
        main,
        under.format(contraction=contraction_text(exact(results["contraction_in_ft"])), casting=casting),
        _facts(case),
    )
    shown["big_small"] = other
    shown["beware"] = [
        {"title": BEWARE[one["code"]], "text": one["text"]} for one in case.warnings if one["code"] in BEWARE
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in BEWARE]
    shown["sizes"] = _sizes(case)
    shown["pictures"] = [_picture(case)]
    shown["units"] = units_word(unit)
    shown["why"] = WHY
    return shown


def _facts(case: Case) -> list[Fact]:
    results, unit = case.results, shown_unit(case, "finished_size")
    facts = []
    if results["allowance_mm"] is not None:
        main, other = both(exact(results["allowance_mm"]), unit, 4, 2)
        figure, word = main.split(" ")
        facts.append(fact("Left on a face", figure, f"{word}, {other}"))
    if results["allowance_low_mm"] is not None:
        low, high = (in_or_mm(exact(results[f"allowance_{end}_mm"]), unit, 4 if unit == "inch" else 2)
                     for end in ("low", "high"))  # fmt: skip
        word = "in" if unit == "inch" else "mm"
        facts.append(fact("The table has", f"{low}–{high}", f"{word} on a face"))
    return facts


def _sizes(case: Case) -> SizeTable:
    results = case.results
    lines = []
    for label, name in (
        ("Casting", "casting_size_mm"), ("Pattern", "pattern_size_mm"),
        ("Pattern, allowance on one face", "pattern_one_face_mm"),
        ("Pattern, allowance on both faces", "pattern_both_faces_mm"),
    ):  # fmt: skip
        if results[name] is not None:
            lines.append(size_line(label, _both_cells(results[name])))
    lines.insert(0, size_line("Finished", _both_cells(float(case.inputs["finished_size"])), finished=True))
    return {"title": "Sizes", "note": "", "columns": ["in", "mm"], "lines": lines}


def _both_cells(mm: float) -> list[str]:
    return [in_or_mm(exact(mm), "inch", 3), in_or_mm(exact(mm), "mm", 2)]


def tables(case: Case) -> list[Table]:
    """A row to a book: its contraction, the pattern by it."""
    rows: list[Row] = []
    for row in case.results["contractions"]:
        title = f"{row['book'][:1].upper()}{row['book'][1:]}"
        cells = [title, row["contraction"], _span(row, "inch", 3), _span(row, "mm", 2)]
        rows.append({"id": "", "cells": cells, "is_chosen": False})
    return [
        {
            "key": "contractions", "title": "The pattern by each book",
            "note": "For the casting above. None is in use unless it was entered, or all agree.",
            "columns": columns("Book", "#Inches to the foot", "#Pattern, in", "#Pattern, mm"),
            "rows": rows, "may_choose": False,
        }
    ]  # fmt: skip


def _span(row: dict[str, float], unit: str, places: int) -> str:
    ends = [
        in_or_mm(exact(row[f"pattern_{end}_mm"]), "inch" if unit == "inch" else "mm", places)
        for end in ("low", "high")
    ]
    return ends[0] if ends[0] == ends[1] else "–".join(ends)


def _picture(case: Case) -> Picture:
    results = case.results
    return {
        "kind": "casting-sizes",
        "figures": {
            "finished": float(case.inputs["finished_size"]),
            "casting": float(results["casting_size_mm"]),
            "pattern": float(results["pattern_size_mm"]),
            "unit": shown_unit(case, "finished_size"),
        },
        "strong": "Finished, casting, pattern",
        "text": "drawn to scale",
        "wide": False,
    }
