"""Find: one box over the build; sizes and teeth however they are written; nothing of another build."""

from datetime import timedelta
from fractions import Fraction
from itertools import product
from types import SimpleNamespace

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from buildlog import clock
from buildlog.actions import stores
from buildlog.actions.concessions import open_concession
from buildlog.actions.errata import strike_erratum
from buildlog.finding import A_PAGE, MOST, find
from buildlog.searching import decimal, excerpt, fold, holds, places, sought, traces
from tests.factories import (
    make_build,
    make_casting,
    make_characteristic,
    make_drawing,
    make_erratum,
    make_log_entry,
    make_order,
    make_part,
    make_photo,
    make_reading,
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


@pytest.fixture
def porous(build):
    """The trade's own case: a porous casting, in the goods received, in the log and on a photo."""
    casting = make_casting(build, number="K-022", name="Cylinder block")
    stores.receive(build, {(casting, None): 1}, on=clock.today(), by=None)
    stores.judge(
        casting, None, accepted=0, rejected=1, reason="porous at the port face", on=clock.today(), by=None
    )
    entry = make_log_entry(build, done="Block set up; found it porous by the steam port")
    photo = make_photo(build, caption="The porous patch, for the foundry")
    return SimpleNamespace(casting=casting, entry=entry, photo=photo)


def test_find_when_a_casting_was_porous_then_goods_received_log_and_photo_are_found(build, porous):
    make_drawing(build, number="7", title="Cylinder", note="porous castings go back")
    assert found(build, "porous") == {
        "Drawings": ["sheet 7"],
        "Log": ["log"],
        "Photos": ["photo"],
        "Goods and chasing": ["K-022"],
    }
    assert found(build, "POROUS port")["Goods and chasing"] == ["K-022"]
    assert "Drawings" not in found(build, "porous port")


def test_page_when_something_was_found_then_each_line_opens_where_it_stands(cast, build, porous):
    page = cast.client("owner").get(reverse("find_page", args=[build.pk]), {"find": "porous"})
    event = porous.casting.events.get(kind="rejected")
    opens = [
        porous.entry.get_absolute_url(),
        porous.photo.get_absolute_url(),
        f"{porous.casting.get_absolute_url()}#event{event.pk}",
    ]
    for url in opens:
        assert f'href="{url}"' in page.text
        there = cast.client("owner").get(url)
        assert there.status_code == 200
        assert "porous" in there.text
    assert f'id="event{event.pk}"' in there.text


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


@pytest.mark.parametrize("typed", ["57T", "57-tooth", "7T", "5T", "15 T", "15"])
def test_find_when_the_figures_stand_inside_another_number_then_not_found(build, typed):
    part = make_part(build, number="S-912", name="Ring 157 T", notes="157-tooth")
    make_log_entry(build, part=part, done="157-tooth ring indexed, 157 T")
    make_drawing(build, number="12", title="Ring of 157 teeth")
    make_casting(build, number="K-911", name="Ring blank 157T")
    make_photo(build, caption="157T")
    none = {} if typed != "15" else found(build, "157")
    assert found(build, typed) == none
    assert list(found(build, "157T")) == ["Parts", "Castings", "Drawings", "Log", "Photos"]


@pytest.mark.parametrize("typed", ["1 3/16", "1.1875", "1-3/16", '1-3/16"', "1 3/16 in", "1.18750"])
def test_find_when_a_size_is_written_in_any_way_then_each_spelling_is_found(build, typed):
    make_part(build, number="S-003", name="Second shaft", leading_size="1 3/16 in dia")
    make_log_entry(build, done="Turned to 1.1875")
    make_log_entry(build, done="Bar of 1 3/16 sawn")
    make_log_entry(build, done="Bar of 1 3/8 sawn")
    make_log_entry(build, done="Bar of 11 3/16 sawn, and one of 11.1875")
    make_casting(build, number="K-1", name="Blank", note="bore 1 6/32")
    assert found(build, typed) == {"Parts": ["S-003"], "Castings": ["K-1"], "Log": ["log", "log"]}


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


def test_page_when_one_kind_is_asked_for_then_all_of_it_a_page_at_a_time(cast, build):
    for place in range(A_PAGE + 1):
        make_log_entry(build, done="oiled round", on=clock.today() - timedelta(days=place))
        make_casting(build, number=f"K-{place}", name="oiled")
    address, client = reverse("find_page", args=[build.pk]), cast.client("owner")
    page = client.get(address, {"find": "oiled"})
    assert page.text.count("All of them") == 2
    assert "?find=oiled&amp;among=log" in page.text
    for among in ("log", "castings"):
        seen = []
        for number in (1, 2):
            page = client.get(address, {"find": "oiled", "among": among, "page": number})
            (group,) = page.context["groups"]
            seen += [line.url for line in group.lines]
            assert group.more == (number == 1)
        assert len(set(seen)) == len(seen) == A_PAGE + 1


def test_find_when_a_concession_or_a_reading_is_looked_for_then_by_number_words_size_and_part(build):
    part = make_part(build, number="S-003", name="Second-shaft bush")
    size = make_characteristic(part, name="bore", nominal="1.2500 in")
    make_reading(size, "1.2501")
    concession = open_concession(make_reading(size, "1.2530", instrument="bore gauge"), by=None)
    concession.number, concession.words = 9, "turn the shaft to suit"
    concession.save()
    for typed in ("C-009", "c-9", "C9", "C 009", "shaft to suit"):
        assert found(build, typed) == {"Concessions": ["C-009"]}, typed
    both = {"Concessions": ["C-009"], "Sizes and readings": ["S-003"]}
    for typed in ("1.2530", "1.253", "1.2530 in", "bore 1.2530"):
        assert found(build, typed) == both, typed
    assert found(build, "bore gauge") == {"Sizes and readings": ["S-003"]}
    assert found(build, "1.2501") == {"Sizes and readings": ["S-003"]}
    for typed in ("C-99", "C-0", "1.2531", "11.2530", "1.25300001"):
        assert found(build, typed) == {}, typed


def test_find_when_a_reading_was_struck_out_then_it_is_not_shown(build):
    size = make_characteristic(make_part(build), name="bore", nominal="1.2500 in")
    reading = make_reading(size, "1.2477")
    (group,) = find(build, "1.2477")
    assert ("1.2477", True) in group.lines[0].small
    reading.struck_at = clock.now()
    reading.save()
    assert found(build, "1.2477") == {}


def test_find_when_a_card_a_sum_or_a_sheet_is_named_by_its_number_then_found(build, cast):
    part = make_part(build, number="S-016")
    record = make_record(part, user=cast.owner)
    make_drawing(build, number="12", title="Gearing")
    assert found(build, f"sum {record.pk}") == {"Kept sums": [f"sum {record.pk}"]}
    assert found(build, "sheet 12") == {"Drawings": ["sheet 12"]}
    assert found(build, "sheet 2") == {}


@pytest.mark.parametrize("typed", ["", "   ", "%", "_", "\\", "'", "<b>", "½", "٣", "x" * 200])
def test_page_when_anything_is_typed_then_it_answers_and_shows_it_as_typed(cast, build, typed):
    make_log_entry(build, done="plain words")
    page = cast.client("owner").get(reverse("find_page", args=[build.pk]), {"find": typed})
    assert page.status_code == 200
    assert "<b>”" not in page.text
    if typed in ("%", "_"):
        assert "Nothing holds that" in page.text


def test_page_when_the_word_stands_far_in_a_long_text_then_its_surroundings_are_shown_and_it_is_marked(
    cast, build
):
    make_log_entry(build, done="Cleaned down. " * 80 + "The <b>flange</b> is porous below. " + "Swept. " * 80)
    page = cast.client("owner").get(reverse("find_page", args=[build.pk]), {"find": "POROUS flange"})
    assert "&lt;b&gt;<mark>flange</mark>&lt;/b&gt; is <mark>porous</mark> below." in page.text
    assert len(page.text.split("Cleaned down.")) < 10


# ---- how it is searched ----------------------------------------------------------------------------------

WRITTEN = (
    "57T", "57 T", "57-tooth", "57 teeth", "157 T", "1 3/16", "1-3/16", "1.1875", "1.18750", "11.1875",
    "11 3/16", "3/16", ".1875", "0.1875", "1½ dia", "1.5", "30 mm", "30mm", "S-016", "M8x1.25", "1/4/26",
    "5 3/8 holes", "No. 5", "12 B", "6/32", "Überwurf",
)  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "stands_in"),
    [
        ("57T", "57T, 57 T, 57-tooth, 57 teeth"),
        ("157-tooth", "157 T"),
        ("1 3/16", "1 3/16, 1-3/16, 1.1875, 1.18750"),
        ('1-3/16"', "1 3/16, 1-3/16, 1.1875, 1.18750"),
        ("1.1875 in", "1 3/16, 1-3/16, 1.1875, 1.18750"),
        ("1.18", "1 3/16, 1-3/16, 1.1875, 1.18750"),
        ("1.180", ""),
        ("30.0", ""),
        # The fraction stands in the mixed number as a word of its own.
        ("3/16", "1 3/16, 1-3/16, 11 3/16, 3/16, .1875, 0.1875, 6/32"),
        (".1875", "3/16, .1875, 0.1875, 6/32"),
        ("3/8", "5 3/8 holes"),
        ("1½", "1½ dia, 1.5"),
        ("30 mm", "30 mm, 30mm"),
        ("016", "S-016"),
        ("16", ""),
        ("s-0", "S-016"),
        ("M8x1.25", "M8x1.25"),
        ("5", "57T, 57 T, 57-tooth, 57 teeth, 5 3/8 holes, No. 5"),
        ("ÜBER", "Überwurf"),
    ],
)
def test_sought_when_something_is_typed_then_it_stands_in_these_texts_and_in_no_others(typed, stands_in):
    pieces = sought(typed)
    assert ", ".join(text for text in WRITTEN if holds(fold(text), pieces)) == stands_in


@pytest.mark.parametrize("typed", WRITTEN)
def test_traces_when_a_text_holds_the_piece_then_one_of_them_stands_in_it_and_it_is_marked(typed):
    for piece, text in product(sought(typed), WRITTEN):
        if holds(fold(text), [piece]):
            assert any(trace.lower() in text.lower() for trace in traces(piece))
            assert places([piece]).search(text)


def test_decimal_when_a_binary_fraction_then_exact():
    # Exact by long division: 1/128 is 0.0078125.
    assert decimal(Fraction(1, 128)) == "0.0078125"
    assert decimal(Fraction(19, 16)) == "1.1875"
    assert decimal(Fraction(3)) == "3"


@given(st.text(max_size=400), st.text(max_size=30))
def test_excerpt_when_any_text_then_it_is_a_stretch_of_it_and_no_longer_than_asked(text, typed):
    runs = excerpt([text], sought(typed), 60)
    said = "".join(run for run, _ in runs).removeprefix("… ").removesuffix(" …")
    assert said in " ".join(text.split())
    assert len(said) <= 60


@pytest.mark.parametrize("text", ["E-001", "2.435", "lifting link", "weigh"])
def test_find_when_an_erratum_is_looked_for_then_by_number_words_and_size_until_it_is_struck_out(build, text):
    erratum = make_erratum(make_drawing(build, "A", number="7"), source="weighed up again")
    assert found(build, text)["Errata"] == [erratum.key]
    strike_erratum(erratum, "read the wrong line", by=None)
    assert "Errata" not in found(build, text)
