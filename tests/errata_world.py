"""One of everything that an address of an erratum can name, for the tables in `tests.doors`."""

from typing import Any

from buildlog.actions.errata import Said, deal_with, look_in_issue
from buildlog.models import Build, Dealing, InIssue
from tests.factories import make_drawing, make_erratum, make_issue, make_part


def errata_world(build: Build, times: int = 1, words: str = "lifting link centres") -> dict[str, Any]:
    """An erratum of a sheet on which a new issue has come, its parts flagged; so many times of each."""
    drawing = make_drawing(build, "A", number="991", title="Weigh shaft")
    parts = [
        make_part(build, number=f"E-8{place:02}", name="Lifting link", sheet="991 A", good=place % 2)
        for place in range(3 * times)
    ]
    dealt, flagged = parts[0], parts[1]
    erratum = make_erratum(
        drawing,
        issue="A",
        where=words[:80],
        as_printed=words[:40],
        should_be=words[:39] + "2",
        source=words[:80],
    )
    for part in parts[2:]:
        deal_with(erratum, part, Said(Dealing.NOT_AFFECTED), by=None)
    deal_with(erratum, dealt, Said(Dealing.TO_MAKE, words), by=None)
    for _ in range(times):
        other = make_erratum(drawing, issue="A", where="weigh shaft dia")
    make_issue(drawing, "B")
    look_in_issue(other, InIssue.STILL, by=None)
    return {"erratum": erratum, "flagged": flagged, "dealt": dealt}
