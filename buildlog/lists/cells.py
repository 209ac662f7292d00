"""One cell of a list: what it says, or why it cannot be taken."""

import re
from typing import Literal

from buildlog.lists.columns import BY_KEY, Column
from buildlog.lists.dates import made_date
from buildlog.models import Hand, Kind
from buildlog.numbers import read_hand, read_number, read_split
from buildlog.signs import unseen_sign
from calc.measures import EntryError, Size, parse_size

_SHEET_ERRORS = {"#REF!", "#N/A", "#VALUE!", "#NAME?", "#DIV/0!", "#NUM!", "#NULL!", "#####"}
_QUANTITY = re.compile(r"([0-9]{1,6})(?:\.0+)?\s*(?:off|no\.?|pcs?\.?|pieces?)?", re.I)
_PAIRS = {"B", "BOTH", "PAIR", "LR", "L/R", "L&R", "L+R", "LANDR", "L,R", "RH/LH", "LH/RH"}
KINDS = {
    Kind.CASTING: ("casting", "cast", "castings", "c"),
    Kind.STOCK: ("from stock", "stock", "bar", "from bar", "bar stock", "plate", "machined from stock"),
    Kind.BOUGHT: ("bought", "bought in", "bought out", "buy", "purchased", "purchase", "bought-in", "b"),
    Kind.MADE_UP: (
        "made up",
        "fabricated",
        "fabrication",
        "built up",
        "made-up",
        "assembled",
        "welded",
        "brazed up",
    ),
}
_KIND_OF = {word: kind for kind, words in KINDS.items() for word in words}

Unit = Literal["inch", "mm"]


class CellError(ValueError):
    """A cell that cannot be taken, and why; `column` where it is another than the one being read."""

    def __init__(self, reason: str, column: str = "") -> None:
        super().__init__(reason)
        self.column = column


def same_text(cell: str, stands: str) -> bool:
    """The cell says what the build has, letter by letter; only the ends of lines may differ."""
    return _even(cell) == _even(stands)


def _even(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def plain_cell(column: Column, cell: str) -> str:
    """The text of a cell with its spaces put in order.

    Raises
    ------
    CellError
        There are hidden signs in it, a spreadsheet's error, a date where a figure belongs, or too many signs.
    """
    text = _even(cell).strip() if column.field == "notes" else " ".join(cell.split())
    if not text:
        return ""
    unseen = unseen_sign(text)
    if unseen:
        raise CellError(
            f"there is an unseen sign in it ({unseen}), which turns or breaks the text. "
            "Clear the cell and type it again."
        )
    if text in _SHEET_ERRORS:
        raise CellError(f"a spreadsheet could not work this cell out and wrote {text}. Type what is meant.")
    made = made_date(text) if column.figures else None
    if made:
        raise CellError(made.reason)
    if len(text) > column.limit:
        what = "Put the rest in the notes." if column.field in ("name", "material") else "Shorten it."
        raise CellError(f"{len(text)} signs; at most {column.limit} are kept. {what}")
    return text


def read_field(column: Column, cell: str, unit: Unit) -> str:
    """What a cell puts into a field of a part.

    Raises
    ------
    CellError
        The cell cannot be taken.
    """
    text = plain_cell(column, cell)
    if column.field == "kind":
        return read_kind(text)
    if column.field == "leading_size" and text:
        read_size(text, unit)
    return text


def read_size(text: str, unit: Unit) -> Size:
    try:
        return parse_size(text, unit)
    except EntryError as wrong:
        raise CellError(wrong.message) from None


def size_echo(text: str, unit: Unit) -> str:
    """How a leading size is read, for the builder to see before anything depends on it."""
    try:
        size = parse_size(text, unit)
    except EntryError:
        return ""
    return f"{text} read as {size.measure.echo()}" if size.measure else ""


def read_kind(text: str) -> str:
    word = text.casefold().strip(" .")
    if not word:
        return ""
    if word not in _KIND_OF:
        raise CellError(f"“{text[:30]}” is none of casting, from stock, bought, made up. Write one of these.")
    return str(_KIND_OF[word])


def read_key(number_cell: str, hand_cell: str) -> tuple[str, str]:
    """The number and hand a row is about.

    Raises
    ------
    CellError
        It is no part number, or number and hand disagree.
    """
    text = plain_cell(BY_KEY["number"], number_cell)
    if not text:
        raise CellError("a row needs a part number, as S-016.")
    try:
        number, named = read_number(text)
    except ValueError as wrong:
        raise CellError(str(wrong)) from None
    try:
        hand = read_hand_cell(hand_cell)
    except CellError as wrong:
        raise CellError(str(wrong), "hand") from None
    if hand and named and hand != named:
        raise CellError(
            f"the number names the {Hand(named).label} hand, the column hand the "
            f"{Hand(hand).label}. Mend one of them."
        )
    return number, named or hand


def read_hand_cell(cell: str) -> str:
    text = plain_cell(BY_KEY["hand"], cell)
    hand = read_hand(text)
    if hand is not None:
        return hand
    if re.sub(r"\s", "", text).upper() in _PAIRS:
        raise CellError(
            f"“{text[:20]}” is two parts. Leave the hand empty and write the quantity as 2 (1L 1R): "
            "that makes two records, left and right."
        )
    raise CellError(f"“{text[:20]}” is no hand. Write L or R, or leave it empty.")


def read_quantity(cell: str) -> int | dict[str, int] | None:
    """How many: a number, `{"L": 1, "R": 1}` for both hands, or None for an empty cell.

    Raises
    ------
    CellError
        It is neither.
    """
    text = plain_cell(BY_KEY["quantity"], cell)
    if not text:
        return None
    try:
        split = read_split(text)
    except ValueError as wrong:
        raise CellError(str(wrong)) from None
    if split:
        return split
    match = _QUANTITY.fullmatch(text)
    if not match or not 1 <= int(match[1]) <= 9_999:
        raise CellError(
            f"“{text[:20]}” is no number of pieces: write a whole number from 1 to 9999, or 2 (1L 1R)."
        )
    return int(match[1])
