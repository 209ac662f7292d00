"""The pictures themselves: small and large copies that tell nothing else, and the original when asked for."""

from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.views.decorators.http import require_safe

from buildlog import access
from buildlog.actions.photos import shown_picture
from buildlog.views import kept_files


@require_safe
def photo_small(request: HttpRequest, pk: int) -> HttpResponse:
    """For contact sheets."""
    return kept_files.shown(request, shown_picture(access.photo_to_read(request.user, pk), "small"))


@require_safe
def photo_large(request: HttpRequest, pk: int) -> HttpResponse:
    """For the page of one photo."""
    return kept_files.shown(request, shown_picture(access.photo_to_read(request.user, pk), "large"))


@require_safe
def photo_original(request: HttpRequest, pk: int) -> StreamingHttpResponse:
    """The file byte for byte, with all that the camera wrote into it."""
    photo = access.photo_to_read(request.user, pk)
    return kept_files.original(photo, photo.kind, photo.file_name)
