"""The bin: what is in it has a day, and loses nothing."""

from datetime import datetime

from django.db import transaction
from django.db.models import Model

from buildlog import clock
from buildlog.actions.stages import note_history
from buildlog.changes import Doer, recording, row_of
from buildlog.models import Build, Part

IN, OUT = "put in the bin", "taken back out of the bin"


def put_in_bin(
    thing: Model, build: Build | int, called: str, *, by: Doer, part: Part | None = None, line: str = ""
) -> bool:
    """Put a thing in the bin; False where it is there already.

    Parameters
    ----------
    thing : Model
        One with a column `binned_at`.
    build : Build or int
        Whose it is.
    called : str
        As it is spoken of among the changes: `S-016`.
    by : Doer
        Who does it.
    part : Part, optional
        In whose history it is told too.
    line : str
        How the line there begins; empty where the part itself is meant.
    """
    return _move(thing, build, called, clock.now(), by=by, part=part, line=line)


def take_from_bin(
    thing: Model, build: Build | int, called: str, *, by: Doer, part: Part | None = None, line: str = ""
) -> bool:
    """Take a thing back out of the bin; False where it is not there. Named as in `put_in_bin`."""
    return _move(thing, build, called, None, by=by, part=part, line=line)


@transaction.atomic
def _move(
    thing: Model,
    build: Build | int,
    called: str,
    at: datetime | None,
    *,
    by: Doer,
    part: Part | None,
    line: str,
) -> bool:
    what = IN if at else OUT
    with recording(build, f"{called} {what}", by=by) as change:
        change.watch(row_of(thing))
        moved = row_of(thing).filter(binned_at__isnull=bool(at)).update(binned_at=at)
        if not moved:
            return False
        thing.binned_at = at  # type: ignore[attr-defined]
        if part:
            told = f"{line} {what}".strip()
            note_history(part, told[:1].upper() + told[1:], by=by)
    return True
