"""What the plans for cutting bevel pairs are worth, by the exact oracle: `python -m tests.bench.bevel_pairs`.

36 pairs of 12 to 40 teeth at 90 degrees, 20 degree cutters of 10 diametral pitch, depth 2.157, the widest
face; a head of 40 to 1 with circles 15 to 20, 21 to 33 and 37 to 49. Figures are in modules of the cutter.
"""

import random
import time
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from itertools import combinations_with_replacement
from math import floor, radians
from statistics import median
from typing import NamedTuple

from calc.kernel.bevel_cutting import bevel_cutting
from tests.oracle_bevel import Cut, Slips, Worst, gear_of, worst
from tests.oracle_bevel_mesh import Fineness, Running, cut_sides, running

TEETH = (12, 15, 18, 20, 24, 30, 36, 40)
PAIRS = tuple(combinations_with_replacement(TEETH, 2))
FACES = [[15, 16, 17, 18, 19, 20], [21, 23, 27, 29, 31, 33], [37, 39, 41, 43, 47, 49]]
#: Of 10 diametral pitch, in millimetres.
MODULE = 2.54
#: A plan leaves a narrow ridge near the small end, which seven spheres can straddle; 25 do not.
SEVEN, CLOSER = Fineness(), Fineness(spheres=25)
#: For the many draws of settings that are out.
DRAWN = Fineness(spheres=7, phases=16, points=21)
DRAWS = 40
OFF_CENTRE_MM, TILT_DEG, SETTING_MM = 0.05, 0.25, 0.02


class Plan(NamedTuple):
    """How both members are cut, and what the sum says of them, in modules."""

    gear: Cut
    mate: Cut
    says: Running
    says_worst: float


class Found(NamedTuple):
    """What the oracle makes of a plan."""

    seven: Running
    closer: Running
    worst: float


class Plans(NamedTuple):
    textbook: Plan
    best: Plan
    seconds: float


@cache
def plans(teeth: int, mate: int) -> Plans:
    """Both plans of a pair, and how long the sum took on one core."""
    face = Fraction(floor(gear_of(teeth, mate).face * MODULE * 1e6), 1_000_000)
    begin = time.process_time()
    found = bevel_cutting(
        teeth=teeth,
        mate_teeth=mate,
        face_width=face,
        circles=FACES,
        diametral_pitch=Fraction(10),
        depth_system="2.157",
    ).results
    seconds = time.process_time() - begin
    return Plans(_plan(found["textbook"]), _plan(found["best"]), seconds)


def _plan(row: dict) -> Plan:
    return Plan(
        _cut(row),
        _cut(row["mate"]),
        Running(row["running_error_mm"] / MODULE, row["backlash_mm"] / MODULE, row["bearing"]),
        max(one[name] for one in (row, row["mate"]) for name in ("worst_left_on_mm", "worst_cut_away_mm"))
        / MODULE,
    )


def _cut(row: dict) -> Cut:
    return Cut(
        row["cutter_from_teeth"],
        radians(row["roll_deg"]),
        float(row["set_over_mm"]) / MODULE,
        float(row["trim_shallower_mm"]) / MODULE,
    )


def run(
    teeth: int, mate: int, plan: Plan, how: Fineness, slips: tuple[Slips, Slips] | None = None
) -> Running:
    """A pair as cut by a plan, with settings out or not."""
    gear = gear_of(teeth, mate)
    own, other = slips or (Slips(), Slips())
    sides = cut_sides(gear, plan.gear, how, own), cut_sides(gear.mate(), plan.mate, how, other)
    return running(gear, *sides, how)


def worst_of(teeth: int, mate: int, plan: Plan) -> float:
    """The worst flank error of both members, at 17 sections."""
    gear = gear_of(teeth, mate)
    both: tuple[Worst, Worst] = worst(gear, plan.gear), worst(gear.mate(), plan.mate)
    return max(each.either for each in both)


def found(teeth: int, mate: int, plan: Plan) -> Found:
    return Found(run(teeth, mate, plan, SEVEN), run(teeth, mate, plan, CLOSER), worst_of(teeth, mate, plan))


def drawn_slips(seed: str) -> list[tuple[Slips, Slips]]:
    """Settings out by anything up to the limits, either way, each member for itself; tilt about mid-face."""
    draw = random.Random(seed)

    def one() -> Slips:
        def within(limit: float) -> float:
            return draw.uniform(-limit, limit)

        return Slips(
            off_centre=within(OFF_CENTRE_MM) / MODULE,
            tilt=radians(within(TILT_DEG)),
            left_set_over=within(SETTING_MM) / MODULE,
            right_set_over=within(SETTING_MM) / MODULE,
            high=within(SETTING_MM) / MODULE,
        )

    return [(one(), one()) for _ in range(DRAWS)]


def slipped(teeth: int, mate: int) -> tuple[float, float]:
    """Median running error of the textbook and the best plan, over the same draws of settings out."""
    draws = drawn_slips(f"{teeth} and {mate}")
    both = plans(teeth, mate)
    first, second = (
        median(run(teeth, mate, plan, DRAWN, slips).error for slips in draws)
        for plan in (both.textbook, both.best)
    )
    return first, second


HEADS = (
    *("error", "of best", "ratio", "backlash", "of best"),
    *("25: err", "of best", "ratio", "backlash", "of best"),
    *("worst", "of best", "ratio", "set out", "of best", "ratio", "seconds"),
)


def main() -> None:
    rows = []
    print(__doc__)
    print(
        "Running error and least backlash on 7 spheres, then on 25; worst flank error; median running error"
    )
    print(f"with settings out ({DRAWS} draws); seconds for both plans.\n")
    print(row("pair", *HEADS))
    for teeth, mate in PAIRS:
        rows.append(figures(teeth, mate))
        print(row(f"{teeth}/{mate}", *(f"{figure:.4f}" for figure in rows[-1])), flush=True)
    columns = list(zip(*rows, strict=True))
    summaries: tuple[tuple[str, Callable[[tuple[float, ...]], float]], ...] = (
        ("median", median),
        ("least", min),
        ("most", max),
    )
    for name, summary in summaries:
        print(row(name, *(f"{summary(column):.4f}" for column in columns)))


def figures(teeth: int, mate: int) -> tuple[float, ...]:
    """One line of the table."""
    both = plans(teeth, mate)
    text, best = (found(teeth, mate, plan) for plan in (both.textbook, both.best))
    out, out_best = slipped(teeth, mate)
    return (
        *_compared(text.seven, best.seven),
        *_compared(text.closer, best.closer),
        *(text.worst, best.worst, best.worst / text.worst),
        *(out, out_best, out_best / out, both.seconds),
    )


def _compared(text: Running, best: Running) -> tuple[float, ...]:
    return text.error, best.error, best.error / text.error, text.backlash, best.backlash


def row(name: str, *cells: str) -> str:
    return f"{name:<8}" + "".join(f"{cell:>9}" for cell in cells)


if __name__ == "__main__":
    main()
