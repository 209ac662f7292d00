"""The register of castings, line by line, and what a casting's page tells of it: worked out, never typed."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from buildlog.clock import day_words
from buildlog.models import Casting
from buildlog.waiting.counting import Count
from buildlog.waiting.facts import LineFact, PartFact
from buildlog.waiting.rows import state_of
from buildlog.waiting.standing import Standing
from buildlog.waiting.words import Stands


@dataclass(frozen=True)
class RegisterLine:
    """One casting of the register."""

    casting: Casting
    wanted: int  # by all the parts whose own it is, spoiled ones among them
    good: int
    unseen: int
    to_come: int
    promised: str  # the first day on which some are promised
    short: int
    holds_up: int
    stands: Stands
    parts: tuple[PartFact, ...]  # whose own it is
    found_by: str  # what it is found by, in small letters


@dataclass(frozen=True)
class ClaimLine:
    """A part whose own casting it is, and how it stands with it."""

    part: PartFact
    wanted: int
    got: int
    allotted: int
    can_have: int  # so many more can be allotted to it by hand


@dataclass(frozen=True)
class BuyLine:
    """A line of an order with what happened to it, for one casting."""

    line: LineFact
    count: Count
    promised: str
    overdue: int


def lines_of(standing: Standing) -> list[RegisterLine]:
    """Every casting of the build, in the order of the numbers."""
    parts = own_parts(standing)
    orders = _orders(standing)
    return [_line(standing, pk, parts.get(pk, []), orders[pk]) for pk in standing.castings]


def line_of(standing: Standing, pk: int) -> RegisterLine:
    """One casting of the register."""
    return _line(standing, pk, own_parts(standing).get(pk, []), _orders(standing)[pk])


def _line(standing: Standing, pk: int, parts: Iterable[PartFact], orders: Iterable[LineFact]) -> RegisterLine:
    casting, held = standing.castings[pk], standing.held_of(pk)
    own = tuple(parts)
    said = [casting.number, casting.name, casting.material, casting.note]
    said += [f"{part.key} {part.name}" for part in own] + [f"{one.number} {one.supplier}" for one in orders]
    return RegisterLine(
        casting=casting,
        wanted=sum(part.wanted for part in own),
        good=held.good,
        unseen=held.unseen,
        to_come=held.to_come,
        promised=day_words(held.owed[0].promised_on, standing.today) if held.owed else "",
        short=standing.short_of(pk) if pk in standing.holdings else 0,
        holds_up=len(standing.holding_of(pk).parts),
        stands=state_of(standing, pk),
        parts=own,
        found_by=" ".join(said).casefold(),
    )


def own_parts(standing: Standing) -> dict[int, list[PartFact]]:
    """The parts whose own casting each is, by casting, in the order of the parts."""
    found: dict[int, list[PartFact]] = defaultdict(list)
    for part in standing.facts.parts:
        if part.casting is not None:
            found[part.casting].append(part)
    return {pk: sorted(parts, key=lambda part: part.order) for pk, parts in found.items()}


def _orders(standing: Standing) -> dict[int, list[LineFact]]:
    found: dict[int, list[LineFact]] = defaultdict(list)
    for line in standing.facts.lines:
        found[line.casting].append(line)
    return found


def find(lines: Iterable[RegisterLine], text: str, show: str) -> list[RegisterLine]:
    """Those that hold every word looked for and are in the state asked for."""
    words = text.casefold().split()
    return [line for line in lines if all(word in line.found_by for word in words) and _is(line, show)]


def _is(line: RegisterLine, show: str) -> bool:
    match show:
        case "waited":
            return bool(line.holds_up)
        case "none":
            return bool(line.holds_up) and not line.to_come and not line.unseen
        case "owed":
            return bool(line.to_come)
        case "look":
            return bool(line.unseen)
        case "here":
            return line.good > 0
    return True


def claims_of(standing: Standing, pk: int) -> list[ClaimLine]:
    """The parts whose own casting it is: those made, which have had theirs, and those that claim it."""
    share = standing.shares.get(pk)
    if share is None:
        return []
    claims = {claim.part: claim for claim in share.claims}
    loose = share.good - share.used - sum(claim.allotted for claim in share.claims)
    found = []
    for part in own_parts(standing).get(pk, []):
        claim = claims.get(part.pk)
        can_have = min(claim.wanted - claim.allotted, max(loose, 0)) if claim else 0
        got, allotted = (claim.got, claim.allotted) if claim else (part.wanted, 0)
        found.append(ClaimLine(part, part.wanted, got, allotted, can_have))
    return found


def needs_of(standing: Standing, pk: int) -> list[tuple[PartFact, int]]:
    """Parts that cannot go on without it though it is another's, and how many have to be here."""
    needs = [need for need in standing.facts.needs if need.casting == pk and need.part in standing.parts]
    found = [(standing.parts[need.part], need.quantity) for need in needs]
    return sorted(found, key=lambda one: one[0].order)


def behind(standing: Standing, pk: int) -> list[PartFact]:
    """Parts that it holds up by way of others, which have to be made before them."""
    direct = {short.part for short in standing.shorts if short.casting == pk}
    parts = [standing.parts[one] for one in standing.holding_of(pk).parts - direct]
    return sorted(parts, key=lambda one: one.order)


def buy_lines(standing: Standing, pk: int) -> list[BuyLine]:
    """The lines on which it was ordered, the latest order first."""
    owed = {one.line.pk: one.overdue(standing.today) for one in standing.held_of(pk).owed}
    found = []
    for line in standing.facts.lines:
        if line.casting == pk:
            count = standing.counts.get((pk, line.pk), Count())
            promised = day_words(count.promised_on, standing.today) if count.owed else ""
            found.append(BuyLine(line, count, promised, owed.get(line.pk, 0)))
    return sorted(found, key=lambda one: (one.line.ordered_on, one.line.pk), reverse=True)
