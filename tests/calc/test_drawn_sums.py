"""The page of a sum with pictures and sizes: a gear, a keyway, a fit; before an answer, after it, and kept.

The sizes of the 84 and 18 tooth gears are worked by hand from the definitions: 84/6 = 14 in pitch diameter,
86/6 = 14.333 in over the teeth, (84 + 18)/(2 x 6) = 8.5 in centres.
"""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from calc import pictures, records, registry
from calc.models import CalculationRecord
from tests.cast import make_cast
from tests.factories import CIRCLES, make_head, make_part, make_record

pytestmark = pytest.mark.django_db

HTMX = {"HX-Request": "true"}
GEAR = {"teeth": "84", "diametral_pitch": "6", "mate_teeth": "18", "face_width": "1 3/4"}
SUMS = {
    "spur-gear": GEAR,
    "keyway": {"shaft_diameter": "1 1/8 in", "standard": "b17.1"},
    "fit": {"nominal": "40 mm", "hole": "H7", "shaft": "p6"},
}
PICTURES = {"spur-gear": 2, "keyway": 2, "fit": 1}


@pytest.fixture
def cast():
    return make_cast()


@pytest.fixture
def owner(cast):
    return cast.client("owner")


def url(key):
    return reverse("calculate", args=[key])


def svgs(page):
    return re.findall(r'<figure class="view sized (c\d)"><svg class="dw"', page)


def in_order(page, *words):
    places = [page.index(word) for word in words]
    assert places == sorted(places), dict(zip(words, places, strict=True))


@pytest.mark.parametrize("key", SUMS)
def test_sum_when_worked_out_then_answer_pictures_sizes_and_every_line_stand_in_this_order(owner, key):
    page = owner.get(url(key), SUMS[key])
    assert page.status_code == 200
    assert len(svgs(page.text)) == PICTURES[key]
    in_order(
        page.text,
        "Change an entry",
        'id="answer"',
        "view sized",
        "<span>Sizes<",
        "<span>Entered<",
        "<span>Working<",
    )
    found = records.run(registry.get(key), SUMS[key])
    shown = page.text.count('<span class="fm">')
    assert shown == len(found.outcome.working)
    assert "style=" not in page.text
    assert 'class="fin"' in page.text
    assert "Boxed figures are finished sizes" in page.text


def test_gear_when_worked_out_then_the_answer_is_converted_and_its_sizes_are_side_by_side(owner):
    page = owner.get(url("spur-gear"), GEAR).text
    assert re.search(r"14\.333 in <small class=\"cv\">364\.07 mm</small>", page)  # 86/6 x 25.4 = 364.067
    assert re.search(r"Outside diameter</th><td class=\"num\"><span class=\"fin\">14.333</span>", page)
    assert "8.500" in page
    assert svgs(page) == ["c7", "c5"]
    assert re.search(r"<dt>Units</dt><dd>inches</dd>", page)
    assert re.search(r"<dt>Scale</dt><dd>to scale</dd>", page)
    assert "Red on the plate" not in page


def test_gear_when_its_working_is_long_then_it_goes_on_under_the_sizes(owner):
    page = owner.get(url("spur-gear"), GEAR).text
    in_order(page, "<span>Sizes<", "<span>Working<", "<span>Working, continued<", "<span>Sources<")


def test_fit_when_worked_out_then_sizes_and_entries_stand_beside_its_one_picture(owner):
    page = owner.get(url("fit"), SUMS["fit"]).text
    in_order(page, "view sized c7", "<span>Sizes<", "<span>Entered<", '<ol class="work wide">')
    assert "Working, continued" not in page


@pytest.mark.parametrize(("key", "unit"), [("keyway", "inches"), ("indexing", "counts, degrees")])
def test_sum_when_nothing_is_worked_out_then_entries_are_shown_and_units_named(owner, key, unit):
    page = owner.get(url(key)).text
    assert "Nothing is worked out yet" in page
    assert '<details class="change">' not in page
    assert f"<dt>Units</dt><dd>{unit}</dd>" in page


def test_keyway_when_nothing_is_entered_then_only_what_is_needed_is_asked_for(owner):
    page = owner.get(url("keyway")).text
    asked = page[page.index("Nothing is worked out yet") :]
    assert "#e-shaft_diameter" in asked
    assert "#e-bore_measured" not in asked
    assert "Red on the plate" not in page


def test_sum_without_circles_when_heads_are_owned_then_it_asks_for_none(cast, owner):
    make_head(cast.owner)
    make_head(cast.owner, name="Table", is_usual=False)
    page = owner.get(url("keyway"), SUMS["keyway"]).text
    assert "Own head" not in page
    assert 'name="head"' not in page


def test_sum_when_swapped_in_then_the_legend_comes_with_it(owner):
    page = owner.post(url("spur-gear"), GEAR, headers=HTMX).text
    assert '<ul class="legend" id="legend" hx-swap-oob="true">' in page
    assert "Boxed figures" in page


def test_wrong_entry_when_sent_then_it_is_named_and_all_that_was_typed_is_there(owner):
    page = owner.post(url("spur-gear"), GEAR | {"diametral_pitch": "2 MOD"})
    assert page.status_code == 422
    assert "2 MOD is a module: enter it as the module" in page.text
    assert 'value="2 MOD"' in page.text
    assert 'value="1 3/4"' in page.text


def test_optional_choice_when_shown_then_it_can_be_left_as_usual(owner):
    page = owner.get(url("spur-gear")).text
    assert re.search(r'name="depth_system" value=""[^>]* checked> as usual', page)
    sent = owner.post(url("spur-gear"), GEAR | {"depth_system": ""})
    assert sent.status_code == 200


@pytest.mark.parametrize("key", SUMS)
def test_sum_when_kept_then_its_page_and_paper_show_the_same(cast, owner, key):
    part = make_part(cast.build)
    address = reverse("part_calculate", args=[part.pk, key])
    kept = owner.post(address, SUMS[key] | {"do": "keep", "token": str(uuid4())})
    record = CalculationRecord.objects.get()
    assert kept.url == record.get_absolute_url()
    page = owner.get(record.get_absolute_url()).text
    assert len(svgs(page)) == PICTURES[key]
    answer = record.context["answer"]
    assert answer["big"] in page
    assert answer["big_small"] in page
    assert page.count('<span class="fm">') == len(record.working)
    assert f"<dt>Units</dt><dd>{answer['units']}</dd>" in page
    paper = owner.get(reverse("record_pdf", args=[record.pk]))
    assert paper.content.startswith(b"%PDF")


def test_choice_when_kept_then_it_is_listed_by_its_words():
    found = records.run(registry.get("keyway"), SUMS["keyway"])
    entries = {one["label"]: one for one in records.sheet(found)["entries"]}
    assert entries["Standard"]["typed"] == "ANSI B17.1, inch"
    assert entries["Standard"]["read"] == ""


def test_record_kept_before_there_were_pictures_then_its_page_is_as_it_was(owner, cast):
    record = make_record(user=cast.owner, divisions="84", circles=CIRCLES)
    answer = record.context["answer"]
    assert not {"pictures", "sizes", "units", "why", "big_small"} & set(answer)
    page = owner.get(record.get_absolute_url()).text
    assert 'class="entered"' in page or "c3 entered" in page
    assert "counts, degrees" in page
    assert "Red on the plate" in page
    assert not svgs(page)


@pytest.mark.parametrize(("unit", "said"), [("inch", "; sizes in inches"), ("mm", "; sizes in millimetres")])
def test_caption_when_a_drawing_carries_sizes_then_it_names_their_unit(unit, said):
    picture = {
        "kind": "keyway-shaft",
        "figures": {"unit": unit},
        "strong": "Shaft in section",
        "text": "1/4 in key; drawn to scale",
        "wide": False,
    }
    assert pictures.caption_of(picture) == f"1/4 in key; drawn to scale{said}"
    assert pictures.caption_of(picture | {"figures": {}}) == "1/4 in key; drawn to scale"
