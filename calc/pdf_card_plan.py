"""How a work card parts its height: what each half needs, what comes first, what there is no room for."""

from dataclasses import dataclass, field, replace

from calc.pdf_board import Board, Format
from calc.pdf_card_tables import least, tables_height
from calc.pdf_paper import text_width
from calc.pdf_text import leading, wrap
from calc.sheets import (
    NOTE_LINES,
    BigFigure,
    CardSheet,
    LeftOff,
    SizeWanted,
    WriteIn,
    boxes_for_passes,
    size_words,
    tally_plan,
)

#: How generous the upper half may be, from the first that leaves the lower its room: the most lines in a
#: block, the height of the picture. [mm of A4]
ROOMS = ((6, 60), (6, 54), (6, 46), (4, 46), (3, 46), (2, 46))
#: The picture where the right-hand column is short of room, and the tightest of all. [mm of A4]
LEAST_PICTURES = (46, 40)
#: How high a row of the tally is at the least, to be ticked by hand. [mm of A4]
TALLY_ROW = 4.6
#: Rules to write on where there is no tally, and under a table. [mm of A4]
RULED, RULED_UNDER = 24, 12
#: What the lower half is given where there is room: to sketch, to write. [mm of A4]
WRITING = 100


@dataclass(frozen=True, slots=True)
class Plan:
    """Where the card is parted, and what stands on it."""

    most: int  # lines in a block
    rows: list[list[BigFigure]]
    left: float  # height of the figures worked to [mm]
    right: float  # height of the picture beside them [mm]
    sizes: list[SizeWanted]
    tables: int = 0  # how many of the tables, from the first
    left_off: list[LeftOff] = field(default_factory=list)


def plan(board: Board, card: CardSheet, middles: dict[int, float]) -> Plan:
    """The most generous plan in which all has room; else one that says what is left off.

    Figures and picture end on one line where they can. Where the sizes would have no room, each column is
    parted by itself. What still finds no room is left off from the end of the figures and of the sizes.

    Parameters
    ----------
    middles : dict
        The height between head and foot, by the most lines in a block. [mm]
    """
    tally = card["tally"]
    found = _with_all(board, card, middles)
    if not found and card.get("tables"):
        # A table says itself how many of its rows are here, so it gives way before anything is left off.
        card = {**card, "tables": [least(table) for table in card["tables"]]}
        found = _with_all(board, card, middles)
        if found:  # the figures keep to their own height, so that more rows have room
            found = replace(found, left=len(found.rows) * board.figure_height())
    if found or not tally or not tally.get("passes"):
        return found or _cut_down(board, card, middles)
    without: LeftOff = {"what": boxes_for_passes(tally), "of": tally.get("of", "")}
    bare: CardSheet = {**card, "tally": {**tally, "passes": 0}}
    found = _with_all(board, bare, middles) or _cut_down(board, bare, middles)
    if not without["of"]:
        return found
    found, boxed = replace(found, left_off=[*found.left_off, without]), _cut_down(board, card, middles)
    return found if len(found.left_off) < len(boxed.left_off) else boxed


def _with_all(board: Board, card: CardSheet, middles: dict[int, float]) -> Plan | None:
    """The most generous plan with room for everything; None where there is none."""
    rows, k = figure_rows(board, card["figures"]), board.form.k
    figures, count = len(rows) * board.figure_height(), len(card.get("tables") or [])
    needs = left_need(board, card), _right_need(board, card)
    for most, picture in ROOMS:
        high = max(figures, picture * k) if rows else 0
        if middles[most] - high >= max(*needs, WRITING * k):
            return Plan(most, rows, high, high, card["sizes"], count)
    for most, picture in ((most, picture) for most in (4, 3, 2) for picture in LEAST_PICTURES):
        high = picture * k if rows and has_picture(card) else 0
        if middles[most] - figures >= needs[0] and middles[most] - high >= needs[1]:
            return _parted(
                board, card, Plan(most, rows, figures, high, card["sizes"], count), middles[most], needs
            )
    return None


def _parted(board: Board, card: CardSheet, found: Plan, middle: float, needs: tuple[float, float]) -> Plan:
    """Level after all where both columns allow one line; else the picture as high as the sizes leave it."""
    low, high = max(found.left, found.right), min(middle - needs[0], middle - needs[1])
    if low <= high:
        return replace(found, left=low, right=low)
    right = min(middle - needs[1], ROOMS[0][1] * board.form.k) if has_picture(card) else 0
    return replace(found, right=right)


def _cut_down(board: Board, card: CardSheet, middles: dict[int, float]) -> Plan:
    """What there is room for: tables, then figures and sizes are left off, each from the end."""
    most, picture = ROOMS[-1][0], LEAST_PICTURES[-1] * board.form.k
    figures, without, each = list(card["figures"]), list[LeftOff](), board.figure_height()
    right = picture if card["figures"] and has_picture(card) else 0
    tables = list(card.get("tables") or [])
    while tables and middles[most] - len(figure_rows(board, figures)) * each < left_need(board, card):
        last_table = tables.pop()
        without.insert(0, {"what": last_table["title"], "of": last_table.get("of", "")})
        card = {**card, "tables": tables}
    while figures and middles[most] - len(figure_rows(board, figures)) * each < left_need(board, card):
        last = figures.pop()
        if last["value"]:  # a rule to write on says nothing that is missed
            without.insert(0, {"what": last["label"], "of": last.get("of", "")})
    room = middles[most] - right - _right_need(board, {**card, "sizes": []})
    sizes, fit = card["sizes"], max(1, int(room / size_height(board.form)))
    if len(sizes) > fit:
        without += [_unshown(size) for size in sizes[fit - 1 :]]
        rest = f"{len(sizes) - fit + 1} more"
        sizes = [*sizes[: fit - 1], {"wanted": rest, "note": "see the kept sum"}]
    rows = figure_rows(board, figures)
    return Plan(most, rows, len(rows) * each, right, sizes, len(tables), without)


def _unshown(size: SizeWanted) -> LeftOff:
    return {"what": size_words(size), "of": size.get("of", "")}


def has_picture(card: CardSheet) -> bool:
    return bool(card["plate"] or card.get("picture"))


# ---- figures ---------------------------------------------------------------------------------------------


def figure_rows(board: Board, figures: list[BigFigure]) -> list[list[BigFigure]]:
    """Two figures to a row; a wide one, or one too long for half, has a row to itself."""
    rows: list[list[BigFigure]] = []
    for figure in figures:
        if not _alone(board, figure) and rows and len(rows[-1]) == 1 and not _alone(board, rows[-1][0]):
            rows[-1].append(figure)
        else:
            rows.append([figure])
    return rows


def _alone(board: Board, figure: BigFigure) -> bool:
    return figure.get("wide", False) or board.figure_width(figure) > board.form.main / 2


def clipped(board: Board, rows: list[list[BigFigure]]) -> list[LeftOff]:
    """Figures that are too long for the paper even with a row to themselves."""
    return [
        {"what": figure["label"], "of": figure.get("of", "")}
        for row in rows
        for figure in row
        if board.figure_width(figure) > board.form.main and figure["value"]
    ]


# ---- what each column needs under its top ----------------------------------------------------------------


def left_need(board: Board, card: CardSheet) -> float:
    """Proof, notes and a tally that can be ticked by hand; with no tally, rules to write on. [mm]"""
    form, tally = board.form, card["tally"]
    said = [*([card["proof"]] if card["proof"] else []), *card["notes"]]
    width = form.main - 2 * form.pad
    lines = sum(
        len(
            wrap(
                [(say["strong"], True), (f" {say['text']}", False)],
                width,
                form.text,
                say.get("lines", NOTE_LINES),
            )
        )
        for say in said
    )
    tables = card.get("tables") or []
    need = lines * leading(form.text) + 2 * form.pad_y + tables_height(board, tables)
    if not tally:
        return need + (RULED_UNDER if tables else RULED) * form.k
    home = [(tally["home_line"]["strong"], True), (f" {tally['home_line']['text']}", False)]
    under = len(wrap(home, width, form.text, 2)) * leading(form.text)
    per_box, per_row = tally_plan(tally["count"])
    rows, low = -(-tally["count"] // per_row), TALLY_ROW * form.k
    if tally.get("passes") and per_box == 1:
        low = max(low, cells_height(form))
    return need + under + 2.1 * leading(form.label) + rows * low + 1.5 * form.k


def cells_height(form: Format) -> float:
    """The least height of a box with small boxes for its passes in it. [mm]"""
    return leading(form.label) + 3 * form.k


def size_height(form: Format) -> float:
    """The least that one size takes: what is wanted, and of what. [mm]"""
    return leading(form.text * 1.12) + leading(form.label) + 0.3 * form.k


def writes_height(form: Format, writes: list[WriteIn]) -> float:
    """What the places to write under the sizes take. [mm]"""
    return (
        sum(leading(form.label) + 0.6 * form.k + item["lines"] * 9 * form.k for item in writes) + 1.5 * form.k
    )


def _right_need(board: Board, card: CardSheet) -> float:
    form = board.form
    head = leading(form.label) + 0.8 * form.k
    return head + len(card["sizes"]) * size_height(form) + writes_height(form, card["writes"])


def sizes_width(form: Format) -> float:
    """The column of the sizes wanted; what is left of the side is for those reached. [mm]"""
    return form.side * 0.66


def overlong_sizes(board: Board, sizes: list[SizeWanted]) -> list[LeftOff]:
    """Sizes that are too long for their column at the least size of type."""
    form = board.form
    width = sizes_width(form) - 2.7 * form.k
    return [_unshown(size) for size in sizes if text_width(size["wanted"], form.text, True) > width]
