"""The one dictionary of a sum: the page and the printed paper are drawn from it."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.utils import timezone

from calc import pictures, registry
from calc.answers.shapes import Answer, Table, plate_picture
from calc.comparing import labels_of
from calc.models import CalculationRecord
from calc.runs import Run, answer_of, as_json, tables_of
from calc.sheets import STATEMENT, EntryLine, PrintedTable, Schedule, SumSheet, TitleBlock, Warned


def sheet(
    found: Run | CalculationRecord,
    *,
    context: Mapping[str, Any] | None = None,
    build: str = "",
    by: str = "",
    at: datetime | None = None,
) -> SumSheet:
    """All that is shown of a sum, worded.

    Of a record it holds what was kept; a run that is not kept yet wants the page's context, the name of
    the build, who asks, and the time.
    """
    worked, answer = as_json(found), answer_of(found, context)
    block = _title_block(found, answer, build, by, at)
    plate, tables = answer["plate"], tables_of(found, context)
    return {
        "title": block["title"],
        "part": _part(found),
        "kept": _kept(found, block),
        "answer_label": answer["over"],
        "answer": answer["big"],
        "answer_small": answer.get("big_small", ""),
        "answer_note": answer["under"],
        "facts": [
            {"label": one["label"], "value": f"{one['value']} {one['small']}".strip()}
            for one in answer["facts"][: 6 if answer.get("pictures") else 4]
        ],
        "entries": _entries(found),
        "plate": plate_picture(answer["plate"]) if answer["plate"] else None,
        "plate_caption": f"{plate['name'] or 'The plate'}, from the front; drawn to scale" if plate else "",
        "pictures": answer.get("pictures", []),
        "sizes": answer.get("sizes"),
        "warnings": _warned(answer),
        "working": worked["working"],
        "schedule": _schedule(answer, tables),
        "tables": _others(tables),
        "sources": [{"title": one["title"], "edition": _edition(one)} for one in worked["sources"]],
        "statement": STATEMENT,
        "title_block": block,
    }


def _part(found: Run | CalculationRecord) -> str:
    """The part as it was called when the sum was kept."""
    if isinstance(found, Run) or not found.part_id:
        return ""
    was = found.context["part"]
    return f"{was['key']} {was['name']}"


def _kept(found: Run | CalculationRecord, block: TitleBlock) -> str:
    if isinstance(found, Run):
        return ""
    return f"Sum {found.pk}, revision {found.revision}, kept {block['date']} by {block['by']}"


def _warned(answer: Answer) -> list[Warned]:
    beware: list[Warned] = [
        {"code": "beware", "text": f"{one['title']}. {one['text']}"} for one in answer["beware"]
    ]
    notes: list[Warned] = [{"code": "note", "text": text} for text in answer["notes"]]
    return beware + notes


def _title_block(
    found: Run | CalculationRecord, answer: Answer, build: str, by: str, at: datetime | None
) -> TitleBlock:
    block: TitleBlock = {
        "build": build or "—",
        "kind": "Calculation, not kept",
        "number": "—",
        "title": "",
        "scale": "to scale" if answer["plate"] else pictures.scale_of(answer.get("pictures", [])),
        "date": _date(at or timezone.now()),
        "issue": "",
        "units": answer.get("units", "counts, degrees"),
        "by": by or "—",
    }
    if isinstance(found, Run):
        return block | {
            "title": found.calculation.title_of(found.inputs, found.readings),
            "issue": f"rule {found.calculation.revision}",
        }
    return block | {
        "build": build or (found.part.build.scale_text if found.part else "—"),
        "kind": "Calculation record",
        "number": str(found.pk),
        "title": found.title,
        "date": _date(found.made_at),
        "issue": f"rule {found.revision}",
        "by": found.made_by.get_username() if found.made_by else "—",
    }


def _date(moment: datetime) -> str:
    """`28 Nov 2025`, the day where the site stands."""
    local = timezone.localtime(moment)
    return f"{local.day} {local:%b %Y}"


def _entries(found: Run | CalculationRecord) -> list[EntryLine]:
    key = found.calculation.key if isinstance(found, Run) else found.key
    labels, choices = labels_of(key), _choices_of(key)
    return [
        _entry(labels.get(name, name), typed, read, is_choice=name in choices)
        for name in dict.fromkeys([*found.entered, *found.readings])
        for typed, read in [(found.entered.get(name, ""), found.readings.get(name, ""))]
    ]


def _choices_of(key: str) -> set[str]:
    calculation = registry.get(key)
    return {one.name for one in calculation.inputs if one.kind == "choice"} if calculation else set()


def _entry(label: str, typed: str, read: str, *, is_choice: bool) -> EntryLine:
    """A choice is shown by its words: what is kept as typed is its name among the choices."""
    if is_choice and typed and read:
        return {"label": label, "typed": read, "read": ""}
    return {"label": label, "typed": typed, "read": read if read != typed else ""}


def _others(tables: list[Table]) -> list[PrintedTable]:
    """Every table but the one that is the schedule."""
    whole = next((table for table in tables if not table["may_choose"]), None)
    return [
        {
            "title": table["title"],
            "note": table["note"],
            "columns": [column["label"] for column in table["columns"]],
            "numbers": [column["is_number"] for column in table["columns"]],
            "rows": [[cell or "–" for cell in row["cells"]] for row in table["rows"]],
            "hot": [place for place, row in enumerate(table["rows"]) if row["is_chosen"]],
        }
        for table in tables
        if table is not whole and table["rows"]
    ]


def _schedule(answer: Answer, lists: list[Table]) -> Schedule | None:
    """The rows of the schedule itself, or the checkpoints of the pin; None where there are neither."""
    whole = next((table for table in lists if not table["may_choose"]), None)
    if whole:
        return {
            "title": whole["title"],
            "columns": [column["label"] for column in whole["columns"]],
            "rows": [row["cells"] for row in whole["rows"]],
            "hot": [place for place, row in enumerate(whole["rows"]) if row["is_chosen"]],
            "numbers": [column["is_number"] for column in whole["columns"]],
        }
    pins = answer["pins"]
    if not pins:
        return None
    return {
        "title": "Where the pin should be",
        "columns": ["Moves", "Turns", "Hole", "Spindle", ""],
        "rows": [
            [str(pin["moves"]), pin["turns"], str(pin["hole"]), pin["angle"], "home" if pin["home"] else ""]
            for pin in pins
        ],
        "hot": [place for place, pin in enumerate(pins) if pin["home"]],
        "numbers": [True, True, True, True, False],
    }


def _edition(source: Mapping[str, str]) -> str:
    return f"{source.get('edition', '')}; table digest {source.get('digest', '')[:12]}".strip("; ")
