"""The site's entry to sums: for a part or for none, with the user's own tooling filled in."""

from dataclasses import replace
from functools import partial
from typing import Any

from django.contrib.auth.models import User
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_safe

from buildlog import access, clock
from buildlog.models import Build, DividingHead, Part
from buildlog.offers import goes_on_to, offers_of
from buildlog.views.pages import show
from calc import record_views, registry, trials, views
from calc.checks import checks_of
from calc.forms import Offered
from calc.measures import EntryError, parse_circles
from calc.models import CalculationRecord

LATEST = 12


@require_safe
def sums(request: HttpRequest) -> HttpResponse:
    """Everything that can be worked out, and what was kept lately."""
    mine = Q(part__build__memberships__user_id=request.user.pk) | Q(part=None, made_by_id=request.user.pk)
    kept = CalculationRecord.objects.filter(mine).select_related("part__build", "made_by")
    return show(
        request,
        "calc/sums.html",
        title="Working",
        kind="List of calculations",
        nav="working",
        block={"units": "as typed"},
        jobs=registry.by_job(),
        kept=kept[:LATEST],
    )


@require_safe
def sum_checks(request: HttpRequest, key: str) -> HttpResponse:
    """The published values a calculation is held to."""
    calculation = registry.get(key)
    if calculation is None:
        raise Http404(f"There is no calculation “{key}”.")
    sources = checks_of(key)
    return show(
        request,
        "calc/checks.html",
        title=f"{calculation.title}: published values",
        kind="List of checks",
        nav="working",
        calculation=calculation,
        sources=sources,
        count=sum(len(source.lines) for source in sources),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def calculate(request: HttpRequest, key: str) -> HttpResponseBase:
    """A sum for no part in particular."""
    return views.calculate(request, key, _bench(request, reverse("calculate", args=[key]), key))


@require_http_methods(["GET", "HEAD", "POST"])
def part_calculate(request: HttpRequest, pk: int, key: str) -> HttpResponseBase:
    """A sum for a part, with what the part says of itself filled in."""
    part = access.part_to_write(request.user, pk)
    address = reverse("part_calculate", args=[pk, key])
    return views.calculate(request, key, _bench(request, address, key, part))


@require_safe
def sum_text(request: HttpRequest, key: str) -> HttpResponse:
    """A sum for no part as plain text."""
    return views.sum_as_text(request, key, _bench(request, reverse("calculate", args=[key]), key))


@require_safe
def part_sum_text(request: HttpRequest, pk: int, key: str) -> HttpResponse:
    """A sum for a part as plain text."""
    part = access.part_to_write(request.user, pk)
    address = reverse("part_calculate", args=[pk, key])
    return views.sum_as_text(request, key, _bench(request, address, key, part))


@require_safe
def record_page(request: HttpRequest, pk: int) -> HttpResponse:
    record = access.record_to_read(request.user, pk)
    part = record.part
    # A part in the bin is shown and not worked on.
    address = "" if part and part.binned_at else _address(part, record.key)
    bench = _bench(request, address, record.key, part, with_tooling=False)
    if address and trials.takes_trials(record):
        bench = replace(bench, trial_address=reverse("record_trial", args=[pk]))
    if part is None:
        bench = replace(
            bench, put_address=reverse("record_to_part", args=[pk]), put_to=_put_to(request, record)
        )
    return record_views.record_page(record, bench)


def _put_to(request: HttpRequest, record: CalculationRecord) -> list[CalculationRecord]:
    """The sums on parts that this one was put to, as far as one still sees their builds."""
    builds = Build.objects.seen_by(request.user)
    return list(record.brought_to.filter(part__build__in=builds).select_related("part"))


@require_safe
def record_json(request: HttpRequest, pk: int) -> HttpResponse:
    return record_views.record_json(access.record_to_read(request.user, pk))


@require_safe
def record_text(request: HttpRequest, pk: int) -> HttpResponse:
    return record_views.record_text(access.record_to_read(request.user, pk))


@require_safe
def record_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    return record_views.record_pdf(access.record_to_read(request.user, pk))


def _bench(
    request: HttpRequest, address: str, key: str, part: Part | None = None, *, with_tooling: bool = True
) -> views.Bench:
    assert isinstance(request.user, User)
    heads = list(_own_heads(request)) if with_tooling else []
    head = _chosen_head(request, heads)
    build = part.build if part else None
    use = part.uses.select_related("assembly").first() if part else None
    return views.Bench(
        show=partial(show, request, build=build, nav="working"),
        address=address,
        user=request.user,
        by=request.user.get_username(),
        now=clock.now(),
        build=build.scale_text if build else "—",
        unit=build.units if build else "inch",
        part=part,
        home=use.assembly if use else None,
        offered=_offered(part, key, head) if with_tooling else {},
        head=head,
        heads=heads,
        head_address=reverse("head_add") if with_tooling and not heads else "",
        faces=_faces(head) if head else (),
        card_address=_card_address if part and not part.binned_at else None,
        schedule_address=_address(part, "indexing-schedule"),
        text_address=_text_address(part, key),
        goes_on=_goes_on(part, key),
    )


def _address(part: Part | None, key: str) -> str:
    """Where a sum is worked out, for the part or for none."""
    return reverse("part_calculate", args=[part.pk, key]) if part else reverse("calculate", args=[key])


def _goes_on(part: Part | None, key: str) -> list[tuple[str, str]]:
    """The sums of the part that a kept one of this kind feeds: address and title."""
    if part is None or part.binned_at:
        return []
    return [(_address(part, other), title) for other, title in goes_on_to(key)]


def _text_address(part: Part | None, key: str) -> str:
    return reverse("part_sum_text", args=[part.pk, key]) if part else reverse("sum_text", args=[key])


def _card_address(record: CalculationRecord) -> str:
    return f"{reverse('card_new', args=[record.part_id])}?{urlencode({'record': record.pk})}"


def _own_heads(request: HttpRequest) -> Any:
    return DividingHead.objects.filter(owner_id=request.user.pk).prefetch_related("plates")


def _chosen_head(request: HttpRequest, heads: list[DividingHead]) -> DividingHead | None:
    """The head asked for; else the usual one, which stands first."""
    wanted = request.POST.get("head") or request.GET.get("head", "")
    return next((head for head in heads if str(head.pk) == wanted), heads[0] if heads else None)


def _offered(part: Part | None, key: str, head: DividingHead | None) -> dict[str, Offered]:
    """What is filled in, and where it comes from."""
    return (_offered_by(head) if head else {}) | (offers_of(part, key) if part else {})


def _offered_by(head: DividingHead) -> dict[str, Offered]:
    """The entries a dividing head fills in."""
    turns = "1 turn" if head.ratio == 1 else f"{head.ratio} turns"
    found = {
        "ratio": (str(head.ratio), f"own head {head.name}: {turns} to one"),
        "circles": (head.circles_text, f"own {_plates(head)}; a stroke parts the faces"),
        "direct_circles": (head.direct_circles, f"the direct plate of {head.name}"),
        "change_gears": (head.change_gears, f"own gears with {head.name}"),
    }
    return {name: Offered(text, note, of_head=True) for name, (text, note) in found.items() if text}


def _plates(head: DividingHead) -> str:
    """`plates 1 to 4` where they are numbered in turn, else their names in a line."""
    names = [plate.name for plate in head.plates.all()]
    if len(names) < 2:
        return f"plate {''.join(names)}"
    if len(names) > 2 and names == [str(number) for number in range(1, len(names) + 1)]:
        return f"plates 1 to {names[-1]}"
    return f"plates {', '.join(names[:-1])} and {names[-1]}"


def _faces(head: DividingHead) -> list[tuple[str, list[int]]]:
    """Each face by its name with its circles; a face that cannot be read has no name here."""
    found: list[tuple[str, list[int]]] = []
    for name, circles in head.faces:
        try:
            found += [(name, list(face)) for face in parse_circles(circles)]
        except EntryError:
            continue
    return found
