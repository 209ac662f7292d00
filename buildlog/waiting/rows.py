"""What the page of the stores tabulates: assemblies that wait and for which castings, all worked out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from buildlog.clock import day_words
from buildlog.models import Casting
from buildlog.waiting.places import Place
from buildlog.waiting.standing import Standing
from buildlog.waiting.words import Stands, stands

NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip
NOWHERE = "Used nowhere yet"


@dataclass(frozen=True)
class OrderRef:
    """An order on which a casting is still to come."""

    pk: int
    number: str
    is_claim: bool


@dataclass(frozen=True)
class CastingRow:
    """A casting that is waited for; its counts are over the whole build."""

    casting: Casting
    short: int
    orders: tuple[OrderRef, ...]
    stands: Stands
    since: str
    holds_up: int
    alone: int


@dataclass(frozen=True)
class PlaceRows:
    """An assembly that waits, how many of its parts do, and for which castings."""

    place: Place
    waiting: int
    castings: tuple[CastingRow, ...]


@dataclass(frozen=True)
class WaitingTable:
    """The whole table, with what its head and its foot say."""

    standing: Standing
    places: tuple[Place, ...]
    rows: tuple[PlaceRows, ...]
    castings: tuple[CastingRow, ...]  # each once, those that hold up most first

    @property
    def idle(self) -> tuple[Place, ...]:
        """Assemblies that have parts, and wait for no casting."""
        waiting = {row.place for row in self.rows}
        return tuple(place for place in self.places if place.parts and place not in waiting)

    @property
    def assemblies(self) -> int:
        return sum(1 for row in self.rows if row.place.assembly is not None)

    @cached_property
    def parts(self) -> int:
        """Parts that wait, each counted once."""
        return len(self.standing.held_up)

    @property
    def assemblies_words(self) -> str:
        return _many(self.assemblies, "assembly", "assemblies")

    @property
    def castings_words(self) -> str:
        return _many(len(self.castings), "casting")

    @property
    def orders_words(self) -> str:
        """`3 orders, 1 claim`."""
        refs = {ref for row in self.castings for ref in row.orders}
        orders = {ref.pk for ref in refs if not ref.is_claim}
        claims = sum(1 for row in self.castings for ref in row.orders if ref.is_claim)
        said = [_many(len(orders), "order")] if orders else []
        said += [_many(claims, "claim")] if claims else []
        return ", ".join(said) or "none ordered"

    @property
    def stands_words(self) -> str:
        """`2 overdue, 2 not ordered`."""
        late = sum(1 for row in self.castings if row.stands.overdue)
        none = sum(1 for row in self.castings if row.stands.mark == "no")
        said = [f"{late} overdue"] if late else []
        said += [f"{none} not ordered"] if none else []
        return ", ".join(said) or "none overdue"

    @property
    def head(self) -> str:
        """`8 of 9 assemblies wait, 46 parts, for 11 of the 74 castings; 63 are on hand and accepted.`"""
        total, missing = len(self.standing.castings), set(self.standing.missing)
        here = sum(
            1 for pk in self.standing.castings if pk not in missing and self.standing.held_of(pk).good > 0
        )
        rest = total - len(missing) - here
        said = f"{_count(here, 'is', 'are')} on hand and accepted" if here else "none is on hand yet"
        if rest:
            said += (
                f"; nothing waits for the other {rest}" if rest > 1 else "; nothing waits for the other one"
            )
        if not missing:
            return f"No part waits for a casting. Of {_many(total, 'casting')}, {said}."
        with_parts = sum(1 for place in self.places if place.parts)
        wait = "waits" if self.assemblies == 1 else "wait"
        return (
            f"{self.assemblies} of {_many(with_parts, 'assembly', 'assemblies')} {wait}, "
            f"{_many(self.parts, 'part')}, for {len(missing)} of the {_many(total, 'casting')}; {said}."
        )

    @property
    def remarks(self) -> tuple[str, ...]:
        """What the counts of the table mean, with its own figures."""
        meant = (
            "“Holds up” counts the parts that cannot go on without it, in the whole engine; “it alone” those "
            "that wait for no other casting."
        )
        found = (meant, self._overlap(), self._twice(), self._idle_words())
        return tuple(words for words in found if words)

    def _overlap(self) -> str:
        """Why the counts of one assembly's castings do not add up to its parts."""
        for row in self.rows:
            pks = [one.casting.pk for one in row.castings]
            sets = {pk: self.standing.holding_of(pk).parts for pk in pks}
            both = max(
                combinations(pks, 2), key=lambda pair: len(sets[pair[0]] & sets[pair[1]]), default=None
            )
            if both and (common := sets[both[0]] & sets[both[1]]):
                return self._overlap_words(row, both, len(common))
        return ""

    def _overlap_words(self, row: PlaceRows, both: tuple[int, int], common: int) -> str:
        sets = {one.casting.pk: self.standing.holding_of(one.casting.pk).parts for one in row.castings}
        greater, lesser = sorted(both, key=lambda pk: -len(sets[pk]))
        numbers = self.standing.castings[greater].number, self.standing.castings[lesser].number
        one = common == 1
        if common == len(sets[lesser]):
            want = "wants" if one else "want"
            said = f"The {_many(common, 'part')} that {want} {numbers[1]} also {want} {numbers[0]}"
        else:
            said = f"{_many(common, 'part')} {'wants' if one else 'want'} both {numbers[0]} and {numbers[1]}"
        held, added = len(frozenset().union(*sets.values())), sum(len(parts) for parts in sets.values())
        return (
            f"{said}, so the {_word(len(sets))} castings under {row.place.name} hold up {held}, not {added}."
        )

    def _twice(self) -> str:
        """What stands under two assemblies, and is counted once below."""
        added = sum(row.waiting for row in self.rows)
        listed = sum(len(row.castings) for row in self.rows)
        found = []
        if listed > len(self.castings):
            found.append("A casting that several assemblies wait for stands under each of them.")
        if added > self.parts:
            found.append("Parts used in several assemblies count in each, and once in the total.")
        return " ".join(found)

    def _idle_words(self) -> str:
        idle = self.idle
        if not idle or not self.rows:
            return ""
        of = _word(len(idle) + self.assemblies)
        names = f": {'; '.join(place.name for place in idle)}" if len(idle) <= 4 else ""
        wait = "waits" if len(idle) == 1 else "wait"
        return f"{_word(len(idle)).capitalize()} of the {of} {wait} for no casting{names}."


@dataclass(frozen=True)
class OverdueOrder:
    """An order with castings that should have come and hold something up."""

    ref: OrderRef
    supplier: str
    castings: tuple[Casting, ...]
    days: int
    holds_up: int
    alone: tuple[tuple[Casting, int], ...]
    longest_before: int | None  # days from order to first delivery, of all that this supplier has sent


@dataclass(frozen=True)
class Contest:
    """A casting on hand that more parts claim than it can serve."""

    casting: Casting
    good: int
    rejected: int
    reason: str
    keys: tuple[tuple[int, str], ...]  # the parts that claim it

    @property
    def words(self) -> str:
        """`one good, one rejected for a blowhole`."""
        bad = f", {_word(self.rejected)} rejected" if self.rejected else ""
        why = f" ({self.reason})" if bad and self.reason else ""
        return f"{_word(self.good)} good{bad}{why}"

    @property
    def title(self) -> str:
        """`One on hand, two claims`."""
        return f"{_word(self.good).capitalize()} on hand, {_word(len(self.keys))} claims"


def table_of(standing: Standing, places: Sequence[Place]) -> WaitingTable:
    """What waits, assembly by assembly, most held up first."""
    held_up = standing.held_up
    castings = {pk: casting_row(standing, pk) for pk in standing.missing}
    used: frozenset[int] = frozenset().union(*(place.parts for place in places))
    rows = []
    for place in (*places, Place(None, NOWHERE, "", frozenset(held_up - used))):
        if waiting := held_up & place.parts:
            wanted = [row for pk, row in castings.items() if standing.holding_of(pk).parts & waiting]
            rows.append(PlaceRows(place, len(waiting), tuple(wanted)))
    rows.sort(key=lambda row: -row.waiting)
    return WaitingTable(standing, tuple(places), tuple(rows), tuple(castings.values()))


def casting_row(standing: Standing, pk: int) -> CastingRow:
    """How one casting stands that is waited for."""
    holding = standing.holding_of(pk)
    return CastingRow(
        casting=standing.castings[pk],
        short=standing.short_of(pk),
        orders=orders_of(standing, pk),
        stands=stands(standing, pk),
        since=day_words(standing.since(pk), standing.today),
        holds_up=len(holding.parts),
        alone=len(holding.alone),
    )


def orders_of(standing: Standing, pk: int) -> tuple[OrderRef, ...]:
    """The orders on which a casting is still to come."""
    owed = standing.held_of(pk).owed
    return tuple(OrderRef(one.line.order, one.line.number, one.is_claim) for one in owed)


def overdue_orders(standing: Standing) -> list[OverdueOrder]:
    """Orders whose castings are late and hold something up, those that hold up most first."""
    late: dict[int, dict[int, int]] = {}
    lines = {line.order: line for line in standing.facts.lines}
    for pk in standing.missing:
        for owed in standing.held_of(pk).owed:
            if days := owed.overdue(standing.today):
                castings = late.setdefault(owed.line.order, {})
                castings[pk] = max(days, castings.get(pk, 0))
    before = waits_before(standing)
    found = []
    for order, castings in late.items():
        held: frozenset[int] = frozenset().union(*(standing.holding_of(pk).parts for pk in castings))
        alone = [(standing.castings[pk], len(standing.holding_of(pk).alone)) for pk in castings]
        line = lines[order]
        found.append(
            OverdueOrder(
                ref=OrderRef(order, line.number, is_claim=False),
                supplier=line.supplier,
                castings=tuple(standing.castings[pk] for pk in castings),
                days=max(castings.values()),
                holds_up=len(held),
                alone=tuple(one for one in alone if one[1]),
                longest_before=max(before.get(line.supplier, []), default=None),
            )
        )
    return sorted(found, key=lambda one: (-one.holds_up, one.ref.number))


def waits_before(standing: Standing) -> dict[str, list[int]]:
    """Days from the order to the first delivery, of every line that came, by supplier."""
    found: dict[str, list[int]] = {}
    lines = {line.pk: line for line in standing.facts.lines}
    for (_, line), count in standing.counts.items():
        if line is not None and count.first_received_on:
            days = (count.first_received_on - lines[line].ordered_on).days
            found.setdefault(lines[line].supplier, []).append(max(days, 0))
    return found


def unordered(standing: Standing) -> list[int]:
    """Castings that something waits for and nobody was asked for, those that hold up most first."""
    found = [pk for pk in standing.missing if not standing.held_of(pk).owed]
    return [pk for pk in found if not standing.held_of(pk).unseen]


def contests(standing: Standing) -> list[Contest]:
    """Castings on hand that several parts claim, to be allotted by hand."""
    found = []
    for pk in standing.contested():
        share, held = standing.shares[pk], standing.held_of(pk)
        loose = share.good - share.used - sum(min(one.allotted, one.got) for one in share.claims)
        keys = [(one.part, standing.parts[one.part].key) for one in share.claims if one.wanted > one.allotted]
        found.append(Contest(standing.castings[pk], loose, held.rejected, held.reason, tuple(keys)))
    return found


def to_look_at(standing: Standing) -> list[tuple[Casting, int | None, int]]:
    """What came and was not looked at yet: casting, line of an order or none, how many."""
    found = [
        (standing.castings[casting], line, count.unseen)
        for (casting, line), count in standing.counts.items()
        if count.unseen
    ]
    return sorted(found, key=lambda one: (one[0].number_key, one[1] or 0))


def state_of(standing: Standing, pk: int) -> Stands:
    """How any casting stands, whether something waits for it or not."""
    held = standing.held_of(pk)
    if pk in standing.holdings or held.unseen or held.owed:
        return stands(standing, pk)
    share = standing.shares.get(pk)
    used = share.used if share else 0
    if held.good > used:
        return Stands("ok", "is-done", f"{held.good - used} on hand{f', {used} used' if used else ''}", "—")
    if used:
        return Stands("ok", "is-done", "used: what it is for is made", "—")
    return Stands("", "is-open", "nothing waits for it", "—")


def many_words(count: int, one: str) -> str:
    """`1 part`, `2 parts`."""
    return _many(count, one)


def listed(words: Iterable[str]) -> str:
    """`A, B and C`."""
    return _listed(list(words))


def _listed(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _word(number: int) -> str:
    """A small number as a word."""
    return NUMBERS[number] if 0 <= number < len(NUMBERS) else str(number)


def _many(count: int, one: str, more: str = "") -> str:
    return f"{count} {one if count == 1 else more or one + 's'}"


def _count(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"
