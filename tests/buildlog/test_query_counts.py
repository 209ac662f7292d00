"""Pages ask the database no more of 4,200 parts than of 420, and never more than 21 times.

The larger engine has ten times of everything: parts, uses, history, what they need, castings, orders and all
that happened to them, drawings, the log, bin, sums and cards on the part looked at, heads and cutters,
members, rows of a list that waits to be taken in.
"""

from datetime import timedelta
from types import SimpleNamespace
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions.cards import card_sheet
from buildlog.actions.castings import register_castings
from buildlog.actions.concessions import open_concession
from buildlog.actions.demo import load_demo
from buildlog.actions.log import change_entry
from buildlog.actions.stages import record_count
from buildlog.actions.take_in_list import keep_draft
from buildlog.lists.reading import read_list
from buildlog.lists.writing import HEADINGS, csv_bytes, list_rows
from buildlog.models import (
    Build,
    HistoryLine,
    LogEntry,
    Membership,
    Part,
    PartUse,
    Photo,
    Role,
    Stage,
    WorkCard,
)
from tests.doors import ACTS, OF_BUILD, OWN_PAGES, SIGNED_IN, address
from tests.errata_world import errata_world
from tests.factories import (
    make_arrangement,
    make_build,
    make_casting_part,
    make_characteristic,
    make_cutter,
    make_delivery,
    make_drawing,
    make_erratum,
    make_first,
    make_head,
    make_issue,
    make_mate,
    make_need,
    make_order,
    make_photo,
    make_place,
    make_plan,
    make_reading,
    make_record,
    make_scrap,
    make_sheet_file,
    make_user,
)
from tests.made_world import made_world
from tests.multiplied import multiply_things, numbered
from tests.stores_world import STORES_SAID, stores_world
from tests.threads_world import threads_world

pytestmark = pytest.mark.django_db

#: Six of them are what waiting is worked out from.
MOST = 23
PAGES = OF_BUILD | OWN_PAGES | SIGNED_IN | {"part_split": ["plain.pk", "plain_use.pk"]}
#: Other ways the same pages are asked for, which cost in their own manner.
ASKED = {
    "find_page": ["?find=57T", "?find=1+3/16", "?find=final+wheel"],
    "part_list": [
        "?find=57T",
        "?find=1+3/16",
        "?sort=size&down=on",
        "?sort=waiting&waiting=yes",
        "?stage=made&page=2",
    ],
    "list_draft": ["?show=all", "?page=2"],
    "part_split": ["?split=2+(1L+1R)"],
    "part_calculate": ["?divisions=84&ratio=40&circles=15,16,17,18,19,20"],
    "card_new": ["?record=1"],
    "part_new": ["?assembly=1"],
    "casting_list": ["?find=bracket&show=here"],
    "order_new": ["?wanted=all", "?casting=K-990"],
    "log_list": ["?find=57T", "?part=S-016", "?part=S-016&page=2", "?part=nothing"],
    "log_new": ["?part=S-016"],
    "arrangement_place": ["?assembly=1"],
    "arrangement_picture": ["?page=2"],
    "photo_list": ["?part=S-016", "?find=57T&closing=on", "?page=2", "?part=nothing"],
    "photo_new": ["?part=S-016"],
    "thread_bulk": ["?thread=M6x1&to=1/4+BSF"],
    "photo_page": ["?part=S-016&closing=on"],
    "part_echo": ["?part=S-016", "?part=H-021"],
    "scrap_list": ["?part=S-016", "?cause=setting&page=2", "?part=nothing"],
    "scrap_new": ["?part=S-016&count=2&counted=1"],
}


def engine(times: int) -> SimpleNamespace:
    """The demo, so many times over, and the rest in step with it; its owner shares a second build besides."""
    owner = make_user()
    load_demo(owner)
    build = Build.objects.get(is_demo=True, memberships__user=owner)
    make_build(owner, name="Second engine")
    _multiply(build, times)
    register_castings(build)
    multiply_things(build, build, range(1, times))
    _crowd_of_people(build, owner, times)
    part, plain = build.parts.get(number="S-016"), build.parts.get(number="S-017", hand="")
    _use_everywhere(build, part, times)
    _crowd(build, part, plain, times)
    for _ in range(2 * times):
        record = make_record(part, user=owner)
        card = _card(part, record)
        record_count(part, good=1, scrap=0, by=owner, call_machined=False, token=uuid4())
    return SimpleNamespace(
        owner=owner,
        build=build,
        part=part,
        use=part.uses.first(),
        plain=plain,
        plain_use=plain.uses.get(),
        assembly=part.uses.first().assembly,
        record=record,
        card=card,
        draft=_draft(build, owner),
        **_records(build, part, times),
        entry=_log(build, part, times),
        change=build.changes.first(),
        binned=build.parts.exclude(binned_at=None).first(),
        head=owner.dividing_heads.first(),
        cutter=owner.gear_cutters.first(),
        own_record=make_record(user=owner),
        plan=make_plan(part, user=owner),
        member=Membership.objects.filter(build=build, role=Role.BUILDER).first(),
    )


def _records(build, part, times) -> dict[str, object]:
    """One of everything that the records of a build hold, and so many more of each."""
    return {
        **_stores(build, times),
        **_made(build, part, times),
        **_errata(build, times),
        **_photos(build, part, times),
        **_scrap(part, times),
        **threads_world(build, times),
        **_drawings(build, times),
        **_arrangement(build),
    }


def _crowd_of_people(build, owner, times) -> None:
    for _ in range(2 * times):
        Membership.objects.create(build=build, user=make_user(), role=Role.BUILDER)
    for _ in range(times):
        make_head(owner, is_usual=False)
        make_cutter(owner)


def _crowd(build, part, plain, times) -> None:
    """More of what hangs on one part: mates, parts to be made first, castings of others."""
    others = list(build.parts.filter(stage=Stage.NOT_STARTED, number__startswith="T-0").order_by("pk"))
    for other in others[: 3 * times]:
        make_mate(part, other)
        make_first(plain, other)
    for casting in build.castings.all()[: 3 * times]:
        make_need(plain, casting)


def _stores(build, times) -> dict[str, object]:
    """One of everything that an address of the stores names, and more that happened to it."""
    world = stores_world(build)
    for place in range(2 * times):
        make_order((world["casting"], 1), number=f"O-8{place:02}", supplier=world["supplier"])
        make_casting_part(world["casting"], number=f"X-8{place:02}")
        make_delivery(world["order_line"], 2, good=1)
    return world


def _made(build, part, times) -> dict[str, object]:
    """More that was measured, on a part of its own and on the one that is looked at, which mates with it."""
    world = made_world(build, times)
    make_mate(part, world["made_part"])
    for place in range(2 * times):
        size = make_characteristic(part, name=f"journal {place}")
        open_concession(make_reading(size, "1.2530"), by=None)
        make_reading(size, "1.2540")
        open_concession(
            make_reading(make_characteristic(world["made_part"], name=f"end {place}"), "1.2530"), by=None
        )
    return world


def _errata(build, times) -> dict[str, object]:
    """Errata of the sheet of the part that is looked at, and one of everything an address of theirs names."""
    for place in range(times):
        make_erratum(build.drawings.get(number="12"), where=f"face {place}", issue="B")
    return errata_world(build, times)


def _multiply(build, times) -> None:
    """Every part of the build so many times over, with its uses and history; five in the bin for each."""
    parts = list(build.parts.prefetch_related("uses"))
    twins = {copy: [_twin(part, copy) for part in parts] for copy in range(1, times)}
    everyone = [twin for copies in twins.values() for twin in copies]
    Part.objects.bulk_create(everyone, batch_size=500)
    uses = [
        PartUse(part=twin, assembly_id=use.assembly_id, quantity=use.quantity)
        for copies in twins.values()
        for part, twin in zip(parts, copies, strict=True)
        for use in part.uses.all()
    ]
    PartUse.objects.bulk_create(uses, batch_size=500)
    lines = [
        HistoryLine(part=twin, at=clock.now(), stage=twin.stage, good=0, scrap=0, text="Added")
        for twin in everyone
    ]
    HistoryLine.objects.bulk_create(lines, batch_size=500)
    binned = [
        Part(build=build, number=f"X-{place}", name="Spoilt", binned_at=clock.now())
        for place in range(5 * times)
    ]
    Part.objects.bulk_create(binned)


def _twin(part, copy) -> Part:
    same = ("build", "hand", "name", "kind", "material", "leading_size", "sheet", "stage", "good", "scrap")
    more = ("waits_for", "waits_since", "stage_at", "castings_each", "casting_since")
    twin = Part(
        number=numbered(part.number, copy),
        casting_number=numbered(part.casting_number, copy),
        **{name: getattr(part, name) for name in (*same, *more)},
    )
    twin.derive()
    return twin


def _use_everywhere(build, part, times) -> None:
    """More places where the part is used, up to nine of them."""
    for assembly in build.assemblies.exclude(uses__part=part)[: times - 1]:
        PartUse.objects.create(part=part, assembly=assembly, quantity=2)


def _card(part, record) -> WorkCard:
    number = part.build.cards.count() + 1
    words = {"operation": "", "machine": "", "held_on": ""}
    said = {"records": [record], "paper": "A4", **words, "token": uuid4()}
    sheet = card_sheet(part, said, number=number, at=clock.now(), address="")
    card = WorkCard.objects.create(
        build=part.build,
        part=part,
        number=number,
        title="Card",
        sheet=sheet,
        made_at=clock.now(),
        token=said["token"],
    )
    card.records.add(record)
    return card


def _log(build, part, times) -> LogEntry:
    """So many entries about the part, 2,000 in the larger build; the latest of them."""
    entries = [
        LogEntry(
            build=build,
            part=part,
            on=clock.today() - timedelta(days=day),
            left_off="29 of 84 cut, pin 1 hole on",
            written_at=clock.now(),
        )
        for day in range(200 * times)
    ]
    for entry in entries:
        entry.derive()
    LogEntry.objects.bulk_create(entries, batch_size=500)
    latest = build.log.filter(part=part).first()
    for change in range(2 * times):
        latest.next = f"Cut tooth {30 + change}"
        change_entry(latest, by=latest.by)
    return latest


def _arrangement(build) -> dict[str, object]:
    """A picture with a balloon for every assembly, and one in the bin."""
    binned, arrangement = make_arrangement(build), make_arrangement(build)
    for assembly in build.assemblies.all():
        make_place(arrangement, assembly)
    return {"binned_arrangement": binned, "arrangement": arrangement}


def _photos(build, part, times) -> dict[str, object]:
    """So many photos of the part, its entry and a casting, 200 in the larger build, and some in the bin."""
    photo, entry = make_photo(part=part), build.log.filter(part=part).first()
    casting = build.castings.get(number="K-990")
    taken = clock.today() - timedelta(days=1)
    photos = [
        Photo(
            build=build, part=part, entry=entry, casting=casting, sha256=f"{place:064}", kind="jpeg", size=1,
            width=4, height=3, taken_on=taken - timedelta(days=place // 9), at=clock.now(), caption="57 T",
            before_closing_up=not place % 3, binned_at=clock.now() if not place % 5 else None,
        )
        for place in range(20 * times)
    ]  # fmt: skip
    for one in photos:
        one.derive()
    Photo.objects.bulk_create(photos)
    return {"photo": photo, "binned_photo": build.photos.exclude(binned_at=None).first()}


def _scrap(part, times) -> dict[str, object]:
    """So many entries of the scrap book about the part, and some in the bin."""
    binned = [make_scrap(part, binned_at=clock.now()) for _ in range(2 * times)]
    found = [make_scrap(part) for _ in range(5 * times)]
    return {"scrap": found[0], "binned_scrap": binned[0]}


def _drawings(build, times) -> dict[str, object]:
    """So many more sheets in the register, and issues of the one that is looked at, each with files."""
    for place in range(times):
        make_drawing(build, number=str(1000 + place))
    drawing = build.drawings.get(number="12")
    for place in range(times):
        make_issue(drawing, chr(ord("D") + place))
        sheet_file = make_sheet_file(drawing)
    binned = make_sheet_file(drawing, binned_at=clock.now())
    return {"drawing": drawing, "sheet_file": sheet_file, "binned_sheet_file": binned}


def _draft(build, owner):
    """The build's own list, as it goes out, waiting to come in again."""
    return keep_draft(
        build, owner, "parts.csv", read_list("parts.csv", csv_bytes(HEADINGS, list_rows(build)))
    )


def asked_of(world) -> dict[str, int]:
    """How often each page asks, the way it is opened first, for one whose browser has seen nothing yet."""
    found = {}
    for name, args in PAGES.items():
        for query in ["", *ASKED.get(name, [])]:
            client = Client()
            client.force_login(world.owner)
            with CaptureQueriesContext(connection) as queries:
                answer = client.get(address(world, name, args) + query)
            # Home leads on to the build looked at last.
            assert answer.status_code in (200, 422, 302 if name == "home" else 200), f"{name}{query}"
            found[f"{name}{query}"] = len(queries)
    return found


@pytest.fixture
def engines():
    return engine(1), engine(10)


def test_pages_when_the_engine_has_ten_times_the_parts_then_they_ask_no_more_and_never_over_the_most(
    engines,
):
    small, large = engines
    assert [world.build.parts.live().count() // 100 for world in engines] == [4, 43]
    assert [world.build.castings.count() // 70 for world in engines] == [1, 10]
    assert [world.build.log.count() // 200 for world in engines] == [1, 10]
    few, many = asked_of(small), asked_of(large)
    assert many == few
    assert {page: count for page, count in many.items() if count > MOST} == {}


def test_list_alone_when_htmx_asks_then_no_more_for_ten_times_the_parts(engines):
    found = []
    for world in engines:
        client = Client(headers={"HX-Request": "true"})
        client.force_login(world.owner)
        with CaptureQueriesContext(connection) as queries:
            client.get(reverse("part_list", args=[world.build.pk]), {"sort": "size"})
        found.append(len(queries))
    assert found[0] == found[1] <= MOST


def test_changes_when_the_engine_has_ten_times_the_parts_then_they_ask_no_more(engines):
    sent = {
        "stage": "in hand",
        "good": "1",
        "quantity": "9",
        "note": "",
        "scrap": "",
        "number": "S-099",
    }
    sent |= STORES_SAID | {"answer": "still", "on": str(clock.today())}
    found = []
    for world in engines:
        client = Client()
        client.force_login(world.owner)
        client.get(world.part.get_absolute_url())
        counts = {}
        for name, args in ACTS.items():
            with CaptureQueriesContext(connection) as queries:
                answer = client.post(address(world, name, args), sent | {"token": str(uuid4())})
            assert answer.status_code == 302, name
            counts[name] = len(queries)
        found.append(counts)
    assert found[0] == found[1]
