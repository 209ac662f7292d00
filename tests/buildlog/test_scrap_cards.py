"""Lessons on work cards: once on the next like operation, once on the other hand, and never again unasked.

The crank pinion of 17 teeth, scrapped at tooth 12 by a wrong hole with 3.5 h lost, whose lesson is printed
once on the card for the 27 T pinion, is the worked example that the scrap book was asked for with.
"""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.card_lessons import MOST, is_like
from buildlog.actions.cards import make_card
from buildlog.actions.demo import load_demo
from buildlog.actions.scrap import show_again
from buildlog.models import Build, Part, Scrap, WorkCard
from calc import pdf
from calc.answers.card import OPERATIONS, operations_of
from calc.answers.card_registry import SHARES
from tests.factories import make_build, make_part, make_record, make_scrap
from tests.pages import fill_in, pdf_text, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 5, 3, 19, 30, tzinfo=UTC)
LESSON = "Pinch the sector arms before every move."
WORDS = f"Lesson from S-013, 3 May: {LESSON}"


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 3 May 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def pinion(build):
    return make_part(build, number="S-013", name="Crank pinion 17 T, 8 DP")


@pytest.fixture
def larger(build):
    return make_part(build, number="S-014", name="Crank pinion 27 T, 8 DP")


def teeth(part):
    """A kept sum of a gear: its work is teeth."""
    return make_record(
        part, key="spur-gear", teeth="27", mate_teeth="47", diametral_pitch="8 DP", depth_system="2.157"
    )


def keyway(part):
    return make_record(part, key="keyway", shaft_diameter="1 1/8 in", standard="b17.1")


def card_of(part, *records, paper="A4", operation=""):
    words = {"operation": operation, "machine": "", "held_on": ""}
    said = {"records": list(records), "paper": paper, **words, "token": uuid4()}
    return make_card(part, said, by=None, address="")


def lessons_on(card):
    """What the card says of lessons, as it is kept for good."""
    notes = [f"{note['strong']} {note['text']}" for note in card.sheet["notes"]]
    return [note for note in notes if note.startswith("Lesson")]


def told(scrap):
    return [(one.card.number, one.told) for one in scrap.shown.select_related("card")]


# ---- once ------------------------------------------------------------------------------------------------


def test_lesson_of_the_17_t_when_the_card_of_the_27_t_is_printed_then_it_is_on_it_once(site, pinion, larger):
    fill_in(
        site,
        reverse("scrap_new", args=[pinion.build_id]) + "?part=S-013",
        kind="scrap",
        cause="setting",
        happened="Wrong hole at tooth 12",
        minutes="3.5",
        lesson=LESSON,
        show_on="operation",
        operation="teeth",
        count_now="on",
    )
    scrap = Scrap.objects.get()
    pinion.refresh_from_db()
    assert (scrap.minutes, pinion.scrap) == (210, 1)
    record = teeth(larger)
    fill_in(site, reverse("card_new", args=[larger.pk]), records=str(record.pk))
    first = WorkCard.objects.get()
    paper = " ".join(pdf_text(pdf.render_card(first.sheet)))
    assert paper.count("Lesson from S-013, 3 May:") == 1
    assert paper.count("Pinch the sector arms") == 1
    fill_in(site, reverse("card_new", args=[larger.pk]), records=str(record.pk))
    second = WorkCard.objects.first()
    assert second.number == 2
    assert "Pinch the sector arms" not in " ".join(pdf_text(pdf.render_card(second.sheet)))
    assert told(scrap) == [(1, "operation")]


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_lesson_when_the_part_is_made_again_then_its_next_card_has_it_and_no_later_one(pinion, paper):
    scrap = make_scrap(pinion)
    assert lessons_on(card_of(pinion, paper=paper)) == [WORDS]
    assert lessons_on(card_of(pinion, paper=paper)) == []
    assert told(scrap) == [(1, "part")]


def test_lesson_when_the_part_has_two_hands_then_each_is_told_once(build):
    left, right = (make_part(build, number="H-021", hand=hand) for hand in "LR")
    scrap = make_scrap(left, lesson="Mark the outside first")
    assert lessons_on(card_of(right)) == ["Lesson from H-021-L, 3 May: Mark the outside first"]
    assert lessons_on(card_of(right)) == []
    assert lessons_on(card_of(left)) == ["Lesson from H-021-L, 3 May: Mark the outside first"]
    assert lessons_on(card_of(left)) == []
    assert told(scrap) == [(1, "twin"), (3, "part")]


def test_lesson_when_it_is_of_an_operation_then_part_and_another_part_are_told_once_each(pinion, larger):
    scrap = make_scrap(pinion, show_on="operation", operation="teeth")
    third = make_part(pinion.build, number="S-015", name="Second-shaft pinion 18 T")
    assert lessons_on(card_of(pinion, teeth(pinion))) == [WORDS]
    assert lessons_on(card_of(larger, teeth(larger))) == [WORDS]
    assert lessons_on(card_of(third, teeth(third))) == []
    assert told(scrap) == [(1, "part"), (2, "operation")]


def test_card_when_pressed_twice_then_one_card_and_the_lesson_told_once(pinion):
    scrap = make_scrap(pinion)
    said = {"records": [], "paper": "A4", "operation": "", "machine": "", "held_on": "", "token": uuid4()}
    assert make_card(pinion, said, by=None, address="") == make_card(pinion, said, by=None, address="")
    assert told(scrap) == [(1, "part")]


def test_lesson_when_asked_for_again_then_on_the_next_card_once_more(site, pinion, larger):
    scrap = make_scrap(pinion)
    card_of(pinion)
    page = site.post(reverse("lesson_again", args=[scrap.pk]), follow=True)
    assert "To be printed again on the next card it belongs to" in words(page)
    assert "Show it again" not in words(page)
    assert lessons_on(card_of(larger)) == []
    assert lessons_on(card_of(pinion)) == [WORDS]
    assert lessons_on(card_of(pinion)) == []
    assert told(scrap) == [(1, "part"), (3, "part")]


def test_lesson_when_asked_for_again_twice_then_printed_once_more(pinion):
    scrap = make_scrap(pinion)
    card_of(pinion)
    assert [show_again(scrap, by=None), show_again(scrap, by=None)] == [True, False]
    assert len(lessons_on(card_of(pinion))) == 1
    assert lessons_on(card_of(pinion)) == []


def test_entry_without_a_lesson_when_asked_for_again_then_nothing_is_to_be_printed(pinion):
    assert not show_again(make_scrap(pinion, lesson=""), by=None)


def test_page_of_the_entry_then_the_cards_it_was_printed_on(site, pinion):
    scrap = make_scrap(pinion)
    assert "To be printed on the next card of the same part" in words(site.get(scrap.get_absolute_url()))
    card = card_of(pinion)
    page = words(site.get(scrap.get_absolute_url()))
    assert "Card 1, S-013 Crank pinion 17 T, 8 DP: Work card printed for the same part" in page
    assert "To be printed" not in page
    assert "From S-013 Crank pinion 17 T, 8 DP" in words(site.get(card.get_absolute_url()))


# ---- never where it does not belong ----------------------------------------------------------------------


def test_lesson_for_the_same_part_when_another_part_has_the_same_operation_then_not_printed(pinion, larger):
    make_scrap(pinion, show_on="part", operation="teeth")
    assert lessons_on(card_of(larger, teeth(larger))) == []


def test_lesson_of_an_operation_when_the_card_is_of_another_then_not_printed(pinion, larger):
    make_scrap(pinion, show_on="operation", operation="teeth")
    assert lessons_on(card_of(larger, keyway(larger))) == []
    assert lessons_on(card_of(pinion, keyway(pinion))) == []
    assert lessons_on(card_of(larger)) == []  # ruled to write on
    assert lessons_on(card_of(pinion, operation="Op 10 Face to length")) == []


def test_lesson_of_an_operation_when_the_card_of_the_part_does_not_say_which_it_is_for_then_printed(pinion):
    make_scrap(pinion, show_on="operation", operation="teeth")
    assert lessons_on(card_of(pinion)) == [WORDS]


def test_lesson_when_in_the_bin_or_of_another_build_or_empty_then_not_printed(cast, pinion):
    make_scrap(pinion, binned_at=NOW)
    make_scrap(pinion, lesson="")
    other = make_part(make_build(cast.owner, name="Second engine"), number="S-013")
    make_scrap(other, show_on="operation", operation="teeth")
    assert lessons_on(card_of(pinion, teeth(pinion))) == []


def test_note_on_lessons_of_the_part_when_a_card_is_printed_then_not_printed_twice(pinion):
    Part.objects.filter(pk=pinion.pk).update(lesson=LESSON)
    pinion.refresh_from_db()
    make_scrap(pinion)
    assert " ".join(pdf_text(pdf.render_card(card_of(pinion).sheet))).count("Pinch the sector arms") == 1


# ---- like operations -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("operation", "typed"),
    [
        ("turning", "Op 20 Turn OD"),
        ("turning", "finish turned"),
        ("bore", "Op 30 Boring"),
        ("bore", "Bore and ream"),
        ("teeth", "Cut tooth by tooth"),
        ("Teeth", "cut 84 TEETH"),
        ("dividing", "Divide in 12"),
        ("holes", "drill the hole"),
        ("white metal", "Pour the white  metal"),
    ],
)
def test_operation_when_the_typed_one_says_the_same_then_alike(operation, typed):
    assert is_like(operation, set(), typed)


@pytest.mark.parametrize(
    ("operation", "typed"),
    [
        ("teeth", "Face to length"),
        ("bore", "borrowed chuck"),
        ("turning", "return to stores"),
        ("holes", "whole face"),
        ("", "Turn OD"),
        (" ", ""),
        (".*", "Turn OD"),
    ],
)
def test_operation_when_the_typed_one_says_something_else_then_not_alike(operation, typed):
    assert not is_like(operation, set(), typed)


def test_operations_then_every_sum_on_a_card_has_a_word_that_is_offered():
    for key in SHARES:
        assert operations_of([key]) & set(OPERATIONS), key


def test_operations_then_gears_are_teeth_and_keyways_are_not():
    assert "teeth" in operations_of(["spur-gear"]) & operations_of(["bevel-cutting"])
    assert operations_of(["keyway", "no-such-sum"]) == {"keyway"}
    assert operations_of([]) == set()


# ---- the paper -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["A4", "A5"])
@pytest.mark.parametrize("length", [300, 299])
def test_longest_lesson_when_printed_then_every_letter_of_it_is_on_the_paper(pinion, paper, length):
    text = " ".join(f"{place:04}x" for place in range(60))[:length].strip()
    make_scrap(pinion, lesson=text)
    found = "".join(" ".join(pdf_text(pdf.render_card(card_of(pinion, paper=paper).sheet))).split())
    assert "".join(text.split()) in found


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_lesson_of_one_long_word_when_printed_then_every_letter_of_it_is_on_the_paper(pinion, paper):
    make_scrap(pinion, lesson="W" * 300)
    assert " ".join(pdf_text(pdf.render_card(card_of(pinion, paper=paper).sheet))).count("W") >= 300


def test_lessons_when_there_are_many_then_three_a_card_and_the_rest_on_the_next(pinion):
    scraps = [make_scrap(pinion, lesson=f"Lesson {place}") for place in range(MOST + 2)]
    first, second, third = (lessons_on(card_of(pinion)) for _ in range(3))
    assert (len(first), len(second), len(third)) == (3, 2, 0)
    assert first[0].endswith("Lesson 4")
    assert all(len(told(one)) == 1 for one in scraps)


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_lessons_when_the_card_is_full_then_no_figure_gives_way_to_them(larger, paper):
    records = [teeth(larger), make_record(larger, divisions="27"), keyway(larger)]
    bare = card_of(larger, *records, paper=paper).sheet
    scraps = [make_scrap(larger, lesson="Pinch the arms. " * 18) for _ in range(3)]
    card = card_of(larger, *records, paper=paper)
    assert [card.sheet[name] for name in ("figures", "sizes", "tally", "tables")] == [
        bare[name] for name in ("figures", "sizes", "tally", "tables")
    ]
    assert pdf.without_room(card.sheet) == pdf.without_room(bare)
    # Each is on it, in full or in short, or still waits.
    assert len(lessons_on(card)) == sum(len(told(one)) for one in scraps)
    assert sum("read its page in the scrap book" in note for note in lessons_on(card)) >= 1


def test_demo_when_the_card_of_its_27_t_pinion_is_printed_then_the_lesson_is_on_it_once(cast):
    load_demo(cast.owner)
    larger = Build.objects.get(is_demo=True).parts.get(number="S-014")
    first, second = (card_of(larger, operation="Op 50 Cut 27 teeth") for _ in range(2))
    assert [note for note in lessons_on(first) if "S-013" in note] == [
        "Lesson from S-013, 23 Apr 2023: Pinch the sector arms and mark all teeth lightly first"
    ]
    assert lessons_on(second) == []
