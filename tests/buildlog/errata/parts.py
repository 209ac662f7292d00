"""Sheet 7 of the worked example of errata, and what its tests ask of pages, cards and parts."""

import re
from datetime import UTC, datetime
from uuid import uuid4

from django.urls import reverse

from buildlog.actions.stages import record_count
from buildlog.errata import flags_of
from buildlog.models import Part, WorkCard
from tests.factories import make_assembly, make_part
from tests.pages import pdf_text, words

#: The evening of 14 March 2025.
EVENING = datetime(2025, 3, 14, 20, 15, tzinfo=UTC)
WORDS = "lifting link centres 2.310 should read 2.435"
TOLD = f"{WORDS} (own layout, 14 Mar)"
CHECK = "made to the sheet as printed: check"
BEFORE = "check before you cut"
SAID = {
    "where": "lifting link centres",
    "as_printed": "2.310",
    "should_be": "2.435",
    "source": "own layout",
    "found_on": "2025-03-14",
}


def parts_of_sheet_7(build) -> dict[str, Part]:
    """The three parts of sheet 7; only the link is made. And one of another sheet, which is left out."""
    motion = make_assembly(build, code="V", name="Motion")
    arm = make_part(assembly=motion, number="V-015", name="Weigh-shaft arm", sheet="7 B", quantity=2)
    link = make_part(assembly=motion, number="V-016", name="Lifting link", sheet="7 B", quantity=2)
    shaft = make_part(assembly=motion, number="V-017", name="Weigh shaft", sheet="Sheet 7 issue B")
    make_part(build, number="V-014", name="Die block", sheet="17 B")
    record_count(link, good=2, scrap=0, by=None, call_machined=True, token=uuid4())
    return {"arm": arm, "link": Part.objects.get(pk=link.pk), "shaft": shaft}


def page_of(site, part):
    return site.get(part.get_absolute_url())


def make_card(site, part, paper="A4") -> WorkCard:
    answer = site.post(reverse("card_new", args=[part.pk]), {"paper": paper, "token": str(uuid4())})
    assert answer.status_code == 302, words(answer)
    return WorkCard.objects.get(pk=int(re.search(r"/cards/(\d+)/", answer["Location"])[1]))


def printed(site, card) -> str:
    pages = pdf_text(site.get(reverse("card_pdf", args=[card.pk])).content)
    assert len(pages) == 1
    return " ".join(pages[0].split())


def deal_page(erratum, part):
    return reverse("erratum_part", args=[erratum.pk, part.pk])


def state(part) -> list[str]:
    """How every erratum stands with a part."""
    return [flag.state for flag in flags_of(Part.objects.get(pk=part.pk))]


def history(part) -> list[str]:
    return list(part.history.values_list("text", flat=True))
