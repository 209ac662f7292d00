"""What was really made: characteristics, readings down a column from a returned card, the latest that counts.

The sizes are those that the inspection record and the returned card were asked for with: a bore of 1.1250
+0.0008/-0, card 214 printed on 2 May and six sizes typed on 3 May, one of them out.
"""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.made import MadeRefusedError, add_characteristic, remove_characteristic
from buildlog.actions.parts import bin_part
from buildlog.made import columns_of
from buildlog.models import Characteristic, Concession, Reading, WorkCard
from tests.factories import make_assembly, make_build, make_characteristic, make_part, make_reading
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, links, pdf_text, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 5, 3, 19, 30, tzinfo=UTC)


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 3 May 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def part(build):
    return make_part(build, number="S-011", name="Second-shaft wheel 57 T", stage="in hand")


@pytest.fixture
def bore(part):
    return make_characteristic(part, nominal="1.1250", upper="+0.0008", lower="-0")


@pytest.fixture
def page(part):
    return reverse("part_made", args=[part.pk])


def history(part):
    return list(part.history.values_list("text", flat=True))


# ---- characteristics -------------------------------------------------------------------------------------


def test_characteristic_when_written_then_as_typed_and_exact(site, part):
    new = reverse("characteristic_new", args=[part.pk])
    fill_in(site, new, name="bore", nominal="1 1/8", upper="+0.0008", lower="-0", place="C3")
    size = Characteristic.objects.get()
    assert (size.nominal, size.unit, size.upper, size.lower) == ("1 1/8", "in", "+0.0008", "-0")
    assert [float(mm) for mm in (size.nominal_mm, size.upper_mm, size.lower_mm)] == [28.575, 28.59532, 28.575]
    assert size.wanted == "1 1/8 in +0.0008 / -0"
    assert history(part)[0] == "To be measured: bore 1 1/8 in +0.0008 / -0"


def test_characteristic_when_sent_twice_then_one(site, part):
    new = reverse("characteristic_new", args=[part.pk])
    sent = left_as_it_comes(site, new) | {"name": "bore", "nominal": "1.25 in"}
    assert site.post(new, sent).status_code == 302
    size = Characteristic.objects.get()
    again = Characteristic(part=part, name="bore", nominal="1.25 in", unit="in", nominal_exact="31.75")
    assert add_characteristic(again, token=size.token, by=None) == size
    assert Characteristic.objects.count() == 1


@pytest.mark.parametrize(
    ("typed", "field", "told"),
    [
        ({"nominal": "about an inch"}, "nominal", "I cannot read"),
        ({"upper": "0.0008"}, "upper", "more than the size, or less"),
        ({"upper": "-0.001", "lower": "+0.001"}, "upper", "below the lower one"),
        ({"lower": "1.1250 mmm"}, "lower", "“mmm”"),
        ({"name": "Bore"}, "name", ""),
    ],
)
def test_characteristic_when_an_entry_is_wrong_then_told_and_nothing_is_lost(site, part, typed, field, told):
    sent = {"name": "bore", "nominal": "1.1250", "upper": "+0.0008", "lower": "-0", "place": "C3"} | typed
    answer = fill_in(site, reverse("characteristic_new", args=[part.pk]), **sent)
    if not told:
        assert Characteristic.objects.get().name == "Bore"
        return
    assert answer.status_code == 422
    assert told in alerts(answer)
    assert {name: entries(answer)[name] for name in sent} == sent
    assert not Characteristic.objects.exists()


def test_characteristic_when_of_the_same_name_then_refused(site, part, bore):
    answer = fill_in(site, reverse("characteristic_new", args=[part.pk]), name="bore", nominal="1 in")
    assert answer.status_code == 422
    assert "has a size of this name already" in alerts(answer)


def test_characteristic_when_its_limits_change_then_readings_stay_and_are_held_to_the_new_ones(site, bore):
    reading = make_reading(bore, "1.1262")
    assert reading.judged.is_out
    fill_in(site, bore.get_absolute_url(), upper="+0.0015")
    reading = Reading.objects.get()
    assert reading.value == "1.1262"
    assert reading.judged.is_in
    assert "changed to bore 1.1250 in +0.0015 / -0" in history(bore.part)[0]


def test_characteristic_when_it_has_readings_then_not_taken_away(site, bore):
    make_reading(bore, "1.1254")
    with pytest.raises(MadeRefusedError, match="never thrown away"):
        remove_characteristic(bore, by=None)
    site.post(reverse("characteristic_remove", args=[bore.pk]))
    assert Characteristic.objects.exists()


def test_characteristic_when_nothing_was_measured_then_taken_away(site, bore, page):
    answer = site.post(reverse("characteristic_remove", args=[bore.pk]), follow=True)
    assert not Characteristic.objects.exists()
    assert "Nothing is asked for yet" in words(answer)


# ---- readings --------------------------------------------------------------------------------------------


def test_readings_when_in_and_out_then_shown_with_mark_and_word_and_a_concession_offered(site, bore, page):
    for text in ("1.1254", "1.1256"):
        answer = fill_in(site, page, **{f"value{bore.pk}": text})
        assert "within limits" in words(answer)
        assert "Open a concession" not in words(answer)
    answer = fill_in(site, page, **{f"value{bore.pk}": "1.1262"})
    assert "1.1262 in out: 0.0004 in over the upper limit" in line_of(answer, "1.1262")
    assert "Open a concession" in words(answer)
    assert "Out of limits: bore" in words(answer)
    assert Characteristic.objects.get().nominal == "1.1250"


def test_reading_when_bare_and_far_off_then_asked_and_stays_in_its_box(site, part, bore, page):
    face = make_characteristic(part, name="face width", nominal="1.750", upper="", lower="")
    answer = fill_in(site, page, **{f"value{bore.pk}": "28.60", f"value{face.pk}": "1.751"})
    assert answer.status_code == 422
    assert "Is 28.60 in inches or in millimetres?" in alerts(answer)
    assert entries(answer)[f"value{bore.pk}"] == "28.60"
    assert entries(answer)[f"value{face.pk}"] == "1.751"
    assert not Reading.objects.exists()


def test_reading_when_in_the_other_unit_then_kept_so_and_judged_exactly(site, bore, page):
    answer = fill_in(site, page, **{f"value{bore.pk}": "28.60 mm", f"with{bore.pk}": "bore gauge"})
    reading = Reading.objects.get()
    assert (reading.value, reading.unit, reading.instrument) == ("28.60 mm", "mm", "bore gauge")
    assert reading.judged.is_out
    assert "28.60 mm out: 0.00018 in over the upper limit" in words(answer)


def test_readings_when_none_is_typed_then_said(site, bore, page):
    answer = fill_in(site, page)
    assert answer.status_code == 422
    assert "No reading is typed yet" in alerts(answer)


def test_readings_when_sent_twice_then_once(site, bore, page):
    sent = left_as_it_comes(site, page) | {f"value{bore.pk}": "1.1254"}
    for _ in range(2):
        assert site.post(page, sent).status_code == 302
    assert Reading.objects.count() == 1
    assert len([line for line in history(bore.part) if line.startswith("Measured")]) == 1


def test_readings_when_the_token_is_of_another_part_then_nothing_is_found(site, build, bore, page):
    other = make_characteristic(make_part(build, number="S-012"))
    reading = make_reading(other, "1.2502")
    sent = left_as_it_comes(site, page) | {f"value{bore.pk}": "1.1254", "token": str(reading.token)}
    assert site.post(page, sent).status_code == 404
    assert Reading.objects.get() == reading


def test_latest_reading_then_it_counts_by_its_day_and_each_piece_has_its_own(part, bore):
    make_reading(bore, "1.1262", on=date(2025, 5, 1))
    latest = make_reading(bore, "1.1256", on=date(2025, 5, 3))
    make_reading(bore, "1.1249", on=date(2025, 5, 2))
    second = make_reading(bore, "1.1251", piece=2, on=date(2025, 4, 1))
    (column,) = columns_of(part)
    assert column.counts == [latest, second]
    assert [reading.value for reading in column.others] == ["1.1249", "1.1262"]


def test_reading_when_struck_out_then_it_stays_with_its_reason_and_the_one_before_counts(site, part, bore):
    before = make_reading(bore, "1.1254", on=date(2025, 5, 1))
    wrong = make_reading(bore, "1.1262")
    answer = site.post(reverse("reading_strike", args=[wrong.pk]), {"reason": "jaws hot"}, follow=True)
    assert "struck out: jaws hot" in line_of(answer, "1.1262")
    assert columns_of(part)[0].counts == [before]
    wrong.refresh_from_db()
    assert (wrong.value, wrong.struck_why, wrong.struck_at) == ("1.1262", "jaws hot", NOW)
    assert history(part)[0] == "Reading struck out: bore 1.1262 in: jaws hot"


def test_reading_when_struck_out_without_a_reason_then_not(site, bore):
    reading = make_reading(bore, "1.1262")
    answer = site.post(reverse("reading_strike", args=[reading.pk]), {"reason": " "}, follow=True)
    assert "Say why" in words(answer)
    assert Reading.objects.valid().get() == reading


def test_piece_when_several_are_needed_then_asked_and_no_more_than_there_are(site, build):
    part = make_part(number="S-010", assembly=make_assembly(build), quantity=2)
    size = make_characteristic(part, name="bore")
    page = reverse("part_made", args=[part.pk])
    answer = fill_in(site, page, piece="3", **{f"value{size.pk}": "1.2501"})
    assert answer.status_code == 422
    assert "Write a piece from 1 to 2" in alerts(answer)
    answer = fill_in(site, page, piece="2", **{f"value{size.pk}": "1.2501"})
    assert Reading.objects.get().piece == 2
    assert "piece 2" in words(answer)


@pytest.mark.parametrize("day", ["2025-05-04", "1949-12-31", "yesterday"])
def test_day_when_it_cannot_be_then_told_and_the_readings_stay(site, bore, page, day):
    answer = fill_in(site, page, on=day, **{f"value{bore.pk}": "1.1254"})
    assert answer.status_code == 422
    assert "Measured on" in alerts(answer)
    assert entries(answer)[f"value{bore.pk}"] == "1.1254"


def test_part_when_in_the_bin_then_no_readings_are_taken(site, cast, part, bore, page):
    bin_part(part, by=cast.owner)
    assert site.get(page).status_code == 404
    assert site.get(part.get_absolute_url()).status_code == 200


def test_part_page_then_each_characteristic_with_the_reading_that_counts(site, part, bore):
    make_characteristic(part, name="face width")
    assert "2 to be measured" in words(site.get(part.get_absolute_url()))
    make_reading(bore, "1.1254", instrument="bore gauge")
    answer = site.get(part.get_absolute_url())
    assert "1 more to be measured" in words(answer)
    assert line_of(answer, "1 bore") == "1 bore 1.1250 in +0.0008 / -0 1.1254 in within limits"


# ---- a returned card -------------------------------------------------------------------------------------


SIX = {
    "bore": "1.1250",
    "outside diameter": "7.375",
    "face width": "1.750",
    "hub diameter": "2.500",
    "hub length": "2.000",
    "keyway width": "0.250",
}


@pytest.fixture
def card(cast, build, part):
    for name, nominal in SIX.items():
        make_characteristic(part, name=name, nominal=nominal, upper="+0.0008", lower="-0.0008")
    with clock.stopped_at(NOW - timedelta(days=1)):
        return WorkCard.objects.create(
            build=build, part=part, number=214, title="turning", sheet={}, made_at=clock.now(), token=uuid4()
        )


def test_card_when_it_comes_back_then_six_sizes_go_in_down_the_column_and_one_out_opens_a_concession(
    site, build, part, card
):
    cards = reverse("card_list", args=[build.pk])
    assert "not back" in line_of(site.get(cards), "214")
    column = site.get(cards, {"enter": "214"})
    assert column.status_code == 302
    place = column["Location"]
    page = site.get(place)
    assert "from card 214, printed 2 May 2025" in words(page)
    sizes = list(part.characteristics.all())
    assert [size.name for size in sizes] == list(SIX)
    read = dict(zip((f"value{size.pk}" for size in sizes), SIX.values(), strict=True))
    read[f"value{sizes[0].pk}"] = "1.1262"
    answer = fill_in(site, place, **read)
    assert "6 readings written down" in words(answer)
    assert Reading.objects.filter(card=card, on=date(2025, 5, 3)).count() == 6
    assert [one.characteristic.name for one in Reading.objects.all() if one.judged.is_out] == ["bore"]
    out = Reading.objects.get(value="1.1262")
    answer = site.post(reverse("concession_open", args=[out.pk]), follow=True)
    assert Concession.objects.get().reading == out
    assert "C-001 on S-011" in words(answer)
    assert "entered" in line_of(site.get(cards), "214")
    assert "from card 214" in " ".join(history(part))


@pytest.mark.parametrize("number", ["215", "x", "99999999999999999999"])
def test_card_when_there_is_none_of_the_number_then_said(site, build, card, number):
    answer = site.get(reverse("card_list", args=[build.pk]), {"enter": number})
    assert answer.status_code == 200
    assert f"No card {number[:9]} of this build" in words(answer)


def test_card_of_another_build_then_not_found_by_its_number(site, cast, build, card):
    second = make_build(cast.owner, name="Second engine")
    answer = site.get(reverse("card_list", args=[second.pk]), {"enter": "214"})
    assert answer.status_code == 200
    assert "No card 214 of this build" in words(answer)


def test_card_page_then_it_leads_to_where_its_sizes_are_typed(site, part, bore):
    answer = fill_in(site, reverse("card_new", args=[part.pk]), paper="A4")
    number = part.cards.get().number
    assert f"{reverse('part_made', args=[part.pk])}?card={number}" in links(answer)


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_when_printed_then_the_characteristics_stand_among_the_sizes_with_their_limits_whole(
    site, part, bore, paper
):
    make_characteristic(part, name="left journal of the crank side", upper="+0.00075", lower="-0.00075")
    make_characteristic(part, name="run", nominal="2 in", upper="+0.0008 in", lower="-0.0008 in")
    fill_in(site, reverse("card_new", args=[part.pk]), paper=paper)
    card = part.cards.get()
    assert card.sheet["sizes"][0] == {"wanted": "1.1250 in", "note": "+0.0008/-0 bore"}
    text = " ".join(" ".join(pdf_text(site.get(reverse("card_pdf", args=[card.pk])).content)).split())
    # No limit may be cut short: the beginning of one reads as another.
    for whole in ("+0.0008/-0 bore", "+0.00075/-0.00075", "run: 2 in +0.0008 in / -0.0008 in."):
        assert whole in text, whole
