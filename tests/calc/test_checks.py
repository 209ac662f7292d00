"""The page that says which published values a calculation is held to."""

import pytest
from django.test import Client
from django.urls import reverse

from calc.checks import checks_of
from calc.kernel.tables import read_checks, source_keys
from calc.registry import catalogue
from tests.factories import make_user


@pytest.mark.parametrize("key", sorted(catalogue()))
def test_checks_of_when_asked_then_every_one_is_there(key):
    kept = [one for source in source_keys() for one in read_checks(source) if one.get("calculation") == key]
    shown = [line.what for source in checks_of(key) for line in source.lines]
    assert shown == [one["what"] for one in kept]
    assert shown, f"{key} is held to no published value"


@pytest.mark.django_db
def test_checks_page_when_opened_then_source_and_page_stand_there():
    client = Client()
    client.force_login(make_user())
    page = client.get(reverse("sum_checks", args=["indexing"])).content.decode()
    assert "US Army correspondence course OD1644" in page
    assert "a move of 54 minutes" in page
    assert client.get(reverse("sum_checks", args=["nothing-such"])).status_code == 404
