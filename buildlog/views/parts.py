"""One part: its page, its entries, its stage and counts, its place in the bin."""

import uuid
from typing import Any

from django.contrib import messages
from django.db import IntegrityError, transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access
from buildlog.actions import parts as part_actions
from buildlog.actions import stages
from buildlog.forms.parts import USED_IN, BaseUseFormSet, CountForm, PartForm, QuantityForm, UseFormSet
from buildlog.models import Build, ChangedRow, Part, PartUse, Stage
from buildlog.views.pages import show
from buildlog.views.part_record import part_record
from buildlog.views.scrap import pieces_of, why_address
from buildlog.views.standing import changes
from calc.measures import EntryError, parse_size

BINNED_PHOTOS = 60
#: Rows that only tie two others together: they come back with what took them away.
LINKS = ("partuse", "mate", "partfirst", "castingneed", "concessionmate", "indexplate")


@require_safe
def part_page(request: HttpRequest, pk: int) -> HttpResponse:
    """All that is known of one part."""
    return _page(request, access.part_to_read(request.user, pk))


def _page(
    request: HttpRequest,
    part: Part,
    *,
    count_form: CountForm | None = None,
    quantity_form: tuple[int, QuantityForm] | None = None,
    ask_stage: Stage | None = None,
    uses: list[PartUse] | None = None,
    status: int = 200,
) -> HttpResponse:
    spoilt = pieces_of(request.GET.get("spoilt", ""))
    return show(
        request,
        "buildlog/part_page.html",
        title=f"{part.key} {part.name}",
        kind="Part record",
        build=part.build,
        nav="parts",
        hatches={part.hatch} - {""},
        part=part,
        ask_stage=ask_stage,
        count_form=count_form or CountForm(),
        quantity_use=quantity_form[0] if quantity_form else None,
        quantity_form=quantity_form[1] if quantity_form else None,
        token=uuid.uuid4(),
        spoilt=spoilt,
        why_address=why_address(part, count=spoilt, note=request.GET.get("note", "")[:150]),
        status=status,
        **part_record(part, uses),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def part_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Add one part by hand."""
    build = access.build_to_write(request.user, pk)
    return _entry(request, build, Part(build=build), start={"assembly": request.GET.get("assembly")})


@require_safe
def size_echo(request: HttpRequest, pk: int) -> HttpResponse:
    """How a leading size would be read, or what is wrong with it, while it is being typed."""
    build = access.build_to_read(request.user, pk)
    text = request.GET.get("leading_size", "").strip()
    context: dict[str, str] = {}
    if text:
        try:
            size = parse_size(text, "inch" if build.units == "inch" else "mm")
            context = {
                "read": f"{size.measure.echo()} {size.words}".strip() if size.measure else size.as_entered
            }
        except EntryError as wrong:
            context = {"wrong": wrong.message}
    return render(request, "buildlog/_size_echo.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Part, PartForm)
def part_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change anything typed about a part, its number and its uses among it."""
    # One that was put in the bin while its page was open is told of there, with what was typed.
    find = access.part_to_read if request.method == "POST" else access.part_to_write
    part = find(request.user, pk)
    return _entry(request, part.build, part)


def _entry(
    request: HttpRequest, build: Build, part: Part, start: dict[str, Any] | None = None
) -> HttpResponse:
    form = PartForm(request.POST or None, instance=part, build=build)
    stands = list(part.uses.all()) if part.pk else []
    first = [{"quantity": "1", **start}] if start and start["assembly"] else []
    uses = _use_forms(request, build, stands, first)
    form.lay_beside(uses.beside(stands))
    title = f"Change {part.key}" if part.pk else "A new part"
    split = None
    if request.method == "POST" and form.is_valid() and uses.is_valid():
        split = uses.split
        refused = _why_no_split(form.instance, len(uses.uses)) if split else ""
        if refused:
            uses.refuse_split(refused)
            split = None
        elif split is None or "split" in request.POST:
            done = _save_entry(request, form, uses)
            if done is not None:
                return redirect(done)
    if USED_IN in form.taken_over:
        uses = _use_forms(None, build, stands, [])
    return show(
        request,
        "buildlog/part_form.html",
        title=title,
        kind="Entry",
        build=build,
        nav="parts",
        form=form,
        uses=uses,
        part=part if part.pk else None,
        split=split,
        size_echo=part.size.measure.echo() if part.size and part.size.measure else "",
        status=422 if form.errors or uses.total_error_count() else 200,
    )


def _use_forms(
    request: HttpRequest | None, build: Build, stands: list[PartUse], first: list[dict[str, Any]]
) -> BaseUseFormSet:
    """Where it is used: as it was sent, or as it stands."""
    sent = request.POST or None if request else None
    initial = [{"assembly": use.assembly_id, "quantity": use.quantity} for use in stands] or first
    uses = UseFormSet(sent, initial=None if sent else initial, prefix="use", form_kwargs={"build": build})
    assert isinstance(uses, BaseUseFormSet)
    return uses


def _save_entry(request: HttpRequest, form: PartForm, uses: BaseUseFormSet) -> Part | None:
    """Write what was typed; None, and the error on the form, where another tab took the number meanwhile."""
    split = uses.split
    try:
        with transaction.atomic():
            part: Part = form.save(commit=False)
            if split:
                assembly, quantities = split
                part, _ = part_actions.split_hands(part, quantities, assembly, by=request.user)
                messages.success(request, f"{part.number} is two records now, left and right.")
            else:
                part_actions.save_part(part, uses.uses, by=request.user)
            part_actions.restore_part(part, by=request.user)
            return part
    except ValueError as refused:
        form.add_error("number", str(refused))
        return None
    except IntegrityError:
        form.add_error(
            "number", "This number and hand has just been given to another part. Give this one another."
        )
        return None


@require_POST
def part_stage(request: HttpRequest, pk: int) -> HttpResponse:
    """Set the stage in one touch."""
    part = access.part_to_write(request.user, pk)
    try:
        stage = Stage(request.POST.get("stage", ""))
    except ValueError:
        messages.error(request, "That is no stage of a part. Touch one of the six.")
        return redirect(part)
    try:
        part = stages.set_stage(
            part, stage, by=request.user, token=_token(request), count_rest="count_rest" in request.POST
        )
    except stages.StillToMakeError:
        return _page(request, part, ask_stage=stage, status=422)
    _say_twin(request, part)
    return redirect(part)


@require_POST
def part_count(request: HttpRequest, pk: int) -> HttpResponse:
    """Record what was counted good and scrap."""
    part = access.part_to_write(request.user, pk)
    form = CountForm(request.POST)
    if form.is_valid():
        said = form.cleaned_data
        try:
            part = stages.record_count(
                part,
                good=said["good"] or 0,
                scrap=said["scrap"] or 0,
                note=said["note"],
                call_machined=said["call_machined"],
                by=request.user,
                token=said["token"],
            )
        except stages.CountRefusedError as wrong:
            form.add_error(wrong.field, str(wrong))
        else:
            _say_twin(request, part)
            return redirect(_after_count(part, said["scrap"] or 0, said["note"]))
    return _page(request, part, count_form=form, status=422)


def _after_count(part: Part, scrap: int, note: str) -> str:
    """The page of the part; where pieces were spoilt, it asks whether to write down why."""
    address = part.get_absolute_url()
    said = {"spoilt": scrap} | ({"note": note} if note else {})
    return f"{address}?{urlencode(said)}#scrap" if scrap > 0 else address


@require_POST
def part_quantity(request: HttpRequest, pk: int, use: int) -> HttpResponse:
    """Change how many are used in one assembly; the needed number follows at once."""
    part = access.part_to_write(request.user, pk)
    place = get_object_or_404(part.uses.select_related("part"), pk=use)
    form = QuantityForm(request.POST, build=part.build)
    if not form.is_valid():
        return _page(request, part, quantity_form=(use, form), status=422)
    if form.split:
        query = urlencode({"split": request.POST["quantity"]})
        return redirect(f"{part.get_absolute_url()}split/{use}/?{query}")
    part_actions.change_quantity(place, form.cleaned_data["quantity"], by=request.user)
    return redirect(part)


@require_http_methods(["GET", "HEAD", "POST"])
def part_split(request: HttpRequest, pk: int, use: int) -> HttpResponse:
    """Offer to make one record into left and right, and do it."""
    part = access.part_to_write(request.user, pk)
    uses = list(part.uses.select_related("assembly"))
    place = next((one for one in uses if one.pk == use), None)
    if place is None:
        raise Http404("The part is not used there.")
    form = QuantityForm(
        {"quantity": request.POST.get("split") or request.GET.get("split", "")}, build=part.build
    )
    if not form.is_valid() or not form.split:
        return _page(request, part, quantity_form=(use, form), uses=uses, status=422)
    refused = _why_no_split(part, len(uses))
    if request.method == "POST" and not refused:
        left, _ = part_actions.split_hands(part, form.split, place.assembly, by=request.user)
        messages.success(request, f"{part.number} is two records now, left and right.")
        return redirect(left)
    return show(
        request,
        "buildlog/part_split.html",
        title=f"{part.key}: left and right",
        kind="Entry",
        build=part.build,
        nav="parts",
        part=part,
        place=place,
        split=form.split,
        typed=form.data["quantity"],
        refused=refused,
    )


def _why_no_split(part: Part, places: int) -> str:
    if part.hand:
        return f"{part.key} has a hand already."
    if places > 1:
        return f"{part.key} is used in several assemblies. Take it out of the others first."
    taken = (
        Part.objects.live().filter(build=part.build, number=part.number).exclude(hand="").exclude(pk=part.pk)
    )
    return f"{taken[0].key} is in the build already." if taken else ""


@require_POST
def part_bin(request: HttpRequest, pk: int) -> HttpResponse:
    part = access.part_to_read(request.user, pk)
    part_actions.bin_part(part, by=request.user)
    messages.success(
        request, f"{part.key} is in the bin. Nothing of it is lost; the bin is under the parts list."
    )
    return redirect("part_list", part.build_id)


@require_POST
def part_restore(request: HttpRequest, pk: int) -> HttpResponse:
    part = access.part_to_read(request.user, pk)
    try:
        part_actions.restore_part(part, by=request.user)
    except ValueError as refused:
        messages.error(request, str(refused))
    return redirect(part)


@require_safe
def part_history(request: HttpRequest, pk: int) -> HttpResponse:
    """Everything that happened to a part."""
    part = access.part_to_read(request.user, pk)
    return show(
        request,
        "buildlog/part_history.html",
        title=f"{part.key}: what happened",
        kind="History",
        build=part.build,
        nav="parts",
        part=part,
        history=part.history.select_related("by", "change"),
    )


@require_safe
def bin_page(request: HttpRequest, pk: int) -> HttpResponse:
    """The parts and the photos that were put in the bin."""
    build = access.build_to_read(request.user, pk)
    binned = build.photos.exclude(binned_at=None).select_related("part").order_by("-binned_at")
    photos = list(binned[: BINNED_PHOTOS + 1])
    gone = ChangedRow.objects.filter(change__build=build, change__undone_at=None, after__isnull=True)
    return show(
        request,
        "buildlog/bin_page.html",
        title="The bin",
        kind="Parts list",
        build=build,
        nav="parts",
        parts=build.parts.exclude(binned_at=None).select_related("build").order_by("-binned_at"),
        photos=photos[:BINNED_PHOTOS],
        photos_more=len(photos) > BINNED_PHOTOS,
        gone=gone.exclude(table__in=LINKS).select_related("change").order_by("-change")[:BINNED_PHOTOS],
    )


def _say_twin(request: HttpRequest, part: Part) -> None:
    twin = stages.twin_of(part)
    if part.stage_mark.is_made and twin and not twin.stage_mark.is_made:
        messages.info(request, f"{twin.key} is still to do: {twin.to_make} of {twin.needed} to make.")


def _token(request: HttpRequest) -> uuid.UUID | None:
    try:
        return uuid.UUID(request.POST.get("token", ""))
    except ValueError:
        return None
