"""Press and shrink fits held to Lamé by finite differences, and to the slips that are made with them.

Numbers of traps are those of the list of mistakes in fits: 10, radial for diametral; 11, mixed units.
"""

from fractions import Fraction

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel.errors import OutOfRange
from calc.kernel.press_fit import press_fit
from calc.registry import get
from tests.oracle_rings import press_fit_by_differences
from tests.oracles import evaluate, shown_value

STEEL = {"interface": Fraction(25), "hub_outside": Fraction(50), "interference": Fraction("0.02")}
BORED = {"interface": Fraction(60), "hub_outside": Fraction(120), "interference": Fraction("0.045")}
BORED |= {"shaft_bore": Fraction(20), "hub_e": Fraction(110000), "hub_poisson": Fraction("0.26")}
BORED |= {"shaft_e": Fraction(205000), "shaft_poisson": Fraction("0.29"), "hub_material": "grey iron"}


def texts(outcome):
    return {one.code: one.text for one in outcome.warnings}


def test_pressure_when_worked_by_finite_differences_then_the_same():
    """The displacement of each ring solved on a grid from u'' + u'/r - u/r2 = 0, not by Lamé's formula."""
    found = press_fit(**BORED).results
    again = press_fit_by_differences(
        inner=20, joint=60, outer=120, interference=0.045, hub=(110000, 0.26), shaft=(205000, 0.29)
    )
    assert found["pressure_mpa"] == pytest.approx(again["pressure"], rel=2e-3)
    assert found["hub_hoop_mpa"] == pytest.approx(again["hub_hoop"], rel=5e-3)
    assert found["shaft_hoop_mpa"] == pytest.approx(again["shaft_hoop"], rel=5e-3)


def test_trap_10_when_a_radial_figure_may_be_meant_then_both_are_shown():
    """Strength of Materials, example 8.8.16: 0.189 on the radius is 0.379 on the diameter."""
    text = texts(
        press_fit(interface=Fraction(250), hub_outside=Fraction(300), interference=Fraction("0.378"))
    )
    assert "0.378 mm" in text["on-diameter"]
    assert "0.189 mm on the radius" in text["on-diameter"]


def test_trap_10_when_heated_then_the_length_is_the_diameter_where_they_meet():
    """0.078 mm on 25 mm at 11.4e-6: 274 degrees, not 547 as with the radius."""
    found = press_fit(
        **STEEL | {"interference": Fraction("0.048")},
        assembly_clearance=Fraction("0.03"),
        hub_material="grey iron",
    )
    assert round(found.results["temperature_rise_c"]) == 274


def test_trap_11_when_the_interference_is_in_the_wrong_unit_then_it_is_refused_or_doubted():
    entered = {"interface": "1 in", "hub_outside": "2 in"}
    inputs = read_entries(get("press-fit"), entered | {"interference": "0.04"}).inputs
    with pytest.raises(OutOfRange, match="slip of unit") as refused:
        press_fit(**inputs)
    assert refused.value.field == "interference"
    inputs = read_entries(get("press-fit"), entered | {"interference": "0.005"}).inputs
    assert "unit" in texts(press_fit(**inputs))["over-thumb"]


def test_trap_11_when_the_expansion_is_to_a_degree_fahrenheit_then_it_is_told_apart():
    """6.7e-6 per degF is 12.06e-6 per degC: 1.8 times."""
    entered = {"interface": "1 in", "hub_outside": "2 in", "interference": "0.001"}
    read = [
        read_entries(get("press-fit"), entered | {"hub_expansion": text}).inputs["hub_expansion"]
        for text in ("6.7e-6 per degF", "6.7e-6/°F", "6.7e-6", "6.7e-6 /K")
    ]
    assert read == [Fraction("12.06e-6"), Fraction("12.06e-6"), Fraction("6.7e-6"), Fraction("6.7e-6")]
    with pytest.raises(EntryErrors) as refused:
        read_entries(get("press-fit"), entered | {"hub_expansion": "6.7"})
    assert "6.7" in refused.value.messages["hub_expansion"]


def test_iron_when_stretched_near_16_ksi_then_the_builders_own_figure_is_asked_for():
    entered = {
        "interface": Fraction("25.4"),
        "hub_outside": Fraction("50.8"),
        "interference": Fraction("0.0381"),
    }
    bare = texts(press_fit(**entered, hub_material="grey iron"))
    assert "16 ksi" in bare["hub-strength"]
    assert "Your own figure" in bare["hub-strength"]
    assert "hub-strength" not in texts(
        press_fit(**entered, hub_material="grey iron", hub_strength=Fraction(250))
    )
    assert (
        "over the 100 MPa you gave"
        in (texts(press_fit(**entered, hub_material="grey iron", hub_strength=Fraction(100)))["hub-strength"])
    )
    assert "no-strength" in texts(press_fit(**STEEL))


def test_old_tonnage_when_nine_inches_then_150_tons_and_labelled_as_a_rule_of_thumb():
    """Applied Science for Metal Workers, 1919: a 9 in pin, 150 tons."""
    nine = Fraction("228.6")
    text = texts(press_fit(interface=nine, hub_outside=2 * nine, interference=Fraction("0.2")))["old-tonnage"]
    assert "150 tons" in text
    assert "Rule of thumb" in text


def test_force_when_length_or_friction_is_missing_then_none():
    for more in ({}, {"length": Fraction(20)}, {"friction": Fraction("0.1")}):
        found = press_fit(**STEEL, **more).results
        assert found["axial_force_n"] is None
        assert found["torque_nm"] is None


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"hub_outside": Fraction(25)}, "hub_outside"),
        ({"shaft_bore": Fraction(25)}, "shaft_bore"),
        ({"interference": Fraction(0)}, "interference"),
        ({"interference": Fraction("0.501")}, "interference"),
        ({"interface": Fraction("0.9")}, "interface"),
        ({"friction": Fraction(2)}, "friction"),
        ({"length": Fraction(0)}, "length"),
        ({"assembly_clearance": Fraction(-1)}, "assembly_clearance"),
        ({"hub_e": Fraction(207)}, "hub_e"),
        ({"shaft_poisson": Fraction(1, 2)}, "shaft_poisson"),
        ({"hub_expansion": Fraction(12)}, "hub_expansion"),
        ({"hub_material": "cheese"}, "hub_material"),
        ({"hub_strength": Fraction(0)}, "hub_strength"),
    ],
)
def test_entry_when_outside_its_limits_then_it_is_refused_by_name(change, field):
    with pytest.raises(OutOfRange) as refused:
        press_fit(**STEEL | change)
    assert refused.value.field == field


@pytest.mark.parametrize("entered", [STEEL, BORED], ids=["solid", "bored"])
def test_working_when_worked_again_then_figures_and_value_agree(entered):
    for step in press_fit(**entered, length=Fraction(20), friction=Fraction("0.12")).working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
