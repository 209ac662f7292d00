"""Kernel room: the textbook's plan, the best one and the builder's own, for both members of a bevel pair."""

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.kernel.bevel_cutting_entries import Cutting, Own
from calc.kernel.bevel_cutting_pair import Running
from calc.kernel.bevel_cutting_rolls import Head, Roll
from calc.kernel.bevel_cutting_search import Bench, Tried, best_mate, best_pair, judged
from calc.kernel.bevel_cutting_section import Member, Settings, textbook
from calc.kernel.bevel_pair_sizes import Bevel
from calc.kernel.involute import in_radians
from calc.kernel.spur_gear_cutters import Cutter, cutters

#: The trimming rounds keep this depth under the addendum's two modules: a twentieth of clearance.
LEAST_DEPTH = 2.05
MOST_LIFT = 0.10
#: Rolls that are tried stand so far apart, in quarters of the pitch: nearer ones cut alike.
APART = Fraction(1, 50)
#: Cutters tried beside the textbook's: so many straighter, so many rounder.
STRAIGHTER, ROUNDER = 4, 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How one member is cut."""

    cutter: Cutter
    roll: Roll | None  # none where a gear that is cut was rolled by other means
    crank: Fraction  # turns of the roll
    settings: Settings


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """How both members are cut, and how they run together."""

    gear: Way
    mate: Way
    run: Running


@dataclass(frozen=True, slots=True, kw_only=True)
class Plans:
    """The plans asked for; the builder's own only where there are settings to try."""

    textbook: Plan
    best: Plan
    given: Plan | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One member with what there is to cut it with; what stands in it decides the search."""

    member: Member
    head: Head
    owned: tuple[Cutter, ...]
    held: Way | None = None

    @property
    def cutter(self) -> Cutter:
        """The textbook's cutter: the highest lowest count not above the formative number, of those owned."""
        serving = [cutter for cutter in self.owned if cutter.lowest <= self.member.formative * (1 + 1e-9)]
        return serving[-1] if serving else self.owned[0]

    @property
    def textbook(self) -> Way:
        """The textbook's way: the quarter, or the nearest to it in whole holes."""
        roll = self.head.rolls()[0]
        settings = textbook(self.member, self.cutter.lowest, roll.angle)
        return Way(cutter=self.cutter, roll=roll, crank=roll.crank, settings=settings)

    @property
    def start(self) -> Way:
        """Where the search begins: as it is cut, else by the textbook."""
        return self.held or self.textbook

    def bench(self) -> Bench:
        """What the search may choose from."""
        number = int(self.cutter.number)
        near = [
            cutter.lowest
            for cutter in self.owned
            if number - STRAIGHTER <= int(cutter.number) <= number + ROUNDER
        ]
        return Bench(
            member=self.member,
            cutters=tuple(near),
            rolls=tuple(self.head.spread(APART)),
            most_lift=max(0.0, min(MOST_LIFT, self.member.depth - LEAST_DEPTH)),
        )


def member_of(bevel: Bevel) -> Member:
    """A gear as the model sees it, in modules of its cutter."""
    question = bevel.cones.question
    module = question.pitch.module
    return Member(
        teeth=bevel.teeth,
        cosine=bevel.cosine,
        sine=bevel.sine,
        face=float(question.face / module),
        pressure_angle=in_radians(question.angle),
        depth=float(bevel.cones.whole_depth) / float(module),
    )


def tasks_of(question: Cutting) -> tuple[Task, Task]:
    """Both members as they are to be cut; a mate that is cut already is held."""
    gear = Task(member=member_of(question.gear), head=question.head, owned=question.owned)
    mate = Task(member=member_of(question.mate), head=question.mate_head, owned=question.owned)
    if question.mate_cut is None:
        return gear, mate
    held = mate.textbook
    if question.mate_cut == "as given":
        held = own_way(question, mate, question.mate_own)
    return gear, Task(member=mate.member, head=mate.head, owned=mate.owned, held=held)


def own_way(question: Cutting, task: Task, own: Own) -> Way:
    """Settings of the builder's own; what he left empty is by the textbook, the trims at full depth."""
    by_rule = task.textbook
    cutter = by_rule.cutter
    if own.cutter is not None:
        cutter = next(one for one in cutters("8") if int(one.number) == own.cutter)
    crank = by_rule.crank if own.roll is None else Fraction(own.roll)
    roll = task.head.roll(crank)
    turned = Roll(spaces=crank.numerator, circle=crank.denominator, ratio=task.head.ratio).angle
    rule, module = textbook(task.member, cutter.lowest, turned), question.module_mm
    return Way(
        cutter=cutter,
        roll=roll,
        crank=crank,
        settings=Settings(
            cutter_teeth=cutter.lowest,
            roll=turned,
            set_over=rule.set_over if own.set_over is None else float(own.set_over) / module,
            shallower=float(own.trim_shallower or 0) / module,
        ),
    )


def plans_of(question: Cutting) -> Plans:
    """Every plan that was asked for."""
    gear, mate = tasks_of(question)
    by_rule, best = _planned_in_order(gear, mate)
    given = None
    if not (question.own.is_empty and question.mate_try.is_empty):
        ways = (
            best.gear if question.own.is_empty else own_way(question, gear, question.own),
            best.mate if question.mate_try.is_empty else own_way(question, mate, question.mate_try),
        )
        given = _plan((gear, mate), ways)
    return Plans(textbook=by_rule, best=best, given=given)


def _planned_in_order(gear: Task, mate: Task) -> tuple[Plan, Plan]:
    """The textbook's plan and the best, looked for with the fewer teeth first, whichever way it was asked."""
    if gear.member.teeth <= mate.member.teeth:
        return _planned(gear, mate)
    by_rule, best = _planned(mate, gear)
    return _turned_round(by_rule), _turned_round(best)


def _turned_round(plan: Plan) -> Plan:
    return Plan(gear=plan.mate, mate=plan.gear, run=plan.run)


@lru_cache(maxsize=32)
def _planned(first: Task, second: Task) -> tuple[Plan, Plan]:
    """The textbook's plan and the best, kept: a setting that is tried changes neither."""
    tasks = (first, second)
    by_rule = _plan(tasks, (first.start, second.start))
    benches = (first.bench(), second.bench())
    start = (
        benches[0].tried(first.start.settings, first.start.roll),
        benches[1].tried(second.start.settings, second.start.roll),
    )
    if second.held:
        found = best_mate(benches, start, held=1)
    elif first.held:
        found = best_mate(benches, start, held=0)
    else:
        found = best_pair(benches, start)
    best = _plan(tasks, (_way(first, found[0]), _way(second, found[1])))
    return by_rule, best


def _way(task: Task, tried: Tried) -> Way:
    """A way that the search found, with its cutter and its roll."""
    if task.held is not None or tried.roll is None:
        return task.start
    cutter = next(one for one in task.owned if one.lowest == tried.settings.cutter_teeth)
    return Way(cutter=cutter, roll=tried.roll, crank=tried.roll.crank, settings=tried.settings)


def _plan(tasks: tuple[Task, Task], ways: tuple[Way, Way]) -> Plan:
    """A plan with how its pair runs; the fewer teeth first, so that both ways round it is the same."""
    first, second = tasks
    if first.member.teeth <= second.member.teeth:
        run = judged((first.member, second.member), (ways[0].settings, ways[1].settings))
    else:
        run = judged((second.member, first.member), (ways[1].settings, ways[0].settings))
    return Plan(gear=ways[0], mate=ways[1], run=run)
