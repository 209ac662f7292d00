"""Kernel room: the settings of both members of a bevel pair that let it run best, looked for in turn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import cos, sin, sqrt

from calc.kernel.bevel_cutting_pair import (
    JUDGED,
    SEARCHED,
    TOUCHING,
    Laid,
    Running,
    cut_flank,
    demands,
    least_play,
    mesh,
    running,
    summed,
    traced_round,
    wanted_flank,
)
from calc.kernel.bevel_cutting_rolls import Roll
from calc.kernel.bevel_cutting_section import Member, Settings, judged_radii

#: What is aimed at: play of a thirtieth of a module, no more than a tenth, the sections all touching.
LEAST_PLAY, MOST_PLAY, FULL_BEARING = 0.03, 0.10, 0.95
#: What a module of flank error costs beside a module of running error.
FLANK_WEIGHT = 0.05
#: The most a flank may be out without being passed over for one that is less. [modules]
MOST_FLANK = 0.085
#: Candidates of each member that are tried against its mate.
KEPT = 110
#: Rolls, set-overs and lifts of the grid.
ROLLS, SET_OVERS, SET_OVER_STEP = 6, 5, 0.03
TURNS = 2
#: Steps by which a setting is refined, of set-over and of lift together.
REFINED = ((0.02, 0.03), (0.01, 0.015), (0.005, 0.0075))
FINALISTS = 4
#: From one step of a pitch to the next that is looked at; it has no factor in common with the steps.
STRIDE = 7
#: Over any cost there is.
NO_LIMIT = 1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One way of cutting a member, and the flank it leaves on the grid of the search."""

    settings: Settings
    roll: Roll | None  # none where a gear that is cut was rolled by other means
    space: tuple[float, ...]  # half angles over the wanted space. [radian]
    worst: float  # of metal left on and metal cut away. [modules]


@dataclass(slots=True, kw_only=True)
class Bench:
    """What a member can be cut with: cutters, rolls and how far the trimming rounds may be lifted."""

    member: Member
    cutters: tuple[int, ...]  # lowest counts, from the fewest teeth
    rolls: tuple[Roll, ...]  # the nearest to the quarter first
    most_lift: float
    rounds: dict[tuple[int, float, float], list[float]] = field(default_factory=dict)
    done: dict[tuple[int, float, float, float], Tried] = field(default_factory=dict)
    ladder: tuple[Roll, ...] = ()  # the rolls by size

    def __post_init__(self) -> None:
        self.ladder = tuple(sorted(self.rolls, key=lambda roll: roll.crank))

    def tried(self, settings: Settings, roll: Roll | None) -> Tried:
        """A member cut so; each way is worked once."""
        key = (settings.cutter_teeth, settings.roll, settings.set_over, settings.shallower)
        if key not in self.done:
            space = self._space(settings)
            self.done[key] = Tried(
                settings=settings, roll=roll, space=space, worst=worst_of(self.member, space)
            )
        return self.done[key]

    def _space(self, settings: Settings) -> tuple[float, ...]:
        centre, right, left = (
            self._round(settings.cutter_teeth, set_over, lift) for set_over, lift, _ in settings.rounds()
        )
        roll = settings.roll
        return tuple(
            max(first, second - roll, third + roll) - own
            for first, second, third, own in zip(
                centre, right, left, wanted_flank(self.member, SEARCHED), strict=True
            )
        )

    def _round(self, cutter: int, set_over: float, lift: float) -> list[float]:
        key = (cutter, set_over, lift)
        if key not in self.rounds:
            self.rounds[key] = traced_round(self.member, SEARCHED, *key)
        return self.rounds[key]

    def grid(self) -> list[Tried]:
        """The ways of the grid with the least flank error, the least first."""
        found = [self.tried(settings, roll) for settings, roll in self._ways()]
        return sorted(found, key=lambda one: one.worst)[:KEPT]

    def _ways(self) -> Iterator[tuple[Settings, Roll]]:
        """Cutter, roll, set-over and lift; all set-overs stand on one ladder, so that rolls share traces."""
        foot = self.member.small_radius * sin(self.rolls[0].angle)
        for roll in self.rolls[:ROLLS]:
            rung = round((self.member.small_radius * sin(roll.angle) - foot) / SET_OVER_STEP)
            for step in range(SET_OVERS):
                set_over = foot + (rung + step - SET_OVERS // 2) * SET_OVER_STEP
                for lift in (0.0, self.most_lift):
                    for cutter in self.cutters:
                        yield (
                            Settings(cutter_teeth=cutter, roll=roll.angle, set_over=set_over, shallower=lift),
                            roll,
                        )


def worst_of(member: Member, space: Sequence[float]) -> float:
    """The worst error of a flank on the grid of the search, either way. [modules]"""
    errors = [weight * angle for weight, angle in zip(_weights(member), space, strict=True)]
    return max(max(errors), -min(errors))


@lru_cache(maxsize=16)
def _weights(member: Member) -> tuple[float, ...]:
    """Base radius at each point of the grid, nought where the flank is not judged."""
    weights = []
    for station, distance in zip(SEARCHED.stations, SEARCHED.distances(member), strict=True):
        low, high = judged_radii(member, station)
        for height in SEARCHED.all_heights():
            along = sqrt(distance**2 - height**2)
            base = along * member.sine * cos(member.pressure_angle)
            weights.append(base if height >= low - high + 1 else 0.0)
    return tuple(weights)


# ---- the cost of a pair ----------------------------------------------------------------------------------


def cost(run: Running, worst: float, mate_worst: float) -> float:
    """What a pair is judged by: how it runs first, its play, its bearing, and the flanks last. [modules]"""
    return (
        run.error
        + 3 * max(0.0, LEAST_PLAY - run.backlash)
        + max(0.0, run.backlash - MOST_PLAY)
        + 0.1 * max(0.0, FULL_BEARING - run.bearing)
        + flank_cost(worst, mate_worst)
    )


def flank_cost(worst: float, mate_worst: float) -> float:
    """The share of the flanks in the cost of a pair."""
    over = max(0.0, worst - MOST_FLANK) + max(0.0, mate_worst - MOST_FLANK)
    return FLANK_WEIGHT * (worst + mate_worst) + over


@dataclass(frozen=True, slots=True)
class Reach:
    """The least and most that the flanks to be tried leave at each point: what cannot touch is left out."""

    least: tuple[float, ...]
    most: tuple[float, ...]


def reach_of(ways: Sequence[Tried]) -> Reach:
    """The reach of a list of ways, and a little more for those refined from them."""
    spaces = [way.space for way in ways]
    return Reach(
        tuple(min(column) for column in zip(*spaces, strict=True)),
        tuple(max(column) for column in zip(*spaces, strict=True)),
    )


def thinned(laid: Sequence[Sequence[Laid]], reach: Reach, margin: float) -> list[list[Laid]]:
    """The points of a layout that any flank within reach could touch. ``margin`` in radians."""
    found = []
    for points in laid:
        floor = max(
            demand - (reach.most[at] + part * (reach.most[at + 1] - reach.most[at]))
            for at, part, demand in points
        )
        floor -= margin
        found.append(
            [
                point
                for point in points
                if point[2] - min(reach.least[point[0]], reach.least[point[0] + 1]) >= floor
            ]
        )
    return found


@dataclass(frozen=True, slots=True)
class Found:
    """A pair that was found, in the order of its benches, and its cost as the search sees it."""

    first: Tried
    second: Tried
    cost: float


class Facing:
    """One member held as it is cut, laid out for every way of cutting its mate."""

    def __init__(self, held: Bench, way: Tried, other: Bench, reach: Reach) -> None:
        pairing = mesh(held.member, other.member, SEARCHED)
        self.scale, self.way = pairing.scale, way
        self.laid = thinned(pairing.lay(way.space), reach, (TOUCHING + 0.03) / pairing.scale)
        # Steps far from one another first: a bad mate shows its spread at once.
        steps = len(self.laid)
        order = [step * STRIDE % steps for step in range(steps)]
        self.ordered = [(step, self.laid[step]) for step in order]

    def cost(self, mate: Tried, limit: float) -> float:
        """The cost of a mate, or any figure over the limit as soon as it is sure to pass it."""
        flanks, scale, space = flank_cost(self.way.worst, mate.worst), self.scale, mate.space
        low, high, room = 1.0, -1.0, (limit - flanks) / scale
        most = [0.0] * len(self.laid)
        for step, points in self.ordered:
            asked = max(
                [demand - space[at] - part * (space[at + 1] - space[at]) for at, part, demand in points]
            )
            low, high = min(low, asked), max(high, asked)
            if high - low > room:
                return limit + 1
            most[step] = asked * scale
        play = least_play(most)
        if cost(Running(max(most) - min(most), play, 1.0), self.way.worst, mate.worst) >= limit:
            return limit + 1
        rows = [[asked * scale for asked in row] for row in demands(self.laid, space, SEARCHED)]
        return cost(summed(rows, SEARCHED), self.way.worst, mate.worst)

    def best(self, ways: Sequence[Tried], start: Tried) -> tuple[Tried, float]:
        """The best of the ways and of one to start from."""
        chosen, least = start, self.cost(start, NO_LIMIT)
        for way in ways:
            this = self.cost(way, least)
            if this < least:
                chosen, least = way, this
        return chosen, least

    def refined(self, bench: Bench, start: Tried, least: float) -> tuple[Tried, float]:
        """The same settings moved by ever smaller steps, as long as that helps."""
        chosen = start
        for step in REFINED:
            moved = True
            while moved:
                moved = False
                for way in neighbours(bench, chosen, *step):
                    this = self.cost(way, least)
                    if this < least:
                        chosen, least, moved = way, this, True
        return chosen, least


def neighbours(bench: Bench, way: Tried, across: float, up: float) -> Iterator[Tried]:
    """Ways beside one: the next rolls either way, more or less set-over, more or less lift."""
    settings = way.settings
    lifts = {min(max(settings.shallower + change, 0.0), bench.most_lift) for change in (-up, up)}
    for lift in sorted(lifts - {settings.shallower}):
        yield bench.tried(_with(settings, shallower=lift), way.roll)
    for change in (-across, across):
        yield bench.tried(_with(settings, set_over=settings.set_over + change), way.roll)
    if way.roll in bench.ladder:
        place = bench.ladder.index(way.roll)
        for beside in (place - 1, place + 1):
            if 0 <= beside < len(bench.ladder):
                roll = bench.ladder[beside]
                moved = bench.member.small_radius * (sin(roll.angle) - sin(settings.roll))
                yield bench.tried(_with(settings, roll=roll.angle, set_over=settings.set_over + moved), roll)


def _with(settings: Settings, **changed: float) -> Settings:
    values = {
        "roll": settings.roll,
        "set_over": settings.set_over,
        "shallower": settings.shallower,
    } | changed
    return Settings(cutter_teeth=settings.cutter_teeth, **values)


def alternated(
    benches: tuple[Bench, Bench],
    grids: tuple[list[Tried], list[Tried]],
    reaches: tuple[Reach, Reach],
    start: tuple[Tried, Tried],
) -> list[Found]:
    """From a start, the second suited to the first and the first to the second, in turn."""
    first, second = start
    found = []
    last = NO_LIMIT
    for _ in range(TURNS):
        facing = Facing(benches[0], first, benches[1], reaches[1])
        second, least = facing.refined(benches[1], *facing.best(grids[1], second))
        found.append(Found(first, second, least))
        facing = Facing(benches[1], second, benches[0], reaches[0])
        first, least = facing.refined(benches[0], *facing.best(grids[0], first))
        found.append(Found(first, second, least))
        if least > last - 1e-5:
            break
        last = least
    return found


@lru_cache(maxsize=64)
def judged(members: tuple[Member, Member], settings: tuple[Settings, Settings]) -> Running:
    """How a pair runs on the finer grid, looked at from both sides."""
    first, second = (cut_flank(member, own, JUDGED) for member, own in zip(members, settings, strict=True))
    return running(members[0], members[1], first, second, JUDGED)


Pair = tuple[Tried, Tried]
Benches = tuple[Bench, Bench]


def best_pair(benches: Benches, start: Pair) -> Pair:
    """The pair that runs best of those found from the textbook and from the least flank errors.

    From each start either member is held first: the turns end in different places.
    """
    grids = (benches[0].grid(), benches[1].grid())
    reaches = (reach_of(grids[0]), reach_of(grids[1]))
    found: list[Found] = []
    for first, second in (start, (grids[0][0], grids[1][0])):
        found += alternated(benches, grids, reaches, (first, second))
        turned = alternated(benches[::-1], grids[::-1], reaches[::-1], (second, first))
        found += [Found(one.second, one.first, one.cost) for one in turned]
    return chosen(benches, start, found)


def best_mate(benches: Benches, start: Pair, held: int) -> Pair:
    """The pair that runs best with one member held as it is: the first, nought, or the second, one."""
    other = 1 - held
    ways = [*benches[other].grid(), start[other]]
    facing = Facing(benches[held], start[held], benches[other], reach_of(ways))
    ranked = sorted(ways, key=lambda way: facing.cost(way, NO_LIMIT))
    found = []
    for way in ranked[:FINALISTS]:
        best, least = facing.refined(benches[other], way, facing.cost(way, NO_LIMIT))
        pair = (best, start[held]) if other == 0 else (start[held], best)
        found.append(Found(pair[0], pair[1], least))
    return chosen(benches, start, found)


def chosen(benches: Benches, start: Pair, found: Sequence[Found]) -> Pair:
    """The best of the finalists on the finer grid; the start where none runs as well and costs less."""
    members = (benches[0].member, benches[1].member)

    def weighed(pair: Pair) -> tuple[Running, float]:
        run = judged(members, (pair[0].settings, pair[1].settings))
        return run, cost(run, pair[0].worst, pair[1].worst)

    by_rule, least = weighed(start)
    best = start
    finalists = {(one.first.settings, one.second.settings): one for one in reversed(found)}
    for one in sorted(finalists.values(), key=lambda one: one.cost)[:FINALISTS]:
        run, this = weighed((one.first, one.second))
        if this < least and run.error <= by_rule.error:
            best, least = (one.first, one.second), this
    return best
