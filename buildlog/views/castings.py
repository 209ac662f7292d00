"""Castings: the register, a casting's page, what it is, to whom it goes, what turned out bad."""

from collections.abc import Sequence

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access, clock
from buildlog.actions import stores as stores_actions
from buildlog.actions.photos import About
from buildlog.actions.records import take_away, write_record
from buildlog.changes import changes_of
from buildlog.forms.castings import AllotForm, CastingForm, FindCastingForm, FoundBadForm, way_key
from buildlog.forms.orders import ChaseForm
from buildlog.models import Build, Casting, OrderLine
from buildlog.views.pages import show
from buildlog.views.photos import photos_of
from buildlog.views.standing import changes
from buildlog.waiting import register
from buildlog.waiting.facts import PartFact, facts_of
from buildlog.waiting.standing import Standing, standing_of
from buildlog.waiting.told import told

A_PAGE = 100


@require_safe
def casting_list(request: HttpRequest, pk: int) -> HttpResponse:
    """Every casting of the build, how many there are of it and who wants it."""
    build = access.build_to_read(request.user, pk)
    standing = standing_of(build)
    form = FindCastingForm(request.GET)
    asked = form.asked
    found = register.find(register.lines_of(standing), asked.get("find", ""), asked.get("show", ""))
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        "buildlog/casting_list.html",
        title="Castings",
        kind="Register of castings",
        build=build,
        nav="stores",
        marks=sorted({line.stands.mark for line in page} - {""}),
        hatches={line.casting.hatch for line in page} - {""},
        block={"units": "counts"},
        form=form,
        asked=asked,
        page=page,
        total=len(standing.castings),
        earlier=_page_at(asked, page.previous_page_number()) if page.has_previous() else "",
        later=_page_at(asked, page.next_page_number()) if page.has_next() else "",
    )


def _page_at(asked: dict[str, str], number: int) -> str:
    return f"?{urlencode({**asked, 'page': str(number)})}"


@require_safe
def casting_page(request: HttpRequest, pk: int) -> HttpResponse:
    """All that is known of one casting."""
    return _page(request, access.casting_to_read(request.user, pk))


def _page(
    request: HttpRequest,
    casting: Casting,
    *,
    allotting: tuple[int, AllotForm] | None = None,
    bad_form: FoundBadForm | None = None,
    status: int = 200,
) -> HttpResponse:
    standing = standing_of(casting.build)
    line = register.line_of(standing, casting.pk)
    claims = register.claims_of(standing, casting.pk)
    bought = register.buy_lines(standing, casting.pk)
    events = casting.events.select_related("by", "undone_by", "part", "line__order").order_by("on", "pk")
    photos = photos_of(casting.photos.all(), casting.build, About(casting=casting), "casting")
    late = {"late" if one.overdue else "wait" for one in bought if one.count.owed}
    done = {"ok" for one in claims if one.got >= one.wanted} | {"ok" for one in bought if not one.count.owed}
    return show(
        request,
        "buildlog/casting_page.html",
        changes=changes_of(casting),
        title=f"{casting.number} {casting.name}".strip(),
        kind="Casting record",
        build=casting.build,
        nav="stores",
        marks=sorted(({line.stands.mark} | late | done | photos["photo_marks"]) - {""}),
        hatches={casting.hatch} - {""},
        block={"number": casting.number, "title": casting.name or "—", "units": "counts"},
        casting=casting,
        line=line,
        claims=[(one, _allot_form(one, allotting)) for one in claims],
        is_contested=casting.pk in standing.contested(),
        needs=register.needs_of(standing, casting.pk),
        behind=register.behind(standing, casting.pk),
        bought=[(one, _chase_form(one)) for one in bought],
        bad_form=bad_form or _bad_form(casting, standing),
        bad_open=bad_form is not None,
        events=[(event, told(event)) for event in events],
        can_add=True,
        status=status,
        **photos,
    )


def _allot_form(claim: register.ClaimLine, sent: tuple[int, AllotForm] | None) -> AllotForm | None:
    """The entry beside a claim: the one sent and refused, or a new one where something can be allotted."""
    if sent and sent[0] == claim.part.pk:
        return sent[1]
    if not claim.can_have:
        return None
    return AllotForm(initial={"quantity": claim.can_have}, auto_id=f"allot{claim.part.pk}_%s")


def _chase_form(bought: register.BuyLine) -> ChaseForm | None:
    if not bought.count.owed:
        return None
    pk = bought.line.pk
    return ChaseForm(initial={"on": clock.today()}, auto_id=f"chase{pk}_%s")


def _bad_form(
    casting: Casting, standing: Standing, data: dict[str, str] | None = None
) -> FoundBadForm | None:
    """The entry for castings found bad; none where there is no good one that could be."""
    ways = _ways(casting, standing)
    if not ways and data is None:
        return None
    parts = [part for part in standing.facts.parts if part.casting == casting.pk]
    return FoundBadForm(
        data,
        ways=ways,
        parts=[(str(part.pk), f"{part.key} {part.name}") for part in _in_order(parts)],
        initial={"on": clock.today()},
        auto_id="bad_%s",
    )


def _in_order(parts: Sequence[PartFact]) -> list[PartFact]:
    return sorted(parts, key=lambda part: part.order)


def _ways(casting: Casting, standing: Standing) -> list[tuple[str, str]]:
    """How the good ones on hand came: by which order, or without one."""
    numbers = {line.pk: line.number for line in standing.facts.lines}
    return [
        (way_key(line), f"{numbers[line] if line else 'no order'}, {count.good} good")
        for (one, line), count in standing.counts.items()
        if one == casting.pk and count.good > 0
    ]


@require_http_methods(["GET", "HEAD", "POST"])
def casting_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Add a casting that no part names yet."""
    build = access.build_to_write(request.user, pk)
    start = {"number": request.GET.get("number", "")[:20]}
    return _entry(request, build, Casting(build=build), start)


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Casting, CastingForm)
def casting_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change what a casting is called and made of."""
    casting = access.casting_to_write(request.user, pk)
    return _entry(request, casting.build, casting, {})


def _entry(request: HttpRequest, build: Build, casting: Casting, start: dict[str, str]) -> HttpResponse:
    form = CastingForm(request.POST or None, instance=casting, build=build, initial=start)
    if request.method == "POST" and form.is_valid():
        try:
            with transaction.atomic():
                return redirect(write_record(form, form.instance.build, by=request.user))
        except IntegrityError:
            form.add_error(
                "number", "This number has just been given to another casting. Give this one another."
            )
    known = bool(casting.pk)
    return show(
        request,
        "buildlog/casting_form.html",
        title=f"Change {casting.number}" if known else "A new casting",
        kind="Entry",
        build=build,
        nav="stores",
        form=form,
        casting=casting if known else None,
        status=422 if form.errors else 200,
    )


@require_POST
def casting_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a casting out of the register that nothing names and nothing happened to."""
    casting = access.casting_to_write(request.user, pk)
    facts = facts_of(casting.build)
    named = [part.key for part in facts.parts if part.casting == casting.pk]
    if named:
        messages.error(
            request, f"{casting.number} stays: {', '.join(named[:5])} is made from it. Change that first."
        )
        return redirect(casting)
    try:
        take_away(casting, casting.build, by=request.user)
    except ProtectedError:
        messages.error(
            request, f"{casting.number} stays: a part needs it, or it was ordered or came once. That is kept."
        )
        return redirect(casting)
    messages.success(request, f"{casting.number} is out of the register.")
    return redirect("casting_list", casting.build_id)


@require_POST
def casting_allot(request: HttpRequest, pk: int, part: int) -> HttpResponse:
    """Give castings on hand to one of the parts that claim them."""
    casting = access.casting_to_write(request.user, pk)
    claimant = get_object_or_404(casting.build.parts.live(), pk=part)
    form = AllotForm(request.POST, auto_id=f"allot{part}_%s")
    if form.is_valid():
        said = form.cleaned_data
        try:
            stores_actions.allot(casting, claimant, said["quantity"], by=request.user, token=said["token"])
        except stores_actions.StoresRefusedError as refused:
            if refused.field not in form.fields:
                # The part no longer stands among the claims, so that there is no entry to say it at.
                messages.error(request, str(refused))
                return redirect(casting)
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, f"{said['quantity']} of {casting.number} allotted to {claimant.key}.")
            return redirect(casting)
    return _page(request, casting, allotting=(part, form), status=422)


@require_POST
def casting_bad(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that castings which had been accepted turned out bad."""
    casting = access.casting_to_write(request.user, pk)
    form = _bad_form(casting, standing_of(casting.build), request.POST.dict())
    assert form is not None
    is_valid = form.is_valid()
    if stores_actions.is_written(casting.build, form.cleaned_data.get("token")):
        return redirect(casting)
    if is_valid:
        said = form.cleaned_data
        line = _line_of(casting, said["way"])
        try:
            stores_actions.find_bad(
                casting, line, said["quantity"], reason=form.told, on=said["on"], by=request.user,
                part=casting.build.parts.filter(pk=int(said["part"] or 0)).first(), token=said["token"],
            )  # fmt: skip
        except stores_actions.StoresRefusedError as refused:
            form.add_error(refused.field if refused.field in form.fields else "words", str(refused))
        else:
            owed = f" {line.order.supplier.name} owes as many again." if line else ""
            messages.success(request, f"{said['quantity']} of {casting.number} noted as bad.{owed}")
            return redirect(casting)
    return _page(request, casting, bad_form=form, status=422)


def _line_of(casting: Casting, way: str) -> OrderLine | None:
    if way == "none":
        return None
    return casting.lines.select_related("order__build", "order__supplier", "casting").get(pk=int(way))
