"""The year at a glance: when there was time for the engine, and for what."""

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from buildlog import access, clock
from buildlog.forms.days import FIRST_DAY
from buildlog.log_year import year_of
from buildlog.views.pages import show


@require_safe
def log_year(request: HttpRequest, pk: int, year: int) -> HttpResponse:
    """Twelve months by weeks and days, the hours by month and kind, the longest gap."""
    build = access.build_to_read(request.user, pk)
    today = clock.today()
    if not FIRST_DAY.year <= year <= today.year:
        raise Http404("The log has no such year.")
    return show(
        request,
        "buildlog/log_year.html",
        title=f"Log of {year}",
        kind="Log of the workshop",
        build=build,
        nav="log",
        year=year_of(build, year, today),
    )
