"""What inch, workshop and press fits, spindle speeds and key strengths put on a card.

RC4 on 1 in is +1.2, 0 and −0.8, −1.6 thousandths: ANSI B4.1. The press fit is Lamé's, solid steel shaft in a
hub of twice its diameter: p = E δ / d × (1 − 1/4) / 2.
"""

from math import ceil, pi
from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed, card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

PRESS = {
    "interface": "25 mm", "hub_outside": "50 mm", "interference": "0.020 mm", "length": "20 mm",
    "friction": "0.12",
}  # fmt: skip
SPEED = {"diameter": "1 1/2 in", "material": "mild-steel", "spindle_speeds": "70, 110, 180, 300"}


def kept(key, **entered):
    run = records.run(registry.get(key), entered)
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def figures(made):
    return {one["label"]: one["value"] for one in made["figures"]}


@pytest.mark.parametrize(
    ("side", "expected"),
    [
        ("shaft", {"Shaft, 1.000 RC4": "0.9984–0.9992"}),
        ("hub", {"Bore, 1.000 RC4": "1.0000–1.0012"}),
        ("both", {"Bore, 1.000 RC4": "1.0000–1.0012", "Shaft, 1.000 RC4": "0.9984–0.9992"}),
    ],
)
def test_inch_fit_then_the_limits_of_the_half_that_the_part_is(side, expected):
    record = kept("inch-fit", nominal="1 in", fit="RC4")
    assert card.has_side(record)
    assert figures(card_sum(record, Typed(side=side))) == expected


def test_shop_fit_then_the_hole_is_reamed_to_size_and_the_shaft_has_limits():
    # Forced, over 1 to 2 in: 4 and 3 thousandths over (Turning and Boring, 1914).
    made = card_sum(kept("shop-fit", nominal="1 1/2", fit="forced"))
    assert figures(made) == {"Bore, 1.500 forced": "1.5000", "Shaft, 1.500 forced": "1.503–1.504"}


def test_fit_when_two_tables_are_asked_then_one_fit_on_a_card():
    found = card.clash_of(
        [kept("inch-fit", nominal="1 in", fit="RC4"), kept("fit", nominal="1 in", hole="H7")]
    )
    assert "are of a fit" in found


def test_press_fit_then_shaft_over_bore_heat_and_what_it_holds():
    # p = 207,000 × 0.020 / 25 × 0.75 / 2 = 62.1; δ / (α d) = 0.020 / (12 × 10⁻⁶ × 25) = 66.7 °C, rounded up;
    # torque p μ π d² l / 2.
    pressure = 207_000 * 0.020 / 25 * 0.75 / 2
    made = card_sum(kept("press-fit", **PRESS))
    assert figures(made) == {
        "Shaft over its bore by": "0.020",
        "Hub warmer than the shaft by": f"{ceil(0.020 / (12e-6 * 25))} °C",
        "Pressure": f"{pressure:.1f}",
        "Torque it holds": f"{pressure * 0.12 * pi * 25**2 * 20 / 2 / 1000:.1f}",
    }
    assert made["notes"][0]["strong"] == "In a shop of 20 °C the hub goes on at 87 °C,"
    assert made["cautions"][0].startswith("A hot hub burns: dry, heatproof gloves")
    assert made["cautions"][0].endswith("Heat it evenly, never quench it.")


def test_press_fit_when_the_hub_may_split_then_the_card_says_so():
    # Hoop stress 103.5 MPa at the hub's bore, against a strength of 110.
    made = card_sum(kept("press-fit", **PRESS, hub_strength="110 MPa"))
    assert made["notes"][0]["strong"] == "The hub may split."


def test_spindle_speed_then_the_step_of_the_machine():
    # 90 ft/min on 1 1/2 in: 90 × 12 / (1.5 π) = 229, so 180 of the steps owned.
    made = card_sum(kept("spindle-speed", **SPEED))
    assert 90 * 12 / (1.5 * pi) == pytest.approx(229, abs=0.5)
    assert figures(made) == {"Spindle set to": "180"}
    assert made["operation"] == "Run at 180 turns a minute"


def test_spindle_speed_when_beside_a_gear_then_in_place_of_the_rule_and_not_in_the_operation():
    gear = kept("spur-gear", teeth="84", diametral_pitch="6")
    made = card.sums_on_a_card([kept("spindle-speed", **SPEED), gear], Typed())
    assert "Speed, feed" not in figures(made)
    assert figures(made)["Spindle set to"] == "180"
    assert made["operation"] == "Cut 84 teeth"


def test_key_strength_then_the_length_wanted_and_said_where_the_key_is_too_short():
    # 5 hp at 210 r.p.m. in 1 1/8: torque 63025 × 5 / 210 = 1500.6 lbf in, force 2667.7 lbf over a radius of
    # 9/16; shear 2667.7 / (1/4 × 7000) = 1.524 in, crushing 2667.7 / (1/8 × 14000) = 1.524 in.
    made = card_sum(
        kept(
            "key-strength", power="5 hp", speed="210", shaft="1 1/8 in",
            key_width="1/4 in", key_height="1/4 in", length="1 1/4 in",
            allowable_shear="7000 psi", allowable_crushing="14000 psi",
        )
    )  # fmt: skip
    assert list(figures(made).values()) == ["1.524"]
    assert "Too much in shear as long as entered." in made["notes"][0]["strong"]


def test_joined_when_a_metric_fit_is_beside_an_inch_gear_then_every_figure_bears_its_unit():
    made = card.sums_on_a_card(
        [kept("spur-gear", teeth="84", diametral_pitch="6"), kept("press-fit", **PRESS)], Typed()
    )
    assert made["units"] == "as marked"
    units = {one["label"]: one.get("unit", "") for one in made["figures"]}
    assert units["Shaft over its bore by"].startswith("mm")
    assert units["Depth of tooth, 2.157 system"] == "in"
