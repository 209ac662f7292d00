"""Kernel room: what must be known of a keyway before it is broached."""

from collections.abc import Iterator

from calc.kernel.broaching_entries import LEAST_ROOM, Broaching
from calc.kernel.broaching_shims import Plan
from calc.kernel.keyway_entries import NAMES
from calc.kernel.keyway_keys import keys
from calc.kernel.working import Caution


def cautions(task: Broaching, plan: Plan) -> Iterator[Caution]:
    """Every caution the answer needs, the weightiest first."""
    yield from _of_depth(task, plan)
    yield from _of_datum(task)
    if not task.is_max_entered:
        yield _limit_taken(task)
    if not task.is_guided:
        yield Caution(
            code="guide-not-checked",
            text="Hub and guide were not both given: a hub longer than the guide is not to be broached.",
        )
    yield Caution(
        code="at-the-press",
        text="Oil the broach, start it square to the ram, let go so that it centres itself, and clear the "
        "chips before each pass. Stand out of its line: a broach can burst. Where it stops, do not strike "
        "it. Measure across the bore before the next stack goes in.",
    )


def _of_depth(task: Broaching, plan: Plan) -> Iterator[Caution]:
    """That the tool and the shims do not come to the depth wanted."""
    deep = sum(plan.stacks[-1]) + task.rise
    if deep > task.depth_max:
        yield Caution(
            code="cuts-too-deep",
            text=f"One pass of this broach cuts {task.size(deep)} from the top of the bore, and "
            f"{task.size(task.depth_max)} is the most: take a broach of less rise.",
        )
    if plan.over is not None:
        yield Caution(
            code="not-deep-enough",
            text=f"The owned shims come to {task.size(deep)} from the top of the bore, "
            f"{task.size(task.depth - deep)} less than wanted; the next stack, {task.size(plan.over)}, would "
            f"cut {task.size(plan.over + task.rise)}, and {task.size(task.depth_max)} is the most. "
            f"A stack of {task.size(task.depth - task.rise)} would do.",
        )


def _of_datum(task: Broaching) -> Iterator[Caution]:
    """That the depth entered is the one at the wall, for a key some standard has."""
    found = []
    for name in ("bs46", "b17.1", "iso773"):
        for key in keys(name):
            if key.width != task.width or key.hub_depth is None:
                continue
            rise = task.chord_rise if key.hub_depth.datum == "side" else 0
            crown = (key.hub_depth.low - rise, key.hub_depth.high - rise)
            if crown[0] <= task.depth <= crown[1]:
                return
            if crown[0] <= task.depth - task.chord_rise <= crown[1]:
                found.append(NAMES[name])
    if found:
        verb = "give" if len(set(found)) > 1 else "gives"
        yield Caution(
            code="looks-like-side-depth",
            text=f"{task.size(task.depth)} is what {' and '.join(dict.fromkeys(found))} {verb} at the wall "
            f"of such a keyway; from the top of the bore that is {task.size(task.depth - task.chord_rise)}. "
            f"Cut as entered it comes {task.size(task.chord_rise)} too deep: look at where it is measured.",
        )


def _limit_taken(task: Broaching) -> Caution:
    room = task.size(task.depth_max - task.depth)
    if task.limit_from:
        whose = f"what {NAMES[task.limit_from]} allows a hub with such a key"
    else:
        whose = (
            f"no standard here has such a key, and {task.size(LEAST_ROOM)} is the least that ISO 773 allows"
        )
    return Caution(
        code="limit-taken",
        text=f"The most the keyway may come to was not entered: {task.size(task.depth_max)} is taken, "
        f"{room} more than wanted, {whose}.",
    )
