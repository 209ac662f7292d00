"""What long lists share: narrowed to a part by its key, and turned page by page."""

from typing import Any

from django.core.paginator import Page
from django.utils.http import urlencode

from buildlog.actions.log import part_named
from buildlog.models import Build, Part


def asked_part(build: Build, text: str) -> tuple[Part | None, str]:
    """The part that a list is narrowed to, or what is wrong with its key."""
    if not text:
        return None, ""
    try:
        return part_named(build, text), ""
    except ValueError as wrong:
        return None, str(wrong)


def turns(asked: dict[str, Any], page: "Page[Any]") -> dict[str, Any]:
    """Where the pages before and after are, by `earlier` and `later`: the newest stands first."""
    return {"earlier": _turn(asked, page, +1), "later": _turn(asked, page, -1)}


def _turn(asked: dict[str, Any], page: "Page[Any]", step: int) -> str:
    if not (page.has_next() if step > 0 else page.has_previous()):
        return ""
    return f"?{urlencode(asked | {'page': page.number + step})}"
