"""What must hold of every press fit and every fit in inches, whatever is entered."""

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.entries import plain_json
from calc.kernel.errors import CalculationError
from calc.kernel.inch_fit import FITS, inch_fit
from calc.kernel.press_fit import press_fit
from calc.kernel.press_fit_entries import MATERIALS
from calc.kernel.shop_fit import CLASSES, shop_fit
from calc.kernel.shop_fit import FITS as SHOP_FITS

INCH = Fraction(254, 10)


def results_or_field(function, **entered):
    """The results, or the entry that is refused."""
    try:
        return function(**entered).results
    except CalculationError as error:
        return error.field


#: With the largest share these keep within the 5 mm of interference that the sum takes.
diameters = st.fractions(min_value=1, max_value=250, max_denominator=64)
shares = st.fractions(min_value=Fraction(1, 5000), max_value=Fraction(1, 50), max_denominator=5000)
materials = st.sampled_from(MATERIALS)


@given(
    diameters, st.fractions(min_value=Fraction(11, 10), max_value=5, max_denominator=20), shares, materials
)
def test_press_fit_when_the_interference_is_doubled_then_so_are_pressure_and_stress(d, wall, share, metal):
    entered = {"interface": d, "hub_outside": d * wall, "hub_material": metal}
    one, two = (press_fit(**entered, interference=d * share * times / 2).results for times in (1, 2))
    assert one["pressure_mpa"] > 0
    for name in ("pressure_mpa", "hub_hoop_mpa", "shaft_hoop_mpa", "temperature_rise_c"):
        assert two[name] == pytest.approx(2 * one[name])
    assert one["hub_hoop_mpa"] > one["pressure_mpa"]
    assert "NaN" not in json.dumps(plain_json(one), allow_nan=False)


@given(
    diameters, shares, st.fractions(min_value=Fraction(1, 20), max_value=Fraction(9, 10), max_denominator=20)
)
def test_press_fit_when_the_shaft_is_bored_then_it_presses_less(d, share, bore):
    entered = {"interface": d, "hub_outside": 2 * d, "interference": d * share}
    solid = press_fit(**entered).results
    bored = results_or_field(press_fit, **entered, shaft_bore=d * bore)
    if isinstance(bored, str):
        assert bored == "shaft_bore"
        return
    assert bored["pressure_mpa"] < solid["pressure_mpa"]


@given(st.fractions(min_value=0, max_value=8, max_denominator=64), st.sampled_from(FITS))
def test_inch_fit_when_asked_then_it_answers_or_names_the_size(inches, fit):
    found = results_or_field(inch_fit, nominal=inches * INCH, fit=fit)
    if isinstance(found, str):
        assert found == "nominal"
        return
    assert 0 < found["shaft_lower_mm"] < found["shaft_upper_mm"]
    assert found["hole_lower_mm"] < found["hole_upper_mm"]
    assert found["clearance_max_mm"] == pytest.approx(found["hole_upper_mm"] - found["shaft_lower_mm"])
    assert str(found["clearance_max_mm"]) != "-0.0"
    assert str(found["clearance_min_mm"]) != "-0.0"


@given(
    st.fractions(min_value=0, max_value=6, max_denominator=64),
    st.sampled_from(SHOP_FITS),
    st.sampled_from(CLASSES),
)
def test_shop_fit_when_asked_then_it_answers_or_names_the_size(inches, fit, running_class):
    found = results_or_field(shop_fit, nominal=inches * INCH, fit=fit, running_class=running_class)
    if isinstance(found, str):
        assert found == "nominal"
        return
    assert 0 < found["shaft_lower_mm"] < found["shaft_upper_mm"]
    assert (found["kind"] == "interference") == (fit in ("driving", "forced"))
