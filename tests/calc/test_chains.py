"""Kept sums that rest on others: the link is kept, and what changed below says so above."""

from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext

from buildlog.models import Part
from buildlog.offers import offers_of
from calc import records, registry
from calc.models import CalculationRecord, RecordLink
from tests.factories import make_part, make_record, make_user

pytestmark = pytest.mark.django_db

#: What a broach is pushed with, which no other sum gives.
BROACH = {"rise_per_pass": "0.058 in", "shims": "0.058 in"}


def keep(part, key, **typed):
    """Kept as the page does it: the offered entries filled in, and what was typed over them."""
    offers = offers_of(Part.objects.get(pk=part.pk), key)
    entered = {name: one.text for name, one in offers.items()} | typed
    return records.keep(
        records.run(registry.get(key), entered),
        part=part,
        user=make_user(),
        token=uuid4(),
        taken={name: one.taken for name, one in offers.items() if one.taken},
    )


def reasons(record):
    return records.stale_reasons(CalculationRecord.objects.get(pk=record.pk))


@pytest.fixture
def part():
    return make_part(name="Boss", sheet="12 B")


@pytest.fixture
def chain(part):
    """A fit, the keyway in its bore, and the broaching of that keyway."""
    fit = make_record(part, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    keyway = keep(part, "keyway", standard="b17.1")
    return fit, keyway, keep(part, "broaching", **BROACH)


def test_keep_when_entries_stand_as_offered_then_the_record_rests_on_the_others(chain):
    fit, keyway, broaching = chain
    assert [(one.entry, one.head_id) for one in keyway.rests_on.all()] == [("shaft_diameter", fit.pk)]
    assert records.links_of(keyway) == [
        {
            "entry": "shaft_diameter",
            "head": fit.pk,
            "key": "fit",
            "figure": "inputs.nominal",
            "text": "1 1/8 in",
            "value": 28.575,
        }
    ]
    assert {one.entry for one in broaching.rests_on.all()} == {
        "bore",
        "key_width",
        "hub_crown_depth",
        "hub_crown_depth_max",
    }
    assert {one.head_id for one in RecordLink.objects.filter(record=broaching)} == {keyway.pk}


def test_keep_when_an_offered_entry_is_typed_over_then_nothing_is_linked(part):
    make_record(part, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    assert not keep(part, "keyway", shaft_diameter="1 1/4 in", standard="b17.1").rests_on.exists()


def test_keep_when_the_sum_named_is_of_another_part_then_nothing_is_linked(part):
    other = make_record(make_part(), key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    run = records.run(registry.get("keyway"), {"shaft_diameter": "1 1/8 in", "standard": "b17.1"})
    taken = {"shaft_diameter": records.Taken(other.pk, "inputs.nominal")}
    for whose in (part, None):
        kept = records.keep(run, part=whose, user=make_user(), token=uuid4(), taken=taken)
        assert not kept.rests_on.exists()
        assert records.links_of(kept) == []


@pytest.mark.parametrize("figure", ["inputs.hole", "results.fancy", "secret.nominal", "nominal", ""])
def test_keep_when_the_figure_named_is_another_or_none_then_nothing_is_linked(part, figure):
    fit = make_record(part, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    run = records.run(registry.get("keyway"), {"shaft_diameter": "1 1/8 in", "standard": "b17.1"})
    taken = {"shaft_diameter": records.Taken(fit.pk, figure)}
    kept = records.keep(run, part=part, user=make_user(), token=uuid4(), taken=taken)
    assert not kept.rests_on.exists()


def test_stale_reasons_while_nothing_has_changed_are_none(chain):
    assert [reasons(record) for record in chain] == [[], [], []]


def test_stale_reasons_when_the_head_is_worked_out_again_then_the_whole_chain_says_so(part, chain):
    fit, keyway, broaching = chain
    again = make_record(part, key="fit", nominal="1.25 in", hole="H7", shaft="g6")
    told = (
        f"Sum {fit.pk}, limits and fits, was worked out again as sum {again.pk}: "
        "its nominal size is now 1.25 in, was 1 1/8 in."
    )
    assert reasons(keyway) == [told]
    assert reasons(broaching) == [f"It rests on sum {keyway.pk}, keyway, which is stale: {told}"]
    assert reasons(fit) == reasons(again) == []


def test_stale_reasons_when_the_same_figure_comes_out_again_then_none(part, chain):
    _, keyway, broaching = chain
    make_record(part, key="fit", nominal="1.125", hole="H8", shaft="f7")
    assert reasons(keyway) == reasons(broaching) == []


def test_stale_reasons_when_the_middle_is_worked_out_again_then_the_end_says_its_figures(part, chain):
    """BS 46 has another depth in the hub than B17.1 for the same 1 1/8 in shaft."""
    _, keyway, broaching = chain
    again = keep(part, "keyway", standard="bs46")
    assert reasons(again) == []
    found = reasons(broaching)
    assert found
    for reason in found:
        assert reason.startswith(f"Sum {keyway.pk}, keyway, was worked out again as sum {again.pk}: its ")
    assert any("depth in the hub" in reason for reason in found)


def test_stale_reasons_when_the_part_changes_then_each_sum_says_it_once(part, chain):
    part.sheet = "12 C"
    part.save()
    for record in chain:
        assert reasons(record) == ["Sheet was 12 B when this was kept, is now 12 C."]


def test_stale_reasons_when_only_the_sum_below_was_kept_before_the_change_then_it_is_named(part):
    fit = make_record(part, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    part.sheet = "12 C"
    part.save()
    changed = "Sheet was 12 B when this was kept, is now 12 C."
    assert reasons(keep(part, "keyway", standard="b17.1")) == [
        f"It rests on sum {fit.pk}, limits and fits, which is stale: {changed}"
    ]


def test_stale_reasons_when_two_kinds_rest_on_each_other_then_they_end(part):
    """The keyway takes its shaft from the fit, and a later fit its size from that keyway."""
    first = make_record(part, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    keyway = keep(part, "keyway", standard="b17.1")
    second = keep(part, "fit", hole="H8", shaft="f7")
    assert {one.head_id for one in second.rests_on.all()} == {keyway.pk}
    assert [reasons(record) for record in (first, keyway, second)] == [[], [], []]
    Part.objects.filter(pk=part.pk).update(sheet="12 C")
    for record in (first, keyway, second):
        assert reasons(record) == ["Sheet was 12 B when this was kept, is now 12 C."]


def test_stale_of_many_sums_then_the_database_is_asked_once(part, chain):
    for _ in range(12):
        keep(part, "broaching", **BROACH)
    kept = list(part.records.select_related("part__build"))
    now = records.part_facts(part)
    with CaptureQueriesContext(connection) as asked:
        found = records.stale_of(kept, now)
    assert len(asked) == 1
    assert set(found) == {record.pk for record in kept}
    with CaptureQueriesContext(connection) as asked:
        records.stale_of(kept, now, among=kept)
    assert len(asked) == 0


def test_stale_of_no_sums_or_of_sums_without_a_part_then_nothing():
    assert records.stale_of([]) == {}
    alone = make_record()
    assert records.stale_of([alone]) == {alone.pk: []}


def test_text_of_a_length_then_it_carries_the_unit_it_was_read_in(part):
    bare = make_record(part, key="fit", unit="mm", nominal="30", hole="H7", shaft="g6")
    assert records.text_of(bare, "inputs.nominal") == "30 mm"
    inch = make_record(part, key="fit", nominal="1.25", hole="H7", shaft="g6")
    assert records.text_of(inch, "inputs.nominal") == "1.25 in"
    assert records.text_of(inch, "inputs.hole_measured") == ""
    assert records.text_of(inch, "results.nothing") == ""


def test_json_of_a_record_then_it_names_what_it_rests_on(chain):
    fit, keyway, _ = chain
    (one,) = records.kept_json(keyway)["rests_on"]
    assert (one["entry"], one["head"], one["text"]) == ("shaft_diameter", fit.pk, "1 1/8 in")


def test_migrations_then_the_models_want_no_more():
    call_command("makemigrations", "calc", check=True, dry_run=True, verbosity=0)
