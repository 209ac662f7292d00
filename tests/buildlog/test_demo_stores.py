"""The stores, drawings and log of the demo: what waits for castings comes out as the story has it.

Everything here is of the demo, which is invented; what is held is that the story follows from the ledger.
"""

from collections import Counter
from datetime import date, timedelta

import pytest
from django.utils import timezone

from buildlog import clock
from buildlog.actions import demo, demo_files, demo_stores, stores
from buildlog.models import (
    Build,
    Casting,
    CastingNeed,
    Drawing,
    Happening,
    LogEntry,
    Mate,
    Order,
    OrderLine,
    Part,
    PartFirst,
    SheetIssue,
    StoresEvent,
    Supplier,
)
from buildlog.waiting.standing import standing_of
from buildlog.waiting.words import stands
from tests.factories import make_casting, make_casting_part, make_delivery, make_order, make_user

pytestmark = pytest.mark.django_db

#: casting: parts held up, it alone, days since, how it stands, its order.
STORES_LIST = {
    "K-022": (19, 7, 291, "overdue 143 days, promised 30 Jun", "O-017"),
    "K-024": (12, 0, 291, "overdue 143 days, promised 30 Jun", "O-017"),
    "K-038": (6, 6, 53, "promised 19 Dec", "O-020"),
    "K-061": (5, 5, 291, "not ordered", "not ordered"),
    "K-009": (3, 3, 245, "promised tomorrow", "O-019"),
    "K-012": (3, 3, 245, "promised tomorrow", "O-019"),
    "K-036": (3, 3, 245, "promised tomorrow", "O-019"),
    "K-058": (3, 3, 291, "not ordered", "not ordered"),
    "K-047": (2, 2, 245, "promised tomorrow", "O-019"),
    "K-005": (1, 1, 245, "promised tomorrow", "O-019"),
    "K-033": (1, 1, 251, "no date given", "claim, O-016"),
}
WAITING = {"CY": 19, "V": 9, "T": 8, "SB": 3, "S": 3, "HW": 2, "H": 1, "B": 1}
#: The day on which the story is told with days and months.
TOLD_ON = timezone.make_aware(timezone.datetime(2025, 11, 20, 10, 0))


@pytest.fixture
def build():
    with clock.stopped_at(TOLD_ON):
        demo.load_demo(make_user())
        yield Build.objects.get()


def casting_of(build, number):
    return build.castings.get(number=number)


def line_of(build, order, number):
    return OrderLine.objects.get(order__build=build, order__number=order, casting__number=number)


def top_of(part):
    assembly = part.uses.first().assembly
    while assembly.parent:
        assembly = assembly.parent
    return assembly.code


def test_castings_when_the_demo_is_loaded_then_74_and_eleven_are_waited_for(build):
    standing = standing_of(build)
    assert build.castings.count() == 74
    waited = {standing.castings[pk].number for pk in standing.missing}
    assert waited == set(STORES_LIST)
    for pk, casting in standing.castings.items():
        if casting.number not in waited:
            wanted = standing.shares[pk].used + sum(claim.wanted for claim in standing.shares[pk].claims)
            assert standing.held_of(pk).good >= wanted, casting.number


def test_waiting_when_the_demo_is_loaded_then_each_casting_stands_as_the_stores_list_has_it(build):
    standing = standing_of(build)
    found = {}
    for pk in standing.missing:
        holding, said = standing.holding_of(pk), stands(standing, pk)
        since = (standing.today - standing.since(pk)).days
        number = standing.castings[pk].number
        found[number] = (len(holding.parts), len(holding.alone), since, said.words, said.order)
    assert found == STORES_LIST
    assert list(found)[:3] == ["K-022", "K-024", "K-038"]


def test_waiting_when_counted_by_assembly_then_46_parts_of_eight_and_57_wait_in_all(build):
    standing = standing_of(build)
    held_up = Part.objects.filter(pk__in=standing.held_up)
    assert Counter(top_of(part) for part in held_up) == WAITING
    assert len(standing.held_up) == 46
    assert len(standing.waiting) == 57
    others = Part.objects.filter(pk__in=standing.waiting - standing.held_up)
    assert {part.key for part in others if not part.waits_for} == {"T-037"}
    assert not build.parts.filter(waits_for__icontains="casting").exists()


def test_order_when_overdue_then_it_holds_up_nineteen_and_each_half_as_told(build):
    standing = standing_of(build)
    block, cover = (standing.holding_of(casting_of(build, number).pk) for number in ("K-022", "K-024"))
    assert len(block.parts | cover.parts) == 19
    assert cover.parts < block.parts
    assert {part.key for part in Part.objects.filter(pk__in=block.alone)} == {
        "CY-001", "CY-003", "CY-004", "CY-005", "CY-011", "CY-020", "CY-034",
    }  # fmt: skip


def test_cylinder_castings_when_received_and_accepted_then_nothing_waits_for_them(build):
    """Nineteen parts are held up by the cylinder block, seven by nothing else; arrival clears them."""
    block, cover = line_of(build, "O-017", "K-022"), line_of(build, "O-017", "K-024")
    before = standing_of(build)
    assert len(before.holding_of(block.casting_id).parts) == 19
    assert len(before.holding_of(block.casting_id).alone) == 7
    make_delivery(block, good=-1)
    assert standing_of(build).held_up == before.held_up, "it is here, and nobody has looked at it yet"
    stores.judge(block.casting, block, accepted=1, rejected=0, reason="", on=clock.today(), by=None)
    standing = standing_of(build)
    assert before.held_up - standing.held_up == before.holding_of(block.casting_id).alone
    assert not standing.holding_of(block.casting_id).parts
    assert standing.holding_of(cover.casting_id).alone == before.holding_of(cover.casting_id).parts
    make_delivery(cover)
    after = standing_of(build)
    assert before.held_up - after.held_up == before.holding_of(block.casting_id).parts
    assert len(after.held_up) == 46 - 19


def test_bracket_when_one_is_good_and_one_rejected_then_both_hands_claim_it(build):
    standing = standing_of(build)
    pk = casting_of(build, "K-033").pk
    held, share = standing.held_of(pk), standing.shares[pk]
    assert (held.good, held.rejected, held.reason) == (1, 1, "blowhole in the foot")
    assert [(standing.parts[one.part].key, one.wanted, one.allotted) for one in share.claims] == [
        ("H-021-L", 1, 0), ("H-021-R", 1, 0),
    ]  # fmt: skip
    assert standing.contested() == [pk]
    right = build.parts.get(number="H-021", hand="R")
    stores.allot(casting_of(build, "K-033"), right, 1, by=None)
    standing = standing_of(build)
    assert {standing.parts[part].key for part in standing.holding_of(pk).parts} == {"H-021-L"}
    assert standing.contested() == []


def test_claim_when_the_replacement_is_promised_then_the_day_is_told(build):
    line = line_of(build, "O-016", "K-033")
    stores.chase(line, on=clock.today(), promised_on=date(2025, 12, 12), said="next melt", by=None)
    assert stands(standing_of(build), line.casting_id).words == "promised 12 Dec"


def test_earlier_orders_when_they_came_then_the_longest_wait_for_iron_was_ninety_six_days(build):
    waits = {}
    for line in OrderLine.objects.filter(order__build=build, order__supplier__name="Thrupwell Foundry"):
        first = line.events.standing().filter(kind=Happening.RECEIVED).first()
        if first:
            waits[line.order.number, line.casting.number] = (first.on - line.order.ordered_on).days
    assert max(waits.values()) == 96
    assert [line for line, days in waits.items() if days == 96] == [("O-007", "K-013")]


def test_ledger_when_written_by_the_actions_then_the_same(build):
    """The demo writes its ledger in one go; the actions, asked one by one, let through every entry of it."""
    known = ("kind", "order", "casting", "quantity", "on", "promised_on", "part", "text")
    written = list(ledger(build))
    StoresEvent.objects.all().delete()
    owners = {order.number: order for order in Order.objects.select_related("supplier")}
    OrderLine.objects.all().delete()
    Order.objects.all().delete()
    placed: dict[str, Order] = {}
    for entry in written:
        replay(build, dict(zip(known, entry, strict=True)), owners, placed)
    assert list(ledger(build)) == written


def ledger(build):
    names = ("kind", "line__order__number", "casting__number", "quantity", "on", "promised_on")
    return StoresEvent.objects.filter(build=build).order_by("on", "pk").values_list(*names, "part", "text")


def replay(build, entry, owners, placed) -> None:
    """Put one entry of a ledger through the action that writes its kind."""
    casting, on = casting_of(build, entry["casting"]), entry["on"]
    number, quantity, words = entry["order"], entry["quantity"], entry["text"]
    asked = stores.Asked(casting, quantity, promised_on=entry["promised_on"])
    if entry["kind"] == Happening.ORDERED:
        if number in placed:
            stores.add_to_order(placed[number], asked, on=on, by=None)
        else:
            new = Order(build=build, supplier=owners[number].supplier, number=number, ordered_on=on)
            placed[number] = stores.write_order(new, [asked], by=None)
        return
    line = placed[number].lines.get(casting=casting)
    match entry["kind"]:
        case Happening.CHASED:
            stores.chase(line, on=on, promised_on=entry["promised_on"], said=words, by=None)
        case Happening.CANCELLED:
            stores.cancel_rest(line, on=on, why=words, by=None)
        case Happening.RECEIVED:
            stores.receive(build, {(casting, line): quantity}, on=on, by=None)
        case Happening.ACCEPTED:
            stores.judge(casting, line, accepted=quantity, rejected=0, reason="", on=on, by=None)
        case Happening.REJECTED:
            stores.judge(casting, line, accepted=0, rejected=quantity, reason=words, on=on, by=None)
        case Happening.FOUND_BAD:
            part = Part.objects.get(pk=entry["part"])
            stores.find_bad(casting, line, quantity, reason=words, on=on, by=None, part=part)


@pytest.mark.parametrize(
    "wrong",
    [
        [(Happening.ACCEPTED, 1)],
        [(Happening.RECEIVED, 1), (Happening.ACCEPTED, 2)],
        [(Happening.RECEIVED, 1), (Happening.REJECTED, 1)],
        [(Happening.RECEIVED, 1), (Happening.ACCEPTED, 1), (Happening.FOUND_BAD, 2)],
        [(Happening.RECEIVED, 3), (Happening.ACCEPTED, 3), (Happening.CHASED, 0)],
        [(Happening.RECEIVED, 2), (Happening.CANCELLED, 2)],
        [(Happening.RECEIVED, 0)],
    ],
)
def test_ledger_when_an_entry_cannot_have_happened_then_it_is_not_loaded(build, wrong):
    line = line_of(build, "O-020", "K-038")
    kinds = [(Happening.ORDERED, 3), *wrong]
    events = [
        StoresEvent(kind=kind, casting=line.casting, line=line, quantity=quantity, on=clock.today())
        for kind, quantity in kinds
    ]
    demo_stores.check_ledger(events[:-1])
    with pytest.raises(demo_files.DemoError, match=r"stores\.csv"):
        demo_stores.check_ledger(events)


def test_ledger_when_the_days_go_back_then_it_is_not_loaded(build):
    line = line_of(build, "O-020", "K-038")
    days = (clock.today(), clock.today() - timedelta(days=1))
    events = [
        StoresEvent(kind=Happening.ORDERED, casting=line.casting, line=line, quantity=1, on=on) for on in days
    ]
    with pytest.raises(demo_files.DemoError, match=r"stores\.csv"):
        demo_stores.check_ledger(events)


def test_happenings_when_the_demo_is_loaded_then_every_kind_but_the_one_by_hand_is_there(build):
    kinds = set(StoresEvent.objects.values_list("kind", flat=True))
    assert kinds == set(Happening.values) - {Happening.ALLOTTED}
    assert not StoresEvent.objects.filter(on__gt=clock.today()).exists()


def test_demo_when_loaded_on_another_day_then_its_stores_move_with_it():
    found = []
    for moment in (TOLD_ON, TOLD_ON + timedelta(days=131)):
        with clock.stopped_at(moment):
            demo.load_demo(make_user())
            build = Build.objects.get()
            found.append(relative(build))
            demo.remove_demo(build)
    assert found[0] == found[1]


def relative(build) -> list[object]:
    """Every day of the stores, drawings and log, counted from today."""
    today = clock.today()

    def ago(day):
        return (today - day).days if day else None

    standing = standing_of(build)
    return [
        [
            (
                one.kind,
                one.casting.number,
                one.quantity,
                ago(one.on),
                ago(one.promised_on),
                ago(one.at.date()),
            )
            for one in StoresEvent.objects.select_related("casting")
        ],
        sorted((order.number, ago(order.ordered_on)) for order in Order.objects.all()),
        sorted((part.key, ago(part.casting_since)) for part in Part.objects.exclude(casting_number="")),
        sorted((standing.castings[pk].number, ago(standing.since(pk))) for pk in standing.missing),
        [(standing.castings[pk].number, stands(standing, pk).overdue) for pk in standing.missing],
        sorted((one.drawing.number, one.issue, ago(one.got_on), ago(one.dated)) for one in issues()),
        [(ago(entry.on), entry.left_off) for entry in LogEntry.objects.all()],
    ]


def issues():
    return SheetIssue.objects.select_related("drawing")


def test_mates_when_the_demo_is_loaded_then_read_from_both_sides(build):
    wheel, pinion = build.parts.get(number="S-016"), build.parts.get(number="S-015")
    assert pinion in wheel.mates
    assert wheel in pinion.mates
    shaft = build.parts.get(number="S-003")
    assert {"S-008-L", "S-008-R"} <= {part.key for part in shaft.mates}


def test_drawings_when_the_demo_is_loaded_then_31_and_every_part_is_at_its_last_issue(build):
    assert Drawing.objects.filter(build=build).count() == 31
    latest = {one.number: one.issues.first().issue for one in Drawing.objects.all()}
    assert {part.sheet for part in build.parts.all()} == {
        f"{sheet} {issue}" for sheet, issue in latest.items()
    }
    assert Drawing.objects.get(number="12").title == "Final drive"
    assert not Drawing.objects.filter(place="").exists()


def test_log_when_the_demo_is_loaded_then_it_ends_254_days_ago_with_the_second_shaft_wheel(build):
    last, before, *rest = LogEntry.objects.filter(build=build)
    assert (clock.today() - last.on).days == 254
    assert last.part.key == "S-012"
    assert last.left_off == (
        "29 of 47 cut, head indexed ready for 30, first pass 0.180, "
        "pin 32 holes on from the start hole, do not move the table"
    )
    # 29 moves of 40 in the 47 circle, by the same note.
    assert 29 * 40 % 47 == 32
    assert last.next == "Check that the head has not been moved, then cut tooth 30 of 47"
    assert (last.on.isoformat(), before.on.isoformat()) == ("2025-03-11", "2025-03-08")
    assert before.part.key == "S-003"
    assert before.next.startswith("Turn the left journal to suit the bush, which measures 1.2530")
    assert len(rest) >= 38
    assert all(entry.search_text for entry in (last, before, *rest))


def test_demo_when_removed_then_nothing_of_its_stores_drawings_and_log_is_left(build):
    part = build.parts.get(number="S-017", hand="")
    make_order(casting_of(build, "K-061"), number="O-021")
    make_casting_part(make_casting(build, number="K-900"), number="X-001")
    stores.allot(casting_of(build, "K-033"), build.parts.get(number="H-021", hand="R"), 1, by=None)
    assert part.seconds.exists()
    demo.remove_demo(build)
    for model in (
        Casting, CastingNeed, PartFirst, Mate, Supplier, Order, OrderLine, StoresEvent, Drawing, SheetIssue,
        LogEntry,
    ):  # fmt: skip
        assert not model.objects.exists(), model
