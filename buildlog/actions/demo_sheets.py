"""The demo's drawn sheets: made from the list of their lines when the demo is loaded."""

import hashlib
from collections import defaultdict

from django.core.files.base import ContentFile
from django.core.files.storage import storages
from django.db import transaction

from buildlog import clock
from buildlog.actions.demo_files import rows
from buildlog.models import Build, SheetFile, SheetIssue, SheetKind
from buildlog.storage import ORIGINALS
from calc.pdf import render_drawing
from calc.sheets import DrawnLine

#: A3 lying, in points.
WIDTH, HEIGHT = 1191, 842


def load_sheets(build: Build) -> None:
    """A file for each sheet that lines are listed of, with the issue worked to."""
    lines: dict[str, list[DrawnLine]] = defaultdict(list)
    for row in rows("sheet_lines.csv"):
        lines[row["sheet"]].append(_line(row))
    issues = SheetIssue.objects.filter(drawing__build=build, drawing__number__in=lines)
    # The issue worked to comes first: the earlier ones of a sheet are passed over.
    worked_to: dict[str, SheetIssue] = {}
    for issue in issues.select_related("drawing__build"):
        worked_to.setdefault(issue.drawing.number, issue)
    SheetFile.objects.bulk_create(_kept(issue, lines[number]) for number, issue in worked_to.items())


def _line(row: dict[str, str]) -> DrawnLine:
    points = [(float(x), float(y)) for x, y in map(str.split, filter(None, row["points"].split(";")))]
    return {
        "what": row["what"],
        "points": points,
        "sizes": [float(size) for size in row["sizes"].split()],
        # The title block says inches; in the file they keep a spreadsheet from reading 1/2 as a day.
        "text": row["text"].removesuffix(" in"),
    }


def _kept(issue: SheetIssue, lines: list[DrawnLine]) -> SheetFile:
    """Draw the sheet and keep it, as a file of its issue."""
    drawing = issue.drawing
    content = render_drawing(
        {
            "block": {
                "build": drawing.build.scale_text,
                "kind": "Drawing, invented for the demo",
                "number": drawing.number,
                "title": drawing.title,
                "scale": "as noted",
                "date": "–",
                "issue": issue.issue,
                "units": drawing.get_units_display(),
                "by": "Hornplate",
            },
            "lines": lines,
        }
    )
    file = SheetFile(
        issue=issue, sha256=hashlib.sha256(content).hexdigest(), kind=SheetKind.PDF, size=len(content),
        file_name=f"sheet-{drawing.number}-{issue.issue}.pdf", width=WIDTH, height=HEIGHT, at=clock.now(),
    )  # fmt: skip
    storages[ORIGINALS].save(file.file, ContentFile(content))
    return file


def remove_sheets(build: Build) -> None:
    """Take the drawn files away once the demo is gone; what a builder brought stays in its folder."""
    drawn = SheetFile.objects.filter(issue__drawing__build=build, batch=None).select_related("issue__drawing")
    names = [file.file for file in drawn]

    def delete() -> None:
        for name in names:
            storages[ORIGINALS].delete(name)

    transaction.on_commit(delete)
