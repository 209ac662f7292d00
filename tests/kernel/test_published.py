"""Every check in calc/sources, one test to a check: what the source prints is what comes out."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.registry import get
from tests.oracles import owned, plate_turns

CHECKS = [(key, check) for key in tables.source_keys() for check in tables.read_checks(key)]
IDS = [f"{key}#{check['id']}" for key, check in CHECKS]
HOW_READ = {
    "read",
    "derived here",
    "entries read, answer derived here",
    "from memory and recomputed",
}


def worked(check: Mapping[str, Any]) -> tuple[dict[str, Any], Mapping[str, Any]]:
    calculation = get(check["calculation"])
    inputs = read_entries(calculation, check["entered"]).inputs
    return inputs, calculation.function(**inputs).results


def test_checks_when_read_then_there_are_enough_and_none_twice():
    assert len(CHECKS) > 100
    assert len(set(IDS)) == len(IDS)
    assert {check["how"] for _, check in CHECKS} <= HOW_READ
    assert all(set(check) & {"has", "empty", "equal", "printed", "pair"} for _, check in CHECKS)


@pytest.mark.parametrize(("key", "check"), CHECKS, ids=IDS)
def test_check_when_worked_then_it_gives_what_the_source_prints(key, check):
    inputs, results = worked(check)
    for wanted in check.get("has", ()):
        has_row(results, wanted)
    for name in check.get("empty", ()):
        assert results[name] == []
    for name, value in check.get("equal", {}).items():
        assert results[name] == value
    for wanted in check.get("pair", ()):
        has_pair(results, wanted)
    for wanted in check.get("printed", ()):
        agrees_to_the_places_printed(results, wanted)
    if "plate_turns" in check:
        has_plate_turns(check, inputs, results)


def has_row(results, wanted):
    named = {name: value for name, value in wanted.items() if name != "list"}
    rows = results[wanted["list"]]
    assert any(all(row.get(name) == value for name, value in named.items()) for row in rows), (named, rows)


def has_pair(results, wanted):
    """Two moves the same way are the same pair in either order."""
    moves = [Fraction(wanted["first"]), Fraction(wanted["second"])]
    circles = [int(wanted[which].partition("/")[2]) for which in ("first", "second")]
    pair = list(zip(circles, moves, strict=True))
    found = []
    for row in results["compound"]:
        if row["same_direction"] == wanted["same_direction"]:
            mine = [
                (row["circle_a"], Fraction(row["holes_a"], row["circle_a"])),
                (row["circle_b"], Fraction(row["holes_b"], row["circle_b"])),
            ]
            found.append(sorted(mine) if row["same_direction"] else mine)
    assert (sorted(pair) if wanted["same_direction"] else pair) in found


def agrees_to_the_places_printed(results, wanted):
    row = results[wanted["in"]] if "in" in wanted else results
    if "list" in wanted:
        row = results[wanted["list"]][wanted.get("place", 0)]
    places = len(wanted["value"].partition(".")[2])
    half = Fraction(1, 2 * 10**places)
    # A number of the results is a float; the least part of one is no printed place.
    assert abs(Fraction(row[wanted["name"]]) / Fraction(wanted["of"]) - Fraction(wanted["value"])) <= half


def has_plate_turns(check, inputs, results):
    """The remembered row: identity, sense, and gears that are in the set."""
    wanted = check["has"][0]
    row = next(
        row
        for row in results["differential"]
        if (row["circle"], row["turns"], row["holes"]) == (wanted["circle"], wanted["turns"], wanted["holes"])
    )
    plate = plate_turns(inputs["divisions"], inputs["ratio"], row["turns"], row["holes"], row["circle"])
    assert plate == Fraction(check["plate_turns"])
    for train in (row, check["train"]):
        assert owned([*train["drivers"], *train["driven"]], inputs["change_gears"])
        assert train_ratio(train) == abs(plate)
    assert row["plate_sense"] == ("same" if plate > 0 else "opposite")


def train_ratio(train):
    ratio = Fraction(1)
    for driver, driven in zip(train["drivers"], train["driven"], strict=True):
        ratio *= Fraction(driver, driven)
    return ratio
