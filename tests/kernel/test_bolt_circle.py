"""Bolt circles: coordinates against the triangle and the square, every line of working worked again."""

from fractions import Fraction
from math import hypot

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.bolt_circle import bolt_circle, cosine, sine
from calc.kernel.errors import OutOfRange
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value, turned_points

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)
ROOT = 0.5**0.5
ENTRIES = [
    *[check["entered"] for check in tables.read_checks("bolt_circles")],
    {
        "holes": "7",
        "diameter": "76.3 mm",
        "first_angle": "-31° 12'",
        "centre_x": "-20 mm",
        "centre_y": "11 mm",
    },
    {"holes": "2", "diameter": "1 1/3 in", "first_angle": "360"},
    {"holes": "12", "diameter": "2.125 in", "centre_x": "1/3 in"},
    {"holes": "200", "diameter": "5000 mm"},
]


@pytest.mark.parametrize("entered", ENTRIES, ids=lambda one: " ".join(one.values()))
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs = read_entries(get("bolt-circle"), entered).inputs
    outcome = bolt_circle(**inputs)
    unit = INCH if outcome.working[0].unit == "in" else Fraction(1)
    names = {
        "centre x": (inputs["centre_x"] or 0) / unit, "centre y": (inputs["centre_y"] or 0) / unit,
        "diameter": inputs["diameter"] / unit, "first angle": inputs["first_angle"],
        "holes": inputs["holes"],
    }  # fmt: skip
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half + HAIR, step
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half + HAIR, step
    assert len(outcome.working) >= 2 * inputs["holes"] + 1


@pytest.mark.parametrize(
    ("holes", "first", "wanted"),
    [
        # A square and a triangle on a circle of 2: plain geometry.
        (4, 0, [(1, 0), (0, 1), (-1, 0), (0, -1)]),
        (4, 45, [(ROOT, ROOT), (-ROOT, ROOT), (-ROOT, -ROOT), (ROOT, -ROOT)]),
        (3, 90, [(0, 1), (-(0.75**0.5), -0.5), (0.75**0.5, -0.5)]),
    ],
)  # fmt: skip
def test_coordinates_when_of_a_square_or_a_triangle_then_those_of_geometry(holes, first, wanted):
    rows = bolt_circle(holes=holes, diameter=Fraction(2), first_angle=Fraction(first)).results["coordinates"]
    assert [(row["x_mm"], row["y_mm"]) for row in rows] == [pytest.approx(point) for point in wanted]


@pytest.mark.parametrize(("holes", "first"), [(5, "90"), (8, "22.5"), (13, "-7.25"), (36, "0")])
def test_coordinates_when_turned_hole_by_hole_then_the_same(holes, first):
    """Second way: the first hole turned again and again by multiplying complex numbers."""
    outcome = bolt_circle(holes=holes, diameter=Fraction(100), first_angle=Fraction(first))
    points = turned_points(holes, 100.0, float(Fraction(first)))
    for row, (x, y) in zip(outcome.results["coordinates"], points, strict=True):
        assert (row["x_mm"], row["y_mm"]) == pytest.approx((x, y), abs=1e-9)
    (x, y), (next_x, next_y) = points[:2]
    assert outcome.results["chord_mm"] == pytest.approx(hypot(next_x - x, next_y - y))
    widest = max(hypot(one - x, other - y) for one, other in points)
    assert outcome.results["across_mm"] == pytest.approx(widest)


def test_across_when_even_then_the_diameter_and_when_odd_then_less():
    even = bolt_circle(holes=6, diameter=3 * INCH).results
    assert (even["across_mm"], even["across_hole"]) == (pytest.approx(76.2), 4)
    # The diagonal of a pentagon is its side times the golden section.
    odd = bolt_circle(holes=5, diameter=2 * INCH).results
    assert odd["across_mm"] / odd["chord_mm"] == pytest.approx((1 + 5**0.5) / 2)
    assert odd["across_hole"] == 3


def test_centre_when_it_is_not_the_datum_then_every_hole_moves_with_it():
    at_nought = bolt_circle(holes=5, diameter=Fraction(40)).results["coordinates"]
    moved = bolt_circle(holes=5, diameter=Fraction(40), centre_x=Fraction(-7), centre_y=Fraction(3, 2))
    for row, there in zip(at_nought, moved.results["coordinates"], strict=True):
        assert (there["x_mm"], there["y_mm"]) == pytest.approx((row["x_mm"] - 7, row["y_mm"] + 1.5))


def test_sine_when_a_whole_or_a_half_then_exact():
    assert [sine(Fraction(angle)) for angle in (0, 30, 90, 150, 180, 210, 270, -30)] == [
        0, Fraction(1, 2), 1, Fraction(1, 2), 0, Fraction(-1, 2), -1, Fraction(-1, 2),
    ]  # fmt: skip
    assert [cosine(Fraction(angle)) for angle in (0, 60, 90, 120, 180, 270)] == [
        1, Fraction(1, 2), 0, Fraction(-1, 2), -1, 0,
    ]  # fmt: skip


@pytest.mark.parametrize("field", get("bolt-circle").inputs, ids=lambda one: one.name)
def test_limit_when_stood_on_then_worked_and_outside_refused_by_name(field):
    usual = {"holes": 6, "diameter": Fraction(50)}
    step = 1 if field.kind == "count" else HAIR
    for edge, out in ((field.low, -step), (field.high, step)):
        value = int(edge) if field.kind == "count" else edge
        assert bolt_circle(**usual | {field.name: value}).results["coordinates"]
        with pytest.raises(OutOfRange) as refused:
            bolt_circle(**usual | {field.name: value + out})
        assert refused.value.field == field.name
