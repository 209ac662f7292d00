"""How a page becomes a sheet: legend, title block, build."""

from collections.abc import Iterable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from buildlog import clock
from buildlog.context import TitleBlock
from buildlog.materials import HATCHES, hatch_name
from buildlog.models import Build

MARKS = {
    "st0": ("Not started", "is-open"),
    "st1": ("In hand", ""),
    "st2": ("Machined", "is-done"),
    "st3": ("Fitted", "is-done"),
    "st4": ("Painted", "is-done"),
    "st5": ("On the engine", "is-done"),
    "go": ("Can start", ""),
    "wait": ("Waits", "is-wait"),
    "care": ("Take care", "is-wait"),
    "late": ("Overdue", "is-stop"),
    "ok": ("Agrees, done", "is-done"),
    "no": ("Wrong", "is-stop"),
    "err": ("Erratum on the sheet", "is-stop"),
    "shut": ("Before closing up", ""),
}
LAST_BUILD = "build"
STAGE_MARKS = ("st0", "st1", "st2", "st3", "st4", "st5")


def show(
    request: HttpRequest,
    template: str,
    *,
    title: str,
    kind: str,
    build: Build | None = None,
    nav: str = "",
    marks: Iterable[str] = (),
    hatches: Iterable[str] = (),
    why: str = "",
    block: dict[str, Any] | None = None,
    status: int = 200,
    **context: Any,
) -> HttpResponse:
    """Render a whole sheet.

    `marks` and `hatches` are those drawn on it, for the legend; `block` holds more fields of the title block.
    """
    on_sheet = set(hatches)
    strip_build = build or _last_build(request)
    if build and request.session.get(LAST_BUILD) != build.pk:
        request.session[LAST_BUILD] = build.pk
    fields: dict[str, Any] = {"kind": kind, "title": title, "date": clock.today()}
    if build:
        fields |= {"build": build.scale_text, "units": _units(build)}
    if request.user.is_authenticated:
        fields["by"] = request.user.get_username()
    return render(
        request,
        template,
        {
            "title": title,
            "build": build,
            "strip_build": strip_build,
            "nav": nav,
            "marks": [(symbol, *MARKS[symbol]) for symbol in dict.fromkeys(marks)],
            "hatches": [(code, hatch_name(code)) for code, _, _ in HATCHES if code in on_sheet],
            "why": why,
            "tb": TitleBlock(**(fields | (block or {}))),
            **context,
        },
        status=status,
    )


def _last_build(request: HttpRequest) -> Build | None:
    """The build that was looked at last: it stays in the strip on pages that belong to none."""
    pk = request.session.get(LAST_BUILD) if request.user.is_authenticated else None
    return Build.objects.seen_by(request.user).filter(pk=pk).first() if pk else None


def _units(build: Build) -> str:
    return "in, mm beside it" if build.units == "inch" else "mm, in beside it"


def member_id(request: HttpRequest) -> int:
    """Who asks; every page that needs it is behind the sign-in."""
    assert request.user.pk is not None
    return request.user.pk
