"""A framed sheet with its title block, and pieces flowing over as many pages as they need."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from calc.pdf_paper import FRAME, PT, Paper, text_width
from calc.pdf_text import Line, leading, shrink, wrap, write
from calc.sheets import TitleBlock

TEXT, SMALL, HEAD = 9.5, 7.5, 12.0  # points
LEFT, MARGIN = 14.0, 8.0  # the left margin is wider, for binding [mm]
INSET = 5.0  # from the frame to what is in it [mm]
TITLE_HEIGHT = 19.0


@dataclass(frozen=True, slots=True)
class Piece:
    """What stays in one piece on a page: its height and how it is drawn at (x, y)."""

    height: float
    draw: Callable[[Paper, float, float], None]
    keep: bool = False  # not the last on a page: a heading stays with what it heads
    again: "Piece | None" = None  # drawn first when this piece is the first on a new page


def pack(pieces: Iterable[Piece], room: float) -> list[list[Piece]]:
    """Pieces page by page; a heading moves on with what it heads, a table's head is repeated."""
    pages: list[list[Piece]] = [[]]
    used = 0.0
    for piece in pieces:
        if pages[-1] and used + piece.height > room:
            moved: list[Piece] = []
            while len(pages[-1]) > len(moved) + 1 and pages[-1][-1 - len(moved)].keep:
                moved.insert(0, pages[-1][-1 - len(moved)])
            pages[-1] = pages[-1][: len(pages[-1]) - len(moved)]
            repeated = [piece.again] if piece.again and not moved else []
            pages.append([*repeated, *moved])
            used = sum(one.height for one in pages[-1])
        pages[-1].append(piece)
        used += piece.height
    return pages


@dataclass(frozen=True, slots=True)
class Frame:
    """The size of a sheet and the room inside its frame."""

    width: float
    height: float

    @property
    def inner(self) -> float:
        return self.width - LEFT - MARGIN

    @property
    def text_width(self) -> float:
        return self.inner - 2 * INSET

    @property
    def room(self) -> float:
        """The height for pieces on one page."""
        return self.height - 2 * MARGIN - TITLE_HEIGHT - 2 * INSET


def lines_at(paper: Paper, x: float, y: float, lines: list[Line], size: float) -> float:
    """Lines under one another from a top edge; returns where the next would start."""
    for line in lines:
        write(paper, x, y + size * 0.95 * PT, line, size)
        y += leading(size)
    return y


def paragraph(runs: Line, width: float, size: float = TEXT, *, before: float = 0, indent: float = 0) -> Piece:
    """A paragraph as one piece."""
    lines = wrap(runs, width - indent, size)
    height = before + len(lines) * leading(size)
    return Piece(height, lambda paper, x, y: (lines_at(paper, x + indent, y + before, lines, size), None)[1])


def heading(title: str, note: str, width: float) -> Piece:
    """A view's title, underlined, with its remark at the right; a long title stands smaller."""
    room = width - (text_width(note, SMALL) + 4 if note else 0)
    said, size = shrink(title, room, (HEAD, SMALL), bold=True)

    def draw(paper: Paper, x: float, y: float) -> None:
        base = y + 9
        paper.text(x, base - 1.6, said, size, bold=True)
        paper.text(x + width, base - 1.6, note, SMALL, anchor="end")
        paper.line(x, base, x + width, base, FRAME)

    return Piece(11, draw, keep=True)


def draw_frame(paper: Paper, frame: Frame, block: TitleBlock, sheet: str) -> None:
    """The frame and the title block at its foot."""
    paper.box(LEFT, MARGIN, frame.inner, frame.height - 2 * MARGIN, FRAME)
    top = frame.height - MARGIN - TITLE_HEIGHT
    paper.line(LEFT, top, LEFT + frame.inner, top, FRAME)
    first = [("Title", block["title"], 5.5), ("Kind of sheet", block["kind"], 3)]
    first += [("Number", block["number"], 2), ("Sheet", sheet, 1.5)]
    second = [
        ("Build", block["build"], 3.5),
        ("Date of issue", block["date"], 2),
        ("Issue", block["issue"], 1.6),
    ]
    second += [("Scale", block["scale"], 1.4), ("Units", block["units"], 2), ("By", block["by"], 1.5)]
    _title_row(paper, frame, first, top, 12.0)
    paper.line(LEFT, top + TITLE_HEIGHT / 2, LEFT + frame.inner, top + TITLE_HEIGHT / 2)
    _title_row(paper, frame, second, top + TITLE_HEIGHT / 2, 10.0)


def _title_row(
    paper: Paper, frame: Frame, fields: list[tuple[str, str, float]], y: float, size: float
) -> None:
    x, height = LEFT, TITLE_HEIGHT / 2
    for label, value, share in fields:
        width = frame.inner * share / 12
        if x > LEFT:
            paper.line(x, y, x, y + height)
        paper.text(x + 1.6, y + 3.2, label, 7)
        text, points = shrink(value or "–", width - 3.2, (size, 7.5))
        paper.text(x + 1.6, y + 8, text, points, bold=True)
        x += width


def render(
    paper: Paper,
    frame: Frame,
    block: TitleBlock,
    pages: list[list[Piece]],
    furniture: Callable[[Paper], float] | None = None,
) -> bytes:
    """Draw the pages, each in its frame; `furniture` draws what is on every page and says how deep it is."""
    for number, page in enumerate(pages, 1):
        if number > 1:
            paper.next_page()
        draw_frame(paper, frame, block, f"{number} of {len(pages)}")
        y = MARGIN + INSET + (furniture(paper) if furniture else 0)
        for piece in page:
            piece.draw(paper, LEFT + INSET, y)
            y += piece.height
    return paper.finish()
