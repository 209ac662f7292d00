"""The threads that the demo's parts are said to have; others stand in their words alone."""

from buildlog.actions.demo_files import BATCH, rows
from buildlog.models import Build, ThreadUse
from calc.threads_named import named


def load_threads(build: Build) -> None:
    """Every thread of the file, read as it would be on the site."""
    parts = {part.key: part for part in build.parts.all()}
    uses = [
        ThreadUse(
            part=parts[row["part"]],
            thread=named(row["thread"]).name,
            as_typed=row["thread"],
            where=row["where"],
            count=int(row["count"]),
            side=row["side"],
        )
        for row in rows("threads.csv")
    ]
    ThreadUse.objects.bulk_create(uses, batch_size=BATCH)
