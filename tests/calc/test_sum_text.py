"""A sum as plain text: all that its page says, at an address of its own."""

import json
import re
from pathlib import Path

import pytest
from django.urls import reverse

from calc import records, registry
from calc.models import CalculationRecord
from calc.sum_text import sum_text
from tests.factories import CIRCLES, make_head, make_part, make_record

KEPT = Path(__file__).parent / "kept"
ENTRIES = {"divisions": "84", "ratio": "40", "circles": CIRCLES}


def run_of(key):
    kept = json.loads((KEPT / f"{key}-1.json").read_text())
    return records.run(registry.get(key), kept["entered"], unit=kept["unit"])


def text_of(run):
    return sum_text(records.sheet(run, context={}), records.tables_of(run, {}))


@pytest.mark.parametrize("key", [path.name.removesuffix("-1.json") for path in sorted(KEPT.glob("*-1.json"))])
def test_text_of_every_sum_then_nothing_of_the_page_is_wanting(key):
    run = run_of(key)
    text, sheet, answer = text_of(run), records.sheet(run, context={}), records.answer_of(run, {})
    wanted = [
        sheet["title"],
        answer["big"],
        sheet["statement"],
        *(one["value"] for one in answer["facts"][:4]),
    ]
    wanted += [one["label"] for one in sheet["entries"]]
    wanted += [part for line in sheet["working"] for part in (line["label"], line["figures"], line["value"])]
    wanted += [one["title"] for one in sheet["sources"]]
    wanted += [one["text"] for one in sheet["warnings"]]
    sizes = sheet.get("sizes")
    wanted += [cell for line in sizes["lines"] for cell in line["cells"]] if sizes else []
    for table in records.tables_of(run, {}):
        wanted += [table["title"], *(column["label"] for column in table["columns"])]
        wanted += [cell for row in table["rows"] for cell in row["cells"]]
    assert [one for one in wanted if one not in text] == []
    assert not re.search(r"[ \t]+$", text, re.M)
    assert text.endswith("\n")


def test_text_of_a_table_then_figures_stand_under_their_heads_at_the_right():
    text = text_of(run_of("bolt-circle"))
    rows = text[text.index("Coordinates") :].split("\n\n")[0].splitlines()[1:]
    assert len(rows) == 7
    assert len({len(row) for row in rows}) == 1


@pytest.mark.django_db
class TestPages:
    """The addresses of the text, for a sum that is kept and for one that is not."""

    def test_text_of_a_record_then_it_is_plain_text_with_its_number(self, client, django_user_model):
        owner = django_user_model.objects.create_user("owner")
        client.force_login(owner)
        record = make_record(user=owner)
        answer = client.get(reverse("record_text", args=[record.pk]))
        assert answer["Content-Type"] == "text/plain; charset=utf-8"
        assert f"Sum {record.pk}, revision 1, kept" in answer.text
        assert "10 spaces in the 21 circle" in answer.text

    def test_text_of_entries_then_worked_out_and_not_kept(self, client, django_user_model):
        client.force_login(django_user_model.objects.create_user("owner"))
        answer = client.get(reverse("sum_text", args=["indexing"]), ENTRIES | {"row": "plain-0"})
        assert answer.status_code == 200
        assert "Not kept; worked out" in answer.text
        assert "10 spaces in the 21 circle" in answer.text
        assert not CalculationRecord.objects.exists()

    def test_text_of_nothing_or_of_wrong_entries_then_it_says_so(self, client, django_user_model):
        client.force_login(django_user_model.objects.create_user("owner"))
        place = reverse("sum_text", args=["indexing"])
        empty = client.get(place)
        assert (empty.status_code, "Nothing is worked out yet" in empty.text) == (200, True)
        wrong = client.get(place, ENTRIES | {"divisions": "0,5"})
        assert wrong.status_code == 422
        assert "Divisions: " in wrong.text
        none = client.get(place, ENTRIES | {"divisions": "9999"})
        assert none.status_code == 200
        assert "Would do: " in none.text
        assert client.get(reverse("sum_text", args=["tooth-fairy"])).status_code == 404

    def test_page_then_its_link_gives_the_same_sum_as_text(self, client, django_user_model):
        owner = django_user_model.objects.create_user("owner")
        client.force_login(owner)
        make_head(owner)
        page = client.get(reverse("calculate", args=["indexing"]), {"divisions": "57", "row": "compound-1"})
        link = re.search(r'<a href="([^"]+)">plain text</a>', page.text)[1].replace("&amp;", "&")
        big = re.search(r'class="big"[^>]*>([^<]+)<', page.text)[1]
        assert big in client.get(link).text

    def test_record_page_then_it_links_to_the_text(self, client, django_user_model):
        owner = django_user_model.objects.create_user("owner")
        client.force_login(owner)
        record = make_record(user=owner)
        assert reverse("record_text", args=[record.pk]) in client.get(record.get_absolute_url()).text

    def test_text_then_words_of_a_user_stay_words(self, client, django_user_model):
        owner = django_user_model.objects.create_user("owner")
        client.force_login(owner)
        part = make_part(name="84 T <b>wheel</b>")
        part.build.memberships.create(user=owner, role="owner")
        answer = client.get(reverse("record_text", args=[make_record(part, user=owner).pk]))
        assert "84 T <b>wheel</b>" in answer.text
        assert answer["X-Content-Type-Options"] == "nosniff"
