"""The stores: what the engine waits for, and what was noted by mistake taken back."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST, require_safe

from buildlog import access
from buildlog.actions import stores as stores_actions
from buildlog.views.pages import show
from buildlog.waiting import rows
from buildlog.waiting.places import places_of
from buildlog.waiting.standing import standing_of
from buildlog.waiting.told import told

SHOWN = 3
SHOWN_NUMBERS = 6


@require_safe
def waiting_page(request: HttpRequest, pk: int) -> HttpResponse:
    """Assembly by assembly, the castings that are waited for, and what to do about them."""
    build = access.build_to_read(request.user, pk)
    standing = standing_of(build)
    table = rows.table_of(standing, places_of(build))
    overdue, contests = rows.overdue_orders(standing), rows.contests(standing)
    none = rows.unordered(standing)
    look_at = rows.to_look_at(standing)
    return show(
        request,
        "buildlog/waiting_page.html",
        title="Waiting on castings",
        kind="Stores list",
        build=build,
        nav="stores",
        marks=sorted({row.stands.mark for row in table.castings}),
        hatches={row.casting.hatch for row in table.castings} - {""},
        why="Worked out from what was ordered, received and accepted; nobody types it.",
        block={"sheet": "1 of 1", "units": "counts, days"},
        table=table,
        overdue=overdue[:SHOWN],
        overdue_more=len(overdue[SHOWN:]),
        overdue_castings=sum(1 for row in table.castings if row.stands.overdue),
        overdue_days=max((order.days for order in overdue), default=0),
        none=[standing.castings[one] for one in none[:SHOWN_NUMBERS]],
        none_count=len(none),
        none_holds=len(frozenset().union(*(standing.holding_of(one).parts for one in none))),
        none_since=min((day for one in none if (day := standing.since(one))), default=None),
        contests=contests[:SHOWN],
        contests_count=len(contests),
        look_at=sum(quantity for _, _, quantity in look_at),
        look_at_castings=list(dict.fromkeys(casting for casting, _, _ in look_at))[:SHOWN_NUMBERS],
    )


@require_POST
def event_undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back something that was noted by mistake."""
    event = access.stores_event_to_write(request.user, pk)
    try:
        stores_actions.undo(event, by=request.user)
    except stores_actions.StoresRefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"Taken back: {event.casting.number}, {told(event)}.")
    return redirect(event.line.order if event.line and "order" in request.POST else event.casting)
