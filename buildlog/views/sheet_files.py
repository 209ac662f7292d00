"""Files of drawings: brought in, one page looked at, the pictures themselves, the bin."""

from collections.abc import Sequence
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions.sheet_files import (
    bin_sheet_file,
    bring_in_sheet,
    restore_sheet_file,
)
from buildlog.errata import pins_of
from buildlog.forms.sheet_files import SheetFilesForm
from buildlog.kept_files import Brought, told
from buildlog.models import Drawing, SheetFile, SheetIssue
from buildlog.sheet_limits import LONGEST
from buildlog.sheet_pins import Pin, spot_of
from buildlog.sheet_previews import DRAWING, FAILED, READY, preview_bytes, preview_size, state_of, why_failed
from buildlog.views import kept_files
from buildlog.views.pages import show

# ---- brought in ------------------------------------------------------------------------------------------


@require_http_methods(["GET", "HEAD", "POST"])
def sheet_file_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Bring in files of a sheet; each is judged by itself, and the good ones are kept."""
    drawing = access.drawing_to_write(request.user, pk)
    entered = request.POST if request.method == "POST" else None
    form = SheetFilesForm(entered, issues=list(drawing.issues.all()))
    if request.method != "POST":
        return _new_page(request, drawing, form)
    files = request.FILES.getlist("sheets")
    if form.is_valid() and not files:
        form.add_error("sheets", "No file is chosen yet. Choose one or more, then bring them in.")
    if form.errors:
        return _new_page(request, drawing, form)
    issue, token = form.issue_chosen, form.cleaned_data["token"]
    issue.drawing = drawing
    brought = [bring_in_sheet(issue, file, by=request.user, token=token) for file in files]
    if any(one.state == "wrong" for one in brought):
        return _new_page(request, drawing, form, brought)
    for words in told(brought, "file"):
        messages.success(request, words)
    return redirect(f"{drawing.get_absolute_url()}#files")


def _new_page(
    request: HttpRequest, drawing: Drawing, form: SheetFilesForm, brought: Sequence[Brought[SheetFile]] = ()
) -> HttpResponse:
    return show(
        request,
        "buildlog/sheet_file_new.html",
        title=f"Sheet {drawing.number}: add files",
        kind="Entry",
        build=drawing.build,
        nav="drawings",
        marks=("no", "ok") if brought else (),
        drawing=drawing,
        has_issue=bool(form.issues),
        file_form=form,
        wrong=[one.words for one in brought if one.state == "wrong"],
        kept=told(brought, "file"),
        status=422 if form.errors or brought else 200,
    )


def files_of(drawing: Drawing, issues: Sequence[SheetIssue]) -> dict[str, Any]:
    """What the page of a drawing shows of its files, and the entry for more."""
    files = list(SheetFile.objects.filter(issue__drawing=drawing).select_related("issue__drawing"))
    live = [file for file in files if not file.binned_at]
    groups: dict[str, list[dict[str, Any]]] = {}
    for file in sorted(live, key=lambda one: (one.issue.recorded_at, one.issue_id), reverse=True):
        groups.setdefault(file.issue.issue, []).append({"file": file, **_preview(file, 1, "small")})
    return {
        "file_groups": list(groups.items()),
        "files_binned": [file for file in files if file.binned_at],
        "file_form": SheetFilesForm(issues=issues),
    }


# ---- one page of a file ----------------------------------------------------------------------------------


def _preview(file: SheetFile, page: int, size: str) -> dict[str, Any]:
    """What a page shows of one page of a file, ready or not."""
    state = state_of(file, page, size)
    return {
        "page": page,
        "size": size,
        "is_ready": state == READY,
        "is_drawing": state == DRAWING,
        "why": why_failed(file, page, size) if state == FAILED else "",
    }


def _file_page(request: HttpRequest, pk: int, page: int) -> SheetFile:
    file = access.sheet_file_to_read(request.user, pk)
    if not 1 <= page <= file.pages:
        raise Http404("The file has no such page.")
    return file


def _place_url(drawing: Drawing, file: SheetFile, page: int) -> str:
    """Where a spot that was chosen on the page is sent to: the entry of an erratum."""
    spot = urlencode({"file": file.sha256, "page": str(page)})
    return f"{reverse('erratum_new', args=[drawing.pk])}?{spot}"


@require_safe
def sheet_page(request: HttpRequest, pk: int, page: int) -> HttpResponse:
    """One page of a file at full size, to be moved about in; with ?place=1 a spot is chosen on it."""
    file = _file_page(request, pk, page)
    drawing, size = file.issue.drawing, "sharp" if request.GET.get("sharp") else "full"
    place_url = _place_url(drawing, file, page)
    is_placing = bool(place_url and request.GET.get("place"))
    # Asked for first: what is not there yet may be by the time it is measured, and never the other way.
    shown = _preview(file, page, size)
    drawn = preview_size(file, page, size)
    if is_placing and drawn:
        spot = spot_of(request.GET, drawn)
        if spot:
            joint = "&" if "?" in place_url else "?"
            return redirect(f"{place_url}{joint}{urlencode({'x': str(spot[0]), 'y': str(spot[1])})}")
    pins = [Pin(**pin) for pin in pins_of(drawing, file.sha256, page)]
    return show(
        request,
        "buildlog/sheet_page.html",
        title=f"Sheet {drawing.number} issue {file.issue.issue}",
        kind="Drawing",
        build=drawing.build,
        nav="drawings",
        marks=tuple(pin.mark for pin in pins),
        block=_block(file, page),
        drawing=drawing,
        file=file,
        shown=shown,
        pins=pins,
        place_url=place_url,
        is_placing=is_placing,
        sheet_width=drawn[0] if drawn else 0,
        sheet_height=drawn[1] if drawn else 0,
        earlier=_page_address(file, page - 1, is_placing),
        later=_page_address(file, page + 1, is_placing),
        can_be_sharper=size == "full" and (file.is_pdf or max(file.width, file.height) > LONGEST["full"]),
    )  # fmt: skip


def _block(file: SheetFile, page: int) -> dict[str, str]:
    """What the title block says of the page itself."""
    drawing = file.issue.drawing
    block = {
        "number": drawing.number,
        "title": drawing.title or f"Sheet {drawing.number}",
        "issue": file.issue.issue,
        "sheet": f"{page} of {file.pages}",
    }
    return block | ({"units": drawing.get_units_display()} if drawing.units else {})


def _page_address(file: SheetFile, page: int, is_placing: bool) -> str:
    if not 1 <= page <= file.pages:
        return ""
    return reverse("sheet_page", args=[file.pk, page]) + ("?place=1" if is_placing else "")


@require_safe
def sheet_shown(request: HttpRequest, pk: int, page: int, size: str) -> HttpResponse:
    """The picture within a page, asked for again until it is drawn."""
    file = _file_page(request, pk, page)
    if size not in LONGEST:
        raise Http404("There is no such size.")
    shown = _preview(file, page, size)
    answer = render(request, "buildlog/_sheet_shown.html", {"file": file, "shown": shown})
    if size != "small" and not shown["is_drawing"]:
        # The page round it has more to show now than the picture.
        answer.headers["HX-Refresh"] = "true"
    return answer


@require_safe
def sheet_picture(request: HttpRequest, pk: int, page: int, size: str) -> HttpResponse:
    """One page of a file as a picture; in words for as long as it is not drawn, or where it cannot be."""
    file = _file_page(request, pk, page)
    if size not in LONGEST:
        raise Http404("There is no such size.")
    state = state_of(file, page, size)
    picture = preview_bytes(file, page, size) if state == READY else None
    if picture is None:
        words = "being drawn" if state == DRAWING else "cannot be shown"
        return render(request, "buildlog/no_sheet.svg", {"words": words}, content_type="image/svg+xml")
    return HttpResponse(picture, content_type="image/jpeg", headers={"Cache-Control": kept_files.KEPT})


@require_safe
def sheet_original(request: HttpRequest, pk: int) -> StreamingHttpResponse:
    """The file byte for byte, to be kept and not to be opened here."""
    file = access.sheet_file_to_read(request.user, pk)
    return kept_files.original(file, file.kind, file.file_name)


# ---- the bin ---------------------------------------------------------------------------------------------


@require_POST
def sheet_file_bin(request: HttpRequest, pk: int) -> HttpResponse:
    file = access.sheet_file_to_write(request.user, pk)
    bin_sheet_file(file, by=request.user)
    messages.success(request, f"{file.file_name} is in the bin. Its bytes are still there.")
    return redirect(f"{file.issue.drawing.get_absolute_url()}#files")


@require_POST
def sheet_file_restore(request: HttpRequest, pk: int) -> HttpResponse:
    file = access.sheet_file_to_write(request.user, pk)
    restore_sheet_file(file, by=request.user)
    messages.success(request, f"{file.file_name} is back among the files.")
    return redirect(f"{file.issue.drawing.get_absolute_url()}#files")
