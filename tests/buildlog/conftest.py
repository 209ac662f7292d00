"""People and a build for the tests of the site's rooms."""

import pytest
from django.test import Client

from buildlog.models import Build
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
