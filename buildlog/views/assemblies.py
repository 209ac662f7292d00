"""Assemblies: what each holds, where it hangs, its balloon."""

from django.contrib import messages
from django.db.models import ProtectedError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access, queries
from buildlog.actions.records import take_away, write_record
from buildlog.changes import changes_of
from buildlog.forms.assemblies import AssemblyForm
from buildlog.models import Assembly, Part
from buildlog.models.parts import SHEET
from buildlog.views.pages import STAGE_MARKS, show
from buildlog.views.part_lists import errata_marks, rows_of
from buildlog.views.standing import changes
from buildlog.waiting.standing import standing_of
from buildlog.waiting.words import missing_in, short_words

SHOWN_WAITING = 3


@require_safe
def assembly_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One assembly with its parts and those of the assemblies below it."""
    assembly = access.assembly_to_read(request.user, pk)
    build = assembly.build
    standing = standing_of(build)
    branch = next(
        branch
        for top in queries.assembly_tree(build, standing)
        for branch in top.walk()
        if branch.assembly.pk == assembly.pk
    )
    found = Part.objects.live().with_needed().filter(pk__in=branch.parts)
    parts = list(found.select_related("build").prefetch_related("uses__assembly"))
    waiting = [(part, short_words(standing, part.pk)) for part in parts if standing.is_waiting(part.pk)]
    rows = rows_of(build, parts, standing)
    missing = missing_in(standing, {part.pk for part in parts})
    return show(
        request,
        "buildlog/assembly_page.html",
        changes=changes_of(assembly),
        title=assembly.name,
        kind="Assembly, parts list",
        build=build,
        nav="parts",
        marks=(*STAGE_MARKS, "wait", *{how.mark for _, how, _ in missing}, *errata_marks(rows)),
        hatches={part.hatch for part in parts} | {casting.hatch for casting, _, _ in missing} - {""},
        block={"number": assembly.code, "sheet": _sheets_text(parts)},
        assembly=assembly,
        branch=branch,
        rows=rows,
        missing=missing,
        waiting=[] if missing else waiting[:SHOWN_WAITING],
        waiting_more=max(len(waiting) - SHOWN_WAITING, 0),
        sheets=_sheets_text(parts),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def assembly_new(request: HttpRequest, pk: int) -> HttpResponse:
    build = access.build_to_write(request.user, pk)
    form = AssemblyForm(request.POST or None, build=build, initial={"parent": request.GET.get("parent")})
    if request.method == "POST" and form.is_valid():
        return redirect(write_record(form, build, by=request.user))
    return show(
        request,
        "buildlog/assembly_form.html",
        title="A new assembly",
        kind="Entry",
        build=build,
        nav="engine",
        form=form,
        status=422 if form.errors else 200,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Assembly, AssemblyForm)
def assembly_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Rename, renumber or move an assembly; its parts and their history go with it."""
    assembly = access.assembly_to_write(request.user, pk)
    form = AssemblyForm(request.POST or None, instance=assembly, build=assembly.build)
    if request.method == "POST" and form.is_valid():
        write_record(form, assembly.build, by=request.user)
        messages.success(request, "Written down.")
        return redirect(assembly)
    return show(
        request,
        "buildlog/assembly_form.html",
        title=f"Change {access.assembly_to_write(request.user, pk)}",
        kind="Entry",
        build=assembly.build,
        nav="engine",
        form=form,
        assembly=assembly,
        status=422 if form.errors else 200,
    )


@require_POST
def assembly_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Take an empty assembly away."""
    assembly = access.assembly_to_write(request.user, pk)
    build = assembly.build
    try:
        take_away(assembly, build, by=request.user)
    except ProtectedError:
        messages.error(request, _why_kept(assembly))
        return redirect(assembly)
    messages.success(request, f"{assembly} is gone; it held nothing.")
    return redirect("engine", build.pk)


def _why_kept(assembly: Assembly) -> str:
    parts = assembly.uses.count()
    below = assembly.children.count()
    used = "1 part is" if parts == 1 else f"{parts} parts are"
    hang = "1 assembly hangs" if below == 1 else f"{below} assemblies hang"
    return f"{assembly} stays: {used} used in it, the bin counted, and {hang} on it. Move these first."


def _sheets_text(parts: list[Part]) -> str:
    numbers = sorted({int(match[1]) for part in parts if (match := SHEET.match(part.sheet))})
    if not numbers:
        return "—"
    return f"{numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else str(numbers[0])
