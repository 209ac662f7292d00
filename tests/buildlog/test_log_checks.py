"""A note on dividing held against the move it was divided by."""

import pytest

from buildlog.log_checks import Move, Note, check_note, read_note

#: The wheel of 47 on a head of 40 to 1 and a 47 circle: 40/47 of a turn, 40 spaces. 29 × 40 = 1160 = 24 × 47
#: + 32, so that 29 moves leave the pin at hole 32: plain arithmetic, no source.
WHEEL = Move(divisions=47, circle=47, turns=0, spaces=40)
NOTE = (
    "29 of 47 cut, head indexed ready for 30, first pass 0.180, pin 32 holes on from the start hole, "
    "do not move the table"
)


def walked(move, moves):
    """The hole the pin stands at, walked hole by hole round the plate."""
    hole = 0
    for _ in range(moves):
        for _ in range(move.turns * move.circle + move.spaces):
            hole = 0 if hole == move.circle - 1 else hole + 1
    return hole


def test_note_when_cut_pin_and_tooth_agree_then_it_says_so():
    found = check_note(NOTE, WHEEL)
    assert found.agrees
    assert found.words == (
        "29 moves of 40 in the 47 circle leave the pin at hole 32: the note agrees with itself"
    )


@pytest.mark.parametrize("circle", [15, 16, 39, 47, 49])
@pytest.mark.parametrize("turns", [0, 3])
def test_hole_when_worked_out_then_where_a_walk_round_the_plate_ends(circle, turns):
    for spaces in range(circle):
        move = Move(divisions=13, circle=circle, turns=turns, spaces=spaces)
        for moves in (0, 1, 5, 12):
            assert move.hole_after(moves) == walked(move, moves), (spaces, moves)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("pin 31 holes on", "leave the pin at hole 32, and the note says 31"),
        ("pin 79 holes on", "leave the pin at hole 32, and the note says 79"),
        ("pin is at hole 33", "leave the pin at hole 32, and the note says 33"),
        # 28 × 40 = 1120 = 23 × 47 + 39: right before the head is indexed, wrong once it is said to be.
        ("indexed for tooth 30, pin 39 holes on", "leave the pin at hole 32, and the note says 39"),
        ("ready for 31, pin 32 holes on", "the head is set for 31, but 30 comes next"),
    ],
)
def test_note_when_it_does_not_agree_then_it_says_what_does_not(said, words):
    found = check_note(f"29 of 47 cut, {said}", WHEEL)
    assert not found.agrees
    assert words in found.words
    assert "before the next cut" in found.words


def test_note_when_more_are_cut_than_there_are_then_it_cannot_be():
    found = check_note("48 of 47 cut, pin 40 holes on", WHEEL)
    assert not found.agrees
    assert "48 of 47 cannot be cut" in found.words


def test_note_when_the_head_is_not_indexed_yet_then_one_move_less_agrees_too():
    found = check_note("29 of 47 cut, pin 39 holes on", WHEEL)
    assert found.agrees
    assert found.words.startswith("28 moves of 40 in the 47 circle leave the pin at hole 39")
    assert "the move after cut 29 still to make" in found.words


def test_note_when_the_pin_is_home_then_in_its_first_hole():
    # 47 moves of 40 are 40 rounds of the 47 circle.
    assert "leave the pin in its first hole" in check_note("47 of 47 cut, pin 0 holes on", WHEEL).words


def test_note_when_there_are_whole_turns_then_they_are_named():
    # 13 divisions at 40 to 1: 3 turns and 3 holes in the 39 circle; 2 moves are 6 holes on.
    move = Move(divisions=13, circle=39, turns=3, spaces=3)
    assert check_note("2 of 13 teeth cut, pin 6 holes on", move).words.startswith(
        "2 moves of 3 turns and 3 in the 39 circle leave the pin at hole 6"
    )
    whole = Move(divisions=20, circle=20, turns=2, spaces=0)
    assert "5 moves of 2 turns in the 20 circle" in check_note("5 of 20 cut, pin at hole 0", whole).words


@pytest.mark.parametrize(
    "text",
    [
        "29 of 47 cut, pin 32 holes on",
        "29 of the 47 teeth cut. Pin at hole 32.",
        "Cut 29 of 47;\npin is 32 holes on",
        "29 teeth of 47 done, pin stands in hole 32",
        "29 of 47 teeth, the pin now 32 holes on",
    ],
)
def test_note_when_put_in_other_words_then_read_alike(text):
    assert read_note(text) == Note(29, 47, 32)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "29 of 47 cut",  # no pin
        "pin 32 holes on",  # no count
        "29 of 47 drilled, pin 32 holes on",  # nothing was cut
        "2.29 of 47 cut, pin 32 holes on",  # a size
        "29 of 47.5 cut, pin 32 holes on",
        "29 of 47 cut, 30 of 47 cut, pin 32 holes on",  # which?
        "29 of 47 cut, pin 32 holes on, pin 33 holes on",
        "29 of 47 cut, ready for 30, ready for 31, pin 32 holes on",
        "29 of 47 cut, cotter pin driven 32",
        "29 of 47 cut, dowel pin at hole A",
    ],
)
def test_note_when_it_does_not_say_enough_or_says_it_twice_then_silence(text):
    assert check_note(text, WHEEL) is None


@pytest.mark.parametrize("text", ["5 of 24 cut, pin 5 holes on", "0 of 47 cut, pin 0 holes on"])
def test_note_when_it_cannot_be_of_this_move_then_silence(text):
    assert check_note(text, WHEEL) is None


@pytest.mark.parametrize("when", ["ready for 5 pm", "ready for 2 more passes", "ready for 0.090 more"])
def test_note_when_ready_for_something_else_then_no_tooth(when):
    assert read_note(f"29 of 47 cut, {when}, pin 32 holes on").ready is None
