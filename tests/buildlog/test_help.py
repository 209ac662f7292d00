"""The help pages: each is there, open to everybody, and says what the site does today."""

import pytest
from django.test import Client
from django.urls import reverse

from buildlog.models import Stage
from buildlog.views.help_pages import PAGES
from tests.pages import links, words

pytestmark = pytest.mark.django_db

EVERY_PAGE = [reverse("help"), *(reverse("help_page", args=[address]) for address, *_ in PAGES)]


@pytest.mark.parametrize("who", ["owner", "nobody"])
@pytest.mark.parametrize("address", EVERY_PAGE)
def test_help_when_signed_in_or_not_then_there(cast, who, address):
    assert cast.client(who).get(address).status_code == 200


def test_help_then_every_page_leads_to_every_other():
    for address in EVERY_PAGE:
        assert set(EVERY_PAGE[1:]) <= set(links(Client().get(address))), address


@pytest.mark.parametrize("page", ["none", "parts.html", "____", "PARTS"])
def test_help_when_there_is_no_such_page_then_not_found(page):
    assert Client().get(reverse("help") + f"{page}/").status_code == 404


@pytest.mark.parametrize("address", EVERY_PAGE)
def test_help_then_no_link_on_it_is_dead(site, address):
    for link in links(site.get(address)):
        if link.startswith("/"):
            assert site.get(link, follow=True).status_code == 200, link


def said(page) -> str:
    return words(Client().get(reverse("help_page", args=[page])))


def test_help_on_parts_then_it_names_every_stage():
    for stage in Stage:
        assert stage.label.lower() in said("parts").lower()


def test_help_when_read_by_a_stranger_then_nothing_of_any_build_is_on_it(build):
    for address in EVERY_PAGE[1:]:
        assert reverse("engine", args=[build.pk]) not in links(Client().get(address))


@pytest.mark.parametrize(
    ("page", "needed"),
    [
        ("first-steps", ["password"]),
        ("lists", ["CSV", "XLSX"]),
        ("sizes", ["1 3/16", "mm", "thou"]),
        ("dividing", ["sector arms"]),
        ("cards", ["A4", "A5"]),
        ("keeping", ["HORNPLATE_DATA"]),
    ],
)
def test_help_then_each_page_speaks_of_what_it_is_about(page, needed):
    for text in needed:
        assert text in said(page), text


def test_help_then_it_claims_nothing_of_safety():
    for page, *_ in PAGES:
        for claim in ("certified", "approved", "guarantee"):
            assert claim not in said(page).lower(), (page, claim)
