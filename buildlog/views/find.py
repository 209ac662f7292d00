"""The page behind the box at the top: everything of a build that holds what was typed."""

from django.http import HttpRequest, HttpResponse
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from buildlog import access
from buildlog.finding import A_PAGE, MOST, find
from buildlog.finding_kinds import KINDS
from buildlog.views.pages import show

LONGEST = 60
#: Pages of one kind that can be turned to.
LAST_PAGE = 1000


@require_safe
def find_page(request: HttpRequest, pk: int) -> HttpResponse:
    """The first few of every kind; with `among`, one kind alone, a page at a time."""
    build = access.build_to_read(request.user, pk)
    text = request.GET.get("find", "").replace("\0", "").strip()[:LONGEST]
    among = next((kind for kind in KINDS if kind.key == request.GET.get("among")), None)
    page = _page(request.GET.get("page", "")) if among else 1
    groups = find(build, text, [among] if among else KINDS, most=A_PAGE if among else MOST, page=page)
    asked = {"find": text, "among": among.key if among else ""}
    return show(
        request,
        "buildlog/find_page.html",
        title=f"Found: {text}" if text else "Find",
        kind="List of what was found",
        build=build,
        nav="find",
        found=text,
        groups=groups,
        most=MOST,
        among=among,
        page=page,
        following=f"?{urlencode(asked | {'page': page + 1})}" if among and groups and groups[0].more else "",
        previous=f"?{urlencode(asked | {'page': page - 1})}" if page > 1 else "",
        everything=f"?{urlencode({'find': text})}",
    )


def _page(text: str) -> int:
    return min(max(int(text), 1), LAST_PAGE) if text.isascii() and text.isdecimal() and len(text) < 6 else 1
