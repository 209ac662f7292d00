"""What is shown of threads, tapping drills and bores: box, tables, picture, pages and papers."""

import json
import re
from itertools import pairwise
from math import atan2, degrees, hypot

import pytest
from django.urls import reverse

from calc.answers import tables
from calc.answers.bore_sequence import answer as bore_answer
from calc.answers.shapes import Case
from calc.answers.tapping_drill import answer as tapping_answer
from calc.answers.thread import answer as thread_answer
from calc.entries import plain_json, read_entries
from calc.figures import Path, Text, to_svg
from calc.kernel.threads import threads
from calc.pictures import drawing
from calc.registry import get
from tests.cast import make_cast

ANSWERS = {"thread": thread_answer, "tapping-drill": tapping_answer, "bore-sequence": bore_answer}
SAMPLES = [
    ("thread", {"thread": "1/4 BSF"}),
    ("thread", {"thread": "1/4 BSP"}),
    ("thread", {"thread": "2 BSP"}),
    ("thread", {"thread": "14 BA"}),
    ("tapping-drill", {"thread": "M6", "engagement": "70"}),
    ("tapping-drill", {"thread": "2 BA", "drill": "#24"}),
    ("tapping-drill", {"thread": "M10", "drill": "8.423456 mm", "base": "1.299038"}),
    ("bore-sequence", {"finished_bore": "1/2"}),
    ("bore-sequence", {"finished_bore": "12 mm", "reamer": "none"}),
    ("bore-sequence", {"finished_bore": "12 mm", "reamer": "hand", "drills_owned": "10 mm"}),
]


def case_of(key, entered):
    calculation = get(key)
    read = read_entries(calculation, entered)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return Case(
        inputs=read.inputs,
        results=outcome.results,
        warnings=warnings,
        entered=entered,
        readings=read.readings,
    )


def shown(key, **entered):
    return ANSWERS[key](case_of(key, entered))


def facts(answer):
    return {fact["label"]: (fact["value"], fact["small"]) for fact in answer["facts"]}


def test_thread_when_shown_then_the_drill_is_big_and_its_look_alikes_come_first():
    found = shown("thread", thread="1/4 BSF")
    assert found["over"] == "1/4 BSF, 26 threads to the inch, 55°: tapping drill"
    assert (found["big"], found["big_small"]) == ("Drill 5.4 mm", "0.2126 in")
    assert "75.9 % of the full thread, counted as 1.280654 pitches" in found["under"]
    assert facts(found)["Core"] == ("0.2007", "in, 5.099 mm")
    assert facts(found)["Across the flats"][1].endswith("from memory, measure")
    assert [one["title"] for one in found["beware"]] == ["It has look-alikes"]
    assert "M6x1" in found["beware"][0]["text"]
    assert any("0.201 in" in note for note in found["notes"])
    lines = {line["label"]: line["cells"] for line in found["sizes"]["lines"]}
    assert lines["Core"] == ["0.2007", "5.099"]


def test_thread_when_metric_then_both_bases_and_both_roots_stand_there():
    found = shown("thread", thread="M6")
    assert "92.4 %" in found["under"]
    assert "77.0 % counted as 1.299038" in found["under"]
    lines = {line["label"]: line["cells"] for line in found["sizes"]["lines"]}
    assert lines["Core of the nut"] == ["4.917", "0.1936"]
    assert lines["Root of the screw"] == ["4.773", "0.1879"]
    assert found["sizes"]["columns"] == ["mm", "in"]


def test_tables_when_there_are_look_alikes_then_each_has_its_row_and_how_it_is_known():
    drills, alike = tables("thread", case_of("thread", {"thread": "2 BA"}))
    assert [row["cells"][0] for row in drills["rows"]] == ["4 mm", "#24"]
    assert drills["rows"][1]["cells"][3] == "86.3 %"
    assert {row["cells"][0] for row in alike["rows"]} >= {"M5x0.8", "3/16 BSF", "10-32 UNF"}
    assert all(len(row["cells"]) == len(alike["columns"]) for row in alike["rows"])


def test_tapping_drill_when_a_hole_is_wanted_then_the_nearest_drill_and_the_exact_hole():
    found = shown("tapping-drill", thread="1/4 BSW", engagement="75")
    assert found["big"] == "Drill #7"
    assert found["big_small"] == "0.2010 in, 5.105 mm; leaves 76.5 %"
    assert "is 0.2020 in (5.130 mm)" in found["under"]
    beside, listed = tables("tapping-drill", case_of("tapping-drill", {"thread": "1/4 BSW"}))
    assert [row["cells"][0] for row in beside["rows"]] == ["5.1 mm", "#7", "13/64", "#6"]
    assert [row["cells"][0] for row in listed["rows"]] == ["5.1 mm"]


@pytest.mark.parametrize(
    ("typed", "smaller", "larger"),
    [
        ({"engagement": "75"}, "5.4 mm", "5.5 mm"),
        ({"drill": "#3"}, "5.4 mm", "5.5 mm"),
        ({"drill": "5.5 mm"}, "#3", "7/32"),
    ],
)
def test_tapping_drill_when_shown_then_the_drills_beside_it_are_others(typed, smaller, larger):
    found = shown("tapping-drill", thread="1/4 BSF", **typed)
    beside = {label: name for label, (name, _) in facts(found).items()}
    assert (beside["Next smaller"], beside["Next larger"]) == (smaller, larger)


def test_tapping_drill_when_a_drill_is_in_hand_then_what_it_leaves():
    found = shown("tapping-drill", thread="2 BA", drill="#24")
    assert found["big"] == "Drill #24 leaves 86.3 %"
    assert facts(found)["Core, never below"] == ("3.728", "mm, 0.1468 in")


def test_bore_when_shown_then_drills_in_order_and_what_is_left_in_both_units():
    found = shown("bore-sequence", finished_bore="1/2 in")
    assert found["big"] == "Drill C, then 31/64"
    assert found["big_small"] == "leaves 0.0137 in, 0.347 mm on the diameter"
    assert facts(found)["That is, on each side"] == ("0.0068", "in, 0.173 mm")
    lines = {line["label"]: line["cells"] for line in found["sizes"]["lines"]}
    assert lines["Rule in use"] == ["0.0100–0.0160", "0.254–0.406"]
    # Read beside the one in use: 1/100 or 1/64, and 0.2 to 0.3 mm.
    assert lines["Workshop rule of 1919, never over 1/32 in"] == ["0.0100–0.0156", "0.254–0.397"]
    assert lines["Rule for trainees"] == ["0.0079–0.0118", "0.200–0.300"]


def test_bore_when_too_much_is_left_then_beware():
    found = shown("bore-sequence", finished_bore="1/2 in", drills_owned="12 mm")
    assert found["beware"][0]["title"] == "Too much is left for the reamer"


@pytest.mark.parametrize(("key", "entered"), SAMPLES)
def test_answer_when_opened_from_json_then_the_same(key, entered):
    case = case_of(key, entered)
    kept = json.loads(json.dumps(plain_json({"inputs": case.inputs, "results": case.results})))
    again = Case(
        inputs=kept["inputs"], results=kept["results"], warnings=case.warnings, entered=case.entered,
        readings=case.readings,
    )  # fmt: skip
    assert ANSWERS[key](again) == ANSWERS[key](case)
    assert tables(key, again) == tables(key, case)
    json.dumps(ANSWERS[key](case), allow_nan=False)


@pytest.mark.parametrize(
    ("key", "entered", "headline", "subject"),
    [
        ("thread", {"thread": "1/4 BSF"}, "Tapping drill 5.4 mm, 75.9 %", "Thread, 1/4 BSF"),
        ("tapping-drill", {"thread": "M6"}, "Hole 5.188 mm for 75.0 %; the nearest drill is 13/64 or #6",
         "Tapping drill, M6x1, 75 %"),
        ("tapping-drill", {"thread": "2 BA", "drill": "#24"}, "Drill #24 leaves 86.3 %",
         "Tapping drill, 2 BA, drill #24"),
        ("bore-sequence", {"finished_bore": "1/2"}, "C, 31/64: 0.35 mm, 0.0137 in left on the diameter",
         "Bore sequence, 1/2 in, machine reamer"),
    ],
)  # fmt: skip
def test_words_when_worked_out_then_headline_and_subject_say_what_and_of_what(
    key, entered, headline, subject
):
    calculation, case = get(key), case_of(key, entered)
    if key == "tapping-drill" and "drill" not in entered:
        headline = headline.replace("13/64 or #6", case.results["nearest_drill"])
        assert case.results["nearest_drill"] == "#6"
    assert calculation.headline(dict(case.inputs), dict(case.results)) == headline
    assert calculation.subject(dict(case.inputs)) == subject


# ---- the picture -------------------------------------------------------------------------------------------


def outline(drawn):
    return next(one for one in drawn.strokes if isinstance(one, Path) and one.role == "cut").points


@pytest.mark.parametrize("found", threads(), ids=lambda one: one.name)
def test_form_when_drawn_then_depth_and_drill_are_to_the_scale_of_the_pitch(found):
    picture = shown("thread", thread=found.name)["pictures"][0]
    drawn, figures = drawing(picture), picture["figures"]
    points = outline(drawn)[1:-1]
    lowest, highest = max(y for _, y in points), min(y for _, y in points)
    roots = [x for x, y in points if abs(y) < 1e-9]
    middle = (points[0][0] + points[-1][0]) / 2
    sides = [[x for x in roots if (x < middle) == left] for left in (True, False)]
    pitch = (min(sides[1]) + max(sides[1]) - min(sides[0]) - max(sides[0])) / 2
    scale = pitch / figures["pitch"]
    assert highest == pytest.approx(0, abs=1e-9)
    # The drill's line cuts the crests off; nothing of the nut is left below it.
    assert lowest == pytest.approx((figures["major"] - figures["drill"]) / 2 * scale)
    hole = next(one for one in drawn.strokes if isinstance(one, Path) and one.role == "hl").points
    assert [y for _, y in hole] == pytest.approx([lowest, lowest])
    core = [one.points[0][1] for one in drawn.strokes if isinstance(one, Path) and one.role == "c"]
    assert max(core) == pytest.approx((figures["major"] - figures["core"]) / 2 * scale)


@pytest.mark.parametrize("found", threads(), ids=lambda one: one.name)
def test_form_when_drawn_then_nothing_leaves_the_window_and_no_point_jumps(found):
    drawn = drawing(shown("thread", thread=found.name)["pictures"][0])
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


@pytest.mark.parametrize(("name", "angle"), [("1/4 BSF", 55), ("2 BA", 47.5), ("M6", 60), ("1/4 BSP", 55)])
def test_form_when_drawn_then_the_flanks_stand_at_the_angle_of_the_form(name, angle):
    """The steepest stretch of the profile is the flank: half of the angle from the upright."""
    points = outline(drawing(shown("tapping-drill", thread=name, engagement="60")["pictures"][0]))[1:-1]
    stretches = list(pairwise(points))
    (x1, y1), (x2, y2) = max(stretches, key=lambda pair: abs(pair[1][1] - pair[0][1]))
    assert hypot(x2 - x1, y2 - y1) > 20
    # BSP is drawn by its depth as rounded, which turns the flank by a few hundredths of a degree.
    assert 2 * degrees(atan2(abs(x2 - x1), abs(y2 - y1))) == pytest.approx(angle, abs=0.1)


def test_svg_when_written_then_in_the_style_sheets_classes_and_in_words():
    svg = to_svg(drawing(shown("thread", thread="M6")["pictures"][0]))
    assert "style=" not in svg
    used = set(re.findall(r'class="(\w+)"', svg))
    assert {"cut", "s", "c", "hl", "h", "fig", "hott", "word", "d", "da"} <= used
    assert 'aria-label="Thread of M6x1 in the nut, 60° between the flanks: over the thread 6.000 mm' in svg


# ---- pages -------------------------------------------------------------------------------------------------


@pytest.mark.django_db
@pytest.mark.parametrize(("key", "entered"), SAMPLES)
def test_page_when_worked_out_then_the_answer_is_on_it_and_on_paper(key, entered):
    client = make_cast().client("owner")
    page = client.get(reverse("calculate", args=[key]), entered)
    assert page.status_code == 200
    assert shown(key, **entered)["big"] in page.content.decode().replace("&#x27;", "'")


@pytest.mark.django_db
def test_page_when_the_drill_is_below_the_core_then_the_reason_stands_at_the_entry():
    client = make_cast().client("owner")
    page = client.get(reverse("calculate", args=["tapping-drill"]), {"thread": "14 BA", "drill": "#70"})
    text = page.content.decode()
    assert "104.6 %" in text
    assert 'value="#70"' in text
