"""What kept change wheels and milling leads put on a card: the train, and what it misses by.

Every train is multiplied out here: drivers over driven, times the pitch of the screw.
"""

from fractions import Fraction
from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed, card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

WHEELS = "20,25,30,35,40,45,50,55,60,63,65,70,75,80,100"
GEARS = "24,24,28,32,40,44,48,56,64,72,86,100"
HELICAL = {"teeth": "24", "diametral_pitch": "10", "helix_angle": "22 1/2 deg"}


def kept(key, **entered):
    run = records.run(registry.get(key), entered)
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def figures(made):
    return {one["label"]: one["value"] for one in made["figures"]}


def said(made):
    return " ".join(f"{one['strong']} {one['text']}" for one in made["notes"])


def test_wheels_when_one_is_exact_then_its_train_and_no_error():
    # 20 to the inch on a screw of 8: 8/20 = 40/100.
    record = kept("change-wheels", threads_per_inch="20", screw_threads_per_inch="8", wheels_owned=WHEELS)
    made = card_sum(record)
    row = record.results["exact_trains"][0]
    assert Fraction(row["drivers"][0], row["driven"][0]) == Fraction(8, 20)
    train = figures(made)["Wheels, driving and driven, from the spindle"]
    assert str(row["drivers"][0]) in train
    assert str(row["driven"][0]) in train
    assert figures(made)["Pitch it cuts"] == "0.0500"
    assert "Not exact" not in said(made)


def test_wheels_when_none_is_exact_then_how_far_it_is_out_and_the_half_nut_stays_in():
    # Millimetres on an inch screw want a wheel of 127, which is not owned.
    record = kept("change-wheels", pitch="1.5 mm", screw_threads_per_inch="8", wheels_owned=WHEELS)
    row = record.results["nearest_trains"][0]
    ratio = Fraction(1)
    for driver, driven in zip(row["drivers"], row["driven"], strict=True):
        ratio *= Fraction(driver, driven)
    made_pitch = ratio * Fraction(254, 80)
    out = abs((made_pitch - Fraction(3, 2)) / Fraction(3, 2) * 25 * 1000)
    made = card_sum(record)
    assert f"Not exact: {float(out):.1f} µm" in said(made)
    assert "over 25 mm" in said(made)
    assert "Keep the half nut in" in said(made)
    assert made["units"] == "millimetres"


def test_wheels_then_the_caution_is_for_reaching_into_the_train():
    record = kept("change-wheels", threads_per_inch="20", screw_threads_per_inch="8", wheels_owned=WHEELS)
    assert card_sum(record)["cautions"] == [
        "Stop the machine and cut its supply before reaching into the wheels; guard back on."
    ]


def test_lead_then_the_train_the_lead_it_gives_and_the_hand_to_be_tried():
    # A machine lead of 40 / 4 = 10 in, and 10 / 25 = 2/5 = 40/100.
    record = kept("milling-lead", lead="25 in", screw_threads_per_inch="4", change_gears=GEARS)
    made = card_sum(record)
    assert figures(made)["Lead these gears give"] == "25.000"
    row = record.results["exact_trains"][0]
    ratio = Fraction(1)
    for driver, driven in zip(row["drivers"], row["driven"], strict=True):
        ratio *= Fraction(driver, driven)
    assert ratio == Fraction(2, 5)
    assert "Try the hand clear of the cutter" in said(made)


def test_lead_when_beside_its_helical_gear_then_the_gear_names_the_card_and_both_are_on_it():
    lead = kept("milling-lead", lead="19.7025 in", screw_threads_per_inch="4", change_gears=GEARS)
    gear = kept("helical-gear", **HELICAL)
    assert card.clash_of([lead, gear]) == ""
    made = card.sums_on_a_card([lead, gear], Typed())
    assert made["operation"] == "Cut 24 helical teeth"
    assert figures(made)["Lead of the helix"] == "19.703"
    assert "Wheels, driving and driven, from the table’s screw" in figures(made)
