"""A kept sum on paper: what was entered, the answer, every line of working, its sources."""

from calc import figures
from calc.pdf_card import plate_drawing
from calc.pdf_paper import FRAME, HAIR, PT, Paper, clean
from calc.pdf_sheet import SMALL, TEXT, Frame, Piece, heading, lines_at, pack, paragraph, render
from calc.pdf_text import leading, one_line, shrink, wrap
from calc.sheets import EntryLine, Fact, Schedule, SumSheet, WorkingLine

A4 = Frame(210, 297)
WIDE = A4.text_width
_PICTURE = 84.0  # how wide the picture stands [mm]


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
        *_entered(kept),
        heading("Working", "each line uses the unrounded figure of the line before it", WIDE),
        *(_working(line, number) for number, line in enumerate(kept["working"], 1)),
    ]
    if kept["schedule"]:
        pieces += _schedule(kept["schedule"])
    if kept["sources"]:
        pieces.append(heading("Sources", "", WIDE))
        for source in kept["sources"]:
            after = f", {source['edition']}" if source["edition"] else ""
            pieces.append(paragraph([(source["title"], True), (after, False)], WIDE, TEXT, before=0.6))
    return [*pieces, paragraph([(kept["statement"], False)], WIDE, TEXT, before=5)]


# ---- answer and what was entered ---------------------------------------------------------------------------


def _answer(kept: SumSheet) -> Piece:
    inner = WIDE - 8
    label = wrap([(kept["answer_label"], False)], inner, TEXT)
    answer = wrap([(kept["answer"], True)], inner, 20)
    note = wrap([(kept["answer_note"], False)], inner, TEXT)
    text = 5 + len(label) * leading(TEXT) + len(answer) * leading(20) + len(note) * leading(TEXT)
    facts = 11.0 if kept["facts"] else 0.0

    def draw(paper: Paper, x: float, y: float) -> None:
        y += 4
        paper.box(x, y, WIDE, text + facts, FRAME)
        at = lines_at(paper, x + 4, y + 2.2, label, TEXT)
        at = lines_at(paper, x + 4, at, answer, 20)
        lines_at(paper, x + 4, at, note, TEXT)
        if kept["facts"]:
            _facts(paper, kept["facts"], x, y + text, facts)

    return Piece(text + facts + 6, draw)


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


def _entered(kept: SumSheet) -> list[Piece]:
    """The entries, and the picture beside them where there is one."""
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
    places, widths = (7.0, 67.0, 112.0), (58.0, 43.0, 30.0)
    said = wrap([(line["label"], True)], widths[0], TEXT)
    formula = wrap([(line["formula"], False)], widths[0], SMALL + 1)
    shown = wrap([(line["figures"], False)], widths[1], TEXT)
    source = wrap([(line["source"], False)], widths[2], SMALL)
    room = WIDE - places[2] - widths[2] - 3
    value = wrap([(f"{line['value']} {line['unit']}".strip(), True)], room, TEXT + 1)
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


def _schedule(schedule: Schedule) -> list[Piece]:
    head = _schedule_row(schedule["columns"], bold=True, weight=HAIR)
    head = Piece(head.height, head.draw, keep=True)
    hot = set(schedule["hot"])
    rows = [
        Piece(row.height, row.draw, again=head)
        for place, texts in enumerate(schedule["rows"])
        for row in [_schedule_row(texts, bold=place in hot, weight=0.1)]
    ]
    return [heading(schedule["title"], f"{len(rows)} rows", WIDE), head, *rows]


def _schedule_row(texts: list[str], *, bold: bool, weight: float) -> Piece:
    width = WIDE / max(1, len(texts))

    def draw(paper: Paper, x: float, y: float) -> None:
        for place, text in enumerate(texts):
            lines_at(paper, x + place * width, y + 0.4, [one_line(text, width - 2, TEXT, bold=bold)], TEXT)
        paper.line(x, y + 4.9, x + WIDE, y + 4.9, weight)

    return Piece(5, draw)
