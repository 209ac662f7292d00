"""One of everything that an address of what was made can name, for the tables in `tests.doors`."""

from typing import Any

from buildlog.actions.concessions import open_concession
from buildlog.models import Build
from tests.factories import make_characteristic, make_mate, make_part, make_reading


def made_world(build: Build, times: int = 1) -> dict[str, Any]:
    """A part that was measured, with mates to be told of what is out; so many times of each."""
    part = make_part(build, number="M-990", name="Second-shaft bush")
    for place in range(2 * times):
        mate = make_part(build, number=f"M-8{place:02}", name="Second shaft")
        make_mate(part, mate)
        other = make_characteristic(part, name=f"face {place}")
        open_concession(make_reading(other, "1.2530"), by=None)
        make_reading(other, "1.2501")
    bore = make_characteristic(part, name="bore")
    concession = open_concession(make_reading(bore, "1.2530"), by=None)
    return {
        "made_part": part,
        "characteristic": bore,
        "unmeasured": make_characteristic(part, name="length"),
        "reading": make_reading(bore, "1.2502"),
        "out_reading": make_reading(bore, "1.2540"),
        "concession": concession,
        "telling": concession.mates.first(),
    }
