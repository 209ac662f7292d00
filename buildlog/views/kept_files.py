"""Files handed out: an original byte for byte, and the pictures that are shown of it."""

from pathlib import PurePath

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils.http import content_disposition_header

from buildlog.kept_files import ENDINGS, Kept, has_original, original_bytes

#: The bytes of a file never change, so neither do its pictures; only this browser may keep them.
KEPT = "private, max-age=604800"
#: What a browser is told that each kind is.
TYPES = {"jpeg": "image/jpeg", "png": "image/png", "webp": "image/webp", "pdf": "application/pdf"}


def original(thing: Kept, kind: str, file_name: str) -> StreamingHttpResponse:
    """The file as it came, to be kept and not to be opened here; not found where it is gone."""
    if not has_original(thing):
        raise Http404(f"{file_name} is no longer in its folder.")
    name = f"{PurePath(file_name).stem}.{ENDINGS[kind]}"
    return StreamingHttpResponse(
        original_bytes(thing),
        content_type=TYPES[kind],
        headers={
            "Content-Length": str(thing.size),
            "Content-Disposition": content_disposition_header(True, name) or "attachment",
            "Content-Security-Policy": "default-src 'none'; sandbox",
        },
    )


def shown(request: HttpRequest, picture: bytes | None) -> HttpResponse:
    """A picture made from a file; one that says so where it cannot be made."""
    if picture is None:
        return render(request, "buildlog/no_picture.svg", content_type="image/svg+xml")
    return HttpResponse(picture, content_type="image/jpeg", headers={"Cache-Control": KEPT})
