"""Where was I: the build looked at last, what was left off in it, what is in hand and what stands still."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from buildlog import access, clock
from buildlog.actions.backups import is_due, last_good
from buildlog.arrangement import drawn_ground
from buildlog.backup.words import age_words
from buildlog.log_words import ago, day_said
from buildlog.models import Build, LogEntry
from buildlog.since import since_lines
from buildlog.views.pages import LAST_BUILD, show
from buildlog.waiting.standing import standing_of
from buildlog.where import Bench, bench_of, divided, last_doings, left_off, setup_photo
from calc.views import picture

MARKS = ("st0", "st1", "st2", "wait")


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """The build looked at last; the list of builds where nothing tells which that is."""
    builds = list(Build.objects.seen_by(request.user))
    last = _looked_at_last(request, builds)
    if last:
        return redirect(last)
    return show(
        request, "buildlog/home_page.html", title="Builds", kind="List of builds", nav="home", builds=builds
    )


def _looked_at_last(request: HttpRequest, builds: list[Build]) -> Build | None:
    """The only build, the one last opened on this browser, or the one whose log was last written in."""
    if len(builds) < 2:
        return builds[0] if builds else None
    by_pk = {build.pk: build for build in builds}
    opened = by_pk.get(request.session.get(LAST_BUILD, 0))
    if opened:
        return opened
    latest = LogEntry.objects.filter(build__in=builds).order_by("-written_at", "-pk").first()
    return by_pk[latest.build_id] if latest else None


@require_safe
def build_page(request: HttpRequest, pk: int) -> HttpResponse:
    """What was left off and is next, what is in hand, what waits for castings."""
    build, others = access.build_among_others(request.user, pk)
    standing = standing_of(build)
    bench = bench_of(build, standing)
    entries = left_off(build, 2)
    where = [_where(entry) for entry in entries]
    doings = last_doings(build)
    photo = setup_photo(entries[0]) if entries else None
    backup = _backup() if request.user.is_superuser else None
    return show(
        request,
        "buildlog/build_page.html",
        title="Where was I?",
        kind="Home",
        build=build,
        nav="build",
        marks=[*_marks(bench, where), *(["care"] if backup and backup["is_due"] else [])],
        hatches={one.part.hatch for one in bench.in_hand} | {one.casting.hatch for one in bench.missing},
        where=where[0] if where else None,
        photo=photo,
        since=since_lines(build, entries[0], standing, doings) if entries else [],
        before=where[1] if len(where) > 1 else None,
        doings=doings,
        last=doings[0] if doings else None,
        last_ago=ago(doings[0].day, clock.today()) if doings else "",
        last_day=day_said(doings[0].day, clock.today()) if doings else "",
        bench=bench,
        others=others,
        ground=drawn_ground(build),
        backup=backup,
    )


def _backup() -> dict[str, Any]:
    """How old the last good backup is; for the site's owner, who alone can make one."""
    last = last_good()
    return {"age": age_words(last.made_at, clock.today()) if last else "", "is_due": is_due(last)}


def _where(entry: LogEntry) -> dict[str, Any]:
    """One entry as the home page tells it."""
    checked = divided(entry)
    today = clock.today()
    return {
        "entry": entry,
        "ago": ago(entry.on, today),
        "day": day_said(entry.on, today),
        "checked": checked,
        "plate": picture(checked.plate) if checked else None,
    }


def _marks(bench: Bench, where: list[dict[str, Any]]) -> list[str]:
    """The marks drawn on this sheet."""
    checked = where[0]["checked"] if where else None
    found = [*MARKS, *(one.stands.mark for one in bench.missing)]
    if checked:
        found.append("ok" if checked.finding.agrees else "no")
    return found
