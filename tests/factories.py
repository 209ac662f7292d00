"""Small makers of things for tests: each gives something valid, and takes changes by keyword."""

import json
from datetime import date
from decimal import Decimal
from itertools import count
from pathlib import Path
from typing import Any
from uuid import uuid4

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.core.files.base import ContentFile

from buildlog import clock
from buildlog.actions import made, stores
from buildlog.actions.arrangement import put_picture
from buildlog.actions.errata import write_erratum
from buildlog.actions.photos import About, bring_in
from buildlog.actions.sheet_files import bring_in_sheet
from buildlog.models import (
    Arrangement,
    Assembly,
    BalloonPlace,
    Build,
    Casting,
    CastingNeed,
    Characteristic,
    DividingHead,
    Drawing,
    Erratum,
    GearCutter,
    IndexPlate,
    LogEntry,
    Mate,
    Membership,
    Order,
    OrderLine,
    Part,
    PartFirst,
    PartUse,
    Photo,
    Reading,
    Role,
    Scrap,
    SheetFile,
    SheetIssue,
    Supplier,
    ThreadUse,
)
from buildlog.sizes_made import read_limit, read_nominal, read_reading
from calc import records, registry
from calc.models import CalculationRecord
from calc.threads_named import named
from tests.picture_files import picture, upload

_serial = count(1)

#: Circles of the plates in job and tests: 15 to 20, 21 to 33, 37 to 49 (common practice, no source), and a
#: two-faced plate as one Army text lists it (US Army course OD1644).
PLATES = (
    ("1", "15,16,17,18,19,20", ""),
    ("2", "21,23,27,29,31,33", ""),
    ("3", "37,39,41,43,47,49", ""),
    ("4", "24,25,28,30,34,37,38,39,41,42,43", "46,47,49,51,53,54,57,58,59,62,66"),
)
CIRCLES = "15,16,17,18,19,20/21,23,27,29,31,33/37,39,41,43,47,49"
GEARS = "24,24,28,32,40,44,48,56,64,72,86,100"

FROZEN_PLAN = Path(__file__).parent / "calc" / "kept" / "bevel-cutting-1.json"


def make_user(name: str = "", **changes: Any) -> User:
    """A person with the password `workshop evening`."""
    name = name or f"person-{next(_serial)}"
    values = {"username": name, "password": "workshop evening"} | changes
    return get_user_model().objects.create_user(**values)


def make_build(owner: User | None = None, builder: User | None = None, **changes: Any) -> Build:
    """A build, with its members where they are given."""
    build = Build.objects.create(**({"name": "Marlpit", "scale": "4 in"} | changes))
    for user, role in ((owner, Role.OWNER), (builder, Role.BUILDER)):
        if user:
            Membership.objects.create(build=build, user=user, role=role)
    return build


def make_assembly(build: Build | None = None, **changes: Any) -> Assembly:
    number = next(_serial)
    values = {"build": build or make_build(), "code": f"A{number}", "name": "Shafts and gearing"} | changes
    return Assembly.objects.create(**values)


def make_part(
    build: Build | None = None, *, assembly: Assembly | None = None, quantity: int = 1, **changes: Any
) -> Part:
    """A part; used so many times in an assembly where one is given."""
    build = build or (assembly.build if assembly else make_build())
    values = {"build": build, "number": f"S-{next(_serial):03}", "name": "Final-drive wheel 84 T"} | changes
    part = Part.objects.create(**values)
    if assembly:
        PartUse.objects.create(part=part, assembly=assembly, quantity=quantity)
    return part


def make_head(
    owner: User, *, plates: tuple[tuple[str, str, str], ...] = PLATES, **changes: Any
) -> DividingHead:
    """A dividing head of 40 to 1 with its plates; its name stays H1 unless changed."""
    values: dict[str, Any] = {"owner": owner, "name": "H1", "ratio": 40, "is_usual": True} | changes
    head = DividingHead.objects.create(**values)
    for name, first, second in plates:
        IndexPlate.objects.create(head=head, name=name, first_face=first, second_face=second)
    return head


def make_cutter(owner: User, **changes: Any) -> GearCutter:
    values = {"owner": owner, "pitch": "6 DP", "number": "2", "from_teeth": 55, "to_teeth": 134} | changes
    return GearCutter.objects.create(**values)


def make_record(
    part: Part | None = None,
    *,
    user: User | None = None,
    key: str = "indexing",
    unit: str = "inch",
    context: dict[str, Any] | None = None,
    **entered: str,
) -> CalculationRecord:
    """A kept sum, worked out as the site does: 84 divisions unless the entries say otherwise."""
    calculation = registry.get(key)
    assert calculation is not None
    typed = ({"divisions": "84", "ratio": "40", "circles": CIRCLES} if key == "indexing" else {}) | entered
    run = records.run(calculation, typed, unit=unit)
    return records.keep(
        run, part=part, user=user or make_user(), token=uuid4(), context=context or {}, at=clock.now()
    )


def make_plan(part: Part | None = None, *, user: User | None = None) -> CalculationRecord:
    """The frozen plan of a bevel pair, 36 and 16 teeth, as if it had been kept just now."""
    frozen = json.loads(FROZEN_PLAN.read_text(encoding="utf-8"))
    if part is not None:
        frozen["context"]["part"] = records.part_facts(part)
    return CalculationRecord.objects.create(
        **frozen, part=part, made_by=user or make_user(), made_at=clock.now(), token=uuid4()
    )


def make_casting(build: Build | None = None, **changes: Any) -> Casting:
    """A line in the register of castings; no part names it yet."""
    values = {"number": f"K-{next(_serial):03}", "name": "Cylinder block", "material": "cast iron"} | changes
    return Casting.objects.create(build=build or make_build(), **values)


def make_casting_part(casting: Casting, **changes: Any) -> Part:
    """A part whose own casting it is: one needed, wanted since today."""
    values = {
        "name": casting.name,
        "kind": "casting",
        "casting_number": casting.number,
        "casting_since": clock.today(),
    }
    return make_part(casting.build, **(values | changes))


def make_need(part: Part, casting: Casting, **changes: Any) -> CastingNeed:
    """A casting that the part needs besides its own, since today."""
    values = {"quantity": 1, "since": clock.today()} | changes
    return CastingNeed.objects.create(part=part, casting=casting, **values)


def make_first(part: Part, first: Part, **changes: Any) -> PartFirst:
    """The second part has to be made before the first can go on."""
    return PartFirst.objects.create(part=part, first=first, **({"since": clock.today()} | changes))


def make_mate(part: Part, mate: Part) -> Mate:
    one, other = sorted((part, mate), key=lambda each: each.pk)
    return Mate.objects.create(one=one, other=other)


def make_supplier(build: Build | None = None, **changes: Any) -> Supplier:
    values = {"name": f"Thrupwell Foundry {next(_serial)}"} | changes
    return Supplier.objects.create(build=build or make_build(), **values)


def make_order(
    *asked: Casting | tuple[Casting, int],
    promised_on: date | None = None,
    supplier: Supplier | None = None,
    build: Build | None = None,
    **changes: Any,
) -> Order:
    """An order of today for the castings given, one of each or as many as stand beside them."""
    pairs = [one if isinstance(one, tuple) else (one, 1) for one in asked]
    build = build or (pairs[0][0].build if pairs else supplier.build if supplier else make_build())
    values = {"number": f"O-{next(_serial):03}", "ordered_on": clock.today()} | changes
    order = Order(build=build, supplier=supplier or make_supplier(build), **values)
    lines = [stores.Asked(casting, quantity, promised_on=promised_on) for casting, quantity in pairs]
    return stores.write_order(order, lines, by=None)


def make_delivery(line: OrderLine, quantity: int = 1, *, good: int | None = None, **changes: Any) -> None:
    """Castings of a line come and are looked at: all good, or so many and the rest rejected.

    `reason` and `on` may be given; with `good=-1` nobody has looked at them yet.
    """
    on, reason = changes.pop("on", clock.today()), changes.pop("reason", "blowhole in the bore")
    assert not changes, changes
    stores.receive(line.order.build, {(line.casting, line): quantity}, on=on, by=None)
    accepted = quantity if good is None else good
    if accepted >= 0:
        stores.judge(
            line.casting, line, accepted=accepted, rejected=quantity - accepted,
            reason=reason if quantity > accepted else "", on=on, by=None,
        )  # fmt: skip


def make_drawing(build: Build | None = None, *issues: str, **changes: Any) -> Drawing:
    """A sheet in the register, with its issues, the latest last; issue B where none is given."""
    values = {
        "number": str(next(_serial) % 9000 + 1),
        "title": "Cylinder block",
        "place": "plan chest",
    } | changes
    drawing = Drawing.objects.create(build=build or make_build(), **values)
    for issue in issues or ("B",):
        make_issue(drawing, issue)
    return drawing


def make_issue(drawing: Drawing, issue: str = "C", **changes: Any) -> SheetIssue:
    values = {"got_on": clock.today(), "recorded_at": clock.now()} | changes
    return SheetIssue.objects.create(drawing=drawing, issue=issue, **values)


def make_erratum(drawing: Drawing, **changes: Any) -> Erratum:
    """The lifting links of sheet 7, 2.310 that should read 2.435; it flags every part of the sheet."""
    values: dict[str, Any] = {
        "where": "lifting link centres",
        "as_printed": "2.310",
        "should_be": "2.435",
        "source": "own layout",
        "issue": "",
        "found_on": clock.today(),
        "checked_on": None,
    }
    untouched, by = changes.pop("untouched", ()), changes.pop("by", None)
    return write_erratum(drawing, values | changes, untouched, token=uuid4(), by=by)


def make_sheet_file(drawing: Drawing | None = None, **changes: Any) -> SheetFile:
    """A file of the issue worked to; a picture unless `content` and `name` say otherwise."""
    issue = (drawing or make_drawing()).issues.first()
    file = upload(changes.pop("content", None) or picture("PNG"), changes.pop("name", "sheet.png"))
    kept = bring_in_sheet(issue, file, by=None, token=uuid4()).thing
    assert kept is not None
    for name, value in changes.items():
        setattr(kept, name, value)
    kept.save()
    return kept


def make_log_entry(build: Build | None = None, *, part: Part | None = None, **changes: Any) -> LogEntry:
    """A session in the workshop of today: what was done, where it was left off, what is next."""
    values: dict[str, Any] = {
        "on": clock.today(),
        "minutes": 150,
        "done": "Faced the boss and bored it.",
        "left_off": "Boss faced, bore 0.010 under.",
        "next": "Ream the bore.",
        "written_at": clock.now(),
    } | changes
    return LogEntry.objects.create(build=build or (part.build if part else make_build()), part=part, **values)


def make_characteristic(part: Part | None = None, **changes: Any) -> Characteristic:
    """A size that a part is to have: 1.2500 in, half a thou over it allowed, unless changed."""
    values: dict[str, Any] = {"name": "bore", "nominal": "1.2500 in", "upper": "+0.0005", "lower": "-0"}
    values |= changes
    nominal = read_nominal(values["nominal"], inches=True)
    limits = {
        f"{name}_exact": str(read_limit(values[name], nominal)) for name in ("upper", "lower") if values[name]
    }
    size = Characteristic(
        part=part or make_part(), unit=nominal.unit, nominal_exact=str(nominal.base), **values, **limits
    )
    return made.add_characteristic(size, token=uuid4(), by=None)


def make_reading(size: Characteristic, text: str, **changes: Any) -> Reading:
    """A reading of today of the first piece."""
    read = made.Read(read_reading(text, unit=size.unit, about=size.nominal_mm), changes.pop("instrument", ""))
    values = {"piece": 1, "on": clock.today(), "note": "", "card": None, "token": uuid4(), "by": None}
    return made.write_readings(size.part, {size.pk: read}, **(values | changes))[0]


def make_photo(build: Build | None = None, *, part: Part | None = None, **changes: Any) -> Photo:
    """A photo with a file of its own, brought in today; `content` and `name` may be the file's."""
    build = build or (part.build if part else make_build())
    file = upload(changes.pop("content", None) or picture(), changes.pop("name", "IMG_0001.jpg"))
    photo = bring_in(build, file, About(part=part), by=None, token=uuid4()).thing
    assert photo is not None
    for name, value in changes.items():
        setattr(photo, name, value)
    photo.save()
    return photo


def make_scrap(part: Part | None = None, **changes: Any) -> Scrap:
    """An entry of today in the scrap book: one piece, by a wrong setting, with a lesson for the same part."""
    part = part or make_part()
    values: dict[str, Any] = {
        "on": clock.today(),
        "count": 1,
        "kind": "scrap",
        "cause": "setting",
        "happened": "Wrong hole at tooth 12.",
        "minutes": 210,
        "lesson": "Pinch the sector arms before every move.",
        "at": clock.now(),
    } | changes
    return Scrap.objects.create(build=part.build, part=part, **values)


def make_thread(part: Part | None = None, thread: str = "1/4 BSF", **changes: Any) -> ThreadUse:
    """A thread of a part, one on it."""
    values = {"thread": named(thread).name, "as_typed": thread} | changes
    return ThreadUse.objects.create(part=part or make_part(), **values)


def make_arrangement(
    build: Build | None = None, *, content: bytes = b"", name: str = "side.jpg"
) -> Arrangement:
    """A picture under the balloons of a build."""
    return put_picture(build or make_build(), ContentFile(content or picture(), name), by=None)


def make_place(
    arrangement: Arrangement,
    assembly: Assembly,
    *,
    end: tuple[str, str] = ("0.5", "0.5"),
    at: tuple[str, str] = ("0.3", "0.2"),
) -> BalloonPlace:
    """A balloon of an assembly on a picture: what it points at, and where it stands, in shares."""
    return BalloonPlace.objects.create(
        arrangement=arrangement,
        assembly=assembly,
        end_x=Decimal(end[0]),
        end_y=Decimal(end[1]),
        x=Decimal(at[0]),
        y=Decimal(at[1]),
    )
