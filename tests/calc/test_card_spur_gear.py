"""What a kept spur gear puts on a card: cutter, depth and passes, blank, and the sizes to measure.

The final-drive wheel of 84 teeth, 6 DP, 20 degrees, by the 2.157 depth, is worked here by hand: depth
2.157 / 6 = 0.3595, blank 86 / 6 = 14.333, centres (84 + 18) / 12 = 8.500, as the formulas of the US Navy
training manual Machinery Repairman, NAVEDTRA 14345, App. III and IV, give them. Chord and span are those
of Elements of Metric Gear Technology, sec. 10, worked in `test_spur_gear.py`.
"""

from math import cos, pi, radians, sin, tan
from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed, card_sum
from calc.measures import EntryError
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

WHEEL = {"teeth": "84", "diametral_pitch": "6 DP"}
PASSES = ("0.180", "0.300", "0.3595")


def gear(**entered):
    run = records.run(registry.get("spur-gear"), WHEEL | entered)
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def figure(made, start):
    (found,) = [one for one in made["figures"] if one["label"].startswith(start)]
    return found


def wanted(made):
    return [(one["wanted"], one["note"]) for one in made["sizes"]]


# ---- figures worked to -----------------------------------------------------------------------------------


def test_gear_when_of_84_teeth_then_cutter_depth_passes_and_blank_are_those_of_the_hand_sum():
    made = card_sum(gear(mate_teeth="18"), Typed(passes=PASSES, blank_limits="+0 −0.005"))
    assert [(one["label"], one["value"], one.get("unit", "")) for one in made["figures"]] == [
        ("Cutter 6 DP, 20°, marked", "55–134", ""),
        ("Depth of tooth, 2.157 system", "0.3595", ""),
        ("Passes, running total from touch-off; lock the table", "0.180   0.300   0.3595", ""),
        ("Blank, outside", "14.333", "+0 −0.005"),
        ("Speed, feed", "", ""),
    ]
    assert made["mate"] == {"teeth": 18, "centres": "8.500"}
    assert made["units"] == "inches"
    assert (made["operation"], made["rounds"]) == ("Cut 84 teeth", "3 passes")


def test_gear_when_of_84_teeth_then_chord_at_two_teeth_and_span_at_three_places_are_wanted():
    # Chord 14 sin(90°/84), its addendum 1/6 + 7 (1 − cos(90°/84)), the span over 10 with inv 20° = tan − arc.
    part = radians(90 / 84)
    chord, addendum = 14 * sin(part), 1 / 6 + 7 * (1 - cos(part))
    involute = tan(radians(20)) - radians(20)
    span = cos(radians(20)) / 6 * (pi * 9.5 + 84 * involute)
    made = card_sum(gear(), Typed(blank_limits="+0 −0.005"))
    assert wanted(made) == [
        ("14.333", "OD, +0 −0.005"),
        (f"{chord:.4f}", f"chord at {addendum:.4f}"),
        (f"{chord:.4f}", "chord, tooth 42"),
        (f"{span:.3f}", "over 10, less backlash"),
        (f"{span:.3f}", "at 120°"),
        (f"{span:.3f}", "at 240°"),
    ]
    assert (chord, addendum, span) == pytest.approx((0.2618, 0.1679, 4.870), abs=5e-4)


def test_gear_when_backlash_was_taken_off_then_the_span_is_wanted_as_it_is():
    notes = [note for _, note in wanted(card_sum(gear(backlash="0.006 in")))]
    assert "over 10" in notes
    assert not any("less" in note for note in notes)


@pytest.mark.parametrize(
    ("entered", "label", "depth"),
    [
        # 2.157/8 = 0.269625, 2.25/8 = 0.28125, module 2: 2.25 × 2 = 4.5; 2.2/24 + 0.002 = 0.093667.
        ({"depth_system": "2.157", "diametral_pitch": "8"}, "2.157 system", "0.2696"),
        ({"depth_system": "2.25", "diametral_pitch": "8"}, "2.25 system", "0.2813"),
        ({"depth_system": "2.2+0.002", "diametral_pitch": "24"}, "2.2 + 0.002 in system", "0.0937"),
        ({"diametral_pitch": "", "module": "2"}, "2.25 system", "4.50"),
    ],
)
def test_gear_then_the_card_names_the_depth_system_it_was_worked_by(entered, label, depth):
    assert figure(card_sum(gear(**entered)), "Depth of tooth") == {
        "label": f"Depth of tooth, {label}",
        "value": depth,
        "unit": "",
        "rank": 40,
    }


@pytest.mark.parametrize(
    ("teeth", "marked"),
    # The eight cutters of a set, as Machinery's Handbook lists them by the lowest count of each.
    [("12", "12–13"), ("54", "35–54"), ("134", "55–134"), ("135", "135–rack"), ("11", "none")],
)
def test_gear_then_the_cutter_goes_by_its_range(teeth, marked):
    assert figure(card_sum(gear(teeth=teeth)), "Cutter")["value"] == marked


def test_gear_when_by_module_then_in_millimetres():
    made = card_sum(gear(diametral_pitch="", module="2", mate_teeth="20"))
    assert made["units"] == "millimetres"
    assert figure(made, "Cutter")["label"] == "Cutter module 2, 20°, marked"
    assert figure(made, "Blank")["value"] == "172.00"  # (84 + 2) × 2
    assert made["mate"]["centres"] == "104.00"  # (84 + 20) × 2 / 2


def test_gear_when_no_limits_are_typed_then_a_rule_to_write_them_on():
    made = card_sum(gear())
    assert figure(made, "Blank")["unit"].startswith("limits ___")
    assert wanted(made)[0] == ("14.333", "OD")


def test_gear_when_no_passes_are_typed_then_a_rule_and_nothing_said_of_them():
    made = card_sum(gear())
    assert figure(made, "Passes")["value"] == ""
    assert made["rounds"] == ""


def test_gear_when_the_blank_is_turned_already_then_the_last_pass_is_from_its_own_tip():
    # Turned 0.013 under: its tip stands 0.0065 lower, so the full depth from it is 0.3595 − 0.0065 = 0.3530.
    record = gear(outside_diameter_measured="14.32033333")
    made = card_sum(record)
    assert [note["strong"] for note in made["notes"]] == [
        "The blank is 0.013 under: from its tip sink 0.3530."
    ]
    assert card.proposed_passes(record).endswith(", 0.3530")
    assert figure(made, "Blank")["label"] == "Blank as turned, outside"
    assert figure(made, "Depth of tooth")["value"] == "0.3595"
    assert "OD" not in [note for _, note in wanted(made)]


@pytest.mark.parametrize(("drawn", "told"), [("8.51", True), ("8.5", False), ("8.5004", False)])
def test_gear_when_the_drawing_has_other_centres_then_the_card_says_so(drawn, told):
    made = card_sum(gear(mate_teeth="18", drawing_centre_distance=drawn))
    assert [note["strong"] for note in made["notes"]] == (
        ["The drawing has the centres at 8.5100."] if told else []
    )


def test_gear_when_the_anvils_would_miss_the_flanks_then_no_span_is_wanted():
    record = gear(span_teeth="30")
    assert [one["code"] for one in record.warnings if one["code"] == "span-off-flank"]
    assert not any("over" in note for _, note in wanted(card_sum(record)))


def test_gear_when_measured_over_pins_then_that_is_wanted_as_well():
    *_, (size, note) = wanted(card_sum(gear(pin_diameter="0.288 in")))
    assert note == "over pins 0.288"
    assert 14.38 < float(size) < 14.43  # a pin of 1.728 modules stands a little above the tips of 14.333


def test_gear_alone_then_its_teeth_are_ticked_by_the_spindle_alone():
    tally = card_sum(gear(teeth="57"), Typed(passes=("0.200", "0.3595")))["tally"]
    assert (tally["count"], tally["home"], tally["passes"]) == (57, [], 2)
    assert tally["note"] == "one box to a tooth"
    assert [row["angle"] for row in tally["rows"]] == [
        f"{360 * end / 57:.2f}°" for end in (10, 20, 30, 40, 50, 57)
    ]
    assert {row["hole"] for row in tally["rows"]} == {""}


def test_gear_when_there_are_more_passes_than_a_row_holds_then_two_rows_in_order():
    passes = ("0.080", "0.160", "0.240", "0.300", "0.3595")
    made = card_sum(gear(), Typed(passes=passes))
    rows = [one for one in made["figures"] if one["label"].startswith("Passes")]
    assert [one["value"] for one in rows] == ["0.080   0.160   0.240", "0.300   0.3595"]
    assert rows[1]["label"] == "Passes 4 to 5"
    assert made["tally"]["passes"] == 5


# ---- passes ----------------------------------------------------------------------------------------------


def test_passes_when_the_depth_ends_in_a_nought_then_as_the_depth_is_printed():
    record = gear(depth_system="2.25")  # 2.25 / 6 = 0.375
    assert card.read_passes(record, "0.19, 0.375") == ("0.190", "0.3750")


def test_passes_when_proposed_for_84_teeth_then_as_on_the_worked_card():
    assert card.proposed_passes(gear()) == "0.180, 0.300, 0.3595"


@pytest.mark.parametrize("pitch", ["2", "5", "6", "8", "10", "12", "16", "20", "24", "48", "96"])
def test_passes_when_proposed_then_they_are_taken_back_as_typed(pitch):
    record = gear(diametral_pitch=pitch)
    proposed = card.proposed_passes(record)
    read = card.read_passes(record, proposed)
    assert ", ".join(read) == proposed
    assert 1 <= len(read) <= 3
    assert list(map(float, read)) == sorted(set(map(float, read)))


@pytest.mark.parametrize("module", ["0.5", "0.8", "1", "1.5", "2", "4", "10"])
def test_passes_when_proposed_by_module_then_they_are_taken_back_as_typed(module):
    record = gear(diametral_pitch="", module=module)
    proposed = card.proposed_passes(record)
    assert ", ".join(card.read_passes(record, proposed)) == proposed


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("0.180, 0.300, 0.3595", PASSES),
        (" .18; .3 ; .3595 ", PASSES),
        ("0.18 0.3 0.3595", PASSES),
        ("180 thou, 300 thou, 359.5 thou", PASSES),
        ("0.3595", ("0.3595",)),
        ("0.2, 0.35950", ("0.200", "0.3595")),
        ("9.1313 mm", ("0.3595",)),  # 9.1313 / 25.4 = 0.35950
        ("", ()),
    ],
)
def test_passes_when_typed_then_read_as_running_totals(typed, read):
    assert card.read_passes(gear(), typed) == read


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("0.300, 0.180, 0.3595", "deeper than the one before it"),
        ("0.180, 0.180, 0.3595", "deeper than the one before it"),
        ("0, 0.3595", "deeper than the one before it"),
        ("0.180, 0.3750", "the 2.157 system) that is 0.3595, not 0.3750"),
        ("0.180, 0.300", "that is 0.3595, not 0.300"),
        ("0.1, 0.15, 0.2, 0.25, 0.3, 0.34, 0.3595", "room for 6 passes, and these are 7"),
        ("half, 0.3595", "half"),
    ],
)
def test_passes_when_they_do_not_end_at_the_depth_or_do_not_rise_then_refused(typed, why):
    with pytest.raises(EntryError) as wrong:
        card.read_passes(gear(), typed)
    assert why in wrong.value.message


# ---- limits of the blank ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("+0 -0.005", "+0 −0.005"),
        ("+0 −0.005", "+0 −0.005"),
        ("-0.005/+0", "+0 −0.005"),
        ("0, -0.005", "+0 −0.005"),
        ("±0.002", "+0.002 −0.002"),
        ("-0.002 -0.007", "−0.002 −0.007"),
        ("", ""),
        ("  ", ""),
    ],
)
def test_limits_when_typed_then_upper_before_lower(typed, read):
    assert card.read_limits(gear(), typed) == read


@pytest.mark.parametrize(
    "typed", ["5", "a bit under", "+0 -0.005 in", "+0 -5", "0 0", "+0 -0.1mm", "1e9 2e9"]
)
def test_limits_when_they_cannot_be_meant_then_refused_with_an_example(typed):
    with pytest.raises(EntryError) as wrong:
        card.read_limits(gear(), typed)
    assert "as +0 −0.005" in wrong.value.message


def test_limits_when_those_of_inches_are_left_for_a_gear_in_millimetres_then_refused():
    metric = gear(diametral_pitch="", module="2")
    assert card.read_limits(metric, card.proposed_limits(metric)) == "+0 −0.1"
    with pytest.raises(EntryError, match="in millimetres"):
        card.read_limits(metric, "+0 −0.005")
