"""The builder's own tooling: kept once, used in every build."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions.records import take_away, write_record
from buildlog.actions.tooling import write_head
from buildlog.forms.workshop import CutterForm, HeadForm, plate_forms
from buildlog.models import DividingHead, GearCutter
from buildlog.views.pages import member_id, show
from buildlog.views.standing import changes


@require_safe
def tooling(request: HttpRequest) -> HttpResponse:
    """Heads with their plates, and gear cutters with the range marked on them."""
    return show(
        request,
        "buildlog/tooling_page.html",
        title="Own tooling",
        kind="Tooling list",
        nav="tooling",
        block={"units": "counts"},
        heads=DividingHead.objects.filter(owner_id=member_id(request)).prefetch_related("plates"),
        cutters=GearCutter.objects.filter(owner_id=member_id(request)),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def head_add(request: HttpRequest) -> HttpResponse:
    mine = DividingHead.objects.filter(owner_id=member_id(request))
    head = DividingHead(owner_id=member_id(request), is_usual=not mine.exists())
    return _head_entry(request, head)


@require_http_methods(["GET", "HEAD", "POST"])
@changes(DividingHead, HeadForm)
def head_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _head_entry(request, access.head_to_write(request.user, pk))


def _head_entry(request: HttpRequest, head: DividingHead) -> HttpResponse:
    form = HeadForm(request.POST or None, instance=head)
    plates = plate_forms(request.POST or None, head)
    form.lay_beside(plates.beside())
    if request.method == "POST" and form.is_valid() and plates.is_valid():
        saved = write_head(form, plates, by=request.user)
        messages.success(request, f"{saved.name} is written down; indexing starts from it.")
        return redirect("tooling")
    if form.meanwhile:
        plates = plates.again(form.taken_over)
    return show(
        request,
        "buildlog/head_form.html",
        title=f"Dividing head {head.name}" if head.pk else "A dividing head",
        kind="Entry",
        nav="tooling",
        form=form,
        plates=plates,
        head=head if head.pk else None,
        status=422 if form.errors or plates.total_error_count() else 200,
    )


@require_POST
def head_delete(request: HttpRequest, pk: int) -> HttpResponse:
    head = access.head_to_write(request.user, pk)
    take_away(head, None, by=request.user)
    messages.success(request, f"{head.name} is taken off the list. Sums kept with it stay as they are.")
    return redirect("tooling")


@require_http_methods(["GET", "HEAD", "POST"])
def cutter_add(request: HttpRequest) -> HttpResponse:
    return _cutter_entry(request, GearCutter(owner_id=member_id(request)))


@require_http_methods(["GET", "HEAD", "POST"])
@changes(GearCutter, CutterForm)
def cutter_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _cutter_entry(request, access.cutter_to_write(request.user, pk))


def _cutter_entry(request: HttpRequest, cutter: GearCutter) -> HttpResponse:
    form = CutterForm(request.POST or None, instance=cutter)
    if request.method == "POST" and form.is_valid():
        write_record(form, None, by=request.user)
        return redirect("tooling")
    return show(
        request,
        "buildlog/cutter_form.html",
        title=f"Gear cutter {cutter}" if cutter.pk else "A gear cutter",
        kind="Entry",
        nav="tooling",
        form=form,
        cutter=cutter if cutter.pk else None,
        status=422 if form.errors else 200,
    )


@require_POST
def cutter_delete(request: HttpRequest, pk: int) -> HttpResponse:
    cutter = access.cutter_to_write(request.user, pk)
    take_away(cutter, None, by=request.user)
    messages.success(request, f"The cutter {cutter} is taken off the list.")
    return redirect("tooling")
