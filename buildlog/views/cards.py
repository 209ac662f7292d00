"""Work cards: made, listed, printed."""

from django.conf import settings
from django.contrib import messages
from django.db.models import Exists, OuterRef
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from buildlog import access
from buildlog.actions.card_errata import errata_of, found_since
from buildlog.actions.cards import half_of, make_card, sheet_to_print, without_room
from buildlog.errata import errata_open_by_part, flags_of
from buildlog.forms.cards import CardForm
from buildlog.models import Build, Characteristic, Reading, WorkCard
from buildlog.views.pages import show
from calc import pdf


@require_safe
def card_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The cards of a build, the latest first; with the number of one, on to where its sizes are typed."""
    build = access.build_to_read(request.user, pk)
    number = request.GET.get("enter", "").strip()
    if number:
        card = _numbered(build, number)
        if card:
            return redirect(f"{reverse('part_made', args=[card.part_id])}?card={card.number}")
        messages.error(request, f"No card {number[:9]} of this build is of a part that can be measured.")
    flagged = errata_open_by_part(build)
    return show(
        request,
        "buildlog/card_list.html",
        title="Cards",
        kind="List of work cards",
        build=build,
        nav="cards",
        flagged=flagged,
        marks=("err",) if flagged else (),
        cards=build.cards.select_related("part", "made_by")
        .prefetch_related("records")
        .annotate(
            came_back=Exists(Reading.objects.filter(card=OuterRef("pk"))),
            is_asked=Exists(Characteristic.objects.filter(part=OuterRef("part"))),
        )[:200],
    )


def _numbered(build: Build, text: str) -> WorkCard | None:
    """The card of this number, where its part is not in the bin."""
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        return None
    return build.cards.filter(number=int(text), part__binned_at=None).first()


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
        errata=flags_of(part),
        status=422 if form.errors else 200,
    )


@require_safe
def card_page(request: HttpRequest, pk: int) -> HttpResponse:
    """What a card says, and what it was worked from."""
    card = access.card_to_read(request.user, pk)
    errata = [flag for flag in errata_of(card.part) if flag.is_open]
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
        lessons=card.lessons.select_related("scrap__part"),
        errata=errata,
        part=card.part,
        found_since=bool(found_since(card, errata)),
        marks=("err",) if errata else (),
    )


@require_safe
def card_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The card as PDF, drawn from what was kept when it was made, with the errata found since."""
    card = access.card_to_read(request.user, pk)
    name = f"card-{card.number}-{card.part.key}-{card.paper}.pdf".lower().replace("/", "-")
    answer = HttpResponse(pdf.render_card(sheet_to_print(card)), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


def _part_address(path: str) -> str:
    """Where a phone finds the part; empty where the site has no address that one can reach."""
    return f"{settings.SITE_ADDRESS}{path}" if settings.SITE_ADDRESS else ""
