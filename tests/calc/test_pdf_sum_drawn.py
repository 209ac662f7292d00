"""A kept sum on paper with pictures and sizes: all of it there, inside the frame, clear of each other."""

import pytest

from calc import pictures
from calc.figures import Drawing, Path, Text
from calc.figures_hatch import dimension, hatched
from calc.pdf import render_sum
from tests.calc import paper_samples as samples
from tests.calc.paper_reader import Page, overlaps, page_text

WIDE, NARROW = (560.0, 372.0), (420.0, 520.0)


def block_of(size):
    """A cut block with its width, as large as a picture may be: stands for any drawing of a sum."""
    wide, high = size
    corners = ((40, 60), (wide - 60, 60), (wide - 60, high - 10), (40, high - 10))
    strokes = (
        *hatched(corners, "ci", 9),
        Path(corners, "cut", closed=True),
        *dimension(corners[0], corners[1], "14.333", away=25),
        *dimension(corners[1], corners[2], "1.750 deep", away=30),
        Text(wide / 2, high / 2, "blank", "word"),
    )
    return Drawing("a block", 0, 0, wide, high, strokes)


@pytest.fixture(autouse=True)
def blocks(monkeypatch):
    monkeypatch.setattr(pictures, "drawing", lambda held: block_of(WIDE if held["wide"] else NARROW))


def held(wide, strong="Wheel, pinion, blank in section"):
    return {"kind": "gear-blank", "figures": {}, "strong": strong, "text": "drawn to scale", "wide": wide}


def line(label, *cells, finished=False):
    return {"label": label, "cells": list(cells), "finished": finished}


SIZES = {
    "title": "Sizes",
    "note": "inches",
    "columns": ["Wheel", "Pinion"],
    "lines": [
        line("Teeth", "84", "18"),
        line("Outside diameter", "14.333", "3.333", finished=True),
        line("Span over 10 teeth of the wheel; over 2 of the pinion", "4.8703", ""),
    ],
}


def drawn_sum(*wides, **changes):
    facts = [{"label": f"Figure {place}", "value": f"{place}.8703 in"} for place in range(1, 6)]
    changes = {"answer": "14.333 in", "answer_small": "364.07 mm", "facts": facts, "sizes": SIZES} | changes
    return samples.kept_sum(rows=0, plate=None, pictures=[held(wide) for wide in wides], **changes)


@pytest.mark.parametrize("wides", [(True, False), (False, False), (True,), (False,), ()])
def test_sum_with_pictures_then_every_figure_stands_and_nothing_lies_over_another(wides):
    pdf = render_sum(drawn_sum(*wides))
    text = " ".join("\n".join(page_text(pdf)).split())
    for words in ("14.333 in", "364.07 mm", "Pinion", "4.8703", "5.8703 in", "Outside diameter", "inches"):
        assert words in text, words
    assert text.count("Wheel, pinion, blank in section") == len(wides)
    assert text.count("1.750 deep") == len(wides)
    for number in range(len(page_text(pdf))):
        page = Page(pdf, number)
        assert list(overlaps(page.words)) == []
        for _, (left, top, right, bottom), *_ in page.words:
            assert left > 14
            assert top > 8
            assert right < 202
            assert bottom < 289


def test_sum_with_an_empty_cell_then_it_shows_a_dash():
    (text,) = page_text(render_sum(drawn_sum(schedule=None, working=[], sources=[])))
    assert "4.8703\n–" in text or "4.8703 –" in text


def test_sum_kept_before_there_were_pictures_then_it_prints_as_it_did():
    old = samples.kept_sum(rows=0)
    for name in ("pictures", "sizes", "answer_small"):
        old.pop(name, None)
    assert old["answer"] in " ".join(page_text(render_sum(old))[0].split())
