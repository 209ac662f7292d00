"""How a build stands: every casting, what it holds up and since when, and what each part waits for."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from buildlog import clock
from buildlog.models import Build, Casting
from buildlog.waiting.counting import Count, Held, count_castings, count_lines
from buildlog.waiting.facts import Facts, PartFact, facts_of
from buildlog.waiting.following import Holding, PartWait, follow
from buildlog.waiting.sharing import Share, Short, share_out, shortages

NOTHING = PartWait()
NONE_HELD = Holding(frozenset(), frozenset())


@dataclass(frozen=True)
class Standing:
    """All that can be said of waiting in a build on a day."""

    facts: Facts
    today: date
    counts: dict[tuple[int, int | None], Count]
    held: dict[int, Held]
    shares: dict[int, Share]
    shorts: list[Short]
    waits: dict[int, PartWait]
    holdings: dict[int, Holding]
    parts: dict[int, PartFact] = field(default_factory=dict)

    @property
    def castings(self) -> dict[int, Casting]:
        return self.facts.castings

    def wait_of(self, part: int) -> PartWait:
        """What one part waits for."""
        return self.waits.get(part, NOTHING)

    def held_of(self, casting: int) -> Held:
        return self.held.get(casting) or Held()

    def holding_of(self, casting: int) -> Holding:
        return self.holdings.get(casting, NONE_HELD)

    def is_waiting(self, part: int) -> bool:
        """Whether a part waits for a casting, for a part to be made first, or for what was typed."""
        fact = self.parts.get(part)
        if fact is None or fact.is_made:
            return False
        wait = self.wait_of(part)
        return bool(wait.castings or wait.firsts or fact.typed)

    @property
    def waiting(self) -> set[int]:
        """Every part that waits for something."""
        return {pk for pk in self.parts if self.is_waiting(pk)}

    @property
    def held_up(self) -> set[int]:
        """Every part that waits for a casting, at whatever remove."""
        return {pk for pk, wait in self.waits.items() if wait.castings}

    @property
    def missing(self) -> list[int]:
        """Castings that something waits for, those that hold up most first."""
        castings = self.facts.castings
        return sorted(self.holdings, key=lambda pk: (-len(self.holdings[pk].parts), castings[pk].number_key))

    @cached_property
    def _shorts(self) -> dict[int, list[Short]]:
        """What is missing, casting by casting."""
        found: dict[int, list[Short]] = defaultdict(list)
        for short in self.shorts:
            found[short.casting].append(short)
        return found

    def short_of(self, casting: int) -> int:
        """How many are missing: parts that only have to have it here want one and the same."""
        shorts = self._shorts.get(casting, [])
        own = sum(short.quantity for short in shorts if short.is_own)
        return max([own, *(short.quantity for short in shorts if not short.is_own)])

    def since(self, casting: int) -> date | None:
        """The first day of those on which parts began to wait for it."""
        days = [short.since for short in self._shorts.get(casting, []) if short.since]
        return min(days) if days else None

    def contested(self) -> list[int]:
        """Castings on hand that more parts claim than they can serve."""
        return [casting for casting, share in self.shares.items() if share.is_contested]


def standing_of(build: Build) -> Standing:
    """How a build stands today."""
    return work_out(facts_of(build), clock.today())


def work_out(facts: Facts, today: date) -> Standing:
    """How things stand, from the facts alone."""
    counts = count_lines(facts.events)
    held = count_castings(counts, facts.lines)
    shares = share_out(facts, held)
    shorts = shortages(facts, held, shares)
    waits, holdings = follow(facts, shorts)
    return Standing(
        facts=facts,
        today=today,
        counts=counts,
        held=held,
        shares=shares,
        shorts=shorts,
        waits=waits,
        holdings=holdings,
        parts={part.pk: part for part in facts.parts},
    )
