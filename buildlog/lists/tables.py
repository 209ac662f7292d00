"""A file's cells before anything is made of them."""

from collections.abc import Iterator
from dataclasses import dataclass

#: More columns than this are no parts list.
COLUMN_LIMIT = 40


@dataclass(frozen=True)
class Table:
    """The cells of a file, row by row, with the number a spreadsheet gives each row."""

    how: str  # "read as UTF-8, separated by semicolons"
    rows: Iterator[tuple[int, list[str]]]
    is_ragged_wrong: bool  # in a CSV a missing cell means a missing separator; in a sheet it is an empty one
    remarks: tuple[str, ...] = ()
