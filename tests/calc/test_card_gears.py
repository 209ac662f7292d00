"""What kept bevel pairs, helical gears, worms and differentials put on a card.

The formulas are those of the older practice for bevel gears (Machinery's Handbook, 1916, bevel gearing: face
angle by the addendum angle, outside diameter by the cosine of the pitch angle) and of helical gears
(formative teeth by the cube of the cosine), each worked here once more by hand or in plain Python.
"""

from math import atan, atan2, cos, degrees, hypot, pi, radians, sin, tan
from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed, card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

CIRCLES = "37,38,39,41,42,43/46,47,49,51,53,54,57,58,59,62,66"
BEVEL = {"teeth": "36", "mate_teeth": "16", "diametral_pitch": "8", "face_width": "3/4 in"}
HELICAL = {"teeth": "24", "mate_teeth": "40", "diametral_pitch": "10", "helix_angle": "22 1/2 deg"}
WORM = {"starts": "1", "wheel_teeth": "36", "axial_pitch": "1/2 in", "worm_diameter": "1 1/4 in"}
SIDES = {"left_teeth": "36", "right_teeth": "36", "pinion_teeth": "16", "pinions": "4"}


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


# ---- bevel pair ------------------------------------------------------------------------------------------


def test_bevel_then_blank_tilt_cutter_and_depth_at_the_large_end():
    cone = atan2(36, 16)
    distance = hypot(36, 16) / 8 / 2
    addendum, dedendum = 1 / 8, 1.157 / 8
    face = degrees(cone + atan(addendum / distance))
    made = card_sum(kept("bevel-pair", **BEVEL), Typed(passes=("0.135", "0.225", "0.2696")))
    assert figures(made) == {
        "Head tilted to, root angle": f"{degrees(cone - atan(dedendum / distance)):.2f}°",
        "Bevel cutter 8 DP, 20°, marked": "55–134",  # 36 / cos 66.04° = 88.6
        "Depth at the large end, 2.157 system": f"{2.157 / 8:.4f}",
        "Passes, running total from touch-off; lock the table": "0.135   0.225   0.2696",
        "Blank, outside, large end": f"{(36 + 2 * cos(cone)) / 8:.3f}",
        "Face, from the axis": f"{face:.2f}°",
        "Back cone, from the axis": f"{90 - degrees(cone):.2f}°",
        "Face width": "0.750",
        "Crown to apex, large end": f"{16 / 16 - addendum * sin(cone):.3f}",
        "Speed, feed": "",
    }
    assert (made["operation"], made["rounds"]) == ("Cut 36 bevel teeth, centre cuts", "3 passes")
    assert made["mate"] == {"teeth": 16, "centres": "90°", "label": "shafts"}


def test_bevel_then_chords_at_both_ends_and_the_small_one_by_the_cone_distance():
    # Everything at the small end is (A − face) / A of the large: 0.6954 of it here, so the chord of
    # 0.1963 becomes 0.1365 and its addendum 0.1259 becomes 0.0875.
    distance = hypot(36, 16) / 16
    assert 0.1963 * (distance - 0.75) / distance == pytest.approx(0.1365, abs=0.0001)
    made = card_sum(kept("bevel-pair", **BEVEL))
    assert sizes(made)["large, chord at 0.1259"] == "0.1963"
    assert sizes(made)["small, chord at 0.0875"] == "0.1365"


def test_bevel_then_it_says_that_centre_cuts_do_not_finish_a_tooth_and_gives_no_set_over():
    measured = {"cutter_thickness_large": "0.150 in", "cutter_thickness_small": "0.120 in"}
    made = card_sum(kept("bevel-pair", **BEVEL, **measured))
    assert "Centre cuts leave the teeth thick." in said(made)
    assert not any("set-over" in label.lower() or "roll" in label.lower() for label in figures(made))


def test_bevel_when_the_depth_is_parallel_then_no_other_depth_is_told():
    made = card_sum(kept("bevel-pair", **BEVEL, tooth_depth="parallel"))
    assert any(label.startswith("Depth, all along") for label in figures(made))
    assert "small end" not in said(made)


def test_bevel_when_the_face_is_too_long_then_the_card_says_so():
    # A third of the cone distance of 2.462 is 0.821: common rule, as the sum has it.
    made = card_sum(kept("bevel-pair", **BEVEL | {"face_width": "1 in"}))
    assert "The face is too long." in said(made)


def test_bevel_then_ticked_tooth_by_tooth_and_proposed_passes_end_at_the_depth():
    record = kept("bevel-pair", **BEVEL)
    made = card_sum(record)
    assert (made["tally"]["count"], made["tally"]["note"]) == (36, "one box to a tooth")
    assert card.read_passes(record, card.proposed_passes(record))[-1] == "0.2696"


# ---- helical gear ----------------------------------------------------------------------------------------


def test_helical_then_lead_cutter_by_formative_teeth_and_normal_depth():
    helix = radians(22.5)
    pitch_diameter = 24 / 10 / cos(helix)
    formative = 24 / cos(helix) ** 3
    assert 26 <= formative < 35  # the range of No. 4
    made = card_sum(kept("helical-gear", **HELICAL))
    assert figures(made) == {
        "Helix, table swivelled to": "22° 30′",
        "Lead of the helix": f"{pi * pitch_diameter / tan(helix):.3f}",
        "Cutter 10 DP, 20°, marked": "26–34",
        "Normal depth, 2.157 system": f"{2.157 / 10:.4f}",
        "Passes, running total from touch-off; lock the table": "",
        "Blank, outside": f"{pitch_diameter + 0.2:.3f}",
        "Speed, feed": "",
    }
    assert made["figures"][0]["unit"] == "hand ____"
    assert "The mate is of the other hand." in said(made)
    assert made["mate"] == {"teeth": 40, "centres": f"{64 / 20 / cos(helix):.3f}"}


def test_helical_when_alone_by_module_then_in_millimetres_and_no_mate():
    made = card_sum(kept("helical-gear", teeth="24", module="2", helix_angle="15 deg"))
    assert (made["units"], made["mate"]) == ("millimetres", None)
    assert "other hand" not in said(made)
    assert figures(made)["Blank, outside"] == f"{48 / cos(radians(15)) + 4:.2f}"


# ---- worm and differential -------------------------------------------------------------------------------


def test_worm_then_lead_angle_and_what_each_blank_is_turned_to():
    # Axial pitch 1/2, one start: lead 0.5; module 0.5 / π; wheel 36 × 0.5 / π.
    module = 0.5 / pi
    wheel = 36 * module
    angle = degrees(atan(0.5 / (pi * 1.25)))
    made = card_sum(kept("worm-pair", **WORM))
    assert figures(made) == {
        "Worm, lead, 1 start": "0.5000",
        "Depth, 2.157 system": f"{2.157 * module:.4f}",
        "Worm, over the threads": f"{1.25 + 2 * module:.3f}",
        "Wheel, throat diameter": f"{wheel + 2 * module:.3f}",
        "Wheel, radius of the throat": f"{1.25 / 2 - module:.3f}",
        "Centres": f"{(1.25 + wheel) / 2:.3f}",
        "Wheel gashed at, lead angle": f"{angle:.2f}°",
    }
    assert made["count"] == 36
    assert made["tally"] is None


def test_differential_then_the_distance_of_each_from_the_apex():
    # The pitch circle of a gear stands half its mate's pitch diameter from the apex where shafts are square.
    made = card_sum(kept("bevel-differential", **SIDES, diametral_pitch="8"))
    assert figures(made) == {
        "Apex to pitch circle, left gear": f"{16 / 8 / 2:.3f}",
        "Apex to pitch circle, right gear": "1.000",
        "Apex to pitch circle, pinion": f"{36 / 8 / 2:.3f}",
        "Pinion’s shaft to the axle": "90.00°",
    }
    assert "4 pinions of 16 teeth go together" in said(made)
    assert made["units"] == "inches"


def test_differential_when_it_does_not_go_then_said_loudly_and_no_size_without_a_pitch():
    made = card_sum(kept("bevel-differential", **SIDES | {"pinions": "5"}))  # 72 / 5 is not whole
    assert "5 pinions of 16 teeth do NOT go together" in said(made)
    assert (made["sizes"], made["units"]) == ([], "")


# ---- what does not go together ---------------------------------------------------------------------------


def test_clash_when_two_gears_are_of_different_kinds_then_refused_and_both_named():
    spur = kept("spur-gear", teeth="36", diametral_pitch="8")
    bevel = kept("bevel-pair", **BEVEL)
    found = card.clash_of([spur, bevel])
    assert "a card takes one gear" in found
    assert f"um {spur.pk} is of a spur gear" in found
    assert f"um {bevel.pk} is of a bevel pair" in found


@pytest.mark.parametrize(("key", "entries"), [("bevel-pair", BEVEL), ("worm-pair", WORM)])
@pytest.mark.parametrize(("divisions", "clashes"), [("36", False), ("16", True)])
def test_clash_when_the_dividing_is_for_other_teeth_then_refused(key, entries, divisions, clashes):
    divided = kept("indexing", divisions=divisions, ratio="40", circles=CIRCLES)
    assert bool(card.clash_of([divided, kept(key, **entries)])) is clashes


def test_joined_when_a_bevel_is_divided_then_holes_of_the_head_and_rounds_of_the_gear():
    divided = kept("indexing", divisions="36", ratio="40", circles=CIRCLES)
    made = card.sums_on_a_card([divided, kept("bevel-pair", **BEVEL)], Typed(passes=("0.2", "0.2696")))
    assert (made["tally"]["count"], made["tally"]["passes"]) == (36, 2)
    assert made["tally"]["home"] == [9, 18, 27, 36]  # 40/36 = 1 + 6/54; 54/6 = 9
    assert made["figures"][0]["label"] == "Index, turn one way only"


def test_joined_when_a_worm_wheel_is_divided_then_the_dividing_has_the_tally():
    divided = kept("indexing", divisions="36", ratio="40", circles=CIRCLES)
    made = card.sums_on_a_card([kept("worm-pair", **WORM), divided], Typed())
    assert made["tally"]["count"] == 36
    assert made["proof"]["strong"].startswith("Proof: 36 ×")


def test_joined_when_a_differential_is_beside_a_gear_then_the_gear_names_the_card():
    made = card.sums_on_a_card(
        [kept("bevel-differential", **SIDES, diametral_pitch="8"), kept("bevel-pair", **BEVEL)], Typed()
    )
    assert made["operation"] == "Cut 36 bevel teeth, centre cuts"
    assert "Apex to pitch circle, pinion" in figures(made)
