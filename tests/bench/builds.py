"""Engines to measure on: the demo, and the same ten times over, with all that hangs on a build."""

import csv
import io
from typing import NamedTuple
from uuid import uuid4

from django.contrib.auth.models import User

from buildlog import clock
from buildlog.actions import demo
from buildlog.actions.cards import make_card
from buildlog.actions.take_in_list import keep_draft, write_list
from buildlog.lists.comparing import compare
from buildlog.lists.reading import read_list
from buildlog.models import (
    Build,
    Casting,
    Drawing,
    HistoryLine,
    ListDraft,
    LogEntry,
    Order,
    Part,
    WorkCard,
)
from calc.models import CalculationRecord
from tests import factories
from tests.multiplied import multiply_things, numbered, write_log

#: What a part takes over from the one it is a copy of.
PROGRESS = (
    "stage", "good", "scrap", "lesson", "waits_for", "waits_since", "stage_at", "casting_since",
)  # fmt: skip
LOG = 200  # entries to the demo; ten times as many to the larger engine
BATCH = 500


class Engine(NamedTuple):
    """A build with the rows its pages are asked for by."""

    build: Build
    wheel: Part
    record: CalculationRecord
    card: WorkCard
    draft: ListDraft
    casting: Casting
    order: Order
    entry: LogEntry
    drawing: Drawing

    @property
    def parts(self) -> int:
        return self.build.parts.count()


def engines() -> tuple[User, Engine, Engine]:
    """Their owner, the demo of 420 parts, and the engine of 4,200."""
    owner = factories.make_user("owner", is_superuser=True)
    demo.load_demo(owner)
    small = Build.objects.get(is_demo=True)
    large = make_large(owner, small, 10)
    return owner, furnish(owner, small, 1), furnish(owner, large, 10)


def list_of(times: int) -> bytes:
    """The demo's own parts list so many times over: S-016, S-016.1, S-016.2 and on."""
    rows = list(csv.reader(demo.FOLDER.joinpath("parts.csv").read_text(encoding="utf-8").splitlines()))
    out, casting = io.StringIO(), rows[0].index("casting number")
    csv.writer(out).writerows(
        [
            rows[0],
            *(
                [numbered(row[0], copy), *row[1:casting], numbered(row[casting], copy), *row[casting + 1 :]]
                for copy in range(times)
                for row in rows[1:]
            ),
        ]
    )
    return out.getvalue().encode()


def make_large(owner: User, model: Build, times: int) -> Build:
    """An engine with every part of the model so many times, taken in as a list, as far on as the model is."""
    build = factories.make_build(owner, name="Marlpit, many times", side_view=model.side_view)
    demo._load_assemblies(build)
    preview = compare(build, read_list("parts.csv", list_of(times)))
    write_list(preview, by=owner, told="by the list parts.csv", at=clock.now())
    standing = {(part.number, part.hand): part for part in model.parts.all()}
    parts = list(build.parts.all())
    for part in parts:
        same = standing[part.number.split(".")[0], part.hand]
        for name in PROGRESS:
            setattr(part, name, getattr(same, name))
    Part.objects.bulk_update(parts, PROGRESS, batch_size=BATCH)
    HistoryLine.objects.bulk_create(
        [
            HistoryLine(part=part, at=part.stage_at, by=owner, stage=part.stage, good=0, scrap=0, text="Made")
            for part in parts
            if part.stage_at
        ],
        batch_size=BATCH,
    )
    multiply_things(model, build, range(times))
    return build


def furnish(owner: User, build: Build, times: int) -> Engine:
    """A kept sum and a card on the 84-tooth wheel, the whole list to look at once more, and a long log."""
    wheel = build.parts.get(number="S-016")
    record = factories.make_record(wheel, user=owner)
    said = {
        "records": [record],
        "paper": "A4",
        "operation": "Op 50 Cut 84 teeth",
        "machine": "",
        "held_on": "",
    }
    card = make_card(wheel, {**said, "token": uuid4()}, by=owner, address="")
    draft = keep_draft(build, owner, "parts.csv", read_list("parts.csv", list_of(times)))
    write_log(build, LOG * times)
    return Engine(
        build,
        wheel,
        record,
        card,
        draft,
        casting=build.castings.get(number="K-022"),
        order=build.orders.get(number="O-019"),
        entry=build.log.first(),
        drawing=build.drawings.get(number="12"),
    )
