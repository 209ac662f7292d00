"""The first sheet of an XLSX as rows of text."""

import io
import warnings
from collections.abc import Iterator
from datetime import date, datetime, time
from decimal import Decimal
from math import isfinite
from typing import Any

from buildlog.lists.files import ListError
from buildlog.lists.tables import COLUMN_LIMIT, Table

LAST_ROW = 1_048_576  # of any sheet; past it a file tells stories


def workbook_table(content: bytes) -> Table:
    """The cells of the first sheet that is not hidden, as they are shown there."""
    sheet, others = _first_sheet(content)
    remarks = (
        (f"{others} more {'sheet' if others == 1 else 'sheets'} in the workbook not read",) if others else ()
    )
    return Table(
        f"read as XLSX, sheet “{sheet.title[:60]}”", _rows(sheet), is_ragged_wrong=False, remarks=remarks
    )


def _first_sheet(content: bytes) -> tuple[Any, int]:
    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            # Formatting that openpyxl does not know is no matter for a list.
            warnings.simplefilter("ignore")
            book = load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False)
    except Exception as wrong:
        # openpyxl lets every kind of error through from a damaged or hostile workbook.
        raise _unreadable() from wrong
    sheets = [sheet for sheet in book.worksheets if sheet.sheet_state == "visible"]
    if not sheets:
        raise ListError(
            "There is no sheet with cells in the workbook. Put the list on a sheet and save it again."
        )
    sheets[0].reset_dimensions()  # what a file says of its own size is not to be believed
    return sheets[0], len(sheets) - 1


def _rows(sheet: Any) -> Iterator[tuple[int, list[str]]]:
    rows = sheet.iter_rows(max_col=COLUMN_LIMIT + 1, max_row=LAST_ROW)
    line = 0
    while True:
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                cells = next(rows)
        except StopIteration:
            return
        except Exception as wrong:
            raise _unreadable() from wrong
        line += 1
        yield line, [cell_text(cell) for cell in cells]


def _unreadable() -> ListError:
    return ListError(
        "The workbook cannot be read: it is damaged, or holds what no list has. "
        "Copy the rows into a new workbook and save that."
    )


def cell_text(cell: Any) -> str:
    """What a cell holds, as text: whole numbers without a point, dates as 2026-03-16."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number_text(value, str(getattr(cell, "number_format", "")))
    if isinstance(value, datetime):
        is_day = value.time() == time()
        return value.date().isoformat() if is_day else value.isoformat(" ", "minutes")
    if isinstance(value, date):
        return value.isoformat()
    return str(value)


def _number_text(value: float, shown_as: str) -> str:
    if not isfinite(value):
        return str(value)
    if value == int(value) and abs(value) < 1e15:
        text = str(int(value))
        # A column set to show 007 shows it for the number 7.
        return text.zfill(len(shown_as)) if shown_as and set(shown_as) == {"0"} else text
    # Fifteen figures are what a spreadsheet keeps; more would show the error of the last.
    return f"{Decimal(f'{value:.15g}'):f}"
