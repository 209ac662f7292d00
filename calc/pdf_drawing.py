"""A drawing on A3: lines, circles, sizes and words from a list, in the frame of every sheet."""

from math import acos, atan2, degrees, hypot

from calc.figures import Circle, Drawing, Path, Point, Stroke, Text, draw
from calc.figures_hatch import arc_points, centre_lines, dimension, leader
from calc.pdf_paper import Paper
from calc.pdf_sheet import INSET, LEFT, MARGIN, Frame, draw_frame
from calc.sheets import DrawnLine, DrawnSheet

A3 = Frame(420, 297)
#: How far the units of a line go on paper. [mm]
UNIT = 0.2
_NOTE, _NAME = 15.0, 21.0  # how large words stand, in units


def draw_drawing(sheet: DrawnSheet) -> bytes:
    """The sheet as a PDF; the same list gives the same bytes."""
    block = sheet["block"]
    paper = Paper(A3.width, A3.height, title=f"Sheet {block['number']} {block['title']}")
    strokes = tuple(stroke for line in sheet["lines"] for stroke in _strokes(line))
    picture = Drawing(block["title"], 0, 0, A3.text_width / UNIT, A3.room / UNIT, strokes)
    draw(picture, paper, LEFT + INSET, MARGIN + INSET, A3.text_width)
    draw_frame(paper, A3, block, "1 of 1")
    return paper.finish()


def _strokes(line: DrawnLine) -> tuple[Stroke, ...]:
    points, sizes, text = line["points"], line["sizes"], line["text"]
    match line["what"]:
        case "outline":
            return (Path(tuple(points), "o0", True),)
        case "hidden":
            return (Path(tuple(points), "h"),)
        case "centre line":
            return (Path(tuple(points), "c"),)
        case "circle":
            return (Circle(*points[0], sizes[0], "o0"),)
        case "pitch circle":
            return (Path(arc_points(points[0], sizes[0], 0, 360), "c", True),)
        case "middle":
            return centre_lines(points[0], sizes[0])
        case "arm":
            return (Path(_round_two(points[0], sizes[0], points[1], sizes[1]), "o0", True),)
        case "size":
            return dimension(points[0], points[1], text, away=sizes[0])
        case "leader":
            return leader(points[0], points[1], text)
        case "name":
            return (Text(*points[0], text, "word", "start", _NAME),)
        case "note":
            return (Text(*points[0], text, "fig", "start", _NOTE),)
    raise ValueError(f"A drawing has no {line['what']!r}.")


def _round_two(one: Point, r: float, other: Point, s: float) -> tuple[Point, ...]:
    """The outline round two circles: an arc about each, and the lines that touch both."""
    right, down = other[0] - one[0], other[1] - one[1]
    way = degrees(atan2(right, -down))  # clockwise from the top, as arcs are given
    touch = degrees(acos((r - s) / hypot(right, down)))
    return (
        *arc_points(one, r, way + touch, way + 360 - touch),
        *arc_points(other, s, way - touch, way + touch),
    )
