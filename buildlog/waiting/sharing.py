"""What is on hand of a casting, given to the parts that want it; what is left short, and since when."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from buildlog.models import Happening
from buildlog.waiting.counting import Held
from buildlog.waiting.facts import Event, Facts, NeedFact, PartFact


@dataclass(frozen=True, slots=True)
class Short:
    """A part that has not got all it wants of a casting."""

    part: int
    casting: int
    quantity: int
    since: date | None
    is_own: bool


@dataclass(frozen=True, slots=True)
class Claim:
    """A part that wants a casting of its own and is not made yet."""

    part: int
    wanted: int
    allotted: int  # by hand
    got: int  # of what is on hand


@dataclass(frozen=True, slots=True)
class Share:
    """How what is on hand of one casting is shared out."""

    good: int
    used: int  # gone into parts that are made
    claims: tuple[Claim, ...]  # in the order of the parts

    @property
    def free(self) -> int:
        """On hand, good, and wanted by nobody."""
        return self.good - self.used - sum(claim.got for claim in self.claims)

    @property
    def is_contested(self) -> bool:
        """Something on hand is not allotted, and more parts want it than it can serve."""
        open_claims = [claim for claim in self.claims if claim.wanted > claim.allotted]
        loose = self.good - self.used - sum(min(claim.allotted, claim.got) for claim in self.claims)
        wanted = sum(claim.wanted - claim.allotted for claim in open_claims)
        return len(open_claims) > 1 and 0 < loose < wanted


def share_out(facts: Facts, held: Mapping[int, Held]) -> dict[int, Share]:
    """The share of every casting that is some part's own.

    Parts that are made have had theirs; then what was allotted by hand counts, in the order of allotting, as
    far as the good ones go; what is left goes to the other claims in the order of the parts.
    """
    claimants: dict[int, list[PartFact]] = defaultdict(list)
    for part in facts.parts:
        if part.casting is not None:
            claimants[part.casting].append(part)
    allotments = _allotments(facts.events)
    return {
        casting: _share(held[casting].good if casting in held else 0, wanting, allotments.get(casting, []))
        for casting, wanting in claimants.items()
    }


def _allotments(events: Sequence[Event]) -> dict[int, list[tuple[int, int]]]:
    """What was allotted of each casting, (part, how many), the first first.

    What was found bad on a part comes off what was allotted to it last.
    """
    found: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for event in events:
        if event.part is None:
            continue
        if event.kind == Happening.ALLOTTED:
            found[event.casting].append((event.part, event.quantity))
        elif event.kind == Happening.FOUND_BAD:
            _take_back(found[event.casting], event.part, event.quantity)
    return found


def _take_back(allotments: list[tuple[int, int]], part: int, quantity: int) -> None:
    for place in reversed(range(len(allotments))):
        whose, allotted = allotments[place]
        if whose == part:
            taken = min(allotted, quantity)
            allotments[place] = (part, allotted - taken)
            quantity -= taken


def _share(good: int, wanting: Sequence[PartFact], allotments: Sequence[tuple[int, int]]) -> Share:
    ordered = sorted(wanting, key=lambda part: part.order)
    left = good - min(good, sum(part.wanted for part in ordered if part.is_made))
    used = good - left
    wanted = {part.pk: part.wanted for part in ordered if not part.is_made}
    allotted, got = dict.fromkeys(wanted, 0), dict.fromkeys(wanted, 0)
    for pk, quantity in allotments:
        given = min(quantity, wanted.get(pk, 0) - allotted.get(pk, 0))
        if given > 0:
            allotted[pk] += given
            got[pk] += min(left, given)
            left -= min(left, given)
    for pk in wanted:
        more = min(left, wanted[pk] - got[pk])
        got[pk] += more
        left -= more
    return Share(good, used, tuple(Claim(pk, wanted[pk], allotted[pk], got[pk]) for pk in wanted))


def shortages(facts: Facts, held: Mapping[int, Held], shares: Mapping[int, Share]) -> list[Short]:
    """Every part that is not made and has not got a casting it needs."""
    parts = {part.pk: part for part in facts.parts}
    found = []
    for casting, share in shares.items():
        for claim in share.claims:
            if claim.got < claim.wanted:
                since = _since(parts[claim.part].since, held.get(casting))
                found.append(Short(claim.part, casting, claim.wanted - claim.got, since, is_own=True))
    found += [
        Short(need.part, need.casting, missing, _since(need.since, held.get(need.casting)), is_own=False)
        for need in facts.needs
        if (missing := _missing(need, parts, held))
    ]
    return found


def _missing(need: NeedFact, parts: Mapping[int, PartFact], held: Mapping[int, Held]) -> int:
    """How many are missing of a casting that is another part's: it has to be here, it is not used up."""
    part = parts.get(need.part)
    if part is None or part.is_made or part.casting == need.casting:
        return 0
    good = held[need.casting].good if need.casting in held else 0
    return max(need.quantity - good, 0)


def _since(need: date | None, held: Held | None) -> date | None:
    """The day the need arose, or of the rejection that came after it."""
    days = [day for day in (need, held.last_rejected_on if held else None) if day]
    return max(days) if days else None
