"""Find: one box over the build; sizes and teeth however they are written; nothing of another build."""

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions import stores
from buildlog.finding import MOST, find, spellings
from tests.factories import (
    make_build,
    make_casting,
    make_drawing,
    make_log_entry,
    make_order,
    make_part,
    make_record,
    make_user,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def build(cast):
    return cast.build


def found(build, text):
    """What was found by kind: {"Parts": ["S-016"]}."""
    return {group.title: [line.ref for line in group.lines] for group in find(build, text)}


def test_find_when_one_word_stands_in_several_places_then_each_kind_has_its_line(build):
    # The trade's own case: a porous casting is in the goods received and in the log.
    casting = make_casting(build, number="K-022", name="Cylinder block")
    stores.receive(build, {(casting, None): 1}, on=clock.today(), by=None)
    stores.judge(
        casting, None, accepted=0, rejected=1, reason="porous at the port face", on=clock.today(), by=None
    )
    make_log_entry(build, done="Block set up; found it porous by the steam port")
    make_drawing(build, number="7", title="Cylinder", note="porous castings go back")
    assert found(build, "porous") == {
        "Drawings": ["sheet 7"],
        "Log": ["log"],
        "Goods and chasing": ["K-022"],
    }
    assert found(build, "POROUS port")["Goods and chasing"] == ["K-022"]
    assert "Drawings" not in found(build, "porous port")


@pytest.mark.parametrize("typed", ["57T", "57 T", "57-tooth", "57 teeth", "57t"])
def test_find_when_teeth_are_written_in_any_way_then_part_log_drawing_and_sum_are_found(build, typed):
    part = make_part(build, number="S-011", name="Countershaft wheel 57 T")
    make_log_entry(build, part=part, done="57-tooth wheel indexed")
    make_drawing(build, number="12", title="Wheel of 57 teeth")
    make_casting(build, number="K-011", name="Wheel blank 57T")
    assert found(build, typed) == {
        "Parts": ["S-011"],
        "Log": ["S-011"],
        "Drawings": ["sheet 12"],
        "Castings": ["K-011"],
    }
    assert found(build, "157T") == {}


@pytest.mark.parametrize("typed", ["1 3/16", "1.1875", "1-3/16", "1 3/16 in"])
def test_find_when_a_size_is_written_in_any_way_then_each_spelling_is_found(build, typed):
    make_part(build, number="S-003", name="Second shaft", leading_size="1 3/16 in dia")
    make_log_entry(build, done="Turned to 1.1875")
    make_log_entry(build, done="Bar of 1 3/16 sawn")
    make_log_entry(build, done="Bar of 1 3/8 sawn")
    if typed.endswith("in"):
        assert found(build, typed)["Parts"] == ["S-003"]
    else:
        assert found(build, typed) == {"Parts": ["S-003"], "Log": ["log", "log"]}


def test_find_when_a_kept_sum_or_an_order_says_it_then_found(build, cast):
    part = make_part(build, number="S-016")
    record = make_record(part, user=cast.owner)
    make_order((make_casting(build), 1), number="O-7", note="patterns by post")
    assert found(build, "84 divisions")["Kept sums"] == [f"sum {record.pk}"]
    assert found(build, "by post") == {"Orders": ["O-7"]}


def test_find_when_it_is_of_another_build_or_in_the_bin_then_not_found(build):
    stranger = make_user()
    other = make_build(stranger)
    make_log_entry(other, done="porous")
    make_casting(other, name="porous")
    make_record(make_part(other), user=stranger)
    assert found(build, "porous") == {}
    assert found(build, "divisions") == {}


def test_find_when_there_is_more_than_a_page_then_it_says_so(build):
    for _ in range(MOST + 1):
        make_log_entry(build, done="oiled round")
    (group,) = find(build, "oiled")
    assert (len(group.lines), group.more) == (MOST, True)


@pytest.mark.parametrize("typed", ["", "   ", "%", "_", "\\", "'", "<b>", "½", "٣", "x" * 200])
def test_page_when_anything_is_typed_then_it_answers_and_shows_it_as_typed(cast, build, typed):
    make_log_entry(build, done="plain words")
    page = cast.client("owner").get(reverse("find_page", args=[build.pk]), {"find": typed})
    assert page.status_code == 200
    assert "<b>”" not in page.text
    if typed in ("%", "_"):
        assert "Nothing holds that" in page.text


def test_spellings_when_a_size_or_teeth_then_every_way_of_writing_it():
    assert spellings("1 3/16", "inch")[1:] == ["1.3/16", "1-3/16", "1.1875"]
    assert spellings("3/8", "inch")[1:] == ["0.375", ".375"]
    assert spellings("57-tooth", "inch") == ["57t", "57 t", "57-t", "57 teeth", "57-tooth", "57 tooth"]
    assert spellings("porous", "inch") == ["porous"]
    assert spellings("30 mm", "inch") == ["30 mm"]
