"""The entry about a part, filled in for tests: with everything typed, or with one thing wrong."""

from django.urls import reverse

from buildlog.models import HistoryLine, Part, PartUse
from tests.pages import entries, fill_in

EVERYTHING = {
    "number": "s-016",
    "name": "Final-drive wheel 84 T",
    "hand": "",
    "kind": "casting",
    "material": "cast iron",
    "leading_size": "14.333 in OD",
    "sheet": "12 B",
    "casting_number": "K-040",
    "weight": "39 lb",
    "waits_for": "cutter 55–134 on loan",
    "notes": "Keep the chill.\nBore first.",
    "lesson": "Mark every tooth lightly.",
}
HUGE = "1" + "0" * 400
TURNED = "\u202e1 3/16 in"


def new_address(build):
    return reverse("part_new", args=[build.pk])


def write(site, address, uses=(), **typed):
    """Fill in the entry as it is shown, with what is typed put in, and send it."""
    for place, (assembly, quantity) in enumerate(uses):
        typed[f"use-{place}-assembly"] = str(assembly.pk) if assembly else ""
        typed[f"use-{place}-quantity"] = quantity
    return fill_in(site, address, **typed)


def used(part) -> dict[str, int]:
    return {use.assembly.code: use.quantity for use in part.uses.select_related("assembly")}


def refused(site, build, cylinder, **typed):
    """Send everything with one thing wrong: nothing is stored, and all that was typed still stands there."""
    typed = EVERYTHING | {"use-0-assembly": str(cylinder.pk), "use-0-quantity": "4"} | typed
    page = write(site, new_address(build), **typed)
    assert page.status_code == 422
    assert not Part.objects.exists()
    assert not PartUse.objects.exists()
    assert not HistoryLine.objects.exists()
    stands = entries(page)
    assert {name: stands.get(name, "").replace("\r\n", "\n") for name in typed} == typed
    return page
