"""Drawings opened in a process of their own, held to a time: what is in a PDF, and a page as a picture."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from django.core.files.base import File

from buildlog.picture_files import KINDS_KEPT, PictureError, read_picture
from buildlog.sheet_limits import MB, PDF_BYTES, SheetError

LOOK_SECONDS, DRAW_SECONDS = 20, 60
FOLDER = Path(__file__).resolve().parent.parent
ALL_KINDS = "PDF files and JPEG, PNG and WebP pictures are kept"
PDF = "pdf"
#: What the child is told of this process: where programs lie. Keys and passwords stay here.
_TOLD = ("PATH", "SYSTEMROOT", "TEMP", "TMP", "TMPDIR", "LANG", "LC_ALL")
_BEGINNING, _END = 1024, 1024
_MARK = b"\xef\xbb\xbf"  # some programs write it before a file's own beginning


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What a file says of itself."""

    kind: str
    pages: int
    width: int
    height: int
    small: bytes = b""  # what is shown of a picture beside others; a PDF is drawn later


def read_sheet(file: "File[Any]") -> Sheet:
    """Look at a whole file: a PDF in the child, a picture as photos are.

    Raises
    ------
    SheetError
        It is empty, too large, no kind that is kept, locked, or cut short.
    """
    size = file.size or 0
    file.seek(0)
    head = file.read(_BEGINNING)
    if not head.removeprefix(_MARK).lstrip().startswith(b"%PDF-"):
        return _read_picture(file, size)
    if size > PDF_BYTES:
        raise SheetError(
            f"it has {size / MB:.1f} MB, and a PDF may have {PDF_BYTES // MB} MB. Save it with its pictures "
            "reduced, or a page to a file, and choose that."
        )
    _check_end(file, size)
    with _on_disk(file) as path:
        told = _ask("look", str(path), seconds=LOOK_SECONDS)
    return Sheet(kind=PDF, pages=told["pages"], width=told["width"], height=told["height"])


def _read_picture(file: "File[Any]", size: int) -> Sheet:
    try:
        found = read_picture(file, size)
    except PictureError as wrong:
        # Of a drawing a PDF is kept as well, which is not so of a photo.
        raise SheetError(str(wrong).replace(KINDS_KEPT, ALL_KINDS)) from None
    return Sheet(kind=found.kind, pages=1, width=found.width, height=found.height, small=found.small)


def _check_end(file: IO[bytes], size: int) -> None:
    """A PDF says where it ends; one that was cut short may still open, with pages gone."""
    file.seek(max(0, size - _END))
    if b"%%EOF" not in file.read():
        raise SheetError(
            "the PDF is cut short: its end is not there. Copy it again from where it came, or print it to a "
            "new PDF, and choose that."
        )


@contextmanager
def _on_disk(file: "File[Any]") -> Iterator[Path]:
    """Where the file lies; a small one, which the server holds in memory, is written out for the while."""
    lies = getattr(file, "temporary_file_path", None)
    if lies is not None:
        yield Path(lies())
        return
    with tempfile.TemporaryDirectory(prefix="hornplate-") as made:
        path = Path(made) / "sheet"
        with path.open("wb") as copy:
            for chunk in file.chunks():
                copy.write(chunk)
        yield path


def draw_page(path: Path, kind: str, page: int, size: str) -> bytes:
    """One page as a JPEG, drawn in the child; raises SheetError where it cannot be."""
    with tempfile.TemporaryDirectory(prefix="hornplate-") as made:
        target = Path(made) / "page.jpg"
        _ask("draw", str(path), kind, str(page), size, str(target), seconds=DRAW_SECONDS)
        return target.read_bytes()


def _ask(*arguments: str, seconds: int) -> dict[str, Any]:
    """Have the child do it, and give what it answers."""
    command = [sys.executable, "-m", "buildlog.draw_page", *arguments]
    told = {name: os.environ[name] for name in _TOLD if name in os.environ}
    try:
        done = subprocess.run(
            command, cwd=FOLDER, env=told, stdin=subprocess.DEVNULL, capture_output=True, timeout=seconds,
            check=False,
        )  # fmt: skip
        answer: dict[str, Any] = json.loads(done.stdout)
    except subprocess.TimeoutExpired:
        raise SheetError(
            f"it takes longer than {seconds} seconds to open, and was left. Print it to a plainer PDF, or "
            "save it as a picture, and choose that."
        ) from None
    except ValueError:
        # The child was ended by one of its limits, or fell over the file.
        raise SheetError(
            "it could not be opened within the memory and the time that a drawing may take. Print it to a "
            "plainer PDF, or save it as a picture, and choose that."
        ) from None
    if "wrong" in answer:
        raise SheetError(answer["wrong"])
    return answer
