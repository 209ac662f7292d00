"""What the demo's parts were asked to be, what was measured on them, and the departure that came of it."""

from django.contrib.auth.models import User

from buildlog.actions.concessions import departure
from buildlog.actions.demo_files import BATCH, day, evening, rows
from buildlog.models import Build, Characteristic, Concession, ConcessionMate, Part, Reading
from buildlog.sizes_made import read_limit, read_nominal, read_reading

Sizes = dict[tuple[str, str], Characteristic]


def load_made(build: Build, owner: User) -> None:
    """Characteristics, readings and concessions, by the same reading of sizes as on the site."""
    parts = {part.key: part for part in build.parts.all()}
    sizes = _load_characteristics(parts)
    readings = _load_readings(sizes, owner)
    for row in rows("concessions.csv"):
        reading = readings[row["part"], row["characteristic"]]
        concession = Concession.objects.create(
            build=build,
            number=int(row["concession"]),
            part=parts[row["part"]],
            reading=reading,
            wrong=departure(reading),
            opened_at=evening(int(row["days ago"])),
            opened_by=owner,
            decision=row["decision"],
            words=row["words"],
            decided_on=day(row["decided days ago"]),
            decided_by=owner,
        )
        for mate in row["mates"].split("; "):
            ConcessionMate.objects.create(concession=concession, mate=parts[mate])


def _load_characteristics(parts: dict[str, Part]) -> Sizes:
    sizes: Sizes = {}
    for row in rows("characteristics.csv"):
        nominal = read_nominal(row["size"], inches=True)
        # A spreadsheet takes a cell that begins with a sign for a formula, so the files have none.
        upper, lower = f"+{row['over']}", f"-{row['under']}"
        sizes[row["part"], row["characteristic"]] = Characteristic(
            part=parts[row["part"]],
            position=1 + sum(part == row["part"] for part, _ in sizes),
            name=row["characteristic"],
            place=row["place"],
            nominal=row["size"],
            unit=nominal.unit,
            upper=upper,
            lower=lower,
            nominal_exact=str(nominal.base),
            upper_exact=str(read_limit(upper, nominal)),
            lower_exact=str(read_limit(lower, nominal)),
        )
    Characteristic.objects.bulk_create(sizes.values(), batch_size=BATCH)
    return sizes


def _load_readings(sizes: Sizes, owner: User) -> dict[tuple[str, str], Reading]:
    """Every reading; of each characteristic the last one is found again."""
    found: dict[tuple[str, str], Reading] = {}
    for row in rows("readings.csv"):
        size = sizes[row["part"], row["characteristic"]]
        read = read_reading(row["reading"], unit=size.unit, about=size.nominal_mm)
        found[row["part"], row["characteristic"]] = Reading.objects.create(
            characteristic=size,
            value=row["reading"],
            unit=read.unit,
            value_exact=str(read.base),
            instrument=row["measured with"],
            on=day(row["days ago"]),
            note=row["note"],
            at=evening(int(row["days ago"])),
            by=owner,
        )
    return found
