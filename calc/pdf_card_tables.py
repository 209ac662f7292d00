"""Tables on a work card with a box to tick beside each row: passes of a broach, drills, holes."""

from dataclasses import dataclass

from calc.pdf_board import Board
from calc.pdf_paper import text_width
from calc.pdf_text import cut, leading, shrink, write
from calc.sheets import TickTable

#: Rows that stand under one another before a table goes on beside itself.
ROWS = 8
#: Rows that a table keeps where the card is short of room, with the line that says how many are left.
LEAST_ROWS = 4
#: Columns of rows beside one another, at the most.
MOST_ABREAST = 3


def least(table: TickTable) -> TickTable:
    """The table as short as it may be cut."""
    return {**table, "rows": table["rows"][:LEAST_ROWS]}


def tables_height(board: Board, tables: list[TickTable]) -> float:
    """What tables need with every row. [mm]"""
    return sum(_height(board, table) for table in tables)


def draw_tables(board: Board, tables: list[TickTable], y: float, room: float) -> float:
    """The tables under one another, cut where the room does not hold all rows; where they end."""
    spare = room - tables_height(board, [least(table) for table in tables])
    for table in tables:
        low = _height(board, least(table))
        given = low + max(0.0, min(spare, _height(board, table) - low))
        spare -= given - low
        y = _draw(board, table, y, given)
    return y


# ---- measures ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Widths:
    """How wide each column of a table stands, the box before it and the room to write after it. [mm]"""

    box: float
    columns: list[float]
    reached: float

    @property
    def whole(self) -> float:
        return self.box + sum(self.columns) + self.reached


def _row(board: Board) -> float:
    return leading(board.form.text) + 0.7 * board.form.k


def _head(board: Board) -> float:
    return 2 * leading(board.form.label) + 1.7 * board.form.k


def _widths(board: Board, table: TickTable) -> _Widths:
    form, gap = board.form, 2.2 * board.form.k
    columns = [
        max(text_width(name, form.label), *(text_width(cell, form.text, True) for cell in cells)) + gap
        for name, cells in zip(table["columns"], zip(*table["rows"], strict=True), strict=True)
    ]
    box, room = 6 * form.k, form.main - 2 * form.pad
    reached = max(text_width(table["reached"], form.label), 12 * form.k) if table["reached"] else 0
    over = max(0.0, box + sum(columns) + reached - room)
    widest = columns.index(max(columns))
    columns[widest] -= over  # its cells are written smaller
    spare = room - box - sum(columns) - reached
    return _Widths(box, columns, reached + min(spare, 8 * form.k) if reached else 0)


def _abreast(board: Board, table: TickTable) -> int:
    """How many columns of rows the paper takes side by side."""
    width = board.form.main - 2 * board.form.pad
    return max(1, min(MOST_ABREAST, int(width / _widths(board, table).whole)))


def _height(board: Board, table: TickTable) -> float:
    count = len(table["rows"])
    abreast = min(_abreast(board, table), -(-count // ROWS))
    return _head(board) + -(-count // abreast) * _row(board) + 1.5 * board.form.k


# ---- drawing ----------------------------------------------------------------------------------------------


def _draw(board: Board, table: TickTable, y: float, height: float) -> float:
    form, rows = board.form, table["rows"]
    high = int((height - _head(board) - 1.5 * form.k) / _row(board) + 1e-6)
    most = _abreast(board, table)
    abreast = min(most, -(-len(rows) // ROWS))
    if -(-len(rows) // abreast) > high:
        abreast = most
    is_cut = -(-len(rows) // abreast) > high
    shown = rows[: (high - 1) * abreast] if is_cut else rows
    x = form.left + form.pad
    y, height = y + 1.2 * form.k, height - 1.2 * form.k
    board.stack(x, y, [[(table["title"], True)]], form.label, form.main - 2 * form.pad)
    widths, per = _widths(board, table), -(-len(shown) // abreast)
    for place, first in enumerate(range(0, len(shown), per)):
        at = x + place * (form.main - 2 * form.pad) / abreast
        _column(board, {**table, "rows": shown[first : first + per]}, widths, at, y + leading(form.label))
    if is_cut:
        base = y + _head(board) + per * _row(board) + board.base(form.text)
        told = cut([(_more(table, len(shown)), True)], form.main - 2 * form.pad, form.text)
        write(board.paper, x, base, told, form.text)
    return y + height


def _more(table: TickTable, shown: int) -> str:
    of = table.get("of", "")
    where = f"on the sheet of sum {of}" if of else "in the kept sum"
    return f"{shown} of {len(table['rows'])} here; the rest {where}."


def _column(board: Board, table: TickTable, widths: _Widths, x: float, y: float) -> None:
    """Rows under one another, each with its box, its figures and a rule to write on."""
    form, step, side = board.form, _row(board), 3.6 * board.form.k
    heads = [*table["columns"], table["reached"]]
    ends = [x + widths.box + sum(widths.columns[:place]) for place in range(len(heads))]
    for name, at in zip(heads, ends, strict=True):
        board.stack(at, y, [[(name, False)]], form.label)
    top = y + leading(form.label) + 0.5 * form.k
    for row in table["rows"]:
        board.paper.box(x, top + (step - side) / 2, side, side, 0.4)
        for cell, at, wide in zip(row, ends, widths.columns, strict=False):
            base = top + 0.35 * form.k + board.base(form.text)
            text, size = shrink(cell, wide - form.k, (form.text, form.label))
            write(board.paper, at, base, [(text, True)], size)
        if widths.reached:
            board.rule(ends[-1], top + step - 0.8 * form.k, widths.reached)
        top += step
