"""What kept sums of a keyway and of a fit put on a card, for a shaft, for a hub, or for both."""

from math import sqrt
from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers.card import Typed, card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db


def kept(key, **entered):
    run = records.run(registry.get(key), entered)
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def figures(made):
    return {one["label"]: one["value"] for one in made["figures"]}


def wanted(made):
    return {one["note"]: one["wanted"] for one in made["sizes"]}


# ---- keyway ----------------------------------------------------------------------------------------------


def test_keyway_when_the_part_is_a_shaft_then_over_the_shaft_and_its_depth_alone():
    # 1 1/8 shaft, 1/4 square key, B17.1: half the key in the shaft, 1/8 at the wall; the crown stands
    # (D − √(D² − W²))/2 above the corners, so S = (D + √(D² − W²))/2 − 1/8: derived here.
    root = sqrt(1.125**2 - 0.25**2)
    made = card_sum(kept("keyway", shaft_diameter="1 1/8", standard="b17.1"), Typed(side="shaft"))
    assert figures(made) == {
        "Keyway width, B17.1": "0.250",
        "Keyway, S over the shaft": f"{(1.125 + root) / 2 - 0.125:.3f}",
        "Keyway depth from the crown, shaft": f"{0.125 + (1.125 - root) / 2:.3f}",
    }
    assert made["figures"][0]["unit"] == "key 1/4 in"
    assert set(wanted(made)) == {"keyway width, shaft", "S over the shaft"}
    assert made["units"] == "inches"


def test_keyway_when_the_part_is_a_hub_then_across_the_bore_alone_and_the_caution_for_a_broach():
    made = card_sum(kept("keyway", shaft_diameter="1 1/8", standard="b17.1"), Typed(side="hub"))
    assert set(wanted(made)) == {"keyway width, hub", "T across the bore"}
    assert [label for label in figures(made) if "shaft" in label] == []
    assert made["cautions"] == ["Face out of line of a broach; never drive one that sticks."]


def test_keyway_when_woodruff_then_the_cutter_and_the_standard_of_the_key_are_named():
    """Key 404: 1/8 × 1/2 in, so a cutter of 1/2 in (ANSI B17.2)."""
    record = kept("keyway", shaft_diameter="3/4", standard="b17.1", kind="woodruff", key_number="404")
    made = card_sum(record, Typed(side="shaft"))
    assert "Keyway width, B17.2" in figures(made)
    assert made["notes"][0]["strong"] == "Woodruff key 404."
    assert "0.500 in diameter" in made["notes"][0]["text"]
    assert wanted(made)["keyway width, shaft"].startswith("0.125")


def test_keyway_when_taper_then_the_hub_is_said_to_be_at_its_deep_end():
    """1 in shaft: T 1.089 taper (Machinery's Handbook 31, p. 2552)."""
    made = card_sum(kept("keyway", shaft_diameter="1", standard="b17.1", kind="taper"), Typed(side="hub"))
    assert figures(made)["Keyway, T across the bore, deep end"] == "1.089"
    assert "1 in 96" in made["notes"][0]["text"]


def test_keyway_when_not_said_which_then_both():
    made = card_sum(kept("keyway", shaft_diameter="1 1/8", standard="b17.1"))
    assert set(wanted(made)) == {
        "keyway width, shaft",
        "S over the shaft",
        "keyway width, hub",
        "T across the bore",
    }


def test_keyway_when_metric_then_in_millimetres_with_the_letters_of_its_standard():
    # 30 mm shaft: key 8 × 7, t1 = 4, t2 = 3.3 with + 0.2, widths JS9 in the hub, 0.018 each way (ISO 773 and
    # ISO 286 as many handbooks print them; from memory).
    made = card_sum(kept("keyway", shaft_diameter="30 mm", standard="iso773"))
    assert made["units"] == "millimetres"
    assert made["figures"][0]["unit"] == "key 8 × 7 mm"
    assert figures(made)["Keyway, d − t1 over the shaft"] == "26.00"
    assert wanted(made)["d + t2 across the bore"] == "33.30–33.50"
    assert wanted(made)["keyway width, hub"] == "7.982–8.018"


def test_keyway_when_its_depths_were_not_read_then_it_says_so_and_prints_none():
    # Of the rectangular keys of BS 46 the sizes of the key alone were read.
    made = card_sum(kept("keyway", shaft_diameter="1 1/8", standard="bs46", section="rectangular"))
    assert (made["figures"], made["sizes"]) == ([], [])
    assert "not read in BS 46" in made["notes"][0]["strong"]


# ---- fit -------------------------------------------------------------------------------------------------

# 40 H7: +25, 0; 40 g6: −9, −25 µm, as ISO 286-2 prints them (iso_fit_examples, 40 H7/g6).


@pytest.mark.parametrize(
    ("side", "expected"),
    [
        ("hub", {"Bore, 40.00 H7": "40.000–40.025"}),
        ("shaft", {"Shaft, 40.00 g6": "39.975–39.991"}),
        ("both", {"Bore, 40.00 H7": "40.000–40.025", "Shaft, 40.00 g6": "39.975–39.991"}),
    ],
)
def test_fit_then_the_limits_of_the_half_that_the_part_is(side, expected):
    made = card_sum(kept("fit", nominal="40 mm", hole="H7", shaft="g6"), Typed(side=side))
    assert figures(made) == expected
    assert sorted(wanted(made).values()) == sorted(expected.values())
    assert made["units"] == "millimetres"


def test_fit_when_typed_in_inches_then_its_limits_are_too():
    # 1 1/8 in is 28.575 mm; H7 over 18 to 30 mm is +21 µm (ISO 286): 28.596 / 25.4 = 1.12583 in.
    made = card_sum(kept("fit", nominal="1 1/8 in", hole="H7"))
    assert figures(made) == {"Bore, 1.125 H7": "1.1250–1.1258"}
    assert made["units"] == "inches"


def test_fit_when_only_the_other_half_was_worked_out_then_that_is_printed():
    made = card_sum(kept("fit", nominal="40 mm", hole="H7"), Typed(side="shaft"))
    assert figures(made) == {"Bore, 40.00 H7": "40.000–40.025"}


def test_fit_when_a_bore_is_measured_then_the_shaft_to_suit_it_whatever_the_part_is():
    # Bore 40.012: shaft upper = 40.012 − 0.009 = 40.003, lower = that − 0.016 = 39.987 (ISO 286, IT6 = 16).
    record = kept("fit", nominal="40 mm", hole="H7", shaft="g6", hole_measured="40.012 mm")
    made = card_sum(record, Typed(side="hub"))
    assert figures(made) == {"Shaft, 40.00 g6, to suit bore 40.012": "39.987–40.003"}


@pytest.mark.parametrize("key", ["indexing-unknown", "mass"])
def test_sum_when_it_has_no_share_in_a_card_then_not_taken(key):
    record = kept("fit", nominal="40 mm", hole="H7")
    record.key = key
    with pytest.raises(ValueError, match="no share in a card"):
        card_sum(record)
