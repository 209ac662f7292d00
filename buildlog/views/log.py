"""The log of the workshop: written at the end of an evening, read after a gap."""

from dataclasses import dataclass, field
from datetime import date
from itertools import groupby
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Page, Paginator
from django.db.models import Case, Count, QuerySet, Sum, Value, When
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from buildlog import access, clock
from buildlog.actions.log import change_entry, write_entry
from buildlog.actions.photos import About
from buildlog.changes import changes_of
from buildlog.forms.log import LogForm, LogListForm
from buildlog.log_versions import wordings_of
from buildlog.log_words import ago, day_said, minutes_said
from buildlog.models import Build, LogEntry, Part, Stage, TimeKind
from buildlog.searching import sought
from buildlog.views.narrowing import asked_part, turns
from buildlog.views.pages import show
from buildlog.views.photos import photos_of
from buildlog.views.standing import changes
from buildlog.where import divided, last_with_part, with_sum
from calc.views import picture

PAGE_ENTRIES = 50
#: Keys offered while one is typed: the parts in hand, and after them those that moved last.
OFFERED = 40


@dataclass
class Day:
    """One day of the log, with all the minutes of it that were asked for."""

    said: str
    minutes: str
    entries: list[LogEntry] = field(default_factory=list)


@require_safe
def log_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The log day by day, the newest first."""
    build = access.build_to_read(request.user, pk)
    form = LogListForm(request.GET)
    asked = form.asked
    part, trouble = asked_part(build, asked.get("part", ""))
    found = _narrowed(build, asked, part) if not trouble else LogEntry.objects.none()
    kinds = _by_kind(found)
    minutes = sum(kind["minutes"] or 0 for kind in kinds)
    paginator = Paginator(found.select_related("part"), PAGE_ENTRIES)
    paginator.count = sum(kind["entries"] for kind in kinds)  # Counted already, with the minutes.
    page = paginator.get_page(asked.get("page", 1))
    return show(
        request,
        "buildlog/log_list.html",
        title="Log",
        kind="Log of the workshop",
        build=build,
        nav="log",
        block={"sheet": f"{page.number} of {page.paginator.num_pages}"},
        form=form,
        asked={name: text for name, text in asked.items() if name != "page"},
        part=part,
        on=day_said(asked["on"], clock.today()) if "on" in asked else "",
        year=(asked.get("on") or (page[0].on if page.paginator.count else clock.today())).year,
        trouble=trouble,
        minutes=minutes_said(minutes),
        kinds=[
            (TimeKind(kind["kind"]).label, minutes_said(kind["minutes"])) for kind in kinds if kind["minutes"]
        ],
        page=page,
        days=_days(found, page),
        **turns(asked, page),
    )


def _by_kind(found: "QuerySet[LogEntry]") -> list[dict[str, Any]]:
    """Entries and minutes of each kind of time, in the order of the kinds."""
    summed = found.order_by().values("kind").annotate(entries=Count("pk"), minutes=Sum("minutes"))
    found_kinds: list[dict[str, Any]] = [dict(kind) for kind in summed]
    return sorted(found_kinds, key=lambda kind: TimeKind.values.index(kind["kind"]))


def _narrowed(build: Build, asked: dict[str, Any], part: Part | None) -> "QuerySet[LogEntry]":
    found = build.log.all()
    if part:
        found = found.filter(part=part)
    if "on" in asked:
        found = found.filter(on=asked["on"])
    for piece in sought(asked.get("find", "")):
        found = found.filter(search_text__contains=piece)
    return found


def _days(found: "QuerySet[LogEntry]", page: "Page[LogEntry]") -> list[Day]:
    """The entries of a page by their days; a day's minutes are those of all of it, on this page or not."""
    entries = list(page)
    in_sight = found.filter(on__in={entry.on for entry in entries})
    summed: dict[date, int | None] = dict(
        in_sight.order_by().values_list("on").annotate(total=Sum("minutes")).values_list("on", "total")
    )
    today = clock.today()
    return [
        Day(day_said(on, today), minutes_said(summed.get(on)), list(of_day))
        for on, of_day in groupby(entries, key=lambda entry: entry.on)
    ]


@require_http_methods(["GET", "HEAD", "POST"])
def log_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Write what was done tonight, where it was left off, and what is next."""
    build = access.build_to_write(request.user, pk)
    if "part" in request.GET or request.method == "POST":
        return _entry(request, build, LogEntry(build=build), _part_of_address(request, build))
    return _entry(request, build, LogEntry(build=build), again=last_with_part(build))


def _part_of_address(request: HttpRequest, build: Build) -> Part | None:
    """The part that the page's address names, by its key or by the number of its page."""
    text = request.GET.get("part", "").strip()[:60]
    if text.isascii() and text.isdigit() and len(text) < 18:
        return build.parts.live().filter(pk=int(text)).first()
    return asked_part(build, text)[0]


@require_http_methods(["GET", "HEAD", "POST"])
@changes(LogEntry, LogForm)
def log_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Mend an entry; it says from then on when it was changed."""
    entry = access.log_entry_to_write(request.user, pk)
    return _entry(request, entry.build, entry)


def _entry(
    request: HttpRequest,
    build: Build,
    entry: LogEntry,
    asked: Part | None = None,
    again: LogEntry | None = None,
) -> HttpResponse:
    """The page an entry is written on; `again` is the entry before it, whose part is taken for this one's."""
    is_new = not entry.pk
    asked = again.part if again else asked
    form = LogForm(request.POST or None, instance=entry, build=build, asked=asked)
    if request.method == "POST" and form.is_valid():
        return redirect(_write(request, form, is_new))
    return show(
        request,
        "buildlog/log_form.html",
        title="Write in the log" if is_new else "Change an entry",
        kind="Entry",
        build=build,
        nav="log",
        form=form,
        entry=None if is_new else entry,
        keys=keys_offered(build),
        part_echo=form.instance.part or asked,
        again=ago(again.on, clock.today()) if again else "",
        status=422 if form.errors else 200,
    )


def _write(request: HttpRequest, form: LogForm, is_new: bool) -> LogEntry:
    entry: LogEntry = form.save(commit=False)
    if is_new:
        token: UUID = form.cleaned_data["token"]
        try:
            entry = write_entry(entry, token=token, by=request.user)
        except PermissionError as refused:
            raise Http404(str(refused)) from None
        messages.success(request, "Written in the log.")
    elif change_entry(entry, by=request.user):
        messages.success(request, "Changed; the entry says when, and what it said before.")
    return entry


def keys_offered(build: Build) -> "QuerySet[Part]":
    in_hand_first = Case(When(stage=Stage.IN_HAND, then=Value(0)), default=Value(1))
    return build.parts.live().order_by(in_hand_first, "-stage_at", "number_key", "hand")[:OFFERED]


@require_safe
def part_echo(request: HttpRequest, pk: int) -> HttpResponse:
    """Which part a key names, or that there is none, while it is being typed."""
    build = access.build_to_read(request.user, pk)
    part, trouble = asked_part(build, request.GET.get("part", "").strip()[:60])
    return render(request, "buildlog/_part_echo.html", {"part": part, "wrong": trouble})


@require_safe
def log_entry(request: HttpRequest, pk: int) -> HttpResponse:
    """One entry, and whether its note on dividing agrees with the kept sum."""
    access.log_entry_to_read(request.user, pk)
    entry = with_sum(LogEntry.objects.select_related("build", "part", "by")).get(pk=pk)
    checked = divided(entry)
    photos = photos_of(entry.photos.all(), entry.build, _about_photos(entry), "entry")
    agreed = ["ok" if checked.finding.agrees else "no"] if checked else []
    written_on = timezone.localdate(entry.written_at)
    return show(
        request,
        "buildlog/log_entry.html",
        title=f"Log, {day_said(entry.on, clock.today())}",
        kind="Log of the workshop",
        build=entry.build,
        nav="log",
        marks=[*agreed, *photos["photo_marks"]],
        block={"date": entry.on, "by": entry.by.get_username() if entry.by else "—"},
        entry=entry,
        changes=changes_of(entry),
        day=day_said(entry.on, clock.today()),
        minutes=minutes_said(entry.minutes),
        links=entry.links.splitlines(),
        wordings=wordings_of(entry),
        written_later=written_on if written_on != entry.on else None,
        checked=checked,
        plate=picture(checked.plate) if checked else None,
        can_add=True,
        **photos,
    )


def _about_photos(entry: LogEntry) -> About:
    """Photos that are brought in at an entry are of its part too; not of one in the bin, which has no key."""
    return About(entry=entry, part=entry.part if entry.part and not entry.part.binned_at else None)
