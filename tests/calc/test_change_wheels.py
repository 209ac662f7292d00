"""What is shown of change wheels and of leads on the mill: the train, its cost, every train listed."""

import pytest
from django.urls import reverse

from calc.answers import answer, tables
from calc.answers.shapes import Case
from calc.entries import read_entries
from calc.registry import get
from tests.cast import make_cast


def case_of(key, **entered):
    calculation = get(key)
    read = read_entries(calculation, entered)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return Case(
        inputs=read.inputs, results=outcome.results, warnings=warnings, entered=entered,
        readings=read.readings,
    )  # fmt: skip


def shown(key, **entered):
    return answer(get(key), case_of(key, **entered))


METRIC = {"pitch": "1.5 mm", "screw_threads_per_inch": "8"}


def test_answer_when_a_wheel_of_127_is_owned_then_one_pair_and_no_error():
    found = shown("change-wheels", **METRIC, wheels_owned="40, 60, 127")
    assert found["big"] == "60 driving 127"
    facts = {one["label"]: one["value"] for one in found["facts"]}
    assert facts["Error over 25 mm"] == "0.0"
    assert "Keep the half nut closed" in [one["title"] for one in found["beware"]]


def test_answer_when_none_is_exact_then_the_nearest_says_what_it_costs_both_ways():
    # (30 x 63) / (40 x 100) is out by 1/8000: 3.125 um in 25 mm, 0.125 thou in an inch, worked by hand.
    found = shown("change-wheels", **METRIC, wheels_owned="20, 30, 40, 63, 100")
    facts = {one["label"]: one["value"] for one in found["facts"]}
    assert found["big"] in ("30 × 63 driving 40 × 100", "30 × 63 driving 100 × 40")
    assert (facts["Error over 25 mm"], facts["Error over an inch"]) == ("3.1", "0.13")
    assert found["beware"][0]["title"] == "No train is exact"


@pytest.mark.parametrize("key", ["change-wheels", "milling-lead"])
def test_table_when_shown_then_every_train_has_a_row_and_a_cell_to_a_column(key):
    case = case_of(key, **get(key).example)
    (table,) = tables(key, case)
    assert len(table["rows"]) == len(case.results["exact_trains"] or case.results["nearest_trains"])
    assert all(len(row["cells"]) == len(table["columns"]) for row in table["rows"])


def test_answer_when_the_diameter_is_given_then_the_angle_to_swivel_to():
    # tan of the angle is pi x 2.598 / 19.703: 22 degrees 30 minutes, as a gear of that helix has it.
    found = shown("milling-lead", **get("milling-lead").example)
    facts = {one["label"]: one["value"] for one in found["facts"]}
    assert facts["Swivel the table to"].startswith("22° 30′")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("entered", "said"),
    [
        (METRIC | {"wheels_owned": "40, 60, 127"}, "60 driving 127"),
        (METRIC | {"wheels_owned": "40"}, "2 to 60 wheels"),
        ({"pitch": "1.5 mm", "threads_per_inch": "20", "screw_pitch": "3 mm", "wheels_owned": "40, 60"},
         "enter one of the two"),
    ],
    ids=["worked", "one wheel", "both"],
)  # fmt: skip
def test_page_when_sent_then_the_answer_or_the_reason_is_on_it(entered, said):
    page = make_cast().client("owner").get(reverse("calculate", args=["change-wheels"]), entered)
    assert said in page.text
    assert 'value="1.5 mm"' in page.text
