"""What a kept plan of cutting a bevel pair puts on a card: rounds with their ways, index, trials, its mate.

That table and roll go opposite ways at the handles, and that two teeth are a trial: common practice,
no source. The index of 36 teeth on a head of 40 is 1 turn and 2 in 18, worked by hand: 40/36 = 1 1/9.
"""

from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers import card
from calc.answers.card import Typed, card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

ENTERED = dict(registry.get("bevel-cutting").example)


def kept(key="bevel-cutting", **more):
    run = records.run(registry.get(key), ENTERED | more if key == "bevel-cutting" else more)
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return record


def figures(made):
    return {one["label"]: one["value"] for one in made["figures"]}


def said(made):
    return " ".join(f"{one['strong']} {one['text']}" for one in made["notes"])


def test_card_when_the_best_plan_is_kept_then_index_tilt_cutter_and_blank_are_on_it():
    record = kept()
    made = card_sum(record)
    best = record.results["best"]
    assert figures(made)["Index, turn one way only"].startswith("1 turn + ")
    assert figures(made)["Head tilted to"] == "66.04°"  # atan(36 / 16)
    assert figures(made)[f"Cutter No. {best['cutter_number']}, 12 DP, 20°, marked"]
    assert made["head"] == "40 : 1"
    assert made["picture"]["figures"]["stands"] == [
        next(one for one in record.context["answer"]["pictures"] if one["kind"] == "bevel-rounds")["figures"][
            "stands"
        ][1]
    ]
    assert made["mate"] == {"teeth": 16, "centres": "90°", "label": "shafts"}


def test_card_when_the_rounds_are_told_then_the_table_goes_against_the_blank_in_both():
    made = card_sum(kept())
    first, second, third = made["notes"][:3]
    assert "on centre" in first["text"]
    assert "left flank: table LEFT" in second["strong"]
    assert "top of blank RIGHT" in second["strong"]
    assert "right flank: table RIGHT" in third["strong"]
    assert "top of blank LEFT" in third["strong"]
    assert "OPPOSITE" in made["proof"]["strong"]
    assert made["tally"]["passes"] == 3
    assert "belongs with the card of its 16 T mate" in said(made)


def test_card_when_settings_were_tried_then_it_is_of_those_and_says_so():
    record = kept(try_set_over="0.0700 in", try_roll="5/18")
    made = card_sum(record)
    assert "LEFT 0.0700, top of blank RIGHT 5 in 18" in said(made)
    assert "By the tried plan" in said(made)


def test_card_when_only_the_textbooks_pair_jams_then_nothing_of_it_is_on_the_card():
    # 12 and 40 teeth by the textbook have no play left; the best plan has.
    record = kept(teeth="12", mate_teeth="40")
    assert record.results["textbook"]["backlash_mm"] < 0 < record.results["best"]["backlash_mm"]
    assert "jams" not in said(card_sum(record))


def test_sizes_when_two_trials_are_cut_then_both_ends_have_room_for_each():
    made = card_sum(kept())
    notes = [one["note"] for one in made["sizes"]]
    assert notes == [
        "OD, large end",
        *(f"{when}, {end} end" for when in ("trial 1", "trial 2", "gear") for end in ("small", "large")),
    ]


def test_tally_when_the_pin_comes_home_then_by_the_circle_of_the_plan():
    record = kept()
    best, made = record.results["best"], card_sum(record)
    move = best["index_turns"] * best["index_circle"] + best["index_holes"]
    for teeth in made["tally"]["home"]:
        assert teeth * move % best["index_circle"] == 0
    assert made["tally"]["home"][-1] == 36
    assert made["tally"]["rows"][0]["hole"] == str(10 * move % best["index_circle"])


def test_clash_when_a_dividing_is_ticked_beside_it_then_told_to_untick_it():
    divided = kept("indexing", divisions="36", ratio="40", circles=ENTERED["circles"])
    assert "has its own index" in card.clash_of([kept(), divided])


def test_card_when_metric_then_in_millimetres():
    record = kept(diametral_pitch="", module="2", face_width="19 mm")
    made = card_sum(record, Typed())
    assert made["units"] == "millimetres"
    assert "module 2" in " ".join(figures(made))
