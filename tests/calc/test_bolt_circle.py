"""What is shown of bolt circles: box, table, picture, page."""

from math import atan2, degrees

import pytest
from django.urls import reverse

from calc.answers import tables
from calc.answers.bolt_circle import answer
from calc.answers.shapes import Case
from calc.entries import read_entries
from calc.figures import Circle, Text, to_svg
from calc.pictures import drawing
from calc.registry import get
from tests.cast import make_cast


def case_of(**entered):
    calculation = get("bolt-circle")
    read = read_entries(calculation, entered)
    outcome = calculation.function(**read.inputs)
    return Case(inputs=read.inputs, results=outcome.results, entered=entered, readings=read.readings)


def test_answer_when_shown_then_the_chord_is_big_with_a_check_across():
    found = answer(case_of(holes="6", diameter="3 in"))
    assert found["over"] == "Bolt circle, 6 holes on 3 in"
    assert (found["big"], found["big_small"]) == ("1.5000 in", "38.100 mm")
    assert found["facts"] == [
        {"label": "Check, hole 1 to hole 4", "value": "3.0000", "small": "in between centres, 76.200 mm"}
    ]
    assert answer(case_of(holes="5", diameter="60 mm"))["big"] == "35.267 mm"


def test_table_when_shown_then_a_row_to_a_hole_in_both_units():
    (table,) = tables("bolt-circle", case_of(holes="6", diameter="3 in"))
    assert table["rows"][1]["cells"] == ["2", "60.0000°", "0.7500", "1.2990", "19.050", "32.996"]
    assert table["rows"][5]["cells"][3] == "−1.2990"
    assert all(len(row["cells"]) == len(table["columns"]) for row in table["rows"])


@pytest.mark.parametrize(("holes", "first"), [("6", "0"), ("5", "90"), ("2", "-45"), ("200", "10")])
def test_picture_when_drawn_then_each_hole_stands_at_its_angle_within_the_window(holes, first):
    case = case_of(holes=holes, diameter="3 in", first_angle=first)
    picture = drawing(answer(case)["pictures"][0])
    drawn = [one for one in picture.strokes if isinstance(one, Circle) and one.role in ("o", "hot")]
    assert [one.role for one in drawn].count("hot") == 1
    for one, row in zip(drawn, case.results["coordinates"], strict=True):
        turn = (degrees(atan2(-one.cy, one.cx)) - row["angle_deg"]) % 360
        assert min(turn, 360 - turn) < 1e-6
    for text in (one for one in picture.strokes if isinstance(one, Text)):
        wide = 0.62 * text.size * len(text.text) / 2
        assert picture.x < text.x - wide < text.x + wide < picture.x + picture.width
        assert picture.y < text.y - text.size < text.y < picture.y + picture.height
    assert "<svg" in to_svg(picture)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "said"),
    [({"holes": "6", "diameter": "3 in"}, "1.5000 in"),
     ({"holes": "1", "diameter": "3 in"}, "1 is too small")],
    ids=["six", "one"],
)  # fmt: skip
def test_page_when_sent_then_the_answer_or_the_message_is_on_it(typed, said):
    page = make_cast().client("owner").get(reverse("calculate", args=["bolt-circle"]), typed)
    assert said in page.text
    assert f'value="{typed["holes"]}"' in page.text
