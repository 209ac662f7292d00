"""Drawings: the index plate to scale, and the same strokes as SVG and by a pen.

Where a hole stands is geometry: n of N holes is n x 360 / N degrees on from the start hole.
"""

import re
from itertools import pairwise
from math import atan2, degrees, hypot
from xml.etree import ElementTree as ET

import pytest

from calc import figures
from calc.figures import Arc, Circle, Dots, Drawing, Move, Path, Text, draw, index_plate, to_svg

FACE = [37, 38, 39, 41, 42, 43, 46, 47, 49, 51, 53]


def bearing(point):
    """Degrees clockwise from the top, 0 to 360."""
    return degrees(atan2(point[0], -point[1])) % 360


def dots(drawing, role):
    return [stroke for stroke in drawing.strokes if isinstance(stroke, Dots) and stroke.role == role]


def rings(drawing, role):
    return [stroke for stroke in drawing.strokes if isinstance(stroke, Circle) and stroke.role == role]


def plate(**changes):
    return index_plate(**{"face": FACE, "circle": 42, "spaces": 20, "sector_holes": 21, **changes})


def bounds(drawing):
    """How far left, up, right and down anything reaches, words by a generous guess of their width."""
    xs, ys = [], []
    for stroke in drawing.strokes:
        match stroke:
            case Circle(cx, cy, r, _):
                xs += [cx - r, cx + r]
                ys += [cy - r, cy + r]
            case Dots(points, r, _):
                xs += [x + way for x, _ in points for way in (-r, r)]
                ys += [y + way for _, y in points for way in (-r, r)]
            case Path(points, _, _):
                xs += [x for x, _ in points]
                ys += [y for _, y in points]
            case Arc(r, _, _, _):
                xs += [-r, r]
                ys += [-r, r]
            case Text(x, y, text, _, anchor, size):
                wide = 0.6 * size * len(text)
                left = {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
                xs += [x - left, x - left + wide]
                ys += [y - 0.8 * size, y + 0.2 * size]
    return min(xs), min(ys), max(xs), max(ys)


# ---- what is drawn ----------------------------------------------------------------------------------------


def test_plate_when_twenty_in_forty_two_then_the_passed_holes_are_filled_in_order():
    (passed,) = dots(plate(), "k")
    assert [round(bearing(point), 6) for point in passed.points] == [
        round(360 * n / 42, 6) for n in range(21)
    ]


def test_plate_when_twenty_in_forty_two_then_the_other_holes_are_open():
    (rest,) = dots(plate(), "t")
    assert [round(bearing(point) * 42 / 360) for point in rest.points] == list(range(21, 42))


def test_plate_then_the_pin_is_ringed_at_the_top_and_the_next_hole_at_its_place():
    drawing = plate()
    (pin,), (hot,) = rings(drawing, "hl"), rings(drawing, "hot")
    (next_hole,) = rings(drawing, "o0")
    assert (pin.cx, pin.cy) == (hot.cx, hot.cy)
    assert bearing((pin.cx, pin.cy)) == pytest.approx(0)
    assert bearing((next_hole.cx, next_hole.cy)) == pytest.approx(360 * 20 / 42)


def test_plate_then_every_other_circle_has_its_holes_faint_and_the_most_outermost():
    drawing = plate()
    counts = [len(stroke.points) for stroke in dots(drawing, "faint")]
    assert counts == [holes for holes in FACE if holes != 42]
    radii = [hypot(*stroke.points[0]) for stroke in dots(drawing, "faint")]
    assert radii == sorted(radii)
    steps = {round(b - a, 6) for a, b in pairwise(radii)}
    assert steps == {14.0, 28.0}  # even, with a gap where the circle in ink stands


def test_plate_when_arms_then_they_take_in_the_holes_between_and_no_more():
    arms = [stroke for stroke in plate().strokes if isinstance(stroke, Path) and stroke.role == "arm"]
    radius = hypot(*dots(plate(), "k")[0].points[0])
    tip = [max(arm.points, key=lambda point: hypot(*point)) for arm in arms]
    first, second = (
        bearing(tip[0]) - 360,
        min((bearing(p) for p in arms[1].points if hypot(*p) > 200), default=0),
    )
    clear = degrees(3.9 / radius)  # a hole's own radius, seen from the middle
    assert -360 / 42 < first < 0
    assert 360 * 20 / 42 + clear / 2 < second < 360 * 21 / 42


def test_plate_when_sector_holes_are_nought_then_there_are_no_arms():
    drawing = plate(sector_holes=0)
    assert not [stroke for stroke in drawing.strokes if isinstance(stroke, Path) and stroke.role == "arm"]


def test_plate_when_only_whole_turns_then_one_hole_is_filled_and_no_next_hole_is_ringed():
    drawing = plate(circle=20, spaces=0, turns=5, sector_holes=0)
    assert len(dots(drawing, "k")[0].points) == 1
    assert not rings(drawing, "o0")
    assert "5 whole turns" in drawing.label
    assert "next hole" not in to_svg(drawing)


def test_plate_when_a_move_goes_back_then_holes_fill_the_other_way():
    drawing = plate(circle=33, spaces=-3, sector_holes=0)
    bearings = sorted(round(bearing(point) * 33 / 360) % 33 for point in dots(drawing, "k")[0].points)
    assert bearings == [0, 30, 31, 32]
    assert "3 spaces back" in drawing.label


def test_plate_when_compound_then_both_circles_are_in_ink_each_with_its_pin():
    drawing = index_plate(
        face=[15, 16, 17, 18, 19, 20],
        circle=15,
        spaces=10,
        sector_holes=11,
        second=Move(circle=17, spaces=2),
    )
    assert sorted(len(stroke.points) for stroke in dots(drawing, "k")) == [3, 11]
    assert len(rings(drawing, "hl")) == 2
    assert [len(stroke.points) for stroke in dots(drawing, "faint")] == [16, 18, 19, 20]


def test_plate_when_the_circle_is_not_on_the_face_then_it_is_drawn_all_the_same():
    drawing = plate(face=[24], circle=57, spaces=40)
    assert sum(len(stroke.points) for stroke in (*dots(drawing, "k"), *dots(drawing, "t"))) == 57


@pytest.mark.parametrize(("circle", "expected"), [(7, 7), (42, 9), (66, 13), (120, 12), (250, 10)])
def test_plate_then_holes_are_numbered_as_closely_as_there_is_room(circle, expected):
    drawing = plate(face=[circle], circle=circle, spaces=1, sector_holes=2)
    numbers = [int(s.text) for s in drawing.strokes if isinstance(s, Text) and s.role == "dim"]
    assert len(numbers) == expected
    assert numbers[0] == 0


def test_plate_when_the_picture_is_small_then_crowded_circles_thin_to_a_line():
    close = index_plate(face=[150, 200, 42], circle=42, spaces=20, width_mm=40)
    wide = index_plate(face=[150, 200, 42], circle=42, spaces=20, width_mm=200)
    assert not dots(close, "faint")
    assert len(rings(close, "faint")) == 2
    assert len(dots(wide, "faint")) == 2


@pytest.mark.parametrize("width_mm", [40, 57, 110])
@pytest.mark.parametrize("words", [True, False])
@pytest.mark.parametrize("circle", [2, 3, 20, 42, 66, 127, 250])
def test_plate_then_nothing_passes_the_window_and_no_holes_run_together(circle, words, width_mm):
    for spaces in {1, circle // 3 or 1, circle // 2, circle - 1}:
        drawing = index_plate(
            face=[*FACE, circle],
            circle=circle,
            spaces=spaces,
            turns=1,
            sector_holes=spaces + 1,
            width_mm=width_mm,
            words=words,
            caption="1 turn and some spaces",
        )
        left, top, right, bottom = bounds(drawing)
        assert left >= drawing.x
        assert top >= drawing.y
        assert right <= drawing.x + drawing.width
        assert bottom <= drawing.y + drawing.height
        for stroke in drawing.strokes:
            if isinstance(stroke, Dots) and len(stroke.points) > 1:
                (x1, y1), (x2, y2) = stroke.points[:2]
                assert hypot(x2 - x1, y2 - y1) > 2 * stroke.r


# ---- the two writers --------------------------------------------------------------------------------------


def test_svg_then_it_is_well_formed_with_the_classes_and_no_style():
    svg = to_svg(plate())
    root = ET.fromstring(svg)
    assert root.get("class") == "dw"
    assert root.get("role") == "img"
    classes = {child.get("class") for child in root}
    assert classes <= set(figures.Role.__args__)
    assert {"o", "t", "k", "faint", "arm", "hl", "hot", "hott", "dim", "word"} <= classes
    assert "style=" not in svg
    assert "<script" not in svg


def test_svg_when_words_hold_markup_then_they_are_escaped():
    drawing = Drawing('a "plate" <b>', 0, 0, 10, 10, (Text(1, 2, "<script>&", "dim"),))
    svg = to_svg(drawing)
    assert "<script>" not in svg
    root = ET.fromstring(svg)
    assert root[0].text == "<script>&"
    assert root.get("aria-label") == 'a "plate" <b>'


def test_svg_then_coordinates_have_at_most_one_place():
    numbers = re.findall(r"\d+\.\d+", to_svg(plate(circle=53, spaces=7)))
    assert numbers
    assert all(len(number.split(".")[1]) == 1 for number in numbers)


def test_svg_when_an_arc_is_nearly_a_whole_turn_then_it_is_drawn_in_two_halves():
    svg = to_svg(Drawing("arc", -10, -10, 20, 20, (Arc(5, 0, 350, "hl"),)))
    assert svg.count("A5 5") == 2


class Notebook:
    """A pen that writes down what it is told."""

    def __init__(self):
        self.told = []

    def __getattr__(self, name):
        return lambda *args, **more: self.told.append((name, args, more))


def test_draw_then_the_pen_gets_every_stroke_scaled_to_the_width_asked():
    pen = Notebook()
    drawing = plate(words=False)
    draw(drawing, pen, 100, 50, 57)
    circles = [args for name, args, _ in pen.told if name == "circle"]
    rim = circles[0]
    scale = 57 / drawing.width
    assert rim == pytest.approx((100 + 28.5, 50 - drawing.y * scale, figures.RIM * scale))
    dotted = sum(len(args[0]) for name, args, _ in pen.told if name == "dots")
    assert dotted == sum(FACE) - 42 + 21


def test_draw_then_ink_is_black_or_the_paper():
    pen = Notebook()
    draw(plate(), pen, 0, 0, 80)
    assert {more["fill"] for _, _, more in pen.told if "fill" in more} <= {"", "black", "white"}


def test_draw_when_very_small_then_no_word_is_set_too_small_to_read():
    pen = Notebook()
    draw(plate(), pen, 0, 0, 10)
    assert min(args[3] for name, args, _ in pen.told if name == "text") >= 5.5
