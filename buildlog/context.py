"""What every sheet needs: the light, the date, a title block where the page gave none."""

from dataclasses import dataclass
from datetime import date
from urllib.parse import urlsplit, urlunsplit

from django.conf import settings
from django.http import HttpRequest

from buildlog import clock

LAMPS = ("light", "dark")


@dataclass(frozen=True, kw_only=True)
class TitleBlock:
    """The fields of the block in the corner, after ISO 7200; a dash where nothing applies."""

    build: str = "—"
    kind: str = "—"
    number: str = "—"
    title: str = "—"
    scale: str = "—"
    sheet: str = "—"
    date: date
    issue: str = "—"
    units: str = "—"
    by: str = "—"
    projection: bool = False


def lamp_of(request: HttpRequest) -> str:
    """The light chosen on this browser; empty where the device decides."""
    lamp = request.COOKIES.get("lamp", "")
    return lamp if lamp in LAMPS else ""


def site_address(request: HttpRequest) -> str:
    """The address to give to others: the site's own where it has one, else the one in use now."""
    return settings.SITE_ADDRESS or f"{request.scheme}://{request.get_host()}"


def _page_of(request: HttpRequest) -> str:
    """The page the builder is on; an entry that was refused stands at an address that only takes entries."""
    if request.method in ("GET", "HEAD"):
        return request.get_full_path()
    came_from = urlsplit(request.headers.get("Referer", ""))
    return urlunsplit(came_from._replace(scheme="", netloc="")) or "/"


def sheet(request: HttpRequest) -> dict[str, object]:
    """Context processor: the light, the page to come back to, and an empty title block."""
    return {
        "lamp": lamp_of(request),
        "back": _page_of(request),
        "today": clock.today(),
        "tb": TitleBlock(date=clock.today()),
    }
