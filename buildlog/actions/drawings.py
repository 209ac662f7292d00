"""The register of drawings: sheets taken over from the parts that name them, and issues as they come."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from django.db import transaction
from django.db.models import Count

from buildlog import clock
from buildlog.actions.errata import hold_before_following
from buildlog.actions.stages import Doer, note_history
from buildlog.changes import hanging_rows, recording, row_of
from buildlog.issues import by_age, issue_named
from buildlog.models import Build, Drawing, ErratumPart, Part, PartUse, SheetIssue
from buildlog.models.parts import DERIVED

#: Longer ones are no sheet numbers of the register.
MOST_FIGURES = 4


@dataclass
class Named:
    """What the parts of a build say of one sheet: how many name it, and with which issues."""

    parts: int = 0
    issues: dict[str, int] = field(default_factory=lambda: defaultdict(int))  # "" where none is named

    @property
    def letters(self) -> list[str]:
        """The issues named, the earliest first."""
        return sorted((issue for issue in self.issues if issue), key=by_age)

    def not_at(self, issue: str) -> int:
        """How many name another issue than this."""
        return sum(count for letter, count in self.issues.items() if letter and letter != issue)


def named_by_parts(build: Build) -> dict[str, Named]:
    """What the parts say of their sheets, by the number of the sheet, in one query."""
    rows = (
        Part.objects.live()
        .filter(build=build)
        .exclude(sheet_number="")
        .order_by()
        .values_list("sheet_number", "sheet")
        .annotate(parts=Count("pk"))
    )
    found: dict[str, Named] = defaultdict(Named)
    for number, sheet, parts in rows:
        found[number].parts += parts
        found[number].issues[issue_named(sheet)] += parts
    return dict(found)


def missing_sheets(named: Mapping[str, Named], known: Iterable[str]) -> list[str]:
    """The sheets that parts name and the register has not, in their order."""
    have = set(known)
    return sorted((number for number in named if number not in have and len(number) <= MOST_FIGURES), key=int)


@transaction.atomic
def register_named(build: Build, *, by: Doer) -> list[Drawing]:
    """Give every sheet that parts name a line in the register, called after the one assembly they are in.

    No issue is recorded: nobody has said when it came.
    """
    Build.objects.select_for_update().get(pk=build.pk)
    numbers = missing_sheets(named_by_parts(build), build.drawings.values_list("number", flat=True))
    titles = _titles(build, numbers)
    new = [Drawing(build=build, number=number, title=titles.get(number, "")) for number in numbers]
    with recording(build, f"{len(new)} sheets taken over from the parts", by=by) as change:
        for drawing in new:
            drawing.save()
        change.came(*new)
    return new


def _titles(build: Build, numbers: list[str]) -> dict[str, str]:
    """The assembly that all parts of a sheet are used in, where it is one."""
    places: dict[str, set[str]] = defaultdict(set)
    rows = PartUse.objects.filter(part__build=build, part__binned_at=None, part__sheet_number__in=numbers)
    for number, name in rows.values_list("part__sheet_number", "assembly__name").distinct():
        places[number].add(name)
    return {number: next(iter(names)) for number, names in places.items() if len(names) == 1}


class IssueRefusedError(ValueError):
    """An issue that cannot be recorded; `field` names the entry."""

    def __init__(self, name: str, message: str) -> None:
        super().__init__(message)
        self.field = name


@transaction.atomic
def record_issue(
    drawing: Drawing, issue: str, *, dated: date | None, got_on: date, note: str, by: Doer
) -> SheetIssue:
    """Write down an issue as it came; it is the one worked to from now on.

    Raises
    ------
    IssueRefusedError
        The register has it already, or has a later one.
    """
    Drawing.objects.select_for_update().get(pk=drawing.pk)
    have = sorted(drawing.issues.values_list("issue", flat=True), key=by_age)
    if issue in have:
        raise IssueRefusedError(
            "issue", f"Issue {issue} of sheet {drawing.number} is in the register already."
        )
    if have and by_age(issue) < by_age(have[-1]):
        raise IssueRefusedError(
            "issue",
            f"Issue {issue} comes before {have[-1]}, which is the one worked to. Write down the one that "
            f"follows {have[-1]}, or take {have[-1]} back first.",
        )
    with recording(drawing.build, f"Sheet {drawing.number}: issue {issue}", by=by) as change:
        change.watch(drawing.issues.all())
        return SheetIssue.objects.create(
            drawing=drawing, issue=issue, dated=dated, got_on=got_on, note=note, recorded_at=clock.now()
        )


@transaction.atomic
def take_back_issue(drawing: Drawing, *, by: Doer) -> SheetIssue | None:
    """Strike out the issue recorded last, written down by mistake; the one before is worked to again.

    Raises
    ------
    IssueRefusedError
        It has files that are not in the bin.
    """
    last = drawing.issues.select_for_update().first()
    if last is None:
        return None
    files = last.files.live().count()
    if files:
        many = "1 file" if files == 1 else f"{files} files"
        raise IssueRefusedError(
            "issue", f"Issue {last.issue} has {many}. Put what is not of it in the bin first."
        )
    with recording(drawing.build, f"Sheet {drawing.number}: issue taken back", by=by) as change:
        change.watch(row_of(last), *hanging_rows(last))
        last.delete()
    return last


@transaction.atomic
def follow_issue(drawing: Drawing, parts: Iterable[int], *, by: Doer) -> int:
    """Make parts that name another issue of a sheet name the one worked to; how many that were."""
    last = drawing.issues.first()
    if last is None:
        return 0
    live = Part.objects.live().filter(build_id=drawing.build_id, pk__in=list(parts))
    live = live.filter(sheet_number=drawing.number)
    moved = 0
    with recording(drawing.build, f"Parts of sheet {drawing.number} to issue {last.issue}", by=by) as change:
        change.watch(live, ErratumPart.objects.filter(erratum__drawing=drawing))
        hold_before_following(drawing, [part.pk for part in live])
        for part in live.select_for_update():
            if issue_named(part.sheet) == last.issue:
                continue
            before, part.sheet = part.sheet, f"{drawing.number} {last.issue}"
            part.save(update_fields=["sheet", *DERIVED])
            note_history(part, f"Changed: sheet {before} to {part.sheet}", by=by)
            moved += 1
    return moved
