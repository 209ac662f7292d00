"""The demo's kept sums, worked out and kept as the site does it."""

from uuid import uuid4

from django.contrib.auth.models import User

from buildlog.actions.demo_files import DemoError, evening, rows
from buildlog.models import Build
from buildlog.offers import offers_of
from calc import records, registry


def load_sums(build: Build, owner: User) -> None:
    """Each sum on its part, the older ones first; what it takes from an earlier one is filled in."""
    parts = {part.key: part for part in build.parts.all()}
    for row in rows("sums.csv"):
        calculation = registry.get(row["calculation"])
        if calculation is None:
            raise DemoError(f"sums.csv names {row['calculation']}, which is no calculation.")
        part = parts[row["part"]]
        offers = {name: one for name, one in offers_of(part, calculation.key).items() if one.taken}
        typed = dict(entry.strip().split("=", 1) for entry in row["entries"].split(";"))
        entered = {name: one.text for name, one in offers.items()} | typed
        records.keep(
            records.run(calculation, entered, unit="inch"),
            part=part,
            user=owner,
            token=uuid4(),
            at=evening(int(row["days ago"])),
            taken={name: one.taken for name, one in offers.items() if one.taken},
        )
