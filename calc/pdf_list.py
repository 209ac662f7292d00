"""A parts list on paper: A4 landscape, assembly by assembly, its head on every page."""

from calc.pdf_paper import FRAME, HAIR, Paper, clean, hatch, text_width
from calc.pdf_sheet import INSET, LEFT, MARGIN, SMALL, Frame, Piece, lines_at, pack, render
from calc.pdf_text import Line, leading, one_line, wrap
from calc.sheets import PartGroup, PartRow, PartsListSheet

A4_WIDE = Frame(297, 210)
WIDE = A4_WIDE.text_width
SIZE = 8.5
_HEAD = 15.0  # title, legend and column heads on every page [mm]

#: Column heads with the place of each from the left. [mm]
COLUMNS = (
    ("Part", 0.0),
    ("Name", 28.0),
    ("Kind", 84.0),
    ("Made of", 102.0),
    ("Leading size", 144.0),
    ("Good, needed", 188.0),
    ("Stage", 208.0),
    ("Sheet", 234.0),
    ("Casting", WIDE),
)
_NAME, _MATERIAL, _SIZE = 54.0, 31.0, 42.0


def draw_list(sheet: PartsListSheet) -> bytes:
    """The parts list as a PDF of one or more pages."""
    listed: PartsListSheet = clean(sheet)
    title = f"{listed['title']}, {listed['title_block']['build']}"
    paper = Paper(A4_WIDE.width, A4_WIDE.height, title=title, subject="Parts list")
    pieces = [piece for group in listed["groups"] for piece in _group(group)]
    pages = pack(pieces or [_nothing()], A4_WIDE.room - _HEAD)
    return render(paper, A4_WIDE, listed["title_block"], pages, lambda page: _page_head(page, listed))


def _nothing() -> Piece:
    return Piece(8, lambda paper, x, y: paper.text(x, y + 6, "No parts in this list.", 11))


def _page_head(paper: Paper, listed: PartsListSheet) -> float:
    x, y = LEFT + INSET, MARGIN + INSET
    paper.text(x, y + 3.5, listed["title"], 13, bold=True)
    after = x + text_width(listed["title"], 13, True) + 4
    lines_at(paper, after, y + 0.4, [one_line(listed["scope"], 110, SIZE + 1)], SIZE + 1)
    _legend(paper, listed, x + WIDE, y)
    for label, place in COLUMNS:
        paper.text(x + place, y + 12.4, label, SMALL, anchor="end" if place == WIDE else "start")
    paper.line(x, y + 13.6, x + WIDE, y + 13.6, FRAME)
    return _HEAD


def _legend(paper: Paper, listed: PartsListSheet, right: float, y: float) -> None:
    """What the hatches mean, set from the right edge."""
    for kind, word in reversed([(pair[0], pair[1]) for pair in listed["hatches"]]):
        right -= text_width(word, SMALL)
        paper.text(right, y + 3.2, word, SMALL)
        hatch(paper, kind, right - 8.2, y + 0.4, 7, 3.6)
        right -= 12


def _group(group: PartGroup) -> list[Piece]:
    again = _group_head(group, again=True)
    return [_group_head(group), *(_row(row, again) for row in group["rows"])]


def _group_head(group: PartGroup, *, again: bool = False) -> Piece:
    name = f"{group['name']}, continued" if again else group["name"]

    def draw(paper: Paper, x: float, y: float) -> None:
        middle = y + 5.4
        left = x
        if group["balloon"]:
            paper.circle(x + 3, middle, 3, weight=0.35, fill="")
            size = 8.5 if len(group["balloon"]) < 3 else 6.5
            paper.text(x + 3, middle + size * 0.127, group["balloon"], size, bold=True, anchor="middle")
            left += 8
        room = WIDE - (left - x) - text_width(group["note"], SIZE) - 4
        lines_at(paper, left, y + 3, [one_line(name, room, 11, bold=True)], 11)
        paper.text(x + WIDE, y + 6.6, group["note"], SIZE, anchor="end")
        paper.line(x, y + 9, x + WIDE, y + 9, HAIR)

    return Piece(9.2, draw, keep=True)


def _row(row: PartRow, again: Piece) -> Piece:
    name = wrap([(row["name"], False)], _NAME, SIZE, 2)
    material = wrap([(row["material"], False)], _MATERIAL, SIZE, 2)
    size = _size_lines(row)
    lines = max(1, len(name), len(material), len(size))
    height = max(5.2, lines * leading(SIZE) + 1.4)

    def draw(paper: Paper, x: float, y: float) -> None:
        top = y + 0.7
        _cells(paper, row, x, top)
        lines_at(paper, x + COLUMNS[1][1], top, name, SIZE)
        swatch = 9.5 if row["hatch"] else 0.0
        hatch(paper, row["hatch"], x + COLUMNS[3][1], top + 0.3, 7, 3.2)
        lines_at(paper, x + COLUMNS[3][1] + swatch, top, material, SIZE)
        lines_at(paper, x + COLUMNS[4][1], top, size, SIZE)
        paper.line(x, y + height, x + WIDE, y + height, 0.1)

    return Piece(height, draw, again=again)


def _size_lines(row: PartRow) -> list[Line]:
    """The size as typed in bold, the same in the other measure after it, lighter."""
    gap = "  " if row["size"] and row["converted"] else ""
    return wrap([(row["size"], True), (gap + row["converted"], False)], _SIZE, SIZE, 2)


def _cells(paper: Paper, row: PartRow, x: float, y: float) -> None:
    """The cells of one line: key and hand, kind, counts, stage, sheet, casting."""
    base = y + SIZE * 0.95 * 0.353
    places = {label: x + place for label, place in COLUMNS}
    lines_at(paper, x, y, [one_line(row["key"], 21, SIZE, bold=True)], SIZE)
    if row["hand"]:
        paper.box(x + 22, y + 0.1, 3.9, 3.5, 0.25)
        paper.text(x + 23.95, base, row["hand"], SIZE, bold=True, anchor="middle")
    lines_at(paper, places["Kind"], y, [one_line(row["kind"], 17, SIZE)], SIZE)
    paper.text(places["Good, needed"], base, row["count"], SIZE, bold=True)
    stage_mark(paper, row["stage"], places["Stage"], y + 0.2)
    lines_at(paper, places["Stage"] + 4.6, y, [one_line(row["stage_word"], 20.5, SIZE)], SIZE)
    lines_at(paper, places["Sheet"], y, [one_line(row["sheet"], 16, SIZE)], SIZE)
    casting = one_line(row["casting"], 14.5, SIZE)
    paper.text(x + WIDE, base, "".join(text for text, _ in casting), SIZE, anchor="end")


def stage_mark(paper: Paper, stage: int, x: float, y: float) -> None:
    """A centre mark whose circle fills by quarters; full and ringed when it is on the engine."""
    paper.stamp(f"stage-{stage}", x, y, (3.4, 3.4), lambda pen: _draw_stage(pen, stage))


def _draw_stage(pen: Paper, stage: int) -> None:
    middle = 1.7
    if stage < 5:
        pen.line(0.1, middle, 3.3, middle, 0.13)
        pen.line(middle, 0.1, middle, 3.3, 0.13)
    pen.circle(middle, middle, 1.15 if stage < 5 else 1.5, weight=0.24, fill="")
    if stage >= 4:
        pen.circle(middle, middle, 1.2 if stage == 4 else 0.95, weight=0, fill="black")
    elif stage:
        pen.pie(middle, middle, 1.15, stage * 90)
