"""The JSON of a sum: the contract's object, the same from the command, the page and the record."""

import json
from datetime import UTC, datetime
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.urls import reverse

from calc import records
from calc.models import CalculationRecord
from tests.cast import make_cast
from tests.factories import CIRCLES, make_part, make_record

pytestmark = pytest.mark.django_db

CONTRACT = {"calculation", "revision", "entered", "inputs", "results", "working", "warnings", "sources"}
KEPT = Path(__file__).parent / "kept"


@pytest.fixture
def cast():
    return make_cast()


def fetch(cast, record):
    return cast.client("owner").get(reverse("record_json", args=[record.pk]))


def test_json_of_a_record_is_the_contracts_object_and_where_it_is_kept(cast, stopped_clock):
    record = make_record(make_part(cast.build, number="S-016"), user=cast.owner)
    answer = fetch(cast, record)
    found = answer.json()
    assert answer["Content-Type"] == "application/json"
    kept = {"record", "made_at", "part", "chosen", "replaces", "brought_from", "rests_on"}
    assert set(found) == CONTRACT | kept
    assert (found["record"], found["part"], found["made_at"]) == (
        record.pk,
        "S-016",
        stopped_clock.isoformat(),
    )
    assert set(found["working"][0]) == {"label", "formula", "figures", "value", "unit", "source"}


def test_json_of_a_record_has_entries_as_typed_and_inputs_in_base_units(cast):
    record = make_record(user=cast.owner, divisions="", angle="11 1/2 deg", circles="18, 24")
    found = fetch(cast, record).json()
    assert found["entered"]["angle"] == "11 1/2 deg"
    assert found["inputs"]["angle"] == 11.5
    assert found["inputs"]["circles"] == [[18, 24]]


def test_json_has_null_for_what_has_no_meaning_and_does_not_round(cast):
    record = make_record(user=cast.owner, divisions="84")
    results = fetch(cast, record).json()["results"]
    assert results["missing_factor"] is None
    assert results["division_angle_deg"] == 360 / 84


def test_json_round_trip_gives_an_equal_record(cast):
    record = make_record(user=cast.owner)
    found = fetch(cast, record).json()
    fields = ("revision", "entered", "inputs", "results", "working", "warnings", "sources")
    copy = CalculationRecord(key=found["calculation"], **{name: found[name] for name in fields})
    assert records.as_json(copy) == records.as_json(record)


def test_json_of_a_record_is_what_the_command_prints(cast):
    record = make_record(user=cast.owner)
    out = StringIO()
    call_command(
        "calculate", "indexing", "divisions=84", "ratio=40", f"circles={CIRCLES}", "--json", stdout=out
    )
    found = fetch(cast, record).json()
    assert {name: found[name] for name in CONTRACT} == json.loads(out.getvalue())


def test_json_of_a_record_is_for_those_who_may_see_it(cast):
    on_part = make_record(make_part(cast.build), user=cast.owner)
    alone = make_record(user=cast.owner)
    statuses = {
        who: [
            cast.client(who).get(reverse("record_json", args=[one.pk])).status_code
            for one in (on_part, alone)
        ]
        for who in ("owner", "builder", "stranger", "nobody")
    }
    assert statuses == {
        "owner": [200, 200],
        "builder": [200, 404],
        "stranger": [404, 404],
        "nobody": [302, 302],
    }


@pytest.mark.parametrize("path", sorted(KEPT.glob("*.json")), ids=lambda path: path.stem)
def test_record_kept_by_each_revision_still_opens(cast, path):
    fields = json.loads(path.read_text(encoding="utf-8"))
    made_at = datetime(2026, 3, 14, 10, 0, tzinfo=UTC)
    record = CalculationRecord.objects.create(**fields, made_by=cast.owner, made_at=made_at)
    page = cast.client("owner").get(record.get_absolute_url())
    assert page.status_code == 200
    assert fields["headline"] in page.text
    assert fetch(cast, record).json()["results"] == fields["results"]
    assert cast.client("owner").get(reverse("record_pdf", args=[record.pk])).content.startswith(b"%PDF")


def test_there_is_a_kept_record_of_every_calculation_at_its_revision():
    from calc import registry

    wanted = {f"{one.key}-{one.revision}" for one in registry.catalogue().values()}
    assert wanted <= {path.stem for path in KEPT.glob("*.json")}
