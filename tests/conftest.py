"""What every test may rely on: Hypothesis profiles, the stopped clock, a notice of skipped browser tests."""

import os
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import settings

from buildlog import clock

settings.register_profile("ci", derandomize=True, deadline=None, print_blob=True)
settings.register_profile("home", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "home")

STOPPED_AT = datetime(2026, 3, 14, 10, 0, tzinfo=UTC)
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
NO_CHROMIUM = "Chromium is missing: install it (Debian: sudo apt install chromium) to run the browser tests"


def find_chromium() -> str | None:
    return next((found for name in CHROMIUM_NAMES if (found := shutil.which(name))), None)


@pytest.fixture
def stopped_clock() -> Iterator[datetime]:
    """It is ten in the morning of 14 March 2026 and stays so."""
    with clock.stopped_at(STOPPED_AT):
        yield STOPPED_AT


def pytest_collection_modifyitems(items):
    """Tests in the folders browser and repo bear that mark; without Chromium the first are skipped."""
    here = Path(__file__).parent
    skip = None if os.environ.get("CI") or find_chromium() else pytest.mark.skip(reason=NO_CHROMIUM)
    for item in items:
        if item.path.is_relative_to(here / "repo"):
            item.add_marker("repo")
        if item.path.is_relative_to(here / "browser"):
            item.add_marker("browser")
            if skip:
                item.add_marker(skip)


def pytest_terminal_summary(terminalreporter):
    skipped = [
        report for report in terminalreporter.stats.get("skipped", []) if NO_CHROMIUM in str(report.longrepr)
    ]
    if skipped:
        terminalreporter.section("BROWSER TESTS NOT RUN", sep="!", red=True, bold=True)
        terminalreporter.line(
            f"{len(skipped)} browser tests were skipped. {NO_CHROMIUM}.", red=True, bold=True
        )
