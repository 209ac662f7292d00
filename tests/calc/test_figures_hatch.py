"""Section lines and dimensions: cut off at their outline, sloped as told, readable from below or the right.

What is held here is plane geometry; the spacing and slope of section lines are common practice, no source.
"""

from itertools import pairwise
from math import atan2, degrees, dist, hypot

import pytest

from calc.figures import Path, Text
from calc.figures_hatch import SIZE, arc_points, arrow, centre_lines, dimension, hatched, leader

SQUARE = ((0, 0), (100, 0), (100, 100), (0, 100))
BENT = ((0, 0), (100, 0), (100, 100), (60, 100), (60, 40), (0, 40))


def inside(point, outline):
    """Whether a point lies in a polygon, by the crossings of a ray to the right; a second way, kept apart."""
    x, y = point
    crossed = 0
    for (x1, y1), (x2, y2) in pairwise([*outline, outline[0]]):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            crossed += 1
    return crossed % 2 == 1


def middles(paths):
    return [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in (path.points for path in paths)]


def slope(path):
    (x1, y1), (x2, y2) = path.points
    return degrees(atan2(-(y2 - y1), x2 - x1)) % 180


@pytest.mark.parametrize("kind", ["ci", "st", "gm", "cu", "wm", "nm"])
@pytest.mark.parametrize("outline", [SQUARE, BENT, arc_points((50, 50), 50, 0, 357)])
def test_section_when_hatched_then_every_line_is_inside_and_at_45_degrees(kind, outline):
    lines = hatched(outline, kind, 9)
    assert len(lines) > 8
    for path, middle in zip(lines, middles(lines), strict=True):
        if dist(*path.points) < 1e-6:
            continue
        assert inside(middle, outline)
        assert slope(path) == pytest.approx(45) or (kind == "wm" and slope(path) == pytest.approx(135))


def test_section_of_a_square_when_hatched_then_its_lines_are_as_long_as_its_area_asks():
    # Parallel lines a distance s apart have a total length of area / s, but for the ends: 10000 / 5 = 2000.
    total = sum(dist(*path.points) for path in hatched(SQUARE, "ci", 5))
    assert total == pytest.approx(2000, rel=0.02)


def test_section_with_a_hole_when_hatched_then_the_hole_stays_clear():
    hole = ((30, 30), (70, 30), (70, 70), (30, 70))
    lines = hatched(SQUARE, "ci", 5, holes=[hole])
    assert not any(inside(middle, hole) for middle in middles(lines))
    assert sum(dist(*path.points) for path in lines) == pytest.approx((10_000 - 1600) / 5, rel=0.03)


def test_section_when_it_leans_the_other_way_then_the_lines_are_at_135():
    assert {round(slope(path)) for path in hatched(SQUARE, "st", 8, lean=135)} == {135}


def test_section_when_there_is_no_outline_then_there_are_no_lines():
    assert hatched((), "ci", 5) == ()
    assert hatched(SQUARE, "ci", 0) == ()


def test_section_of_two_pieces_when_hatched_then_the_lines_run_through():
    left = {round(path.points[0][0] + path.points[0][1], 3) for path in hatched(SQUARE, "ci", 7)}
    moved = tuple((x + 100, y) for x, y in SQUARE)
    right = {round(path.points[0][0] + path.points[0][1], 3) for path in hatched(moved, "ci", 7)}
    assert {value for value in left if 100 < value < 200} <= right


def words(strokes):
    (text,) = (stroke for stroke in strokes if isinstance(stroke, Text))
    return text


@pytest.mark.parametrize(
    ("start", "end", "turn"),
    [
        ((0, 0), (200, 0), 0),
        ((200, 0), (0, 0), 0),
        ((0, 0), (0, 200), -90),
        ((0, 200), (0, 0), -90),
        ((0, 0), (200, 200), 45),
        ((0, 200), (200, 0), -45),
    ],
)
def test_dimension_when_drawn_either_way_then_it_reads_from_below_or_from_the_right(start, end, turn):
    text = words(dimension(start, end, "14.333", away=30))
    assert text.turn == pytest.approx(turn)
    assert text.anchor == "middle"


@pytest.mark.parametrize(("away", "side"), [(30, -30), (-30, 30)])
def test_dimension_then_its_arrows_stand_at_the_ends_on_the_side_asked_for(away, side):
    strokes = dimension((0, 0), (200, 0), "7.375", away=away)
    tips = [stroke.points[0] for stroke in strokes if isinstance(stroke, Path) and stroke.role == "da"]
    assert tips == [(0, side), (200, side)]
    # Extension lines leave a gap at the work and pass the dimension line (common practice, no source).
    lines = [stroke for stroke in strokes if isinstance(stroke, Path) and stroke.role == "d"]
    assert [abs(line.points[0][1]) for line in lines[:2]] == [4, 4]
    assert [abs(line.points[1][1]) for line in lines[:2]] == [35, 35]


def test_dimension_when_there_is_no_room_then_arrows_point_in_and_the_figure_stands_beyond():
    strokes = dimension((0, 0), (10, 0), "0.375", away=30)
    heads = [stroke for stroke in strokes if isinstance(stroke, Path) and stroke.role == "da"]
    assert heads[0].points[1][0] < 0
    assert heads[1].points[1][0] > 10
    text = words(strokes)
    assert (text.anchor, text.x > 10 + 20) == ("start", True)
    before = words(dimension((0, 0), (10, 0), "0.375", away=30, beside="start"))
    assert (before.anchor, before.x < -20) == ("end", True)


def test_dimension_of_nothing_then_there_is_none():
    assert dimension((5, 5), (5, 5), "0", away=10) == ()


def test_arrow_then_it_is_slender_and_points_at_its_tip():
    tip, left, right = arrow((10, 10), (110, 10)).points
    assert tip == (10, 10)
    assert left[0] == right[0] == 20
    assert 2 < hypot(left[0] - right[0], left[1] - right[1]) < 5


@pytest.mark.parametrize(("elbow", "anchor"), [((50, 50), "start"), ((-50, 50), "end")])
def test_leader_then_the_words_stand_on_the_far_side_of_the_elbow(elbow, anchor):
    text = words(leader((0, 0), elbow, "keyway"))
    assert text.anchor == anchor
    assert text.size == SIZE


def test_centre_lines_then_they_cross_at_the_middle():
    across, down = centre_lines((10, 20), 30, 40)
    assert across.points == ((-20, 20), (40, 20))
    assert down.points == ((10, -20), (10, 60))
