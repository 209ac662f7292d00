"""Entries of a sum: what is read, what is refused and how, what an address fills in."""

from dataclasses import replace

import pytest

from calc import registry
from calc.calculation import Input
from calc.forms import Offered, SumForm, from_address
from tests.factories import CIRCLES

INDEXING = registry.get("indexing")
SCHEDULE = registry.get("indexing-schedule")
GOOD = {"divisions": "84", "ratio": "40", "circles": CIRCLES}


def entry(form, name):
    return next(one for one in form.entries if one.name == name)


def test_form_with_right_entries_is_worked_out():
    form = SumForm(INDEXING, GOOD)
    assert form.is_valid()
    # 40/84 = 10/21: 20 spaces in a circle of 42, or 10 in 21; here the largest is 21 (worked by hand).
    assert form.found.outcome.results["plain"][0]["circle"] == 21


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0,5 mm", "0"),
        ("84 mmm", "mmm"),
        ("9**9**9", "only plain figures are read"),
        ("-84", "2 to 10000"),
        ("10^400", "only plain figures are read"),
        ("1" + "0" * 400, "40 are the most"),
        ("1" + "0" * 30, "too great"),
        ("\u202e48", "hidden character"),
        ("84.5", "whole number"),
        ("1", "2 to 10000"),
        ("eighty-four", "I cannot read"),
    ],
)
def test_form_with_a_bad_entry_names_it_and_keeps_what_was_typed(typed, said):
    form = SumForm(INDEXING, GOOD | {"divisions": typed})
    assert not form.is_valid()
    wrong = entry(form, "divisions")
    assert said in wrong.error
    assert wrong.value == typed
    assert [one.name for one in form.wrong] == ["divisions"]
    assert form.found is None


def test_form_with_two_bad_entries_names_both_and_echoes_the_good_one():
    form = SumForm(INDEXING, GOOD | {"divisions": "0", "circles": "15,,16"})
    assert not form.is_valid()
    assert [one.name for one in form.wrong] == ["divisions", "circles"]
    assert entry(form, "ratio").echo == "40"


def test_form_with_an_empty_needed_entry_says_what_to_write():
    form = SumForm(INDEXING, GOOD | {"circles": "  "})
    assert not form.is_valid()
    assert "Nothing is entered. Holes of each circle" in entry(form, "circles").error


def test_form_with_neither_divisions_nor_angle_asks_for_one():
    form = SumForm(INDEXING, GOOD | {"divisions": ""})
    assert not form.is_valid()
    assert "how many divisions, or the angle" in entry(form, "divisions").error


def test_form_with_both_divisions_and_angle_refuses_the_angle():
    form = SumForm(INDEXING, GOOD | {"angle": "15"})
    assert not form.is_valid()
    assert "either the divisions or the angle, not both" in entry(form, "angle").error


def test_form_echoes_how_each_entry_was_read():
    form = SumForm(INDEXING, {"angle": "11 1/2", "ratio": "", "circles": "18 / 24,28"})
    assert form.is_valid()
    assert entry(form, "angle").echo == "11 1/2° = 11° 30′"
    assert entry(form, "ratio").echo == "40, as usual"
    assert entry(form, "circles").echo == "3 circles on 2 faces"


def test_form_with_a_choice_that_is_none_of_them_is_refused():
    form = SumForm(INDEXING, GOOD | {"keep_quarter": "perhaps"})
    assert not form.is_valid()
    assert "write no or yes" in entry(form, "keep_quarter").error


def test_form_shows_where_a_filled_in_entry_comes_from_until_it_is_changed():
    offered = {"divisions": Offered("84", "from the part: 84 teeth")}
    assert entry(SumForm(INDEXING, GOOD, offered=offered), "divisions").note == "from the part: 84 teeth"
    changed = entry(SumForm(INDEXING, GOOD | {"divisions": "57"}, offered=offered), "divisions")
    assert changed.note == "How many equal divisions round the work; or leave it empty and enter the angle."


def test_form_with_nothing_sent_shows_what_is_filled_in_and_no_errors():
    form = SumForm(INDEXING, offered={"ratio": Offered("60", "own head H2")})
    assert [entry(form, name).value for name in ("divisions", "ratio", "keep_quarter")] == ["", "60", "no"]
    assert form.wrong == []


def test_form_folds_seldom_entries_away_unless_one_was_typed():
    assert [one.name for one in SumForm(INDEXING).more] == ["angle", "change_gears", "direct_circles"]
    assert not SumForm(INDEXING, GOOD).more_is_open
    assert SumForm(INDEXING, GOOD | {"direct_circles": "24"}).more_is_open


def test_form_of_a_schedule_that_does_not_come_round_names_the_spaces():
    # 20 × 84/42 = 40; with 19 spaces 84 moves make 38 turns, which is not a turn of the work (by hand).
    form = SumForm(SCHEDULE, {"divisions": "84", "ratio": "40", "circle": "42", "turns": "0", "holes": "19"})
    assert not form.is_valid()
    assert "84 moves must make 40 turns" in entry(form, "holes").error


def test_address_fills_in_what_it_does_not_name():
    offered = {"circles": Offered(CIRCLES, "own plates"), "divisions": Offered("84", "from the part")}
    filled = from_address(INDEXING, {"divisions": "57", "colour": "red"}, offered)
    assert filled["divisions"] == "57"
    assert filled["ratio"] == "40"
    assert filled["circles"] == CIRCLES
    assert "colour" not in filled


def test_address_with_an_angle_leaves_the_offered_divisions_out():
    offered = {"divisions": Offered("84", "from the part")}
    filled = from_address(INDEXING, {"angle": "15"}, offered)
    assert (filled["divisions"], filled["angle"]) == ("", "15")


# ---- entries that fold away, and two of which one answers for the other ------------------------------------


def made_of(*fields):
    return replace(INDEXING, inputs=fields)


DP = Input(
    name="diametral_pitch", label="Diametral pitch", kind="pitch", help="Teeth to the inch.", optional=True
)
MODULE = Input(name="module", label="Module", kind="module", help="In place of it.", optional=True)
SET = Input(
    name="cutter_set",
    label="Cutter set",
    kind="choice",
    help="As owned.",
    default="8",
    seldom=True,
    choices=(("8", "8"), ("15", "15")),
)


def test_form_with_a_seldom_entry_folds_it_away_until_it_is_typed():
    form = SumForm(made_of(DP, SET))
    assert [one.name for one in form.more] == ["cutter_set"]
    assert not form.more_is_open
    sent = SumForm(made_of(DP, SET), {"diametral_pitch": "-1", "cutter_set": "8"})
    sent.is_valid()
    assert not sent.more_is_open  # as usual is not typed
    other = SumForm(made_of(DP, SET), {"diametral_pitch": "-1", "cutter_set": "15"})
    other.is_valid()
    assert other.more_is_open


def test_address_with_a_module_leaves_the_pitch_the_site_offers_empty():
    offered = {"diametral_pitch": Offered("6 DP", "from the part")}
    calculation = made_of(DP, MODULE)
    assert from_address(calculation, {}, offered) == {"diametral_pitch": "6 DP", "module": ""}
    assert from_address(calculation, {"module": "2"}, offered) == {"diametral_pitch": "", "module": "2"}


def test_form_with_a_module_in_the_place_of_the_pitch_says_where_it_goes():
    form = SumForm(made_of(DP, MODULE), {"diametral_pitch": "2 MOD", "module": ""})
    assert not form.is_valid()
    assert "enter it as the module" in entry(form, "diametral_pitch").error
    assert entry(form, "diametral_pitch").value == "2 MOD"
