"""Strength of a key: the worked examples, units, refusals, and trap 11 (mixed units) of the mistakes."""

from fractions import Fraction
from math import pi

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel.errors import OutOfRange
from calc.kernel.key_strength import key_strength
from calc.registry import get

INCH = Fraction(254, 10)
PLAIN = {
    "torque": Fraction(100), "shaft": Fraction(25), "key_width": Fraction(8), "key_height": Fraction(7),
    "allowable_shear": Fraction(50), "allowable_crushing": Fraction(100), "length": Fraction(40),
}  # fmt: skip


def strength(**more):
    return key_strength(**{name: value for name, value in (PLAIN | more).items() if value is not None})


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def test_key_when_worked_by_hand_then_force_stresses_and_lengths():
    """By hand: F = 2 × 100000 / 25 = 8000 N; 8000/(8 × 40) = 25; 16000/(7 × 40) = 57.14 MPa."""
    results = strength().results
    assert results["force_n"] == 8000
    assert results["shear_mpa"] == 25
    assert results["crushing_mpa"] == pytest.approx(57.142857)
    assert results["length_for_shear_mm"] == 20
    assert results["length_for_crushing_mm"] == results["length_wanted_mm"] == pytest.approx(22.857143)
    assert codes(strength(length=Fraction(37))) == ["steady-torque"]


def test_key_when_75_mm_shaft_then_height_and_length_of_the_textbook():
    """Machine Design-I textbook, example 7.4, p. 204: t 26.67, L 110.4 mm."""
    torque = Fraction(pi) * 75**3 * 50 / 16 / 1000
    found = strength(
        torque=torque, shaft=Fraction(75), key_width=Fraction(20), key_height=Fraction(80, 3), length=None,
        allowable_crushing=Fraction(75),
    ).results  # fmt: skip
    assert found["equal_height_mm"] == pytest.approx(26.67, abs=0.005)
    assert found["length_as_shaft_mm"] == pytest.approx(110.4, abs=0.1)
    # Made so, shear, crushing and the shaft itself give way together.
    assert found["length_for_shear_mm"] == pytest.approx(found["length_for_crushing_mm"])
    assert found["length_for_shear_mm"] == pytest.approx(found["length_as_shaft_mm"])


def test_power_when_100_kw_at_120_then_torque_and_shear_of_the_textbook():
    """Strength of Materials textbook, shear of a key: 7957.7 N m, 45.47 MPa."""
    found = strength(
        torque=None, power=Fraction(100_000), speed=Fraction(120), shaft=Fraction(100),
        key_width=Fraction(25), key_height=Fraction(14), length=Fraction(140),
    ).results  # fmt: skip
    assert found["torque_nm"] == pytest.approx(7957.7, abs=0.05)
    assert found["shear_mpa"] == pytest.approx(45.47, abs=0.005)


def test_horsepower_when_5_at_1750_then_both_constants_are_shown():
    """63,025 × 5 / 1750 = 180.07 lbf in; older texts have 63,000, which gives 180.00."""
    read = read_entries(get("key-strength"), {
        "power": "5 hp", "speed": "1750", "shaft": "7/8 in", "key_width": "3/16 in", "key_height": "3/16 in",
        "allowable_shear": "7000 psi", "allowable_crushing": "14000 psi",
    })  # fmt: skip
    outcome = key_strength(**read.inputs)
    text = next(one.text for one in outcome.warnings if one.code == "older-constant")
    assert "180.07 lbf in" in text
    assert "180.00 lbf in" in text


def test_length_when_too_short_or_too_long_then_warned():
    assert codes(strength(length=Fraction(15)))[:2] == ["shear-too-great", "crushing-too-great"]
    assert codes(strength(length=Fraction(21)))[0] == "crushing-too-great"
    assert "long-key" in codes(strength(length=Fraction(38)))
    assert "long-key" not in codes(strength(length=Fraction(37)))
    assert strength(length=None).results["shear_mpa"] is None


@pytest.mark.parametrize(
    ("entries", "field"),
    [
        ({"torque": None}, "torque"),
        ({"power": Fraction(100)}, "torque"),
        ({"speed": Fraction(100)}, "torque"),
        ({"torque": None, "power": Fraction(100)}, "speed"),
        ({"torque": None, "speed": Fraction(100)}, "power"),
        ({"torque": None, "power": Fraction(0), "speed": Fraction(100)}, "power"),
        ({"torque": None, "power": Fraction(100), "speed": Fraction(0)}, "speed"),
        ({"torque": Fraction(0)}, "torque"),
        ({"torque": Fraction(-5)}, "torque"),
        ({"shaft": Fraction(2)}, "shaft"),
        ({"key_width": Fraction(13)}, "key_width"),
        ({"key_height": Fraction(13)}, "key_height"),
        ({"key_height": Fraction(1, 10)}, "key_height"),
        ({"length": Fraction(0)}, "length"),
        ({"allowable_shear": Fraction(0)}, "allowable_shear"),
        ({"allowable_crushing": Fraction(1001)}, "allowable_crushing"),
    ],
)
def test_entry_when_wrong_then_refused_by_name_with_limit_and_reason(entries, field):
    with pytest.raises(OutOfRange) as refused:
        strength(**entries)
    assert refused.value.field == field
    assert refused.value.limit
    assert refused.value.reason


def test_trap_11_when_units_are_mixed_then_each_is_named_and_converted_and_a_bare_one_says_what_it_took():
    typed = {
        "torque": "90 lbf ft", "shaft": "1 in", "key_width": "1/4 in", "key_height": "1/4 in",
        "allowable_shear": "3 ton/in2", "allowable_crushing": "14000 psi",
    }  # fmt: skip
    calculation = get("key-strength")
    read = read_entries(calculation, typed)
    assert "of 2,240 lb" in read.readings["allowable_shear"]
    # 6720 psi and 90 lbf ft by their definitions: 0.45359237 kg, 9.80665 m/s², 25.4 mm.
    assert float(read.inputs["allowable_shear"]) == pytest.approx(6720 * 4.4482216152605 / 645.16)
    assert float(read.inputs["torque"]) == pytest.approx(90 * 4.4482216152605 * 0.3048)
    for name, bare, taken in (("torque", "90", "taken as N m"), ("allowable_shear", "50", "taken as MPa")):
        assert read_entries(calculation, typed | {name: bare}).readings[name].endswith(taken)
    # A figure in psi, typed bare, is over what any metal is allowed in megapascals.
    with pytest.raises(EntryErrors) as refused:
        read_entries(calculation, typed | {"allowable_crushing": "14000"})
    assert "too great" in refused.value.messages["allowable_crushing"]
