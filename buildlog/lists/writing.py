"""The parts of a build as a list again: CSV and XLSX that come back in unchanged."""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from copy import copy
from typing import Any

from buildlog import clock
from buildlog.lists.columns import KEYS
from buildlog.lists.formulas import disarmed
from buildlog.models import Build, Part

HEADINGS = tuple(key.capitalize() for key in KEYS)
_WIDTHS = {
    "number": 12, "hand": 7, "name": 34, "assembly": 11, "quantity": 10, "kind": 12, "material": 24,
    "leading size": 22, "sheet": 9, "casting number": 16, "notes": 60,
}  # fmt: skip
# What XML 1.0 cannot carry, and with it no XLSX.
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")

#: A first list, to be filled: the columns most builders begin with.
SAMPLE_HEADINGS = (
    "Number",
    "Hand",
    "Name",
    "Assembly",
    "Quantity",
    "Kind",
    "Material",
    "Leading size",
    "Sheet",
)
SAMPLE = (
    ("H-014", "L", "Hornplate", "Hornplates", "1", "from stock", "steel", "3/16 in thick", "7 A"),
    ("H-014", "R", "Hornplate", "Hornplates", "1", "from stock", "steel", "3/16 in thick", "7 A"),
    ("FW-004", "", "Spoke", "Front wheels", "24", "from stock", "steel", "1/2 in wide", "4 B"),
    ("CY-002", "", "Steam-chest cover", "Cylinder", "1", "casting", "cast iron", "6 1/4 in long", "16 A"),
    ("ST-012", "", "Stud 2 BA", "Cylinder", "8", "from stock", "steel", "5/8 in long", "16 A"),
    ("ST-012", "", "Stud 2 BA", "Feed pump", "6", "from stock", "steel", "5/8 in long", "16 A"),
)


def list_rows(build: Build) -> Iterator[list[str]]:
    """The parts of a build, one row for each place where one is used, in the order of our columns."""
    for part in build.parts.live().prefetch_related("uses__assembly"):
        uses = sorted(part.uses.all(), key=lambda use: (use.assembly.balloon_key, use.assembly.code))
        yield from (_row(part, use.assembly.code, str(use.quantity)) for use in uses)
        if not uses:
            yield _row(part, "", "")


def _row(part: Part, assembly: str, quantity: str) -> list[str]:
    return [
        part.number,
        part.hand,
        part.name,
        assembly,
        quantity,
        part.kind,
        part.material,
        part.leading_size,
        part.sheet,
        part.casting_number,
        part.notes,
    ]


def csv_bytes(headings: Sequence[str], rows: Iterator[list[str]] | Sequence[Sequence[str]]) -> bytes:
    """A CSV in UTF-8 with its mark, commas, CRLF: what the usual spreadsheets open with every sign right."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(headings)
    writer.writerows([disarmed(cell) for cell in row] for row in rows)
    return text.getvalue().encode("utf-8-sig", "replace")


def xlsx_bytes(title: str, rows: Iterator[list[str]]) -> bytes:
    """A workbook of one sheet in which every cell is text, so that 3/16 and 007 stay what they are."""
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    book = Workbook(write_only=True)
    sheet = book.create_sheet(_sheet_name(title))
    sheet.freeze_panes = "A2"
    for place, key in enumerate(KEYS, 1):
        column = sheet.column_dimensions[get_column_letter(place)]
        column.width = _WIDTHS[key]
        column.number_format = "@"
    heading, plain = WriteOnlyCell(sheet), WriteOnlyCell(sheet)
    heading.font = Font(bold=True)
    plain.alignment = Alignment(wrap_text=True, vertical="top")

    def cell(text: str, like: Any) -> Any:
        made = WriteOnlyCell(sheet, _NOT_IN_XML.sub("\ufffd", text))
        # Text, whatever openpyxl takes it for: it would make a formula of what begins with =.
        made.data_type = "s"
        # The style is worked out once and copied: set piece by piece it costs more than all the rest.
        made._style = copy(like._style)
        return made

    heading.number_format = plain.number_format = "@"
    sheet.append([cell(text, heading) for text in HEADINGS])
    for row in rows:
        sheet.append([cell(text, plain) for text in row])
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def _sheet_name(title: str) -> str:
    return re.sub(r"[\\/*?:\[\]\x00-\x1f'\ufffe\uffff]", " ", f"{title} parts").strip()[:31] or "Parts"


def file_name(build: Build, ending: str) -> str:
    """`Marlpit parts 2026-03-14.csv`: the build and the day, with no sign a file system trips over."""
    name = re.sub(r'[\\/:*?"<>|\x00-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069]+', " ", build.name)
    name = " ".join(name.split()).strip(". ") or "Build"
    return f"{name} parts {clock.today().isoformat()}.{ending}"
