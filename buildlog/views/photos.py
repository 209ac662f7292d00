"""Photos: the contact sheet, many brought in at once, one looked at and mended."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import groupby
from typing import Any

from django.contrib import messages
from django.core.paginator import Page, Paginator
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from buildlog import access, clock, kept_files
from buildlog.actions.photos import POINTING, About, bin_photo, bring_in, change_photo, restore_photo
from buildlog.changes import changes_of
from buildlog.forms.photos import PhotoForm, PhotoListForm, PhotosForm
from buildlog.kept_files import Brought
from buildlog.log_words import day_said
from buildlog.models import Build, Part, Photo, PhotoQuerySet
from buildlog.searching import sought
from buildlog.views.narrowing import asked_part, turns
from buildlog.views.pages import show
from buildlog.views.standing import changes

PAGE_PHOTOS = 60
#: Photos shown on the page of what they belong to; the rest are on the contact sheet.
FEW = 8
KIND = "Photos"
JSON = "application/json"


@dataclass
class Day:
    """One day of the contact sheet, with how many photos there are of it in all."""

    said: str
    count: int
    photos: list[Photo] = field(default_factory=list)


# ---- the contact sheet -----------------------------------------------------------------------------------


@require_safe
def photo_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The photos day by day, the newest first."""
    build = access.build_to_read(request.user, pk)
    form = PhotoListForm(request.GET)
    asked = form.asked
    part, trouble = asked_part(build, asked.get("part", ""))
    found = narrowed(build, asked, part) if not trouble else Photo.objects.none()
    page = Paginator(found.select_related("part"), PAGE_PHOTOS).get_page(asked.pop("page", 1))
    return show(
        request,
        "buildlog/photo_list.html",
        title="Photos",
        kind="Contact sheet",
        build=build,
        nav="photos",
        marks=("shut",) if any(photo.before_closing_up for photo in page) else (),
        block={"sheet": f"{page.number} of {page.paginator.num_pages}"},
        form=form,
        asked=asked,
        query=f"?{urlencode(asked)}" if asked else "",
        part=part,
        trouble=trouble,
        page=page,
        days=_days(found, page),
        **turns(asked, page),
    )


def narrowed(build: Build, asked: dict[str, Any], part: Part | None) -> PhotoQuerySet:
    """The photos that were asked for: each word stands in the caption or in what is searched of the part."""
    found = Photo.objects.live().filter(build=build)
    if part:
        found = found.filter(part=part)
    if asked.get("closing"):
        found = found.filter(before_closing_up=True)
    for piece in sought(asked.get("find", "")):
        parts = build.parts.filter(search_text__contains=piece)
        found = found.filter(Q(search_text__contains=piece) | Q(part__in=parts))
    return found.latest_first()


def _days(found: PhotoQuerySet, page: "Page[Photo]") -> list[Day]:
    """The photos of a page by their days; a day's count is of all of it, on this page or not."""
    photos = list(page)
    in_sight = found.filter(taken_on__in={photo.taken_on for photo in photos})
    counts: dict[date, int] = dict(
        in_sight.order_by()
        .values_list("taken_on")
        .annotate(count=Count("pk"))
        .values_list("taken_on", "count")
    )
    today = clock.today()
    return [
        Day(day_said(on, today), counts.get(on, 0), list(of_day))
        for on, of_day in groupby(photos, key=lambda photo: photo.taken_on)
    ]


def photos_of(found: PhotoQuerySet, build: Build, about: About, came_from: str) -> dict[str, Any]:
    """What the page of a part, an entry, a casting or a concession shows of its photos, and how to add."""
    photos = list(found.live().latest_first()[: FEW + 1])
    return {
        "photos": photos[:FEW],
        "photos_more": len(photos) > FEW,
        "photo_marks": {"shut"} if any(photo.before_closing_up for photo in photos[:FEW]) else set(),
        "photo_form": PhotosForm(build=build, about=about, came_from=came_from),
    }


# ---- brought in ------------------------------------------------------------------------------------------


@require_http_methods(["GET", "HEAD", "POST"])
def photo_new(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Bring in many at once; each file is judged by itself, and the good ones are kept."""
    build = access.build_to_write(request.user, pk)
    if request.method != "POST":
        part, _ = asked_part(build, request.GET.get("part", "").strip()[:60])
        return _new_page(request, build, PhotosForm(build=build, about=About(part=part)))
    form = PhotosForm(request.POST, request.FILES, build=build)
    files = request.FILES.getlist("photos")
    by_script = request.headers.get("Accept") == JSON
    if form.is_valid() and not files:
        form.add_error("photos", "No picture is chosen yet. Choose one or more, then bring them in.")
    if form.errors:
        return _refused(form) if by_script else _new_page(request, build, form)
    about, token = form.about, form.cleaned_data["token"]
    brought = [bring_in(build, file, about, by=request.user, token=token) for file in files]
    if by_script:
        told = [{"state": one.state, "words": one.words} for one in brought]
        return JsonResponse({"files": told, "back": _way_back(form)})
    if any(one.state == "wrong" for one in brought):
        return _new_page(request, build, form, brought)
    for words in kept_files.told(brought, "photo"):
        messages.success(request, words)
    return redirect(_way_back(form))


def _refused(form: PhotosForm) -> HttpResponse:
    """What is wrong with the entries, for the script that sent them."""
    words = [f"{form[name].label}: {error}" for name, errors in form.errors.items() for error in errors]
    return JsonResponse({"refused": " ".join(words)}, status=422)


def _new_page(
    request: HttpRequest, build: Build, form: PhotosForm, brought: Sequence[Brought[Photo]] = ()
) -> HttpResponse:
    return show(
        request,
        "buildlog/photo_new.html",
        title="Add photos",
        kind="Entry",
        build=build,
        nav="photos",
        marks=("no", "ok") if brought else (),
        photo_form=form,
        wrong=[one.words for one in brought if one.state == "wrong"],
        kept=kept_files.told(brought, "photo"),
        way_back=_way_back(form) if form.is_bound and form.is_valid() else "",
        status=422 if form.errors or brought else 200,
    )


def _way_back(form: PhotosForm) -> str:
    """The page the photos were brought in from."""
    about = form.about
    came_from = form.cleaned_data["came_from"]
    thing = getattr(about, came_from) if came_from in POINTING else None
    if thing:
        return f"{thing.get_absolute_url()}#photos"
    return reverse("photo_list", args=[form.build.pk])


# ---- one photo -------------------------------------------------------------------------------------------


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Photo, PhotoForm)
def photo_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One photo, large, with those before and after it, and what is known of it."""
    photo = access.photo_to_read(request.user, pk)
    form = PhotoForm(request.POST or None, instance=photo)
    if request.method == "POST" and form.is_valid():
        restore_photo(photo, by=request.user)
        if change_photo(form.save(commit=False), by=request.user):
            messages.success(request, "Written down.")
        return redirect(request.get_full_path())
    # A form that was refused has filled the photo with what was typed: the page shows what stands.
    stands = access.photo_to_read(request.user, pk) if form.errors else photo
    asked = PhotoListForm(request.GET).asked
    asked.pop("page", None)
    part, _ = asked_part(photo.build, asked.get("part", ""))
    among = narrowed(photo.build, asked, part)
    return show(
        request,
        "buildlog/photo_page.html",
        changes=changes_of(stands),
        title=f"Photo, {day_said(stands.taken_on, clock.today())}",
        kind="Photo",
        build=photo.build,
        nav="photos",
        marks=("shut",) if stands.before_closing_up else (),
        block={"date": stands.taken_on, "by": stands.by.get_username() if stands.by else "—"},
        photo=stands,
        day=day_said(stands.taken_on, clock.today()),
        form=form,
        query=f"?{urlencode(asked)}" if asked else "",
        earlier=among.before(stands).first(),
        later=among.after(stands).first(),
        status=422 if form.errors else 200,
    )


@require_POST
def photo_bin(request: HttpRequest, pk: int) -> HttpResponse:
    photo = access.photo_to_write(request.user, pk)
    bin_photo(photo, by=request.user)
    return redirect(photo)


@require_POST
def photo_restore(request: HttpRequest, pk: int) -> HttpResponse:
    photo = access.photo_to_write(request.user, pk)
    restore_photo(photo, by=request.user)
    messages.success(request, "The photo is back among the others.")
    return redirect(photo)
