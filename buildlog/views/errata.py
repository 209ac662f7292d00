"""Errata: the register of a build, one erratum with the parts it reaches, and what is done on each."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions import errata as actions
from buildlog.actions.errata import ErratumRefusedError
from buildlog.actions.sheet_files import file_named
from buildlog.changes import changes_of
from buildlog.errata import Flag, flags_of, flags_of_drawing, flags_on, issue_asked, lines_of, with_issues
from buildlog.forms.errata import SOURCES, DealingForm, ErratumForm, NewErratumForm
from buildlog.models import Dealing, Drawing, Erratum, InIssue, Part
from buildlog.views.pages import show
from buildlog.views.standing import changes

WHY_LONGEST = 200
MOST_LISTED = 500


@require_safe
def erratum_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The errata of a build, those that want something first."""
    build = access.build_to_read(request.user, pk)
    lines = lines_of(build)
    open_count = sum(not line.is_settled for line in lines)
    return show(
        request,
        "buildlog/erratum_list.html",
        title="Errata",
        kind="Register of errata",
        build=build,
        nav="drawings",
        marks=("err", "wait", "ok") if lines else (),
        lines=lines[:MOST_LISTED],
        total=len(lines),
        open_count=open_count,
        asked_count=sum(bool(line.asks) for line in lines),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def erratum_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down an error on a sheet, and which of its parts that reaches."""
    drawing = access.drawing_to_write(request.user, pk)
    parts = list(Part.objects.live().filter(build=drawing.build_id, sheet_number=drawing.number))
    form = NewErratumForm(request.POST or None, drawing=drawing, parts=parts, pinned=_pinned(request))
    if request.method == "POST" and form.is_valid():
        try:
            erratum = actions.write_erratum(
                drawing, form.said, form.untouched, token=form.cleaned_data["token"], by=request.user
            )
        except PermissionError as refused:
            raise Http404(str(refused)) from None
        except ErratumRefusedError as refused:
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, f"{erratum.key} is written down.")
            return redirect(erratum)
    return _form_page(request, drawing, form, title=f"Sheet {drawing.number}: an erratum")


def _pinned(request: HttpRequest) -> dict[str, str]:
    """The spot that the page showing the sheet gave along: file, page, and x and y from 0 to 1."""
    found = {name: request.GET[name][:64] for name in ("file", "page") if name in request.GET}
    for name, at in (("across", "x"), ("down", "y")):
        try:
            share = float(request.GET.get(at, ""))
        except ValueError:
            continue
        if 0 <= share <= 1:
            found[name] = f"{share * 100:.2f}".rstrip("0").rstrip(".")
    return found


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Erratum, ErratumForm)
def erratum_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Mend what an erratum says."""
    erratum = access.erratum_to_write(request.user, pk)
    key = erratum.key
    form = ErratumForm(request.POST or None, instance=erratum, drawing=erratum.drawing)
    if request.method == "POST" and form.is_valid():
        try:
            changed = actions.change_erratum(erratum, form.said, by=request.user)
        except ErratumRefusedError as refused:
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, "Written down.")
            return redirect(changed)
    return _form_page(request, erratum.drawing, form, title=f"Change {key}", erratum=erratum)


def _form_page(
    request: HttpRequest, drawing: Drawing, form: ErratumForm, *, title: str, erratum: Erratum | None = None
) -> HttpResponse:
    return show(
        request,
        "buildlog/erratum_form.html",
        title=title,
        kind="Entry",
        build=drawing.build,
        nav="drawings",
        drawing=drawing,
        erratum=erratum,
        form=form,
        sources=SOURCES,
        status=422 if form.errors else 200,
    )


@require_safe
def erratum_page(request: HttpRequest, pk: int) -> HttpResponse:
    """What is wrong, what became of it in each issue, and how it stands on every part."""
    erratum = access.erratum_to_read(request.user, pk)
    stands: Any = with_issues(Erratum.objects.filter(pk=pk)).select_related(
        "drawing", "checked_by", "written_by", "struck_by"
    )
    erratum = stands.get()
    flags = flags_on(erratum)
    here = {flag.part for flag in flags}
    rest = erratum.parts.exclude(how=Dealing.OPEN).exclude(part__in=here)
    return show(
        request,
        "buildlog/erratum_page.html",
        spot=file_named(erratum.drawing, erratum.file),
        changes=changes_of(erratum),
        title=f"{erratum.key} {erratum.where}",
        kind="Erratum",
        build=access.build_to_read(request.user, erratum.build_id),
        nav="drawings",
        marks=dict.fromkeys(flag.mark for flag in flags),
        block={
            "number": erratum.key,
            "sheet": f"{erratum.drawing.number} {erratum.issue}".strip(),
            "units": "as typed",
            "date": erratum.found_on,
        },
        erratum=erratum,
        asks=issue_asked(erratum),
        looks=list(erratum.looks.select_related("issue", "by")),
        flags=flags,
        open_count=sum(flag.is_open for flag in flags),
        rest=list(rest.select_related("part", "concession", "by")),
    )


@require_POST
def erratum_strike(request: HttpRequest, pk: int) -> HttpResponse:
    """Strike out an erratum that was none, with the reason."""
    erratum = access.erratum_to_write(request.user, pk)
    why = " ".join(request.POST.get("reason", "").split())[:WHY_LONGEST]
    if not why:
        messages.error(request, f"Say why {erratum.key} is none; without a reason it is not struck out.")
    elif actions.strike_erratum(erratum, why, by=request.user):
        messages.success(request, f"{erratum.key} is struck out. It stays on its page with the reason.")
    return redirect(erratum)


@require_POST
def erratum_look(request: HttpRequest, pk: int) -> HttpResponse:
    """Say whether the issue worked to still has an erratum."""
    erratum = access.erratum_to_write(request.user, pk)
    state = request.POST.get("answer", "")
    if state not in InIssue.values:
        messages.error(request, f"Say of {erratum.key} whether the new issue still has it, or is right.")
    else:
        try:
            look = actions.look_in_issue(erratum, InIssue(state), by=request.user)
        except ErratumRefusedError as refused:
            messages.error(request, str(refused))
        else:
            words = InIssue(look.state).label.lower().removesuffix(" it")
            messages.success(request, f"{erratum.key}: {words} issue {look.issue.issue}.")
    return redirect(erratum.drawing if request.POST.get("from") == "sheet" else erratum)


# ---- on a part -------------------------------------------------------------------------------------------


@require_http_methods(["GET", "HEAD", "POST"])
def erratum_part(request: HttpRequest, pk: int, part: int) -> HttpResponse:
    """Say what was done about an erratum on one part."""
    erratum, of = _both(request, pk, part)
    flag = next((one for one in flags_of(of) if one.erratum.pk == pk), None)
    if flag is None:
        messages.info(request, f"{erratum.key} does not flag {of.key}.")
        return redirect(of)
    form = DealingForm(request.POST or None, flag=flag)
    if request.method == "POST" and form.is_valid():
        try:
            actions.deal_with(erratum, of, form.said, by=request.user)
        except ErratumRefusedError as refused:
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, f"{erratum.key} is dealt with on {of.key}.")
            return redirect(f"{of.get_absolute_url()}#errata")
    return _part_form(request, of, flag, form)


def _part_form(request: HttpRequest, part: Part, flag: Flag, form: DealingForm) -> HttpResponse:
    return show(
        request,
        "buildlog/erratum_part.html",
        title=f"{flag.erratum.key} on {part.key}",
        kind="Entry",
        build=part.build,
        nav="drawings",
        marks=(flag.mark,),
        block={"number": part.key, "sheet": part.sheet or "—", "units": "as typed"},
        part=part,
        flag=flag,
        concessions=list(part.concessions.all()[:20]),
        form=form,
        status=422 if form.errors else 200,
    )


@require_POST
def erratum_again(request: HttpRequest, pk: int, part: int) -> HttpResponse:
    """Take back what was said of a part, so that it is flagged again."""
    erratum, of = _both(request, pk, part)
    if actions.flag_again(erratum, of, by=request.user):
        messages.success(request, f"{of.key} is flagged again by {erratum.key}.")
    return redirect(erratum)


def _both(request: HttpRequest, pk: int, part: int) -> tuple[Erratum, Part]:
    erratum, of = access.erratum_to_write(request.user, pk), access.part_to_write(request.user, part)
    if erratum.build_id != of.build_id:
        raise Http404("The part is of another build.")
    return erratum, of


# ---- on the page of a sheet ------------------------------------------------------------------------------


def errata_of_sheet(drawing: Drawing) -> dict[str, Any]:
    """What the page of a sheet shows of its errata, and which parts they flag there."""
    flags = flags_of_drawing(drawing)
    lines = lines_of(drawing.build, drawing, flags)
    return {
        "errata": lines,
        "errata_asked": [line for line in lines if line.asks],
        "errata_on": {flag.part for flag in flags if flag.is_open},
        "errata_marks": ("err", "ok") if lines else (),
    }
