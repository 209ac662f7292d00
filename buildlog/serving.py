"""What a start does before it serves, and the serving itself."""

import hashlib
import json
import signal
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Any, NoReturn

from django.conf import settings

from buildlog import network

THREADS = 4
#: SQLite gives up the interpreter's lock at each row; a busy thread beside it must give it back soon.
SWITCH_INTERVAL = 0.0005


@dataclass(frozen=True)
class Place:
    """Where the site answers: the first address is the one for links."""

    addresses: tuple[str, ...]
    hosts: tuple[str, ...]


def local_place(port: int) -> Place:
    return Place(addresses=(f"http://{network.LOCAL}:{port}",), hosts=())


def network_place(port: int) -> Place | None:
    """The machine's own addresses and names on the local network; None when it has no address there."""
    own = network.own_addresses()
    if not own:
        return None
    hosts = (*own, *network.own_names())
    return Place(addresses=tuple(f"http://{host}:{port}" for host in hosts), hosts=hosts)


def answer_to(place: Place) -> None:
    """Let the site answer to these hosts as well, and to no others."""
    settings.ALLOWED_HOSTS = list(dict.fromkeys([*settings.ALLOWED_HOSTS, *place.hosts]))
    if place.hosts and not settings.SITE_ADDRESS:
        settings.SITE_ADDRESS = place.addresses[0]


def migrate_when_needed() -> bool:
    """Bring the database to the shape this version wants; True when something was done."""
    from django.core.management import call_command
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    if not executor.migration_plan(executor.loader.graph.leaf_nodes()):
        return False
    call_command("migrate", interactive=False, verbosity=0)
    return True


def collect_static_when_changed() -> bool:
    """Gather the static files afresh when a source or the way of keeping them has changed."""
    from django.core.management import call_command

    root = Path(settings.STATIC_ROOT)
    stamp = root.with_name("static.digest")
    wanted = static_digest()
    if root.is_dir() and stamp.is_file() and stamp.read_text(encoding="ascii") == wanted:
        return False
    stamp.unlink(missing_ok=True)
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(wanted, encoding="ascii")
    return True


def static_digest() -> str:
    """One figure for the names, sizes and times of all static sources; nothing is read."""
    from django.contrib.staticfiles.finders import get_finders

    found = []
    for finder in get_finders():
        for name, storage in finder.list(None):
            state = Path(storage.path(name)).stat()
            found.append([name, storage.path(name), state.st_size, state.st_mtime_ns])
    text = json.dumps([settings.STORAGES["staticfiles"], sorted(found)])
    return hashlib.sha256(text.encode()).hexdigest()


def make_server(listener: socket.socket) -> Any:
    """The server with the whole site loaded, ready to run."""
    import waitress
    from django.core.wsgi import get_wsgi_application

    sys.setswitchinterval(SWITCH_INTERVAL)
    return waitress.create_server(
        get_wsgi_application(),
        sockets=[listener],
        threads=THREADS,
        ident=None,
        clear_untrusted_proxy_headers=True,
    )


@contextmanager
def ending_cleanly() -> Iterator[None]:
    """Ctrl-C, and being told to stop by the system, end the block and nothing else."""
    before = signal.signal(signal.SIGTERM, _interrupt)
    try:
        yield
    except KeyboardInterrupt:
        return
    finally:
        signal.signal(signal.SIGTERM, before)


def _interrupt(_number: int, _frame: FrameType | None) -> NoReturn:
    raise KeyboardInterrupt
