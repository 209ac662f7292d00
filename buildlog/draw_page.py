"""The child process that opens drawings: how many pages a PDF has, and one page drawn as a JPEG.

A file that somebody made to do harm, or that is merely huge, spoils this process and not the site.
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from buildlog.sheet_limits import LONGEST, SheetError, check_count, check_pages, scale_to

if TYPE_CHECKING:
    from PIL.Image import Image
    from pypdfium2 import PdfDocument

#: What this process may take: memory in bytes, seconds of work.
MEMORY = 2 * 1024**3
WORK_SECONDS = 60
#: FPDF_GetLastError of PDFium: a password is wanted, or the way of locking is not known.
_LOCKED = (4, 5)
QUALITY = 88


def main(arguments: list[str]) -> int:
    """`look FILE` or `draw FILE KIND PAGE SIZE TARGET`; the answer is one line of JSON."""
    limit()
    try:
        told = _COMMANDS[arguments[0]](*arguments[1:])
    except SheetError as wrong:
        told = {"wrong": str(wrong)}
    except MemoryError:
        told = {"wrong": "it takes more memory than a drawing may take. Save it smaller, and choose that."}
    sys.stdout.write(json.dumps(told))
    return 0


def limit() -> None:
    """Hold this process to its memory and its time, where the system can."""
    try:
        import resource
    except ImportError:  # Windows has no such limits; the time is still kept by who waits for the answer.
        return
    wanted = ((resource.RLIMIT_AS, MEMORY), (resource.RLIMIT_CPU, WORK_SECONDS), (resource.RLIMIT_CORE, 0))
    for what, most in wanted:
        try:
            hard = resource.getrlimit(what)[1]
            resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))
        except (ValueError, OSError):
            continue  # A system that knows the limit and does not let it be set.


def look(path: str) -> dict[str, Any]:
    """How many pages, and how large the first is, of a PDF that can be opened."""
    with _opened(path) as document:
        check_count(len(document))
        sizes = [_size(document, place) for place in range(len(document))]
    check_pages(sizes)
    width, height = sizes[0]
    return {"pages": len(sizes), "width": max(1, round(width)), "height": max(1, round(height))}


def draw(path: str, kind: str, page: str, size: str, target: str) -> dict[str, Any]:
    """Write one page of a file as a JPEG."""
    longest = LONGEST[size]
    drawn = _pdf_page(path, int(page), longest) if kind == "pdf" else _picture(path, longest)
    drawn.save(target, "JPEG", quality=QUALITY, subsampling=0)
    return {"width": drawn.width, "height": drawn.height}


def _opened(path: str) -> "PdfDocument":
    from pypdfium2 import PdfDocument, PdfiumError

    try:
        return PdfDocument(path)
    except PdfiumError as error:
        if error.err_code in _LOCKED:
            raise SheetError(
                "it is locked with a password, and a locked file cannot be shown. Open it with the password, "
                "save or print it as a PDF without one, and choose that."
            ) from None
        raise SheetError(_DAMAGED) from None


_DAMAGED = (
    "the PDF is cut short or damaged: it cannot be opened. Copy it again from where it came, or print it to "
    "a new PDF, and choose that."
)


def _size(document: "PdfDocument", place: int) -> tuple[float, float]:
    from pypdfium2 import PdfiumError

    try:
        width, height = document.get_page_size(place)
    except PdfiumError:
        raise SheetError(_DAMAGED) from None
    return width, height


def _pdf_page(path: str, page: int, longest: int) -> "Image":
    from pypdfium2 import PdfiumError

    with _opened(path) as document:
        size = _size(document, page - 1)
        check_pages([size])
        try:
            bitmap = document[page - 1].render(scale=scale_to(*size, longest), may_draw_forms=False)
        except PdfiumError:
            raise SheetError(f"page {page} cannot be drawn: it is damaged.") from None
        image: Image = bitmap.to_pil().convert("RGB")
    return image


def _picture(path: str, longest: int) -> "Image":
    from buildlog.picture_files import PictureError, drawn_from

    with Path(path).open("rb") as file:
        try:
            return drawn_from(file, lambda width, height: min(1, scale_to(width, height, longest)))
        except PictureError as wrong:
            raise SheetError(str(wrong)) from None


_COMMANDS: dict[str, Callable[..., dict[str, Any]]] = {"look": look, "draw": draw}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
