"""People and a build for the tests of the site's rooms."""

from pathlib import Path

import pytest
from django.conf import settings as real
from django.test import Client

from buildlog.models import Build
from buildlog.storage import ORIGINALS, PREVIEWS
from tests.cast import Cast, make_cast


@pytest.fixture
def cast(db) -> Cast:
    """Owner and builder of one build, and a stranger."""
    return make_cast()


@pytest.fixture
def site(cast) -> Client:
    """A browser with the owner signed in."""
    return cast.client("owner")


@pytest.fixture
def build(cast) -> Build:
    """The build of the cast."""
    return cast.build


@pytest.fixture
def files(settings, tmp_path) -> Path:
    """Folders of this test's own: what is kept, which is given back, and what is made from it."""
    kept = {
        name: {"BACKEND": real.STORAGES[name]["BACKEND"], "OPTIONS": {"location": tmp_path / name}}
        for name in (ORIGINALS, PREVIEWS)
    }
    settings.STORAGES = {**real.STORAGES, **kept}
    return tmp_path / ORIGINALS
