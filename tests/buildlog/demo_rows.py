"""The files of the demo build as rows, and what waits by them as the oracle works it out."""

import csv
from collections import Counter
from pathlib import Path
from types import SimpleNamespace

from tests import oracles

FOLDER = Path(__file__).resolve().parents[2] / "buildlog" / "demo" / "marlpit"
MADE = ("machined", "fitted", "painted", "on the engine")


def rows(name):
    """The rows of a file as dictionaries."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def key(row):
    """Number and hand, as H-021-L."""
    return f"{row['number']}-{row['hand']}" if row["hand"] else row["number"]


USES = rows("parts")
ASSEMBLIES = {row["code"]: row for row in rows("assemblies")}
PROGRESS = {key(row): row for row in rows("progress")}
PARTS = {}  # the first use of each part, which is its home
NEEDED = Counter()
for use in USES:
    PARTS.setdefault(key(use), use)
    NEEDED[key(use)] += int(use["quantity"])


def top(code):
    """The assembly on the general arrangement that a code belongs to."""
    while ASSEMBLIES[code]["parent"]:
        code = ASSEMBLIES[code]["parent"]
    return code


def is_made(part):
    return part in PROGRESS and PROGRESS[part]["stage"] in MADE


def waiting():
    """What the oracle makes of the files: parts and castings by their keys, days counted back from today."""
    events = [event_of(row) for row in rows("stores")]
    needs = [row for row in rows("needs") if row["needs"] == "casting"]
    return oracles.waiting(
        SimpleNamespace(
            parts=[part_of(part, use) for part, use in PARTS.items()],
            needs=[
                SimpleNamespace(
                    part=row["part"],
                    casting=row["of"],
                    quantity=int(row["quantity"]),
                    since=-int(row["days ago"]),
                )
                for row in needs
            ],
            firsts=FIRSTS,
            lines=[SimpleNamespace(pk=pk, casting=pk[1]) for pk in sorted({one.line for one in events})],
            events=events,
        )
    )


def part_of(part, use):
    casting, scrap = use["casting number"], int(PROGRESS.get(part, {}).get("scrap", 0))
    return SimpleNamespace(
        pk=part,
        order=(use["number"], use["hand"]),
        is_made=is_made(part),
        casting=casting or None,
        wanted=NEEDED[part] + scrap if casting else 0,
        since=None,
    )


def event_of(row):
    ago, after = int(row["days ago"]), row["promised after"]
    return SimpleNamespace(
        kind=row["what"],
        casting=row["casting"],
        line=(row["order"], row["casting"]),
        part=row["part"] or None,
        quantity=int(row["quantity"] or 0),
        on=-ago,
        promised_on=int(after) - ago if after else None,
    )


FIRSTS = [(row["part"], row["of"]) for row in rows("needs") if row["needs"] == "made first"]
WAITING = waiting()
WAITS = (
    {part for part, castings in WAITING.waits.items() if castings}
    | {part for part, first in FIRSTS if not is_made(part) and not is_made(first)}
    | {part for part, row in PROGRESS.items() if row["waits for"]}
)


def state(part):
    """Made, in hand, waiting or not started: one of them for each part."""
    if part in WAITS:
        return "waiting"
    row = PROGRESS.get(part)
    return "made" if is_made(part) else row["stage"] if row else "not started"
