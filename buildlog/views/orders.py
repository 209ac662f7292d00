"""Orders: written, listed, asked after, called off."""

import re
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access, clock
from buildlog.actions import stores as stores_actions
from buildlog.actions.records import write_record
from buildlog.changes import changes_of
from buildlog.forms.orders import (
    AddLineForm,
    BaseLineFormSet,
    CancelForm,
    ChaseForm,
    OrderEditForm,
    OrderForm,
    line_errors,
    line_forms,
)
from buildlog.models import Build, Casting, CastingNumbers, Order, OrderLine
from buildlog.views.pages import show
from buildlog.views.standing import changes
from buildlog.waiting import buying, rows
from buildlog.waiting.standing import Standing, standing_of
from buildlog.waiting.told import told

_SERIAL = re.compile(r"O-(\d{1,6})", re.ASCII)
ASKED = "Asked after, and written down."
ACTS: dict[str, type[ChaseForm] | type[CancelForm]] = {"chase": ChaseForm, "cancel": CancelForm}


@require_safe
def order_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The orders of a build, the latest first, and the suppliers with how long they took."""
    build = access.build_to_read(request.user, pk)
    standing = standing_of(build)
    orders = buying.order_rows(standing, build.orders.select_related("supplier"))
    return show(
        request,
        "buildlog/order_list.html",
        title="Orders",
        kind="List of orders",
        build=build,
        nav="stores",
        marks=[mark for mark in ("late", "wait", "ok") if any(_mark_of(row) == mark for row in orders)],
        block={"units": "counts, days"},
        orders=orders,
        suppliers=buying.supplier_rows(standing, build.suppliers.all(), orders),
    )


def _mark_of(row: buying.OrderRow) -> str:
    if row.overdue:
        return "late"
    return "wait" if row.owed or row.unseen else "ok"


@require_http_methods(["GET", "HEAD", "POST"])
def order_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Write an order; `?wanted=all` starts it with what is not ordered, `?casting=K-040` with that one."""
    build = access.build_to_write(request.user, pk)
    castings = {casting.number: casting for casting in build.castings.all()}
    start = _start(build, request) if request.method != "POST" else []
    form = OrderForm(
        request.POST or None, build=build, initial={"number": _next(build), "ordered_on": clock.today()}
    )
    lines = line_forms(len(start))(
        request.POST or None, initial=start, prefix="line", form_kwargs={"castings": castings}
    )
    assert isinstance(lines, BaseLineFormSet)
    if request.method == "POST":
        done = _written_before(build, form) or _write(request, form, lines)
        if done:
            return redirect(done)
    return show(
        request,
        "buildlog/order_form.html",
        title="Write an order",
        kind="Entry",
        build=build,
        nav="stores",
        form=form,
        lines=lines,
        wrong=line_errors(lines),
        castings=castings.values(),
        currency=build.get_currency_display(),
        status=422 if form.errors or lines.total_error_count() else 200,
    )


def _start(build: Build, request: HttpRequest) -> list[dict[str, Any]]:
    """The castings an order is started with, and how many of each are missing and not asked for."""
    asked = request.GET.getlist("casting")
    if not asked and "wanted" not in request.GET:
        return []
    standing = standing_of(build)
    known = CastingNumbers(casting.number for casting in standing.castings.values())
    named = {known.find(text) for text in asked}
    wanted = [pk for pk, casting in standing.castings.items() if casting.number in named]
    if "wanted" in request.GET:
        wanted += [pk for pk in rows.unordered(standing) if pk not in wanted]
    return [
        {"number": standing.castings[pk].number, "quantity": _still_wanted(standing, pk)} for pk in wanted
    ]


def _still_wanted(standing: Standing, pk: int) -> int:
    held = standing.held_of(pk)
    return max(standing.short_of(pk) - held.to_come - held.unseen, 1)


def _next(build: Build) -> str:
    """The next number in the builder's own row: O-022 after O-021."""
    taken = [
        int(match[1])
        for number in build.orders.values_list("number", flat=True)
        if (match := _SERIAL.fullmatch(number))
    ]
    return f"O-{max(taken, default=0) + 1:03}"


def _written_before(build: Build, form: OrderForm) -> Order | None:
    """The order this very entry has written already: it was sent twice."""
    form.is_valid()
    return stores_actions.order_written(build, form.cleaned_data.get("token"))


def _write(request: HttpRequest, form: OrderForm, lines: BaseLineFormSet) -> Order | None:
    if not (form.is_valid() and lines.is_valid()):
        return None
    said = form.cleaned_data
    try:
        with transaction.atomic():
            order = Order(
                build=form.build,
                supplier=form.supplier_asked(),
                number=said["number"],
                ordered_on=said["ordered_on"],
                note=said["note"],
            )
            done = stores_actions.write_order(order, lines.asked, by=request.user, token=said["token"])
    except IntegrityError:
        form.add_error("number", "This number has just been given to another order. Give this one another.")
        return None
    messages.success(request, f"Order {done.number} is written down.")
    return done


@require_safe
def order_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One order, line by line, and everything that happened to it."""
    return _page(request, access.order_to_read(request.user, pk))


def _page(
    request: HttpRequest,
    order: Order,
    *,
    add_form: AddLineForm | None = None,
    act: tuple[int, str, ChaseForm | CancelForm] | None = None,
    chase_form: ChaseForm | None = None,
    status: int = 200,
) -> HttpResponse:
    build = order.build
    standing = standing_of(build)
    lines = buying.line_rows(standing, order.lines.select_related("casting"), build.currency)
    events = build.stores_events.filter(line__order=order).select_related(
        "by", "undone_by", "part", "casting", "line__order"
    )
    total, unpriced = buying.total_of(lines, build.currency)
    marks = {"late" if row.overdue else "wait" for row in lines if row.count.owed}
    return show(
        request,
        "buildlog/order_page.html",
        changes=changes_of(order),
        title=f"Order {order.number}",
        kind="Order",
        build=build,
        nav="stores",
        marks=[mark for mark in ("late", "wait") if mark in marks],
        hatches={row.line.casting.hatch for row in lines} - {""},
        block={
            "number": order.number,
            "date": order.ordered_on,
            "title": order.supplier.name,
            "units": "counts",
        },
        order=order,
        lines=[(row, _acts(row, act)) for row in lines],
        owed=sum(row.count.owed for row in lines),
        asks=bool(act or chase_form or any(row.count.owed for row in lines)),
        unseen=sum(row.count.unseen for row in lines),
        total=total,
        unpriced=unpriced,
        chase_form=chase_form or ChaseForm(initial={"on": clock.today()}, auto_id="all_%s"),
        chase_open=chase_form is not None,
        add_form=add_form or _add_form(order, standing.castings),
        add_open=add_form is not None,
        castings=standing.castings.values(),
        events=[(event, told(event, of_order=True)) for event in events],
        status=status,
    )


def _acts(
    row: buying.OrderLineRow, sent: tuple[int, str, ChaseForm | CancelForm] | None
) -> list[tuple[str, bool, ChaseForm | CancelForm]]:
    """The two entries under a line on which something is owed: name, whether it stands open, entry."""
    found: list[tuple[str, bool, ChaseForm | CancelForm]] = []
    for name, kind in ACTS.items():
        if sent and sent[:2] == (row.line.pk, name):
            found.append((name, True, sent[2]))
        elif row.count.owed:
            initial = {"on": clock.today()}
            found.append((name, False, kind(initial=initial, auto_id=f"{name}{row.line.pk}_%s")))
    return found


def _add_form(order: Order, castings: dict[int, Casting], data: Any = None) -> AddLineForm:
    by_number = {casting.number: casting for casting in castings.values()}
    return AddLineForm(data, order=order, castings=by_number, initial={"on": clock.today()}, auto_id="add_%s")


@require_POST
def order_add(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask for more on an order."""
    order = access.order_to_write(request.user, pk)
    form = _add_form(order, {casting.pk: casting for casting in order.build.castings.all()}, request.POST)
    if form.is_valid() and (asked := form.asked()):
        said = form.cleaned_data
        stores_actions.add_to_order(order, asked, on=said["on"], by=request.user, token=said["token"])
        messages.success(
            request, f"{asked.quantity} of {asked.casting.number} added to order {order.number}."
        )
        return redirect(order)
    return _page(request, order, add_form=form, status=422)


@require_POST
def line_chase(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that the supplier was asked, and what is promised now."""
    line = access.order_line_to_write(request.user, pk)
    form = ChaseForm(request.POST, order=line.order, auto_id=f"chase{pk}_%s")

    def do(said: dict[str, Any]) -> None:
        stores_actions.chase(
            line, on=said["on"], promised_on=said["promised_on"], said=said["said"], by=request.user,
            token=said["token"],
        )  # fmt: skip

    return _act(request, line, "chase", form, do, ASKED)


@require_POST
def order_chase(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that the supplier was asked after everything that is still to come on an order."""
    order = access.order_to_write(request.user, pk)
    form = ChaseForm(request.POST, order=order, auto_id="all_%s")
    if form.is_valid():
        said = form.cleaned_data
        try:
            stores_actions.chase_all(
                order, on=said["on"], promised_on=said["promised_on"], said=said["said"], by=request.user,
                token=said["token"],
            )  # fmt: skip
        except stores_actions.StoresRefusedError as refused:
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, ASKED)
            return redirect(order)
    return _page(request, order, chase_form=form, status=422)


@require_POST
def line_cancel(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that what is still owed on a line is not coming."""
    line = access.order_line_to_write(request.user, pk)
    form = CancelForm(request.POST, order=line.order, auto_id=f"cancel{pk}_%s")

    def do(said: dict[str, Any]) -> None:
        stores_actions.cancel_rest(line, on=said["on"], why=said["why"], by=request.user, token=said["token"])

    told_now = f"The rest of {line.casting.number} is not coming on {line.order.number}."
    return _act(request, line, "cancel", form, do, told_now)


def _act(
    request: HttpRequest,
    line: OrderLine,
    name: str,
    form: ChaseForm | CancelForm,
    do: Callable[[dict[str, Any]], None],
    done: str,
) -> HttpResponse:
    if form.is_valid():
        try:
            do(form.cleaned_data)
        except stores_actions.StoresRefusedError as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused))
        else:
            messages.success(request, done)
            return redirect(line.casting if "casting" in request.POST else line.order)
    return _page(request, line.order, act=(line.pk, name, form), status=422)


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Order, OrderEditForm)
def order_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Put right an order's number, supplier or note."""
    order = access.order_to_write(request.user, pk)
    number = order.number
    form = OrderEditForm(request.POST or None, instance=order)
    if request.method == "POST" and form.is_valid():
        try:
            with transaction.atomic():
                return redirect(write_record(form, order.build, by=request.user))
        except IntegrityError:
            form.add_error(
                "number", "This number has just been given to another order. Give this one another."
            )
    return show(
        request,
        "buildlog/order_edit.html",
        title=f"Change order {number}",
        kind="Entry",
        build=order.build,
        nav="stores",
        form=form,
        order=order,
        status=422 if form.errors else 200,
    )
