"""How bevel pairs, differentials, helical gears and worms are shown, and their drawings to scale."""

import json
import re
from io import StringIO
from math import atan2, degrees, hypot

import pytest
from django.core.management import call_command

from calc import pictures, records
from calc.entries import plain_json
from calc.figures import Path, Text, to_svg
from calc.registry import get

WHEEL = {"teeth": "36", "mate_teeth": "16", "diametral_pitch": "8", "face_width": "3/4 in"}
PARALLEL = {
    "teeth": "20", "mate_teeth": "30", "module": "2", "face_width": "18 mm", "tooth_depth": "parallel",
}  # fmt: skip
MITRE = {"teeth": "30", "mate_teeth": "30", "module": "2", "face_width": "9 mm"}
SIDES = {"left_teeth": "24", "right_teeth": "24", "pinion_teeth": "14", "pinions": "3"}
HELICAL = {"teeth": "20", "mate_teeth": "50", "module": "4", "helix_angle": "15"}
WORM = {"starts": "1", "wheel_teeth": "36", "axial_pitch": "1/2 in", "worm_diameter": "1 1/4 in"}


def answer(key, **entered):
    return records.answer_of(records.run(get(key), entered))


def cells(shown):
    return {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}


def values(shown):
    return {fact["label"]: f"{fact['value']} {fact['small']}".strip() for fact in shown["facts"]}


# ---- the box and the sizes -------------------------------------------------------------------------------


def test_bevel_when_the_wheel_of_a_differential_is_entered_then_blank_angles_and_cutters_are_there():
    shown = answer("bevel-pair", **WHEEL)
    # 36/8 + 2/8 x cos 66.0375 degrees = 4.6015; worked by hand.
    assert (shown["big"], shown["big_small"]) == ("4.602 in", "116.88 mm")
    assert values(shown)["Head tilted to"] == "62.68° 62° 41′"
    assert values(shown)["Cutter marked"] == "55 to 134 8 DP, formative 88.64"
    found = cells(shown)
    assert found["Pitch angle"] == ["66.04°", "23.96°"]
    assert found["Formative teeth"] == ["88.64", "17.51"]
    assert found["Cutter, by its range"] == ["55 to 134", "17 to 20"]
    assert found["Back cone, top slide"] == ["23.96°", "66.04°"]
    assert shown["sizes"]["columns"] == ["Wheel", "Pinion"]
    boxed = [line["label"] for line in shown["sizes"]["lines"] if line["finished"]]
    assert "Face angle, top slide" in boxed
    assert "Outside diameter, large end" in boxed


def test_bevel_when_parallel_then_the_cutter_is_of_the_small_end_and_the_depth_all_along():
    shown = answer("bevel-pair", **PARALLEL)
    assert "module 2, formative 24.04" in values(shown)["Cutter marked"]
    assert "Depth of tooth all along" in values(shown)
    found = cells(shown)
    assert found["Whole depth, large end"] == found["Whole depth, small end"] == ["4.500", "4.500"]
    assert found["Face angle, top slide"] == found["Pitch angle"] == found["Root angle, tilt of the head"]
    assert [one["title"] for one in shown["beware"]] == ["Between two cutters"]


def test_bevel_when_the_cutter_was_measured_then_set_over_and_roll_are_facts():
    shown = answer(
        "bevel-pair", teeth="24", mate_teeth="24", shaft_angle="60", diametral_pitch="6", face_width="1 1/4",
        cutter_thickness_large="0.1745", cutter_thickness_small="0.14533",
    )  # fmt: skip
    assert values(shown)["Set-over, each side"] == "0.0406 in"
    assert values(shown)["Roll, opposite to it"] == "2.413°"
    assert "Set-over, each side" not in values(answer("bevel-pair", **WHEEL))


def test_differential_when_it_does_not_go_then_that_is_the_answer_and_what_would_is_there():
    shown = answer("bevel-differential", **SIDES | {"left_teeth": "25", "right_teeth": "25"})
    assert shown["big"] == "3 pinions do not go"
    assert shown["is_none"] is False
    assert values(shown)["Pinions that go, of 2 to 6"] == "2, 5"
    assert shown["beware"][0]["title"] == "It does not go together"
    assert answer("bevel-differential", **SIDES)["big"] == "3 pinions go"


def test_differential_when_a_pitch_is_given_then_the_distances_from_the_apex_are_there():
    assert "Apex to large pitch circle" not in cells(answer("bevel-differential", **SIDES))
    found = cells(answer("bevel-differential", **SIDES, diametral_pitch="8"))
    assert found["Apex to large pitch circle"] == ["0.875", "0.875", "1.500"]
    without = answer("bevel-differential", left_teeth="20", right_teeth="60", pinion_teeth="10", pinions="2")
    assert "pictures" not in without


def test_helical_when_entered_then_lead_table_and_cutter_are_facts():
    shown = answer("helical-gear", **HELICAL)
    assert shown["big"] == "90.82 mm"
    assert values(shown)["Table swivelled to"] == "15° the helix angle"
    assert values(shown)["Cutter marked"] == "21 to 25 module 4, formative 22.19"
    assert cells(shown)["Outside diameter"] == ["90.82", "215.06"]
    assert (
        "22.627 DP"
        in values(
            answer("helical-gear", teeth="24", diametral_pitch="16", helix_angle="45", pitch_in="transverse")
        )["Cutter marked"]
    )


def test_worm_when_entered_then_the_lead_is_large_and_worm_and_wheel_stand_side_by_side():
    shown = answer("worm-pair", **WORM)
    assert (shown["big"], shown["big_small"], shown["units"]) == ("0.5000 in", "12.700 mm", "inches, degrees")
    assert cells(shown)["Pitch diameter"] == ["1.2500", "5.7296"]
    assert cells(shown)["Over the threads, throat"] == ["1.568", "6.048"]
    assert values(shown)["Wheel gashed at"] == "7.26° 7° 15′"
    metric = answer("worm-pair", **WORM | {"axial_pitch": "5 mm", "worm_diameter": "20 mm"})
    assert metric["units"] == "millimetres, degrees"


@pytest.mark.parametrize(
    ("key", "entered", "headline", "subject"),
    [
        ("bevel-pair", WHEEL, "Turn the blank to 4.602 in, its face to 68.94°",
         "Bevel pair, 36 and 16 teeth, 8 DP, taper depth"),
        ("bevel-pair", PARALLEL, "Turn the blank to 63.30 mm, its face to 33.69°",
         "Bevel pair, 20 and 30 teeth, module 2, parallel depth"),
        ("bevel-differential", SIDES, "3 pinions go together",
         "Bevel differential, 24 and 24 teeth, 3 pinions of 14"),
        ("helical-gear", HELICAL, "Turn the blank to 90.82 mm, lead 971.05 mm",
         "Helical gear, 20 and 50 teeth, module 4, 15°"),
        ("worm-pair", WORM, "Lead 0.5000 in, centres 3.490 in",
         "Worm of 1 start, wheel of 36 teeth, axial pitch 0.5 in"),
        ("worm-pair", {"starts": "2", "wheel_teeth": "30", "module": "2", "worm_diameter": "22 mm"},
         "Lead 12.566 mm, centres 41.00 mm", "Worm of 2 starts, wheel of 30 teeth, module 2"),
    ],
)  # fmt: skip
def test_words_when_worked_out_then_headline_and_subject_say_what_and_of_what(
    key, entered, headline, subject
):
    run = records.run(get(key), entered)
    for results in (run.outcome.results, json.loads(json.dumps(plain_json(run.outcome.results)))):
        assert run.calculation.headline(dict(run.inputs), dict(results)) == headline
    assert run.calculation.subject(dict(run.inputs)) == subject


# ---- the command -----------------------------------------------------------------------------------------


def command(*args):
    out, code = StringIO(), 0
    try:
        call_command("calculate", *args, "--json", stdout=out)
    except SystemExit as end:
        code = end.code
    return json.loads(out.getvalue()), code


@pytest.mark.parametrize(
    ("args", "code", "field"),
    [
        (("bevel-pair", "teeth=36", "mate_teeth=16", "diametral_pitch=8", "face_width=3/4"), 0, None),
        (("bevel-pair", "teeth=36", "mate_teeth=16", "module=2", "face_width=9mm", "shaft_angle=150"), 2,
         "shaft_angle"),
        (("bevel-pair", "teeth=36", "mate_teeth=16", "diametral_pitch=8"), 2, "face_width"),
        (("bevel-differential", "left_teeth=25", "right_teeth=25", "pinion_teeth=14", "pinions=3"), 0, None),
        (("bevel-differential", "left_teeth=25", "right_teeth=25", "pinion_teeth=14", "pinions=7"), 2,
         "pinions"),
        (("helical-gear", "teeth=20", "module=4", "helix_angle=15"), 0, None),
        (("helical-gear", "teeth=20", "module=4", "helix_angle=61"), 2, "helix_angle"),
        (("worm-pair", "starts=1", "wheel_teeth=36", "axial_pitch=1/2", "worm_diameter=1 1/4"), 0, None),
        (("worm-pair", "starts=1", "wheel_teeth=36", "worm_diameter=1 1/4"), 2, "axial_pitch"),
    ],
)  # fmt: skip
def test_command_when_entries_are_right_or_wrong_then_it_ends_as_agreed(args, code, field):
    found, ended = command(*args)
    assert ended == code
    if code:
        assert found["error"]["field"] == field
        return
    names = {output.name for output in get(args[0]).outputs}
    assert set(found["results"]) == names
    assert found["working"]


# ---- the drawings ----------------------------------------------------------------------------------------

DRAWN = [
    ("bevel-pair", WHEEL),
    ("bevel-pair", PARALLEL),
    ("bevel-pair", WHEEL | {"teeth": "16", "mate_teeth": "36", "shaft_angle": "70"}),
    ("bevel-pair", WHEEL | {"teeth": "24", "mate_teeth": "20", "shaft_angle": "120", "face_width": "0.4 in"}),
    ("bevel-pair", {"teeth": "6", "mate_teeth": "90", "module": "1", "face_width": "10 mm"}),
    ("bevel-pair", {"teeth": "1000", "mate_teeth": "1000", "module": "0.2", "face_width": "1 mm"}),
    ("bevel-pair", MITRE | {"shaft_angle": "175"}),
    ("bevel-pair", MITRE | {"shaft_angle": "5"}),
    ("bevel-differential", SIDES),
    ("bevel-differential", SIDES | {"right_teeth": "30", "module": "2"}),
    ("bevel-differential", SIDES | {"pinion_teeth": "60", "diametral_pitch": "8"}),
    ("worm-pair", WORM),
    ("worm-pair", {"starts": "4", "wheel_teeth": "200", "module": "1", "worm_diameter": "12 mm"}),
    ("worm-pair", {"starts": "12", "wheel_teeth": "6", "module": "3", "worm_diameter": "30 mm"}),
    ("worm-pair", {"starts": "1", "wheel_teeth": "1000", "module": "1", "worm_diameter": "300 mm"}),
]  # fmt: skip


@pytest.mark.parametrize(("key", "entered"), DRAWN, ids=lambda one: one if isinstance(one, str) else "")
def test_drawings_when_made_then_every_stroke_and_figure_is_inside_the_window(key, entered):
    for picture in answer(key, **entered)["pictures"]:
        drawn = pictures.drawing(json.loads(json.dumps(picture)))
        svg = to_svg(drawn)
        assert len(svg) < 60_000
        assert not re.search(r"nan|inf|style=", svg)
        right, low = drawn.x + drawn.width, drawn.y + drawn.height
        assert drawn.width <= 760
        for stroke in drawn.strokes:
            if isinstance(stroke, Path):
                assert all(drawn.x <= x <= right and drawn.y <= y <= low for x, y in stroke.points), stroke
            elif isinstance(stroke, Text) and not stroke.turn:
                wide = 0.56 * stroke.size * len(stroke.text)
                before = {"start": 0, "middle": wide / 2, "end": wide}[stroke.anchor]
                assert drawn.x <= stroke.x - before, stroke
                assert stroke.x - before + wide <= right, stroke
                assert drawn.y <= stroke.y - 0.8 * stroke.size, stroke
                assert stroke.y <= low, stroke


def teeth_of(drawn):
    """The four corners of every tooth in section: outer tip, inner tip, inner root, outer root."""
    return [one.points for one in drawn.strokes if isinstance(one, Path) and one.closed and one.role == "o0"]


def angle_at_apex(point, axis):
    """Between a line to a point and an axis, from the apex at the origin; both in degrees from the right."""
    turned = degrees(atan2(point[1], point[0])) - axis
    return abs((turned + 180) % 360 - 180)


@pytest.mark.parametrize("entered", [WHEEL, WHEEL | {"shaft_angle": "70"}], ids=["square", "seventy"])
def test_section_when_drawn_then_its_cones_are_those_worked_out_and_to_scale(entered):
    run = records.run(get("bevel-pair"), entered)
    results = run.outcome.results
    drawn = pictures.drawing(records.answer_of(run)["pictures"][0])
    teeth = teeth_of(drawn)
    shaft = float(run.inputs["shaft_angle"])
    for own, halves, axis in ((results, teeth[:2], 0.0), (results["mate"], teeth[2:], shaft)):
        for outer, inner, inner_root, outer_root in halves:
            assert angle_at_apex(outer, axis) == pytest.approx(own["face_angle_deg"])
            assert angle_at_apex(inner, axis) == pytest.approx(own["face_angle_deg"])
            assert angle_at_apex(inner_root, axis) == pytest.approx(own["root_angle_deg"])
            assert angle_at_apex(outer_root, axis) == pytest.approx(own["root_angle_deg"])
        across = hypot(*(halves[0][0][i] - halves[1][0][i] for i in (0, 1)))
        scale = across / own["outside_diameter_mm"]
        deep = hypot(*(halves[0][0][i] - halves[0][3][i] for i in (0, 1)))
        assert deep / scale == pytest.approx(float(results["whole_depth_mm"]))


def test_section_when_drawn_then_the_sizes_worked_to_are_written_on_it():
    drawn = pictures.drawing(answer("bevel-pair", **WHEEL)["pictures"][0])
    words = " ".join(stroke.text for stroke in drawn.strokes if isinstance(stroke, Text))
    for figure in ("4.602 dia", "2.228 dia", "0.750", "2.462", "face 68.94°", "root 20.60°", "back 66.04°"):
        assert figure in words
    assert "4.602" in drawn.label


def test_worm_when_drawn_then_a_thread_of_it_stands_in_a_space_of_its_wheel():
    drawn = pictures.drawing(answer("worm-pair", **WORM)["pictures"][0])
    worm = next(one.points for one in drawn.strokes if isinstance(one, Path) and one.role == "cut")
    wheel = next(one.points for one in drawn.strokes if isinstance(one, Path) and one.role == "o0")
    # The wheel's topmost point is a tooth's tip in the middle, where the worm has a space as deep and more.
    top = min(y for _, y in wheel)
    assert min(abs(x) for x, y in wheel if y < top + 1e-6) < 8
    root = min(y for x, y in worm if y > 0)
    assert root < top < max(y for _, y in worm)
    assert not any(abs(x) < 2 and y > root + 1e-6 for x, y in worm if y > 0)


def test_worm_when_drawn_then_its_sizes_are_written_on_it():
    drawn = pictures.drawing(answer("worm-pair", **WORM)["pictures"][0])
    words = " ".join(stroke.text for stroke in drawn.strokes if isinstance(stroke, Text))
    for figure in ("lead 0.5000", "1.568", "throat 6.048 dia", "3.490"):
        assert figure in words
