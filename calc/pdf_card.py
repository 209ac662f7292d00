"""The work card: one side of A4 or A5, its blocks where a machinist looks for them."""

from collections.abc import Callable
from dataclasses import dataclass

from calc import figures, pictures
from calc.pdf_board import FORMATS, Board
from calc.pdf_card_low import left_column, right_column
from calc.pdf_card_plan import ROOMS, Plan, clipped, overlong_sizes, plan
from calc.pdf_paper import FRAME, HAIR, PT, Paper, clean
from calc.pdf_text import HELD, Line, cut, fitted_lines, leading, line_width, shrink, wrap, write
from calc.sheets import Block, CardSheet, LeftOff, Picture, PlatePicture

#: A picture narrower than this has its words over one another: its room is better to write in. [mm]
LEAST_PICTURE = 24


@dataclass(frozen=True, slots=True)
class Band:
    """One row of the card: what height it needs, how to draw it, and the line under it."""

    height: float
    draw: Callable[[float, float], None]  # (top, height)
    under: float = HAIR


def draw_card(sheet: CardSheet) -> bytes:
    """The card as a PDF of one page."""
    board, _, bands = _laid_out(sheet)
    form, paper = board.form, board.paper
    y = form.top
    for band in bands:
        band.draw(y, band.height)
        y += band.height
        if band is not bands[-1]:
            paper.line(form.left, y, form.right, y, band.under)
    paper.box(form.left, form.top, form.inner_width, form.inner_height, FRAME)
    return paper.finish()


def left_off(sheet: CardSheet) -> list[LeftOff]:
    """What the paper has no room for: figures and sizes, in whole or in part."""
    board, found, _ = _laid_out(sheet)
    return [*found.left_off, *clipped(board, found.rows), *overlong_sizes(board, found.sizes)]


def _laid_out(sheet: CardSheet) -> tuple[Board, Plan, list[Band]]:
    """Every row of the card with its height, by the most generous plan that has room for all of it."""
    card: CardSheet = clean(sheet)
    form = FORMATS[card["paper"]]
    paper = Paper(
        form.width, form.height, title=f"{card['card']}, {card['key']} {card['name']}", subject="Work card"
    )
    board = Board(paper, form)
    rows = {most: _head_and_foot(board, card, sheet["address"], most) for most, _ in ROOMS}
    middles = {
        most: form.inner_height - sum(band.height for band in above + below)
        for most, (above, below) in rows.items()
    }
    found = plan(board, card, middles)
    above, below = rows[found.most]
    middle = Band(middles[found.most], lambda y, height: _middle(board, card, found, y, height), FRAME)
    return board, found, [*above, middle, *below]


def _head_and_foot(board: Board, card: CardSheet, address: str, most: int) -> tuple[list[Band], list[Band]]:
    """The rows above the figures worked to and the rows below the tally."""
    above = [_identity(board, card, address), *_block_rows(board, card["blocks"], most)]
    below = [*_block_rows(board, card["foot"], most), _caution(board, card), *_title_rows(board, card)]
    return above, below


def _middle(board: Board, card: CardSheet, found: Plan, y: float, height: float) -> None:
    """Left the figures over the tally, right the picture over the sizes."""
    form = board.form
    board.upright(form.split, y, height)
    if found.rows:
        _figures(board, found, y)
        board.paper.line(form.left, y + found.left, form.split, y + found.left)
    if found.right:
        _beside(board, card, y, found.right)
        board.paper.line(form.split, y + found.right, form.right, y + found.right)
    tables = (card.get("tables") or [])[: found.tables]
    left_column(board, {**card, "tables": tables}, y + found.left, height - found.left)
    right_column(board, {**card, "sizes": found.sizes}, y + found.right, height - found.right)


# ---- head ------------------------------------------------------------------------------------------------


def _identity(board: Board, card: CardSheet, address: str) -> Band:
    form = board.form
    hand = _hand_width(board, card["hand"])
    width = form.main - 2 * form.pad - (hand + 2 * form.k if hand else 0)
    floor = form.text
    steps = ((form.name, 1), (form.name * 0.86, 1), (form.name * 0.72, 2), (floor * 1.1, 2), (floor, 4))
    lines, size = fitted_lines(f"{card['key']} {card['name']}".strip(), width, steps)
    operation = _operation(board, card, width)
    step = leading(form.text)
    height = 2 * form.pad_y + leading(form.label) + len(lines) * leading(size) + max(1, len(operation)) * step
    height = max(height, 19 * form.k)

    def draw(y: float, height: float) -> None:
        x = form.left + form.pad
        at = board.stack(x, y + form.pad_y, [[(card["build"], False)]], form.label, width)
        at = board.stack(x, at, lines, size)
        if operation:
            board.stack(x, at, operation, form.text)
        else:
            _operation_rule(board, card, x, at, width)
        if hand:
            _hand_box(board, card["hand"], hand, y)
        board.upright(form.split, y, height)
        _card_number(board, card, address, y, height)

    return Band(height, draw, FRAME)


def _operation(board: Board, card: CardSheet, width: float) -> list[Line]:
    strong, text = card["operation"]["strong"], card["operation"]["text"]
    if not strong and not text:
        return []
    held = card["quantity"].replace(" ", HELD)  # the quantity stays in one piece
    quantity = f" {HELD}{HELD}{held}" if held else ""
    return wrap([(strong, True), (text + quantity, False)], width, board.form.text, 3)


def _operation_rule(board: Board, card: CardSheet, x: float, y: float, width: float) -> None:
    form = board.form
    base = y + board.base(form.text)
    line: Line = [("Operation ", False)]
    write(board.paper, x, base, line, form.text)
    quantity, size = shrink(card["quantity"], width * 0.5, (form.text, form.text), bold=False)
    right = x + width - line_width([(quantity, False)], size)
    board.paper.line(
        x + line_width(line, form.text), base + 0.6 * form.k, right - 2 * form.k, base + 0.6 * form.k
    )
    write(board.paper, right, base, [(quantity, False)], size)


def _hand_width(board: Board, hand: str) -> float:
    return line_width([(hand, True)], board.form.floor) + 4 * board.form.k if hand else 0


def _hand_box(board: Board, hand: str, width: float, y: float) -> None:
    form = board.form
    right, high = form.split - form.pad, form.floor * 1.3 * PT
    board.paper.box(right - width, y + 2 * form.k, width, high, 0.8)
    base = y + 2 * form.k + high / 2 + form.floor * 0.365 * PT
    board.paper.text(right - width / 2, base, hand, form.floor, bold=True, anchor="middle")


def _card_number(board: Board, card: CardSheet, address: str, y: float, height: float) -> None:
    form = board.form
    side = 18.4 * form.k if address else 0  # its own white edge of four squares is in it
    x, width = form.split + form.pad, form.side - 2 * form.pad - side
    number, size = shrink(card["card"], width, (form.text * 1.5, form.text))
    lines = wrap([(card["return_line"], False)], width, form.label, 2)
    at = y + (height - leading(size) - len(lines) * leading(form.label)) / 2
    at = board.stack(x, at, [[(number, True)]], size)
    board.stack(x, at, lines, form.label)
    if address:
        board.paper.squares(_qr(address), form.right - side - 0.5 * form.k, y + (height - side) / 2, side)


def _qr(address: str) -> list[list[int]]:
    import segno

    code = segno.make(address, error="m", micro=False, boost_error=False)
    return [list(row) for row in code.matrix_iter(border=4)]


# ---- blocks ----------------------------------------------------------------------------------------------


def _block_rows(board: Board, blocks: list[Block], most: int) -> list[Band]:
    return [_block_row(board, blocks[first : first + 3], most) for first in range(0, len(blocks), 3)]


def _block_row(board: Board, blocks: list[Block], most: int) -> Band:
    form = board.form
    widths = (form.main / 2, form.main / 2, form.side)
    cells = list(zip(blocks, widths, strict=False))
    height = max(board.block_height(block, width, most) for block, width in cells)

    def draw(y: float, height: float) -> None:
        x = form.left
        for block, width in cells:
            if x > form.left:
                board.upright(x, y, height)
            board.block(block, x, y, width, height, most)
            x += width

    return Band(height, draw)


# ---- figures worked to, and the picture --------------------------------------------------------------------


def _figures(board: Board, found: Plan, y: float) -> None:
    form, each = board.form, found.left / len(found.rows)
    for place, row in enumerate(found.rows):
        top = y + place * each
        if place:
            board.paper.line(form.left, top, form.split, top)
        for column, figure in enumerate(row):
            board.figure(figure, form.left + column * form.main / 2, top, form.main / len(row), each)
        if len(row) == 2:
            board.upright(form.left + form.main / 2, top, each)


def _beside(board: Board, card: CardSheet, y: float, height: float) -> None:
    """The index plate, else the picture of another sum, else rules to sketch on."""
    form, picture = board.form, card.get("picture")
    if card["plate"]:
        _plate(board, card["plate"], y, height)
    elif picture:
        _picture(board, picture, y, height)
    else:
        board.ruled("Sketch, notes", form.split, y, form.side, height)


def _picture(board: Board, picture: Picture, y: float, height: float) -> None:
    form = board.form
    most = form.side - 2 * form.pad
    caption: Line = [(picture["strong"], True), (f" {picture['text']}", False)]
    if line_width(caption, form.label) > most:
        caption = cut(caption[:1], most, form.label)
    drawing, under = pictures.drawing(picture), leading(form.label) + form.pad_y
    room = height - under - 1.6 * form.k
    ratio = drawing.height / drawing.width
    width = min(form.side - 2 * form.pad, room / ratio)
    if width < LEAST_PICTURE:
        board.ruled("Sketch, notes", form.split, y, form.side, height)
        return
    left = form.split + (form.side - width) / 2
    figures.draw(drawing, board.paper, left, y + form.pad_y + (room - width * ratio) / 2, width)
    base = y + height - under + board.base(form.label)
    write(
        board.paper, form.split + (form.side - line_width(caption, form.label)) / 2, base, caption, form.label
    )


def _plate(board: Board, plate: PlatePicture, y: float, height: float) -> None:
    form = board.form
    caption = cut([(plate.get("caption", ""), True)], form.side - form.pad, form.label * 1.1)
    held: PlatePicture = {**plate, "caption": "".join(text for text, _ in caption)}
    drawing = plate_drawing(held, width_mm=57 * form.k, words=False)
    ratio = drawing.height / drawing.width
    width = min(form.side - 2 * form.k, (height - 1.6 * form.k) / ratio)
    left = form.split + (form.side - width) / 2
    figures.draw(drawing, board.paper, left, y + (height - width * ratio) / 2, width)


def plate_drawing(plate: PlatePicture, *, width_mm: float, words: bool) -> figures.Drawing:
    """The drawing of an index plate from its dictionary."""
    second = None
    if "second_circle" in plate:
        second = figures.Move(circle=plate["second_circle"], spaces=plate.get("second_spaces", 0))
    return figures.index_plate(
        face=plate["face"],
        circle=plate["circle"],
        spaces=plate["spaces"],
        turns=plate.get("turns", 0),
        sector_holes=plate.get("sector_holes", 0),
        second=second,
        width_mm=width_mm,
        caption=plate.get("caption", ""),
        words=words,
    )


# ---- foot ------------------------------------------------------------------------------------------------


def _caution(board: Board, card: CardSheet) -> Band:
    form = board.form
    say, width = card["caution"], form.inner_width - 2 * form.pad
    gap = " " if say["strong"] and say["text"] else ""
    lines = wrap([(say["strong"], True), (gap + say["text"], False)], width, form.text, 3)
    height = 2 * form.pad_y + max(1, len(lines)) * leading(form.text)

    def draw(y: float, height: float) -> None:
        if say["strong"] or say["text"]:
            board.stack(form.left + form.pad, y + form.pad_y, lines, form.text)
        else:
            board.block({"label": "Take care", "strong": ""}, form.left, y, form.inner_width, height, 1)

    return Band(height, draw)


def _title_rows(board: Board, card: CardSheet) -> list[Band]:
    title = card["title"]
    first = [("Title", title["title"], 4.6), ("Number", title["number"], 2.8), ("Sheet", title["sheet"], 1.8)]
    second = [
        (title["worked_from"], title["check"], 7.4),
        ("Units", title["units"], 1.8),
        ("By", title["by"], 2.8),
    ]
    return [
        _title_row(board, [*first, ("Printed", title["printed"], 2.8)]),
        _title_row(board, second),
    ]


def _title_row(board: Board, fields: list[tuple[str, str, float]]) -> Band:
    form = board.form

    def draw(y: float, height: float) -> None:
        x = form.left
        for label, value, share in fields:
            width = form.inner_width * share / 12
            if x > form.left:
                board.upright(x, y, height)
            board.field(label, value, x, y, width, height)
            x += width

    return Band(leading(form.label) + leading(form.text) + 1.0 * form.k, draw)
