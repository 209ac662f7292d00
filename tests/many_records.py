"""A long record in bulk: sessions of a log with something to find in them, photos without their files."""

import random
from datetime import date, timedelta
from itertools import islice
from typing import Any

from buildlog import clock
from buildlog.models import Build, LogEntry, Part, Photo

BATCH = 500
#: What stands in many notes and captions; 57T stands in none of them, and 157T in some.
DONE = (
    "Faced the boss and bored it to 1.2500, clocked true.",
    "Indexed 157T ring, 84 divisions on the 42 circle.",
    "Set the block up on the angle plate, packing under the port face.",
    "Turned the second shaft between centres to 1 3/8 and left 0.010 on.",
    "Drilled and tapped 5/16 holes all round, broke one tap.",
    "Cleaned castings, filed the parting lines, washed everything in paraffin.",
    "Cut the keyway in three passes, packed the vice with 0.125 shim.",
    "Scraped the bearing to the shaft, blued it and went round again.",
)
#: Stands in one note and one caption of a thousand.
RARE = "Found it porous; wheel 57-tooth, bar 1-3/16."


def write_notes(build: Build, total: int, about: Part) -> None:
    """So many sessions, two a day back from yesterday, a tenth of them about one part."""
    draw, yesterday = random.Random(total), clock.today() - timedelta(days=1)
    parts = list(build.parts.exclude(pk=about.pk)[:200])

    def entry(place: int) -> LogEntry:
        made = LogEntry(
            build=build,
            on=yesterday - timedelta(days=place // 2),
            minutes=draw.randrange(20, 240),
            part=draw.choice(parts) if place % 10 else about,
            done=_words(draw, place, 4),
            left_off=f"{draw.randrange(1, 84)} of 84 cut, pin 1 hole on" if place % 3 else "",
            next="Ream the bore" if place % 2 else "",
            written_at=clock.now() - timedelta(hours=12 * place),
        )
        made.derive()
        return made

    _write(LogEntry, (entry(place) for place in range(total)))


def write_photos(build: Build, total: int, about: Part) -> None:
    """So many photos, five a day, a hundredth of them about one part; every twentieth in the bin."""
    draw, yesterday = random.Random(total), clock.today() - timedelta(days=1)
    parts = list(build.parts.exclude(pk=about.pk)[:200])

    def photo(place: int) -> Photo:
        made = Photo(
            build=build,
            sha256=f"{place:064x}",
            kind="jpeg",
            size=3_000_000,
            width=4000,
            height=3000,
            file_name=f"IMG_{place:05}.jpg",
            taken_on=_day(yesterday, place),
            taken_time=f"{place % 24:02}:{place % 60:02}:00",
            dated_by="file",
            caption=_words(draw, place, 1) if place % 2 == 0 else "",
            before_closing_up=place % 50 == 0,
            part=draw.choice(parts) if place % 100 else about,
            at=clock.now(),
            binned_at=clock.now() if place % 20 == 19 else None,
        )
        made.derive()
        return made

    _write(Photo, (photo(place) for place in range(total)))


def _day(yesterday: date, place: int) -> date:
    return yesterday - timedelta(days=place // 5)


def _words(draw: random.Random, place: int, count: int) -> str:
    said = draw.sample(DONE, count)
    return " ".join([RARE, *said] if place % 1000 == 500 else said)


def _write(model: type[Any], rows: Any) -> None:
    while batch := list(islice(rows, BATCH)):
        model.objects.bulk_create(batch)
