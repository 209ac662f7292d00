"""How waiting is said: in what state a casting is that is waited for, in a few words."""

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date, timedelta

from buildlog.clock import day_words
from buildlog.models import Casting
from buildlog.waiting.sharing import Short
from buildlog.waiting.standing import Standing


@dataclass(frozen=True)
class Stands:
    """How a casting stands: its mark, its ink and its words."""

    mark: str  # "late", "no", "wait", "ok"
    ink: str  # "is-stop", "is-wait", "is-done": the class of the ink
    words: str
    order: str  # "O-017", "claim, O-016", "not ordered", "—"
    overdue: int = 0  # days


def stands(standing: Standing, casting: int) -> Stands:
    """How a casting stands that something waits for."""
    held = standing.held_of(casting)
    short = standing.short_of(casting) if casting in standing.holdings else 0
    contested = standing.shares.get(casting)
    if held.unseen:
        return _with_unseen(standing, casting, short)
    if not held.owed:
        if contested and contested.is_contested:
            return Stands(
                "wait", "is-wait", f"{held.good} on hand, more claim it; none ordered", "not ordered"
            )
        if held.rejected and short:
            return Stands("no", "is-stop", "rejected; none ordered in its place", "not ordered")
        return Stands("no", "is-stop", "not ordered", "not ordered")
    return _still_owed(standing, casting, short - held.to_come)


def _with_unseen(standing: Standing, casting: int, short: int) -> Stands:
    """How a casting stands of which some are here and were not looked at yet."""
    held = standing.held_of(casting)
    here, wanting = f"{held.unseen} here, to be looked at", short - held.unseen
    if wanting <= 0 or not held.owed:
        more = f"; {wanting} more not ordered" if wanting > 0 else ""
        return Stands("wait", "is-wait", here + more, _order(standing, casting))
    owed = _still_owed(standing, casting, wanting - held.to_come)
    return replace(owed, words=f"{here}; {owed.words}")


def _still_owed(standing: Standing, casting: int, not_ordered: int) -> Stands:
    """How a casting stands of which some are owed: by the first day promised."""
    first, today = standing.held_of(casting).owed[0], standing.today
    more = f"; {not_ordered} more not ordered" if not_ordered > 0 else ""
    late = first.overdue(today)
    if late:
        days = f"{late} day{'' if late == 1 else 's'}"
        words = f"overdue {days}, promised {day_words(first.promised_on, today)}{more}"
        return Stands("late", "is-stop", words, _order(standing, casting), late)
    return Stands("wait", "is-wait", _promise(first.promised_on, today) + more, _order(standing, casting))


def _order(standing: Standing, casting: int) -> str:
    """The orders it is owed on: `O-017`, `claim, O-016`."""
    owed = standing.held_of(casting).owed
    said = [f"{'claim, ' if one.is_claim else ''}{one.line.number}" for one in owed]
    return ", ".join(said) or "—"


def _promise(promised: date | None, today: date) -> str:
    if promised is None:
        return "no date given"
    if promised == today:
        return "promised today"
    if promised == today + timedelta(days=1):
        return "promised tomorrow"
    return f"promised {day_words(promised, today)}"


@dataclass(frozen=True)
class WaitLine:
    """One thing a part waits for, or wants to be looked at, as a page shows it."""

    mark: str
    ink: str
    words: str  # after the link
    casting: Casting | None = None
    part: int | None = None
    part_words: str = ""  # of the link to that part
    since: date | None = None


def lines_of(standing: Standing, part: int) -> list[WaitLine]:
    """What one part waits for, line by line: castings, parts to be made first, what was typed."""
    fact = standing.parts.get(part)
    if fact is None or fact.is_made:
        return []
    wait = standing.wait_of(part)
    lines = [_of_casting(standing, short) for short in wait.shorts]
    lines += [_of_first(standing, first) for first in wait.firsts]
    if fact.typed:
        lines.append(WaitLine("wait", "is-wait", fact.typed, since=fact.typed_since))
    share = standing.shares.get(fact.casting) if fact.casting else None
    if fact.casting and share and share.is_contested and not any(one.is_own for one in wait.shorts):
        rivals = [standing.parts[one.part].key for one in share.claims if one.part != part]
        words = f"is on hand and claimed by {', '.join(rivals)} too: allot it"
        lines.append(WaitLine("wait", "is-wait", words, casting=standing.castings[fact.casting]))
    return lines


def _of_casting(standing: Standing, short: Short) -> WaitLine:
    how = stands(standing, short.casting)
    casting = standing.castings[short.casting]
    many = f" × {short.quantity}" if short.quantity > 1 else ""
    rivals = _rivals(standing, short)
    words = f"{casting.name}{many}: {how.words}{rivals}".strip()
    return WaitLine(how.mark, how.ink, words, casting=casting, since=short.since)


def _rivals(standing: Standing, short: Short) -> str:
    """Who has, or claims, what is on hand of it."""
    share = standing.shares.get(short.casting)
    if not short.is_own or share is None:
        return ""
    keys = [standing.parts[one.part].key for one in share.claims if one.got and one.part != short.part]
    return f"; what is on hand is claimed by {', '.join(keys)}" if keys else ""


def _of_first(standing: Standing, first: int) -> WaitLine:
    fact = standing.parts[first]
    castings = sorted(standing.castings[pk].number for pk in standing.wait_of(first).castings)
    held = f" (waits for {', '.join(castings)})" if castings else ""
    return WaitLine(
        "wait", "is-wait", f"to be made first{held}", part=first, part_words=f"{fact.key} {fact.name}"
    )


def short_words(standing: Standing, part: int) -> str:
    """What a part waits for in the few words of a list; empty where it waits for nothing."""
    fact = standing.parts.get(part)
    if fact is None or fact.is_made:
        return ""
    wait = standing.wait_of(part)
    own = sorted({short.casting for short in wait.shorts}, key=lambda pk: standing.castings[pk].number_key)
    said = [f"{standing.castings[pk].number} {stands(standing, pk).words}" for pk in own[:1]]
    said += [standing.castings[pk].number for pk in own[1:]]
    if wait.firsts:
        firsts = ", ".join(standing.parts[first].key for first in wait.firsts)
        others = sorted(standing.castings[pk].number for pk in wait.castings - set(own))
        said.append(f"{firsts} first{', which waits for ' + ', '.join(others) if others else ''}")
    return "; ".join([*said, *([fact.typed] if fact.typed else [])])


def waiting_since(standing: Standing, part: int) -> date | None:
    """The first day of those since which a part waits; None where it does not, or nobody knows."""
    fact = standing.parts.get(part)
    if fact is None or not standing.is_waiting(part):
        return None
    days = [standing.since(casting) for casting in standing.wait_of(part).castings] + [fact.typed_since]
    return min((day for day in days if day), default=None)


def missing_in(standing: Standing, parts: Collection[int]) -> list[tuple[Casting, Stands, int]]:
    """The castings some of these parts wait for: how each stands, and how many of these it holds up."""
    found = []
    for casting in standing.missing:
        held = len(standing.holdings[casting].parts.intersection(parts))
        if held:
            found.append((standing.castings[casting], stands(standing, casting), held))
    return sorted(found, key=lambda one: -one[2])
