"""Several kept sums on one card: their order, what one says for another, what does not go together.

The wheel of 84 teeth is divided by 20 in 42 at 40 to 1: 84 × 20/42 = 40, worked here.
"""

from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

CIRCLES = "37,38,39,41,42,43"
ENTRIES = {
    "indexing": {"divisions": "84", "ratio": "40", "circles": CIRCLES},
    "spur-gear": {"teeth": "84", "diametral_pitch": "6", "mate_teeth": "18"},
    "keyway": {"shaft_diameter": "1 1/8", "standard": "b17.1"},
    "fit": {"nominal": "1 1/8 in", "hole": "H7", "shaft": "g6"},
}
PASSES = ("0.180", "0.300", "0.3595")


def kept(key, chosen="", **entered):
    typed = ENTRIES.get(key, {}) | entered
    run = records.run(registry.get(key), typed, chosen=records.read_chosen(chosen))
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def labels(made):
    return [one["label"] for one in made["figures"]]


def test_joined_when_divided_and_cut_then_head_cutter_depth_passes_and_blank_in_the_order_of_use():
    made = card.sums_on_a_card([kept("spur-gear"), kept("indexing")], Typed(passes=PASSES))
    assert labels(made) == [
        "Index, turn one way only",
        "Sector arms, pin’s hole counted",
        "Cutter 6 DP, 20°, marked",
        "Depth of tooth, 2.157 system",
        "Passes, running total from touch-off; lock the table",
        "Blank, outside",
        "Speed, feed",
    ]
    assert [one["value"] for one in made["figures"]][:2] == ["20 in 42", "21"]


def test_joined_when_all_four_then_the_fit_before_the_keyway_and_all_of_it_in_inches():
    made = card.sums_on_a_card([kept(key) for key in ENTRIES], Typed(passes=PASSES, side="hub"))
    assert labels(made)[7:] == [
        "Bore, 1.125 H7",
        "Keyway width, B17.1",
        "Keyway, T across the bore",
        "Keyway depth from the crown, hub",
    ]
    assert made["units"] == "inches"
    assert made["operation"] == (
        "Cut 84 teeth, 3 passes; finish the bore H7 to limits; cut the keyway for a key 1/4 in"
    )
    assert made["work"] == "84 teeth, fit H7, keyway"


def test_joined_then_the_tally_has_the_holes_of_the_dividing_and_the_rounds_of_the_gear():
    made = card.sums_on_a_card([kept("indexing"), kept("spur-gear")], Typed(passes=PASSES[1:]))
    tally = made["tally"]
    assert (tally["count"], tally["home"], tally["passes"]) == (84, [21, 42, 63, 84], 2)
    assert tally["note"] == "one box to a tooth"
    assert tally["rows"][4] == {"hole": "34", "angle": "214.29°"}  # 50 × 20 = 1000 = 23 × 42 + 34
    assert made["stops"] == "pin home, end of a pass"
    assert made["proof"] == {
        "strong": "Proof: 84 × 20/42 = 40.",
        "text": "First mark every tooth lightly and count 84. Tick each cut.",
    }


def test_joined_then_where_the_pin_is_home_is_told_by_the_tally_and_beside_one_sum_by_a_figure():
    told = {"Pin home every", "One division"}
    alone = card.sums_on_a_card([kept("indexing")], Typed())
    beside = card.sums_on_a_card([kept("indexing"), kept("spur-gear")], Typed())
    assert told <= set(labels(alone))
    assert not told & set(labels(beside))
    assert beside["tally"]["home_line"]["strong"] == "Pin home after 21, 42, 63, 84."


def test_joined_when_the_gear_is_alone_then_index_and_arms_are_rules_to_write_on():
    made = card.sums_on_a_card([kept("spur-gear")], Typed(passes=PASSES))
    assert labels(made)[:2] == ["Index, turn one way only", "Sector arms, pin’s hole counted"]
    assert [one["value"] for one in made["figures"]][:2] == ["", ""]
    assert made["proof"]["strong"] == "First mark every tooth lightly and count 84."


def test_joined_when_no_setting_divides_then_the_gear_is_ticked_and_the_head_written_in():
    none = kept("indexing", divisions="57", circles="15,16,17")
    made = card.sums_on_a_card([none, kept("spur-gear", teeth="57")], Typed())
    assert made["tally"]["count"] == 57
    assert labels(made)[0] == "Index, turn one way only"
    assert made["figures"][0]["value"] == ""


def test_joined_when_inches_and_millimetres_meet_then_each_figure_bears_its_unit():
    made = card.sums_on_a_card(
        [kept("spur-gear"), kept("keyway", shaft_diameter="30 mm", standard="iso773")],
        Typed(passes=PASSES, blank_limits="+0 −0.005", side="hub"),
    )
    assert made["units"] == "as marked"
    units = {one["label"].partition(",")[0]: one.get("unit", "") for one in made["figures"] if one["value"]}
    assert units == {
        "Cutter 6 DP": "",
        "Depth of tooth": "in",
        "Passes": "in",
        "Blank": "in, +0 −0.005",
        "Keyway width": "mm, key 8 × 7 mm",
        "Keyway": "mm",
        "Keyway depth from the crown": "mm",
    }
    assert {one["wanted"].split()[-1] for one in made["sizes"]} == {"in", "mm"}


def test_joined_then_each_caution_once_and_that_for_turning_short_beside_the_cutter():
    made = card.sums_on_a_card([kept("spur-gear"), kept("indexing"), kept("fit")], Typed())
    assert made["cautions"] == [
        "No gloves near the cutter. Stop it to count or measure.",
        "Guard on, chuck key out.",
    ]


def test_joined_then_every_figure_names_its_sum():
    gear, divided = kept("spur-gear"), kept("indexing")
    made = card.sums_on_a_card([gear, divided], Typed(passes=PASSES))
    assert {one["of"] for one in made["figures"]} == {str(gear.pk), str(divided.pk)}
    assert {one["of"] for one in made["sizes"]} == {str(gear.pk)}


def test_joined_when_there_is_no_sum_then_none():
    assert card.sums_on_a_card([], Typed()) is None


# ---- what does not go together ---------------------------------------------------------------------------


def test_clash_when_two_are_of_one_kind_then_both_are_named():
    first, second = kept("spur-gear"), kept("spur-gear", depth_system="2.25")
    assert card.clash_of([first, second]).startswith(
        f"Both of sum {first.pk} and sum {second.pk} are of a spur"
    )


def test_clash_when_a_schedule_and_an_indexing_are_ticked_then_both_are_dividing():
    schedule = kept("indexing-schedule", divisions="84", ratio="40", circle="42", turns="0", holes="20")
    assert "are of dividing" in card.clash_of([kept("indexing"), schedule])


@pytest.mark.parametrize(("divisions", "clashes"), [("84", False), ("60", True), ("42", True)])
def test_clash_when_the_dividing_is_for_another_count_than_the_teeth_then_refused(divisions, clashes):
    found = card.clash_of([kept("indexing", divisions=divisions, circles="15,42"), kept("spur-gear")])
    assert bool(found) is clashes
    assert (f"of {divisions} divisions and sum" in found) is clashes


def test_clash_when_each_is_of_its_own_kind_then_none():
    assert card.clash_of([kept(key) for key in ENTRIES]) == ""
    assert card.clash_of([]) == ""
