"""One of everything that an address of the threads used can name, for the tables in `tests.doors`."""

from typing import Any
from uuid import uuid4

from buildlog.actions.thread_changes import Asked, change_threads
from buildlog.models import Build, ThreadUse
from buildlog.threads_used import digest_of, places_of
from calc.threads_named import named
from tests.factories import make_part, make_thread


def threads_world(build: Build, times: int = 1, where: str = "") -> dict[str, Any]:
    """Parts with threads, some of them changed together; so many times of each."""
    part = make_part(build, number="M-970", name="Stud 7 BA")
    for place in range(4 * times):
        other = make_part(build, number=f"M-7{place:02}", name="Bolt 9 BA")
        make_thread(other, "9 BA")
        make_thread(other, "M2", where="other end")
    for place in range(3 * times):
        change_all(build, "9 BA" if place % 2 == 0 else "8 BA", "8 BA" if place % 2 == 0 else "9 BA")
    change_all(build, "M2", "10 BA")
    return {
        "thread": make_thread(part, "1/4 BSF", where=where),
        "spare_thread": make_thread(part, "2 BA"),
    }


def change_all(build: Build, before: str, after: str) -> Any:
    """Every place of a thread in the build, changed to another."""
    to = named(after)
    asked = Asked(thread=named(before).name, assembly=None, to=to, to_typed=after)
    places = places_of(build, asked.thread, None)
    ticked = set(ThreadUse.objects.filter(pk__in=[one.use.pk for one in places]).values_list("pk", flat=True))
    return change_threads(build, asked, ticked, shown_then=digest_of(places), token=uuid4(), by=None)
