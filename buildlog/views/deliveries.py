"""Deliveries: what came is counted, then looked at."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from buildlog import access, clock
from buildlog.actions import stores as stores_actions
from buildlog.forms.castings import way_key
from buildlog.forms.deliveries import (
    BaseLooseFormSet,
    DeliveryForm,
    LookForm,
    LooseFormSet,
    VerdictForm,
    token_for,
)
from buildlog.forms.orders import line_errors
from buildlog.models import Build, Casting, Order, OrderLine
from buildlog.views.pages import show
from buildlog.waiting import rows
from buildlog.waiting.counting import Count
from buildlog.waiting.facts import PartFact
from buildlog.waiting.register import own_parts
from buildlog.waiting.standing import Standing, standing_of

_CAME = re.compile(r"came_(\d{1,9})", re.ASCII)
_PAIR = re.compile(r"(\d{1,9})-(none|\d{1,9})", re.ASCII)


@require_http_methods(["GET", "HEAD", "POST"])
def delivery_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Count what came, of whatever order or of none."""
    return _delivery(request, access.build_to_write(request.user, pk), None)


@require_http_methods(["GET", "HEAD", "POST"])
def order_received(request: HttpRequest, pk: int) -> HttpResponse:
    """Count what came of one order."""
    order = access.order_to_write(request.user, pk)
    return _delivery(request, order.build, order)


def _delivery(request: HttpRequest, build: Build, order: Order | None) -> HttpResponse:
    standing = standing_of(build)
    owed = {line: count.owed for (_, line), count in standing.counts.items() if line is not None}
    lines = _lines(build, order, owed, request.POST)
    castings = {casting.number: casting for casting in standing.castings.values()}
    form = DeliveryForm(
        request.POST or None, lines=lines, owed=owed, initial={"on": clock.today()}, auto_id="came_%s"
    )
    loose = LooseFormSet(
        request.POST or None,
        initial=[{"number": asked}] if (asked := request.GET.get("casting", "")[:20]) else None,
        prefix="loose",
        form_kwargs={"castings": castings},
    )
    assert isinstance(loose, BaseLooseFormSet)
    if request.method == "POST" and _sent_before(build, form):
        return redirect("judge", build.pk)
    if request.method == "POST" and form.is_valid() and loose.is_valid():
        came = form.came | loose.came
        if came:
            said = form.cleaned_data
            stores_actions.receive(
                build, came, on=said["on"], by=request.user, text=said["text"], token=said["token"]
            )
            many = sum(came.values())
            messages.success(request, f"{rows.many_words(many, 'casting')} came. Now look at them.")
            return redirect("judge", build.pk)
        form.add_error(None, "Nothing is counted yet: write how many came beside what it is.")
    return _delivery_page(request, build, order, standing, form, loose)


def _sent_before(build: Build, form: DeliveryForm) -> bool:
    """Whether this very entry is written already; what it counted is no longer owed, so it is asked first."""
    form.is_valid()
    return stores_actions.is_written(build, form.cleaned_data.get("token"))


def _delivery_page(
    request: HttpRequest,
    build: Build,
    order: Order | None,
    standing: Standing,
    form: DeliveryForm,
    loose: BaseLooseFormSet,
) -> HttpResponse:
    parts = own_parts(standing)
    by_order: dict[Order, list[tuple[Any, ...]]] = {}
    for line in form.lines:
        count = standing.counts.get((line.casting_id, line.pk), Count())
        entry = (line, count, form[f"came_{line.pk}"], parts.get(line.casting_id, []))
        by_order.setdefault(line.order, []).append(entry)
    return show(
        request,
        "buildlog/delivery_form.html",
        title="Goods received",
        kind="Goods received",
        build=build,
        nav="stores",
        hatches={line.casting.hatch for line in form.lines} - {""},
        block={"title": f"Box of castings{', ' + order.number if order else ''}", "units": "counts"},
        order=order,
        by_order=list(by_order.items()),
        form=form,
        loose=loose,
        wrong=line_errors(loose),
        castings=standing.castings.values(),
        to_look_at=sum(quantity for _, _, quantity in rows.to_look_at(standing)),
        status=422 if form.errors or loose.total_error_count() else 200,
    )


def _lines(
    build: Build, order: Order | None, owed: Mapping[int, int], typed: Iterable[str]
) -> list[OrderLine]:
    """The lines to count: what is owed, all of the order that is asked for, and any that was counted here.

    What another tab has meanwhile counted is no longer owed; its line still has to stand here to say so.
    """
    wanted = {line for line, many in owed.items() if many}
    wanted |= {int(match[1]) for name in typed if (match := _CAME.fullmatch(name))}
    found = OrderLine.objects.filter(order__build=build).select_related("order__supplier", "casting")
    if order:
        found = found.filter(order=order)
    lines = [line for line in found if order or line.pk in wanted]
    return sorted(lines, key=lambda line: (line.order.number_key, line.pk))


@dataclass(frozen=True)
class Looked:
    """Castings that came by one way and are to be looked at."""

    casting: Casting
    line: OrderLine | None
    count: Count
    form: VerdictForm
    parts: list[PartFact]

    @property
    def pair(self) -> str:
        return f"{self.casting.pk}-{way_key(self.line)}"


@require_http_methods(["GET", "HEAD", "POST"])
def judge(request: HttpRequest, pk: int) -> HttpResponse:
    """Accept or reject what came, or leave it for later."""
    build = access.build_to_write(request.user, pk)
    standing = standing_of(build)
    look = LookForm(request.POST or None, initial={"on": clock.today()}, auto_id="look_%s")
    found = _looked(standing, request)
    if request.method == "POST":
        valid = [look.is_valid(), *(one.form.is_valid() for one in found)]
        said = _judge_all(request, look, found) if all(valid) else None
        if said is not None:
            messages.success(request, said)
            return redirect("stores", build.pk)
    wrong = bool(look.errors or any(one.form.errors for one in found))
    return show(
        request,
        "buildlog/judge_form.html",
        title="Look at what came",
        kind="Goods received",
        build=build,
        nav="stores",
        marks=["ok", "no", "wait"] if found else [],
        hatches={one.casting.hatch for one in found} - {""},
        block={"title": "Look at what came", "units": "counts"},
        look=look,
        found=found,
        many=sum(one.count.unseen for one in found),
        wrong=wrong,
        status=422 if wrong else 200,
    )


def _looked(standing: Standing, request: HttpRequest) -> list[Looked]:
    """What is to be looked at, and what this very entry judges though another tab was before it."""
    asked = {match.groups() for text in request.POST.getlist("pair") if (match := _PAIR.fullmatch(text))}
    named = {(int(casting), None if line == "none" else int(line)) for casting, line in asked}
    named |= {key for key, count in standing.counts.items() if count.unseen}
    known = {key for key in named if key in standing.counts and key[0] in standing.castings}
    lines = OrderLine.objects.select_related("order__supplier", "casting").in_bulk(
        [line for _, line in known if line is not None]
    )
    parts = own_parts(standing)
    found = []
    for key in sorted(known, key=lambda one: (standing.castings[one[0]].number_key, one[1] or 0)):
        casting, line = key
        count = standing.counts[key]
        form = VerdictForm(request.POST or None, here=count.unseen, prefix=f"k{casting}-{way_key(line)}")
        of = lines[line] if line is not None else None
        found.append(Looked(standing.castings[casting], of, count, form, parts.get(casting, [])))
    return found


def _judge_all(request: HttpRequest, look: LookForm, found: list[Looked]) -> str | None:
    """Write down what was found of each; what is said of it, or nothing where one could not be."""
    said = look.cleaned_data
    if _too_early(look, found):
        return None
    good = [one.form.accepted for one in found]
    bad = [one.form.rejected for one in found]
    try:
        with transaction.atomic():
            for one, accepted, rejected in zip(found, good, bad, strict=True):
                if accepted or rejected:
                    _judge_one(request, said, one)
    except stores_actions.StoresRefusedError:
        return None
    claimed = [one.casting.number for one, rejected in zip(found, bad, strict=True) if rejected]
    words = [f"{sum(good)} accepted"] if sum(good) else []
    words += [f"{sum(bad)} rejected ({rows.listed(claimed)})"] if claimed else []
    left = sum(one.count.unseen for one in found) - sum(good) - sum(bad)
    words += [f"{left} left to be looked at"] if left > 0 else []
    return f"{', '.join(words) or 'Nothing was to be looked at'}."


def _too_early(look: LookForm, found: list[Looked]) -> bool:
    """Whether something is said to have been looked at before it came; told at the day."""
    on = look.cleaned_data["on"]
    for one in found:
        came = one.count.first_received_on
        if came and on < came and (one.form.accepted or one.form.rejected):
            day = clock.day_in_full(came)
            look.add_error("on", f"{one.casting.number} came on {day}: it was looked at then, or later.")
            return True
    return False


def _judge_one(request: HttpRequest, said: dict[str, Any], one: Looked) -> None:
    token = token_for(said["token"], one.casting.pk, one.line.pk if one.line else None)
    try:
        stores_actions.judge(
            one.casting,
            one.line,
            accepted=one.form.accepted,
            rejected=one.form.rejected,
            reason=one.form.told,
            note=one.form.seen,
            on=said["on"],
            by=request.user,
            token=token,
        )
    except stores_actions.StoresRefusedError as refused:
        one.form.add_error("words" if refused.field == "reason" else "verdict", str(refused))
        raise
