"""Small makers of things for tests: each gives something valid, and takes changes by keyword."""

from itertools import count
from typing import Any
from uuid import uuid4

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User

from buildlog import clock
from buildlog.models import (
    Assembly,
    Build,
    DividingHead,
    GearCutter,
    IndexPlate,
    Membership,
    Part,
    PartUse,
    Role,
)
from calc import records, registry
from calc.models import CalculationRecord

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
