"""From the bytes of a file to the rows of a list, and how it was read."""

import codecs
import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from buildlog.lists.columns import COLUMNS, Headings, read_headings
from buildlog.lists.files import ListError, checked_kind
from buildlog.lists.formulas import disarm_undone
from buildlog.lists.tables import COLUMN_LIMIT, Table
from buildlog.lists.workbooks import workbook_table

ROW_LIMIT = 5_000
CELL_LIMIT = 2_000
HEADINGS_WITHIN = 20
SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
UNDEFINED_1252 = "\x81\x8d\x8f\x90\x9d"


@dataclass(frozen=True)
class ReadRow:
    """One row as it was read: the cells of our columns, and what is wrong with the row as a whole."""

    line: int
    cells: dict[str, str]
    fault: str = ""


@dataclass(frozen=True)
class ReadList:
    """A list as it was read; nothing of it has been held against the build yet."""

    how: str
    columns: tuple[str, ...]
    aside: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    rows: list[ReadRow] = field(default_factory=list)

    def as_json(self) -> dict[str, Any]:
        """The list as a draft keeps it."""
        return {
            "columns": list(self.columns),
            "aside": list(self.aside),
            "remarks": list(self.remarks),
            "rows": [[row.line, row.cells, row.fault] for row in self.rows],
        }

    @classmethod
    def from_json(cls, how: str, kept: dict[str, Any]) -> "ReadList":
        """The list a draft has kept."""
        rows = [ReadRow(line, cells, fault) for line, cells, fault in kept["rows"]]
        return cls(how, tuple(kept["columns"]), tuple(kept["aside"]), tuple(kept["remarks"]), rows)


def read_list(name: str, content: bytes) -> ReadList:
    """Read a file as a parts list.

    Raises
    ------
    ListError
        The file is no list that can be read; the message says what was found and what to do.
    """
    if checked_kind(name, content) == "xlsx":
        return list_of(workbook_table(content))
    return list_of(text_table(content))


def list_of(table: Table) -> ReadList:
    """Find the headings and sort the cells below them into our columns."""
    headings, width, skipped = _find_headings(table.rows)
    rows: list[ReadRow] = []
    for line, cells in table.rows:
        if not any(cell.strip() for cell in cells):
            continue
        if len(rows) == ROW_LIMIT:
            raise ListError(
                f"The list has more than {ROW_LIMIT:,} rows; the most that is taken in at once is "
                f"{ROW_LIMIT:,}. "
                "Bring it in two halves."
            )
        rows.append(_read_row(line, cells, headings, width if table.is_ragged_wrong else None))
    if not rows:
        raise ListError(
            "There are headings in the file and no rows below them. Write at least one part under them, "
            "save it and choose the file again."
        )
    above = (
        (f"{skipped} {'row' if skipped == 1 else 'rows'} above the headings left aside",) if skipped else ()
    )
    count = f"{len(rows):,} {'row' if len(rows) == 1 else 'rows'}"
    return ReadList(f"{table.how}, {count}", headings.keys, headings.aside, (*table.remarks, *above), rows)


def _find_headings(rows: Iterator[tuple[int, list[str]]]) -> tuple[Headings, int, int]:
    """The headings, how many cells they are, and how many rows stand above them."""
    seen: list[list[str]] = []
    for _, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        headings = read_headings(cells)
        if "number" in headings.keys:
            _check_headings(headings, cells)
            width = max(place for place, cell in enumerate(cells, 1) if cell.strip())
            return headings, width, len(seen)
        seen.append(cells)
        if len(seen) == HEADINGS_WITHIN:
            break
    if not seen:
        raise ListError("There is nothing in the file but empty rows. Choose the list itself.")
    first = ", ".join(f"“{cell.strip()[:30]}”" for cell in seen[0] if cell.strip())
    raise ListError(
        f"No column is headed number. The first row reads {first[:300]}. Write headings over the columns: "
        f"{', '.join(column.key for column in COLUMNS)}; number is the one that is always needed."
    )


def _check_headings(headings: Headings, cells: Sequence[str]) -> None:
    if headings.twice:
        raise ListError(
            f"Two columns mean the same: {'; '.join(headings.twice)}. Take one away or name it otherwise."
        )
    if len(cells) > COLUMN_LIMIT and any(cell.strip() for cell in cells[COLUMN_LIMIT:]):
        raise ListError(
            f"The list has {len(cells)} columns; at most {COLUMN_LIMIT} are read. "
            "Take out those that are not needed."
        )


def _read_row(line: int, cells: Sequence[str], headings: Headings, width: int | None) -> ReadRow:
    found = {key: cells[place] if place < len(cells) else "" for place, key in headings.places.items()}
    fault = ""
    if width is not None and len(cells) < width:
        fault = (
            f"This row has {len(cells)} of {width} cells, so some are missing at its end. "
            "Fill it up with separators, even where cells stay empty."
        )
    elif width is not None and any(cell.strip() for cell in cells[width:]):
        fault = (
            f"This row has {len(cells)} cells under {width} headings. "
            "A separator that belongs to the text wants quotation marks round the cell."
        )
    too_long = [key for key, text in found.items() if len(text) > CELL_LIMIT]
    for key in too_long:
        fault = (
            fault or f"Column {key}: {len(found[key]):,} signs in one cell; at most {CELL_LIMIT:,} are read."
        )
        found[key] = found[key][:60]
    return ReadRow(line, found, fault)


def text_table(content: bytes) -> Table:
    """The cells of a CSV in any usual encoding and separator."""
    text, encoding = decoded(content)
    remarks: tuple[str, ...] = ()
    if any(sign in text for sign in UNDEFINED_1252) and encoding == "Windows-1252":
        remarks = ("some bytes stand for no sign in Windows-1252: look for gaps in the names",)
    told = re.match(r"sep=([,;\t|])\r?\n", text, re.I)
    separator = told[1] if told else choose_separator(text)
    _check_whole(text, separator)
    how = f"read as {encoding}, separated by {SEPARATORS[separator]}"
    rows = _csv_rows(text, separator)
    if told:
        next(rows)
    return Table(how, rows, is_ragged_wrong=True, remarks=remarks)


def decoded(content: bytes) -> tuple[str, str]:
    """The text of a file and the name of its encoding, always decided the same way.

    A mark at the start settles it; else UTF-8 if every byte fits, else Windows-1252.
    """
    for mark, codec, name in (
        (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
        (codecs.BOM_UTF32_LE, "utf-32", "UTF-32"),
        (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
        (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
    ):
        if content.startswith(mark):
            try:
                return content.decode(codec), name
            except UnicodeDecodeError as wrong:
                raise _cut_short(f"byte {wrong.start + 1:,} does not fit {name}") from None
    try:
        return content.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError as wrong:
        before = content[: wrong.start]
        if wrong.reason == "unexpected end of data" and not before.isascii():
            raise _cut_short("it ends in the middle of a sign") from None
    return content.decode("latin-1").translate(_FROM_LATIN_1), "Windows-1252"


#: Windows-1252 is Latin-1 but for 32 places, five of which stand for nothing and are kept as they are.
_FROM_LATIN_1 = {
    place: bytes([place]).decode("cp1252") for place in range(0x80, 0xA0) if chr(place) not in UNDEFINED_1252
}


def _cut_short(how: str) -> ListError:
    return ListError(f"The file is cut short or damaged: {how}. Save the list again and choose the new file.")


def choose_separator(text: str) -> str:
    """The separator under which the most headings are known; commas before semicolons, tabs and strokes."""

    def known(separator: str) -> int:
        rows = csv.reader(io.StringIO(text[:200_000], newline=""), delimiter=separator)
        try:
            return max(
                (len(read_headings(cells).places) for cells in islice(rows, HEADINGS_WITHIN)), default=0
            )
        except csv.Error:
            return 0

    return max(SEPARATORS, key=known)


def _check_whole(text: str, separator: str) -> None:
    """Every quotation mark that opens a cell closes it again, before the file ends."""
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    whole = 0
    try:
        for _ in rows:
            whole += 1
    except csv.Error as wrong:
        at = f"in row {whole + 1}"
        if "end of data" in str(wrong) or "field larger" in str(wrong):
            raise _cut_short(f"a quotation mark opens a cell {at} and nothing closes it") from None
        raise ListError(
            f"A cell {at} begins with a quotation mark and goes on after the next one. Where quotation marks "
            'belong to the text, as in 5/8", write each of them twice, or save the list again '
            "from the spreadsheet."
        ) from None


def _csv_rows(text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    for line, cells in enumerate(rows, 1):
        yield line, [disarm_undone(cell) for cell in cells]
