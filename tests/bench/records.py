"""Pages at ten times the record: `python -m tests.bench.records [rounds]`, or as part of `tests.bench`.

2,000 entries of the log and 5,000 photos (rows without files) in one build, ten times as many in another, 420
parts in each. By itself it measures on the database that DATABASE_URL names, which must be empty, else on
one of its own.
"""

import os
import platform
import sys
import tempfile
from typing import Any, NamedTuple

NOTES, PHOTOS = 2_000, 5_000
TIMES = (1, 10)
SIZES = tuple(f"{times}x" for times in TIMES)


class Record(NamedTuple):
    """A build with a long record, and the rows its pages are asked for by."""

    build: Any
    part: Any
    entry: Any
    photo: Any


def records() -> tuple[Any, dict[str, Record]]:
    """The owner, and the two builds by how long their record is."""
    from buildlog.actions import demo
    from buildlog.models import Build
    from tests import factories
    from tests.bench.builds import make_large

    owner = factories.make_user("keeper", is_superuser=True)
    demo.load_demo(owner)
    first = Build.objects.get(is_demo=True, memberships__user=owner)
    builds = (make_large(owner, first, 1), make_large(owner, first, 1))
    return owner, dict(zip(SIZES, map(long_record, builds, TIMES), strict=True))


def long_record(build: Any, times: int) -> Record:
    from buildlog.models import Photo
    from tests.many_records import write_notes, write_photos

    part = build.parts.get(number="S-016")
    write_notes(build, NOTES * times, part)
    write_photos(build, PHOTOS * times, part)
    photos = Photo.objects.live().filter(build=build).latest_first()
    return Record(build, part, build.log.first(), photos[PHOTOS // 2])


def pages_of(record: Record) -> dict[str, str]:
    """What is asked for, by what it is called in the table."""
    from django.urls import reverse

    build = record.build.pk
    log, photos, find = (reverse(name, args=[build]) for name in ("log_list", "photo_list", "find_page"))
    return {
        "home of the build": reverse("build_page", args=[build]),
        "log": log,
        "log, page 20": f"{log}?page=20",
        "log, find porous": f"{log}?find=porous",
        "log, of one part": f"{log}?part={record.part.key}",
        "log, an entry": record.entry.get_absolute_url(),
        "photos": photos,
        "photos, page 20": f"{photos}?page=20",
        "photos, before closing up": f"{photos}?closing=on",
        "photos, find porous": f"{photos}?find=porous",
        "photos, of one part": f"{photos}?part={record.part.key}",
        "a photo": record.photo.get_absolute_url(),
        "a part": reverse("part_page", args=[record.part.pk]),
        "find porous": f"{find}?find=porous",
        "find 57T": f"{find}?find=57T",
        "find 1 3/16": f"{find}?find=1+3/16",
        "find faced (in half of all)": f"{find}?find=faced",
        "find porous wheel bar": f"{find}?find=porous+wheel+bar",
        "find what is nowhere": f"{find}?find=zeppelin",
        "find porous, the log alone": f"{find}?find=porous&among=log",
    }


def queries_of(owner: Any, records: dict[str, Record]) -> dict[str, dict[str, int]]:
    """How often each page asks the database."""
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    client = Client(headers={"Host": "127.0.0.1"})
    client.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")
    found: dict[str, dict[str, int]] = {}
    for size, record in records.items():
        for name, address in pages_of(record).items():
            with CaptureQueriesContext(connection) as queries:
                client.get(address)
            found.setdefault(name, {})[size] = len(queries)
    return found


def measure(rounds: int) -> None:
    """Build both records, time their pages with the sign-in page between them, and print the ratios."""
    from django.db import connection

    from tests.bench import pages
    from tests.bench.__main__ import row

    owner, found = records()
    asked = {size: pages_of(record) for size, record in found.items()}
    counted = queries_of(owner, found)
    took = pages.timed(owner, asked, rounds)
    base = took.pop(pages.SIGN_IN)[""]
    print(
        f"\nPages at {NOTES:,} notes and {PHOTOS:,} photos, and at ten times as many, on {connection.vendor};"
    )
    print(f"a page's time over that of the {pages.SIGN_IN} ({base * 1000:.1f} ms), the one over the other\n")
    print(row("page", *(f"queries, {size}" for size in SIZES), *SIZES, "10x/1x"))
    for name, each in took.items():
        few, many = (each[size] for size in SIZES)
        cells = *counted[name].values(), f"{few / base:.1f}", f"{many / base:.1f}", f"{many / few:.2f}"
        print(row(name, *cells))


def main(rounds: int) -> None:
    from tests.bench.__main__ import start

    with tempfile.TemporaryDirectory(prefix="hornplate-bench-", ignore_cleanup_errors=True) as folder:
        start(folder, database=os.environ.get("DATABASE_URL", ""))
        print(f"Python {platform.python_version()}, {os.cpu_count()} processors; medians of {rounds} rounds.")
        measure(rounds)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 15)
