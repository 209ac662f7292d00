"""A drawing on A3, read back: its words, its frame, the outline round two circles."""

from itertools import pairwise
from math import dist, hypot

import pytest

from calc.pdf import render_drawing
from calc.pdf_drawing import A3, UNIT, _round_two
from calc.pdf_sheet import LEFT, MARGIN
from tests.calc.paper_reader import Page

BLOCK = {
    "build": "Marlpit, 4 in scale", "kind": "Drawing", "number": "7", "title": "Hornplates",
    "scale": "as noted", "date": "–", "issue": "B", "units": "inches", "by": "Hornplate",
}  # fmt: skip


def line(what, *points, sizes=(), text=""):
    return {"what": what, "points": list(points), "sizes": list(sizes), "text": text}


LINES = [
    line("name", (60, 40), text="V-016, LIFTING LINK"),
    line("arm", (180, 230), (767, 230), sizes=(63.5, 63.5)),
    line("circle", (180, 230), sizes=[31.75]),
    line("middle", (180, 230), sizes=[80]),
    line("pitch circle", (180, 230), sizes=[50]),
    line("size", (180, 230), (767, 230), sizes=[110], text="2.310"),
    line("outline", (116, 370), (830, 370), (830, 417), (116, 417)),
    line("hidden", (148, 370), (148, 417)),
    line("centre line", (180, 355), (180, 432)),
    line("leader", (790, 250), (860, 345), text="1/4 ream"),
    line("note", (60, 62), text="twice full size"),
]


def test_drawing_when_read_back_then_its_words_and_its_title_block_within_the_frame():
    page = Page(render_drawing({"block": BLOCK, "lines": LINES}))
    assert (round(page.width), round(page.height), page.pages) == (420, 297, 1)
    for words in ("V-016, LIFTING LINK", "2.310", "1/4 ream", "twice full size", "Hornplates", "as noted"):
        assert words in page.text
    for left, top, right, bottom in page.places:
        assert left >= LEFT - 0.6
        assert right <= A3.width - MARGIN + 0.6
        assert top >= MARGIN - 0.6
        assert bottom <= A3.height - MARGIN + 0.6
    assert all(embedded for *_, embedded in page.words)


def test_drawing_when_drawn_twice_then_the_same_bytes():
    sheet = {"block": BLOCK, "lines": LINES}
    assert render_drawing(sheet) == render_drawing(sheet)


def test_drawing_when_a_line_is_of_no_known_kind_then_refused():
    with pytest.raises(ValueError, match="A drawing has no 'spiral'"):
        render_drawing({"block": BLOCK, "lines": [line("spiral", (0, 0))]})


@pytest.mark.parametrize(("one", "r", "other", "s"), [
    ((0, 0), 60, (500, 0), 60), ((0, 0), 127, (445, 0), 63.5), ((300, 40), 50, (100, 400), 80),
])  # fmt: skip
def test_outline_when_round_two_circles_then_it_touches_both_and_cuts_neither(one, r, other, s):
    points = _round_two(one, r, other, s)
    for point in points:
        assert min(abs(dist(point, one) - r), abs(dist(point, other) - s)) < 1e-6
    for (x1, y1), (x2, y2) in pairwise([*points, points[0]]):
        for (cx, cy), radius in ((one, r), (other, s)):
            away = abs((x2 - x1) * (cy - y1) - (y2 - y1) * (cx - x1)) / hypot(x2 - x1, y2 - y1)
            between = 0 <= (cx - x1) * (x2 - x1) + (cy - y1) * (y2 - y1) <= (x2 - x1) ** 2 + (y2 - y1) ** 2
            # A chord of the arc falls short of it by the height of a piece of three degrees.
            assert not between or away > radius * 0.999


def test_unit_when_on_paper_then_five_to_the_millimetre():
    page = Page(render_drawing({"block": BLOCK, "lines": [line("note", (500, 500), text="here")]}))
    (place,) = [place for word, place, *_ in page.words if word == "here"]
    assert place[0] == pytest.approx(LEFT + 5 + 500 * UNIT, abs=0.5)
