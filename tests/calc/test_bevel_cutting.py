"""What is shown of a bevel pair's cutting: settings, plans, directions, pictures, one step each way.

That cutter and blank go the same way and table and roll opposite ways: common practice, no source.
"""

import re

import pytest

from calc import pictures
from calc.answers.bevel_cutting import answer, tables
from calc.answers.shapes import Case
from calc.catalogue.bevel_cutting import BEVEL_CUTTING
from calc.entries import read_entries
from calc.figures import Path

ENTERED = dict(BEVEL_CUTTING.example)


def case(**more):
    entered = ENTERED | more
    read = read_entries(BEVEL_CUTTING, entered)
    outcome = BEVEL_CUTTING.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return Case(
        inputs=read.inputs,
        results=outcome.results,
        warnings=warnings,
        entered=entered,
        readings=read.readings,
    )


@pytest.fixture(scope="module")
def pair():
    return case()


def lines(shown):
    return {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}


def test_answer_when_a_pair_is_planned_then_the_settings_of_both_stand_beside_each_other(pair):
    found = answer(pair)
    best = pair.results["best"]
    assert found["over"] == "Cut the 36 with"
    assert found["big"] == f"No. {best['cutter_number']}, head at 66.04°"
    # atan(36/16) = 66.04 degrees, and what is left of 90: worked by hand.
    assert lines(found)["Tilt of the head"] == ["66.04°", "23.96°"]
    assert lines(found)["Depth, first round"] == ["0.1798", "0.1798"]  # 2.157 / 12
    assert f"{best['roll_holes']} in {best['roll_circle']}" in lines(found)["Roll, each side"][0]


def test_tables_when_a_pair_is_planned_then_the_textbooks_plan_stands_beside_the_best(pair):
    by_key = {table["key"]: table for table in tables(pair)}
    assert [row["cells"][0] for row in by_key["settings"]["rows"]] == [
        "The 36, best", "The 16, best", "The 36, by the textbook", "The 16, by the textbook",
    ]  # fmt: skip
    running = {row["cells"][0]: float(row["cells"][1]) for row in by_key["running"]["rows"]}
    assert running["Best"] <= running["By the textbook"]
    assert [row["cells"][0] for row in by_key["flanks"]["rows"]] == [
        "small end", "25 % along", "middle", "75 % along", "large end",
    ]  # fmt: skip


def test_tables_when_the_rounds_are_told_then_cutter_and_blank_go_together_and_the_table_against_them(pair):
    rounds = next(table for table in tables(pair) if table["key"] == "rounds")
    _, second, third = (list(row["cells"]) for row in rounds["rows"])
    for row, way, other in ((second, "right", "left"), (third, "left", "right")):
        _, cutter, table, blank, flank = row
        assert way in cutter
        assert way in blank
        assert other in table
        assert flank.startswith(other)


def test_answer_when_settings_are_tried_then_they_are_what_the_page_is_about():
    tried = case(try_set_over="0.0700 in", try_cutter="3")
    found = answer(tried)
    assert found["big"].startswith("No. 3,")
    assert lines(found)["Set-over, each side"][0] == "0.0700"
    assert "Tried" in [row["cells"][0] for table in tables(tried) for row in table["rows"]]


def test_steps_when_one_is_taken_then_that_setting_alone_changes_and_can_be_worked_out(pair):
    steps = {step["label"]: step for step in answer(pair)["steps"]}
    step = steps["The 36: set-over"]
    assert set(step["more"]) == set(step["less"])
    changed = [name for name in step["more"] if step["more"][name] != step["less"][name]]
    assert changed == ["try_set_over"]
    again = case(**step["more"])
    wanted = float(step["more_words"].split()[0])
    assert again.results["given"]["set_over_mm"] == pytest.approx(25.4 * wanted)
    # What was not stepped is as it was in the plan.
    assert again.results["given"]["roll_deg"] == pair.results["best"]["roll_deg"]


def test_steps_when_the_mate_is_cut_then_only_the_gear_may_be_tried():
    labels = [step["label"] for step in answer(case(mate_cut="textbook"))["steps"]]
    assert labels
    assert all(label.startswith("The 36") for label in labels)


# ---- the pictures ----------------------------------------------------------------------------------------


def drawn(pair, kind, at=0):
    return pictures.drawing([one for one in answer(pair)["pictures"] if one["kind"] == kind][at])


@pytest.mark.parametrize("kind", ["bevel-rounds", "bevel-spaces", "bevel-mesh"])
def test_picture_when_drawn_then_every_line_of_the_work_lies_inside_it(pair, kind):
    found = drawn(pair, kind)
    for stroke in found.strokes:
        if isinstance(stroke, Path):
            for x, y in stroke.points:
                assert found.x <= x <= found.x + found.width
                assert found.y <= y <= found.y + found.height


def test_space_when_drawn_then_it_grows_with_the_cone_distance_and_the_departure_is_ten_times(pair):
    sections = next(one for one in answer(pair)["pictures"] if one["kind"] == "bevel-spaces")["figures"][
        "sections"
    ]
    small, large = sections[0]["pitch"], sections[2]["pitch"]
    # The face is 0.8 in of a cone distance of sqrt(36^2 + 16^2) / (2 x 12) + 0.8 in, worked by hand.
    near = (36**2 + 16**2) ** 0.5 / 24
    assert large / small == pytest.approx((near + 0.8) / near, rel=1e-4)
    paths = [one for one in drawn(pair, "bevel-spaces").strokes if isinstance(one, Path)]
    hot = [one for one in paths if one.role == "hl"]
    assert len(hot) >= 3


def test_rounds_when_drawn_then_the_trimming_edge_is_red_on_the_side_it_trims(pair):
    found = drawn(pair, "bevel-rounds")
    middles = [one.points[0][0] for one in found.strokes if isinstance(one, Path) and one.role == "c"]
    red = [one for one in found.strokes if isinstance(one, Path) and one.role == "hl"]
    assert len(middles) == 3
    assert len(red) == 2
    assert min(x for x, _ in red[0].points) < middles[1]
    assert max(x for x, _ in red[1].points) > middles[2]


def test_caption_when_a_picture_is_shown_then_it_says_where_it_is_seen_from(pair):
    said = " ".join(one["text"] for one in answer(pair)["pictures"])
    assert "from the small end" in said
    assert re.search("ten times", said)
