"""Pages of sums: entries and answers with and without htmx, keeping, opening what was kept."""

import re
from dataclasses import replace
from urllib.parse import parse_qs, urlsplit
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from buildlog import clock
from calc import catalogue, records, registry
from calc.models import CalculationRecord
from tests.cast import check_act, check_page, make_cast
from tests.factories import (
    CIRCLES,
    GEARS,
    PLATES,
    make_assembly,
    make_head,
    make_part,
    make_record,
)

pytestmark = pytest.mark.django_db

HTMX = {"HX-Request": "true"}
ENTRIES = {"divisions": "84", "ratio": "40", "circles": CIRCLES}


@pytest.fixture
def cast():
    return make_cast()


@pytest.fixture
def owner(cast):
    return cast.client("owner")


@pytest.fixture
def part(cast):
    assembly = make_assembly(cast.build, balloon="7")
    return make_part(assembly=assembly, number="S-016", name="Final-drive wheel 84 T", sheet="12 B")


def part_url(part, key="indexing"):
    return reverse("part_calculate", args=[part.pk, key])


def keep(client, url, token=None, **entries):
    return client.post(url, ENTRIES | {"do": "keep", "token": str(token or uuid4())} | entries)


# ---- who sees what ---------------------------------------------------------------------------------------


def test_pages_of_a_part_are_for_members_of_its_build(cast, part):
    record = make_record(part, user=cast.owner)
    check_page(cast, part_url(part))
    check_page(cast, part_url(part, "indexing-schedule"))
    for name in ("record_page", "record_pdf", "record_json"):
        check_page(cast, reverse(name, args=[record.pk]))
    check_act(cast, part_url(part), ENTRIES | {"do": "keep", "token": str(uuid4())})
    assert CalculationRecord.objects.get() == record


def test_pages_for_no_part_are_for_whoever_is_signed_in(cast):
    check_page(cast, reverse("sums"), stranger=200)
    check_page(cast, reverse("calculate", args=["indexing"]), stranger=200)


def test_record_without_a_part_is_for_its_maker_alone(cast):
    record = make_record(user=cast.owner)
    for name in ("record_page", "record_pdf", "record_json"):
        check_page(cast, reverse(name, args=[record.pk]), builder=404)


def test_sums_page_lists_what_one_may_see_and_nothing_else(cast, part):
    make_record(part, user=cast.builder)
    make_record(user=cast.builder, divisions="51", circles="51")
    seen = cast.client("owner").get(reverse("sums")).text
    assert "Indexing, 84 divisions" in seen
    assert "Indexing, 51 divisions" not in seen
    assert "Indexing schedule" in seen
    assert "Nothing is kept yet" in cast.client("stranger").get(reverse("sums")).text


def test_unknown_sum_and_part_in_the_bin_are_not_there(cast, owner, part):
    assert owner.get(reverse("calculate", args=["tooth-fairy"])).status_code == 404
    part.binned_at = clock.now()
    part.save()
    assert owner.get(part_url(part)).status_code == 404


# ---- entries filled in -----------------------------------------------------------------------------------


def test_page_of_a_part_with_a_head_answers_at_once(cast, owner, part):
    make_head(cast.owner)
    page = owner.get(part_url(part))
    assert page.status_code == 200
    for words in (
        "from the part: 84 teeth",
        "own head H1: 40 turns to one",
        "own plates 1 to 4; a stroke parts the faces",
        "Plain indexing, exact. Plate 4, first face",
        "20 spaces in the 42 circle",
        "84 × 20/42 = 40",
        "Sector arms at 21 holes",
        "Keep on S-016",
        "Check against the drawing",
    ):
        assert words in page.text, words
    assert 'aria-label="Index plate with 11 circles' in page.text


def test_page_of_a_part_without_a_head_asks_for_the_circles_and_shows_no_error(cast, owner, part):
    page = owner.get(part_url(part))
    assert page.status_code == 200
    assert "Nothing is worked out yet" in page.text
    assert reverse("head_add") in page.text
    assert "wants mending" not in page.text


def test_page_of_a_sum_with_a_caution_then_its_mark_is_in_the_legend_as_one(owner):
    asked = {"shaft_diameter": "1 1/8 in", "standard": "b17.1"}
    page = owner.get(reverse("calculate", args=["keyway"]), asked)
    assert "Before you cut" in page.text
    assert "Take care" in page.text
    assert "Waits" not in page.text


def test_page_of_a_part_with_no_teeth_asks_for_the_divisions(cast, owner):
    make_head(cast.owner)
    page = owner.get(part_url(make_part(cast.build, name="Flywheel")))
    assert page.status_code == 200
    assert 'value="40"' in page.text
    assert "Nothing is worked out yet" in page.text


def test_page_fills_in_ones_own_head_and_nobody_elses(cast, part):
    make_head(cast.owner)
    assert "own head" not in cast.client("builder").get(part_url(part)).text


def test_page_with_several_heads_takes_the_usual_one_or_the_one_asked_for(cast, owner, part):
    make_head(cast.owner, name="Big head")
    table = make_head(cast.owner, name="Table", ratio=90, is_usual=False, plates=PLATES[:1])
    usual = owner.get(part_url(part))
    assert "own head Big head: 40 turns to one" in usual.text
    assert f"?head={table.pk}" in usual.text
    typed = owner.get(part_url(part), {"divisions": "57", "ratio": "72"}).text
    assert f"?divisions=57&amp;head={table.pk}" in typed
    asked = owner.get(part_url(part), {"head": table.pk})
    assert "own head Table: 90 turns to one" in asked.text
    assert f'name="head" value="{table.pk}"' in asked.text


def test_address_with_entries_fills_them_in_and_works_them_out(owner):
    page = owner.get(reverse("calculate", args=["indexing"]), {"divisions": "57", "circles": "57"})
    assert page.status_code == 200
    assert "40 spaces in the 57 circle" in page.text  # 40/57, by hand


def test_address_with_a_bad_entry_shows_it_and_what_is_wrong(owner):
    page = owner.get(reverse("calculate", args=["indexing"]), ENTRIES | {"divisions": "0,5 mm"})
    assert page.status_code == 422
    assert 'value="0,5 mm"' in page.text
    assert "Divisions wants mending" in page.text


# ---- the three answers that matter -----------------------------------------------------------------------


def test_57_with_three_plates_has_no_plain_setting_and_every_row_says_what_it_makes(owner):
    entries = ENTRIES | {"divisions": "57", "change_gears": GEARS}
    page = owner.post(reverse("calculate", args=["indexing"]), entries).text
    assert "No plain setting with these circles" in page
    assert "It wants a circle that divides by 57. You own none." in page
    # 40 / (22/33) = 60, by hand: what the row makes with its gears left off.
    row = re.search(r"<b>22 in 33</b>.*?Without the gears\">([^<]*)<", page)
    assert row is not None
    assert row[1] == "60"


def test_69_with_three_plates_has_none_at_40_to_one_and_20_in_23_at_60(owner):
    page = owner.post(reverse("calculate", args=["indexing"]), ENTRIES | {"divisions": "69"}).text
    assert "No plain setting with these circles" in page
    assert re.search(r"On a head of 60 to 1</dt><dd>20 in 23", page)


def test_page_with_a_row_chosen_shows_answer_picture_table_and_working_of_it(cast, owner, part):
    make_head(cast.owner)
    page = owner.get(part_url(part), {"row": "plain-1"}).text
    assert '<p class="big" tabindex="-1">10 spaces in the 21 circle</p>' in page
    assert "the 21 circle in ink" in page
    assert "21 × 10/21" in page
    assert 'name="row" value="plain-1"' in page
    assert "Also exact</dt><dd><a" in page


def test_no_solution_stands_over_the_form_with_what_would_do(owner):
    page = owner.post(reverse("calculate", args=["indexing"]), ENTRIES | {"divisions": "9999"})
    assert page.status_code == 200
    assert "it wants a circle that divides by 9999" in page.text
    assert "What would do:" in page.text
    assert 'value="9999"' in page.text
    assert 'id="answer"' not in page.text


def test_failure_of_the_sum_itself_is_500_and_never_a_number(cast, monkeypatch):
    broken = replace(registry.get("indexing"), function=lambda **_: 1 // 0)
    monkeypatch.setattr(catalogue, "CALCULATIONS", (broken,))
    client = Client(raise_request_exception=False)
    client.force_login(cast.owner)
    for do in ("", "keep"):
        answer = client.post(reverse("calculate", args=["indexing"]), ENTRIES | {"do": do})
        assert answer.status_code == 500
        assert 'id="answer"' not in answer.text
    assert not CalculationRecord.objects.exists()


# ---- sent with htmx and without --------------------------------------------------------------------------


def test_right_entries_sent_without_htmx_bring_the_whole_page(owner, part):
    answer = owner.post(part_url(part), ENTRIES)
    assert answer.status_code == 200
    assert "<html" in answer.text
    assert "10 spaces in the 21 circle" in answer.text
    assert "HX-Request" in answer["Vary"]


def test_right_entries_sent_with_htmx_bring_the_sum_alone_and_its_address(owner, part):
    answer = owner.post(part_url(part), ENTRIES, headers=HTMX)
    assert answer.status_code == 200
    assert "<html" not in answer.text
    assert "<title>Indexing, 84 divisions · Hornplate</title>" in answer.text
    assert "10 spaces in the 21 circle" in answer.text
    assert 'id="tb" hx-swap-oob="true"' in answer.text
    assert "HX-Request" in answer["Vary"]
    address = urlsplit(answer["HX-Push-Url"])
    assert address.path == part_url(part)
    assert parse_qs(address.query)["divisions"] == ["84"]
    assert "10 spaces in the 21 circle" in owner.get(answer["HX-Push-Url"]).text


def test_history_restored_by_htmx_brings_the_whole_page(owner, part):
    answer = owner.get(part_url(part), ENTRIES, headers=HTMX | {"HX-History-Restore-Request": "true"})
    assert "<html" in answer.text


@pytest.mark.parametrize("headers", [{}, HTMX], ids=["whole page", "htmx"])
def test_wrong_entries_come_back_as_typed_with_what_to_do(owner, part, headers):
    entries = {"divisions": "84<b>", "ratio": "9**9**9", "circles": "15,16", "keep_quarter": "yes"}
    answer = owner.post(part_url(part), entries, headers=headers)
    assert answer.status_code == 422
    assert ("<html" in answer.text) is not bool(headers)
    assert 'value="84&lt;b&gt;"' in answer.text
    assert 'value="9**9**9"' in answer.text
    assert ">15,16</textarea>" in answer.text
    assert re.search(r'value="yes"[^>]* checked', answer.text)
    assert answer.text.count('aria-invalid="true"') == 2
    assert '<a href="#e-ratio">Ratio of the head</a>' in answer.text
    assert 'id="e-ratio-read"' in answer.text
    assert 'id="answer"' not in answer.text
    assert "HX-Push-Url" not in answer
    assert not CalculationRecord.objects.exists()


@pytest.mark.parametrize(
    "typed",
    [
        "0,5 mm",
        "1 3/16 mmm",
        "9**9**9",
        "-84",
        "1" + "0" * 400,
        "10^400",
        "\u202e48",
        "\x00",
        "8" * 5000,
        "½",
    ],
)
def test_bad_entry_of_any_kind_is_refused_and_nothing_is_kept(owner, part, typed):
    for do in ("", "keep"):
        answer = owner.post(part_url(part), ENTRIES | {"divisions": typed, "do": do})
        assert answer.status_code == 422
        assert "Divisions wants mending" in answer.text
    assert not CalculationRecord.objects.exists()


def test_echo_of_one_entry_says_how_it_is_read_and_leaves_the_others_alone(owner, part):
    entries = {"do": "echo", "entry": "angle", "angle": "11 1/2", "divisions": "rubbish"}
    answer = owner.post(part_url(part), entries, headers=HTMX)
    assert answer.status_code == 200
    assert "read as 11 1/2° = 11° 30′" in answer.text
    assert "rubbish" not in answer.text


def test_echo_of_a_bad_entry_says_what_is_wrong(owner, part):
    entries = {"do": "echo", "entry": "divisions", "divisions": "57.5"}
    answer = owner.post(part_url(part), entries, headers=HTMX)
    assert 'aria-invalid="true"' in answer.text
    assert "57.5 is no whole number" in answer.text
    assert 'value="57.5"' in answer.text


def test_echo_of_no_such_entry_is_not_there(owner, part):
    assert owner.post(part_url(part), {"do": "echo", "entry": "colour"}).status_code == 404


def test_schedule_is_one_link_from_the_answer(owner, part):
    page = owner.post(part_url(part), ENTRIES).text
    link = re.search(r'<a href="([^"]+)">All 84 rows</a>', page)[1].replace("&amp;", "&")
    schedule = owner.get(link)
    assert schedule.status_code == 200
    assert schedule.text.count("<tr") == 85
    assert "Keep on S-016" in schedule.text


# ---- keep ------------------------------------------------------------------------------------------------


def test_keep_stores_the_sum_on_the_part_and_opens_it(cast, owner, part, stopped_clock):
    answer = keep(owner, part_url(part))
    record = CalculationRecord.objects.get()
    assert answer.status_code == 302
    assert answer["Location"] == reverse("record_page", args=[record.pk])
    assert (record.part, record.made_by, record.made_at) == (part, cast.owner, stopped_clock)
    assert record.headline == "10 spaces in the 21 circle"


def test_keep_twice_with_one_token_keeps_once(owner, part):
    token = uuid4()
    first, second = keep(owner, part_url(part), token), keep(owner, part_url(part), token)
    assert first["Location"] == second["Location"]
    assert CalculationRecord.objects.count() == 1


def test_keep_with_the_token_of_another_person_finds_nothing(cast, owner, part):
    token = uuid4()
    keep(owner, part_url(part), token)
    assert keep(cast.client("builder"), part_url(part), token).status_code == 404


def test_keep_takes_no_results_from_the_browser(owner, part):
    keep(owner, part_url(part), headline="1 space", results='{"plain": []}', revision="99")
    record = CalculationRecord.objects.get()
    assert (record.headline, record.revision) == ("10 spaces in the 21 circle", 1)


def test_keep_with_a_row_chosen_keeps_it_and_the_plates_name(cast, owner, part):
    make_head(cast.owner)
    keep(owner, part_url(part), row="compound-0", divisions="57")
    record = CalculationRecord.objects.get()
    assert record.context["chosen"] == {"method": "compound", "index": 0}
    assert record.context["answer"]["plate"]["name"] == "Plate 1"
    assert record.context["head"] == {"name": "H1", "ratio": 40}


def test_keep_for_no_part_belongs_to_its_maker(cast, owner):
    keep(owner, reverse("calculate", args=["indexing"]))
    record = CalculationRecord.objects.get()
    assert (record.part, record.made_by) == (None, cast.owner)


def test_keep_and_print_goes_on_to_the_card(owner, part):
    answer = keep(owner, part_url(part), then="card")
    record = CalculationRecord.objects.get()
    assert answer["Location"] == f"{reverse('card_new', args=[part.pk])}?record={record.pk}"


# ---- kept ------------------------------------------------------------------------------------------------


def test_record_page_shows_what_was_kept_and_the_ways_on(owner, part):
    keep(owner, part_url(part))
    record = CalculationRecord.objects.get()
    page = owner.get(record.get_absolute_url())
    for words in (
        f"kept sum {record.pk}",
        "10 spaces in the 21 circle",
        "read as 18 circles on 3 faces",
        part.get_absolute_url(),
        reverse("record_pdf", args=[record.pk]),
        reverse("record_json", args=[record.pk]),
        f"{reverse('card_new', args=[part.pk])}?record={record.pk}",
        "the 21 circle in ink",
    ):
        assert words in page.text, words


def test_record_page_never_works_anything_out(owner, part, monkeypatch):
    make_record(part, user=None, divisions="84")
    record = CalculationRecord.objects.get()
    before = owner.get(record.get_absolute_url()).text

    def refuse(**_):
        raise AssertionError("worked out again")

    broken = replace(registry.get("indexing"), function=refuse, revision=2)
    monkeypatch.setattr(catalogue, "CALCULATIONS", (broken, *catalogue.CALCULATIONS[1:]))
    after = owner.get(record.get_absolute_url())
    assert after.status_code == 200
    assert "rule 1" in after.text
    assert _without_tokens(after.text) == _without_tokens(before)


def _without_tokens(page):
    return re.sub(r'csrfmiddlewaretoken" value="[^"]+"|X-CSRFToken": "[^"]+"', "", page)


def test_record_whose_calculation_is_no_more_still_opens(owner, part, monkeypatch):
    record = make_record(part)
    monkeypatch.setattr(catalogue, "CALCULATIONS", ())
    page = owner.get(record.get_absolute_url())
    assert page.status_code == 200
    assert "Work it out again" not in page.text


def test_both_sums_stay_when_the_rule_or_an_entry_changes(owner, part):
    keep(owner, part_url(part))
    keep(owner, part_url(part), divisions="80")
    old, new = CalculationRecord.objects.order_by("pk")
    page = owner.get(new.get_absolute_url()).text
    assert f'What differs from <a href="{old.get_absolute_url()}">sum {old.pk}</a>' in page
    assert re.search(r"Divisions <small>entered</small></th><td[^>]*>84</td><td[^>]*>80</td>", page)
    older = owner.get(old.get_absolute_url()).text
    assert f"sum {new.pk} of" in older
    assert "10 spaces in the 21 circle" in older


def test_record_page_says_when_the_part_has_changed(owner, part):
    record = make_record(part)
    part.sheet = "12 C"
    part.save()
    page = owner.get(record.get_absolute_url()).text
    assert "Sheet was 12 B when this was kept, is now 12 C." in page
    assert "Sheet was 12 B" in owner.get(part.get_absolute_url()).text


def test_record_of_a_part_in_the_bin_opens_with_no_way_to_work_on_it(owner, part):
    record = make_record(part)
    part.sheet, part.binned_at = "12 C", clock.now()
    part.save()
    page = owner.get(record.get_absolute_url())
    assert page.status_code == 200
    assert "Sheet was 12 B" in page.text
    assert "Work it out again" not in page.text
    assert "Print the card" not in page.text


def test_work_it_out_again_fills_in_what_was_typed(owner, part):
    keep(owner, part_url(part), divisions="80", row="plain-1")
    record = CalculationRecord.objects.get()
    page = owner.get(record.get_absolute_url()).text
    link = re.search(r'href="([^"]+)">Work it out again', page)[1].replace("&amp;", "&")
    again = owner.get(link).text
    assert 'value="80"' in again
    assert re.search(rf'class="big"[^>]*>{record.headline}<', again)


def test_record_pdf_is_a_pdf_for_this_record(owner, part):
    record = make_record(part)
    answer = owner.get(reverse("record_pdf", args=[record.pk]))
    assert answer["Content-Type"] == "application/pdf"
    assert f"sum-{record.pk}.pdf" in answer["Content-Disposition"]
    assert answer.content.startswith(b"%PDF")


def test_words_of_a_user_are_never_markup(cast, owner):
    nasty = '<script>alert("1")</script>'
    make_head(cast.owner, name=nasty[:40])
    part = make_part(make_assembly(cast.build).build, name=f"84 T {nasty}")
    keep(owner, part_url(part))
    record = CalculationRecord.objects.get()
    for url in (part_url(part), record.get_absolute_url(), reverse("sums")):
        assert "<script>alert" not in owner.get(url).text


# ---- speed -----------------------------------------------------------------------------------------------


def test_no_page_asks_more_than_15_questions(cast, owner, part, django_assert_max_num_queries):
    for place in range(4):
        make_head(cast.owner, name=f"H{place}", is_usual=place == 0)
    for divisions in ("84", "80", "76", "72"):
        make_record(part, user=cast.owner, divisions=divisions, circles=f"{CIRCLES}/57,58,59,{divisions}")
    record = records.latest(part, "indexing")
    urls = [part_url(part), part_url(part, "indexing-schedule"), reverse("sums")]
    urls += [reverse(name, args=[record.pk]) for name in ("record_page", "record_pdf", "record_json")]
    for url in urls:
        with django_assert_max_num_queries(15):
            assert owner.get(url).status_code == 200
    with django_assert_max_num_queries(15):
        assert keep(owner, part_url(part)).status_code == 302
