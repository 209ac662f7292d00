"""The scrap book: what was spoilt or made again, and what was learnt."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions import scrap as actions
from buildlog.actions.stages import CountRefusedError
from buildlog.changes import changes_of
from buildlog.forms.scrap import Prefilled, ScrapForm, ScrapListForm
from buildlog.models import Build, Part, Scrap
from buildlog.models.scrap import MOST_PIECES
from buildlog.scrap_book import still_to_tell, totals
from buildlog.views.log import keys_offered
from buildlog.views.narrowing import asked_part, turns
from buildlog.views.pages import show
from buildlog.views.standing import changes
from calc.answers.card import OPERATIONS

PAGE_ENTRIES = 50
BINNED = 20
NOTE_LONGEST = 150
KIND = "Scrap book"


@require_safe
def scrap_list(request: HttpRequest, pk: int) -> HttpResponse:
    """What was spoilt or made again, the newest first, under what each cause has cost."""
    build = access.build_to_read(request.user, pk)
    form = ScrapListForm(request.GET)
    asked = form.asked
    part, trouble = asked_part(build, asked.get("part", ""))
    found = _narrowed(build, asked, part) if not trouble else Scrap.objects.none()
    by_cause, in_all = totals(found)
    paginator = Paginator(found.select_related("part"), PAGE_ENTRIES)
    paginator.count = in_all.entries  # Counted already, with the pieces.
    page = paginator.get_page(asked.pop("page", 1))
    binned = Scrap.objects.filter(build=build).exclude(binned_at=None).select_related("part")
    return show(
        request,
        "buildlog/scrap_list.html",
        title="Scrap book",
        kind=KIND,
        build=build,
        nav="parts",
        block={"sheet": f"{page.number} of {page.paginator.num_pages}"},
        form=form,
        asked=asked,
        part=part,
        trouble=trouble,
        by_cause=by_cause,
        in_all=in_all,
        page=page,
        binned=binned.order_by("-binned_at")[:BINNED],
        **turns(asked, page),
    )


def _narrowed(build: Build, asked: dict[str, Any], part: Part | None) -> "QuerySet[Scrap]":
    found = Scrap.objects.live().filter(build=build)
    if part:
        found = found.filter(part=part)
    if asked.get("cause"):
        found = found.filter(cause=asked["cause"])
    return found


def why_address(part: Part, *, count: int = 0, note: str = "") -> str:
    """Where it is written down why pieces of a part were spoilt; of a count, they are counted already."""
    said: dict[str, Any] = {"part": part.key}
    if count:
        said |= {"count": count, "counted": 1}
    if note:
        said["note"] = note
    return f"{reverse('scrap_new', args=[part.build_id])}?{urlencode(said)}"


def pieces_of(text: str) -> int:
    """How many pieces an address names; none where it names no number of them."""
    is_number = text.isascii() and text.isdigit() and len(text) <= len(str(MOST_PIECES))
    return int(text) if is_number else 0


@require_http_methods(["GET", "HEAD", "POST"])
def scrap_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down what was spoilt or made again; what is known where one comes from stands there already."""
    build = access.build_to_write(request.user, pk)
    asked = request.GET
    part, _ = asked_part(build, asked.get("part", "").strip()[:60])
    known = Prefilled(
        part=part,
        count=pieces_of(asked.get("count", "")) or 1,
        happened=asked.get("note", "").strip()[:NOTE_LONGEST],
        is_counted="counted" in asked,
    )
    return _entry(request, Scrap(build=build), known)


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Scrap, ScrapForm)
def scrap_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Mend an entry; it says from then on when it was changed."""
    scrap = access.scrap_to_write(request.user, pk)
    # One put in the bin while its page was open is told of there, with what was typed.
    if scrap.binned_at and request.method != "POST":
        raise Http404("This entry is in the bin.")
    return _entry(request, scrap, Prefilled(part=scrap.part, is_counted=True))


def _entry(request: HttpRequest, scrap: Scrap, known: Prefilled) -> HttpResponse:
    is_new, build = not scrap.pk, scrap.build
    form = ScrapForm(request.POST or None, instance=scrap, build=build, known=known)
    if request.method == "POST" and form.is_valid():
        written = _write(request, form, is_new)
        if written:
            return redirect(written)
    return show(
        request,
        "buildlog/scrap_form.html",
        title="Write in the scrap book" if is_new else "Change an entry of the scrap book",
        kind="Entry",
        build=build,
        nav="parts",
        form=form,
        scrap=None if is_new else scrap,
        known=known,
        keys=keys_offered(build),
        operations=OPERATIONS,
        status=422 if form.errors else 200,
    )


def _write(request: HttpRequest, form: ScrapForm, is_new: bool) -> Scrap | None:
    """Write what was typed; None, and the error on the form, where the part cannot count so many."""
    scrap: Scrap = form.save(commit=False)
    if not is_new:
        actions.restore_scrap(scrap, by=request.user)
        if actions.change_scrap(scrap, by=request.user):
            messages.success(request, "Changed; the entry says when.")
        return scrap
    said = form.cleaned_data
    try:
        scrap = actions.write_scrap(scrap, token=said["token"], count_now=said["count_now"], by=request.user)
    except PermissionError as refused:
        raise Http404(str(refused)) from None
    except CountRefusedError as refused:
        form.add_error(refused.field, str(refused))
        return None
    messages.success(request, "Written in the scrap book.")
    return scrap


@require_safe
def scrap_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One entry: what happened, what it cost, what the next one is told and on which cards it was."""
    scrap = access.scrap_to_read(request.user, pk)
    shown = list(scrap.shown.select_related("card__part"))
    to_tell = still_to_tell(scrap, (one.told for one in shown))
    return show(
        request,
        "buildlog/scrap_page.html",
        changes=changes_of(scrap),
        title=f"{scrap.part.key}: {scrap.words}",
        kind=KIND,
        build=scrap.build,
        nav="parts",
        marks=[*(["ok"] if shown else []), *(["wait"] if to_tell or scrap.show_again else [])],
        block={
            "number": scrap.part.key,
            "date": scrap.on,
            "by": scrap.by.get_username() if scrap.by else "—",
        },
        scrap=scrap,
        part=scrap.part,
        shown=shown,
        to_tell=to_tell,
    )


@require_POST
def scrap_bin(request: HttpRequest, pk: int) -> HttpResponse:
    scrap = access.scrap_to_write(request.user, pk)
    if actions.bin_scrap(scrap, by=request.user):
        messages.success(request, "The entry is in the bin; the part’s count stays as it is.")
    return redirect(scrap)


@require_POST
def scrap_restore(request: HttpRequest, pk: int) -> HttpResponse:
    scrap = access.scrap_to_write(request.user, pk)
    if actions.restore_scrap(scrap, by=request.user):
        messages.success(request, "The entry is back in the scrap book.")
    return redirect(scrap)


@require_POST
def lesson_again(request: HttpRequest, pk: int) -> HttpResponse:
    """Have the lesson printed once more."""
    scrap = access.scrap_to_write(request.user, pk)
    if actions.show_again(scrap, by=request.user):
        messages.success(request, "The lesson is printed again on the next card it belongs to.")
    return redirect(scrap)
