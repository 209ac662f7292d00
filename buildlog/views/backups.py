"""Backups: made by a button, listed with what is in each, taken to another disk."""

from pathlib import Path
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from buildlog import clock
from buildlog.actions.backups import OLD_DAYS, back_up, default_folder, is_due, last_good
from buildlog.backup.archive import ArchiveError
from buildlog.backup.database import OtherDatabaseError
from buildlog.backup.words import age_words, counted_words, size_words, trouble_words
from buildlog.models import Backup
from buildlog.views.pages import show


def _for_owner(request: HttpRequest) -> None:
    """A backup holds everybody's records: it is the site owner's alone."""
    if not request.user.is_superuser:
        raise Http404("Backups are the site owner's.")


@require_safe
def backup_list(request: HttpRequest) -> HttpResponse:
    """Every backup that was made, and whether it is still there."""
    _for_owner(request)
    last, today = last_good(), clock.today()
    rows = [
        {
            "backup": one,
            "size": size_words(one.size),
            "counted": counted_words(one.counts, one.files),
            "is_there": one.is_there,
        }
        for one in Backup.objects.select_related("made_by")
    ]
    return show(
        request,
        "buildlog/backups_page.html",
        title="Backups",
        kind="List of backups",
        marks=("ok", "no", "care"),
        rows=rows,
        last=last,
        age=age_words(last.made_at, today) if last else "",
        is_due=is_due(last),
        old_days=OLD_DAYS,
        folder=default_folder(),
        token=uuid4(),
    )


@require_POST
def backup_make(request: HttpRequest) -> HttpResponse:
    _for_owner(request)
    try:
        made, proof = back_up(user=request.user, token=_token(request))
    except (ArchiveError, OtherDatabaseError, OSError) as error:
        messages.error(request, f"No backup was made. {error}")
    else:
        messages.success(
            request,
            f"{made.name} is made, restored beside and compared: {counted_words(made.counts, made.files)}. "
            "Now take a copy of it to another disk.",
        )
        for words in trouble_words(proof) if proof else ():
            messages.warning(request, words)
    return redirect("backup_list")


def _token(request: HttpRequest) -> UUID:
    try:
        return UUID(request.POST.get("token", ""))
    except ValueError:
        return uuid4()


@require_safe
def backup_file(request: HttpRequest, pk: int) -> HttpResponseBase:
    """The archive itself, to be kept somewhere else."""
    _for_owner(request)
    backup = get_object_or_404(Backup, pk=pk)
    if not backup.is_there:
        raise Http404("This backup lies no longer where it was written.")
    return FileResponse(Path(backup.path).open("rb"), as_attachment=True, filename=backup.name)
