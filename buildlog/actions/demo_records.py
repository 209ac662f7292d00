"""The demo's register of drawings and its workshop log."""

from django.contrib.auth.models import User

from buildlog.actions.demo_files import BATCH, day, evening, rows
from buildlog.actions.demo_sheets import load_sheets
from buildlog.models import (
    Build,
    Dealing,
    Drawing,
    Erratum,
    ErratumPart,
    LogEntry,
    SheetIssue,
    TimeKind,
)


def load_records(build: Build, owner: User) -> None:
    """The register with its errata, and the log."""
    _load_drawings(build)
    load_sheets(build)
    _load_errata(build, owner)
    _load_log(build, owner)


def _load_drawings(build: Build) -> None:
    """Each sheet once, with all its issues."""
    drawings: dict[str, Drawing] = {}
    issues = []
    for row in rows("drawings.csv"):
        if row["sheet"] not in drawings:
            drawing = Drawing(
                build=build, number=row["sheet"], title=row["title"], place=row["place"], note=row["note"],
                units=row["units"], projection=row["projection"],
            )  # fmt: skip
            drawing.derive()
            drawings[row["sheet"]] = drawing
        issues.append(
            SheetIssue(
                drawing=drawings[row["sheet"]],
                issue=row["issue"],
                dated=day(row["dated days ago"]),
                got_on=day(row["got days ago"]),
                note=row["changed"],
                recorded_at=evening(int(row["got days ago"])),
            )
        )
    Drawing.objects.bulk_create(drawings.values(), batch_size=BATCH)
    SheetIssue.objects.bulk_create(issues, batch_size=BATCH)


def _load_errata(build: Build, owner: User) -> None:
    """What is wrong on the sheets; it flags all their parts but those it does not reach."""
    parts = {part.key: part for part in build.parts.all()}
    drawings = {drawing.number: drawing for drawing in build.drawings.all()}
    for row in rows("errata.csv"):
        erratum = Erratum.objects.create(
            build=build,
            drawing=drawings[row["sheet"]],
            number=int(row["erratum"]),
            issue=row["issue"],
            where=row["where"],
            as_printed=row["as printed"],
            should_be=row["should be"],
            source=row["source"],
            page=1 if row["across"] else None,
            x=float(row["across"]) / 100 if row["across"] else None,
            y=float(row["down"]) / 100 if row["down"] else None,
            found_on=day(row["days ago"]),
            checked_on=day(row["days ago"]),
            checked_by=owner,
            written_at=evening(int(row["days ago"])),
            written_by=owner,
        )
        ErratumPart.objects.bulk_create(
            ErratumPart(
                erratum=erratum, part=parts[key], how=Dealing.NOT_AFFECTED, on=erratum.found_on, by=owner
            )
            for key in filter(None, row["not affected"].split("; "))
        )


def _load_log(build: Build, owner: User) -> None:
    parts = {part.key: part for part in build.parts.all()}
    entries = []
    for row in rows("log.csv"):
        entry = LogEntry(
            build=build,
            on=day(row["days ago"]),
            minutes=int(row["minutes"]),
            kind=row["kind of time"] or TimeKind.BENCH,
            part=parts[row["part"]] if row["part"] else None,
            done=row["done"],
            left_off=row["left off"],
            next=row["next"],
            links=row["links"],
            written_at=evening(int(row["days ago"])),
            by=owner,
        )
        entry.derive()
        entries.append(entry)
    LogEntry.objects.bulk_create(entries, batch_size=BATCH)
