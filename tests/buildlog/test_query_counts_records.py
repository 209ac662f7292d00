"""Pages ask no more of a long record than of a short one, and read it by its indexes.

600 and 6,000 notes, 1,000 and 10,000 photos: enough for every page to be full and to be turned. At 20,000 and
50,000 `python -m tests.bench.records` counts and times the same pages.
"""

import pytest
from django.db import connection
from django.db.models import Count, Sum
from django.test import Client
from django.test.utils import CaptureQueriesContext

from buildlog.finding_kinds import KINDS
from buildlog.models import Photo
from tests.bench.records import Record, pages_of
from tests.factories import make_build, make_part, make_user
from tests.many_records import write_notes, write_photos

pytestmark = pytest.mark.django_db

MOST = 20


def long_record(owner, times) -> Record:
    build = make_build(owner)
    part, _ = make_part(build, number="S-016"), make_part(build, number="S-017")
    write_notes(build, 600 * times, part)
    write_photos(build, 1000 * times, part)
    photos = Photo.objects.live().filter(build=build).latest_first()
    return Record(build, part, build.log.first(), photos[500])


def asked_of(client, record) -> dict[str, int]:
    found = {}
    for name, address in pages_of(record).items():
        client.get(address)  # The first look at a build is written into the session.
        with CaptureQueriesContext(connection) as queries:
            answer = client.get(address)
        assert answer.status_code == 200, name
        found[name] = len(queries)
    return found


def test_pages_when_the_record_is_ten_times_as_long_then_they_ask_no_more():
    owner = make_user()
    client = Client()
    client.force_login(owner)
    few, many = (asked_of(client, long_record(owner, times)) for times in (1, 10))
    assert many == few
    assert {page: count for page, count in many.items() if count > MOST} == {}


def plan_of(query) -> str:
    return query.explain()


@pytest.mark.skipif(connection.vendor != "sqlite", reason="plans are told in SQLite's own words")
def test_lists_when_a_record_is_long_then_nothing_is_sorted_and_what_is_counted_is_read_from_an_index():
    build = make_build(make_user())
    photos = Photo.objects.live().filter(build=build)
    plans = {
        "log": plan_of(build.log.all()),
        "photos": plan_of(photos.latest_first()),
        "closing up": plan_of(photos.filter(before_closing_up=True).latest_first()),
        **{kind.key: plan_of(kind.hits(build, "porous")) for kind in KINDS if kind.key in ("log", "photos")},
    }
    assert {name: plan for name, plan in plans.items() if "TEMP B-TREE" in plan or "SCAN" in plan} == {}
    counted = {
        "log": plan_of(build.log.order_by().values("build").annotate(Count("pk"), Sum("minutes"))),
        "photos": plan_of(photos.order_by().values("build").annotate(Count("pk"))),
        "closing up": plan_of(
            photos.filter(before_closing_up=True).order_by().values("build").annotate(Count("pk"))
        ),
    }
    assert {name: plan for name, plan in counted.items() if "COVERING INDEX" not in plan} == {}
