"""The pictures themselves: small and large copies that tell nothing else, and the original when asked for."""

from pathlib import PurePath

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from buildlog import access
from buildlog.actions.photos import has_original, original_bytes, shown_picture
from buildlog.models import PhotoKind
from buildlog.models.photos import ENDINGS

#: The bytes of a photo never change, so neither do its copies; only this browser may keep them.
KEPT = "private, max-age=604800"
TYPES = {PhotoKind.JPEG: "image/jpeg", PhotoKind.PNG: "image/png", PhotoKind.WEBP: "image/webp"}


@require_safe
def photo_small(request: HttpRequest, pk: int) -> HttpResponse:
    """For contact sheets."""
    return _shown(request, pk, "small")


@require_safe
def photo_large(request: HttpRequest, pk: int) -> HttpResponse:
    """For the page of one photo."""
    return _shown(request, pk, "large")


def _shown(request: HttpRequest, pk: int, size: str) -> HttpResponse:
    picture = shown_picture(access.photo_to_read(request.user, pk), size)
    if picture is None:
        return render(request, "buildlog/no_picture.svg", content_type="image/svg+xml")
    return HttpResponse(picture, content_type="image/jpeg", headers={"Cache-Control": KEPT})


@require_safe
def photo_original(request: HttpRequest, pk: int) -> StreamingHttpResponse:
    """The file byte for byte, with all that the camera wrote into it."""
    photo = access.photo_to_read(request.user, pk)
    if not has_original(photo):
        raise Http404("The file of this photo is no longer in its folder.")
    name = f"{PurePath(photo.file_name).stem}.{ENDINGS[photo.kind]}"
    return StreamingHttpResponse(
        original_bytes(photo),
        content_type=TYPES[PhotoKind(photo.kind)],
        headers={
            "Content-Length": str(photo.size),
            "Content-Disposition": content_disposition_header(True, name) or "attachment",
            "Content-Security-Policy": "default-src 'none'; sandbox",
        },
    )
