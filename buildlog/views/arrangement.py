"""The general arrangement: the way in to the build, its picture, and its balloons placed by hand."""

import re
from decimal import Decimal

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access, queries
from buildlog.actions.arrangement import (
    bin_picture,
    place_balloons,
    put_photo,
    put_picture,
    restore_picture,
    shown_arrangement,
)
from buildlog.arrangement import (
    Ground,
    balloons_of,
    ground_of,
    not_placed,
)
from buildlog.errata import errata_open_by_part
from buildlog.forms.arrangement import PictureForm, PlacesForm
from buildlog.models import Arrangement, Build
from buildlog.picture_files import PictureError
from buildlog.side_views import SIDE_VIEWS
from buildlog.views import kept_files
from buildlog.views.pages import show
from buildlog.waiting.standing import standing_of
from buildlog.waiting.words import missing_in

PAGE_PHOTOS = 24
#: The inks of the drawn side view where it stands alone as a picture, without the style sheet.
INKS = {
    "o": 'fill="#fff" stroke="#15233f" stroke-width="2"',
    "o0": 'fill="none" stroke="#15233f" stroke-width="2"',
    "t": 'fill="#fff" stroke="#15233f" stroke-width="1"',
    "t0": 'fill="none" stroke="#15233f" stroke-width="1"',
    "c": 'fill="none" stroke="#47536a" stroke-width=".8" stroke-dasharray="18 4 4 4"',
    "d": 'fill="none" stroke="#47536a" stroke-width=".8"',
    "da": 'fill="#47536a"',
    "k": 'fill="#15233f"',
    "p": 'fill="#fff"',
    "dim": 'fill="#47536a" font-size="15" font-family="sans-serif"',
}


@require_safe
def engine(request: HttpRequest, pk: int) -> HttpResponse:
    """The picture with its balloons, and the key to them."""
    build = access.build_to_read(request.user, pk)
    standing = standing_of(build)
    tree = queries.assembly_tree(build, standing)
    branches = [branch for top in tree for branch in top.walk()]
    ground, errata = ground_of(build), errata_open_by_part(build)
    rows = [
        (branch, missing_in(standing, branch.parts)[:1], len(branch.parts & errata)) for branch in branches
    ]
    return show(
        request,
        "buildlog/engine_page.html",
        title="General arrangement",
        kind="Arrangement drawing",
        build=build,
        nav="engine",
        marks=("wait", "late", "no", "ok", *(("err",) if errata else ())),
        why="Made means machined or further. Painting and fitting are counted apart.",
        block={
            "number": "1",
            "scale": "1 : 12 on A3" if ground and ground.template else "—",
            "projection": True,
        },
        rows=rows,
        ground=ground,
        balloons=balloons_of(ground, branches, standing, errata) if ground else [],
        not_placed=not_placed(ground, tree) if ground else [],
        whole=queries.whole_engine(standing),
        errata_count=len(errata),
    )


# ---- balloons --------------------------------------------------------------------------------------------


@require_http_methods(["GET", "HEAD", "POST"])
def place(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the balloons where they belong; all of them are written at once."""
    build = access.build_to_write(request.user, pk)
    ground = ground_of(build)
    if ground is None:
        messages.error(request, "There is no picture to put balloons on yet. Bring one in first.")
        return redirect("arrangement_picture", build.pk)
    assemblies = list(build.assemblies.all())
    if request.method != "POST":
        form = PlacesForm(ground=ground, assemblies=assemblies, initial=_asked(request, build))
        return _place_page(request, build, ground, form)
    form = PlacesForm(request.POST, ground=ground, assemblies=assemblies)
    click = _click(request, ground)
    if click:
        form.clicked(*click)
        form = PlacesForm(form.data, ground=ground, assemblies=assemblies)
        return _place_page(request, build, ground, form, is_clicked=True)
    if not form.is_valid():
        return _place_page(request, build, ground, form, status=422)
    if place_balloons(build, form.spots, by=request.user):
        messages.success(request, "The balloons stand where you put them.")
    return redirect("engine", build.pk)


def _asked(request: HttpRequest, build: Build) -> dict[str, str]:
    """The assembly the page was asked for."""
    asked = request.GET.get("assembly", "")
    known = asked.isdecimal() and len(asked) < 18 and build.assemblies.filter(pk=int(asked)).exists()
    return {"chosen": asked} if known else {}


def _click(request: HttpRequest, ground: Ground) -> tuple[Decimal, Decimal] | None:
    """Where the picture was clicked without a script. [per cent]"""
    for name, (width, height) in (("wide", ground.spot_wide), ("narrow", ground.spot_small)):
        across, down = request.POST.get(f"{name}.x", ""), request.POST.get(f"{name}.y", "")
        if across.isdecimal() and down.isdecimal() and len(across + down) < 12:
            found = (Decimal(100 * int(across)) / width, Decimal(100 * int(down)) / height)
            return min(found[0], Decimal(100)), min(found[1], Decimal(100))
    return None


def _place_page(
    request: HttpRequest,
    build: Build,
    ground: Ground,
    form: PlacesForm,
    *,
    is_clicked: bool = False,
    status: int = 200,
) -> HttpResponse:
    return show(
        request,
        "buildlog/arrangement_place.html",
        title="Place the balloons",
        kind="Arrangement drawing",
        build=build,
        nav="engine",
        form=form,
        rows=list(form.rows),
        ground=ground,
        handles=handles_of(ground, form),
        is_clicked=is_clicked,
        status=status,
    )


def handles_of(ground: Ground, form: PlacesForm) -> list[dict[str, object]]:
    """The balloons as they stand in the entries, in the units of the picture."""
    found: list[dict[str, object]] = []
    for row in form.rows:
        if not row.figures:
            continue
        end_x, end_y, x, y = (figure / 100 for figure in row.figures)
        found.append(
            {
                "label": row.label,
                "x": round(ground.left + x * ground.width, 1),
                "y": round(ground.top + y * ground.height, 1),
                "end_x": round(ground.left + end_x * ground.width, 1),
                "end_y": round(ground.top + end_y * ground.height, 1),
                "number_y": round(ground.top + y * ground.height + 8, 1),
            }
        )
    return found


@require_POST
def as_drawn(request: HttpRequest, pk: int) -> HttpResponse:
    """Put every balloon back: as the site draws it, or off the picture."""
    build = access.build_to_write(request.user, pk)
    if place_balloons(build, {}, by=request.user):
        messages.success(request, "The balloons stand as drawn again.")
    return redirect("arrangement_place", build.pk)


@require_safe
def drawn(request: HttpRequest, pk: int) -> HttpResponse:
    """The drawn side view alone, as a picture that can be clicked without a script."""
    build = access.build_to_read(request.user, pk)
    view = SIDE_VIEWS.get(build.side_view)
    if view is None:
        raise Http404("No side view is drawn for this build.")
    strokes = re.sub(r'class="(\w+)"', lambda found: INKS.get(found[1], ""), render_to_string(view.template))
    box = " ".join(f"{figure:g}" for figure in view.box)
    width, height = view.box[2:]
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" width="{width:g}" height="{height:g}">'
    ground = (
        f'<rect x="{view.box[0]:g}" y="{view.box[1]:g}" width="{width:g}" height="{height:g}" fill="#fff"/>'
    )
    return HttpResponse(f"{head}{ground}{strokes}</svg>", content_type="image/svg+xml")


# ---- the picture -----------------------------------------------------------------------------------------


@require_http_methods(["GET", "HEAD", "POST"])
def picture(request: HttpRequest, pk: int) -> HttpResponse:
    """Bring in a picture, take one of the photos, or take the picture away."""
    build = access.build_to_write(request.user, pk)
    if request.method != "POST":
        return _picture_page(request, build, PictureForm())
    try:
        if "photo" in request.POST:
            found = request.POST["photo"]
            photo = access.photo_to_read(
                request.user, int(found) if found.isdecimal() and len(found) < 18 else 0
            )
            if photo.build_id != build.pk:
                raise Http404("This photo is of another build.")
            put_photo(build, photo, by=request.user)
            return _is_put(request, build)
        form = PictureForm(request.POST, request.FILES)
        if form.is_valid():
            put_picture(build, form.cleaned_data["picture"], by=request.user)
            return _is_put(request, build)
    except PictureError as wrong:
        form = PictureForm(request.POST, request.FILES)
        form.is_valid()
        form.add_error("picture", str(wrong))
    return _picture_page(request, build, form, status=422)


def _is_put(request: HttpRequest, build: Build) -> HttpResponse:
    messages.success(request, "The picture is under the balloons. Put them where they belong.")
    return redirect("arrangement_place", build.pk)


def _picture_page(request: HttpRequest, build: Build, form: PictureForm, status: int = 200) -> HttpResponse:
    page = Paginator(build.photos.live().latest_first(), PAGE_PHOTOS).get_page(request.GET.get("page", 1))
    pictures = list(Arrangement.objects.pictures().filter(build=build))
    return show(
        request,
        "buildlog/arrangement_picture.html",
        title="The picture under the balloons",
        kind="Entry",
        build=build,
        nav="engine",
        form=form,
        page=page,
        now=next((one for one in pictures if not one.binned_at), None),
        binned=[one for one in pictures if one.binned_at],
        is_drawn=build.side_view in SIDE_VIEWS,
        status=status,
    )


@require_POST
def picture_bin(request: HttpRequest, pk: int) -> HttpResponse:
    build = access.build_to_write(request.user, pk)
    bin_picture(build, by=request.user)
    messages.success(request, "The picture is in the bin. Its file and its balloons are still there.")
    return redirect("arrangement_picture", build.pk)


@require_POST
def picture_restore(request: HttpRequest, pk: int) -> HttpResponse:
    arrangement = access.arrangement_to_write(request.user, pk)
    restore_picture(arrangement, by=request.user)
    messages.success(request, "The picture is back under its balloons.")
    return redirect("engine", arrangement.build_id)


@require_safe
def small(request: HttpRequest, pk: int) -> HttpResponse:
    """For the page of the build, and for choosing."""
    return kept_files.shown(request, shown_arrangement(access.arrangement_to_read(request.user, pk), "small"))


@require_safe
def large(request: HttpRequest, pk: int) -> HttpResponse:
    """For the arrangement."""
    return kept_files.shown(request, shown_arrangement(access.arrangement_to_read(request.user, pk), "large"))
