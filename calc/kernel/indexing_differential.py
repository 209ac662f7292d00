"""Kernel room: differential indexing, the plate geared to the spindle by the change gears owned."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations
from typing import Any

from calc.kernel.indexing_entries import Dividing, Row
from calc.kernel.indexing_plain import setting, works_as
from calc.kernel.wording import bracketed, mixed_text, move_sum
from calc.kernel.working import COMMON, Step, line

#: Turns of the plate for one of the work: past this a train gears up so far that it binds.
PLATE_TURNS_MOST = 6
#: Holes looked at on each side of the true move; on a usual plate the plate's turns end it sooner.
HOLES_EACH_SIDE = 12
#: Settings listed with one pair of gears; those with two pairs fill up to the lesser number.
SIMPLE_SETTINGS = 16
SETTINGS = 6
#: Settings tried for two pairs of gears before giving up: about all there are on five usual faces.
COMPOUND_TRIES = 600

Train = tuple[tuple[int, ...], tuple[int, ...]]  # drivers, driven


def differential_rows(task: Dividing) -> list[Row] | None:
    """Settings that are exact with the owned gears: one pair of gears first, then as ``_order`` has it.

    None when the move does not go into a turn a whole number of times: the plate cannot be geared for it.
    """
    if task.divisions is None:
        return None
    if len(task.gears) < 2:
        return []
    settings = _settings(task, task.divisions)
    nearest = sorted(settings, key=lambda turns: _order(task, turns, settings[turns]))
    simple = _simple_trains(task.gears)
    trains = {turns: simple[abs(settings[turns])] for turns in nearest if abs(settings[turns]) in simple}
    chosen = dict(list(trains.items())[:SIMPLE_SETTINGS])
    if len(chosen) < SETTINGS and len(task.gears) > 3:
        chosen |= _compound_chosen(
            task, settings, [turns for turns in nearest if turns not in chosen], chosen
        )
    return [row for turns, train in chosen.items() for row in _rows(task, turns, settings[turns], train)]


def _order(task: Dividing, turns: Fraction, plate: Fraction) -> tuple[bool, Fraction, int, Fraction]:
    """Settings that make a whole number by themselves first, as the tables do, then the least plate turns."""
    return (task.ratio / turns).denominator != 1, abs(plate), turns.denominator, turns


def _settings(task: Dividing, divisions: int) -> dict[Fraction, Fraction]:
    """Every setting near the true move in crank turns, with the plate turns it needs for one of the work."""
    found: dict[Fraction, Fraction] = {}
    for circle in task.circles:
        middle = int(task.move * circle)
        for total in range(max(1, middle - HOLES_EACH_SIDE), middle + HOLES_EACH_SIDE + 2):
            turns = Fraction(total, circle)
            if turns not in found and (not task.quarter or total % 4 == 0):
                found[turns] = task.ratio - divisions * turns
    return {turns: plate for turns, plate in found.items() if plate and abs(plate) <= PLATE_TURNS_MOST}


def _simple_trains(gears: Sequence[int]) -> dict[Fraction, Train]:
    """Every ratio of one driver to one driven gear, by the smallest pair that gives it."""
    trains: dict[Fraction, Train] = {}
    for one, two in combinations(gears, 2):
        trains.setdefault(Fraction(one, two), ((one,), (two,)))
        trains.setdefault(Fraction(two, one), ((two,), (one,)))
    return trains


def _compound_chosen(
    task: Dividing,
    settings: dict[Fraction, Fraction],
    nearest: Sequence[Fraction],
    chosen: dict[Fraction, Train],
) -> dict[Fraction, Train]:
    """Trains of two pairs for the nearest settings, as many as there is room for."""
    pairs: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for one, two in combinations(range(len(task.gears)), 2):
        pairs[task.gears[one] * task.gears[two]].append((one, two))
    added: dict[Fraction, Train] = {}
    for turns in nearest[:COMPOUND_TRIES]:
        if len(chosen) + len(added) >= SETTINGS:
            break
        train = next(_compound_trains(task.gears, pairs, abs(settings[turns])), None)
        if train is not None:
            added[turns] = train
    return added


def _compound_trains(
    gears: Sequence[int], pairs: dict[int, list[tuple[int, int]]], plate: Fraction
) -> Iterator[Train]:
    """Trains of two drivers and two driven gears with that ratio, no gear used oftener than it is owned."""
    for product, drivers in pairs.items():
        if product % plate.numerator:
            continue
        for driven in pairs.get(product // plate.numerator * plate.denominator, ()):
            for driver in drivers:
                if not set(driver) & set(driven):
                    yield tuple(gears[place] for place in driver), tuple(gears[place] for place in driven)


def _rows(task: Dividing, turns: Fraction, plate: Fraction, train: Train) -> list[Row]:
    """The setting on each circle that has it; whole turns need no circle, so the largest stands for all."""
    circles = [circle for circle in task.circles if circle % turns.denominator == 0]
    if task.quarter:
        circles = [circle for circle in circles if (turns * circle / 4).denominator == 1]
    if turns.denominator == 1:
        circles = circles[:1]
    return [
        setting(task, circle, int(turns * circle))
        | {
            "drivers": list(train[0]),
            "driven": list(train[1]),
            "plate_sense": "same" if plate > 0 else "opposite",
            "works_as_divisions": works_as(task.ratio / turns),
            "wrong_way_divisions": works_as((task.ratio + plate) / turns),
        }
        for circle in circles
    ]


def differential_steps(task: Dividing, row: Row) -> list[Step]:
    """The lines of a differential setting: without the gears, turns of the plate, the train, the proof."""
    divisions = task.divisions or 0
    moved = bracketed(move_sum(row["turns"], row["holes"], row["circle"]))
    turns = row["turns"] + Fraction(row["holes"], row["circle"])
    plate = task.ratio - divisions * turns
    shown = mixed_text(plate).replace("-", "−")
    drivers, driven = (" × ".join(map(str, row[side])) for side in ("drivers", "driven"))
    train = f"{drivers} / {driven}" if len(row["drivers"]) == 1 else f"({drivers}) / ({driven})"
    return [
        line(
            "Differential: what the setting makes with the gears left off",
            "ratio / (whole turns + spaces / circle)",
            f"{task.ratio} / {moved if '(' in moved else f'({moved})'}",
            str(row["works_as_divisions"]),
            "divisions",
        ),
        line(
            f"Turns of the plate for one of the work, {sense_text(row)}",
            "ratio − divisions × (whole turns + spaces / circle)",
            f"{task.ratio} − {divisions} × {moved}",
            shown,
            "turn",
        ),
        line(
            "Gears from spindle to plate, drivers over driven",
            "drivers / driven",
            train,
            mixed_text(abs(plate)),
            "turn",
            COMMON,
        ),
        line(
            "Proof: crank and plate together make the ratio",
            "divisions × (whole turns + spaces / circle) + plate turns",
            f"{divisions} × {moved} + ({str(plate).replace('-', '−')})",
            str(task.ratio),
            "turns, as the head",
        ),
    ]


def sense_text(row: Mapping[str, Any]) -> str:
    """Which way the plate goes, in words."""
    return "the same way as the crank" if row["plate_sense"] == "same" else "against the crank"
