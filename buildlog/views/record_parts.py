"""Putting a kept sum of no part to one: the part is looked for, the sum kept on it beside the first."""

import uuid

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from buildlog import access
from buildlog.actions.put_sum import CannotPutError, put_to_part
from buildlog.forms.record_parts import FindPartForm, PutForm
from buildlog.models import Build, Part
from buildlog.queries import find_parts
from buildlog.views.pages import show
from calc.models import CalculationRecord

#: No more parts than these are listed; the search narrows them.
MOST = 24


@require_http_methods(["GET", "HEAD", "POST"])
def record_to_part(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose a part of one's own builds; only whoever kept a sum for no part may put it to one."""
    record = access.record_to_read(request.user, pk)
    if record.part_id is not None:
        raise Http404("This sum is kept on a part already.")
    trouble = ""
    if request.method == "POST":
        form = PutForm(request.POST)
        if form.is_valid():
            part = access.part_to_write(request.user, form.cleaned_data["part"])
            try:
                put = put_to_part(record, part, by=request.user, token=form.cleaned_data["token"])
            except CannotPutError as refused:
                trouble = str(refused)
            except PermissionError as refused:
                raise Http404(str(refused)) from None
            else:
                messages.success(request, f"Kept on {part.key} as sum {put.pk}; sum {record.pk} stays.")
                return redirect(put)
        else:
            trouble = "No part was chosen. Choose one from the list."
    return _page(request, record, trouble)


def _page(request: HttpRequest, record: CalculationRecord, trouble: str) -> HttpResponse:
    builds = list(Build.objects.seen_by(request.user))
    form = FindPartForm(request.GET)
    found = _found(builds, form.cleaned_data["find"] if form.is_valid() else "")
    return show(
        request,
        "buildlog/record_part.html",
        title=f"Sum {record.pk} to a part",
        kind="Calculation record",
        nav="working",
        block={"number": str(record.pk), "units": "as typed"},
        marks=("no",) if trouble else (),
        record=record,
        form=form,
        asked=bool(request.GET.get("find", "").strip()),
        found=found[:MOST],
        has_more=len(found) > MOST,
        has_builds=bool(builds),
        trouble=trouble,
        token=uuid.uuid4(),
        status=422 if trouble else 200,
    )


def _found(builds: list[Build], text: str) -> list[Part]:
    """The parts that hold every word looked for, those whose number it is first, build by build."""
    parts = Part.objects.live().filter(build__in=builds).select_related("build")
    if text.strip():
        # The units of a bare size are those of the first build; a size with its unit is read alike in all.
        parts = find_parts(parts, text, builds[0].units if builds else "inch")
    found = list(parts.order_by("build__name", "build_id", "number_key", "hand")[: MOST + 1])
    key = text.strip().casefold()
    return sorted(found, key=lambda part: part.key.casefold() != key)
