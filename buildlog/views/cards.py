"""Work cards: made, listed, printed."""

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_safe

from buildlog import access
from buildlog.actions.cards import half_of, make_card, without_room
from buildlog.forms.cards import CardForm
from buildlog.views.pages import show
from calc import pdf


@require_safe
def card_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The cards of a build, the latest first."""
    build = access.build_to_read(request.user, pk)
    return show(
        request,
        "buildlog/card_list.html",
        title="Cards",
        kind="List of work cards",
        build=build,
        nav="cards",
        cards=build.cards.select_related("part", "made_by").prefetch_related("records")[:200],
    )


@require_http_methods(["GET", "HEAD", "POST"])
def card_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose what goes on the card, and make it."""
    part = access.part_to_write(request.user, pk)
    form = CardForm(
        request.POST or None,
        part=part,
        asked=request.GET.get("record"),
        part_is=half_of(part),
    )
    if request.method == "POST" and form.is_valid():
        address = _part_address(part.get_absolute_url())
        without = [] if form.said["leave_off"] else without_room(part, form.said, address)
        if not without:
            try:
                return redirect(make_card(part, form.said, by=request.user, address=address))
            except PermissionError as refused:
                raise Http404(str(refused)) from None
        form.refuse_for_room(without)
    return show(
        request,
        "buildlog/card_form.html",
        title=f"Work card for {part.key}",
        kind="Entry",
        build=part.build,
        nav="cards",
        part=part,
        form=form,
        status=422 if form.errors else 200,
    )


@require_safe
def card_page(request: HttpRequest, pk: int) -> HttpResponse:
    """What a card says, and what it was worked from."""
    card = access.card_to_read(request.user, pk)
    return show(
        request,
        "buildlog/card_page.html",
        title=f"Card {card.number}",
        kind="Work card",
        build=card.build,
        nav="cards",
        block={"number": str(card.number), "date": card.made_at, "sheet": "1 of 1"},
        card=card,
        sheet=card.sheet,
        records=list(card.records.all()),
    )


@require_safe
def card_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The card as PDF, drawn from what was kept when it was made."""
    card = access.card_to_read(request.user, pk)
    name = f"card-{card.number}-{card.part.key}-{card.paper}.pdf".lower().replace("/", "-")
    answer = HttpResponse(pdf.render_card(card.sheet), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


def _part_address(path: str) -> str:
    """Where a phone finds the part; empty where the site has no address that one can reach."""
    return f"{settings.SITE_ADDRESS}{path}" if settings.SITE_ADDRESS else ""
