"""Concessions: opened on a reading out of limits, decided, told to the mates, listed."""

from django.contrib import messages
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions import concessions as actions
from buildlog.actions.made import MadeRefusedError
from buildlog.actions.photos import About
from buildlog.changes import changes_of
from buildlog.forms.made import DecisionForm
from buildlog.models import Concession
from buildlog.views.pages import show
from buildlog.views.photos import photos_of

MOST_LISTED = 500


@require_POST
def concession_open(request: HttpRequest, pk: int) -> HttpResponse:
    """Open a concession on a reading in one press."""
    reading = access.reading_to_write(request.user, pk)
    try:
        return redirect(actions.open_concession(reading, by=request.user))
    except MadeRefusedError as refused:
        messages.error(request, str(refused))
        return redirect("part_made", reading.characteristic.part_id)


@require_http_methods(["GET", "HEAD", "POST"])
def concession_page(request: HttpRequest, pk: int) -> HttpResponse:
    """What is wrong, what is done about it, and who has been told."""
    concession = access.concession_to_write(request.user, pk)
    tellings = list(concession.mates.select_related("mate", "told_by"))
    form = DecisionForm(request.POST or None, tellings=tellings)
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        try:
            actions.decide(concession, form.decided, said["words"], said["mates"], by=request.user)
        except MadeRefusedError as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, f"{concession.key} is decided.")
            return redirect(concession)
    photos = photos_of(concession.photos.all(), concession.build, About(concession=concession), "concession")
    return show(
        request,
        "buildlog/concession_page.html",
        changes=changes_of(concession),
        title=f"{concession.key} {concession.part.key}",
        kind="Concession",
        build=concession.build,
        nav="parts",
        marks=("ok", "wait", "no", *photos["photo_marks"]),
        block={"number": concession.key, "sheet": concession.part.sheet or "—", "units": "as typed"},
        concession=concession,
        part=concession.part,
        reading=concession.reading,
        tellings=tellings,
        form=form,
        can_add=not concession.part.binned_at,
        status=422 if form.errors else 200,
        **photos,
    )


@require_POST
def mate_told(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that a mate was told, and lead back to where that was pressed."""
    telling = access.telling_to_write(request.user, pk)
    if actions.tell_mate(telling, by=request.user):
        messages.success(request, f"{telling.mate.key} has been told of {telling.concession.key}.")
    if request.POST.get("from") == "mate":
        return redirect(telling.mate)
    return redirect(f"{reverse('concession_page', args=[telling.concession_id])}#mates")


@require_safe
def concession_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The concessions of a build: those that want something first, then the newest."""
    build = access.build_to_read(request.user, pk)
    waiting = Count("mates", filter=Q(mates__told_on=None))
    found = list(
        Concession.objects.filter(build=build)
        .select_related("part", "reading__characteristic")
        .annotate(to_tell=waiting)[:MOST_LISTED]
    )
    for one in found:
        one.to_tell = one.to_tell if one.decided.keeps_the_part else 0
    found.sort(key=lambda one: (not one.is_open, not one.to_tell))
    return show(
        request,
        "buildlog/concession_list.html",
        title="Concessions",
        kind="List of concessions",
        build=build,
        nav="parts",
        marks=("wait", "ok") if found else (),
        concessions=found,
        open_count=sum(one.is_open for one in found),
    )
