"""Kernel room: the stacks of shims behind a broach, out of those owned, each piece once in a stack."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from calc.kernel.broaching_entries import Broaching
from calc.kernel.errors import NoSolution

#: The pieces of every stack that can be made, by its thickness; the empty one is that of the first pass.
Stacks = dict[Fraction, tuple[Fraction, ...]]


@dataclass(frozen=True, slots=True)
class Plan:
    """The stacks of each pass in order, the first of them empty. [mm]"""

    stacks: tuple[tuple[Fraction, ...], ...]
    over: Fraction | None  # the least stack that would reach the depth, where it cuts too deep


def plan_of(task: Broaching) -> Plan:
    """The fewest passes that the owned shims allow.

    Raises
    ------
    NoSolution
        A stack is missing; says which shims would make it.
    """
    if task.depth <= task.rise:
        return Plan(((),), None)
    plan, _ = _tried(task, task.shims)
    if plan is None:
        raise _missing(task)
    return plan


def _tried(task: Broaching, shims: Sequence[Fraction]) -> tuple[Plan | None, Fraction]:
    """The plan with these shims; where there is none, the stack beyond which they leave too great a step."""
    wanted = task.depth - task.rise
    made = stacks_of(shims, wanted)
    last, over = _last(made, wanted, task)
    goal = max(stack for stack in made if stack < wanted) if last is None else last
    chain = _chain(made, goal, task.rise)
    if last is None or chain[-1] < last:
        return None, chain[-1]
    return Plan(tuple(made[stack] for stack in chain), over), chain[-1]


def stacks_of(shims: Sequence[Fraction], wanted: Fraction) -> Stacks:
    """Every stack up to the first that reaches what is wanted, with the fewest pieces; in whole parts."""
    parts = lcm(wanted.denominator, *(shim.denominator for shim in shims))
    enough = int(wanted * parts)
    made: dict[int, tuple[Fraction, ...]] = {0: ()}
    for shim in sorted(shims, reverse=True):
        for stack, pieces in list(made.items()):
            total = stack + int(shim * parts)
            # Nothing is laid on a stack that reaches: it would only be the thicker.
            if stack < enough and (total not in made or len(made[total]) > len(pieces) + 1):
                made[total] = (*pieces, shim)
    return {Fraction(stack, parts): pieces for stack, pieces in made.items()}


def _last(made: Stacks, wanted: Fraction, task: Broaching) -> tuple[Fraction | None, Fraction | None]:
    """The stack of the last pass, none where no stack will do; and the one that would cut too deep."""
    reaching = min((stack for stack in made if stack >= wanted), default=None)
    if reaching is None or reaching + task.rise <= task.depth_max:
        return reaching, None
    # The empty stack is only the first pass over again; and where a whole pass is short, a shim is missing.
    below = max(stack for stack in made if stack < wanted)
    return below if below and wanted - below < task.rise else None, reaching


def _chain(made: Stacks, last: Fraction, rise: Fraction) -> list[Fraction]:
    """The stacks from none to the last, each as thick as the rise lets it be; or as far as they go."""
    steps = [stack for stack in made if stack <= last]
    chain = [Fraction(0)]
    while (following := max(stack for stack in steps if stack <= chain[-1] + rise)) > chain[-1]:
        chain.append(following)
    return chain


def missing_shims(task: Broaching) -> list[Fraction]:
    """The shims that would have to be added, one after the other, for the stacks to reach the depth."""
    added: list[Fraction] = []
    while True:
        plan, foot = _tried(task, [*task.shims, *added])
        if plan is not None:
            return added
        added.append(min(task.rise, task.depth - task.rise - foot))


def _missing(task: Broaching) -> NoSolution:
    shims = missing_shims(task)
    named = " and ".join(task.size(shim) for shim in shims)
    have = ", ".join(task.size(shim) for shim in task.shims) or "none"
    lead, verb = ("A shim", "is") if len(shims) == 1 else ("Shims", "are")
    return NoSolution(
        f"{lead} of {named} {verb} missing. The last pass wants {task.size(task.depth - task.rise)} behind "
        f"the broach, reached by steps of its rise, {task.size(task.rise)}, at most; owned: {have}.",
        [f"{lead} of {named} besides those owned.", "A broach of a greater rise."],
    )
