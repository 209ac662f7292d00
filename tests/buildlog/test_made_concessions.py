"""Concessions: opened in one press, decided once, told to each mate, shown on the mate's page and card.

The bush bored 1.2530 instead of 1.2500, concession C-009 and "make to suit 1.2530 measured 3 May" are the
worked example that departures and their effect on mates were asked for with.
"""

from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.concessions import decide, open_concession, tell_mate
from buildlog.actions.demo import load_demo
from buildlog.actions.made import MadeRefusedError, strike_reading
from buildlog.actions.parts import bin_part
from buildlog.made import suits_of
from buildlog.models import Concession, Decision, Part
from tests.factories import make_characteristic, make_mate, make_part, make_reading
from tests.pages import alerts, fill_in, line_of, links, pdf_text, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 5, 3, 19, 30, tzinfo=UTC)
SUIT = "make to suit 1.2530 measured 3 May"


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 3 May 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def bush(build):
    return make_part(build, number="S-008", hand="L", name="Second-shaft bush")


@pytest.fixture
def shaft(build, bush):
    shaft = make_part(build, number="S-003", name="Second shaft", leading_size="1 1/4 in dia")
    make_mate(bush, shaft)
    return shaft


@pytest.fixture
def bore(bush):
    return make_characteristic(bush, nominal="1.2500", upper="+0.0005", lower="-0")


@pytest.fixture
def reading(bore, shaft):
    return make_reading(bore, "1.2530")


@pytest.fixture
def concession(reading, build, bush):
    """C-009: eight have gone before."""
    other = make_characteristic(bush, name="length")
    first = open_concession(make_reading(other, "1.2600"), by=None)
    Concession.objects.filter(pk=first.pk).update(number=8, decision=Decision.SCRAP)
    return open_concession(reading, by=None)


# ---- opened ----------------------------------------------------------------------------------------------


def test_concession_when_opened_in_one_press_then_numbered_with_the_mates_to_be_told(
    site, cast, reading, bush, shaft, bore
):
    page = site.post(reverse("concession_open", args=[reading.pk]), follow=True)
    concession = Concession.objects.get()
    assert (concession.key, concession.part, concession.opened_by) == ("C-001", bush, cast.owner)
    assert concession.is_open
    assert concession.wrong == (
        "bore is 1.2530 in, 1.2500 in +0.0005 / -0 wanted; out: 0.0025 in over the upper limit"
    )
    assert [one.mate for one in concession.mates.all()] == [shaft]
    assert "S-003 Second shaft not told yet" in line_of(page, "S-003")
    bore.refresh_from_db()
    assert bore.nominal == "1.2500"


def test_concession_when_pressed_twice_then_one(site, reading):
    for _ in range(2):
        site.post(reverse("concession_open", args=[reading.pk]))
    assert Concession.objects.count() == 1


def test_concession_when_the_number_before_is_8_then_9(concession):
    assert concession.key == "C-009"


@pytest.mark.parametrize("text", ["1.2500", "1.2505"])
def test_concession_when_the_reading_is_in_limits_then_refused(site, bore, text):
    inside = make_reading(bore, text)
    with pytest.raises(MadeRefusedError):
        open_concession(inside, by=None)
    page = site.post(reverse("concession_open", args=[inside.pk]), follow=True)
    assert "nothing is to be decided" in words(page)
    assert not Concession.objects.exists()


# ---- decided ---------------------------------------------------------------------------------------------


def test_concession_when_use_as_is_then_decided_and_the_mate_s_page_says_make_to_suit(
    site, concession, bush, shaft
):
    page = fill_in(
        site,
        concession.get_absolute_url(),
        decision="use as is",
        words="turn shaft to suit",
        mates=[shaft.pk],
    )
    concession.refresh_from_db()
    assert concession.decided_words == "Use as is, turn shaft to suit"
    assert concession.decided_on == date(2025, 5, 3)
    assert "C-009 is decided" in words(page)
    of_shaft = site.get(shaft.get_absolute_url())
    assert SUIT in words(of_shaft)
    assert "C-009, use as is, turn shaft to suit" in words(of_shaft)
    assert concession.get_absolute_url() in links(of_shaft)
    assert "C-009 use as is, turn shaft to suit" in words(site.get(bush.get_absolute_url()))
    assert bush.history.first().text == "C-009: Use as is, turn shaft to suit"


def test_concession_when_not_decided_yet_then_the_mate_is_warned_already(site, concession, shaft):
    page = words(site.get(shaft.get_absolute_url()))
    assert SUIT in page
    assert "C-009, not decided" in page


@pytest.mark.parametrize("decision", [Decision.SCRAP, Decision.RETURN])
def test_concession_when_the_piece_is_not_used_then_nothing_has_to_suit_it(concession, shaft, decision):
    decide(concession, decision, "", [shaft.pk], by=None)
    assert suits_of(shaft) == []


@pytest.mark.parametrize("decision", [Decision.AS_IS, Decision.REWORK, Decision.REPAIR])
def test_concession_when_the_piece_is_used_then_the_mate_has_to_suit_it(concession, shaft, decision):
    decide(concession, decision, "", [shaft.pk], by=None)
    assert [suit.words for suit in suits_of(shaft)] == [SUIT]


def test_concession_when_no_decision_is_chosen_then_told_and_the_words_stay(site, concession):
    page = fill_in(site, concession.get_absolute_url(), words="turn shaft to suit")
    assert page.status_code == 422
    assert "Choose one of the five" in alerts(page)
    assert "turn shaft to suit" in page.content.decode()


def test_concession_when_decided_in_another_tab_then_the_first_stands_and_the_second_is_told(
    site, concession, shaft
):
    place = concession.get_absolute_url()
    decide(concession, Decision.AS_IS, "turn shaft to suit", [shaft.pk], by=None)
    page = site.post(place, {"decision": "scrap", "words": "", "mates": [shaft.pk]})
    assert page.status_code == 422
    assert "decided already: Use as is, turn shaft to suit" in alerts(page)
    concession.refresh_from_db()
    assert concession.decided is Decision.AS_IS


def test_concession_when_a_mate_is_not_concerned_then_it_is_not_told(site, build, bush, shaft, reading):
    plate = make_part(build, number="H-011", name="Hornplate")
    make_mate(bush, plate)
    concession = open_concession(reading, by=None)
    assert concession.mates.count() == 2
    fill_in(site, concession.get_absolute_url(), decision="use as is", mates=[shaft.pk])
    assert [one.mate for one in concession.mates.all()] == [shaft]
    assert suits_of(plate) == []


# ---- told ------------------------------------------------------------------------------------------------


def test_mate_when_told_then_by_whom_and_when_and_the_figure_stays(site, cast, concession, shaft):
    telling = concession.mates.get()
    page = site.post(reverse("mate_told", args=[telling.pk]), {"from": "mate"}, follow=True)
    telling.refresh_from_db()
    assert (telling.told_on, telling.told_by) == (date(2025, 5, 3), cast.owner)
    assert "S-003 has been told of C-009" in words(page)
    assert [(suit.words, suit.is_noted) for suit in suits_of(shaft)] == [(SUIT, True)]
    assert "taken note of on 3 May 2025" in words(page)
    assert "told 3 May 2025 by owner" in line_of(site.get(concession.get_absolute_url()), "S-003")
    assert shaft.history.first().text == f"Told of C-009 on S-008-L: {SUIT}"


def test_mate_when_told_twice_then_the_first_stands(concession, shaft):
    telling = concession.mates.get()
    assert tell_mate(telling, by=None)
    assert not tell_mate(telling, by=None)
    assert shaft.history.count() == 1


def test_mate_when_told_before_it_is_decided_then_it_stays_on_the_list(concession, shaft):
    tell_mate(concession.mates.get(), by=None)
    decide(concession, Decision.AS_IS, "", [], by=None)
    assert concession.mates.get().mate == shaft


def test_mate_when_the_size_is_measured_again_then_told_the_latest(concession, shaft, bore):
    make_reading(bore, "1.2534")
    assert suits_of(shaft)[0].words == "make to suit 1.2534 measured 3 May"


def test_mate_when_the_size_came_into_its_limits_then_nothing_is_asked(concession, shaft, bore):
    make_reading(bore, "1.2504")
    assert suits_of(shaft) == []


def test_mate_when_measured_in_another_unit_then_told_with_it(bush, shaft, bore):
    open_concession(make_reading(bore, "31.83 mm", on=date(2024, 5, 3)), by=None)
    assert suits_of(shaft)[0].words == "make to suit 31.83 mm measured 3 May 2024"


def test_mate_when_the_departing_part_is_in_the_bin_then_nothing_is_asked(cast, concession, bush, shaft):
    bin_part(bush, by=cast.owner)
    assert suits_of(shaft) == []


def test_reading_when_struck_out_then_its_open_concession_is_withdrawn(site, concession, reading, shaft):
    strike_reading(reading, "gauge was off", by=None)
    concession.refresh_from_db()
    assert concession.decided is Decision.WITHDRAWN
    assert suits_of(shaft) == []
    assert "Withdrawn, its reading was struck out" in words(site.get(concession.get_absolute_url()))


def test_reading_when_struck_out_after_it_was_decided_then_decided_it_stays_and_nothing_is_asked(
    concession, reading, shaft
):
    decide(concession, Decision.AS_IS, "", [shaft.pk], by=None)
    strike_reading(reading, "gauge was off", by=None)
    concession.refresh_from_db()
    assert concession.decided is Decision.AS_IS
    assert suits_of(shaft) == []


# ---- the card and the list -------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_of_the_mate_when_printed_then_the_figure_with_its_concession_as_the_mark(
    site, concession, shaft, paper
):
    fill_in(site, reverse("card_new", args=[shaft.pk]), paper=paper)
    card = shaft.cards.get()
    mates = next(block for block in card.sheet["blocks"] if block["label"] == "Mates with")
    assert (mates["boxed"], mates["text"]) == ("C-009", SUIT)
    text = " ".join(" ".join(pdf_text(site.get(reverse("card_pdf", args=[card.pk])).content)).split())
    assert f"C-009: {SUIT}." in text
    assert "1.2500 in +0.0005 / -0 as drawn" in text


def test_card_of_the_mate_when_it_was_told_then_it_still_has_the_figure_to_make_to(site, concession, shaft):
    tell_mate(concession.mates.get(), by=None)
    fill_in(site, reverse("card_new", args=[shaft.pk]), paper="A4")
    assert SUIT in str(shaft.cards.get().sheet)


def test_mate_when_measured_again_after_it_was_told_then_it_is_news_again(concession, shaft, bore):
    tell_mate(concession.mates.get(), by=None)
    make_reading(bore, "1.2534", on=date(2025, 5, 4))
    assert [(suit.words, suit.is_noted) for suit in suits_of(shaft)] == [
        ("make to suit 1.2534 measured 4 May", False)
    ]


def test_list_then_what_is_open_first_and_how_many_are_to_tell(site, build, concession, bush, shaft):
    other = make_characteristic(bush, name="face")
    decided = open_concession(make_reading(other, "1.2600"), by=None)
    decide(decided, Decision.AS_IS, "", [shaft.pk], by=None)
    page = site.get(reverse("concession_list", args=[build.pk]))
    said = words(page)
    assert said.index("C-009") < said.index("C-010") < said.index("C-008")
    assert "not decided" in line_of(page, "C-009")
    assert "1 to tell" in line_of(page, "C-010")
    assert "to tell" not in line_of(page, "C-008")
    assert "3 in this build 1 to decide" in said


def test_list_when_there_is_none_then_said_how_one_comes(site, build):
    assert "None yet" in words(site.get(reverse("concession_list", args=[build.pk])))


# ---- what a fit takes from it ----------------------------------------------------------------------------


def fit_page(site, part):
    return site.get(reverse("part_calculate", args=[part.pk, "fit"]))


def test_fit_of_the_shaft_then_the_bore_as_measured_is_filled_in(site, concession, shaft):
    page = fit_page(site, shaft)
    assert "from its mate S-008-L: bore 1.2530 in measured 3 May" in words(page)
    assert 'value="1.2530 in"' in page.content.decode()


def test_fit_of_the_bush_then_the_journal_of_its_mate_is_filled_in_and_its_own_bore(
    site, concession, bush, shaft
):
    make_reading(make_characteristic(shaft, name="left journal"), "1.2515")
    said = words(fit_page(site, bush))
    assert "from its mate S-003: left journal 1.2515 in measured 3 May" in said
    assert "from the part: bore 1.2530 in measured 3 May" in said


def test_fit_when_two_bores_might_be_meant_then_none_is_filled_in(site, build, concession, shaft):
    right = make_part(build, number="S-008", hand="R", name="Second-shaft bush")
    make_mate(right, shaft)
    make_reading(make_characteristic(right), "1.2502")
    said = words(fit_page(site, shaft))
    assert "from its mate" not in said


# ---- the demo --------------------------------------------------------------------------------------------


def test_demo_when_loaded_then_the_bush_has_its_departure_and_the_shaft_is_to_suit(site, cast):
    load_demo(cast.owner)
    bush, shaft = (
        Part.objects.get(number=number, hand=hand) for number, hand in (("S-008", "L"), ("S-003", ""))
    )
    page = site.get(bush.get_absolute_url())
    assert "1.2530 in out: 0.0025 in over the upper limit, C-009" in line_of(page, "1 bore")
    assert "1.7513 in within limits" in line_of(page, "2 outside diameter")
    assert "C-009 use as is, turn shaft to suit" in words(page)
    assert "make to suit 1.2530 measured" in words(site.get(shaft.get_absolute_url()))
