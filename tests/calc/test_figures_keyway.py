"""The sections of shaft and hub: to scale, the figures worked to on them, everything inside the window."""

import re
from math import hypot

import pytest

from calc.answers.keyway import answer
from calc.answers.shapes import Case
from calc.entries import read_entries
from calc.figures import Path, Text, to_svg
from calc.figures_keyway import hub, shaft
from calc.pictures import drawing
from calc.registry import get

SIZES = {
    "1 1/8 in B17.1": {"shaft_diameter": "1 1/8 in", "standard": "b17.1"},
    "20 mm ISO": {"shaft_diameter": "20 mm", "standard": "iso773"},
    "4 in BS 46": {"shaft_diameter": "4 in", "standard": "bs46"},
    "6 mm": {"shaft_diameter": "6 mm", "standard": "iso773", "key_width": "2 mm"},
    "11 in": {"shaft_diameter": "11 in", "standard": "b17.1"},
    "narrow": {"shaft_diameter": "130 mm", "standard": "iso773", "key_width": "2 mm"},
    "wide": {"shaft_diameter": "64 mm", "standard": "iso773", "key_width": "32 mm"},
    "worn bore": {"shaft_diameter": "1 1/8 in", "standard": "b17.1", "bore_measured": "1.1301 in"},
}


def case_of(entered):
    calculation = get("keyway")
    read = read_entries(calculation, entered)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return Case(inputs=read.inputs, results=outcome.results, warnings=warnings, entered=entered)


def answer_of(**entered):
    return answer(case_of(entered))


def words(drawn):
    return [stroke.text for stroke in drawn.strokes if isinstance(stroke, Text)]


def outline(drawn):
    return next(
        stroke for stroke in drawn.strokes if isinstance(stroke, Path) and stroke.role == "cut"
    ).points


def keyway_of(drawn):
    """The flat of the keyway: the last two corners of the outline."""
    return outline(drawn)[-2:]


@pytest.mark.parametrize("entered", SIZES.values(), ids=SIZES)
def test_sections_when_drawn_then_over_the_work_is_to_scale_and_in_figures(entered):
    shown = answer_of(**entered)
    for picture, column in zip(shown["pictures"], (0, 1), strict=True):
        drawn, figures = drawing(picture), picture["figures"]
        across = figures.get("diameter") or figures["bore"]
        (left, floor), (right, other) = keyway_of(drawn)
        radius = max(hypot(x, y) for x, y in outline(drawn)[:-2])
        scale = 2 * radius / across
        assert floor == other
        assert right - left == pytest.approx(figures["key_width"] * scale)
        way = -1 if column == 0 else 1
        over = across + way * figures["crown_depth"]
        assert radius - floor == pytest.approx(over * scale)
        boxed = next(line for line in shown["sizes"]["lines"] if line["finished"])
        assert boxed["cells"][column] in words(drawn)
        assert boxed["cells"][column] in drawn.label


@pytest.mark.parametrize("entered", SIZES.values(), ids=SIZES)
def test_sections_when_drawn_then_nothing_leaves_the_window_and_centres_are_level(entered):
    drawings = [drawing(picture) for picture in answer_of(**entered)["pictures"]]
    assert len({(one.y, one.height, one.width) for one in drawings}) == 1
    for drawn in drawings:
        right, low = drawn.x + drawn.width, drawn.y + drawn.height
        for stroke in drawn.strokes:
            if isinstance(stroke, Path):
                assert all(drawn.x < x < right and drawn.y < y < low for x, y in stroke.points)
            elif isinstance(stroke, Text):
                wide = 0.62 * stroke.size * len(stroke.text)
                before = {"start": 0, "middle": wide / 2, "end": wide}[stroke.anchor]
                assert drawn.x < stroke.x - before, stroke
                assert stroke.x - before + wide < right, stroke
                assert drawn.y < stroke.y - stroke.size < stroke.y + 0.25 * stroke.size < low, stroke


def test_hatch_when_drawn_then_it_stays_out_of_the_keyway_and_the_bore():
    made = {"key_width": 6.35, "side_depth": 3.175, "unit": "inch"}
    for drawn, inside in (
        (shaft(diameter=28.575, crown_depth=3.532, **made), lambda x, y: abs(x) < 27 and -122 < y < -92),
        (hub(bore=28.575, crown_depth=2.945, **made), lambda x, y: hypot(x, y) < 91),
    ):
        lines = [stroke for stroke in drawn.strokes if isinstance(stroke, Path) and stroke.role == "s"]
        assert len(lines) > 20
        for (x1, y1), (x2, y2) in (line.points for line in lines):
            assert not any(inside(x1 + (x2 - x1) * t / 20, y1 + (y2 - y1) * t / 20) for t in range(21))


def test_svg_when_written_then_it_bears_the_style_sheets_classes_and_no_style():
    svg = to_svg(hub(bore=20, key_width=6, side_depth=3.26, crown_depth=2.8, unit="mm"))
    assert "style=" not in svg
    assert {"cut", "s", "d", "da", "fig", "hott", "c", "h"} == set(re.findall(r'class="(\w+)"', svg)) - {"dw"}
    assert (
        'aria-label="Section of the hub, 20 bore: keyway 6 wide, 3.26 deep at the wall, 22.80 across' in svg
    )


# ---- the answer ------------------------------------------------------------------------------------------


def test_answer_when_by_b17_1_then_s_and_t_are_big_and_the_sizes_have_limits():
    """S 0.986 and T 1.241: ANSI B17.1, depth control, Machinery's Handbook 31, p. 2552."""
    shown = answer_of(shaft_diameter="1 1/8 in", standard="b17.1")
    assert shown["big"] == "S 0.986, T 1.241 in"
    assert shown["big_small"] == "25.04, 31.52 mm"
    assert shown["over"] == "Keyway over the work, B17.1, shaft 1 1/8 in"
    facts = {fact["label"]: fact["value"] for fact in shown["facts"]}
    assert facts["Key"] == "1/4 in"
    assert (facts["Shaft, depth at the wall"], facts["Hub, depth at the wall"]) == ("0.125", "0.130")
    assert facts["Chord rise"] == "0.0141"
    lines = {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}
    assert lines["Over the work"] == ["0.986", "1.241"]
    assert lines["Over the work, limits"] == ["0.971–0.986", "1.241–1.251"]
    assert lines["Width of the keyway"] == ["0.250–0.252", "0.250–0.252"]
    assert "BS 46 has a key of 5/16 in" in shown["notes"][0]
    assert shown["units"] == "inches"


def test_answer_when_metric_then_as_metric_drawings_have_it():
    shown = answer_of(shaft_diameter="20 mm", standard="iso773")
    assert shown["big"] == "d − t1 16.50, d + t2 22.80 mm"
    assert shown["units"] == shown["sizes"]["note"] == "millimetres"
    lines = {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}
    assert lines["Width of the keyway"] == ["5.970–6.000", "5.985–6.015"]
    small = answer_of(shaft_diameter="8 mm", standard="iso773")["sizes"]["lines"][0]["cells"]
    assert small == ["1.971–1.996", "1.9875–2.0125"]


def test_answer_when_depths_were_not_read_then_the_key_alone_and_no_picture():
    shown = answer_of(shaft_diameter="1 1/8 in", standard="bs46", section="rectangular")
    assert shown["big"] == "5/16 × 1/4 in key"
    assert "pictures" not in shown
    assert "only the sizes were read" in shown["notes"][0]
    assert all(fact["value"] not in ("0.000", "None") for fact in shown["facts"])


def test_answer_when_opened_from_json_then_the_same():
    import json

    from calc.entries import plain_json

    case = case_of(SIZES["worn bore"])
    kept = json.loads(json.dumps(plain_json({"inputs": case.inputs, "results": case.results})))
    again = Case(inputs=kept["inputs"], results=kept["results"], warnings=case.warnings, entered=case.entered)
    assert answer(again) == answer(case)


@pytest.mark.parametrize(
    ("entered", "headline", "subject"),
    [
        ({"shaft_diameter": "1.125", "standard": "b17.1"},
         "1/4 in key: 0.986 over the shaft, 1.241 across the bore", "Keyway, 1 1/8 in shaft, B17.1"),
        ({"shaft_diameter": "20 mm", "standard": "iso773"},
         "6 × 6 mm key: 16.50 over the shaft, 22.80 across the bore", "Keyway, 20 mm shaft, ISO 773"),
        ({"shaft_diameter": "30 mm", "standard": "b17.1"},
         "1/4 in key: 1.043 over the shaft, 1.298 across the bore", "Keyway, 30 mm shaft, B17.1"),
        ({"shaft_diameter": "1.1237", "standard": "bs46"},
         "5/16 in key: 0.947 over the shaft, 1.266 across the bore", "Keyway, 1.1237 in shaft, BS 46"),
        ({"shaft_diameter": "1 in", "standard": "b17.1", "section": "rectangular"},
         "1/4 × 3/16 in key: 0.890 over the shaft, 1.083 across the bore", "Keyway, 1 in shaft, B17.1"),
        ({"shaft_diameter": "1 1/8", "standard": "bs46", "section": "rectangular"},
         "5/16 × 1/4 in key: its depths were not read", "Keyway, 1 1/8 in shaft, BS 46"),
    ],
)  # fmt: skip
def test_words_when_worked_out_then_headline_and_subject_say_what_and_of_what(entered, headline, subject):
    calculation, case = get("keyway"), case_of(entered)
    assert calculation.headline(dict(case.inputs), dict(case.results)) == headline
    assert calculation.subject(dict(case.inputs)) == subject
