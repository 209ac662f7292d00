"""The register of drawings: each sheet with its issues, where the paper is, and the parts on it."""

from collections import Counter
from dataclasses import dataclass

from django.contrib import messages
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions.drawings import (
    IssueRefusedError,
    Named,
    follow_issue,
    missing_sheets,
    named_by_parts,
    record_issue,
    register_named,
    take_back_issue,
)
from buildlog.actions.records import write_record
from buildlog.changes import Doer, changes_of, recording
from buildlog.errata import flags_by_part
from buildlog.forms.drawings import DrawingForm, FirstIssueForm, IssueForm, next_issue
from buildlog.issues import by_age, issue_named
from buildlog.models import Build, Drawing, Part, SheetIssue
from buildlog.views.errata import errata_of_sheet
from buildlog.views.pages import STAGE_MARKS, show
from buildlog.views.sheet_files import files_of
from buildlog.views.standing import changes

KIND = "Register of drawings"


@dataclass(frozen=True)
class Line:
    """One sheet of the register: the issue worked to, and what the parts say of it."""

    drawing: Drawing
    issue: SheetIssue | None
    named: Named
    flagged: int  # parts that an erratum still flags

    @property
    def others(self) -> int:
        """Parts that name another issue than the one worked to."""
        return self.named.not_at(self.issue.issue) if self.issue else 0

    @property
    def by_parts(self) -> str:
        """The issues its parts name, where the register has none: `B`, or `A and B`."""
        return "" if self.issue else " and ".join(self.named.letters)


@require_safe
def drawing_list(request: HttpRequest, pk: int) -> HttpResponse:
    """Every sheet of the set, and those that parts name and the register has not."""
    build = access.build_to_read(request.user, pk)
    named = named_by_parts(build)
    counted = Count("errata", filter=Q(errata__struck_at=None))
    drawings = list(
        build.drawings.prefetch_related("issues").annotate(errata_count=counted).order_by("number_key")
    )
    flagged = Counter(flag.sheet for of_part in flags_by_part(build).values() for flag in of_part[:1])
    lines = [
        Line(
            drawing,
            next(iter(drawing.issues.all()), None),
            named.get(drawing.number, Named()),
            flagged[drawing.number],
        )
        for drawing in drawings
    ]
    missing = missing_sheets(named, (drawing.number for drawing in drawings))
    others = sum(line.others for line in lines)
    return show(
        request,
        "buildlog/drawing_list.html",
        title="Drawings",
        kind=KIND,
        build=build,
        nav="drawings",
        marks=(*(("wait",) if others else ()), *(("err",) if flagged else ())),
        block={"sheet": "1 of 1"},
        lines=lines,
        others=others,
        missing=missing,
        missing_parts=sum(named[number].parts for number in missing),
        no_sheet=build.parts.live().filter(sheet_number="").count(),
    )


@require_POST
def drawings_named(request: HttpRequest, pk: int) -> HttpResponse:
    """Take every sheet that parts name into the register."""
    build = access.build_to_write(request.user, pk)
    new = register_named(build, by=request.user)
    many = "1 sheet is" if len(new) == 1 else f"{len(new)} sheets are"
    if new:
        messages.success(
            request, f"{many} in the register. Their titles and places can follow when you like."
        )
    else:
        messages.info(request, "The register has every sheet that a part names.")
    return redirect("drawing_list", build.pk)


@require_http_methods(["GET", "HEAD", "POST"])
def drawing_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Add a sheet, with the issue it has."""
    build = access.build_to_write(request.user, pk)
    form = DrawingForm(
        request.POST or None,
        instance=Drawing(build=build),
        build=build,
        initial={"number": request.GET.get("sheet", "")[:6]},
    )
    first = FirstIssueForm(request.POST or None)
    if request.method == "POST" and form.is_valid() & first.is_valid():
        drawing = _add(form, first, by=request.user)
        messages.success(request, f"Sheet {drawing.number} is in the register.")
        return redirect(drawing)
    return _form_page(request, build, form, first=first, title="A new sheet")


def _add(form: DrawingForm, first: FirstIssueForm, *, by: Doer) -> Drawing:
    said = first.cleaned_data
    with recording(form.instance.build, f"Sheet {form.instance.number} added", by=by):
        drawing: Drawing = write_record(form, form.instance.build, by=by)
        if said["issue"]:
            record_issue(drawing, said["issue"], dated=said["dated"], got_on=said["got_on"], note="", by=by)
    return drawing


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Drawing, DrawingForm)
def drawing_edit(request: HttpRequest, pk: int) -> HttpResponse:
    drawing = access.drawing_to_write(request.user, pk)
    form = DrawingForm(request.POST or None, instance=drawing, build=drawing.build)
    if request.method == "POST" and form.is_valid():
        messages.success(request, "Written down.")
        return redirect(write_record(form, drawing.build, by=request.user))
    stands = access.drawing_to_write(request.user, pk) if form.errors else drawing
    return _form_page(request, drawing.build, form, drawing=drawing, title=f"Change sheet {stands.number}")


def _form_page(
    request: HttpRequest,
    build: Build,
    form: DrawingForm,
    *,
    title: str,
    first: FirstIssueForm | None = None,
    drawing: Drawing | None = None,
) -> HttpResponse:
    return show(
        request,
        "buildlog/drawing_form.html",
        title=title,
        kind="Entry",
        build=build,
        nav="drawings",
        form=form,
        first=first,
        drawing=drawing,
        status=422 if form.errors or (first and first.errors) else 200,
    )


@dataclass(frozen=True)
class OnSheet:
    """A part on a sheet, and whether it names another issue than the one worked to."""

    part: Part
    issue: str
    is_behind: bool

    @property
    def is_made(self) -> bool:
        """At a made stage, or a good one counted: it was made to the issue it names."""
        return self.part.stage_mark.is_made or self.part.good > 0


def _parts_on(drawing: Drawing, issue: str) -> list[OnSheet]:
    parts = Part.objects.live().with_needed().filter(build=drawing.build, sheet_number=drawing.number)
    found = [(part, issue_named(part.sheet)) for part in parts]
    return [OnSheet(part, named, bool(issue and named and named != issue)) for part, named in found]


@require_safe
def drawing_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One sheet: its issues, and the parts on it, those that name another issue first."""
    drawing = access.drawing_to_read(request.user, pk)
    return _page(request, drawing)


def _page(request: HttpRequest, drawing: Drawing) -> HttpResponse:
    issues = list(drawing.issues.all())
    last = issues[0] if issues else None
    parts = _parts_on(drawing, last.issue if last else "")
    behind = [on for on in parts if on.is_behind]
    errata = errata_of_sheet(drawing)
    return show(
        request,
        "buildlog/drawing_page.html",
        changes=changes_of(drawing),
        title=f"Sheet {drawing.number} {drawing.title}".strip(),
        kind="Drawing",
        build=drawing.build,
        nav="drawings",
        marks=(*(STAGE_MARKS if parts else ()), *(("wait",) if parts else ()), *errata["errata_marks"]),
        block={
            "number": drawing.number,
            "title": drawing.title or f"Sheet {drawing.number}",
            "issue": last.issue if last else "—",
            "units": drawing.get_units_display() if drawing.units else "as on the sheet",
        },
        drawing=drawing,
        issues=issues,
        last=last,
        before=issues[1] if len(issues) > 1 else None,
        behind=behind,
        behind_made=sum(on.is_made for on in behind),
        parts=[on for on in parts if not on.is_behind],
        letters=" and ".join(sorted({on.issue for on in parts if on.issue}, key=by_age)),
        **errata,
        **files_of(drawing, issues),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def issue_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down a new issue as it came; the parts that name an earlier one are listed next."""
    drawing = access.drawing_to_write(request.user, pk)
    last = drawing.issues.first()
    parts = _parts_on(drawing, "")
    named = max((on.issue for on in parts if on.issue), key=by_age, default="")
    form = IssueForm(request.POST or None, offered=next_issue(last.issue) if last else named)
    if request.method == "POST" and form.is_valid():
        try:
            made = record_issue(drawing, form.cleaned_data.pop("issue"), **form.cleaned_data, by=request.user)
        except IssueRefusedError as refused:
            form.add_error(refused.field, str(refused))
        else:
            _say_behind(request, drawing, made, parts)
            return redirect(drawing)
    return show(
        request,
        "buildlog/drawing_issue.html",
        title=f"Sheet {drawing.number}: a new issue" if last else f"Sheet {drawing.number}: its issue",
        kind="Entry",
        build=drawing.build,
        nav="drawings",
        form=form,
        drawing=drawing,
        last=last,
        status=422 if form.errors else 200,
    )


def _say_behind(request: HttpRequest, drawing: Drawing, made: SheetIssue, parts: list[OnSheet]) -> None:
    behind = [on.part for on in parts if on.issue and on.issue != made.issue]
    done = sum(part.stage_mark.is_made or part.good > 0 for part in behind)
    words = f"Issue {made.issue} of sheet {drawing.number} is in the register."
    if behind:
        words += f" {len(behind)} part{' names' if len(behind) == 1 else 's name'} another issue"
        words += f", {done} of them made" if done else ""
        words += ": look over what changed."
    messages.success(request, words)
    asked = errata_of_sheet(drawing)["errata_asked"]
    if asked:
        many = "1 erratum is" if len(asked) == 1 else f"{len(asked)} errata are"
        messages.warning(request, f"{many} not looked at in issue {made.issue} yet: see below.")


@require_POST
def issue_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Strike out the issue recorded last."""
    drawing = access.drawing_to_write(request.user, pk)
    try:
        gone = take_back_issue(drawing, by=request.user)
    except IssueRefusedError as refused:
        messages.error(request, str(refused))
        return redirect(drawing)
    if gone:
        messages.success(request, f"Issue {gone.issue} is struck out of the register.")
    return redirect(drawing)


@require_POST
def issue_follow(request: HttpRequest, pk: int) -> HttpResponse:
    """Make the parts that were looked over name the issue worked to."""
    drawing = access.drawing_to_write(request.user, pk)
    ticked = [int(text) for text in request.POST.getlist("part") if text.isascii() and text.isdigit()]
    moved = follow_issue(drawing, [pk for pk in ticked if pk < 2**63], by=request.user)
    if moved:
        words = "1 part names" if moved == 1 else f"{moved} parts name"
        messages.success(request, f"{words} the issue worked to; the history of each says so.")
    else:
        messages.info(request, "Tick the parts that you have looked over.")
    return redirect(drawing)
