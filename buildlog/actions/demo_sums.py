"""The demo's kept sums, worked out and kept as the site does it."""

from uuid import uuid4

from django.contrib.auth.models import User

from buildlog.actions.demo_files import DemoError, evening, rows
from buildlog.models import Build
from calc import records, registry


def load_sums(build: Build, owner: User) -> None:
    """Each sum on its part, the older ones first."""
    parts = {part.key: part for part in build.parts.all()}
    for row in rows("sums.csv"):
        calculation = registry.get(row["calculation"])
        if calculation is None:
            raise DemoError(f"sums.csv names {row['calculation']}, which is no calculation.")
        entered = dict(entry.strip().split("=", 1) for entry in row["entries"].split(";"))
        records.keep(
            records.run(calculation, entered, unit="inch"),
            part=parts[row["part"]],
            user=owner,
            token=uuid4(),
            at=evening(int(row["days ago"])),
        )
