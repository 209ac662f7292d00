"""Leads on the mill: by the worm and on the spindle, the angle by the triangle, what is far out.

The working, the limits and the search of trains are in test_change_wheels; printed leads in test_published.
"""

from fractions import Fraction
from math import atan, degrees, pi, prod

import pytest

from calc.kernel.milling_lead import milling_lead

INCH = Fraction(254, 10)


def test_lead_when_the_gear_is_on_the_spindle_then_a_fortieth_of_that_by_the_worm():
    gears = {"screw_threads_per_inch": Fraction(4), "change_gears": [40, 44, 56, 100]}
    worm = milling_lead(lead=Fraction("6.16") * INCH, **gears).results
    spindle = milling_lead(lead=Fraction("0.154") * INCH, drive="spindle", **gears).results
    assert worm["exact_trains"][0]["drivers"] == spindle["exact_trains"][0]["drivers"]
    assert worm["machine_lead_mm"] == pytest.approx(254)
    assert spindle["machine_lead_mm"] == pytest.approx(6.35)


def test_angle_when_the_lead_is_the_nearest_then_told_by_the_triangle():
    found = milling_lead(
        lead=Fraction(500), screw_pitch=Fraction(5), change_gears=[24, 28, 32, 40, 44, 48],
        work_diameter=Fraction(60),
    ).results  # fmt: skip
    assert found["helix_angle_deg"] == pytest.approx(degrees(atan(pi * 60 / 500)))
    for row in found["nearest_trains"]:
        made = 200 * prod(row["driven"]) / prod(row["drivers"])
        assert row["lead_mm"] == pytest.approx(made)
        assert row["helix_error_arcsec"] == pytest.approx(
            3600 * (degrees(atan(pi * 60 / made)) - found["helix_angle_deg"]), abs=1e-6
        )


def test_lead_when_the_nearest_is_far_out_then_said():
    found = milling_lead(lead=Fraction(500), screw_pitch=Fraction(5), change_gears=[24, 28])
    assert "lead-out" in [one.code for one in found.warnings]
