"""What an entry said before it was changed: kept as it was, shown with the day, never back-dated."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions.log import TYPED, change_entry
from buildlog.log_versions import wordings_of
from buildlog.models import LogEntry, LogVersion
from tests.factories import make_log_entry, make_part
from tests.pages import fill_in, words

pytestmark = pytest.mark.django_db

FIRST = datetime(2025, 3, 11, 21, 5, tzinfo=UTC)
THEN = datetime(2025, 3, 12, 8, 30, tzinfo=UTC)
LATER = datetime(2025, 11, 20, 19, 30, tzinfo=UTC)


@pytest.fixture
def wheel(build):
    return make_part(build, number="S-012", name="Second-shaft wheel 47 T")


@pytest.fixture
def entry(wheel, cast):
    with clock.stopped_at(FIRST):
        return make_log_entry(part=wheel, by=cast.owner, minutes=90, done="", next="Cut tooth 30")


def change(entry, at, by=None, **typed):
    entry = LogEntry.objects.get(pk=entry.pk)
    for name, value in typed.items():
        setattr(entry, name, value)
    with clock.stopped_at(at):
        return change_entry(entry, by=by)


def test_entry_when_changed_then_what_it_said_before_stands_on_its_page(site, entry):
    with clock.stopped_at(LATER):
        page = fill_in(site, reverse("log_edit", args=[entry.pk]), next="Cut tooth 31", quick="60")
        said = words(page)
    assert "changed on 20 November 2025" in said
    earlier = said[said.index("Earlier wordings") :]
    assert "As first written on 11 March 2025, 21:05" in earlier
    assert "changed on 20 November 2025, 19:30 by owner" in earlier
    assert "Next changed then Cut tooth 30" in earlier
    assert "How long changed then 1 h 30 min" in earlier
    assert "Left off Boss faced, bore 0.010 under." in earlier


def test_entry_when_never_changed_then_no_word_of_earlier_wordings(site, entry):
    assert "Earlier wordings" not in words(site.get(entry.get_absolute_url()))


def test_entry_when_changed_twice_then_both_wordings_in_order_each_until_its_own_change(entry, cast):
    assert change(entry, THEN, cast.builder, next="Cut tooth 31")
    assert change(entry, LATER, cast.owner, done="29 cut")
    entry.refresh_from_db()
    first, second = wordings_of(entry)
    assert (first.is_first, first.written_at, first.changed_at, first.by) == (True, FIRST, THEN, "builder")
    assert (second.is_first, second.written_at, second.changed_at, second.by) == (
        False, THEN, LATER, "owner",
    )  # fmt: skip
    assert [(said.label, said.text) for said in first.said if said.changed] == [("Next", "Cut tooth 30")]
    # It had no word of what was done: that it was empty is told where it was filled in.
    assert [(said.label, said.text) for said in second.said if said.changed] == [("Done", "")]


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("on", date(2025, 3, 10)),
        ("minutes", None),
        ("kind", "tooling"),
        ("part", None),
        ("done", "29 cut"),
        ("left_off", ""),
        ("next", "Go on"),
        ("links", "https://example.org/lathe"),
    ],
)
def test_version_when_any_one_thing_is_changed_then_it_holds_all_as_it_was(entry, name, value):
    before = {one: getattr(entry, one) for one in TYPED}
    assert change(entry, LATER, **{name: value})
    version = LogVersion.objects.get()
    assert {one: getattr(version, one) for one in TYPED} == before
    entry.refresh_from_db()
    assert getattr(entry, name) == value


def test_version_when_nothing_differs_then_none_is_written(entry):
    assert not change(entry, LATER)
    assert not LogVersion.objects.exists()
    entry.refresh_from_db()
    assert entry.changed_at is None


def test_entry_when_its_day_is_put_back_then_the_day_of_writing_and_the_day_it_said_are_told(site, entry):
    """Never back-dated: an entry that is given an earlier day says when it was written and what it said."""
    with clock.stopped_at(LATER):
        page = fill_in(site, reverse("log_edit", args=[entry.pk]), on="2025-01-05")
        said = words(page)
    assert "written down on 11 March 2025" in said
    assert "changed on 20 November 2025" in said
    assert "Date changed then 11 March 2025" in said
    entry.refresh_from_db()
    assert entry.written_at == FIRST


@pytest.mark.parametrize("name", ["written_at", "changed_at", "by"])
def test_entry_when_a_day_of_writing_is_sent_along_then_it_is_not_taken(site, entry, cast, name):
    with clock.stopped_at(LATER):
        fill_in(site, reverse("log_edit", args=[entry.pk]), next="Go on", **{name: "2001-01-01 00:00"})
    entry.refresh_from_db()
    assert (entry.written_at, entry.changed_at, entry.by) == (FIRST, LATER, cast.owner)


def test_entry_when_its_build_goes_then_its_wordings_go_with_it(entry, build):
    change(entry, LATER, next="Go on")
    build.delete()
    assert not LogVersion.objects.exists()


def test_entry_when_another_tab_changed_it_then_all_it_now_says_is_told(site, entry):
    place = reverse("log_edit", args=[entry.pk])
    with clock.stopped_at(LATER):
        here = fill_in(site, place, kind="tooling", links="https://example.org/lathe")
        assert here.status_code == 200
        page = site.post(
            place, {"on": "2025-03-11", "next": "From here", "opened_at": "another", "token": "0" * 32}
        )
    said = words(page)
    assert "Kind of time empty Tooling" in said
    assert "Minutes other 90" in said
    assert "Links empty https://example.org/lathe" in said
    with clock.stopped_at(LATER + timedelta(days=1)):
        assert LogEntry.objects.get().next == "Cut tooth 30"
