"""The demo build Marlpit: loaded from its own files by the importer, and taken away again in one step."""

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from django.contrib.auth.models import User
from django.db import models, transaction

from buildlog import clock
from buildlog.actions.take_in_list import write_list
from buildlog.lists.comparing import compare
from buildlog.lists.reading import read_list
from buildlog.models import (
    Assembly,
    Build,
    DividingHead,
    GearCutter,
    HistoryLine,
    IndexPlate,
    Membership,
    Numbering,
    Part,
    PartUse,
    Role,
    Stage,
    WorkCard,
)
from calc.models import CalculationRecord

FOLDER = Path(__file__).resolve().parent.parent / "demo" / "marlpit"
#: How long before the first thing that was made the list came in. [days]
LIST_BEFORE = 30
BATCH = 200


class DemoError(RuntimeError):
    """The demo's own files do not fit together; says where."""


@dataclass(frozen=True)
class Head:
    """A dividing head of the demo with all that is on it, as values to write or to compare."""

    name: str
    ratio: int
    direct_circles: str
    change_gears: str
    is_usual: bool
    plates: tuple[tuple[str, str, str], ...]


@transaction.atomic
def load_demo(owner: User) -> str:
    """Load the demo for somebody, once; says what was done."""
    there = Build.objects.filter(is_demo=True, memberships__user=owner, memberships__role=Role.OWNER).first()
    if there:
        return f"The demo build {there.name} is there already; it was left as it is."
    build = Build.objects.create(
        name="Marlpit",
        scale="4 in",
        description="Single-cylinder, three-shaft, two-speed general-purpose engine",
        is_demo=True,
        side_view="marlpit",
    )
    Membership.objects.create(build=build, user=owner, role=Role.OWNER)
    _load_assemblies(build)
    _load_parts(build, owner)
    _load_progress(build, owner)
    tooling = " Its dividing heads and gear cutters are among your tooling." if _load_tooling(owner) else ""
    return (
        f"The demo build {build.name} is loaded: {build.parts.count()} part records, all invented.{tooling}"
    )


@transaction.atomic
def remove_demo(build: Build) -> None:
    """Take the demo away with all that hangs on it; tooling that has been changed since stays.

    Raises
    ------
    ValueError
        The build is not the demo.
    """
    if not build.is_demo:
        raise ValueError(f"{build} is no demo build; nothing was taken away.")
    owners = list(build.memberships.filter(role=Role.OWNER).values_list("user_id", flat=True))
    WorkCard.objects.filter(build=build).delete()
    CalculationRecord.objects.filter(part__build=build).delete()
    PartUse.objects.filter(part__build=build).delete()
    Part.objects.filter(build=build).delete()
    Assembly.objects.filter(build=build).update(parent=None)
    Assembly.objects.filter(build=build).delete()
    build.delete()
    _remove_tooling(owners)


def _rows(name: str) -> Iterator[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def _load_assemblies(build: Build) -> None:
    made: dict[str, Assembly] = {}
    for row in _rows("assemblies.csv"):
        made[row["code"]] = Assembly.objects.create(
            build=build,
            code=row["code"],
            name=row["name"],
            balloon=row["balloon"],
            parent=made[row["parent"]] if row["parent"] else None,
        )


def _load_parts(build: Build, owner: User) -> None:
    """The parts, by the way every list comes in."""
    preview = compare(build, read_list("parts.csv", (FOLDER / "parts.csv").read_bytes()))
    wrong = [f"row {row.line}, {column}: {reason}" for row in preview.rows for column, reason in row.faults]
    if wrong:
        raise DemoError(f"The demo's parts.csv does not come in: {'; '.join(wrong[:5])}")
    days = max(int(row["days ago"] or 0) for row in _rows("progress.csv")) + LIST_BEFORE
    write_list(preview, by=owner, told="by the list parts.csv", at=_evening(days))


def _load_progress(build: Build, owner: User) -> None:
    """How far each part has come, counted back from today."""
    parts = {(part.number, part.hand): part for part in build.parts.with_needed()}
    changed, lines = [], []
    for row in _rows("progress.csv"):
        part = parts[row["number"], row["hand"]]
        part.stage, part.good, part.scrap = Stage(row["stage"]), int(row["good"]), int(row["scrap"])
        part.lesson, part.waits_for = row["lesson"], row["waits for"]
        if row["waiting days"]:
            part.waits_since = clock.today() - timedelta(days=int(row["waiting days"]))
        if row["days ago"]:
            part.stage_at = _evening(int(row["days ago"]))
            lines.append(
                HistoryLine(
                    part=part,
                    at=part.stage_at,
                    by=owner,
                    stage=part.stage,
                    good=part.good,
                    scrap=part.scrap,
                    text=_told(part),
                )
            )
        changed.append(part)
    HistoryLine.objects.bulk_create(lines, batch_size=BATCH)
    fields = ["stage", "good", "scrap", "lesson", "waits_for", "waits_since", "stage_at"]
    Part.objects.bulk_update(changed, fields, batch_size=BATCH)


def _told(part: Part) -> str:
    scrap = f", {part.scrap} scrap" if part.scrap else ""
    stage = part.stage_mark
    if part.good or part.scrap:
        return f"{part.good} of {part.needed} good{scrap}: {stage.label.lower()}"
    return f"{Stage.NOT_STARTED.label} to {stage.label.lower()}"


def _evening(days: int) -> datetime:
    """A quarter past eight on an evening so many days ago, and never later than now."""
    then = clock.now() - timedelta(days=days)
    return min(then.replace(hour=20, minute=15, second=0, microsecond=0), clock.now())


def _demo_heads() -> list[Head]:
    plates: dict[str, list[tuple[str, str, str]]] = {}
    for row in _rows("plates.csv"):
        faces = (_circles(row["first face"]), _circles(row["second face"]))
        plates.setdefault(row["head"], []).append((row["plate"], *faces))
    return [
        Head(
            name=row["name"],
            ratio=int(row["ratio"]),
            direct_circles=_circles(row["direct plate"]),
            change_gears=_circles(row["change gears"]),
            is_usual=row["usual"] == "yes",
            plates=tuple(sorted(plates.get(row["name"], []))),
        )
        for row in _rows("heads.csv")
    ]


def _circles(text: str) -> str:
    """Numbers with commas, tidied as the entries tidy them."""
    return text.replace(" ", "")


def _demo_cutters() -> list[dict[str, Any]]:
    return [
        {
            "pitch": row["pitch"],
            "pressure_angle": row["pressure angle"],
            "number": row["number"],
            "numbering": Numbering(row["numbering"]),
            "from_teeth": int(row["from teeth"]),
            "to_teeth": int(row["to teeth"]) if row["to teeth"] else None,
            "depth_marked": row["depth marked"],
            "note": row["note"],
        }
        for row in _rows("cutters.csv")
    ]


def _load_tooling(owner: User) -> bool:
    """The demo's heads and cutters, unless the builder has a head of their own."""
    if DividingHead.objects.filter(owner=owner).exists():
        return False
    for head in _demo_heads():
        made = DividingHead.objects.create(
            owner=owner,
            name=head.name,
            ratio=head.ratio,
            direct_circles=head.direct_circles,
            change_gears=head.change_gears,
            is_usual=head.is_usual,
        )
        for name, first, second in head.plates:
            IndexPlate.objects.create(head=made, name=name, first_face=first, second_face=second)
    for values in _demo_cutters():
        GearCutter.objects.create(owner=owner, **values)
    return True


def _remove_tooling(owners: list[int]) -> None:
    """Heads and cutters go that still are as the demo brought them; a changed one is the builder's own."""
    heads, cutters = _demo_heads(), _demo_cutters()
    _delete_unchanged(
        DividingHead.objects.filter(owner_id__in=owners).prefetch_related("plates"),
        lambda head: _head_now(head) in heads,
    )
    _delete_unchanged(
        GearCutter.objects.filter(owner_id__in=owners),
        lambda cutter: any(all(getattr(cutter, key) == it for key, it in one.items()) for one in cutters),
    )


def _head_now(head: DividingHead) -> Head:
    plates = tuple(sorted((plate.name, plate.first_face, plate.second_face) for plate in head.plates.all()))
    return Head(head.name, head.ratio, head.direct_circles, head.change_gears, bool(head.is_usual), plates)


def _delete_unchanged(found: "models.QuerySet[Any]", is_unchanged: Callable[[Any], bool]) -> None:
    for one in found:
        if is_unchanged(one):
            one.delete()
