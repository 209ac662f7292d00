"""What was really made of a part: its characteristics, and the readings entered down a column."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from buildlog import access
from buildlog.actions import made as actions
from buildlog.forms.made import CharacteristicForm, ReadingsForm
from buildlog.made import columns_of
from buildlog.models import Characteristic, Part, WorkCard
from buildlog.views.pages import show
from buildlog.views.standing import changes

WHY_LONGEST = 200


@require_http_methods(["GET", "HEAD", "POST"])
def part_made(request: HttpRequest, pk: int) -> HttpResponse:
    """Type what was measured, in one go down the column."""
    part = access.part_to_write(request.user, pk)
    card = _card_of_address(request, part)
    columns = columns_of(part)
    form = ReadingsForm(request.POST or None, part=part, columns=columns)
    if request.method == "POST" and form.is_valid():
        _write(request, part, form, card)
        return redirect(f"{reverse('part_made', args=[part.pk])}#column")
    return show(
        request,
        "buildlog/part_made.html",
        title=f"{part.key}: as made",
        kind="Inspection record",
        build=part.build,
        nav="parts",
        marks=("ok", "no") if columns else (),
        block={"number": part.key, "sheet": part.sheet or "—", "units": "as typed"},
        part=part,
        card=card,
        columns=columns,
        form=form,
        status=422 if form.errors else 200,
    )


def _card_of_address(request: HttpRequest, part: Part) -> WorkCard | None:
    """The card that came back, by the number that the page's address gives."""
    text = request.GET.get("card", "")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        return None
    return part.cards.filter(number=int(text)).first()


def _write(request: HttpRequest, part: Part, form: ReadingsForm, card: WorkCard | None) -> None:
    said = form.cleaned_data
    try:
        written = actions.write_readings(
            part,
            form.read,
            piece=said["piece"],
            on=said["on"],
            note=said["note"],
            card=card,
            token=said["token"],
            by=request.user,
        )
    except PermissionError as refused:
        raise Http404(str(refused)) from None
    count = len(written)
    messages.success(request, f"{count} reading{'' if count == 1 else 's'} written down.")
    out = [one.characteristic.name for one in written if one.judged.is_out]
    if out:
        messages.warning(request, f"Out of limits: {', '.join(out)}. A concession can be opened below.")


@require_http_methods(["GET", "HEAD", "POST"])
def characteristic_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Say one more size that the part is to have."""
    part = access.part_to_write(request.user, pk)
    return _entry(request, Characteristic(part=part))


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Characteristic, CharacteristicForm)
def characteristic_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Mend a characteristic; its readings stay as they were taken."""
    return _entry(request, access.characteristic_to_write(request.user, pk))


def _entry(request: HttpRequest, size: Characteristic) -> HttpResponse:
    part, is_new, name = size.part, not size.pk, size.name
    form = CharacteristicForm(request.POST or None, instance=size, part=part)
    if request.method == "POST" and form.is_valid():
        size = form.save(commit=False)
        if not is_new:
            actions.change_characteristic(size, by=request.user)
            return redirect("part_made", part.pk)
        try:
            actions.add_characteristic(size, token=form.cleaned_data["token"], by=request.user)
        except PermissionError as refused:
            raise Http404(str(refused)) from None
        return redirect("characteristic_new" if "another" in request.POST else "part_made", part.pk)
    return show(
        request,
        "buildlog/characteristic_form.html",
        title=f"{part.key}: a new characteristic" if is_new else f"{part.key}: {name}",
        kind="Entry",
        build=part.build,
        nav="parts",
        part=part,
        size=None if is_new else size,
        has_readings=not is_new and size.readings.exists(),
        form=form,
        status=422 if form.errors else 200,
    )


@require_POST
def characteristic_remove(request: HttpRequest, pk: int) -> HttpResponse:
    size = access.characteristic_to_write(request.user, pk)
    try:
        actions.remove_characteristic(size, by=request.user)
    except actions.MadeRefusedError as refused:
        messages.error(request, str(refused))
    return redirect("part_made", size.part_id)


@require_POST
def reading_strike(request: HttpRequest, pk: int) -> HttpResponse:
    """Strike out a wrong reading, with the reason."""
    reading = access.reading_to_write(request.user, pk)
    why = " ".join(request.POST.get("reason", "").split())[:WHY_LONGEST]
    if not why:
        messages.error(request, f"Say why {reading} is wrong; without a reason it is not struck out.")
    elif actions.strike_reading(reading, why, by=request.user):
        messages.success(request, f"{reading} is struck out. It stays on the page with the reason.")
    return redirect(f"{reverse('part_made', args=[reading.characteristic.part_id])}#column")
