"""The worked example of errata: sheet 7, its parts and the erratum on it, one evening in March."""

import pytest

from buildlog import clock
from tests.buildlog.errata.parts import EVENING, parts_of_sheet_7
from tests.factories import make_drawing, make_erratum


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 14 March 2025."""
    with clock.stopped_at(EVENING):
        yield


@pytest.fixture
def sheet(build):
    return make_drawing(build, "B", number="7", title="Weigh shaft")


@pytest.fixture
def parts(build):
    return parts_of_sheet_7(build)


@pytest.fixture
def erratum(sheet, parts):
    return make_erratum(sheet, issue="B")
