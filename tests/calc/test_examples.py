"""What every sum says of itself: what it is for, an example that works out, and where it is shown."""

import html
import re

import pytest
from django.urls import reverse

from calc.catalogue import CALCULATIONS
from calc.runs import run
from tests.cast import make_cast

pytestmark = pytest.mark.django_db
EVERY = pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda one: one.key)


@EVERY
def test_about_when_a_sum_stands_in_the_list_then_it_says_what_it_is_for_in_two_to_four_sentences(
    calculation,
):
    assert 2 <= len(re.findall(r"[.?](?:\s|$)", calculation.about)) <= 4


@EVERY
def test_example_when_worked_out_in_either_unit_then_it_has_one_and_the_same_answer(calculation):
    inch = run(calculation, dict(calculation.example), unit="inch")
    metric = run(calculation, dict(calculation.example), unit="mm")
    assert calculation.example
    assert inch.outcome.results == metric.outcome.results


@EVERY
def test_page_when_nothing_is_entered_then_the_example_leads_to_its_answer(calculation):
    client = make_cast().client("owner")
    page = client.get(reverse("calculate", args=[calculation.key])).content.decode()
    address = re.search(r'href="([^"]+)">Work the example out', page)[1]
    shown = client.get(html.unescape(address))
    assert shown.status_code == 200
    assert "worked out, not kept" in shown.content.decode()
