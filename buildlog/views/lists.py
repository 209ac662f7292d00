"""Parts lists: brought in and looked at before anything is written; taken out as CSV, XLSX and on paper."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import IntegrityError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_http_methods, require_safe

from buildlog import access
from buildlog.actions import take_in_list
from buildlog.forms.lists import ListForm
from buildlog.lists import printed, writing
from buildlog.lists.columns import KEYS
from buildlog.lists.comparing import STATES, Preview, compare
from buildlog.models import Build, ListDraft
from buildlog.views.pages import show

PAGE_ROWS = 200
CSV_TYPE = "text/csv; charset=utf-8"
XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
STATE_WORDS = {
    "wrong": ("Wrong", "must be mended before anything is written"),
    "new": ("New", "parts or uses the build does not have"),
    "changed": ("Changed", "the build has them otherwise"),
    "same": ("Same", "as they stand in the build"),
}


@require_http_methods(["GET", "HEAD", "POST"])
def list_in(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose a list; read, it becomes a draft to look at."""
    build = access.build_to_write(request.user, pk)
    form = ListForm(request.POST, request.FILES) if request.method == "POST" else ListForm()
    if request.method == "POST" and form.is_valid():
        name = form.cleaned_data["file"].name
        draft = take_in_list.keep_draft(build, request.user, name, form.read)
        return redirect("list_draft", build.pk, draft.pk)
    return show(
        request,
        "buildlog/list_in.html",
        title="Bring in a list",
        kind="Entry",
        build=build,
        nav="parts",
        marks=("no",) if form.errors else (),
        form=form,
        sample_headings=writing.SAMPLE_HEADINGS,
        sample=writing.SAMPLE,
        has_parts=build.parts.live().exists(),
        status=422 if form.errors else 200,
    )


@require_http_methods(["GET", "HEAD", "POST"])
def list_draft(request: HttpRequest, pk: int, draft: int) -> HttpResponse:
    """What a list would do to the build as it is now; accepted from here, all of it or nothing."""
    build = access.build_to_write(request.user, pk)
    kept = get_object_or_404(ListDraft, pk=draft, build=build)
    if request.method == "POST":
        return _accept(request, build, kept)
    if kept.accepted_at:
        messages.info(request, f"{kept.file_name} has been taken in already; nothing was done twice.")
        return redirect("part_list", build.pk)
    return _preview_page(request, build, kept, compare(build, take_in_list.list_in(kept)))


def _accept(request: HttpRequest, build: Build, kept: ListDraft) -> HttpResponse:
    try:
        outcome = take_in_list.take_in_list(kept.pk, by=request.user, shown=request.POST.get("shown", ""))
    except IntegrityError:
        # Somebody wrote the same number in the same moment: nothing of the list has been written.
        preview = compare(build, take_in_list.list_in(kept))
        return _preview_page(request, build, kept, preview, status=409)
    if outcome.end == "already":
        messages.info(request, f"{kept.file_name} has been taken in already; nothing was done twice.")
    elif outcome.end == "taken" and outcome.preview:
        messages.success(request, f"{kept.file_name} is taken in: {_told(outcome.preview)}.")
    elif outcome.preview:
        status = 409 if outcome.end == "differs" else 422
        return _preview_page(request, build, kept, outcome.preview, status=status)
    return redirect("part_list", build.pk)


def _told(preview: Preview) -> str:
    parts = [
        (preview.new_parts, "part record made", "part records made"),
        (preview.changed_parts, "changed", "changed"),
        (len(preview.assemblies), "assembly made", "assemblies made"),
    ]
    return ", ".join(f"{count} {one if count == 1 else more}" for count, one, more in parts if count)


def _preview_page(
    request: HttpRequest,
    build: Build,
    kept: ListDraft,
    preview: Preview,
    *,
    status: int = 200,
) -> HttpResponse:
    counts = preview.counts
    asked = request.GET.get("show", "")
    if asked not in (*STATES, "all"):
        asked = "wrong" if counts["wrong"] else "all"
    rows = [row for row in preview.rows if asked in ("all", row.state)]
    page = Paginator(rows, PAGE_ROWS).get_page(request.GET.get("page"))
    return show(
        request,
        "buildlog/list_draft.html",
        title="A list to look at",
        kind="Preview, nothing written",
        build=build,
        nav="parts",
        marks=[mark for mark, state in (("no", "wrong"), ("ok", "same")) if counts[state]],
        block={"sheet": f"{page.number} of {page.paginator.num_pages}"},
        draft=kept,
        preview=preview,
        has_moved=status == 409,
        states=[(state, *STATE_WORDS[state], counts[state]) for state in STATES],
        asked=asked,
        page=page,
        status=status,
        **_reading_context(kept),
    )


def _reading_context(kept: ListDraft) -> dict[str, Any]:
    read = take_in_list.list_in(kept)
    return {"read": read, "missing": [key for key in KEYS if key not in read.columns]}


@require_safe
def list_csv(request: HttpRequest, pk: int) -> HttpResponse:
    build = access.build_to_read(request.user, pk)
    content = writing.csv_bytes(writing.HEADINGS, writing.list_rows(build))
    return _file(content, CSV_TYPE, writing.file_name(build, "csv"))


@require_safe
def list_xlsx(request: HttpRequest, pk: int) -> HttpResponse:
    build = access.build_to_read(request.user, pk)
    content = writing.xlsx_bytes(build.name, writing.list_rows(build))
    return _file(content, XLSX_TYPE, writing.file_name(build, "xlsx"))


@require_safe
def list_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The parts list on paper, assembly by assembly."""
    build = access.build_to_read(request.user, pk)
    content = printed.parts_list_pdf(build, by=request.user.get_username())
    return _file(content, "application/pdf", writing.file_name(build, "pdf"), as_attachment=False)


@require_safe
def list_sample(_request: HttpRequest) -> HttpResponse:
    """A first list to fill in."""
    return _file(writing.csv_bytes(writing.SAMPLE_HEADINGS, writing.SAMPLE), CSV_TYPE, "parts list.csv")


def _file(content: bytes, content_type: str, name: str, *, as_attachment: bool = True) -> HttpResponse:
    answer = HttpResponse(content, content_type=content_type)
    answer["Content-Disposition"] = content_disposition_header(as_attachment, name) or "attachment"
    return answer
