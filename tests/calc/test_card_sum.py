"""What a kept sum puts on a card when it was asked for by an angle, which need not go into a turn.

Worked here in fractions: one move is ratio × angle / 360 turns of the crank. That 35° at 40 to 1 is 3 turns
and 16 in 18 is printed in Machinery's Handbook, 1916, angular indexing (mh1916#angle-35).
"""

from uuid import uuid4

import pytest

from calc import records, registry
from calc.answers.card import card_sum
from tests.factories import make_part, make_user

pytestmark = pytest.mark.django_db

CIRCLES = "15,16,17,18,19,20/21,23,27,29,31,33/37,39,41,43,47,49"


def kept(row="", **entered):
    run = records.run(
        registry.get("indexing"), {"circles": CIRCLES} | entered, chosen=records.read_chosen(row)
    )
    record = records.keep(run, part=make_part(), user=make_user(), token=uuid4())
    record.refresh_from_db()
    return card_sum(record)


def figure(card, label):
    return next(one["value"] for one in card["figures"] if one["label"] == label)


def test_card_sum_when_asked_by_angle_then_the_proof_leads_back_to_the_angle():
    card = kept(angle="35")
    assert card["work"] == "moves of 35°"
    assert card["proof"]["strong"] == "Proof: (3 + 24/27) × 360/40 = 35°."
    assert figure(card, "One move") == "35°"
    assert card["tally"] is None


def test_card_sum_when_the_angle_goes_into_a_turn_then_its_divisions_are_ticked():
    card = kept(angle="51 3/7")  # a seventh of a turn, which no decimal holds
    assert card["work"] == "7 divisions"
    assert card["proof"]["strong"] == "Proof: 7 × (5 + 35/49) = 40."
    assert card["tally"]["count"] == 7


def test_card_sum_when_an_angle_is_on_the_direct_plate_then_the_proof_is_in_degrees():
    card = kept("direct-0", angle="150", direct_circles="24")
    assert card["proof"]["strong"] == "Proof: 10/24 × 360 = 150°."
    assert (
        kept("direct-0", divisions="8", direct_circles="24")["proof"]["strong"] == "Proof: 8 × 3 = 24 holes."
    )


def test_card_sum_when_an_angle_has_a_third_of_a_degree_then_the_two_moves_add_up_in_figures_of_a_size():
    # 40 × 10 1/3 / 360 = 31/27 = 1 4/27; 14/21 + 13/27 = 18/27 + 13/27.
    assert kept("compound-0", angle="10 1/3")["proof"]["strong"] == "Proof: 14/21 + 13/27 = 1 4/27 turn."


def test_card_sum_when_an_angle_is_not_exact_then_it_says_by_how_much_each_move_misses():
    # 1°1′1″ is 3661/3600°, 3661/32400 of a turn of the crank; 2/18 = 3600/32400 is 61/32400 × 9° = 61″ short.
    card = kept("nearest-0", angle="1° 1' 1\"", circles="18")
    assert card["proof"]["strong"] == "Not exact: 2/18 × 360/40 = 1°."
    assert card["notes"] == [{"strong": "Each move is 61.0″ too short.", "text": ""}]
    assert card["tally"] is None


def test_card_sum_when_only_whole_turns_then_the_picture_says_so():
    # 40 / 2 = 20 turns exactly, so the pin goes back into its own hole: derived here.
    card = kept(divisions="2")
    assert figure(card, "Index, turn one way only") == "20 turns"
    assert card["plate"]["caption"] == "whole turns, same hole"


def test_card_sum_when_on_the_direct_plate_then_no_ratio_is_named():
    # 24 holes at the spindle, 8 divisions: 3 holes a move: derived here. The ratio plays no part.
    card = kept("direct-0", divisions="8", direct_circles="24")
    assert figure(card, "Direct plate, worm out") == "3 in 24"
    assert card["head"] == ""
