"""Pages as a browser gets them: from the request to the last byte, over one open connection."""

import socket
import threading
import time
from http.client import HTTPConnection
from statistics import median
from urllib.parse import urlencode

from django.conf import settings
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from buildlog import serving
from tests.bench.builds import Engine
from tests.bench.sums import ENTERED

SIGN_IN = "sign-in page, bare"
SUM = "?divisions=84&ratio=40"
SCHEDULE = "?divisions=84&ratio=40&circle=42&turns=0&holes=20"


def pages_of(engine: Engine) -> dict[str, str]:
    """What is asked for, by what it is called in the table."""
    build, wheel = engine.build.pk, engine.wheel.pk
    parts = reverse("part_list", args=[build])
    return {
        "build (where was I)": reverse("build_page", args=[build]),
        "general arrangement": reverse("engine", args=[build]),
        "assembly": engine.wheel.uses.get().assembly.get_absolute_url(),
        "parts list, first 100": parts,
        "parts list, by size": f"{parts}?sort=size&down=on",
        "parts list, find 84T": f"{parts}?find=84T",
        "part": reverse("part_page", args=[wheel]),
        "part, change": reverse("part_edit", args=[wheel]),
        "sum: indexing, 84": reverse("part_calculate", args=[wheel, "indexing"]) + SUM,
        "sum: schedule, 84": reverse("part_calculate", args=[wheel, "indexing-schedule"]) + SCHEDULE,
        **{
            f"sum: {key}": reverse("part_calculate", args=[wheel, key]) + "?" + urlencode(entered)
            for key, entered in ENTERED.items()
        },
        "kept sum": reverse("record_page", args=[engine.record.pk]),
        "kept sum, PDF": reverse("record_pdf", args=[engine.record.pk]),
        "cards": reverse("card_list", args=[build]),
        "card, PDF": reverse("card_pdf", args=[engine.card.pk]),
        "list preview, all its rows": reverse("list_draft", args=[build, engine.draft.pk]),
        "list out, CSV": reverse("list_csv", args=[build]),
        "list out, XLSX": reverse("list_xlsx", args=[build]),
        "list out, printed": reverse("list_pdf", args=[build]),
        "tooling": reverse("tooling"),
        "stores, what waits": reverse("stores", args=[build]),
        "castings": reverse("casting_list", args=[build]),
        "a casting": reverse("casting_page", args=[engine.casting.pk]),
        "orders": reverse("order_list", args=[build]),
        "an order": reverse("order_page", args=[engine.order.pk]),
        "goods received": reverse("delivery_new", args=[build]),
        "log": reverse("log_list", args=[build]),
        "log, a new entry": reverse("log_new", args=[build]),
        "log, a year": reverse("log_year", args=[build, engine.entry.on.year]),
        "log, an entry": reverse("log_entry", args=[engine.entry.pk]),
        "drawings": reverse("drawing_list", args=[build]),
        "a drawing": reverse("drawing_page", args=[engine.drawing.pk]),
    }


def served() -> int:
    """The site's own server in a thread; gives its port. The thread ends with the run."""
    listener = socket.create_server(("127.0.0.1", 0))
    server = serving.make_server(listener)
    threading.Thread(target=server.run, daemon=True).start()
    return int(listener.getsockname()[1])


def cookie_of(user: User) -> str:
    client = Client()
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    return f"{settings.SESSION_COOKIE_NAME}={client.cookies[settings.SESSION_COOKIE_NAME].value}"


def seconds_for(connection: HTTPConnection, address: str, cookie: str) -> float:
    """How long one page takes; whatever is not answered with 200 ends the run."""
    begin = time.perf_counter()
    connection.request("GET", address, headers={"Cookie": cookie} if cookie else {})
    answer = connection.getresponse()
    answer.read()
    took = time.perf_counter() - begin
    if answer.status != 200:
        raise RuntimeError(f"{address} was answered with {answer.status}")
    return took


def measure(owner: User, engines: dict[str, Engine], rounds: int) -> dict[str, dict[str, float]]:
    """Median seconds for each page of each engine."""
    return timed(owner, {size: pages_of(engine) for size, engine in engines.items()}, rounds)


def timed(owner: User, pages: dict[str, dict[str, str]], rounds: int) -> dict[str, dict[str, float]]:
    """Median seconds for each page of each size; each round asks for every page once, sign-in with them."""
    asked = [(SIGN_IN, "", reverse("sign_in"), "")]
    cookie = cookie_of(owner)
    for size, named in pages.items():
        asked += [(name, size, address, cookie) for name, address in named.items()]
    took: dict[tuple[str, str], list[float]] = {}
    connection = HTTPConnection("127.0.0.1", served(), timeout=120)
    for turn in range(-2, rounds):  # The first two are to warm up.
        for name, size, address, given in asked:
            seconds = seconds_for(connection, address, given)
            if turn >= 0:
                took.setdefault((name, size), []).append(seconds)
    connection.close()
    found: dict[str, dict[str, float]] = {}
    for (name, size), each in took.items():
        found.setdefault(name, {})[size] = median(each)
    return found
