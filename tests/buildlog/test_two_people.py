"""Two people, or two tabs, at one record: the second is told, sees both versions, and loses nothing typed."""

from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Barrier, Thread
from typing import Any

import pytest
from django.db import connections
from django.forms import BaseForm
from django.urls import reverse

from buildlog.actions.parts import bin_part
from buildlog.actions.photos import bin_photo
from buildlog.actions.scrap import bin_scrap
from buildlog.forms import (
    assemblies,
    builds,
    castings,
    drawings,
    errata,
    log,
    made,
    orders,
    parts,
    photos,
    scrap,
    threads_used,
    workshop,
)
from buildlog.forms.standing import StandsForm
from buildlog.models import IndexPlate, Part
from tests import factories
from tests.pages import alerts, entries, left_as_it_comes, words


@dataclass(frozen=True)
class Case:
    """A form about a thing that stands, one entry of it, and another."""

    form: type[StandsForm]
    address: str
    make: Callable[[Any], Any]
    entry: str
    shown: str  # the entry as its page names it
    other: str  # an entry that nobody but the first types in
    first: str = "As the first typed it"
    second: str = "As the second typed it"
    other_first: str = "Only the first typed here"
    owners_only: bool = field(default=False)  # the things of one person, in two tabs


def head_of(cast):
    return factories.make_head(cast.owner, plates=factories.PLATES[:2])


CASES = {
    "part": Case(
        parts.PartForm, "part_edit", lambda cast: factories.make_part(cast.build), "name", "Name", "notes"
    ),
    "log entry": Case(
        log.LogForm, "log_edit", lambda cast: factories.make_log_entry(cast.build), "left_off", "Left off",
        "next",
    ),
    "photo": Case(
        photos.PhotoForm, "photo_page", lambda cast: factories.make_photo(cast.build), "caption", "Caption",
        "taken_on", other_first="2024-02-29",
    ),
    "casting": Case(
        castings.CastingForm, "casting_edit", lambda cast: factories.make_casting(cast.build), "name", "Name",
        "note",
    ),
    "order": Case(
        orders.OrderEditForm, "order_edit",
        lambda cast: factories.make_order(factories.make_casting(cast.build)), "note", "Note", "number",
        other_first="O-777",
    ),
    "supplier": Case(
        orders.SupplierForm, "supplier_edit", lambda cast: factories.make_supplier(cast.build), "name",
        "Name", "note",
    ),
    "drawing": Case(
        drawings.DrawingForm, "drawing_edit", lambda cast: factories.make_drawing(cast.build), "title",
        "Title", "place",
    ),
    "assembly": Case(
        assemblies.AssemblyForm, "assembly_edit", lambda cast: factories.make_assembly(cast.build), "name",
        "Name", "balloon", other_first="9.9",
    ),
    "build": Case(
        builds.BuildForm, "build_edit", lambda cast: cast.build, "name", "Name", "units", other_first="mm"
    ),
    "characteristic": Case(
        made.CharacteristicForm, "characteristic_edit",
        lambda cast: factories.make_characteristic(factories.make_part(cast.build)), "name",
        "What is measured", "upper", other_first="+0.0009",
    ),
    "erratum": Case(
        errata.ErratumForm, "erratum_edit",
        lambda cast: factories.make_erratum(factories.make_drawing(cast.build)), "where", "Where",
        "should_be", other_first="2.440",
    ),
    "scrap": Case(
        scrap.ScrapForm, "scrap_edit", lambda cast: factories.make_scrap(factories.make_part(cast.build)),
        "happened", "What happened", "lesson",
    ),
    "thread": Case(
        threads_used.ThreadUseForm, "thread_edit",
        lambda cast: factories.make_thread(factories.make_part(cast.build)), "where", "Where on the part",
        "count", other_first="7",
    ),
    "dividing head": Case(
        workshop.HeadForm, "head_edit", head_of, "name", "Name", "ratio", other_first="60", owners_only=True
    ),
    "gear cutter": Case(
        workshop.CutterForm, "cutter_edit", lambda cast: factories.make_cutter(cast.owner), "note", "Note",
        "number", other_first="7", owners_only=True,
    ),
}  # fmt: skip


def two(cast, case):
    """The second of the two is another member where the thing is not one person's own."""
    return cast.client("owner"), cast.client("owner" if case.owners_only else "builder")


def value_of(thing, name):
    thing.refresh_from_db()
    return str(getattr(thing, name))


def test_forms_when_they_change_what_stands_then_each_is_tried_here():
    def below(form: type[BaseForm]):
        for one in form.__subclasses__():
            yield one
            yield from below(one)

    # What Django derives for a set of lines has no module of its own among the forms.
    ours = {one for one in below(StandsForm) if one.__module__.startswith("buildlog.forms.")}
    assert ours - {errata.NewErratumForm} == {case.form for case in CASES.values()}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_record_when_two_change_it_then_the_second_sees_both_versions_and_writes_from_there(cast, case):
    thing = case.make(cast)
    place = reverse(case.address, args=[thing.pk])
    one, two_ = two(cast, case)
    for_first, for_second = left_as_it_comes(one, place), left_as_it_comes(two_, place)
    before = {name: value_of(thing, name) for name in (case.entry, case.other)}

    done = one.post(place, for_first | {case.entry: case.first, case.other: case.other_first})
    assert done.status_code == 302, alerts(done)

    told = two_.post(place, for_second | {case.entry: case.second})
    assert told.status_code == 422
    assert f"This {case.form.thing} has been changed since you opened the page" in alerts(told)
    for said in (case.shown, case.first, case.second):
        assert said in alerts(told)
    stands = entries(told)
    assert stands[case.entry] == case.second, "what was typed is lost"
    assert stands[case.other] == case.other_first, "what the other typed is about to be undone"
    assert value_of(thing, case.entry) == case.first, "written all the same"

    again = two_.post(
        place, {name: stands[name] for name in {**for_second, case.other: ""} if name in stands}
    )
    assert again.status_code == 302, alerts(again)
    assert value_of(thing, case.entry) == case.second
    assert value_of(thing, case.other) == case.other_first
    assert before[case.other] != case.other_first


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_record_when_the_same_entry_is_sent_twice_then_no_fright(cast, case):
    thing = case.make(cast)
    place = reverse(case.address, args=[thing.pk])
    site = cast.client("owner")
    sent = left_as_it_comes(site, place) | {case.entry: case.first}
    assert [site.post(place, sent).status_code for _ in range(2)] == [302, 302]
    assert value_of(thing, case.entry) == case.first


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_record_when_gone_back_to_and_sent_after_a_change_then_told_and_not_undone(cast, case):
    thing = case.make(cast)
    place = reverse(case.address, args=[thing.pk])
    one, two_ = two(cast, case)
    sent = left_as_it_comes(one, place) | {case.entry: case.first}
    one.post(place, sent)
    two_.post(place, left_as_it_comes(two_, place) | {case.entry: case.second})
    told = one.post(place, sent)  # the page of before, from the browser's back button
    assert told.status_code == 422
    assert case.second in alerts(told)
    assert value_of(thing, case.entry) == case.second


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_record_when_it_is_refused_for_a_wrong_entry_too_then_both_are_said(cast, case):
    thing = case.make(cast)
    place = reverse(case.address, args=[thing.pk])
    one, two_ = two(cast, case)
    for_first, for_second = left_as_it_comes(one, place), left_as_it_comes(two_, place)
    one.post(place, for_first | {case.entry: case.first})
    turned = "Mine \u202e turned"
    told = two_.post(place, for_second | {case.entry: turned})
    assert told.status_code == 422
    assert "has been changed since you opened the page" in alerts(told)
    assert "unseen sign" in alerts(told)
    assert entries(told)[case.entry] == turned


@pytest.mark.parametrize(
    "name", ["casting", "supplier", "assembly", "build", "characteristic", "dividing head", "gear cutter"]
)
def test_record_when_it_is_taken_away_meanwhile_then_what_was_typed_is_still_shown(cast, name):
    case = CASES[name]
    thing = case.make(cast)
    place = reverse(case.address, args=[thing.pk])
    site = cast.client("owner")
    sent = left_as_it_comes(site, place) | {case.entry: case.second}
    thing.delete()
    told = site.post(place, sent)
    assert told.status_code == 404
    assert f"This {case.form.thing} is not there" in alerts(told)
    assert case.second in words(told)
    assert case.shown in words(told)
    assert sent["opened_at"] not in told.text


def test_record_when_a_stranger_sends_something_then_not_a_word_of_it_is_told(cast):
    part = factories.make_part(cast.build, name="Secret wheel")
    answer = cast.client("stranger").post(reverse("part_edit", args=[part.pk]), {"name": "A guess"})
    assert answer.status_code == 404
    assert "Secret" not in answer.text


# ---- the bin ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "put_away"), [("part", bin_part), ("photo", bin_photo), ("scrap", bin_scrap)]
)
def test_record_when_it_is_put_in_the_bin_meanwhile_then_told_and_it_can_come_back(cast, name, put_away):
    case = CASES[name]
    thing = case.make(cast)
    place = reverse(case.address, args=[thing.pk])
    site = cast.client("owner")
    sent = left_as_it_comes(site, place) | {case.entry: case.second}
    put_away(thing, by=cast.builder)
    was = value_of(thing, case.entry)

    told = site.post(place, sent)
    assert told.status_code == 422
    assert f"This {case.form.thing} has been put in the bin since you opened the page" in alerts(told)
    assert case.second in alerts(told)
    stands = entries(told)
    assert stands[case.entry] == case.second
    assert "take_back" in told.text
    assert value_of(thing, case.entry) == was

    again = {name: stands[name] for name in sent}
    assert site.post(place, again).status_code == 422, "sent again without a word of taking it back"
    assert site.post(place, again | {"take_back": "on"}).status_code == 302
    assert value_of(thing, case.entry) == case.second
    assert thing.binned_at is None


def test_part_when_taken_back_but_its_number_is_given_away_then_said_and_nothing_is_lost(site, build):
    part = factories.make_part(build, number="S-016")
    place = reverse("part_edit", args=[part.pk])
    sent = left_as_it_comes(site, place) | {"name": "Mine", "take_back": "on"}
    bin_part(part, by=None)
    factories.make_part(build, number="S-016")
    told = site.post(place, sent)
    assert told.status_code == 422
    assert "S-016 is in the build already" in alerts(told)
    assert entries(told)["name"] == "Mine"
    assert site.post(place, sent | {"number": "S-018"}).status_code == 302
    part.refresh_from_db()
    assert (part.key, part.name, part.binned_at) == ("S-018", "Mine", None)


# ---- what stands beside a form ---------------------------------------------------------------------------


def test_part_when_the_other_changed_where_it_is_used_then_that_is_shown_and_kept(site, build):
    axle, wheel = factories.make_assembly(build, name="Axle"), factories.make_assembly(build, name="Wheel")
    part = factories.make_part(assembly=axle, quantity=4)
    place = reverse("part_edit", args=[part.pk])
    here, there = left_as_it_comes(site, place), left_as_it_comes(site, place)
    site.post(place, there | {"use-0-quantity": "6", "use-1-assembly": wheel.pk, "use-1-quantity": "2"})
    told = site.post(place, here | {"name": "Stud"})
    assert f"6 in {axle}" in alerts(told)
    assert f"2 in {wheel}" in alerts(told)
    stands = entries(told)
    assert (stands["use-0-quantity"], stands["use-1-assembly"]) == ("6", str(wheel.pk))
    assert stands["name"] == "Stud"
    assert site.post(place, stands).status_code == 302
    assert {use.assembly.name: use.quantity for use in part.uses.all()} == {"Axle": 6, "Wheel": 2}
    assert Part.objects.get(pk=part.pk).name == "Stud"


def test_part_when_both_changed_where_it_is_used_then_both_are_shown_and_the_typed_one_stands(site, build):
    axle = factories.make_assembly(build, name="Axle")
    part = factories.make_part(assembly=axle, quantity=4)
    place = reverse("part_edit", args=[part.pk])
    here = left_as_it_comes(site, place)
    site.post(place, left_as_it_comes(site, place) | {"use-0-quantity": "6"})
    told = site.post(place, here | {"use-0-quantity": "9"})
    assert f"9 in {axle}" in alerts(told)
    assert f"6 in {axle}" in alerts(told)
    assert entries(told)["use-0-quantity"] == "9"
    assert site.post(place, entries(told)).status_code == 302
    assert part.uses.get().quantity == 9


def test_head_when_plates_changed_elsewhere_then_none_of_either_is_lost(cast):
    head, site = head_of(cast), cast.client("owner")
    place = reverse("head_edit", args=[head.pk])
    here, there = left_as_it_comes(site, place), left_as_it_comes(site, place)
    added = {"plate-2-name": "9", "plate-2-first_face": "61,63"}
    assert site.post(place, there | added | {"plate-0-DELETE": "on"}).status_code == 302
    told = site.post(place, here | {"plate-1-first_face": "21,23"})
    assert told.status_code == 422
    assert "9: 61,63" in alerts(told)
    assert "2: 21,23" in alerts(told)
    stands = entries(told)
    stands = {name: text for name, text in stands.items() if not name.endswith("DELETE") or text}
    assert site.post(place, stands).status_code == 302
    found = {plate.name: plate.first_face for plate in IndexPlate.objects.filter(head=head)}
    assert found == {"2": "21,23", "9": "61,63", "1": factories.PLATES[0][1]}


def test_head_when_only_the_other_changed_plates_then_they_stand_as_the_other_left_them(cast):
    head, site = head_of(cast), cast.client("owner")
    place = reverse("head_edit", args=[head.pk])
    here, there = left_as_it_comes(site, place), left_as_it_comes(site, place)
    site.post(place, there | {"plate-0-first_face": "15,16"})
    told = site.post(place, here | {"name": "H2"})
    assert "1: 15,16" in alerts(told)
    assert (entries(told)["plate-0-first_face"], entries(told)["name"]) == ("15,16", "H2")
    assert site.post(place, entries(told)).status_code == 302
    head.refresh_from_db()
    assert (head.name, head.plates.get(name="1").first_face) == ("H2", "15,16")


# ---- who, and how it is shown ----------------------------------------------------------------------------


def test_part_when_told_then_who_changed_it_and_when_is_said(cast, stopped_clock):
    part = factories.make_part(cast.build)
    place = reverse("part_edit", args=[part.pk])
    owner, builder = cast.client("owner"), cast.client("builder")
    here = left_as_it_comes(owner, place)
    builder.post(place, left_as_it_comes(builder, place) | {"name": "Theirs"})
    assert "Last written by builder on 14 Mar 2026 at 10:00" in alerts(
        owner.post(place, here | {"name": "Mine"})
    )


def test_both_versions_when_choices_and_days_differ_then_in_the_words_of_the_page(site, build):
    part = factories.make_part(build, kind="casting")
    place = reverse("part_edit", args=[part.pk])
    here = left_as_it_comes(site, place)
    site.post(place, left_as_it_comes(site, place) | {"hand": "L", "number": "S-900"})
    told = alerts(site.post(place, here | {"hand": "R", "number": "S-900", "kind": "bought"}))
    assert "right" in told
    assert "left" in told
    assert "bought" in told
    photo = factories.make_photo(build)
    here = left_as_it_comes(site, photo.get_absolute_url())
    site.post(photo.get_absolute_url(), here | {"before_closing_up": "on", "taken_on": "2024-02-29"})
    told = alerts(site.post(photo.get_absolute_url(), here | {"taken_on": "2024-03-01"}))
    assert "29 Feb 2024" in told
    assert "1 Mar 2024" in told


def test_both_versions_when_the_words_are_markup_then_shown_as_they_are(site, build):
    part = factories.make_part(build)
    place = reverse("part_edit", args=[part.pk])
    here = left_as_it_comes(site, place)
    site.post(place, left_as_it_comes(site, place) | {"notes": "<b>bold</b>\nsecond line"})
    told = site.post(place, here | {"notes": "<script>alert(1)</script>"})
    assert "<b>bold</b>" not in told.text
    assert "<script>alert" not in told.text
    assert "&lt;b&gt;bold&lt;/b&gt;<br>second line" in told.text


def test_entry_when_a_text_of_several_lines_is_left_alone_then_it_is_not_taken_for_a_change(site, build):
    entry = factories.make_log_entry(build, done="First line\nsecond line\n", next="Ream")
    place = reverse("log_edit", args=[entry.pk])
    here = left_as_it_comes(site, place)
    here["done"] = here["done"].replace("\n", "\r\n")  # as every browser sends the ends of lines
    site.post(place, left_as_it_comes(site, place) | {"next": "Theirs"})
    told = site.post(place, here | {"left_off": "Mine"})
    assert "Next" in alerts(told)
    assert "First line" not in alerts(told)


# ---- at the same moment ----------------------------------------------------------------------------------


@pytest.mark.django_db(transaction=True)
def test_record_when_two_send_in_the_same_moment_then_one_is_written_and_one_is_told():
    from tests.cast import make_cast

    cast = make_cast()
    part = factories.make_part(cast.build)
    place = reverse("part_edit", args=[part.pk])
    clients = [cast.client("owner"), cast.client("builder")]
    sent = [
        left_as_it_comes(client, place) | {"name": f"Typed by {who}"}
        for who, client in zip(("owner", "builder"), clients, strict=True)
    ]
    answers, gate = {}, Barrier(2)

    def send(number):
        try:
            gate.wait()
            answers[number] = clients[number].post(place, sent[number]).status_code
        finally:
            connections.close_all()

    threads = [Thread(target=send, args=[number]) for number in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert sorted(answers.values()) == [302, 422]
    part.refresh_from_db()
    winner = next(number for number, code in answers.items() if code == 302)
    assert part.name == sent[winner]["name"]
