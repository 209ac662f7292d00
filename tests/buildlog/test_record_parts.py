"""A sum kept for no part, put to one: kept on it anew, once, and only by whoever kept it."""

from dataclasses import replace
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.put_sum import CannotPutError, put_to_part
from calc import catalogue, records, registry
from calc.models import CalculationRecord
from tests.factories import make_build, make_part, make_record
from tests.pages import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def part(build):
    return make_part(build, number="S-016", name="Final-drive wheel 84 T", sheet="12 B")


@pytest.fixture
def record(cast):
    return make_record(user=cast.owner)


def page_of(record):
    return reverse("record_to_part", args=[record.pk])


def put(client, record, part, token=None):
    return client.post(page_of(record), {"part": part.pk, "token": str(token or uuid4())})


def test_put_then_a_new_sum_is_kept_on_the_part_and_the_first_stays(site, cast, record, part):
    before = CalculationRecord.objects.values().get(pk=record.pk)
    answer = put(site, record, part)
    new = part.records.get()
    assert answer["Location"] == new.get_absolute_url()
    assert (new.brought_from, new.made_by, new.entered) == (record, cast.owner, record.entered)
    assert new.results == record.results
    assert new.context["part"]["key"] == "S-016"
    assert CalculationRecord.objects.values().get(pk=record.pk) == before
    part.sheet = "12 C"
    part.save()
    assert records.stale_reasons(CalculationRecord.objects.get(pk=new.pk))


def test_put_then_each_sum_tells_of_the_other(site, record, part):
    put(site, record, part)
    new = part.records.get()
    assert f"Put to this part from sum {record.pk}" in words(site.get(new.get_absolute_url()))
    assert f"Put to S-016 Final-drive wheel 84 T as sum {new.pk}" in words(
        site.get(record.get_absolute_url())
    )


def test_put_when_a_builder_reads_it_then_the_first_is_named_and_not_linked(cast, site, record, part):
    put(site, record, part)
    page = cast.client("builder").get(part.records.get().get_absolute_url())
    assert f"from sum {record.pk}, kept for none" in words(page)
    assert f'href="{record.get_absolute_url()}"' not in page.text


def test_put_twice_with_one_token_or_from_two_tabs_then_it_is_kept_once(site, record, part):
    token = uuid4()
    places = {put(site, record, part, token)["Location"] for _ in range(2)}
    places.add(put(site, record, part)["Location"])
    assert len(places) == 1
    assert part.records.count() == 1


def test_put_to_a_second_part_then_it_is_kept_there_too(site, build, record, part):
    put(site, record, part)
    other = make_part(build, number="S-021")
    put(site, record, other)
    assert (part.records.count(), other.records.count()) == (1, 1)


def test_put_when_one_stands_on_the_part_then_the_new_one_stands_beside_it(site, cast, record, part):
    earlier = make_record(part, user=cast.owner, divisions="80")
    put(site, record, part)
    assert part.records.first().replaces == earlier


def test_put_to_a_part_of_somebody_else_or_in_the_bin_then_nothing_is_found(site, cast, record, build):
    theirs = make_part(make_build(cast.stranger, name="Yet another"))
    binned = make_part(build, number="S-099", binned_at=clock.now())
    for part in (theirs, binned):
        assert put(site, record, part).status_code == 404
    assert CalculationRecord.objects.count() == 1


def test_put_of_a_sum_of_somebody_else_then_nothing_is_found(cast, record, part):
    for who in ("builder", "stranger"):
        client = cast.client(who)
        assert client.get(page_of(record)).status_code == 404
        assert put(client, record, part).status_code == 404
    assert not part.records.exists()


def test_put_of_a_sum_that_stands_on_a_part_then_nothing_is_found(site, cast, part):
    kept = make_record(part, user=cast.owner)
    assert site.get(page_of(kept)).status_code == 404
    assert put(site, kept, part).status_code == 404


@pytest.mark.parametrize("sent", [{}, {"part": "x"}, {"part": "-1"}, {"part": "9" * 30}, {"part": "1"}])
def test_put_when_no_part_or_no_token_is_sent_then_it_says_so(site, record, sent):
    answer = site.post(page_of(record), sent)
    assert answer.status_code == 422
    assert "No part was chosen" in answer.text


def test_put_when_the_rule_refuses_it_today_then_it_says_why_and_keeps_nothing(
    site, record, part, monkeypatch
):
    monkeypatch.setattr(catalogue, "CALCULATIONS", ())
    with pytest.raises(CannotPutError, match="there is no calculation"):
        put_to_part(record, part, by=record.made_by, token=uuid4())
    answer = put(site, record, part)
    assert answer.status_code == 422
    assert "cannot be worked out again" in answer.text
    assert not part.records.exists()


def test_put_when_the_rule_has_changed_then_the_new_one_says_what_differs(site, record, part, monkeypatch):
    changed = replace(registry.get("indexing"), revision=2)
    others = (one for one in catalogue.CALCULATIONS if one.key != "indexing")
    monkeypatch.setattr(catalogue, "CALCULATIONS", (changed, *others))
    put(site, record, part)
    assert "rule was revision 1, is revision 2" in words(site.get(part.records.get().get_absolute_url()))


def test_page_then_it_finds_parts_of_all_ones_builds_and_of_no_other(site, cast, record, part):
    second = make_part(make_build(cast.owner, name="Second engine"), number="Z-1", name="Flywheel")
    make_part(make_build(cast.stranger, name="Yet another"), number="Z-2", name="Secret nut")
    page = words(site.get(page_of(record)))
    assert part.name in page
    assert second.name in page
    assert "Secret nut" not in page
    found = words(site.get(page_of(record), {"find": "z-1"}))
    assert second.name in found
    assert part.name not in found
    assert "No part is like that" in words(site.get(page_of(record), {"find": "nothing like it"}))


def test_page_when_there_is_no_build_then_it_says_what_to_do(db):
    from django.test import Client

    from tests.factories import make_user

    alone = make_user()
    client = Client()
    client.force_login(alone)
    page = client.get(page_of(make_record(user=alone)))
    assert "There is no build yet" in page.text


def test_record_page_then_only_a_sum_of_no_part_can_be_put_to_one(site, cast, record, part):
    assert page_of(record) in site.get(record.get_absolute_url()).text
    kept = make_record(part, user=cast.owner)
    assert "Put it to a part" not in site.get(kept.get_absolute_url()).text
