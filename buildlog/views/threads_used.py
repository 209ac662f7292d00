"""The threads of a build and of its parts; those that the words of parts name."""

from collections.abc import Sequence
from uuid import UUID, uuid4

from django.contrib import messages
from django.db.models import Exists, OuterRef
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions import threads_used as actions
from buildlog.forms.threads_used import ThreadUseForm
from buildlog.models import Build, Change, ChangedRow, ThreadUse
from buildlog.threads_used import Offer, Used, offers_of, threads_of
from buildlog.views.pages import show
from buildlog.views.standing import changes
from calc.threads_named import Named, Near

CHANGES_SHOWN = 20


@require_safe
def thread_list(request: HttpRequest, pk: int) -> HttpResponse:
    """Every thread of the build, with its drills, its look-alikes and where it is used."""
    build = access.build_to_read(request.user, pk)
    threads = threads_of(build)
    offers = offers_of(build)
    return show(
        request,
        "buildlog/threads_used.html",
        title="Threads used",
        kind="List of threads",
        build=build,
        nav="parts",
        marks=("care",) if any(used.near for used in threads) else (),
        block={"units": "as the thread’s own"},
        threads=threads,
        places=sum(len(used.uses) for used in threads),
        parts=len({use.part_id for used in threads for use in used.uses}),
        alike=_alike(threads),
        worded=len({offer.part.pk for offer in offers}),
        changes=_changes_of(build),
    )


def _changes_of(build: Build) -> list[Change]:
    """The last changes of threads, of one or of many."""
    of_threads = ChangedRow.objects.filter(change=OuterRef("pk"), table=ThreadUse._meta.model_name)
    found = build.changes.filter(Exists(of_threads)).select_related("by", "undone_by__by")
    return list(found[:CHANGES_SHOWN])


def _alike(threads: Sequence[Used]) -> list[tuple[Named, Near]]:
    """Each pair of look-alikes once, the thread before its other."""
    seen: set[frozenset[str]] = set()
    pairs: list[tuple[Named, Near]] = []
    for used in threads:
        for other in used.near:
            pair = frozenset((used.known.name, other.name))
            if pair not in seen:
                seen.add(pair)
                pairs.append((used.known, other))
    return pairs


@require_http_methods(["GET", "HEAD", "POST"])
def thread_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down one more thread of a part."""
    return _entry(request, ThreadUse(part=access.part_to_write(request.user, pk)))


@require_http_methods(["GET", "HEAD", "POST"])
@changes(ThreadUse, ThreadUseForm)
def thread_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Mend a thread of a part."""
    return _entry(request, access.thread_to_write(request.user, pk))


def _entry(request: HttpRequest, use: ThreadUse) -> HttpResponse:
    part, is_new, name = use.part, not use.pk, use.shown
    form = ThreadUseForm(request.POST or None, instance=use)
    if request.method == "POST" and form.is_valid():
        use = form.save(commit=False)
        if not is_new:
            actions.change_thread(use, by=request.user)
            return redirect(f"{part.get_absolute_url()}#threads")
        try:
            actions.add_thread(use, token=form.cleaned_data["token"], by=request.user)
        except PermissionError as refused:
            raise Http404(str(refused)) from None
        if "another" in request.POST:
            return redirect("thread_new", part.pk)
        return redirect(f"{part.get_absolute_url()}#threads")
    return show(
        request,
        "buildlog/thread_use_form.html",
        title=f"{part.key}: a thread" if is_new else f"{part.key}: {name}",
        kind="Entry",
        build=part.build,
        nav="parts",
        part=part,
        use=None if is_new else use,
        form=form,
        status=422 if form.errors else 200,
    )


@require_POST
def thread_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a thread off the list of its part."""
    use = access.thread_to_write(request.user, pk)
    part = use.part
    actions.remove_thread(use, by=request.user)
    messages.success(request, f"{use} is taken off {part.key}.")
    return redirect(f"{part.get_absolute_url()}#threads")


@require_http_methods(["GET", "HEAD", "POST"])
def thread_words(request: HttpRequest, pk: int) -> HttpResponse:
    """Threads that the words of parts name and nothing says yet, each to be ticked and taken over."""
    build = access.build_to_write(request.user, pk)
    trouble, picked = "", set(request.POST.getlist("pick"))
    if request.method == "POST":
        token = _token(request)
        if token and picked:
            new = actions.take_over(build, picked, token=token, by=request.user)
            many = f"{len(new)} thread{'' if len(new) == 1 else 's'} taken over from words."
            messages.success(request, many if new else "They are on the lists of their parts already.")
            return redirect("thread_list", build.pk)
        trouble = "Nothing is ticked. Tick what is to be taken over." if token else "Look again, then press."
    offers = offers_of(build)
    return show(
        request,
        "buildlog/threads_words.html",
        title="Threads found in words",
        kind="Preview",
        build=build,
        nav="parts",
        marks=_marks(offers, trouble),
        trouble=trouble,
        offers=[
            (one, one.pick in picked if picked else not one.has_others) for one in offers if one.found.name
        ],
        unread=[one for one in offers if not one.found.name],
        token=uuid4(),
        status=422 if trouble else 200,
    )


def _marks(offers: Sequence[Offer], trouble: str) -> list[str]:
    """The marks that stand on the sheet of what words name."""
    doubts = any(one.has_others or not one.found.name for one in offers)
    has_any = any(one.found.name for one in offers)
    return [*(["care"] if doubts else []), *([] if has_any else ["ok"]), *(["no"] if trouble else [])]


def _token(request: HttpRequest) -> UUID | None:
    try:
        return UUID(request.POST.get("token", ""))
    except ValueError:
        return None
