"""Fitting words on paper: lines broken to a width, shrunk to a floor, cut with a sign that says so."""

from calc.pdf_paper import PT, Paper, text_width

Run = tuple[str, bool]  # words, and whether they are bold
Line = list[Run]
CUT = "…"
HELD = "\u00a0"  # between words that stay on one line; written as a space


def leading(size: float) -> float:
    """From one base line to the next. [mm]"""
    return size * 1.2 * PT


def line_width(line: Line, size: float) -> float:
    """How wide a line stands. [mm]"""
    return sum(text_width(text, size, bold) for text, bold in line)


def write(paper: Paper, x: float, y: float, line: Line, size: float) -> None:
    """Write one line from x on a base line."""
    for text, bold in line:
        paper.text(x, y, text.replace(HELD, " "), size, bold=bold)
        x += text_width(text, size, bold)


def wrap(runs: Line, width: float, size: float, most: int = 0) -> list[Line]:
    """Break runs of words into lines; beyond `most` lines the last one is cut and ends in the sign for it."""
    if line_width(runs, size) <= width:
        return [run for run in [[piece for piece in runs if piece[0]]] if run]
    lines: list[Line] = [[]]
    for word, bold in _words(runs):
        for piece in _pieces(word, bold, width, size):
            if lines[-1] and line_width([*lines[-1], (piece.rstrip(), bold)], size) > width:
                lines.append([])
            lines[-1] = _joined(lines[-1], piece if lines[-1] else piece.lstrip(), bold)
    lines = [_trimmed(line) for line in lines if line]
    if most and len(lines) > most:
        rest = [run for line in lines[most - 1 :] for run in [*line, (" ", line[-1][1])]]
        return [*lines[: most - 1], cut(rest, width, size)]
    return lines


def _words(runs: Line) -> list[Run]:
    """Each word with the space before it, so that joining them gives the text back."""
    words: list[Run] = []
    for text, bold in runs:
        for place, word in enumerate(text.split(" ")):
            if word or place:
                words.append((" " * (place > 0) + word, bold))
    return words


def _pieces(word: str, bold: bool, width: float, size: float) -> list[str]:
    """A word, in as many pieces as it needs to fit a line by itself."""
    if text_width(word.strip(), size, bold) <= width:
        return [word]
    pieces, piece = [], ""
    for sign in word:
        if piece.strip() and text_width((piece + sign).strip(), size, bold) > width:
            pieces.append(piece)
            piece = ""
        piece += sign
    return [*pieces, piece]


def _joined(line: Line, text: str, bold: bool) -> Line:
    if line and line[-1][1] == bold:
        return [*line[:-1], (line[-1][0] + text, bold)]
    return [*line, (text, bold)] if text else line


def _trimmed(line: Line) -> Line:
    return [*line[:-1], (line[-1][0].rstrip(), line[-1][1])]


def cut(line: Line, width: float, size: float) -> Line:
    """The line shortened from its end until it fits, ending in the sign for a cut."""
    if line_width(line, size) <= width:
        return line
    fits, too_long = 0, sum(len(text) for text, _ in line)
    while too_long - fits > 1:
        middle = (fits + too_long) // 2
        if line_width(_cut_at(line, middle), size) <= width:
            fits = middle
        else:
            too_long = middle
    return _cut_at(line, fits)


def _cut_at(line: Line, length: int) -> Line:
    kept: Line = []
    for text, bold in line:
        piece = text[: max(0, length)]
        length -= len(text)
        if piece:
            kept.append((piece, bold))
    return _joined(_trimmed(kept), CUT, kept[-1][1]) if kept else [(CUT, False)]


def one_line(text: str, width: float, size: float, *, bold: bool = False) -> Line:
    """A text on one line, cut where it does not fit."""
    return cut([(text, bold)], width, size) if text else []


def shrink(text: str, width: float, sizes: tuple[float, float], *, bold: bool = True) -> tuple[str, float]:
    """One line at the largest size that fits between (largest, floor); at the floor it is cut."""
    largest, floor = sizes
    full = text_width(text, largest, bold)
    size = largest if full <= width else max(floor, largest * width / full * 0.999)
    return "".join(word for word, _ in cut([(text, bold)], width, size)), size


def fitted_lines(text: str, width: float, steps: tuple[tuple[float, int], ...]) -> tuple[list[Line], float]:
    """A bold title by the first (size, most lines) that holds it; the last one cuts it if need be."""
    for size, most in steps:
        lines = wrap([(text, True)], width, size)
        if len(lines) <= most:
            return lines, size
    size, most = steps[-1]
    return wrap([(text, True)], width, size, most), size
