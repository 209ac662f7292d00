"""Lists as files, made for the tests: text, workbooks, workbooks with pieces changed."""

import io
import zipfile

import pytest
from openpyxl import Workbook

from buildlog.lists.files import ListError
from buildlog.lists.reading import ReadList, read_list

HEAD = "Number,Name,Leading size\r\n"


def read_text(text: str, encoding: str = "utf-8", name: str = "parts.csv") -> ReadList:
    return read_list(name, text.encode(encoding))


def workbook(*rows: list[object], **sheets: list[list[object]]) -> bytes:
    book = Workbook()
    sheet = book.active
    sheet.title = "Parts"
    for row in rows:
        sheet.append(row)
    for title, others in sheets.items():
        more = book.create_sheet(title)
        for row in others:
            more.append(row)
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def rezipped(content: bytes, **changes: bytes) -> bytes:
    """A workbook with some of its pieces put in or replaced."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            if entry.filename not in changes:
                new.writestr(entry.filename, old.read(entry.filename))
        for name, piece in changes.items():
            new.writestr(name, piece)
    return made.getvalue()


def refused(name: str, content: bytes) -> str:
    with pytest.raises(ListError) as wrong:
        read_list(name, content)
    return str(wrong.value)
