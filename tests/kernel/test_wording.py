"""How exact numbers are written, and a length in either unit.

Halves away from nought is the way of schoolbooks: common practice, no source; the figures are done by hand.
"""

from fractions import Fraction

import pytest

from calc.kernel.units import fine, in_or_mm, turned
from calc.kernel.wording import exact, fixed
from calc.kernel.working import figures_enough
from calc.registry import get


@pytest.mark.parametrize(
    ("value", "places", "written"),
    [
        ("14", 4, "14.0000"),
        ("0.0625", 3, "0.063"),
        ("-0.0625", 3, "−0.063"),
        ("-0.0004", 3, "0.000"),
        ("2.5", 0, "3"),
        ("999.9995", 3, "1000.000"),
    ],
)
def test_fixed_when_written_then_halves_go_away_from_nought_and_nought_has_no_sign(value, places, written):
    assert fixed(Fraction(value), places) == written


def test_exact_when_a_result_was_a_half_then_a_half_again():
    """The float nearest to 4.890725 in, in millimetres, lies a hair below it."""
    mm = Fraction("4.890725") * Fraction("25.4")
    assert exact(float(mm)) == mm
    assert in_or_mm(exact(float(mm)), "inch", 5) == "4.89073"


def test_length_when_in_either_unit_then_its_places():
    assert (turned(25.4, "inch"), turned(25.4, "mm")) == ("1.000", "25.40")
    assert (fine(25.4, "inch"), fine(25.4, "mm")) == ("1.0000", "25.400")


def test_headline_when_a_limit_is_a_half_then_rounded_as_in_the_working():
    """313/64 in and 0.0001 in are 4.890725 in."""
    held = {"shaft_lower_mm": 4.890725 * 25.4, "shaft_upper_mm": 4.891725 * 25.4}
    held |= {"clearance_max_mm": 0.0015 * 25.4, "clearance_min_mm": -0.0011 * 25.4, "kind": "transition"}
    assert "4.89073 to 4.89173 in" in get("inch-fit").headline({}, held)


def test_figures_when_the_value_hangs_on_a_far_place_then_enough_are_written():
    """2/3 to three places is 0.667, and 3 × 0.667 would show 2.001 where 2.000 is right."""
    written, shown = figures_enough([Fraction(2, 3)], lambda part: 3 * part, 3, 3)
    assert shown == "2.000"
    assert written == ["0.6667"]
