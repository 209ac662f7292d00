"""Errata: written down, flagging parts and cards until dealt with, carried over into a new issue.

The lifting links of sheet 7, centres printed 2.310 that should read 2.435, link V-016 made already, are the
worked example that errata were asked for with; so are "check", "remade", and that the flag then clears and
stays in history.
"""

from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.demo import load_demo
from buildlog.actions.errata import (
    ErratumRefusedError,
    look_in_issue,
    strike_erratum,
)
from buildlog.errata import (
    errata_open_by_part,
    flags_by_part,
    pins_of,
)
from buildlog.models import Build, Erratum, ErratumPart, InIssue, Part
from tests.buildlog.errata.parts import (
    BEFORE,
    CHECK,
    SAID,
    TOLD,
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
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def new(sheet):
    return reverse("erratum_new", args=[sheet.pk])


def test_erratum_when_written_then_three_parts_and_their_cards_show_it_and_the_made_one_says_check(
    site, cast, sheet, parts, new
):
    page = fill_in(site, new, **SAID, checked="on", parts=[part.pk for part in parts.values()])
    erratum = Erratum.objects.get()
    assert (erratum.key, erratum.words, erratum.told) == ("E-001", WORDS, TOLD)
    assert (erratum.issue, erratum.written_by, erratum.checked_by) == ("B", cast.owner, cast.owner)
    assert erratum.checked_on == date(2025, 3, 14)
    assert "3 of 3 still to be looked at" in words(page)
    for name, stands in {"arm": BEFORE, "link": CHECK, "shaft": BEFORE}.items():
        said = words(page_of(site, parts[name]))
        assert f"Erratum E-001: {WORDS}" in said
        assert f"Sheet 7, own layout, 14 Mar: {stands}." in said
        paper = printed(site, make_card(site, parts[name]))
        assert f"ERRATUM E-001: {WORDS}." in paper
        assert "Sheet 7 issue B" in paper
    assert "Erratum" not in words(page_of(site, Part.objects.get(number="V-014")))


def test_list_of_parts_then_a_mark_with_words_on_each(site, build, erratum):
    page = site.get(reverse("part_list", args=[build.pk]))
    assert "E-001: check" in line_of(page, "V-016")
    assert "E-001: see it before you cut" in line_of(page, "V-015")
    assert "E-001" not in line_of(page, "V-014")
    assembly = site.get(reverse("assembly_page", args=[build.assemblies.get().pk]))
    assert "E-001: check" in line_of(assembly, "V-016")
    assert "Erratum on the sheet" in words(assembly)


def test_card_when_made_before_the_erratum_then_its_page_warns_and_printed_again_it_says_so(
    site, sheet, parts
):
    card = make_card(site, parts["arm"])
    assert "ERRATUM" not in printed(site, card)
    make_erratum(sheet)
    page = words(site.get(reverse("card_page", args=[card.pk])))
    assert "An erratum was found since this card was printed" in page
    assert f"ERRATUM E-001: {WORDS}." in printed(site, card)
    later = make_card(site, parts["arm"])
    assert "found since" not in words(site.get(reverse("card_page", args=[later.pk])))
    assert printed(site, later).count("ERRATUM E-001:") == 1


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_when_errata_are_many_and_as_long_as_may_be_then_the_figures_are_not_cut(
    site, sheet, parts, paper
):
    for _ in range(6):
        make_erratum(sheet, where="W" * 80, as_printed="printed 1", should_be="M" * 39 + "Z", source="k" * 80)
    arm = make_card(site, parts["arm"], paper=paper)
    said = printed(site, arm)
    assert said.replace(" ", "").count("MZ.") == 4
    assert "ERRATA 6, below" in said
    assert "More errata: E-002, E-001." in said
    assert "ERRATUM E-006:" in said
    # Printed again it is the same, until one more is found.
    assert printed(site, arm) == said
    with clock.stopped_at(datetime(2025, 3, 15, 9, 0, tzinfo=UTC)):
        make_erratum(sheet)
        assert f"ERRATUM E-007: {WORDS}." in printed(site, arm)


def test_card_when_an_issue_was_recorded_since_then_both_are_said(site, sheet, parts, erratum):
    make_issue(sheet, "C")
    assert "E-001 issue C since" in printed(site, make_card(site, parts["arm"]))


def test_erratum_when_a_part_is_unticked_then_it_is_not_flagged_and_the_page_says_not_affected(
    site, parts, new
):
    page = fill_in(site, new, **SAID, parts=[parts["arm"].pk, parts["link"].pk])
    assert "not affected 14 Mar" in line_of(page, "V-017")
    assert errata_open_by_part(parts["arm"].build) == {parts["arm"].pk, parts["link"].pk}


def test_erratum_when_a_part_comes_to_the_sheet_later_then_it_is_flagged(site, build, erratum):
    late = make_part(build, number="V-040", sheet="7 B")
    assert state(late) == [BEFORE]
    late.sheet = "8 B"
    late.save()
    assert state(late) == []


def test_erratum_when_sent_twice_then_one(site, parts, new):
    sent = left_as_it_comes(site, new) | SAID | {"parts": [parts["arm"].pk]}
    assert site.post(new, sent)["Location"] == site.post(new, sent)["Location"]
    assert Erratum.objects.count() == 1
    assert ErratumPart.objects.count() == 2


def test_erratum_when_its_token_is_of_another_build_then_not_found(site, cast, parts, new):
    other = make_build(cast.owner)
    elsewhere = make_erratum(make_drawing(other))
    sent = left_as_it_comes(site, new) | SAID | {"token": str(elsewhere.token)}
    assert site.post(new, sent).status_code == 404
    assert Erratum.objects.count() == 1


def test_numbers_when_several_builds_then_each_counts_its_own(sheet):
    assert [make_erratum(sheet).key for _ in range(2)] == ["E-001", "E-002"]
    assert make_erratum(make_drawing()).key == "E-001"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"where": ""}, "Where: This field is required"),
        ({"as_printed": " "}, "As printed: This field is required"),
        ({"should_be": "2.310"}, "Should be: That is what is printed"),
        ({"issue": "7"}, "An issue is one or two letters"),
        ({"issue": "C"}, "The register has no issue C of sheet 7, only B."),
        ({"found_on": "2025-03-15"}, "15 Mar 2025 is still to come"),
        ({"found_on": ""}, "Which day was it?"),
        ({"across": "101", "down": "5"}, "Write how far it is from the left edge: a figure from 0 to 100"),
        ({"across": "10", "down": "low"}, "Write how far it is from the top edge"),
        ({"across": "10"}, "Down, per cent: A spot is so far across and so far down: write both"),
        ({"page": "2"}, "A page alone is no spot"),
        ({"page": "501", "across": "1", "down": "1"}, "less than or equal to 500"),
        ({"where": "cen\u202etres"}, "There is an unseen sign in it"),
        ({"parts": ["999999"]}, "That part is not on this sheet any more"),
    ],
)
def test_erratum_when_an_entry_cannot_be_then_refused_with_its_field_and_nothing_typed_is_lost(
    site, parts, new, typed, said
):
    page = fill_in(site, new, **(SAID | {"source": "another builder"} | typed))
    assert page.status_code == 422
    assert said in alerts(page)
    kept = entries(page)
    assert kept["source"] == "another builder"
    assert not Erratum.objects.exists()


def test_spot_when_given_along_with_the_address_then_written_with_its_file(site, sheet, new):
    sha = "a1" * 32
    fill_in(site, f"{new}?file={sha}&page=3&x=0.325&y=0.5", **SAID)
    found = Erratum.objects.get()
    assert (found.page, found.x, found.y, found.file) == (3, pytest.approx(0.325), 0.5, sha)


@pytest.mark.parametrize("query", ["?x=nan&y=2&page=x", "?file=../../etc&x=&y=inf", "?x=1e999&y=-1"])
def test_spot_when_the_address_makes_no_sense_then_the_entry_opens_without_one(site, new, query):
    page = site.get(new + query)
    assert page.status_code == 200
    assert entries(page)["across"] == entries(page)["down"] == ""


def test_pins_then_those_of_the_file_and_page_with_their_words(sheet, parts):
    here, there = "a1" * 32, "b2" * 32
    pinned = make_erratum(sheet, page=1, x=0.25, y=0.5, file=here)
    anywhere = make_erratum(sheet, page=1, x=0.75, y=0.5)
    make_erratum(sheet, page=2, x=0.1, y=0.1, file=here)
    make_erratum(sheet, page=1, x=0.1, y=0.1, file=there)
    make_erratum(sheet)
    strike_erratum(make_erratum(sheet, page=1, x=0.2, y=0.2, file=here), "a slip", by=None)
    found = pins_of(sheet, here, 1)
    assert [pin["number"] for pin in found] == [pinned.key, anywhere.key]
    assert found[0] == {
        "number": "E-001",
        "x": 0.25,
        "y": 0.5,
        "words": WORDS,
        "url": pinned.get_absolute_url(),
        "mark": "err",
    }


def test_erratum_when_changed_then_every_flag_says_the_new_words(site, erratum, parts):
    page = fill_in(site, reverse("erratum_edit", args=[erratum.pk]), should_be="2.4375", checked="on")
    assert "2.4375" in words(page)
    assert "should read 2.4375" in words(page_of(site, parts["arm"]))
    erratum.refresh_from_db()
    assert erratum.checked_on == date(2025, 3, 14)
    refused = fill_in(site, reverse("erratum_edit", args=[erratum.pk]), should_be="2.310")
    assert refused.status_code == 422


def test_erratum_when_struck_out_then_it_flags_nothing_and_stays_with_the_reason(site, build, erratum, parts):
    strike = reverse("erratum_strike", args=[erratum.pk])
    assert "Say why E-001 is none" in words(site.post(strike, {"reason": " "}, follow=True))
    assert errata_open_by_part(build)
    page = site.post(strike, {"reason": "the layout was wrong"}, follow=True)
    assert "Struck out on 14 March 2025 by owner: the layout was wrong" in words(page)
    assert errata_open_by_part(build) == set()
    assert "struck out" in line_of(site.get(reverse("erratum_list", args=[build.pk])), "E-001")
    edit = fill_in(site, reverse("erratum_edit", args=[erratum.pk]), should_be="3")
    assert "E-001 is struck out: the layout was wrong." in alerts(edit)
    with pytest.raises(ErratumRefusedError):
        look_in_issue(erratum, InIssue.STILL, by=None)


def test_demo_then_sheet_7_has_its_erratum_with_three_parts_and_v_016_says_check(cast):
    with clock.stopped_at(datetime(2025, 11, 20, 19, 0, tzinfo=UTC)):
        load_demo(cast.owner)
        build = Build.objects.get(is_demo=True)
        erratum = build.errata.get()
        assert (erratum.key, erratum.drawing.number, erratum.told) == ("E-001", "7", TOLD)
        flagged = {flags[0].key: flags[0].state for flags in flags_by_part(build).values()}
        assert flagged == {"V-015": CHECK, "V-016": CHECK, "V-017": CHECK}
