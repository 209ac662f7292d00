"""A kept sum on paper: what was entered, the answer, every line of working, its sources."""

from calc import figures, pictures
from calc.pdf_card import plate_drawing
from calc.pdf_paper import FRAME, HAIR, PT, Paper, clean, text_width
from calc.pdf_sheet import SMALL, TEXT, Frame, Piece, heading, lines_at, pack, paragraph, render
from calc.pdf_tables import table_pieces
from calc.pdf_text import Line, leading, line_width, one_line, shrink, wrap
from calc.sheets import EntryLine, Fact, Picture, Schedule, SizeLine, SizeTable, SumSheet, WorkingLine

A4 = Frame(210, 297)
WIDE = A4.text_width
_PICTURE = 84.0  # how wide the plate stands [mm]
_GAP = 8.0  # between what stands side by side [mm]
_FACTS = 11.0  # how high a row of facts is [mm]
_ALONE = 104.0  # how wide a single picture stands [mm]
_TALL = 95.0  # no picture stands higher [mm]


def draw_sum(sheet: SumSheet) -> bytes:
    """The kept sum as a PDF of one or more pages."""
    kept: SumSheet = clean(sheet)
    paper = Paper(A4.width, A4.height, title=f"{kept['title']}, {kept['kept']}", subject="Kept sum")
    return render(paper, A4, kept["title_block"], pack(_pieces(kept), A4.room))


def _pieces(kept: SumSheet) -> list[Piece]:
    pieces = [
        paragraph([(kept["title"], True)], WIDE, 19),
        paragraph([(kept["part"], False)], WIDE, 11, before=0.5),
        paragraph([(kept["kept"], False)], WIDE, TEXT, before=0.3),
        _answer(kept),
        *(_warning(warned["text"]) for warned in kept["warnings"]),
        *_drawn(kept),
        *_entered(kept),
        heading("Working", "each line uses the unrounded figure of the line before it", WIDE),
        *(_working(line, number) for number, line in enumerate(kept["working"], 1)),
    ]
    if kept["schedule"]:
        pieces += _schedule(kept["schedule"])
    for table in kept.get("tables", []):
        pieces += table_pieces(table, WIDE)
    if kept["sources"]:
        pieces.append(heading("Sources", "", WIDE))
        for source in kept["sources"]:
            after = f", {source['edition']}" if source["edition"] else ""
            pieces.append(paragraph([(source["title"], True), (after, False)], WIDE, TEXT, before=0.6))
    return [*pieces, paragraph([(kept["statement"], False)], WIDE, TEXT, before=5)]


# ---- answer ------------------------------------------------------------------------------------------------


def _answer(kept: SumSheet) -> Piece:
    inner = WIDE - 8
    label = wrap([(kept["answer_label"], False)], inner, TEXT)
    answer = wrap([(kept["answer"], True)], inner, 20)
    small = kept.get("answer_small", "")
    note = wrap([(kept["answer_note"], False)], inner, TEXT)
    text = 5 + len(label) * leading(TEXT) + len(answer) * leading(20) + len(note) * leading(TEXT)
    rows = _fact_rows(kept["facts"])
    facts = _FACTS * len(rows)

    def draw(paper: Paper, x: float, y: float) -> None:
        y += 4
        paper.box(x, y, WIDE, text + facts, FRAME)
        at = lines_at(paper, x + 4, y + 2.2, label, TEXT)
        at = lines_at(paper, x + 4, at, answer, 20)
        if small and answer:
            # It stands after the figure it converts, on the same line: an answer with one is short.
            after = x + 7 + line_width(answer[-1], 20)
            lines_at(
                paper, after, at - leading(TEXT) - 1, [one_line(small, x + WIDE - 4 - after, TEXT)], TEXT
            )
        lines_at(paper, x + 4, at, note, TEXT)
        for place, row in enumerate(rows):
            _facts(paper, row, x, y + text + place * _FACTS, _FACTS)

    return Piece(text + facts + 6, draw)


def _fact_rows(facts: list[Fact]) -> list[list[Fact]]:
    """The facts four to a row, or three where they are five or six."""
    across = 3 if len(facts) in (5, 6) else 4
    return [facts[start : start + across] for start in range(0, len(facts), across)]


def _facts(paper: Paper, facts: list[Fact], x: float, y: float, height: float) -> None:
    paper.line(x, y, x + WIDE, y)
    width = WIDE / len(facts)
    for place, fact in enumerate(facts):
        left = x + place * width
        if place:
            paper.line(left, y, left, y + height)
        lines_at(paper, left + 3, y + 1.2, [one_line(fact["label"], width - 5, SMALL)], SMALL)
        value, size = shrink(fact["value"], width - 5, (11.5, 8))
        paper.text(left + 3, y + 8.8, value, size, bold=True)


def _warning(text: str) -> Piece:
    lines = wrap([(text, False)], WIDE - 5, TEXT)
    height = len(lines) * leading(TEXT)

    def draw(paper: Paper, x: float, y: float) -> None:
        paper.line(x + 1, y + 1.5, x + 1, y + 1.5 + height, 1.2)
        lines_at(paper, x + 4, y + 1.3, lines, TEXT)

    return Piece(height + 3.5, draw)


# ---- pictures and sizes ------------------------------------------------------------------------------------


def _drawn(kept: SumSheet) -> list[Piece]:
    """The pictures side by side; beside a single one what was entered."""
    held = kept.get("pictures", [])
    if len(held) == 1:
        rest = WIDE - _ALONE - _GAP
        return [_beside([_pictures(held, _ALONE)], _rows_entered(kept, rest), _ALONE + _GAP)]
    return [_pictures(row, WIDE) for row in _rows_of(held)]


def _rows_of(held: list[Picture]) -> list[list[Picture]]:
    """Pictures that stand in one row; a band has a row of its own."""
    bands = [one for one in held if pictures.is_band(pictures.drawing(one), len(held))]
    rest = [one for one in held if one not in bands]
    return ([rest] if rest else []) + [[one] for one in bands]


def _pictures(held: list[Picture], room: float) -> Piece:
    """Pictures on one base line, each with its caption."""
    shares = [7 if one["wide"] else 5 for one in held]
    room -= _GAP * (len(held) - 1)
    placed = [
        (pictures.drawing(one), *_caption(one, room * share / sum(shares)))
        for one, share in zip(held, shares, strict=True)
    ]
    high = max(_width(drawing, wide) * drawing.height / drawing.width for drawing, wide, _ in placed)
    below = max(len(caption) for _, _, caption in placed) * leading(SMALL + 1) + 4

    def draw(paper: Paper, x: float, y: float) -> None:
        for drawing, wide, caption in placed:
            width = _width(drawing, wide)
            top = y + 3 + high - width * drawing.height / drawing.width
            figures.draw(drawing, paper, x + (wide - width) / 2, top, width)
            paper.line(x, y + high + 4.5, x + wide, y + high + 4.5)
            lines_at(paper, x, y + high + 5.3, caption, SMALL + 1)
            x += wide + _GAP

    return Piece(high + below + 4, draw)


def _caption(picture: Picture, wide: float) -> tuple[float, list[Line]]:
    return wide, wrap(
        [(picture["strong"], True), (f"  {pictures.caption_of(picture)}", False)], wide, SMALL + 1
    )


def _width(drawing: figures.Drawing, wide: float) -> float:
    """As wide as its place, or less where it would stand too high."""
    return min(wide, _TALL * drawing.width / drawing.height)


def _sizes(table: SizeTable, width: float) -> list[Piece]:
    """The rows of the table of sizes, its columns' names first."""
    head = _size_row({"label": "", "cells": table["columns"], "finished": False}, width, head=True)
    return [head, *(_size_row(line, width) for line in table["lines"])]


def _size_row(line: SizeLine, width: float, *, head: bool = False) -> Piece:
    cells, size = line["cells"], SMALL + 1 if head else TEXT
    each = min(26.0, width * 0.6 / max(1, len(cells)))
    label = wrap([(line["label"], True)], width - each * len(cells) - 2, TEXT)
    height = max(1, len(label)) * leading(TEXT) + 1.5

    def draw(paper: Paper, x: float, y: float) -> None:
        lines_at(paper, x, y + 0.7, label, TEXT)
        for place, cell in enumerate(cells):
            text, points = shrink(cell or "–", each - 3, (size, 6.5), bold=line["finished"])
            right, base = x + width - each * (len(cells) - 1 - place), y + 0.7 + size * 0.95 * PT
            if line["finished"] and cell:
                wide = text_width(text, points, True)
                paper.box(right - wide - 2, y + 0.35, wide + 2, leading(TEXT) + 0.7, 0.35)
            paper.text(
                right - (1 if line["finished"] else 0),
                base,
                text,
                points,
                bold=line["finished"],
                anchor="end",
            )
        paper.line(x, y + height, x + width, y + height, HAIR if head else 0.1)

    return Piece(height, draw)


def _beside(left: list[Piece], right: list[Piece], at: float) -> Piece:
    """Two columns of pieces as one piece, the right one so far from the left margin."""

    def draw(paper: Paper, x: float, y: float) -> None:
        for column, start in ((left, x), (right, x + at)):
            top = y
            for piece in column:
                piece.draw(paper, start, top)
                top += piece.height

    return Piece(max(sum(piece.height for piece in column) for column in (left, right)) + 2, draw)


# ---- what was entered --------------------------------------------------------------------------------------


def _rows_entered(kept: SumSheet, width: float) -> list[Piece]:
    """The entries a row each, as the page of a drawn sum lists them."""
    label = (
        min(max((text_width(entry["label"], TEXT) for entry in kept["entries"]), default=0), width * 0.5) + 4
    )
    title = heading("Entered", "as typed, then as read", width)
    return [title, *(_entry_row(entry, label, width) for entry in kept["entries"])]


def _entry_row(entry: EntryLine, at: float, width: float) -> Piece:
    typed, read = entry["typed"], entry["read"]
    said = read if read.startswith(typed) and read else f"{typed}  {read}".strip()
    name, lines = wrap([(entry["label"], False)], at - 2, TEXT), wrap([(said, True)], width - at, TEXT)
    height = max(len(name), len(lines)) * leading(TEXT) + 1.6

    def draw(paper: Paper, x: float, y: float) -> None:
        lines_at(paper, x, y + 0.8, name, TEXT)
        lines_at(paper, x + at, y + 0.8, lines, TEXT)
        paper.line(x, y + height, x + width, y + height, 0.1)

    return Piece(height, draw)


def _entered(kept: SumSheet) -> list[Piece]:
    """The entries; beside them the table of sizes, or the picture of the plate, where there is one."""
    sizes = kept.get("sizes")
    if len(kept.get("pictures", [])) == 1:
        return [heading(sizes["title"], sizes["note"], WIDE), *_sizes(sizes, WIDE)] if sizes else []
    if sizes:
        half = (WIDE - _GAP) * 0.56
        rest = WIDE - _GAP - half
        left = [heading(sizes["title"], sizes["note"], half), *_sizes(sizes, half)]
        return [_beside(left, _rows_entered(kept, rest), half + _GAP)]
    title = heading("Entered", "as typed, then as read", WIDE)
    if not kept["plate"]:
        return [title, *(_entry(entry, WIDE) for entry in kept["entries"])]
    drawing = plate_drawing(kept["plate"], width_mm=_PICTURE, words=True)
    entries = [_entry(entry, WIDE - _PICTURE - 8) for entry in kept["entries"]]
    caption = wrap([(kept["plate_caption"], False)], _PICTURE, SMALL)
    high = _PICTURE * drawing.height / drawing.width
    height = max(sum(entry.height for entry in entries), high + 2 + len(caption) * leading(SMALL))

    def draw(paper: Paper, x: float, y: float) -> None:
        left = x + WIDE - _PICTURE
        figures.draw(drawing, paper, left, y, _PICTURE)
        lines_at(paper, left, y + high + 1.5, caption, SMALL)
        for entry in entries:
            entry.draw(paper, x, y)
            y += entry.height

    return [title, Piece(height + 2, draw)]


def _entry(entry: EntryLine, width: float) -> Piece:
    typed = wrap([(entry["typed"], True)], width, 11)
    read = wrap([(entry["read"], False)], width, TEXT)
    height = leading(SMALL) + len(typed) * leading(11) + len(read) * leading(TEXT) + 3

    def draw(paper: Paper, x: float, y: float) -> None:
        at = lines_at(paper, x, y, [one_line(entry["label"], width, SMALL)], SMALL)
        at = lines_at(paper, x, at, typed, 11)
        lines_at(paper, x, at, read, TEXT)

    return Piece(height, draw)


# ---- working and schedule ----------------------------------------------------------------------------------


def _working(line: WorkingLine, number: int) -> Piece:
    places, widths = (7.0, 65.0, 105.0), (56.0, 38.0, 40.0)
    said = wrap([(line["label"], True)], widths[0], TEXT)
    formula = wrap([(line["formula"], False)], widths[0], SMALL + 1)
    shown = wrap([(line["figures"], False)], widths[1], TEXT)
    source = wrap([(line["source"], False)], widths[2], SMALL)
    room = WIDE - places[2] - widths[2] - 3
    value = wrap([(_value(line), True)], room, TEXT + 1)
    heights = (
        len(said) * leading(TEXT) + len(formula) * leading(SMALL + 1),
        len(shown) * leading(TEXT),
        len(source) * leading(SMALL),
        len(value) * leading(TEXT + 1),
    )

    def draw(paper: Paper, x: float, y: float) -> None:
        y += 1.2
        lines_at(paper, x, y, [[(str(number), False)]], SMALL + 1)
        at = lines_at(paper, x + places[0], y, said, TEXT)
        lines_at(paper, x + places[0], at, formula, SMALL + 1)
        lines_at(paper, x + places[1], y, shown, TEXT)
        lines_at(paper, x + places[2], y + 0.3, source, SMALL)
        base = y + (TEXT + 1) * 0.95 * PT
        for row in value:
            paper.text(x + WIDE, base, row[0][0], TEXT + 1, bold=True, anchor="end")
            base += leading(TEXT + 1)
        paper.line(x, y + max(heights) + 0.9, x + WIDE, y + max(heights) + 0.9, 0.1)

    return Piece(max(heights) + 2.4, draw)


def _value(line: WorkingLine) -> str:
    """The value with its unit; the signs of an angle stand close to it."""
    between = "" if line["unit"] in ("°", "′", "″") else " "
    return f"{line['value']}{between}{line['unit']}".strip()


def _schedule(schedule: Schedule) -> list[Piece]:
    """The schedule itself, or the checkpoints of the pin: its figures stand in the order of the columns."""
    columns = len(schedule["columns"])
    return table_pieces(
        {
            "title": schedule["title"],
            "note": "",
            "columns": schedule["columns"],
            "numbers": schedule.get("numbers", [False] * columns),
            "rows": schedule["rows"],
            "hot": schedule["hot"],
        },
        WIDE,
    )
