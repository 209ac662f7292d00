"""A real Chromium against Django's live server, with and without script, and no way out to the network."""

import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from django.conf import settings
from django.contrib.auth.models import User
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, Route, sync_playwright

from tests.conftest import NO_CHROMIUM, find_chromium

RESULTS = Path(__file__).resolve().parents[2] / "test-results"
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HEIGHT = 900


@dataclass
class Watch:
    """What must not happen in a browser test, gathered while it runs."""

    home: str
    contexts: list[BrowserContext] = field(default_factory=list)
    pages: list[Page] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)
    #: Errors of the console that are meant: a refused entry, an echo given up for what was sent after it.
    expected: list[str] = field(
        default_factory=lambda: ["status of 422", "Error Code 422", "htmx:afterRequest", "htmx:sendAbort"]
    )

    def keep_home(self, route: Route) -> None:
        if route.request.url.startswith(f"{self.home}/"):
            route.continue_()
        else:
            self.complaints.append(f"asked for {route.request.url}")
            route.abort()

    def follow(self, page: Page) -> None:
        self.pages.append(page)
        page.on("pageerror", lambda error: self.complaints.append(f"script error on {page.url}: {error}"))
        page.on("console", lambda message: self.hear(message.type, message.text))

    def hear(self, kind: str, text: str) -> None:
        if kind == "error" and not any(words in text for words in self.expected):
            self.complaints.append(text)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    executable = find_chromium()
    if executable is None:
        pytest.fail(NO_CHROMIUM)
    # Playwright keeps an event loop running in this thread, which Django would take for asynchronous code.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=executable, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    report = yield
    if report.when == "call":
        item.stash[FAILED] = report.failed
    return report


FAILED = pytest.StashKey[bool]()


@pytest.fixture
def watch(chromium, live_server, request) -> Iterator[Watch]:
    watched = Watch(live_server.url)
    yield watched
    if request.node.stash.get(FAILED, False):
        take_pictures(watched.pages, request.node.nodeid)
    for context in watched.contexts:
        context.close()
    assert watched.complaints == []


def take_pictures(pages: list[Page], name: str) -> None:
    RESULTS.mkdir(exist_ok=True)
    stem = re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-")[-120:]
    for number, page in enumerate(pages, 1):
        if not page.is_closed():
            page.screenshot(path=RESULTS / f"{stem}-{number}.png", full_page=True)


@pytest.fixture
def page_at(chromium, live_server, watch) -> Callable[..., Page]:
    """`page_at(390)`, `page_at(1280, script=False, user=owner)`: a page signed in as that user."""

    def open_page(width: int, *, script: bool = True, user: User | None = None, **options) -> Page:
        context = chromium.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": HEIGHT},
            java_script_enabled=script,
            locale="en-GB",
            **options,
        )
        context.set_default_timeout(10_000)
        context.route("**/*", watch.keep_home)
        context.on("page", watch.follow)
        watch.contexts.append(context)
        if user is not None:
            let_in(context, live_server.url, user)
        return context.new_page()

    return open_page


def let_in(context: BrowserContext, address: str, user: User) -> None:
    """Sign the user in by the session's cookie, without the form."""
    client = Client()
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    name = settings.SESSION_COOKIE_NAME
    context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": address}])
