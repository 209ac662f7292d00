"""The paper the PDFs are drawn on: millimetres from the top left, our own fonts, black lines."""

from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from io import BytesIO
from math import hypot
from pathlib import Path
from threading import Lock
from typing import Any
from unicodedata import bidirectional, category, normalize

from calc.figures import Anchor, Point

PT = 25.4 / 72  # one point in millimetres
HAIR, FRAME = 0.25, 0.5  # the two weights of line on paper [mm]
PLAIN, BOLD = "Hornplate", "Hornplate-Bold"
UNKNOWN = "□"  # stands for each sign the fonts cannot show

_FONTS = {PLAIN: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}
_loading = Lock()


def _fonts() -> dict[str, Any]:
    """Both fonts, read once in a process, whatever thread asks first.

    A second reading would put new fonts under the names a half-drawn document is using.
    """
    with _loading:
        return _read_fonts()


@cache
def _read_fonts() -> dict[str, Any]:
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    rl_config.trustedHosts = []  # fences round marked-up text, though none is set from it
    rl_config.trustedSchemes = ["data"]
    rl_config.useA85 = 0  # streams as they are: a fifth smaller, and quicker by as much
    folder = Path(__file__).parent / "fonts"
    fonts = {name: TTFont(name, str(folder / file)) for name, file in _FONTS.items()}
    for font in fonts.values():
        pdfmetrics.registerFont(font)
    return fonts


@cache
def signs() -> frozenset[int]:
    """Every character both fonts can show."""
    plain, bold = (frozenset(font.face.charToGlyph) for font in _fonts().values())
    # Beyond the first plane the file's own table of characters cannot name a sign, so that its text
    # would be read back as another one.
    return frozenset(sign for sign in plain & bold if sign <= 0xFFFF)


@lru_cache(maxsize=8192)
def printable(text: str) -> str:
    """The text as it can be printed: nothing dropped but what has no shape of its own.

    Line ends and tabs become spaces. Control signs and marks of direction go. A sign the fonts
    lack, or one of a script written from right to left, becomes a visible box.
    """
    return "".join(map(_printable_sign, normalize("NFC", text)))


def _printable_sign(sign: str) -> str:
    kind = category(sign)
    if kind in ("Cc", "Zl", "Zp", "Zs"):
        return " " if sign.isspace() else ""
    if kind == "Cf" or 0xFE00 <= ord(sign) <= 0xFE0F:
        return ""
    known = ord(sign) in signs() and bidirectional(sign) not in ("R", "AL") and kind not in ("Co", "Cs", "Cn")
    return sign if known else UNKNOWN


def clean(sheet: Any) -> Any:
    """The same dictionary with every text in it made printable."""
    if isinstance(sheet, str):
        return printable(sheet)
    if isinstance(sheet, dict):
        return {key: clean(value) for key, value in sheet.items()}
    if isinstance(sheet, list | tuple):
        return [clean(value) for value in sheet]
    return sheet


@lru_cache(maxsize=16384)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """How wide a printable text stands. [mm]"""
    width: float = _fonts()[BOLD if bold else PLAIN].stringWidth(text, size)
    return width * PT


class Paper:
    """One document: pages of one size, a pen, and the bytes at the end."""

    def __init__(self, width: float, height: float, *, title: str, subject: str = "") -> None:
        from reportlab.pdfgen.canvas import Canvas

        _fonts()
        self.width, self.height = width, height
        self._out = BytesIO()
        self._canvas: Any = Canvas(
            self._out,
            pagesize=(width / PT, height / PT),
            pageCompression=1,
            invariant=1,
            initialFontName=PLAIN,
        )
        self._canvas.setTitle(title)
        self._canvas.setAuthor("Hornplate")
        self._canvas.setSubject(subject)
        self._canvas.setCreator("Hornplate")
        self._stamps: set[str] = set()
        self._begin()

    def _begin(self) -> None:
        self._is_white = False  # after a white fill, words would be white as well
        self._canvas.setLineCap(1)
        self._canvas.setLineJoin(1)

    def next_page(self) -> None:
        """End this page; the next stroke falls on a new one."""
        self._canvas.showPage()
        self._begin()

    def finish(self) -> bytes:
        """The document."""
        self._canvas.showPage()
        self._canvas.save()
        return self._out.getvalue()

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        anchor: Anchor = "start",
        turn: float = 0,
    ) -> None:
        """Write on a base line, turned about (x, y) in degrees clockwise."""
        back = text_width(text, size, bold) * {"start": 0, "middle": 0.5, "end": 1}[anchor]
        self._canvas.setFont(BOLD if bold else PLAIN, size)
        if self._is_white:
            self._ink(0, "black")
        if not turn:
            self._canvas.drawString((x - back) / PT, (self.height - y) / PT, text)
            return
        self._canvas.saveState()
        self._canvas.translate(x / PT, (self.height - y) / PT)
        self._canvas.rotate(-turn)
        self._canvas.drawString(-back / PT, 0, text)
        self._canvas.restoreState()

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float = HAIR) -> None:
        """A straight line."""
        self._canvas.setLineWidth(weight / PT)
        self._canvas.line(x1 / PT, (self.height - y1) / PT, x2 / PT, (self.height - y2) / PT)

    def box(self, x: float, y: float, width: float, height: float, weight: float = HAIR) -> None:
        """A box, its corner at the top left."""
        self._canvas.setLineWidth(weight / PT)
        self._canvas.rect(x / PT, (self.height - y - height) / PT, width / PT, height / PT)

    def circle(self, x: float, y: float, r: float, *, weight: float, fill: str) -> None:
        """A circle; `fill` is "black", "white" or "" for an open one."""
        self._ink(weight, fill)
        middle = x / PT, (self.height - y) / PT
        self._canvas.circle(*middle, r / PT, stroke=int(weight > 0), fill=int(bool(fill)))

    def pie(self, x: float, y: float, r: float, angle: float) -> None:
        """A black piece of a circle, from the top clockwise."""
        self._ink(0, "black")
        left, right, middle = (x - r) / PT, (x + r) / PT, self.height - y
        self._canvas.wedge(left, (middle - r) / PT, right, (middle + r) / PT, 90, -angle, stroke=0, fill=1)

    def dots(self, points: Sequence[Point], diameter: float) -> None:
        """Black dots, all of a size: strokes of no length with round ends, which are short to write."""
        self._canvas.setLineWidth(diameter / PT)
        path = self._canvas.beginPath()
        for x, y in points:
            path.moveTo(x / PT, (self.height - y) / PT)
            path.lineTo(x / PT, (self.height - y) / PT)
        self._canvas.drawPath(path, stroke=1, fill=0)

    def path(self, points: Sequence[Point], *, weight: float, fill: str, closed: bool) -> None:
        """A line through points; closed, it is an outline."""
        self._ink(weight, fill)
        path = self._canvas.beginPath()
        path.moveTo(points[0][0] / PT, (self.height - points[0][1]) / PT)
        for x, y in points[1:]:
            path.lineTo(x / PT, (self.height - y) / PT)
        if closed:
            path.close()
        self._canvas.drawPath(path, stroke=int(weight > 0), fill=int(bool(fill)))

    def dashes(self, lengths: Sequence[float]) -> None:
        """Dashes for the lines that follow; none makes them full again."""
        self._canvas.setDash([length / PT for length in lengths])

    def _ink(self, weight: float, fill: str) -> None:
        if weight:
            self._canvas.setLineWidth(weight / PT)
        self._is_white = fill == "white"
        self._canvas.setFillGray(1.0 if self._is_white else 0.0)

    def squares(self, rows: Sequence[Sequence[int]], x: float, y: float, size: float) -> None:
        """A pattern of squares, runs of each row in one path, as a QR code is drawn."""
        self._canvas.setFillGray(0.0)
        step, path = size / len(rows) / PT, self._canvas.beginPath()
        left, top = x / PT, (self.height - y) / PT
        for row, dark in enumerate(rows):
            start = None
            for column, on in enumerate([*dark, 0]):
                if on and start is None:
                    start = column
                elif not on and start is not None:
                    path.rect(left + start * step, top - (row + 1) * step, (column - start) * step, step)
                    start = None
        self._canvas.drawPath(path, stroke=0, fill=1)

    def stamp(self, name: str, x: float, y: float, size: Point, draw: "Callable[[Paper], None]") -> None:
        """A small picture used many times: drawn once in the document, placed by its name.

        `draw` draws with its own top left corner at (0, 0); what passes `size` is cut off.
        """
        width, height = size
        if name not in self._stamps:
            self._stamps.add(name)
            top, self.height = self.height, height
            self._canvas.beginForm(name, 0, 0, width / PT, height / PT)
            draw(self)
            self._canvas.endForm()
            self.height = top
        self._canvas.saveState()
        self._canvas.translate(x / PT, (self.height - y - height) / PT)
        self._canvas.doForm(name)
        self._canvas.restoreState()


# ---- hatching: the mark of what a part is made of ---------------------------------------------------------

#: For each material the lines of one repeat: (offset, dash, gap) with the repeat's width, in sixths of 2 mm.
_HATCHES: dict[str, tuple[float, tuple[tuple[float, float, float], ...]]] = {
    "ci": (6, ((3, 0, 0),)),
    "st": (9, ((1, 0, 0), (4, 0, 0))),
    "gm": (9, ((1, 0, 0), (5.5, 4, 4))),
    "cu": (5, ((1, 5, 3),)),
    "wm": (6, ((3, 0, 0),)),
}


def hatch(paper: Paper, kind: str, x: float, y: float, width: float, height: float) -> None:
    """A swatch of the material's hatching in a hairline box; nothing for a kind that has none."""
    if kind not in _HATCHES and kind != "nm":
        return
    paper.stamp(
        f"hatch-{kind}-{width:.1f}-{height:.1f}",
        x,
        y,
        (width, height),
        lambda pen: _waves(pen, width, height) if kind == "nm" else _hatching(pen, kind, width, height),
    )
    paper.box(x, y, width, height, 0.18)


def _hatching(pen: Paper, kind: str, width: float, height: float) -> None:
    unit = min(0.33, height / 12)
    repeat, lines = _HATCHES[kind]
    long = hypot(width, height)
    for step in range(int(2 * long / (repeat * unit)) + 1):
        for offset, dash, gap in lines:
            pen.dashes((dash * unit, gap * unit) if dash else ())
            # 45 degrees: a foot along the top edge, the line runs down to the left.
            foot = (step * repeat + offset) * unit * 2**0.5
            pen.line(foot, 0, foot - long, long, 0.18)
            if kind == "wm":
                pen.line(width - foot, 0, width - foot + long, long, 0.18)
    pen.dashes(())


def _waves(pen: Paper, width: float, height: float) -> None:
    rows = max(2, round(height / 1.6))
    for row in range(rows):
        level = height * (row + 0.5) / rows
        across = [
            (x * width / 40, level + 0.35 * ((x % 4) - 2) * (1 if x % 8 < 4 else -1)) for x in range(41)
        ]
        pen.path(across, weight=0.18, fill="", closed=False)
