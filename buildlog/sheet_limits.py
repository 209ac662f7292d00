"""How large a drawing may be, and how large it is drawn; the standard library only, for the child process."""

import math

MB = 1024 * 1024
PDF_BYTES = 100 * MB
#: ISO 32000-1:2008, annex C: a page of a PDF is at most 14,400 points each way, which is 200 inches.
#: The figure is from memory of the standard.
MOST_POINTS = 14_400
#: A file with more pages than this is a book and no drawing.
MOST_PAGES = 500
#: A page is drawn at no more pixels than this, whatever is asked for.
MOST_DRAWN = 40_000_000
#: The longer side of what is shown, in pixels: beside others, alone on a page, and for its small print.
LONGEST = {"small": 400, "full": 4000, "sharp": 8000}


class SheetError(ValueError):
    """A file that cannot be kept or shown as a drawing; the message says what was found and what to do."""


def scale_to(width: float, height: float, longest: int) -> float:
    """By how much a page is enlarged to be `longest` pixels on its longer side, within the most drawn."""
    return min(longest / max(width, height), math.sqrt(MOST_DRAWN / (width * height)))


def check_pages(sizes: "list[tuple[float, float]]") -> None:
    """Raises SheetError where a page is larger than a page can be."""
    for number, (width, height) in enumerate(sizes, 1):
        if max(width, height) > MOST_POINTS:
            raise SheetError(
                f"page {number} says it is {width:,.0f} × {height:,.0f} points, which is "
                f"{width / 72:,.0f} × {height / 72:,.0f} inches; a page may have {MOST_POINTS:,} points, "
                f"{MOST_POINTS // 72} inches, each way. It was not drawn. Print it to a PDF on a paper size "
                "that there is, and choose that."
            )


def check_count(pages: int) -> None:
    """Raises SheetError where there are more pages than a drawing has, or none."""
    if not pages:
        raise SheetError("there is no page in it. Save the drawing as a PDF again, and choose that.")
    if pages > MOST_PAGES:
        raise SheetError(
            f"it says it has {pages:,} pages, and a PDF may have {MOST_PAGES}. Print the pages that are the "
            "drawing to a PDF of their own, and choose that."
        )
