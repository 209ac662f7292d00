"""Is a file what it says it is, whole, and no larger than a parts list: or why it is refused."""

import io
import re
import zipfile
from pathlib import PurePath

MB = 1024 * 1024
CSV_LIMIT = 2 * MB
XLSX_LIMIT = 5 * MB
UNPACKED_LIMIT = 32 * MB
RATIO_LIMIT = 150  # a sheet of a parts list packs ten to thirty times; a bomb a thousand times
ENTRY_LIMIT = 500
TEXT_ENDINGS = (".csv", ".txt", ".tsv")
ENDINGS = (*TEXT_ENDINGS, ".xlsx")
SAVE_AS = "In the program it comes from, choose save as, and XLSX or CSV."

#: How kinds of file begin, and what they are called.
BEGINNINGS = (
    (b"\x7fELF", "a program"),
    (b"%PDF-", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a packed file"),
    (b"7z\xbc\xaf", "a packed file"),
    (b"Rar!", "a packed file"),
    (b"\xca\xfe\xba\xbe", "a program"),
    (b"\xcf\xfa\xed\xfe", "a program"),
    (b"SQLite format 3", "a database"),
    (b"{\\rtf", "a word processor's document"),
)
OTHER_SHEETS = {
    ".xls": "an XLS workbook of the old kind",
    ".ods": "an ODS spreadsheet",
    ".xlsm": "a workbook with macros",
    ".xlsb": "a binary workbook",
    ".numbers": "a Numbers spreadsheet",
}
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


class ListError(ValueError):
    """A list that cannot be taken in; the message says what was found and what to do."""


def checked_kind(name: str, content: bytes) -> str:
    """`csv` or `xlsx`, once ending, size and content agree.

    Raises
    ------
    ListError
        The file is empty, too large, of another kind, cut short, packed to burst or locked.
    """
    ending = PurePath(name).suffix.lower()
    if not content:
        raise ListError("The file is empty. Save the list again and choose that file.")
    if ending in OTHER_SHEETS:
        raise ListError(f"This is {OTHER_SHEETS[ending]}, which is not read here. {SAVE_AS}")
    if ending not in ENDINGS:
        what = f"ends in {ending[:12]}" if ending else "has no ending"
        raise ListError(f"The file {what}; a list ends in .csv or .xlsx. {SAVE_AS}")
    _check_size(ending, len(content))
    if ending == ".xlsx":
        _check_workbook(content)
        return "xlsx"
    _check_text(content)
    return "csv"


def _check_size(ending: str, size: int) -> None:
    limit, kind = (XLSX_LIMIT, "an XLSX") if ending == ".xlsx" else (CSV_LIMIT, "a CSV")
    if size > limit:
        raise ListError(
            f"The file has {size / MB:.1f} MB; {kind} may have {limit // MB} MB. "
            "Take out pictures and other sheets, or bring the list in two halves."
        )


def _named_kind(content: bytes) -> str:
    """What a file is by the way it begins; empty where that tells nothing."""
    if content.startswith(_OLE):
        return "a workbook of the old kind, or one locked by a password"
    if content.startswith(b"PK\x03\x04"):
        return "an XLSX or another packed file"
    if content.startswith(b"MZ") and re.search(rb"[\x00-\x08]", content[:400]):
        return "a program"
    return next((what for start, what in BEGINNINGS if content.startswith(start)), "")


def _check_text(content: bytes) -> None:
    found = _named_kind(content)
    if found:
        raise ListError(
            f"The name ends as a CSV's does, but what is in the file is {found}. "
            f"Choose the list itself, or save it again. {SAVE_AS}"
        )
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return
    place = content.find(b"\x00")
    if place >= 0:
        raise ListError(
            f"There are bytes in the file that no text has (the first at {place + 1:,}), so it is no CSV, "
            "or it is damaged. Save the list again as CSV in UTF-8."
        )


def _check_workbook(content: bytes) -> None:
    if content.startswith(_OLE):
        if "EncryptedPackage".encode("utf-16-le") in content:
            raise ListError(
                "The workbook is locked by a password. Take the password off, save it and choose it again."
            )
        raise ListError(f"The name ends in .xlsx, but the file is an XLS workbook of the old kind. {SAVE_AS}")
    if not content.startswith(b"PK\x03\x04"):
        found = _named_kind(content) or "no workbook: perhaps plain text"
        raise ListError(
            f"The name ends in .xlsx, but what is in the file is {found}. "
            "Choose the list itself; if it is a CSV, let its name end in .csv."
        )
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            _check_archive(archive.infolist())
    except (zipfile.BadZipFile, NotImplementedError, ValueError, OSError) as wrong:
        if isinstance(wrong, ListError):
            raise
        raise ListError(
            "The workbook is cut short or damaged: its end is missing. "
            "Copy or save it again and choose the new one."
        ) from None


def _check_archive(entries: list[zipfile.ZipInfo]) -> None:
    names = {entry.filename for entry in entries}
    unpacked = sum(entry.file_size for entry in entries)
    packed = sum(entry.compress_size for entry in entries) or 1
    if any(entry.flag_bits & 1 for entry in entries):
        raise ListError(
            "The workbook is locked by a password. Take the password off, save it and choose it again."
        )
    if (
        len(entries) > ENTRY_LIMIT
        or unpacked > UNPACKED_LIMIT
        or (unpacked > MB and unpacked / packed > RATIO_LIMIT)
    ):
        raise ListError(
            f"The workbook would unpack to {unpacked / MB:,.0f} MB in {len(entries):,} pieces, far more "
            "than a parts list is. It was not opened. Copy the rows into a new workbook and save that."
        )
    if "mimetype" in names and "content.xml" in names:
        raise ListError(f"The name ends in .xlsx, but the file is an ODS spreadsheet. {SAVE_AS}")
    if "[Content_Types].xml" not in names or "xl/workbook.xml" not in names:
        raise ListError(f"The name ends in .xlsx, but there is no workbook in the file. {SAVE_AS}")
    if any(name.endswith("vbaProject.bin") for name in names):
        raise ListError(
            "The workbook carries macros. Save it as a plain XLSX, without them, and choose that."
        )
