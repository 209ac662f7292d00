"""The page behind the box at the top: everything of a build that holds what was typed."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from buildlog import access
from buildlog.finding import MOST, find
from buildlog.views.pages import show

LONGEST = 60


@require_safe
def find_page(request: HttpRequest, pk: int) -> HttpResponse:
    build = access.build_to_read(request.user, pk)
    text = request.GET.get("find", "").strip()[:LONGEST]
    return show(
        request,
        "buildlog/find_page.html",
        title=f"Found: {text}" if text else "Find",
        kind="List of what was found",
        build=build,
        nav="find",
        query=text,
        groups=find(build, text),
        most=MOST,
    )
