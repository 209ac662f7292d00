"""The list of all parts: narrowed, sorted, page by page."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, TypeAlias

from django.core.paginator import Page, Paginator
from django.db.models import (
    Expression,
    ExpressionWrapper,
    F,
    Field,
    IntegerField,
    OrderBy,
    OuterRef,
    Q,
    Subquery,
)
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_safe

from buildlog import access, queries
from buildlog.errata import Flag, flags_by_part
from buildlog.forms.parts import PartListForm
from buildlog.models import Build, Hand, Part, PartQuerySet, PartUse
from buildlog.models.parts import MADE_STAGES, stage_places
from buildlog.views.pages import STAGE_MARKS, show
from buildlog.waiting.standing import Standing, standing_of
from buildlog.waiting.words import short_words, waiting_since

PAGE_ROWS = 100
Sortable: TypeAlias = "Expression | F | Subquery[Field[Any, Any]]"


@dataclass(frozen=True)
class Row:
    """One line of a parts list; the left of a pair is ruled to its right by dots."""

    part: Part
    is_twin: bool
    waits: str  # what for, in a few words
    since: date | None
    errata: Sequence[Flag] = ()  # of its sheet, not dealt with


def rows_of(build: Build, parts: Sequence[Part], standing: Standing) -> list[Row]:
    """The lines of a list, twins joined where they stand together."""
    flags = flags_by_part(build, [part.pk for part in parts])
    below: list[Part | None] = [*parts[1:], None][: len(parts)]
    return [
        Row(
            part,
            bool(
                after and part.hand == Hand.LEFT and after.hand == Hand.RIGHT and after.number == part.number
            ),
            short_words(standing, part.pk),
            waiting_since(standing, part.pk),
            flags.get(part.pk, ()),
        )
        for part, after in zip(parts, below, strict=True)
    ]


def errata_marks(rows: Iterable[Row]) -> tuple[str, ...]:
    """The mark of an erratum, where a line of a list has one."""
    return ("err",) if any(row.errata for row in rows) else ()


@require_safe
def part_list(request: HttpRequest, pk: int) -> HttpResponse:
    """All parts of a build; htmx gets the list alone."""
    build = access.build_to_read(request.user, pk)
    form = PartListForm(request.GET, build=build)
    asked = form.asked
    standing = standing_of(build)
    page = _page_of(_narrowed(build, asked, standing), asked, standing)
    context = {
        "form": form,
        "asked": asked,
        "page": page,
        "rows": rows_of(build, list(page), standing),
        "columns": _columns(request, asked),
    }
    context |= {
        "build": build,
        "earlier": _page_link(request, page, -1),
        "later": _page_link(request, page, +1),
    }
    if request.htmx and not request.htmx.history_restore_request:  # type: ignore[attr-defined]
        answer = render(request, "buildlog/_part_list.html", context)
    else:
        answer = _whole_page(request, build, page, context, standing)
    patch_vary_headers(answer, ["HX-Request"])
    return answer


def _whole_page(
    request: HttpRequest, build: Build, page: "Page[Part]", context: dict[str, Any], standing: Standing
) -> HttpResponse:
    total = len(standing.parts)
    context.pop("build")
    return show(
        request,
        "buildlog/part_list_page.html" if total else "buildlog/part_list_empty.html",
        title="Parts",
        kind="Parts list",
        build=build,
        nav="parts",
        marks=(*STAGE_MARKS, "wait", *errata_marks(context["rows"])) if total else ("st0",),
        hatches={part.hatch for part in page},
        block={"sheet": f"{page.number} of {page.paginator.num_pages}"},
        query=context["asked"].get("find", ""),
        total=total,
        binned=build.parts.exclude(binned_at=None).count(),
        **context,
    )


def _page_of(parts: PartQuerySet, asked: dict[str, Any], standing: Standing) -> "Page[Part]":
    """The page asked for; how long a part waits is not in the database, so that order is made here."""
    number = asked.get("page", 1)
    if asked.get("sort") != "waiting":
        return Paginator(_sorted(parts, asked), PAGE_ROWS).get_page(number)
    waits = {pk: waiting_since(standing, pk) for pk in standing.waiting}
    keyed = list(parts.order_by("number_key", "hand").values_list("pk", flat=True))
    waiting = [pk for pk in keyed if waits.get(pk)]
    waiting.sort(key=lambda pk: waits[pk] or date.max, reverse="down" in asked)
    pages = Paginator([*waiting, *(pk for pk in keyed if not waits.get(pk))], PAGE_ROWS)
    page = pages.get_page(number)
    found = parts.in_bulk(list(page))
    return Page([found[pk] for pk in page], page.number, pages)  # type: ignore[arg-type]


def _narrowed(build: Build, asked: dict[str, Any], standing: Standing) -> PartQuerySet:
    assembly = asked.get("assembly")
    parts = (
        queries.parts_of(build, assembly)
        if assembly
        else Part.objects.live().with_needed().filter(build=build)
    )
    if "find" in asked:
        parts = queries.find_parts(parts, asked["find"], build.units)
    if "stage" in asked:
        parts = parts.filter(stage__in=MADE_STAGES if asked["stage"] == "made" else [asked["stage"]])
    for name in ("kind", "material"):
        if name in asked:
            parts = parts.filter(**{name: asked[name]})
    if "waiting" in asked:
        waits = Q(pk__in=standing.waiting)
        parts = parts.filter(waits if asked["waiting"] == "yes" else ~waits)
    return parts.select_related("build").prefetch_related("uses__assembly")


def _sorted(parts: PartQuerySet, asked: dict[str, Any]) -> PartQuerySet:
    keys: dict[str, Sortable] = {
        "name": F("name"),
        "assembly": _first_balloon(),
        "kind": F("kind"),
        "size": F("size_nm"),
        "made": ExpressionWrapper(F("needed_sum") - F("good"), output_field=IntegerField()),
        "stage": stage_places(),
        "material": F("material"),
    }
    by = keys.get(asked.get("sort", ""), F("number_key"))
    # What has no size, or does not wait, comes last whichever way the list runs.
    return parts.order_by(OrderBy(by, descending="down" in asked, nulls_last=True), "number_key", "hand")


def _first_balloon() -> "Subquery[Field[Any, Any]]":
    """Where a part is used first, as balloons follow each other."""
    uses = PartUse.objects.filter(part=OuterRef("pk")).order_by("pk")
    return Subquery(uses.values("assembly__balloon_key")[:1])


def _columns(request: HttpRequest, asked: dict[str, Any]) -> dict[str, dict[str, str]]:
    """For each sortable column, where its heading leads and how it is sorted now."""
    columns = {}
    for name in PartListForm.SORTS:
        query = request.GET.copy()
        is_now = asked.get("sort", "number") == name
        query["sort"] = name
        query.pop("page", None)
        query.pop("down", None)
        if is_now and "down" not in asked:
            query["down"] = "on"
        state = ("descending" if "down" in asked else "ascending") if is_now else "none"
        columns[name] = {"href": f"?{query.urlencode()}", "state": state}
    return columns


def _page_link(request: HttpRequest, page: "Page[Part]", step: int) -> str:
    if not (page.has_previous() if step < 0 else page.has_next()):
        return ""
    query = request.GET.copy()
    query["page"] = str(page.number + step)
    return f"?{query.urlencode()}"
