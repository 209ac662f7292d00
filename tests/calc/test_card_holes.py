"""What kept broachings, bores, threads, tapers and bolt circles put on a card, and what is ticked there.

The 1 1/8 in bore and its 1/4 in keyway are those of ANSI B17.1's formula, worked in the tests of the keyway.
"""

from math import atan, cos, degrees, radians, sin
from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed, card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

KEYWAY = {"shaft_diameter": "1 1/8", "standard": "b17.1"}
BROACHING = {
    "bore": "1.125 in", "key_width": "1/4 in", "hub_crown_depth": "0.116 in", "rise_per_pass": "0.045 in",
    "shims": "0.045, 0.020, 0.006 in", "hub_length": "1 3/4 in", "guide_length": "2 in",
}  # fmt: skip
BORE = {"finished_bore": "1/2", "drills_owned": "1/16 to 1/2 by 1/64, #1 to #60"}


def kept(key, **entered):
    run = records.run(registry.get(key), entered)
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def figures(made):
    return {one["label"]: one["value"] for one in made["figures"]}


def sizes(made):
    return {one["note"]: one["wanted"] for one in made["sizes"]}


def said(made):
    return " ".join(f"{one['strong']} {one['text']}" for one in made["notes"])


# ---- broaching -------------------------------------------------------------------------------------------


def test_broaching_then_a_row_to_a_pass_with_its_shims_and_what_is_measured_across():
    # Rise 0.045, shims of 0.045, then 0.045 + 0.020 + 0.006: 0.045, 0.090, 0.116 deep, on a bore of 1.125.
    (table,) = card_sum(kept("broaching", **BROACHING))["tables"]
    assert table["columns"] == ["Pass", "Shims", "From the top", "Across"]
    assert table["rows"] == [
        ["1", "none", "0.045", "1.170"],
        ["2", "0.045", "0.090", "1.215"],
        ["3", "0.045 + 0.02 + 0.006", "0.116", "1.241"],
    ]
    assert table["reached"] == "Reached"


def test_broaching_then_the_caution_for_the_press_and_the_way_it_is_pushed():
    made = card_sum(kept("broaching", **BROACHING))
    assert made["cautions"] == ["Face out of line of a broach; never drive one that sticks."]
    assert "Start, release, let it square itself, push." in said(made)


def test_broaching_when_one_pass_cuts_too_deep_then_the_card_says_so():
    # A broach that rises 0.045 in one pass, for a keyway of 0.030.
    made = card_sum(kept("broaching", **BROACHING | {"hub_crown_depth": "0.030 in"}))
    assert "The broach cuts too deep." in said(made)


def test_broaching_when_a_stack_has_many_pieces_then_its_sum_and_their_count():
    # 0.010 four times and 0.005 make 0.045, one rise; a broach of 0.045 to 0.090.
    shims = "0.010, 0.010, 0.010, 0.010, 0.005 in"
    made = card_sum(kept("broaching", **BROACHING | {"hub_crown_depth": "0.090 in", "shims": shims}))
    assert made["tables"][0]["rows"][-1][1] == "0.0450, 5 pieces"


def test_broaching_when_a_keyway_is_beside_it_then_no_size_stands_twice():
    made = card.sums_on_a_card([kept("keyway", **KEYWAY), kept("broaching", **BROACHING)], Typed(side="hub"))
    values = [one["value"] for one in made["figures"]]
    assert len(values) == len(set(values))
    assert [one["wanted"].partition("–")[0] for one in made["sizes"]] == ["0.250", "1.241"]
    assert len(made["tables"]) == 1
    assert made["operation"].endswith("broach the keyway for a 1/4 in key, 3 passes")


def test_broaching_when_its_bore_came_out_larger_then_its_own_size_stands_beside_the_keyways():
    # 1.130 + 0.116 = 1.246: not the 1.241 that the keyway has for a bore of 1.125.
    made = card.sums_on_a_card(
        [kept("keyway", **KEYWAY), kept("broaching", **BROACHING | {"bore": "1.130 in"})], Typed(side="hub")
    )
    assert sizes(made)["across, last pass"].startswith("1.246")
    assert figures(made)["Across the bore, wanted"] == "1.246"


# ---- bores and threads -----------------------------------------------------------------------------------


def test_bore_then_the_drills_in_order_with_the_reamer_last():
    # 31/64 is 12.303 mm and cuts 0.05 over: 12.7 − 12.353 = 0.347 mm = 0.0137 in is left.
    made = card_sum(kept("bore-sequence", **BORE))
    (table,) = made["tables"]
    assert table["rows"][-2:] == [
        ["Drill 31/64", "0.4844", "12.303"],
        ["Machine reamer", "0.5000", "12.700"],
    ]
    assert figures(made) == {"Bore finished to": "0.5000", "Left for the reamer": "0.0137"}
    assert made["operation"] == "Drill and ream 0.5000"


def test_bore_when_it_is_bored_then_no_reamer_is_named():
    made = card_sum(kept("bore-sequence", **BORE, reamer="none"))
    assert made["tables"][0]["rows"][-1][0] == "Bore"
    assert "Left for boring" in figures(made)


def test_bore_when_more_is_left_than_a_reamer_takes_then_said():
    made = card_sum(kept("bore-sequence", finished_bore="1/2", drills_owned="1/4, 3/8"))
    assert "More is left than a reamer should take." in said(made)


def test_thread_then_drill_core_engagement_and_look_alikes():
    # 1/4 BSF, 26 to the inch: core = 1/4 − 1.280654 / 26 = 0.2007 (Whitworth form, BS 84).
    made = card_sum(kept("thread", thread="1/4 BSF"))
    core = f"{0.25 - 1.280654 / 26:.4f}"
    assert figures(made)["Core, never drilled below"] == core
    assert figures(made)["Tapping drill"] == "5.4 mm"
    share = (6.35 - 5.4) / (1.280654 * 25.4 / 26) * 100
    assert figures(made)["Of the full thread it leaves"] == f"{share:.1f} %"
    assert sizes(made) == {"hole for 1/4 BSF": f"over {core}"}
    assert "Read what is on the tap" in said(made)
    assert "M6x1" in said(made)
    assert "1/4 BSB" not in said(made)  # the same thread by another name


def test_tapping_drill_when_in_hand_then_that_and_what_it_leaves():
    # #24 is 0.152 in = 3.8608 mm; 2 BA is 4.7 mm, pitch 0.81, depth 0.6 of it (BS 93).
    made = card_sum(kept("tapping-drill", thread="2 BA", drill="#24"))
    assert figures(made)["Tapping drill in hand"] == "#24"
    assert figures(made)["Of the full thread it leaves"] == f"{(4.7 - 3.8608) / (1.2 * 0.81) * 100:.1f} %"
    assert made["units"] == "millimetres"


def test_tapping_drill_when_a_share_is_wanted_then_the_nearest_and_what_that_leaves():
    made = card_sum(kept("tapping-drill", thread="2 BA", engagement="80"))
    hole = 4.7 - 0.8 * 1.2 * 0.81
    assert figures(made)["Hole wanted"] == f"{hole:.3f}"
    drill = figures(made)["Tapping drill"]
    assert drill == "#23"  # 3.9116 mm, against 3.9224; 3.9 mm is farther
    assert figures(made)["Of the full thread it leaves"] == f"{(4.7 - 3.9116) / (1.2 * 0.81) * 100:.1f} %"


def test_clash_when_a_thread_and_a_tapping_drill_are_ticked_then_one_of_the_two():
    found = card.clash_of([kept("thread", thread="2 BA"), kept("tapping-drill", thread="2 BA", drill="#24")])
    assert "are of a thread" in found


# ---- taper and circle ------------------------------------------------------------------------------------


def test_taper_then_half_angle_set_over_and_sine_bar():
    # No. 2 Morse: 0.59941 in to the foot (ASME B5.10); half angle atan(0.59941 / 24), set-over 8 × rate / 2,
    # under a 5 in bar 5 sin(2 × half angle).
    rate = 0.59941 / 12
    half = atan(rate / 2)
    made = card_sum(kept("taper", name="MT2", work_length="8 in", sine_bar="5 in"))
    assert figures(made)["Compound slide, half angle"] == f"{degrees(half):.5f}°"
    assert figures(made)["Tailstock set over"] == f"{8 * rate / 2:.4f}"
    assert figures(made)["Under one roller of the sine bar"] == f"{5 * sin(2 * half):.4f}"
    assert "Tool dead on centre" in said(made)
    assert made["operation"] == "Turn the MT2 taper"


def test_taper_when_it_is_of_a_key_then_the_sloping_face_is_set():
    # 1:100 on one face, as taper keys have: atan(1/100).
    made = card_sum(kept("taper", name="taper key, 1:100"))
    assert figures(made)["Sloping face set to"] == f"{degrees(atan(1 / 100)):.5f}°"
    assert "A key slopes on one face." in said(made)
    assert made["operation"] == "Cut the taper key, 1:100 slope"


def test_bolt_circle_then_a_row_to_a_hole_and_the_far_hole_to_check():
    made = card_sum(kept("bolt-circle", holes="6", diameter="3 in"))
    (table,) = made["tables"]
    assert [row[0] for row in table["rows"]] == ["1", "2", "3", "4", "5", "6"]
    x, y = 1.5 * cos(radians(120)), 1.5 * sin(radians(120))
    assert table["rows"][2] == ["3", f"−{abs(x):.4f}", f"{y:.4f}"]
    assert sizes(made) == {"hole to hole, centres": "1.5000", "hole 1 to 4, centres": "3.0000"}
