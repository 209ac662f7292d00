"""The demo build Marlpit: loaded from its own files by the importer, and taken away again in one step."""

from django.contrib.auth.models import User
from django.db import transaction

from buildlog.actions.demo_files import BATCH, FOLDER, DemoError, day, evening, rows
from buildlog.actions.demo_made import load_made
from buildlog.actions.demo_records import load_records
from buildlog.actions.demo_scrap import load_scrap
from buildlog.actions.demo_sheets import remove_sheets
from buildlog.actions.demo_stores import load_stores, remove_stores
from buildlog.actions.demo_sums import load_sums
from buildlog.actions.demo_threads import load_threads
from buildlog.actions.demo_tooling import load_tooling, remove_tooling
from buildlog.actions.take_in_list import write_list
from buildlog.changes import unrecorded
from buildlog.lists.comparing import compare
from buildlog.lists.reading import read_list
from buildlog.models import (
    Assembly,
    Build,
    HistoryLine,
    Membership,
    Part,
    PartUse,
    Role,
    Stage,
    WorkCard,
)
from calc.models import CalculationRecord

#: How long before the first thing that was made the list came in. [days]
LIST_BEFORE = 30


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
    with unrecorded():
        _load_assemblies(build)
        listed_ago = max(int(row["days ago"] or 0) for row in rows("progress.csv")) + LIST_BEFORE
        _load_parts(build, owner, listed_ago)
        _load_progress(build, owner)
        load_stores(build, owner, listed_ago=listed_ago)
        load_records(build, owner)
        load_made(build, owner)
        load_scrap(build, owner)
        load_threads(build)
        load_sums(build, owner)
        has_tooling = load_tooling(owner)
    tooling = " Its dividing heads and gear cutters are among your tooling." if has_tooling else ""
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
    remove_stores(build)
    remove_sheets(build)
    PartUse.objects.filter(part__build=build).delete()
    Part.objects.filter(build=build).delete()
    Assembly.objects.filter(build=build).update(parent=None)
    Assembly.objects.filter(build=build).delete()
    build.delete()
    remove_tooling(owners)


def _load_assemblies(build: Build) -> None:
    made: dict[str, Assembly] = {}
    for row in rows("assemblies.csv"):
        made[row["code"]] = Assembly.objects.create(
            build=build,
            code=row["code"],
            name=row["name"],
            balloon=row["balloon"],
            parent=made[row["parent"]] if row["parent"] else None,
        )


def _load_parts(build: Build, owner: User, listed_ago: int) -> None:
    """The parts, by the way every list comes in."""
    preview = compare(build, read_list("parts.csv", (FOLDER / "parts.csv").read_bytes()))
    wrong = [f"row {row.line}, {column}: {reason}" for row in preview.rows for column, reason in row.faults]
    if wrong:
        raise DemoError(f"The demo's parts.csv does not come in: {'; '.join(wrong[:5])}")
    write_list(preview, by=owner, told="by the list parts.csv", at=evening(listed_ago))


def _load_progress(build: Build, owner: User) -> None:
    """How far each part has come, counted back from today."""
    parts = {(part.number, part.hand): part for part in build.parts.with_needed()}
    changed, lines = [], []
    for row in rows("progress.csv"):
        part = parts[row["number"], row["hand"]]
        part.stage, part.good, part.scrap = Stage(row["stage"]), int(row["good"]), int(row["scrap"])
        part.lesson, part.waits_for = row["lesson"], row["waits for"]
        if row["waiting days"]:
            part.waits_since = day(row["waiting days"])
        if row["days ago"]:
            part.stage_at = evening(int(row["days ago"]))
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
