"""Errata carried over into a new issue, and the questions that other pages put to them."""

from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions.drawings import follow_issue, record_issue, take_back_issue
from buildlog.actions.errata import (
    Said,
    deal_with,
    look_in_issue,
)
from buildlog.actions.stages import record_count
from buildlog.errata import (
    counts_by_assembly,
    errata_open_by_part,
    flags_by_part,
    flags_of,
    lines_of,
)
from buildlog.models import Dealing, Erratum, InIssue, Part
from tests.buildlog.errata.parts import (
    BEFORE,
    CHECK,
    WORDS,
    make_card,
    page_of,
    printed,
    state,
)
from tests.factories import (
    make_build,
    make_drawing,
    make_erratum,
    make_issue,
    make_part,
)
from tests.pages import fill_in, line_of, words

pytestmark = pytest.mark.django_db


# ---- a new issue -----------------------------------------------------------------------------------------


def look(site, erratum, answer):
    return site.post(
        reverse("erratum_look", args=[erratum.pk]), {"answer": answer, "from": "sheet"}, follow=True
    )


def test_new_issue_when_recorded_then_the_errata_carry_over_and_what_was_made_is_listed(
    site, sheet, parts, erratum
):
    page = fill_in(site, reverse("issue_new", args=[sheet.pk]), issue="C")
    said = words(page)
    assert "1 erratum is not looked at in issue C yet" in said
    assert "Errata to look for in issue C" in said
    assert f"{WORDS} Not looked at in issue C yet." in said
    assert "made to issue B: look over what changed" in line_of(page, "V-016")
    assert "made to issue" not in line_of(page, "V-015")
    register = site.get(reverse("erratum_list", args=[sheet.build_id]))
    assert "not looked at in issue C yet" in line_of(register, "E-001")
    assert [state(part) for part in parts.values()] == [[BEFORE], [CHECK], [BEFORE]]


def test_new_issue_when_only_some_were_made_then_they_are_listed_with_how_many(site, sheet, parts):
    record_count(parts["arm"], good=1, scrap=0, by=None, call_machined=False, token=uuid4())
    make_issue(sheet, "C")
    page = site.get(sheet.get_absolute_url())
    assert "1 made to issue B: look over what changed" in line_of(page, "V-015")
    assert "3 parts, 2 of them made" in words(page)


def test_new_issue_when_it_still_has_the_fault_then_the_flags_stand_whatever_parts_follow(
    site, cast, sheet, parts, erratum
):
    make_issue(sheet, "C")
    page = look(site, erratum, "still")
    assert "E-001: still in issue C." in words(page)
    assert "Errata to look for" not in words(page)
    assert "still in issue C" in line_of(page, "E-001")
    follow_issue(sheet, [part.pk for part in parts.values()], by=cast.owner)
    assert [state(part) for part in parts.values()] == [[BEFORE], [CHECK], [BEFORE]]
    assert "Still in it looked at 14 Mar 2025 by owner" in words(site.get(erratum.get_absolute_url()))


def test_new_issue_when_put_right_then_made_parts_stay_flagged_and_the_others_lose_it_as_they_follow(
    site, cast, sheet, parts, erratum
):
    make_issue(sheet, "C")
    look(site, erratum, "right")
    assert [state(part) for part in parts.values()] == [[BEFORE], [CHECK], [BEFORE]]
    follow_issue(sheet, [parts["link"].pk, parts["arm"].pk], by=cast.owner)
    right = ["put right in issue C"]
    assert [state(part) for part in parts.values()] == [right, [CHECK], [BEFORE]]
    assert "ERRATUM" not in printed(site, make_card(site, Part.objects.get(number="V-015")))
    # What is made after it follows was made to the sheet that is right.
    record_count(parts["arm"], good=2, scrap=0, by=None, call_machined=True, token=uuid4())
    assert state(parts["arm"]) == right
    deal_with(erratum, parts["link"], Said(Dealing.REMADE), by=None)
    assert state(parts["link"]) == ["remade 14 Mar"]


def test_part_made_to_the_old_issue_after_it_was_put_right_then_following_does_not_clear_it(
    sheet, parts, erratum
):
    make_issue(sheet, "C")
    look_in_issue(erratum, InIssue.RIGHT, by=None)
    record_count(parts["shaft"], good=1, scrap=0, by=None, call_machined=True, token=uuid4())
    follow_issue(sheet, [parts["shaft"].pk], by=None)
    assert state(parts["shaft"]) == [CHECK]


def test_part_that_names_no_issue_when_put_right_then_it_is_worked_to_the_last(build, sheet, erratum):
    bare = make_part(build, number="V-050", sheet="7")
    assert state(bare) == [BEFORE]
    make_issue(sheet, "C")
    look_in_issue(erratum, InIssue.RIGHT, by=None)
    assert state(bare) == ["put right in issue C"]


def test_look_when_it_was_a_slip_then_the_last_thing_said_counts(sheet, parts, erratum):
    make_issue(sheet, "C")
    look_in_issue(erratum, InIssue.RIGHT, by=None)
    look_in_issue(erratum, InIssue.STILL, by=None)
    follow_issue(sheet, [parts["arm"].pk], by=None)
    assert state(parts["arm"]) == [BEFORE]


def test_issue_when_taken_back_then_what_was_seen_in_it_goes_with_it(sheet, parts, erratum):
    make_issue(sheet, "C")
    look_in_issue(erratum, InIssue.RIGHT, by=None)
    take_back_issue(sheet, by=None)
    assert [line.in_issue for line in lines_of(sheet.build)] == [""]
    record_issue(sheet, "C", dated=None, got_on=clock.today(), note="", by=None)
    assert [line.asks for line in lines_of(sheet.build)] == ["C"]


def test_issue_d_when_put_right_in_c_then_it_is_not_asked_again_and_when_still_in_c_it_is(sheet, erratum):
    other = make_erratum(sheet, issue="B", where="shaft dia")
    make_issue(sheet, "C")
    look_in_issue(erratum, InIssue.RIGHT, by=None)
    look_in_issue(other, InIssue.STILL, by=None)
    make_issue(sheet, "D")
    assert {line.erratum.key: line.asks for line in lines_of(sheet.build)} == {"E-001": "", "E-002": "D"}


def test_look_when_no_issue_has_come_since_or_the_answer_is_none_then_refused(site, sheet, erratum):
    assert "No issue has come since E-001 was found" in words(look(site, erratum, "right"))
    make_issue(sheet, "C")
    assert "Say of E-001 whether the new issue still has it" in words(look(site, erratum, "perhaps"))
    assert not erratum.looks.exists()


# ---- what others ask -------------------------------------------------------------------------------------


def test_questions_then_each_in_one_query(build, erratum, parts, django_assert_num_queries):
    part, motion = Part.objects.get(pk=parts["link"].pk), build.assemblies.get().pk
    with django_assert_num_queries(1):
        assert [flag.is_check for flag in flags_of(part)] == [True]
    with django_assert_num_queries(0):
        assert flags_of(make_part_without_sheet(build)) == []
    with django_assert_num_queries(1):
        assert set(flags_by_part(build)) == {one.pk for one in parts.values()}
    with django_assert_num_queries(1):
        assert set(flags_by_part(build, [part.pk])) == {part.pk}
    with django_assert_num_queries(1):
        assert errata_open_by_part(build) == {one.pk for one in parts.values()}
    with django_assert_num_queries(2):
        assert counts_by_assembly(build) == {motion: 1}


def make_part_without_sheet(build) -> Part:
    return Part(build=build, number="X-1", name="Bush")


def test_part_s_page_when_errata_grow_then_it_asks_no_more(site, sheet, parts, erratum):
    def asked() -> int:
        with CaptureQueriesContext(connection) as found:
            assert page_of(site, parts["link"]).status_code == 200
        return len(found)

    page_of(site, parts["link"])
    few = asked()
    for _ in range(9):
        deal_with(make_erratum(sheet), parts["link"], Said(Dealing.REMADE), by=None)
        make_erratum(sheet)
    assert asked() == few


def test_sheets_when_two_builds_have_the_same_number_then_neither_flags_the_other_s_parts(cast, sheet, parts):
    other = make_build(cast.owner)
    make_erratum(make_drawing(other, number="7"), where="chimney cap")
    make_part(other, number="V-016", sheet="7 B")
    make_erratum(make_drawing(sheet.build, number="17"), where="die block")
    assert state(parts["link"]) == []
    assert errata_open_by_part(sheet.build) == {Part.objects.get(number="V-014").pk}


def test_register_then_count_on_the_drawing_and_each_erratum_with_its_parts(site, build, sheet, erratum):
    assert "1 erratum" in line_of(site.get(reverse("drawing_list", args=[build.pk])), "Weigh shaft")
    line = line_of(site.get(reverse("erratum_list", args=[build.pk])), "E-001")
    assert line == (
        "E-001 7 B lifting link centres 2.310 2.435 own layout, 14 Mar — 1 made: check, 2 not made yet"
    )
    empty = site.get(reverse("erratum_list", args=[make_build(build.memberships.first().user).pk]))
    assert "None yet" in words(empty)


def test_long_words_when_hostile_then_shown_as_text(site, build, sheet, parts):
    make_erratum(sheet, where="<b>x</b>" + "w" * 72, source="'\"><script>")
    for place in (
        reverse("erratum_list", args=[build.pk]),
        Erratum.objects.get().get_absolute_url(),
        parts["link"].get_absolute_url(),
        sheet.get_absolute_url(),
    ):
        page = site.get(place)
        assert "<script>" not in page.content.decode().split("<main", 1)[1].split("</main>")[0]
        assert "<b>x</b>" in words(page)
