"""How a spur gear is shown: the box, the sizes side by side, what stops the work, the drawings."""

import re
from fractions import Fraction

import pytest

from calc import figures_gear, pictures, records
from calc.figures import to_svg
from calc.registry import get


def work(unit="inch", **entered):
    return records.run(get("spur-gear"), entered, unit=unit)


FINAL_DRIVE = {
    "teeth": "84", "mate_teeth": "18", "diametral_pitch": "6", "face_width": "1 3/4 in",
    "pin_diameter": "0.288 in",
}  # fmt: skip


def answer(**entered):
    return records.answer_of(work(**entered))


def cells(shown):
    return {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}


def values(shown):
    return {fact["label"]: f"{fact['value']} {fact['small']}" for fact in shown["facts"]}


def test_box_when_the_final_drive_of_the_worked_card_is_entered_then_it_is_that_card():
    shown = answer(**FINAL_DRIVE)
    assert (shown["over"], shown["big"], shown["big_small"]) == (
        "Turn the blank to",
        "14.333 in",
        "364.07 mm",
    )
    assert values(shown) == {
        "Depth of tooth, 2.157": "0.3595 in",
        "Cutter marked": "55 to 134 6 DP",
        "Span over 10": "4.870 in, no backlash",
        "Centres with 18 T": "8.500 in",
        "Ratio": "4.667 to 1",
    }
    assert shown["units"] == "inches"


def test_sizes_when_there_is_a_mate_then_both_stand_side_by_side_and_finished_sizes_are_boxed():
    shown = answer(**FINAL_DRIVE)
    assert shown["sizes"]["columns"] == ["Wheel", "Pinion"]
    found = cells(shown)
    assert found["Outside diameter"] == ["14.333", "3.333"]
    assert found["Span over 10; over 2"] == ["4.8703", "0.7800"]
    assert found["Over pins 0.288"] == ["14.4071", "3.3973"]
    assert found["Cutter, by its range"] == ["55 to 134", "17 to 20"]
    assert found["Undercut by a rack, below 17.1 teeth"] == ["none", "none"]
    boxed = [line["label"] for line in shown["sizes"]["lines"] if line["finished"]]
    assert boxed == ["Outside diameter", "Whole depth"]


def test_sizes_when_the_pinion_is_asked_for_then_it_stands_first_and_equal_gears_have_no_wheel():
    assert answer(teeth="18", mate_teeth="84", diametral_pitch="6")["sizes"]["columns"] == ["Pinion", "Wheel"]
    assert answer(teeth="30", mate_teeth="30", module="2")["sizes"]["columns"] == ["Gear", "Mate"]


def test_sizes_when_the_gear_is_alone_and_metric_then_one_column_in_millimetres():
    shown = answer(teeth="12", module="2")
    assert (shown["big"], shown["big_small"], shown["units"]) == ("28.00 mm", "1.102 in", "millimetres")
    assert shown["sizes"]["columns"] == ["Gear"]
    assert "Centres" not in "".join(values(shown))
    assert values(shown)["Chord"].startswith("3.133")
    assert cells(shown)["Undercut by a rack, below 17.1 teeth"] == ["yes"]


def test_sizes_when_a_half_is_rounded_then_page_and_working_agree():
    run = work(teeth="57", diametral_pitch="8", depth_system="2.25")
    shown = records.answer_of(run)
    depth = next(step.value for step in run.outcome.working if step.label.startswith("Whole depth"))
    assert depth == "0.2813"
    assert cells(shown)["Whole depth"] == [depth]
    assert values(shown)["Depth of tooth, 2.25"] == f"{depth} in"


def test_sizes_when_a_pin_does_not_rest_then_its_cell_is_empty():
    shown = answer(teeth="24", module="2", pin_diameter="0.5 mm")
    assert cells(shown)["Over pins 0.5"] == [""]
    assert any("pins" in one["title"] for one in shown["beware"])


def test_warnings_when_the_drawing_disagrees_then_that_has_a_heading_and_the_depth_is_a_note():
    shown = answer(teeth="57", mate_teeth="17", diametral_pitch="8", drawing_centre_distance="4.6875 in")
    assert [one["title"] for one in shown["beware"]] == ["The drawing’s centres are others"]
    assert "0.0625 in" in shown["beware"][0]["text"]
    assert any("0.2813 in by 2.25" in text for text in shown["notes"])


def test_box_when_the_anvils_miss_then_the_chord_stands_in_place_of_the_span():
    shown = answer(teeth="40", module="2", span_teeth="9")
    assert not any(label.startswith("Span") for label in values(shown))
    assert any(label.startswith("Chord, at") for label in values(shown))


def test_cutter_when_there_is_none_or_no_end_then_it_is_said():
    assert values(answer(teeth="10", module="2"))["Cutter marked"].startswith("none serves")
    assert values(answer(teeth="200", module="2"))["Cutter marked"].startswith("135 to a rack")


def test_depth_when_it_is_the_fine_one_then_its_two_thou_are_of_an_inch():
    assert "Depth of tooth, 2.2 + 0.002 in" in values(
        answer(teeth="60", diametral_pitch="24", depth_system="2.2+0.002")
    )


# ---- the drawings ----------------------------------------------------------------------------------------

DRAWN = [
    FINAL_DRIVE,
    {"teeth": "57", "mate_teeth": "17", "diametral_pitch": "8"},
    {"teeth": "12", "module": "2"},
    {"teeth": "6", "module": "3", "mate_teeth": "6"},
    {"teeth": "200", "diametral_pitch": "16", "mate_teeth": "40"},
    {"teeth": "400", "module": "1", "mate_teeth": "400"},
    {"teeth": "1000", "module": "1"},
    {"teeth": "24", "module": "3", "profile_shift": "0.4", "mate_teeth": "30"},
    {"teeth": "40", "module": "3", "outside_diameter_measured": "125.4 mm", "pressure_angle": "14.5"},
]


@pytest.mark.parametrize("entered", DRAWN, ids=lambda one: f"{one['teeth']}-{one.get('mate_teeth', 0)}")
def test_drawings_when_made_then_they_are_small_and_every_figure_is_inside_the_window(entered):
    for picture in answer(**entered)["pictures"]:
        drawing = pictures.drawing(picture)
        svg = to_svg(drawing)
        assert len(svg) < 60_000
        assert "nan" not in svg
        assert "inf" not in svg
        for x, y in coordinates(svg):
            assert drawing.x - 1 <= x <= drawing.x + drawing.width + 1
            assert drawing.y - 1 <= y <= drawing.y + drawing.height + 1


def coordinates(svg):
    for points in re.findall(r'points="([^"]*)"', svg):
        yield from ((float(x), float(y)) for x, y in (pair.split(",") for pair in points.split()))
    for path in re.findall(r' d="M([-0-9. L]*)"', svg):
        yield from (tuple(map(float, pair.split())) for pair in path.split("L"))


def test_wheel_when_drawn_then_it_has_its_own_number_of_teeth():
    drawing = pictures.drawing(answer(**FINAL_DRIVE)["pictures"][0])
    gears = [stroke for stroke in drawing.strokes if getattr(stroke, "closed", False) and stroke.role == "o"]
    counted = []
    for gear, middle in zip(gears, (0.0, middle_of(gears[1])), strict=True):
        radii = [(x - middle) ** 2 + y**2 for x, y in gear.points]
        half = (max(radii) + min(radii)) / 2
        above = [radius > half for radius in radii]
        counted.append(sum(a and not b for a, b in zip(above, [*above[1:], above[0]], strict=True)))
    assert counted == [84, 18]


def middle_of(path):
    return (max(x for x, _ in path.points) + min(x for x, _ in path.points)) / 2


def test_words_when_teeth_are_too_fine_then_circles_stand_for_them():
    strokes = pictures.drawing(answer(teeth="1000", module="1")["pictures"][0]).strokes
    assert not any(getattr(stroke, "closed", False) and stroke.role == "o" for stroke in strokes)
    assert any(type(stroke).__name__ == "Circle" and stroke.role == "o" for stroke in strokes)


def test_captions_when_a_size_is_not_given_or_a_rack_would_undercut_then_they_say_so():
    with_face, without = answer(**FINAL_DRIVE)["pictures"], answer(teeth="12", module="2")["pictures"]
    assert with_face[0]["text"] == "drawn to scale"
    assert "none is given" in without[0]["text"]
    assert "1.750" in to_svg(pictures.drawing(with_face[0]))
    assert "undercut" in without[1]["text"]
    assert "undercut" not in with_face[1]["text"]


def test_tooth_when_the_blank_is_under_size_then_the_depth_is_from_the_tip_there_is():
    shown = answer(teeth="40", module="3", outside_diameter_measured="125.4 mm")
    assert "6.450" in to_svg(pictures.drawing(shown["pictures"][1]))
    assert cells(shown)["Whole depth"] == ["6.750"]


def test_blank_when_its_bore_is_known_then_the_section_is_open_in_the_middle():
    figures = answer(**FINAL_DRIVE)["pictures"][0]["figures"]
    solid, bored = figures_gear.blank(**figures), figures_gear.blank(**figures, bore=25.4)
    cuts = [sum(getattr(stroke, "role", "") == "cut" for stroke in one.strokes) for one in (solid, bored)]
    assert cuts == [1, 2]


def test_figures_when_kept_as_json_then_they_are_plain_numbers():
    for picture in answer(**FINAL_DRIVE)["pictures"]:
        assert not any(isinstance(value, Fraction) for value in picture["figures"].values())
