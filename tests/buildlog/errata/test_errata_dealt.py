"""What is done about an erratum on a part: the flag clears and stays in history, or it is refused."""

from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog.actions.concessions import decide, open_concession
from buildlog.actions.errata import (
    ErratumRefusedError,
    Said,
    deal_with,
    flag_again,
)
from buildlog.actions.parts import bin_part
from buildlog.actions.stages import record_count
from buildlog.errata import (
    errata_open_by_part,
)
from buildlog.models import Dealing, Decision, ErratumPart, Part
from tests.buildlog.errata.parts import (
    CHECK,
    WORDS,
    deal_page,
    history,
    make_card,
    page_of,
    printed,
    state,
)
from tests.factories import (
    make_build,
    make_characteristic,
    make_part,
    make_reading,
)
from tests.pages import alerts, entries, fill_in, line_of, words

pytestmark = pytest.mark.django_db


def test_flag_when_remade_then_it_clears_and_stays_in_history(site, cast, erratum, parts):
    link = parts["link"]
    page = fill_in(site, deal_page(erratum, link), how="remade", words="new pair")
    assert "Erratum E-001" not in words(page)
    assert f"E-001 {WORDS} remade 14 Mar: new pair, by owner" in line_of(page, "E-001 lifting")
    assert history(link)[0] == f"E-001 remade: new pair ({WORDS})"
    assert "ERRATUM" not in printed(site, make_card(site, link))
    assert link.pk not in errata_open_by_part(link.build)
    of = site.get(erratum.get_absolute_url())
    assert "remade 14 Mar: new pair, by owner" in line_of(of, "V-016")
    assert "2 of 3 still to be looked at" in words(of)


def test_flag_when_dealt_with_twice_by_a_double_click_then_one_line_of_history(site, erratum, parts):
    link, said = parts["link"], {"how": "remade", "words": "new pair", "concession": ""}
    for _ in range(2):
        assert site.post(deal_page(erratum, link), said).status_code == 302
    assert sum("E-001" in line for line in history(link)) == 1
    other = site.post(deal_page(erratum, link), {**said, "how": "not affected"})
    assert other.status_code == 422
    assert "E-001 is dealt with on V-016 already: remade 14 Mar: new pair" in alerts(other)


def test_part_not_made_when_it_will_be_made_right_then_its_card_goes_on_saying_so_until_it_is(
    site, build, erratum, parts
):
    arm = parts["arm"]
    page = fill_in(site, deal_page(erratum, arm), how="to make")
    assert "will be made right 14 Mar" in words(page)
    assert arm.pk not in errata_open_by_part(build)
    assert f"ERRATUM E-001: {WORDS}. Sheet 7, own layout, 14 Mar; will be made right 14 Mar." in printed(
        site, make_card(site, arm)
    )
    record_count(arm, good=2, scrap=0, by=None, call_machined=True, token=uuid4())
    assert "ERRATUM" not in printed(site, make_card(site, arm))
    assert state(arm) == ["will be made right 14 Mar"]


@pytest.mark.parametrize(
    ("name", "how", "said"),
    [
        ("link", "to make", "That cannot be said of this part as it stands"),
        ("arm", "remade", "That cannot be said of this part as it stands"),
        ("arm", "", "Choose what was done about it"),
        ("arm", "lost", "That cannot be said of this part as it stands"),
    ],
)
def test_flag_when_what_is_said_cannot_be_then_refused_and_the_note_is_kept(
    site, erratum, parts, name, how, said
):
    page = fill_in(site, deal_page(erratum, parts[name]), how=how, words="new pair")
    assert page.status_code == 422
    assert said in alerts(page)
    assert entries(page)["words"] == "new pair"
    assert not ErratumPart.objects.exists()


def test_action_when_the_part_was_counted_meanwhile_then_refused(erratum, parts):
    with pytest.raises(ErratumRefusedError, match="None of V-015 is made yet"):
        deal_with(erratum, parts["arm"], Said(Dealing.REMADE), by=None)
    with pytest.raises(ErratumRefusedError, match="V-016 is made already, 2 good"):
        deal_with(erratum, parts["link"], Said(Dealing.TO_MAKE), by=None)
    other = Part.objects.get(number="V-014")
    with pytest.raises(ErratumRefusedError, match="does not flag V-014"):
        deal_with(erratum, other, Said(Dealing.NOT_AFFECTED), by=None)


@pytest.fixture
def concession(parts):
    """The links as made, out of their limits: C-001 of V-016, decided use as is."""
    size = make_characteristic(parts["link"], name="centres", nominal="2.4350 in")
    opened = open_concession(make_reading(size, "2.3100"), by=None)
    return decide(opened, Decision.AS_IS, "die block set over", [], by=None)


@pytest.mark.parametrize("typed", ["C-001", "c1", "1", "C 001"])
def test_flag_when_accepted_by_a_concession_then_it_is_named(site, erratum, parts, concession, typed):
    page = fill_in(site, deal_page(erratum, parts["link"]), how="concession", concession=typed)
    assert "accepted as it is, C-001 14 Mar" in words(page)
    assert ErratumPart.objects.get().concession == concession
    assert history(parts["link"])[0] == f"E-001 accepted as it is, C-001 ({WORDS})"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "Which concession is it? Write its number, as C-009."),
        ("C-nine", "“C-nine” is no concession"),
        ("C-009", "There is no C-009 in this build"),
        ("C-002", "C-002 is on V-017, not on V-016"),
        ("C-003", "C-003 is not decided yet"),
        ("C-004", "C-004 says scrap: it does not let V-016 be used"),
    ],
)
def test_flag_when_the_concession_does_not_let_it_be_used_then_refused_at_its_field(
    site, erratum, parts, concession, typed, said
):
    shaft = make_characteristic(parts["shaft"], name="dia")
    open_concession(make_reading(shaft, "1.2530"), by=None)
    link = make_characteristic(parts["link"], name="eye")
    open_concession(make_reading(link, "1.2530"), by=None)
    scrap = open_concession(make_reading(link, "1.2540"), by=None)
    decide(scrap, Decision.SCRAP, "", [], by=None)
    page = fill_in(site, deal_page(erratum, parts["link"]), how="concession", concession=typed)
    assert page.status_code == 422
    assert f"Concession: {said}" in alerts(page)
    assert entries(page)["concession"] == typed
    assert not ErratumPart.objects.exists()


def test_flag_when_flagged_again_then_it_stands_and_both_are_in_history(site, erratum, parts):
    link = parts["link"]
    deal_with(erratum, link, Said(Dealing.REMADE), by=None)
    page = site.post(reverse("erratum_again", args=[erratum.pk, link.pk]), follow=True)
    assert CHECK in line_of(page, "V-016")
    assert [line.split(" (")[0] for line in history(link)[:2]] == ["E-001 flagged again", "E-001 remade"]
    assert not flag_again(erratum, link, by=None)


def test_dealing_page_when_the_erratum_does_not_flag_the_part_then_back_to_the_part(site, erratum):
    other = Part.objects.get(number="V-014")
    assert "E-001 does not flag V-014." in words(site.get(deal_page(erratum, other), follow=True))


def test_dealing_page_when_the_part_is_of_another_build_then_not_found(site, cast, erratum):
    elsewhere = make_part(make_build(cast.owner), sheet="7 B")
    assert site.get(deal_page(erratum, elsewhere)).status_code == 404
    assert site.post(reverse("erratum_again", args=[erratum.pk, elsewhere.pk])).status_code == 404


def test_part_when_in_the_bin_then_it_is_flagged_nowhere_but_its_own_page_says_so(site, erratum, parts):
    bin_part(parts["arm"], by=None)
    assert parts["arm"].pk not in errata_open_by_part(parts["arm"].build)
    page = page_of(site, parts["arm"])
    assert "Erratum E-001" in words(page)
    assert "Say what was done" not in words(page)
