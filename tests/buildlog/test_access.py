"""Who may open what: every address of the site, for owner, builder, stranger, and nobody signed in."""

from types import SimpleNamespace
from uuid import uuid4

import pytest
from django.apps import apps
from django.core import serializers
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from buildlog import clock
from buildlog.actions.parts import bin_part
from buildlog.models import Build, ListDraft, Membership, WorkCard
from tests.cast import check_act, check_page
from tests.doors import (
    ACTS,
    BUILD,
    CLOSED,
    OF_BUILD,
    OPEN,
    OWN_ACTS,
    OWN_PAGES,
    OWNER_ACTS,
    PART,
    SIGNED_IN,
    TABLES,
    TAKES_NO_ENTRIES,
    address,
)
from tests.errata_world import errata_world
from tests.factories import (
    make_arrangement,
    make_assembly,
    make_build,
    make_cutter,
    make_drawing,
    make_head,
    make_log_entry,
    make_part,
    make_photo,
    make_place,
    make_plan,
    make_record,
    make_scrap,
    make_sheet_file,
)
from tests.made_world import made_world
from tests.stores_world import STORES_SAID, stores_world
from tests.threads_world import threads_world

pytestmark = pytest.mark.django_db

SECRET = "Regulator gland nut"


@pytest.fixture
def world(cast):
    """One of everything that an address can name, all of it the owner's or of the build."""
    build = cast.build
    Build.objects.filter(pk=build.pk).update(side_view="marlpit")
    assembly = make_assembly(build, code="S")
    part = make_part(number="S-016", name=SECRET, assembly=assembly, quantity=2, sheet="12 A")
    make_part(build, number="S-019", name=SECRET, sheet="13 A")
    binned = make_part(build, number="S-017", name=SECRET)
    bin_part(binned, by=cast.owner)
    record = make_record(part, user=cast.owner)
    card = WorkCard.objects.create(
        build=build, part=part, number=1, title=SECRET, sheet=a_sheet(part, record), made_at=clock.now()
    )
    return SimpleNamespace(
        cast=cast,
        build=build,
        assembly=assembly,
        part=part,
        use=part.uses.get(),
        binned=binned,
        record=record,
        card=card,
        draft=a_draft(cast),
        change=build.changes.get(),
        **stores_world(build),
        **made_world(build),
        **threads_world(build),
        **errata_world(build),
        entry=make_log_entry(part=part, done=SECRET),
        photo=make_photo(part=part, caption=SECRET),
        binned_photo=make_photo(build, binned_at=clock.now()),
        **scrapped(part),
        **arranged(build, assembly),
        drawing=make_drawing(build, "A", "B", number="12", title=SECRET),
        sheet_file=make_sheet_file(make_drawing(build, title=SECRET), name=f"{SECRET}.png"),
        binned_sheet_file=make_sheet_file(make_drawing(build), binned_at=clock.now()),
        head=make_head(cast.owner),
        cutter=make_cutter(cast.owner),
        own_record=make_record(user=cast.owner),
        plan=make_plan(part, user=cast.owner),
        member=Membership.objects.get(build=build, user=cast.builder),
    )


def scrapped(part):
    """An entry of the scrap book, and one in the bin."""
    return {
        "scrap": make_scrap(part, happened=SECRET),
        "binned_scrap": make_scrap(part, happened=SECRET, binned_at=clock.now()),
    }


def arranged(build, assembly):
    """Two pictures under the balloons, one after the other, and a balloon on the second."""
    binned, stands = make_arrangement(build), make_arrangement(build)
    make_place(stands, assembly)
    return {"binned_arrangement": binned, "arrangement": stands}


def a_draft(cast):
    return ListDraft.objects.create(
        build=cast.build,
        by=cast.owner,
        file_name="parts.csv",
        how_read="read as UTF-8",
        created_at=clock.now(),
        rows={
            "columns": ["number", "name"],
            "aside": [],
            "remarks": [],
            "rows": [[2, {"number": "S-018", "name": SECRET}, ""]],
        },
    )


def a_sheet(part, record):
    from buildlog.actions.cards import card_sheet

    words = {"operation": "", "machine": "", "held_on": ""}
    said = {"records": [record], "paper": "A4", **words, "token": uuid4()}
    return card_sheet(part, said, number=1, at=clock.now(), address="")


#: Everything that any of the entries asks for, so that each would be taken from somebody who may.
SAID = {
    "stage": "in hand",
    "good": "1",
    "quantity": "9",
    "name": "stranger",
    "number": "S-099",
    "code": "X",
    "record": "",
    "paper": "A4",
    "split": "2 (1L 1R)",
    "shown": "0",
    "divisions": "84",
    "do": "keep",
    "small": "3.3 mm",
    "ratio": "40",
    "circles": "49",
    "units": "inch",
    "currency": "GBP",
    "answer": "still",
    "kind": "bought",
    "use-TOTAL_FORMS": "0",
    "use-INITIAL_FORMS": "0",
    "plate-TOTAL_FORMS": "0",
    "plate-INITIAL_FORMS": "0",
}


def walk(patterns):
    for pattern in patterns:
        if isinstance(pattern, URLPattern):
            yield pattern.name
        else:
            yield from walk(pattern.url_patterns)


def everything() -> str:
    """All that is kept of builds, sums and tooling, to see whether anything has moved."""
    models = [model for room in ("buildlog", "calc") for model in apps.get_app_config(room).get_models()]
    return "\n".join(serializers.serialize("json", model.objects.order_by("pk")) for model in models)


def said():
    return SAID | STORES_SAID | {"on": str(clock.today()), "token": str(uuid4())}


def test_tables_then_no_address_of_the_site_is_forgotten():
    named = [name for table in TABLES for name in table]
    assert sorted(named) == sorted(walk(get_resolver().url_patterns))


@pytest.mark.parametrize("name", OF_BUILD)
def test_page_of_a_build_then_members_see_it_and_strangers_find_nothing(world, name):
    check_page(world.cast, address(world, name, OF_BUILD[name]) + query_of(name))


def query_of(name) -> str:
    return "?split=2+(1L+1R)" if name == "part_split" else ""


@pytest.mark.parametrize("name", [*OF_BUILD, *ACTS, *OWNER_ACTS, *OWN_PAGES, *OWN_ACTS])
def test_change_when_a_stranger_or_nobody_sends_it_then_nothing_is_found_and_nothing_moves(world, name):
    before = everything()
    check_act(world.cast, address(world, name, CLOSED[name]), said(), stranger=refusal(name))
    assert everything() == before


def refusal(name) -> int:
    # Pages that take no entries refuse them before they look whose they are: that tells a stranger nothing.
    return 405 if name in TAKES_NO_ENTRIES else 404


@pytest.mark.parametrize("name", ACTS)
def test_change_when_a_builder_sends_it_then_done(world, name):
    before = everything()
    ticked = {"part": world.part.pk} if name == "issue_follow" else {}
    answer = world.cast.client("builder").post(address(world, name, ACTS[name]), said() | ticked)
    assert answer.status_code == 302
    # An assembly that holds something stays, and says so.
    assert (everything() == before) is (name == "assembly_delete")


@pytest.mark.parametrize("name", OWNER_ACTS)
def test_change_of_an_owner_when_a_builder_sends_it_then_nothing_is_found_and_nothing_moves(world, name):
    world.build.is_demo = True
    world.build.save()
    before, place = everything(), address(world, name, OWNER_ACTS[name])
    assert world.cast.client("builder").post(place, said()).status_code == 404
    assert everything() == before
    assert world.cast.client("owner").post(place, said()).status_code == 302
    assert everything() != before


def test_page_about_the_build_when_a_builder_reads_it_then_nothing_of_the_owners_to_press(world):
    world.build.is_demo = True
    world.build.save()
    place = address(world, "build_edit", BUILD)
    for name in OWNER_ACTS:
        action = f'action="{address(world, name, OWNER_ACTS[name])}"'
        assert action in world.cast.client("owner").get(place).content.decode(), name
        assert action not in world.cast.client("builder").get(place).content.decode(), name


@pytest.mark.parametrize("name", OWN_PAGES)
def test_tooling_then_only_its_owner_finds_it(world, name):
    check_page(world.cast, address(world, name, OWN_PAGES[name]), builder=404)


@pytest.mark.parametrize("name", [*OWN_PAGES, *OWN_ACTS])
def test_tooling_when_a_builder_of_the_same_build_changes_it_then_nothing_is_found(world, name):
    before = everything()
    answer = world.cast.client("builder").post(address(world, name, CLOSED[name]), said())
    assert answer.status_code == 404
    assert everything() == before


@pytest.mark.parametrize("name", SIGNED_IN)
def test_page_of_nobody_in_particular_then_everybody_signed_in_sees_it(world, name):
    place = address(world, name, SIGNED_IN[name])
    for who in ("owner", "builder", "stranger"):
        assert world.cast.client(who).get(place, follow=True).status_code == 200, who
    for answer in (Client().get(place), Client().post(place, said())):
        assert answer.status_code == 302
        assert answer["Location"].startswith(reverse("sign_in"))


@pytest.mark.parametrize("name", SIGNED_IN)
def test_page_of_nobody_in_particular_when_a_stranger_reads_it_then_nothing_of_the_build_is_on_it(
    world, name
):
    page = (
        world.cast.client("stranger").get(address(world, name, SIGNED_IN[name]), follow=True).content.decode()
    )
    assert SECRET not in page
    assert "Marlpit," not in page


@pytest.mark.parametrize("name", OPEN)
def test_open_address_when_nobody_is_signed_in_then_it_does_not_lead_to_signing_in(world, name):
    place, client = address(world, name, OPEN[name]), Client()
    if name in ("sign_out", "lamp"):
        answer = client.post(place)
        assert answer.status_code == 302
        assert "next=" not in answer["Location"]
    else:
        assert client.get(place).status_code == 200


@pytest.mark.parametrize(
    "name", [name for name, args in CLOSED.items() if args and not args[0].startswith("=")]
)
def test_address_when_its_number_is_of_nothing_then_not_found_and_no_error(world, name):
    client = world.cast.client("owner")
    for number in (0, 999_999_999, 10**40):
        numbers = [number] * len([arg for arg in CLOSED[name] if not arg.startswith("=")])
        words = [arg[1:] for arg in CLOSED[name] if arg.startswith("=")]
        place = reverse(name, args=[*numbers, *words])
        answers = {client.get(place).status_code, client.post(place, said()).status_code}
        assert answers <= {404, 405}, place
        assert 404 in answers, place


def test_not_found_then_it_tells_a_stranger_nothing_of_what_is_there(world):
    client = world.cast.client("stranger")
    for name, args in OF_BUILD.items():
        page = client.get(address(world, name, args)).content.decode()
        assert SECRET not in page, name
        assert "Marlpit" not in page, name
        assert "S-016" not in page, name


def test_sign_in_when_sent_from_a_page_then_the_way_back_is_kept(world):
    place = address(world, "part_page", PART)
    assert Client().get(place)["Location"] == f"{reverse('sign_in')}?next={place}"


def test_sum_of_no_part_then_only_who_kept_it_finds_it(world):
    loose = make_record(user=world.cast.owner)
    for name in ("record_page", "record_pdf", "record_json"):
        check_page(world.cast, reverse(name, args=[loose.pk]), builder=404)


def test_sums_when_listed_then_those_of_ones_builds_and_ones_own(world):
    loose = make_record(user=world.cast.owner, divisions="57")
    place = reverse("sums")
    seen = {
        who: world.cast.client(who).get(place).content.decode() for who in ("owner", "builder", "stranger")
    }
    for who, sees_build, sees_loose in (
        ("owner", True, True),
        ("builder", True, False),
        ("stranger", False, False),
    ):
        assert (world.record.get_absolute_url() in seen[who]) is sees_build, who
        assert (loose.get_absolute_url() in seen[who]) is sees_loose, who


@pytest.mark.parametrize("name", ["part_split", "part_quantity", "list_draft", "member_remove"])
def test_address_of_two_numbers_when_they_do_not_belong_together_then_not_found(world, name):
    other = make_build(world.cast.owner, name="Second engine")
    elsewhere = make_part(assembly=make_assembly(other))
    first = elsewhere.pk if name.startswith("part") else other.pk
    args = CLOSED[name]
    second = getattr(world, args[1].split(".")[0]).pk
    before = everything()
    answer = world.cast.client("owner").post(reverse(name, args=[first, second]), said())
    assert answer.status_code == 404
    assert everything() == before


def test_build_when_sharing_with_somebody_stops_then_every_page_is_gone_for_them(world):
    client = world.cast.client("builder")
    world.member.delete()
    found = {
        name for name, args in OF_BUILD.items() if client.get(address(world, name, args)).status_code != 404
    }
    assert not found


def test_part_in_the_bin_then_strangers_do_not_find_it_there_either(world):
    for name in ("part_page", "part_history"):
        check_page(world.cast, reverse(name, args=[world.binned.pk]))
