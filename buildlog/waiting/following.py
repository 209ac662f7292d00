"""What a missing casting holds up, followed through the parts that must be made first."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from buildlog.waiting.facts import Facts
from buildlog.waiting.sharing import Short


@dataclass(slots=True)
class PartWait:
    """What one part waits for."""

    shorts: list[Short] = field(default_factory=list)  # castings it itself has not got
    firsts: list[int] = field(default_factory=list)  # parts to be made before it
    castings: set[int] = field(default_factory=set)  # every casting that holds it up, at whatever remove


@dataclass(frozen=True, slots=True)
class Holding:
    """What one casting holds up."""

    parts: frozenset[int]
    alone: frozenset[int]  # those that wait for no other casting


def follow(facts: Facts, shorts: Iterable[Short]) -> tuple[dict[int, PartWait], dict[int, Holding]]:
    """What each part waits for, and what each missing casting holds up.

    A part waits for a casting that it needs itself, and for every casting that holds up a part which must be
    made before it. A part that is made waits for nothing.
    """
    waits: dict[int, PartWait] = defaultdict(PartWait)
    missing: dict[int, set[int]] = defaultdict(set)
    for short in shorts:
        waits[short.part].shorts.append(short)
        missing[short.casting].add(short.part)
    made = {part.pk: part.is_made for part in facts.parts}
    after: dict[int, list[int]] = defaultdict(list)
    for part, first in facts.firsts:
        if made.get(part) is False and made.get(first) is False:
            waits[part].firsts.append(first)
            after[first].append(part)
    for casting, direct in missing.items():
        for part in _reached(direct, after):
            waits[part].castings.add(casting)
    held: dict[int, set[int]] = defaultdict(set)
    for pk, wait in waits.items():
        for casting in wait.castings:
            held[casting].add(pk)
    return dict(waits), {
        casting: Holding(frozenset(parts), frozenset(pk for pk in parts if waits[pk].castings == {casting}))
        for casting, parts in held.items()
    }


def _reached(direct: Iterable[int], after: Mapping[int, list[int]]) -> set[int]:
    """Those parts, and all that come after them."""
    reached = set(direct)
    waiting = list(reached)
    while waiting:
        for part in after.get(waiting.pop(), ()):
            if part not in reached:
                reached.add(part)
                waiting.append(part)
    return reached
