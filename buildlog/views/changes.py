"""What was changed: the changes of a build, those of one's own tools, and undoing one."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from buildlog import access
from buildlog.actions.undo import UndoRefusedError, altered_rows, can_leave, undo
from buildlog.models import Build, Change
from buildlog.views.pages import member_id, show

PAGE_CHANGES = 40
#: Rows of one change that are told on the list; the page of the change has them all.
FEW_ROWS = 6


@require_safe
def change_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The changes of a build, the latest first."""
    build = access.build_to_read(request.user, pk)
    return _list(request, build.changes.all(), build=build)


@require_safe
def own_change_list(request: HttpRequest) -> HttpResponse:
    """The changes of one's own heads and cutters, the latest first."""
    return _list(request, Change.objects.filter(build=None, by=member_id(request)), build=None)


def _list(request: HttpRequest, found: "QuerySet[Change]", build: Build | None) -> HttpResponse:
    shown = found.select_related("by", "undone_by").prefetch_related("rows")
    page = Paginator(shown, PAGE_CHANGES).get_page(request.GET.get("page"))
    told = [(change, list(change.rows.all())) for change in page]
    return show(
        request,
        "buildlog/change_list.html",
        title="What was changed",
        kind="History",
        build=build,
        nav="parts" if build else "tooling",
        block={"sheet": f"{page.number} of {page.paginator.num_pages}"},
        page=page,
        told=[(change, rows[:FEW_ROWS], len(rows) - FEW_ROWS) for change, rows in told],
    )


@require_safe
def change_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One change with every row it touched."""
    change = access.change_to_read(request.user, pk)
    rows = list(change.rows.all())
    altered = altered_rows(rows) if change.can_be_undone else {}
    return show(
        request,
        "buildlog/change_page.html",
        title=f"Change {change.pk}",
        kind="History",
        build=change.build,
        nav="parts" if change.build else "tooling",
        marks=("care",) if altered else (),
        change=change,
        rows=[(row, altered.get(row.pk, "")) for row in rows],
        altered=len(altered),
        rest=len(rows) - len(altered) if altered and can_leave(rows, altered) else 0,
    )


@require_POST
def change_undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Undo a change in one press, and lead back to where that was pressed."""
    change = access.change_to_write(request.user, pk)
    try:
        undoing = undo(change, by=request.user, leave_altered="rest" in request.POST)
    except UndoRefusedError as refused:
        messages.error(request, f"“{change.words}” is not undone. {refused}")
        return redirect(change)
    messages.success(request, f"{undoing.words}.")
    return redirect(_way_back(request, undoing))


def _way_back(request: HttpRequest, change: Change) -> str:
    """The page it was pressed on, where that is one of this site; the list of changes where it is not."""
    back = request.POST.get("back", "")
    if url_has_allowed_host_and_scheme(back, allowed_hosts=None):
        return back
    return reverse("change_list", args=[change.build_id]) if change.build_id else reverse("own_change_list")
