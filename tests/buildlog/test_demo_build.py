"""The demo build: loaded through the importer, once, and taken away again in one step."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from buildlog import clock
from buildlog.actions.demo import load_demo, remove_demo
from buildlog.lists.comparing import compare
from buildlog.lists.reading import read_list
from buildlog.lists.writing import HEADINGS, csv_bytes, list_rows, xlsx_bytes
from buildlog.models import (
    Assembly,
    Build,
    DividingHead,
    GearCutter,
    HistoryLine,
    IndexPlate,
    Kind,
    Part,
    PartUse,
    Role,
    Stage,
    WorkCard,
)
from calc import records
from tests.factories import make_build, make_head, make_part, make_record, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner():
    return make_user()


def test_demo_when_loaded_then_it_is_the_owners_and_marked(owner):
    said = load_demo(owner)
    build = Build.objects.get()
    assert "420 part records, all invented" in said
    assert (build.name, build.scale, build.units, build.currency, build.is_demo) == (
        "Marlpit", "4 in", "inch", "GBP", True,
    )  # fmt: skip
    assert build.memberships.get().user == owner
    assert build.memberships.get().role == Role.OWNER


def test_demo_when_loaded_then_of_the_size_it_is_said_to_be(owner):
    load_demo(owner)
    build = Build.objects.get()
    assert build.parts.count() == 420
    assert build.assemblies.filter(parent=None).count() == 9
    castings = set(build.parts.filter(kind=Kind.CASTING).values_list("casting_number", flat=True))
    assert len(castings) == 74
    assert len({sheet.split()[0] for sheet in build.parts.values_list("sheet", flat=True) if sheet}) == 31


def test_demo_when_loaded_then_its_stories_are_told(owner):
    load_demo(owner)
    part = {(one.number, one.hand): one for one in Part.objects.with_needed()}
    # The demo's own story: a stud in three places, spokes made with two scrapped.
    assert part["ST-012", ""].needed == 24
    assert part["FW-004", ""].scrap == 2
    assert part["S-016", ""].teeth == 84
    assert part["S-014", ""].waits_for == "cutter 26–34 on loan"
    assert part["H-021", "L"].lesson


def test_demo_when_loaded_then_every_state_agrees_with_its_counts(owner):
    load_demo(owner)
    for part in Part.objects.with_needed():
        if part.stage_mark.is_made:
            assert part.is_complete, part.key
        if part.stage == Stage.NOT_STARTED:
            assert part.good == part.scrap == 0, part.key


def test_demo_when_loaded_then_nothing_happened_after_today_and_waits_are_counted_back(owner, stopped_clock):
    load_demo(owner)
    assert HistoryLine.objects.order_by("-at").first().at <= clock.now()
    first = HistoryLine.objects.order_by("at").first()
    assert first.text == "Added by the list parts.csv"
    for part in Part.objects.exclude(stage=Stage.NOT_STARTED):
        assert part.history.first().at == part.stage_at, part.key
    assert Part.objects.exclude(waits_for="").filter(waits_since=None).count() == 0


def test_demo_when_loaded_on_another_day_then_its_days_move_with_it(owner, stopped_clock):
    load_demo(owner)
    then = Part.objects.get(number="S-016").stage_at
    remove_demo(Build.objects.get())
    with clock.stopped_at(stopped_clock + timedelta(days=10)):
        load_demo(owner)
    assert Part.objects.get(number="S-016").stage_at - then == timedelta(days=10)


def test_demo_when_loaded_twice_then_one_and_said(owner):
    load_demo(owner)
    assert "is there already" in load_demo(owner)
    assert Build.objects.count() == 1


def test_demo_when_its_list_goes_out_and_in_then_same(owner):
    load_demo(owner)
    build = Build.objects.get()
    for name, content in (
        ("a.csv", csv_bytes(HEADINGS, list_rows(build))),
        ("a.xlsx", xlsx_bytes("Marlpit", list_rows(build))),
    ):
        assert compare(build, read_list(name, content)).counts == {
            "wrong": 0, "new": 0, "changed": 0, "same": PartUse.objects.count(),
        }, name  # fmt: skip


def test_demo_when_removed_then_nothing_of_it_is_left(owner):
    load_demo(owner)
    build = Build.objects.get()
    part = build.parts.get(number="S-016")
    card = WorkCard.objects.create(
        build=build, part=part, number=1, title="84 teeth", sheet={}, made_at=clock.now()
    )
    card.records.add(make_record(part, user=owner))
    remove_demo(build)
    for model in (
        Build,
        Assembly,
        Part,
        PartUse,
        HistoryLine,
        WorkCard,
        DividingHead,
        IndexPlate,
        GearCutter,
    ):
        assert not model.objects.exists(), model


def test_demo_when_removed_then_other_builds_and_sums_stay(owner):
    mine = make_part(make_build(owner, name="Mine"))
    record, loose = make_record(mine, user=owner), make_record(user=owner)
    load_demo(owner)
    remove_demo(Build.objects.get(is_demo=True))
    assert Part.objects.get() == mine
    assert set(type(record).objects.all()) == {record, loose}


def test_tooling_when_the_builder_has_a_head_then_none_is_added_and_theirs_stays(owner):
    mine = make_head(owner, name="My head")
    load_demo(owner)
    assert DividingHead.objects.get() == mine
    remove_demo(Build.objects.get())
    assert DividingHead.objects.get() == mine


def test_tooling_when_changed_since_then_it_is_the_builders_own_and_stays(owner):
    load_demo(owner)
    head = DividingHead.objects.get(name="H1")
    head.plates.filter(name="4").delete()
    GearCutter.objects.filter(number="2", pitch="6 DP").update(note="sharpened")
    remove_demo(Build.objects.get())
    assert DividingHead.objects.get() == head
    assert GearCutter.objects.get().note == "sharpened"


def test_demo_when_the_build_is_not_one_then_not_removed(owner):
    build = make_build(owner)
    with pytest.raises(ValueError, match="no demo build"):
        remove_demo(build)
    assert Build.objects.get() == build


def test_demo_when_loaded_then_in_a_few_queries(owner):
    with CaptureQueriesContext(connection) as queries:
        load_demo(owner)
    # Each of the seven kept sums is kept as on the site, in a dozen queries.
    assert len(queries) < 180


def test_demo_when_loaded_then_the_broaching_rests_on_its_keyway(owner):
    load_demo(owner)
    part = Build.objects.get(is_demo=True).parts.get(number="S-011")
    broaching, keyway = part.records.all()
    assert {one.head for one in broaching.rests_on.all()} == {keyway}
    assert records.stale_of([broaching, keyway]) == {broaching.pk: [], keyway.pk: []}
