"""How far a part has come: counts, stages, needs that change, what one hand tells the other.

The figures of the spokes FW-004 (24 needed; 17 good and 2 scrap, then 7 good) are the project's own accepted
example.
"""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.parts import change_quantity
from buildlog.actions.stages import CountRefusedError, StillToMakeError, record_count, set_stage, twin_of
from buildlog.models import HistoryLine, Part, Stage
from tests.factories import make_assembly, make_part
from tests.pages import alerts, entries, line_of, words

pytestmark = pytest.mark.django_db

FIRST_EVENING = datetime(2026, 3, 14, 20, 15, tzinfo=UTC)
NEXT_EVENING = datetime(2026, 3, 15, 20, 40, tzinfo=UTC)


@pytest.fixture
def wheels(build):
    return make_assembly(build, code="FW", name="Front wheels", balloon="3")


@pytest.fixture
def spokes(wheels) -> Part:
    return make_part(number="FW-004", name="Spoke", assembly=wheels, quantity=24)


def count(site, part, good="", scrap="", **more):
    """Write a count on the part's page, the tick at `call it machined` left as it comes."""
    said = {"good": str(good), "scrap": str(scrap), "call_machined": "on", "token": str(uuid4())} | more
    return site.post(reverse("part_count", args=[part.pk]), said, follow=True)


def touch(site, part, stage, **more):
    said = {"stage": str(stage.value), "token": str(uuid4())} | more
    return site.post(reverse("part_stage", args=[part.pk]), said, follow=True)


def stands(part) -> tuple[str, int, int]:
    part.refresh_from_db()
    return part.stage, part.good, part.scrap


# ---- counts and stages ------------------------------------------------------------------------------------


def test_spokes_when_counted_on_two_evenings_then_the_list_the_bar_and_the_history_say_so(
    site, build, spokes
):
    parts, wheels = reverse("part_list", args=[build.pk]), spokes.uses.get().assembly
    with clock.stopped_at(FIRST_EVENING):
        count(site, spokes, 17, 2)
    line = line_of(site.get(parts), "FW-004")
    assert "17/24" in line
    assert "7 to make" in line
    assert "2 scrap" in line
    assert "In hand" in line
    assert "0 made, 1 in hand, 0 waiting of 1" in site.get(wheels.get_absolute_url()).content.decode()
    assert "0/1" in line_of(site.get(reverse("engine", args=[build.pk])), "Front wheels")

    with clock.stopped_at(NEXT_EVENING):
        count(site, spokes, 7)
    line = line_of(site.get(parts), "FW-004")
    assert "24/24" in line
    assert "Machined" in line
    assert "to make" not in line
    assert stands(spokes) == ("machined", 24, 2)
    assert "1 made, 0 in hand, 0 waiting of 1" in site.get(wheels.get_absolute_url()).content.decode()

    page = site.get(reverse("part_history", args=[spokes.pk]))
    first, last = line_of(page, "14 Mar 2026"), line_of(page, "15 Mar 2026")
    assert "+17 good, +2 scrap" in first
    assert "17 good, 2 scrap" in first
    assert "+7 good" in last
    assert "24 good, 2 scrap" in last
    assert "owner" in last


def test_part_when_the_last_good_ones_come_untick_then_it_proposes_and_one_touch_does_it(site, spokes):
    page = count(site, spokes, 24, call_machined="")
    assert stands(spokes) == ("in hand", 24, 0)
    assert "24 of 24 are good. Is it machined?" in words(page)
    page = touch(site, spokes, Stage.MACHINED)
    assert stands(spokes) == ("machined", 24, 0)
    assert "Is it machined?" not in words(page)


def test_part_when_more_are_good_than_needed_then_machined_and_all_of_them_counted(site, spokes):
    count(site, spokes, 26)
    assert stands(spokes) == ("machined", 26, 0)


def test_page_when_there_is_a_count_then_one_line_says_what_is_to_make(site, spokes):
    assert "17/24 good, 7 to make; 2 scrap" in words(count(site, spokes, 17, 2))
    assert "24 needed, 17 good, 2 scrap" in words(site.get(spokes.get_absolute_url()))


# ---- needs that change -----------------------------------------------------------------------------------


def quantity(site, part, to):
    address = reverse("part_quantity", args=[part.pk, part.uses.get().pk])
    return site.post(address, {"quantity": str(to)}, follow=True)


def test_need_when_it_rises_past_what_is_made_then_back_in_hand_and_the_history_says_why(site, spokes):
    count(site, spokes, 24)
    touch(site, spokes, Stage.PAINTED)
    page = quantity(site, spokes, 30)
    assert stands(spokes) == ("in hand", 24, 0)
    assert "Needed rose from 24 to 30: 6 more to make, so it is back in hand" in words(page)


def test_need_when_it_rises_but_enough_are_good_then_the_stage_stays(site, spokes):
    count(site, spokes, 30)
    assert "Needed rose from 24 to 28" in words(quantity(site, spokes, 28))
    assert stands(spokes) == ("machined", 30, 0)


def test_need_when_it_falls_to_what_is_good_then_the_part_proposes_machined(site, spokes):
    count(site, spokes, 17)
    page = quantity(site, spokes, 16)
    assert stands(spokes) == ("in hand", 17, 0)
    assert "Needed fell from 24 to 16" in words(page)
    assert "17 of 16 are good. Is it machined?" in words(page)


def test_need_when_it_is_set_to_what_it_is_then_nothing_happened(site, spokes):
    quantity(site, spokes, 24)
    assert not HistoryLine.objects.exists()


# ---- stages ----------------------------------------------------------------------------------------------


def test_stage_when_it_is_touched_then_set_and_kept_in_the_history(site, spokes):
    page = touch(site, spokes, Stage.IN_HAND)
    assert stands(spokes) == ("in hand", 0, 0)
    assert "Not started to in hand" in words(page)


def test_stage_when_it_is_that_already_then_nothing_is_written(site, spokes):
    touch(site, spokes, Stage.NOT_STARTED)
    assert not HistoryLine.objects.exists()


@pytest.mark.parametrize("stage", [stage for stage in Stage if stage.is_made])
def test_made_stage_when_more_than_one_is_to_make_then_it_asks_and_counting_the_rest_does_it(
    site, spokes, stage
):
    count(site, spokes, 17, 2)
    page = touch(site, spokes, stage)
    assert page.status_code == 422
    assert f"7 of 24 are still to make, so it is not {stage.label.lower()} yet" in alerts(page)
    assert stands(spokes) == ("in hand", 17, 2)
    page = touch(site, spokes, stage, count_rest="1")
    assert page.status_code == 200
    assert stands(spokes) == (stage.value, 24, 2)
    assert "7 counted good with it" in words(page)


def test_made_stage_when_one_is_needed_then_it_is_counted_with_the_touch(site, wheels):
    axle = make_part(name="Axle", assembly=wheels)
    touch(site, axle, Stage.FITTED)
    assert stands(axle) == ("fitted", 1, 0)


def test_made_stage_when_one_of_many_is_missing_then_that_one_is_counted(site, spokes):
    count(site, spokes, 23)
    touch(site, spokes, Stage.MACHINED)
    assert stands(spokes) == ("machined", 24, 0)


def test_made_stage_when_two_are_missing_then_it_asks(site, spokes):
    count(site, spokes, 22)
    assert "2 of 24 are still to make" in alerts(touch(site, spokes, Stage.MACHINED))
    assert stands(spokes) == ("in hand", 22, 0)


def test_made_stage_when_it_is_used_nowhere_then_nothing_is_to_make(site, build):
    gauge = make_part(build, name="Depth gauge")
    assert touch(site, gauge, Stage.MACHINED).status_code == 200
    assert stands(gauge) == ("machined", 0, 0)


def test_stage_when_it_goes_back_then_the_counts_stay(site, spokes):
    count(site, spokes, 24, 1)
    touch(site, spokes, Stage.NOT_STARTED)
    assert stands(spokes) == ("not started", 24, 1)


@pytest.mark.parametrize("stage", ["", "finished", "MACHINED", "\u202emachined", "9" * 400])
def test_stage_when_it_is_none_of_the_six_then_said_and_nothing_set(site, spokes, stage):
    page = site.post(reverse("part_stage", args=[spokes.pk]), {"stage": stage}, follow=True)
    assert "That is no stage of a part" in words(page)
    assert stands(spokes) == ("not started", 0, 0)


def test_stage_when_a_double_click_sends_it_twice_then_one_line_of_history(site, spokes):
    token = str(uuid4())
    count(site, spokes, 22)
    before = HistoryLine.objects.count()
    for _ in range(2):
        touch(site, spokes, Stage.MACHINED, count_rest="1", token=token)
    assert HistoryLine.objects.count() == before + 1
    assert stands(spokes) == ("machined", 24, 0)


def test_stage_when_an_old_page_is_sent_again_then_it_does_not_undo_what_came_after(site, spokes):
    token = str(uuid4())
    touch(site, spokes, Stage.IN_HAND, token=token)
    touch(site, spokes, Stage.NOT_STARTED)
    touch(site, spokes, Stage.IN_HAND, token=token)
    assert stands(spokes) == ("not started", 0, 0)


def test_stage_when_it_has_no_token_then_set_all_the_same(site, spokes):
    touch(site, spokes, Stage.IN_HAND, token="not a token")
    assert stands(spokes) == ("in hand", 0, 0)


# ---- counts ----------------------------------------------------------------------------------------------


def test_count_when_less_than_nought_then_a_wrong_count_is_taken_back(site, spokes):
    count(site, spokes, 17, 2)
    page = count(site, spokes, -3, -1, note="counted twice")
    assert stands(spokes) == ("in hand", 14, 1)
    assert "-3 good, -1 scrap, counted twice" in words(page)


def test_count_when_a_made_part_loses_a_good_one_then_back_in_hand_and_why(site, spokes):
    count(site, spokes, 24)
    page = count(site, spokes, -1, 1, note="dropped")
    assert stands(spokes) == ("in hand", 23, 1)
    assert "1 to make again: set back to in hand" in words(page)


def test_count_when_only_scrap_is_counted_then_begun_and_all_still_to_make(site, build, spokes):
    count(site, spokes, scrap=2)
    assert stands(spokes) == ("in hand", 0, 2)
    assert "24 to make, 2 scrap" in line_of(site.get(reverse("part_list", args=[build.pk])), "FW-004")


@pytest.mark.parametrize(
    ("good", "scrap", "why"),
    [
        ("-18", "", "Only 17 good are counted; 18 cannot be taken back"),
        ("", "-3", "Only 2 scrap are counted; 3 cannot be taken back"),
        ("99999", "", "100016 is past 99999"),
        ("", "", "Nothing is counted yet"),
        ("0", "0", "Nothing is counted yet"),
        ("100000", "", "99999"),
        ("1" + "0" * 400, "", "99999"),
        ("1" + "0" * 5000, "", "whole number"),
        ("10^400", "", "whole number"),
        ("9**9**9", "", "whole number"),
        ("0,5 mm", "", "whole number"),
        ("1 3/16 mmm", "", "whole number"),
        ("2.5", "", "whole number"),
        ("\u202e7", "", "whole number"),
        ("", "many", "whole number"),
    ],
)
def test_count_when_it_cannot_be_then_said_which_and_why_and_all_typed_is_still_there(
    site, spokes, good, scrap, why
):
    count(site, spokes, 17, 2)
    typed = {"good": good, "scrap": scrap, "note": "file slipped <b>"}
    page = count(site, spokes, **typed)
    assert page.status_code == 422
    assert why in alerts(page)
    assert ("Scrap: " if scrap.strip("0") else "Good: ") in alerts(page)
    assert entries(page) | typed == entries(page)
    assert stands(spokes) == ("in hand", 17, 2)
    assert HistoryLine.objects.count() == 1


def test_count_when_a_double_click_sends_it_twice_then_counted_once(site, spokes):
    token = str(uuid4())
    for _ in range(2):
        assert count(site, spokes, 17, 2, token=token).status_code == 200
    assert stands(spokes) == ("in hand", 17, 2)
    assert HistoryLine.objects.count() == 1


def test_count_when_its_token_is_missing_then_refused(site, spokes):
    assert count(site, spokes, 1, token="").status_code == 422
    assert stands(spokes) == ("not started", 0, 0)


def test_page_then_each_showing_of_the_count_has_a_token_of_its_own(site, spokes):
    address = spokes.get_absolute_url()
    assert entries(site.get(address))["token"] != entries(site.get(address))["token"]


def test_note_when_it_is_longer_than_is_kept_then_refused_with_all_of_it_still_there(site, spokes):
    long = "x" * 151
    page = count(site, spokes, 1, note=long)
    assert page.status_code == 422
    assert "at most 150 characters" in alerts(page)
    assert entries(page)["note"] == long


# ---- the other hand --------------------------------------------------------------------------------------


@pytest.fixture
def brackets(build) -> tuple[Part, Part]:
    plates = make_assembly(build, code="H", name="Hornplates")
    left, right = (
        make_part(number="H-021", hand=hand, name="Hornplate bracket", assembly=plates) for hand in "LR"
    )
    return left, right


def test_left_when_complete_then_right_is_still_to_do_and_has_its_lesson(site, brackets):
    left, right = brackets
    Part.objects.filter(pk=left.pk).update(lesson="Bore before facing: it springs.")
    page = touch(site, left, Stage.MACHINED)
    assert "H-021-R is still to do: 1 of 1 to make." in words(page)
    right.refresh_from_db()
    assert right.lesson == "From H-021-L: Bore before facing: it springs."
    assert right.stage == "not started"
    assert "Lesson copied from H-021-L" in words(site.get(reverse("part_history", args=[right.pk])))


def test_left_when_completed_by_its_count_then_the_right_hears_of_it_once(site, brackets):
    left, right = brackets
    Part.objects.filter(pk=left.pk).update(lesson="Bore first.")
    Part.objects.filter(pk=right.pk).update(lesson="Mind the flange.")
    assert "H-021-R is still to do" in words(count(site, left, 1))
    touch(site, left, Stage.FITTED)
    right.refresh_from_db()
    assert right.lesson == "Mind the flange.\nFrom H-021-L: Bore first."


def test_right_when_it_is_made_already_then_its_lesson_is_left_alone(site, brackets):
    left, right = brackets
    touch(site, right, Stage.MACHINED)
    Part.objects.filter(pk=left.pk).update(lesson="Bore first.")
    assert "still to do" not in words(touch(site, left, Stage.MACHINED))
    right.refresh_from_db()
    assert right.lesson == ""


def test_lesson_when_both_are_as_long_as_is_kept_then_copied_only_as_far_as_it_fits(site, brackets):
    left, right = brackets
    Part.objects.filter(pk=left.pk).update(lesson="B" * 1000)
    Part.objects.filter(pk=right.pk).update(lesson="A" * 995)
    touch(site, left, Stage.MACHINED)
    right.refresh_from_db()
    assert right.lesson.startswith("A" * 995)
    assert len(right.lesson) == 1000


def test_twin_when_it_is_in_the_bin_or_of_another_build_then_none(brackets):
    left, right = brackets
    assert twin_of(left) == right
    right.binned_at = clock.now()
    right.save()
    make_part(number="H-021", hand="R")
    assert twin_of(left) is None
    assert twin_of(make_part(left.build, number="H-021")) is None


def test_page_of_one_hand_then_the_other_stands_beside_it(site, brackets):
    left, _ = brackets
    assert "H-021-R Hornplate bracket 0 of 1 good" in line_of(site.get(left.get_absolute_url()), "H-021-R")


# ---- the verbs themselves --------------------------------------------------------------------------------


def test_set_stage_when_it_asks_then_the_error_carries_part_and_stage(spokes):
    with pytest.raises(StillToMakeError, match="24 of 24 are still to make") as caught:
        set_stage(spokes, Stage.FITTED, by=None)
    assert (caught.value.part, caught.value.stage) == (spokes, Stage.FITTED)


def test_record_count_when_refused_then_the_error_names_the_entry(spokes):
    with pytest.raises(CountRefusedError) as caught:
        record_count(spokes, good=0, scrap=-1, by=None, call_machined=False, token=None)
    assert caught.value.field == "scrap"


def test_verbs_when_the_part_in_hand_is_stale_then_what_stands_in_the_build_counts(spokes, cast):
    stale = Part.objects.get(pk=spokes.pk)
    record_count(spokes, good=17, scrap=0, by=cast.owner, call_machined=True, token=None)
    record_count(stale, good=7, scrap=0, by=cast.owner, call_machined=True, token=None)
    assert stands(spokes) == ("machined", 24, 0)


def test_change_quantity_then_the_moment_of_the_stage_moves_only_with_the_stage(spokes, cast):
    with clock.stopped_at(FIRST_EVENING):
        record_count(spokes, good=24, scrap=0, by=cast.owner, call_machined=True, token=None)
    with clock.stopped_at(NEXT_EVENING):
        change_quantity(spokes.uses.get(), 20, by=cast.owner)
    spokes.refresh_from_db()
    assert spokes.stage_at == FIRST_EVENING
