"""A sum as plain text: what was entered, the answer, every table, every line of working, its sources."""

from collections.abc import Iterable, Sequence

from calc.answers.shapes import Table
from calc.sheets import EntryLine, SizeTable, SumSheet, WorkingLine


def sum_text(sheet: SumSheet, tables: Sequence[Table]) -> str:
    """The sum for a letter, a note or a file; it reads well in a typeface of even width."""
    parts = [
        _head(sheet),
        ["Entered", *_entered(sheet)],
        _answer(sheet),
        [f"! {warned['text']}" for warned in sheet["warnings"]],
        _sizes(sheet.get("sizes")),
        *(_table(table) for table in tables),
        _pins(sheet, tables),
        ["Working", *(text for line in sheet["working"] for text in _line(line))],
        ["Sources", *(f"  {one['title']}, {one['edition']}".rstrip(", ") for one in sheet["sources"])],
        [sheet["statement"]],
    ]
    return "\n\n".join("\n".join(line.rstrip() for line in part) for part in parts if part) + "\n"


def _head(sheet: SumSheet) -> list[str]:
    block = sheet["title_block"]
    kept = sheet["kept"] or f"Not kept; worked out {block['date']} by {block['by']}, {block['issue']}"
    return [line for line in (sheet["title"], sheet["part"], kept) if line]


def _entered(sheet: SumSheet) -> Iterable[str]:
    return _pairs([(entry["label"], _said(entry)) for entry in sheet["entries"]])


def _said(entry: EntryLine) -> str:
    """As typed, then as read; the reading alone where it begins with what was typed."""
    typed, read = entry["typed"].strip(), entry["read"]
    if not typed or not read or read.startswith(typed):
        return read or typed
    return f"{typed} ({read})"


def _answer(sheet: SumSheet) -> list[str]:
    small = sheet.get("answer_small", "")
    lines = [sheet["answer_label"], f"  {sheet['answer']}{f' ({small})' if small else ''}"]
    note = [f"  {sheet['answer_note']}"] if sheet["answer_note"] else []
    return [*lines, *note, *_pairs([(fact["label"], fact["value"]) for fact in sheet["facts"]])]


def _pairs(pairs: Sequence[tuple[str, str]]) -> list[str]:
    width = max((len(label) for label, _ in pairs), default=0)
    return [f"  {label:<{width}}  {text}" for label, text in pairs]


def _sizes(sizes: SizeTable | None) -> list[str]:
    if not sizes:
        return []
    rows = [[line["label"], *(cell or "–" for cell in line["cells"])] for line in sizes["lines"]]
    note = f", {sizes['note']}" if sizes["note"] else ""
    numbers = [False] + [True] * len(sizes["columns"])
    return [f"{sizes['title']}{note}", *_columns([["", *sizes["columns"]], *rows], numbers)]


def _table(table: Table) -> list[str]:
    heads = [column["label"] for column in table["columns"]]
    rows = [
        [f"{'*' if row['is_chosen'] else ' '} {row['cells'][0]}", *(cell or "–" for cell in row["cells"][1:])]
        for row in table["rows"]
    ]
    numbers = [False, *(column["is_number"] for column in table["columns"][1:])]
    said = table["note"].removesuffix(".")
    note = f". {said[:1].upper()}{said[1:]}" if said else ""
    is_one = table["may_choose"] and any(row["is_chosen"] for row in table["rows"])
    star = ". The row with * is in use" if is_one else ""
    return [f"{table['title']}{note}{star}", *_columns([[f"  {heads[0]}", *heads[1:]], *rows], numbers)]


def _pins(sheet: SumSheet, tables: Sequence[Table]) -> list[str]:
    """The checkpoints of the pin; a schedule has them among its tables."""
    schedule = sheet["schedule"]
    if not schedule or any(not table["may_choose"] for table in tables):
        return []
    numbers = [True] * len(schedule["columns"])
    return [schedule["title"], *_columns([schedule["columns"], *schedule["rows"]], numbers)]


def _columns(rows: Sequence[Sequence[str]], numbers: Sequence[bool]) -> list[str]:
    """Cells under their heads, as wide as each column needs; figures stand at the right."""
    widths = [max(len(row[place]) for row in rows) for place in range(len(numbers))]
    return [
        "  "
        + "  ".join(
            f"{cell:>{width}}" if is_number else f"{cell:<{width}}"
            for cell, width, is_number in zip(row, widths, numbers, strict=True)
        )
        for row in rows
    ]


def _line(line: WorkingLine) -> list[str]:
    between = "" if line["unit"] in ("°", "′", "″") else " "
    value = f"{line['value']}{between}{line['unit']}".strip()
    return [
        f"  {line['label']}: {value}",
        f"      {line['formula']}:  {line['figures']}",
        *([f"      {line['source']}"] if line["source"] else []),
    ]
