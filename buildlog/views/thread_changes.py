"""One thread changed to another at many places: shown first, then done; undone as any change is."""

from collections.abc import Sequence
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from buildlog import access
from buildlog.actions import thread_changes as actions
from buildlog.forms.threads_used import ThreadChangeForm
from buildlog.models import Build
from buildlog.threads_used import Place, digest_of, places_of
from buildlog.views.pages import show
from calc.threads_named import near_among


@require_http_methods(["GET", "HEAD", "POST"])
def thread_bulk(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose a thread, where and to what; see every place; change those that are ticked."""
    build = access.build_to_write(request.user, pk)
    token = _token(request)
    done = build.changes.filter(token=token).first() if token else None
    if done:
        # A second press: by now there may be no place left that has the thread.
        return redirect(done)
    said = request.POST or (request.GET if "to" in request.GET else None)
    form = ThreadChangeForm(said, build=build, initial={"thread": request.GET.get("thread")})
    asked = form.asked if said and form.is_valid() else None
    trouble = ""
    if asked and token:
        try:
            change = actions.change_threads(
                build,
                asked,
                _ticked(request),
                shown_then=request.POST.get("shown", ""),
                token=token,
                by=request.user,
            )
        except actions.ThreadsMovedError:
            trouble = "moved"
        except actions.ThreadsRefusedError as refused:
            trouble = str(refused)
        except PermissionError as refused:
            raise Http404(str(refused)) from None
        else:
            count = change.rows.count()
            messages.success(request, f"{count} place{'' if count == 1 else 's'} changed: {change}.")
            return redirect(change)
    return _show(request, build, form, asked, trouble, token)


def _show(
    request: HttpRequest,
    build: Build,
    form: ThreadChangeForm,
    asked: actions.Asked | None,
    trouble: str,
    token: UUID | None,
) -> HttpResponse:
    places = places_of(build, asked.thread, asked.assembly) if asked else []
    if trouble:
        _tick_again(places, request)
    near = near_among([asked.thread, asked.to.name]).get(asked.thread, ())[:1] if asked else ()
    return show(
        request,
        "buildlog/threads_bulk.html",
        title="Change a thread everywhere",
        kind="Preview" if asked else "Entry",
        build=build,
        nav="parts",
        marks=("care",) if near or any(place.is_doubted for place in places) else (),
        form=form,
        asked=asked,
        places=places,
        parts=len({place.use.part_id for place in places}),
        near=near,
        shown=digest_of(places),
        token=token or uuid4(),
        has_moved=trouble == "moved",
        trouble="" if trouble == "moved" else trouble,
        status=422 if trouble or form.errors else 200,
    )


def _tick_again(places: Sequence[Place], request: HttpRequest) -> None:
    """Leave the ticks of places that were shown before as they were sent."""
    ticked = _ticked(request)
    seen = {int(pk) for pk in request.POST.getlist("seen") if _is_number(pk)}
    for place in places:
        if place.use.pk in seen:
            place.is_ticked = place.use.pk in ticked


def _ticked(request: HttpRequest) -> set[int]:
    return {int(pk) for pk in request.POST.getlist("use") if _is_number(pk)}


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 19


def _token(request: HttpRequest) -> UUID | None:
    try:
        return UUID(request.POST.get("token", ""))
    except ValueError:
        return None
