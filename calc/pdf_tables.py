"""Tables of a sum on paper: columns as wide as they need, rows that break, heads that come again."""

from collections.abc import Sequence

from calc.pdf_paper import HAIR, Paper, text_width
from calc.pdf_sheet import TEXT, Piece, heading, lines_at
from calc.pdf_text import leading, line_width, wrap
from calc.sheets import PrintedTable

_SIZE = TEXT - 0.5
_GAP = 4.0  # between columns [mm]
_ROW = 1.3  # above and below the lines of a row, together [mm]


def table_pieces(table: PrintedTable, width: float) -> list[Piece]:
    """Title, head and rows; the head stands again at the top of each page that the rows go on to."""
    rows = len(table["rows"])
    count = f"{rows} row" if rows == 1 else f"{rows} rows"
    note = f"{count}; {table['note']}" if table["note"] else count
    widths = _widths(table, width)
    head = _row(table["columns"], widths, table["numbers"], bold=True, weight=HAIR)
    head = Piece(head.height, head.draw, keep=True)
    hot = set(table["hot"])
    pieces = [
        Piece(row.height, row.draw, again=head)
        for place, cells in enumerate(table["rows"])
        for row in [_row(cells, widths, table["numbers"], bold=place in hot, weight=0.1)]
    ]
    return [heading(table["title"], note, width), head, *pieces]


def _widths(table: PrintedTable, width: float) -> list[float]:
    """What each column needs; where that is too much, the long ones share what the short ones leave."""
    lines = [table["columns"], *table["rows"]]
    needs = [
        max(text_width(line[place], _SIZE, bold=True) for line in lines) + _GAP
        for place in range(len(table["columns"]))
    ]
    room = width - sum(needs)
    if room >= 0:
        # Spread the columns a little, and leave the rest of the page to the right of them.
        return [need + min(room / len(needs), 12.0) for need in needs]
    fair = width / len(needs)
    left = width - sum(need for need in needs if need <= fair)
    long = sum(need for need in needs if need > fair)
    return [need if need <= fair else left * need / long for need in needs]


def _row(
    cells: Sequence[str], widths: Sequence[float], numbers: Sequence[bool], *, bold: bool, weight: float
) -> Piece:
    wrapped = [
        wrap([(cell, bold)], width - _GAP + 0.1, _SIZE) for cell, width in zip(cells, widths, strict=True)
    ]
    height = max(len(lines) for lines in wrapped) * leading(_SIZE) + _ROW

    def draw(paper: Paper, x: float, y: float) -> None:
        left = x
        for lines, width, is_number in zip(wrapped, widths, numbers, strict=True):
            top = y + _ROW / 2
            for line in lines:
                start = left + width - _GAP - line_width(line, _SIZE) if is_number else left
                lines_at(paper, start, top, [line], _SIZE)
                top += leading(_SIZE)
            left += width
        paper.line(x, y + height, x + sum(widths), y + height, weight)

    return Piece(height, draw)
