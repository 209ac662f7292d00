"""A card's sizes, and the pieces every block of it is drawn with."""

from dataclasses import dataclass

from calc.pdf_paper import HAIR, PT, Paper, hatch, text_width
from calc.pdf_text import Line, cut, leading, one_line, shrink, wrap, write
from calc.sheets import BigFigure, Block


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """The paper, its margins [mm] and its sizes of type [points]."""

    width: float
    height: float
    margin: float
    binding: float  # the left margin, wider for a clip or holes
    k: float  # how large blank room is, against A4
    text: float
    label: float
    big: float  # figures worked to, as they are set
    floor: float  # figures worked to, at the least
    name: float

    @property
    def left(self) -> float:
        return self.binding

    @property
    def right(self) -> float:
        return self.width - self.margin

    @property
    def top(self) -> float:
        return self.margin

    @property
    def inner_width(self) -> float:
        return self.right - self.left

    @property
    def inner_height(self) -> float:
        return self.height - 2 * self.margin

    @property
    def side(self) -> float:
        """The right column: card number, picture, sizes."""
        return 62 * self.k

    @property
    def split(self) -> float:
        return self.right - self.side

    @property
    def main(self) -> float:
        return self.inner_width - self.side

    @property
    def pad(self) -> float:
        return 2 * self.k

    @property
    def pad_y(self) -> float:
        return 0.9 * self.k


FORMATS = {
    "A4": Format(
        width=210,
        height=297,
        margin=8,
        binding=14,
        k=1,
        text=12,
        label=9.6,
        big=20.6,
        floor=20,
        name=21,
    ),
    "A5": Format(
        width=148,
        height=210,
        margin=5,
        binding=9,
        k=0.7,
        text=9.2,
        label=7.4,
        big=17.5,
        floor=17,
        name=16,
    ),
}


@dataclass(frozen=True, slots=True)
class Board:
    """A paper with its format: labels, rules, blocks and figures, all placed by their top left corner."""

    paper: Paper
    form: Format

    @staticmethod
    def base(size: float) -> float:
        """From the top of a line to its base line. [mm]"""
        return size * 0.95 * PT

    def stack(self, x: float, y: float, lines: list[Line], size: float, width: float = 0) -> float:
        """Lines under one another; with a width, each is cut to it. Returns where the next would start."""
        for line in lines:
            write(self.paper, x, y + self.base(size), cut(line, width, size) if width else line, size)
            y += leading(size)
        return y

    def upright(self, x: float, y: float, height: float) -> None:
        """A hairline down a band."""
        self.paper.line(x, y, x, y + height, HAIR)

    def rule(self, x: float, y: float, width: float) -> None:
        """A rule to write on."""
        self.paper.line(x, y, x + width, y, 0.2)

    def ruled(self, label: str, x: float, y: float, width: float, height: float) -> None:
        """A labelled area of rules to write on."""
        form = self.form
        at = self.stack(x + form.pad, y + form.pad_y, [[(label, False)]], form.label, width - 2 * form.pad)
        count = max(1, int((y + height - at - 1.5 * form.k) / (8 * form.k)))
        step = (y + height - at - 2 * form.k) / count
        for place in range(1, count + 1):
            self.rule(x + form.pad, at + place * step, width - 2 * form.pad)

    def field(self, label: str, value: str, x: float, y: float, width: float, height: float) -> None:
        """A field of the title block; a rule where it is empty."""
        form, inner = self.form, width - 2 * self.form.pad
        at = self.stack(x + form.pad, y + 0.3 * form.k, [[(label, False)]], form.label, inner)
        if value:
            text, size = shrink(value, inner, (form.text, form.text * 0.98))
            self.stack(x + form.pad, at, [[(text, True)]], size)
        else:
            self.rule(x + form.pad, y + height - 1.2 * form.k, inner)

    # ---- blocks ------------------------------------------------------------------------------------------

    def _block_lines(self, block: Block, width: float, most: int) -> tuple[list[Line], list[Line]]:
        form, inner = self.form, width - 2 * self.form.pad
        text = block.get("text", "")
        strong_width = inner - (12 * form.k if block.get("hatch") else 0)
        text_room = inner - (self._boxed_width(block) + 1.5 * form.k if block.get("boxed") else 0)
        strong = wrap([(block["strong"], True)], strong_width, form.text, most - bool(text))
        return strong, wrap([(text, False)], text_room, form.text, max(1, most - len(strong)))

    def _boxed(self, block: Block) -> str:
        most = self.form.main / 6
        return "".join(text for text, _ in one_line(block.get("boxed", ""), most, self.form.text, bold=True))

    def _boxed_width(self, block: Block) -> float:
        return text_width(self._boxed(block), self.form.text, True) + 3 * self.form.k

    def block_height(self, block: Block, width: float, most: int) -> float:
        """The height a block needs: its lines, or two where there is room to write."""
        form = self.form
        strong, text = self._block_lines(block, width, most)
        lines = max(1, len(strong) + len(text))
        boxed = 1.2 * form.k if block.get("boxed") else 0
        return 2 * form.pad_y + leading(form.label) + lines * leading(form.text) + boxed

    def block(self, block: Block, x: float, y: float, width: float, height: float, most: int) -> None:
        """Label, bold lines with their swatch, plain lines with their boxed word; or a rule."""
        form, inner = self.form, width - 2 * self.form.pad
        strong, text = self._block_lines(block, width, most)
        left = x + form.pad
        at = self.stack(left, y + form.pad_y, [[(block["label"], False)]], form.label, inner)
        if not strong and not text:
            self.rule(left, y + height - 1.6 * form.k, inner)
            return
        swatch = 12 * form.k if block.get("hatch") else 0
        if swatch:
            hatch(self.paper, block.get("hatch", ""), left, at + 0.3 * form.k, 10 * form.k, 5.2 * form.k)
        at = self.stack(left + swatch, at, strong, form.text)
        if block.get("boxed"):
            wide, at = self._boxed_width(block), at + 0.6 * form.k
            self.paper.box(left, at - 0.2 * form.k, wide, leading(form.text) + 0.4 * form.k, 0.6)
            self.stack(left + 1.5 * form.k, at, [[(self._boxed(block), True)]], form.text)
            left += wide + 1.5 * form.k
        self.stack(left, at, text, form.text)

    # ---- figures worked to ---------------------------------------------------------------------------------

    def figure_height(self) -> float:
        """What a row of figures needs."""
        form = self.form
        return 2 * form.pad_y + leading(form.label) + form.big * 1.12 * PT

    def _unit(self, figure: BigFigure) -> tuple[str, float]:
        """The unit of a figure, cut where it is over-long, and the room it takes with its gap."""
        unit = "".join(
            text for text, _ in one_line(figure.get("unit", ""), self.form.main / 3, self.form.text)
        )
        return unit, text_width(unit, self.form.text) + 2.5 * self.form.k if unit else 0

    def figure_width(self, figure: BigFigure) -> float:
        """How wide a figure stands with its unit, at the least size."""
        return text_width(figure["value"], self.form.floor, True) + self._unit(figure)[1] + 2 * self.form.pad

    def figure(self, figure: BigFigure, x: float, y: float, width: float, height: float) -> None:
        """Label, and the figure in the largest type with its unit after it; a rule where it is empty."""
        form, inner = self.form, width - 2 * self.form.pad
        spare = max(0, height - self.figure_height())
        top = y + form.pad_y + spare / 4
        at = self.stack(x + form.pad, top, [[(figure["label"], False)]], form.label, inner)
        unit, beside = self._unit(figure)
        largest = min(form.big * 1.4, form.big + spare * 0.5 / PT)
        value, size = shrink(figure["value"], inner - beside, (largest, form.floor))
        base = at + size * 0.95 * PT
        if value:
            self.paper.text(x + form.pad, base, value, size, bold=True)
        else:
            self.rule(x + form.pad, base, inner - beside - form.pad)
        after = text_width(value, size, True) if value else inner - beside - form.pad
        self.paper.text(x + form.pad + after + 2.5 * form.k, base, unit, form.text)
