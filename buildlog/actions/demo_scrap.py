"""What the demo's builder made again, and what was learnt by it."""

from django.contrib.auth.models import User

from buildlog.actions.demo_files import BATCH, day, evening, rows
from buildlog.models import Build, Scrap


def load_scrap(build: Build, owner: User) -> None:
    """The scrap book; the pieces are in the counts of the parts already."""
    parts = {part.key: part for part in build.parts.all()}
    entries = []
    for row in rows("scrap.csv"):
        scrap = Scrap(
            build=build,
            part=parts[row["part"]],
            on=day(row["days ago"]),
            count=int(row["how many"]),
            kind=row["what became"],
            cause=row["cause"],
            happened=row["what happened"],
            minutes=int(row["minutes lost"]),
            lesson=row["lesson"],
            show_on=row["show on"],
            operation=row["operation"],
            at=evening(int(row["days ago"])),
            by=owner,
        )
        scrap.derive()
        entries.append(scrap)
    Scrap.objects.bulk_create(entries, batch_size=BATCH)
