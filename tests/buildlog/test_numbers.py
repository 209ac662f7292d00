"""Numbers and hands: the one way to write them, the order they stand in, a quantity that names both hands."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buildlog.models.parts import fold
from buildlog.numbers import key_of, number_key, read_hand, read_number, read_split

# ---- the key ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "number", "hand"),
    [
        ("H-021-L", "H-021", "L"),
        ("h-021 l", "H-021", "L"),
        ("h-021l", "H-021L", ""),  # a letter against a figure belongs to the number
        ("  H - 021 -  rh ", "H-021", "R"),
        ("H–021–L", "H-021", "L"),
        ("H 021 left", "H-021", "L"),
        ("H-021/R", "H-021", "R"),
        ("H_021_right", None, ""),
        ("S-016", "S-016", ""),
        ("s 016", "S-016", ""),
        ("12.4/3", "12.4/3", ""),
        ("BALL", "BALL", ""),  # ends in a letter that is no hand
        ("WHEEL", "WHEEL", ""),
        ("R-1", "R-1", ""),
    ],
)
def test_number_when_typed_in_any_usual_way_then_read_in_one(typed, number, hand):
    if number is None:
        with pytest.raises(ValueError, match="letters A to Z and figures"):
            read_number(typed)
    else:
        assert read_number(typed) == (number, hand)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", "needs a number"),
        ("   ", "needs a number"),
        ("L", "needs a number"),
        ("-R", "needs a number"),
        ("S-016?", "letters A to Z and figures"),
        ("-S-016", "letters A to Z and figures"),
        ("S\u202e016", "letters A to Z and figures"),
        ("١٢", "letters A to Z and figures"),
        ("S-" + "1" * 19, "at most 20 signs; this has 21"),
    ],
)
def test_number_when_it_cannot_be_one_then_said_what_to_write(typed, why):
    with pytest.raises(ValueError, match=why):
        read_number(typed)


PIECE = st.text(string.ascii_uppercase + string.digits, min_size=1, max_size=6)


@given(
    st.lists(PIECE, min_size=1, max_size=2), st.sampled_from(["-", ".", "/"]), st.sampled_from(["", "L", "R"])
)
def test_number_when_its_key_is_typed_again_then_the_same(pieces, stroke, hand):
    try:
        number, named = read_number(stroke.join(pieces) + (f"-{hand}" if hand else ""))
    except ValueError:
        return  # a lone L or R is no number
    assert read_number(key_of(number, named)) == (number, named)
    assert read_number(key_of(number, named).lower().replace("-", " - ")) == (number, named)


@pytest.mark.parametrize(
    ("typed", "hand"),
    [
        ("L", "L"),
        ("lh", "L"),
        ("Right", "R"),
        (" r. ", "R"),
        ("", ""),
        ("–", ""),
        ("none", ""),
        ("both", None),
    ],
)
def test_hand_when_typed_then_left_right_none_or_not_read(typed, hand):
    assert read_hand(typed) == hand


# ---- order and search ------------------------------------------------------------------------------------


def test_numbers_when_sorted_then_as_a_person_counts():
    typed = ["S-10", "S-9", "S-016", "FW-4", "S-9a", "FW-004.10", "FW-004.9", "4.1", "4", "10"]
    assert sorted(typed, key=number_key) == [
        "4",
        "4.1",
        "10",
        "FW-4",
        "FW-004.9",
        "FW-004.10",
        "S-9",
        "S-9a",
        "S-10",
        "S-016",
    ]


@given(st.integers(0, 999_999), st.integers(0, 999_999), st.integers(0, 4), st.integers(0, 4))
def test_numbers_when_only_the_figures_differ_then_in_their_order(one, other, zeros, more_zeros):
    # The kept text sorts as the figures do, however many noughts stand before them.
    first, second = number_key(f"S-{'0' * zeros}{one}"), number_key(f"S-{'0' * more_zeros}{other}")
    assert (first < second) == (one < other)
    assert (first == second) == (one == other)


@pytest.mark.parametrize("typed", ["57T", "57 T", "57-tooth", "57 teeth", "57  TOOTH", "57t"])
def test_search_when_teeth_are_written_in_any_way_then_alike(typed):
    assert fold(typed) == "57t <57t>"


def test_search_when_a_t_begins_a_word_then_left_alone():
    assert fold("2 tubes, 3-throw") == "2 tubes, 3-throw <2> <3>"


# ---- 2 (1L 1R) -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "split"),
    [
        ("2 (1L 1R)", {"L": 1, "R": 1}),
        ("2(1l,1r)", {"L": 1, "R": 1}),
        (" 6 ( 4 RH + 2 LH ) ", {"R": 4, "L": 2}),
        ("2", None),
        ("2 (1L)", None),
        ("2 1L 1R", None),
        ("", None),
    ],
)
def test_quantity_when_it_names_both_hands_then_split(typed, split):
    assert read_split(typed) == split


@pytest.mark.parametrize(
    ("typed", "why"),
    [("3 (1L 1R)", "1 and 1 do not make 3"), ("2 (1L 1L)", "same hand"), ("2 (1R, 1RH)", "same hand")],
)
def test_quantity_when_its_hands_do_not_fit_then_refused(typed, why):
    with pytest.raises(ValueError, match=why):
        read_split(typed)


@pytest.mark.parametrize("typed", ["1 (0L 1R)", "0 (0L 0R)", "20000 (10000L 10000R)"])
def test_quantity_when_a_hand_has_none_or_too_many_then_refused(typed):
    with pytest.raises(ValueError, match="1 to 9999"):
        read_split(typed)
