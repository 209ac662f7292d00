"""The lower half of a work card: proof, tally of divisions, sizes reached, places to write."""

from dataclasses import dataclass

from calc.pdf_board import Board
from calc.pdf_card_plan import cells_height, left_need, sizes_width, writes_height
from calc.pdf_card_tables import draw_tables
from calc.pdf_paper import HAIR, PT, text_width
from calc.pdf_text import cut, leading, one_line, shrink, wrap, write
from calc.sheets import NOTE_LINES, CardSheet, Say, SizeWanted, Tally, TallyRow, WriteIn, tally_plan

HOME = "◥"  # the mark of a division after which the pin is in its start hole


def left_column(board: Board, card: CardSheet, y: float, height: float) -> None:
    """Proof and notes, tables to tick, and the tally or an area of rules to write on."""
    form = board.form
    at = y + form.pad_y
    for say in [*([card["proof"]] if card["proof"] else []), *card["notes"]]:
        at = _say(board, say, form.left + form.pad, at, form.main - 2 * form.pad)
    if tables := card.get("tables"):
        at = draw_tables(board, tables, at, height - left_need(board, {**card, "tables": []}))
    room = y + height - at
    if card["tally"]:
        end = _tally(board, card["tally"], at, room - form.pad_y)
        if y + height - end > 24 * form.k:
            board.paper.line(form.left, end + form.k, form.split, end + form.k)
            board.ruled(card["blank_label"], form.left, end + form.k, form.main, y + height - end - form.k)
    else:
        board.ruled(card["blank_label"], form.left, at - form.pad_y, form.main, room + form.pad_y)


def _say(board: Board, say: Say, x: float, y: float, width: float) -> float:
    gap, most = " " if say["strong"] and say["text"] else "", say.get("lines", NOTE_LINES)
    lines = wrap([(say["strong"], True), (gap + say["text"], False)], width, board.form.text, most)
    return board.stack(x, y, lines, board.form.text)


# ---- the tally -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where the boxes of a tally stand, and what stands in them."""

    left: float
    top: float
    per_box: int
    columns: int
    rows: int
    across: float  # from box to box [mm]
    down: float
    cells: int  # small boxes in a box: one to a pass or to a division; 0 where they have no room

    @property
    def per_row(self) -> int:
        return self.per_box * self.columns


def _tally(board: Board, tally: Tally, y: float, height: float) -> float:
    """The boxes, and the line about the pin under them; where it ends."""
    form = board.form
    x, width = form.left + form.pad, form.main - 2 * form.pad
    home = wrap(
        [(tally["home_line"]["strong"], True), (" " + tally["home_line"]["text"], False)], width, form.text, 2
    )
    head = 2.1 * leading(form.label)
    room = height - head - len(home) * leading(form.text) - 1.5 * form.k
    grid = _grid(board, tally, x, y + head, width, room)
    _tally_head(board, tally, grid, y)
    for first in range(1, tally["count"] + 1, grid.per_box):
        _box(board, tally, first, grid)
    for row, after in enumerate(tally["rows"][: grid.rows]):
        _after_row(board, after, grid, row)
    return board.stack(x, grid.top + grid.rows * grid.down + 0.6 * form.k, home, form.text)


def _grid(board: Board, tally: Tally, left: float, top: float, width: float, room: float) -> _Grid:
    form = board.form
    per_box, per_row = tally_plan(tally["count"])
    rows = -(-tally["count"] // per_row)
    down = min(room / rows, 13.5 * form.k)
    after = text_width("000 360.00°" if _beside(board, down) else "hole, angle", form.label) + 1.5 * form.k
    across = (width - after) / (per_row // per_box)
    cells = {1: tally.get("passes", 0), 10: 10}.get(per_box, 0)
    if down < cells_height(form) - 1e-6:
        cells = 0
    return _Grid(left, top, per_box, per_row // per_box, rows, across, down, cells)


def _beside(board: Board, down: float) -> bool:
    """Whether hole and angle stand side by side, as low rows need."""
    return down < 2.5 * leading(board.form.label)


def _tally_head(board: Board, tally: Tally, grid: _Grid, y: float) -> None:
    form = board.form
    passes = ", ".join(map(str, range(1, grid.cells + 1)))
    note = tally["note"]
    if grid.cells:
        note += f"; in it passes {passes}" if grid.per_box == 1 else ", one cell for each"
    boxes = grid.columns * grid.across
    after = "hole, angle" if any(row["hole"] for row in tally["rows"]) else "angle"
    board.stack(grid.left, y + leading(form.label), [[(note, False)]], form.label, boxes - form.k)
    board.stack(grid.left + boxes + form.k, y, [[("after row", False)], [(after, False)]], form.label)


def _after_row(board: Board, row: TallyRow, grid: _Grid, place: int) -> None:
    form, size = board.form, board.form.label
    x = grid.left + grid.columns * grid.across + form.k
    middle = grid.top + place * grid.down + (grid.down - 0.6 * form.k) / 2
    beside = _beside(board, grid.down)
    large = size if beside else min(form.text, grid.down * 0.38 / PT)
    narrow, wide = text_width("000 ", size), text_width("360.00°", size)
    hole = one_line(row["hole"], narrow if beside else wide, large, bold=True)
    angle = one_line(row["angle"], wide + 0.1, size)
    if beside:
        base = middle + size * 0.36 * PT
        write(board.paper, x, base, hole, large)
        write(board.paper, x + narrow, base, angle, size)
    else:
        write(board.paper, x, middle - 0.4 * form.k, hole, large)
        write(board.paper, x, middle + size * 0.95 * PT, angle, size)


def _box(board: Board, tally: Tally, first: int, grid: _Grid) -> None:
    """One box: its number, the mark and a thick edge when the pin is home after it, room to tick."""
    form, k = board.form, board.form.k
    row, column = divmod((first - 1) // grid.per_box, grid.columns)
    x, y = grid.left + column * grid.across, grid.top + row * grid.down
    width, height = grid.across - 0.6 * k, grid.down - 0.6 * k
    last = min(first + grid.per_box - 1, tally["count"])
    home = [division for division in tally["home"] if first <= division <= last]
    thick = bool(home) and grid.per_box == 1
    board.paper.box(x, y, width, height, min(0.9, height * 0.12) if thick else min(0.3, height * 0.06))
    label = (f"{first}–{last}" if grid.per_box == 10 else str(last)) + (HOME if home else "")
    room = height - 3.6 * k if grid.cells else height * 0.83  # a number leaves its cells their height
    largest = max(form.label, min(form.text, room * 0.87 / PT))
    text, points = shrink(label, width - 1.0 * k, (largest, form.label * 0.9), bold=False)
    high_up = grid.cells or height > 7 * k
    base = y + (0.5 * k + points * 0.85 * PT if high_up else height / 2 + points * 0.365 * PT)
    bold = thick and _bold_fits(text, points, width - k)
    board.paper.text(x + 0.6 * k, base, text, points, bold=bold)
    if grid.cells:
        high = height - leading(points) - 0.9 * k
        count = grid.cells if grid.per_box == 1 else last - first + 1
        marked = {division - first for division in home} if grid.per_box == 10 else set()
        _cells(board, (count, grid.cells, marked), (x, y + height - high - 0.6 * k), (width, high))


def _bold_fits(text: str, points: float, width: float) -> bool:
    return text_width(text, points, True) <= width


def _cells(
    board: Board, cells: tuple[int, int, set[int]], corner: tuple[float, float], size: tuple[float, float]
) -> None:
    """Small boxes along the foot of a box, so many of so many: one to a pass, or one to a division.

    The corner of one after which the pin is home is black, as the mark is.
    """
    k, (count, of, marked) = board.form.k, cells
    width, (left, top) = (size[0] - 1.2 * k) / of, corner
    for place in range(count):
        x = left + 0.6 * k + place * width
        board.paper.box(x, top, width, size[1], 0.18)
        if place in marked:
            corners = [(x, top), (x + width, top), (x + width, top + width)]
            board.paper.path(corners, weight=0.1, fill="black", closed=True)


# ---- sizes and places to write -----------------------------------------------------------------------------


def right_column(board: Board, card: CardSheet, y: float, height: float) -> None:
    """The sizes wanted with room for those reached, and the places to write under them."""
    form = board.form
    head = leading(form.label) + 0.8 * form.k
    room = height - head - writes_height(form, card["writes"])
    wanted = card["sizes"]
    count = max(len(wanted), int(room / (10.2 * form.k)), 1)
    row = min(room / count, 12 * form.k)
    split = form.split + sizes_width(form)
    base = y + 0.4 * form.k + board.base(form.label)
    write(
        board.paper,
        form.split + 1.5 * form.k,
        base,
        cut([(card["sizes_label"], True)], split - form.split - 2 * form.k, form.label),
        form.label,
    )
    write(board.paper, split + 1.2 * form.k, base, [("Reached", True)], form.label)
    top = y + head
    for place in range(count + 1):
        board.paper.line(form.split, top + place * row, form.right, top + place * row, 0.2)
    board.paper.line(split, top, split, top + count * row, 0.2)
    for place, size in enumerate(wanted):
        _size(board, size, top + place * row, row, split - form.split - 2.7 * form.k)
    _writes(board, card["writes"], top + count * row, y + height)


def _size(board: Board, size: SizeWanted, y: float, row: float, width: float) -> None:
    form = board.form
    x = form.split + 1.5 * form.k
    value, points = shrink(size["wanted"], width, (form.text * 1.15, form.text))
    used = leading(points) + leading(form.label)
    at = board.stack(x, y + max(0.1, (row - used) / 2), [[(value, True)]], points)
    board.stack(x, at - 0.3 * form.k, [[(size["note"], False)]], form.label, width)


def _writes(board: Board, writes: list[WriteIn], y: float, bottom: float) -> None:
    form = board.form
    lines = sum(item["lines"] for item in writes)
    if not lines:
        return
    labels = len(writes) * (leading(form.label) + 0.6 * form.k)
    step = min((bottom - y - labels - 1.5 * form.k) / lines, 14 * form.k)
    x, width = form.split + 1.5 * form.k, form.side - 3 * form.k
    for item in writes:
        y = board.stack(x, y + 0.6 * form.k, [[(item["label"], False)]], form.label, width)
        for _ in range(item["lines"]):
            y += step
            board.rule(x, y - HAIR, width)
