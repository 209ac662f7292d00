"""How waiting is said: in what state a casting is that is waited for, in a few words."""

from dataclasses import dataclass
from datetime import date, timedelta

from buildlog.clock import day_words
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
    held, today = standing.held_of(casting), standing.today
    short = standing.short_of(casting) if casting in standing.holdings else 0
    contested = standing.shares.get(casting)
    if held.unseen:
        return Stands("wait", "is-wait", f"{held.unseen} here, to be looked at", _order(standing, casting))
    if not held.owed:
        if contested and contested.is_contested:
            return Stands(
                "wait", "is-wait", f"{held.good} on hand, more claim it; none ordered", "not ordered"
            )
        if held.rejected and short:
            return Stands("no", "is-stop", "rejected; none ordered in its place", "not ordered")
        return Stands("no", "is-stop", "not ordered", "not ordered")
    first = held.owed[0]
    late = first.overdue(today)
    if late:
        words = (
            f"overdue {late} day{'' if late == 1 else 's'}, promised {day_words(first.promised_on, today)}"
        )
        return Stands("late", "is-stop", words, _order(standing, casting), late)
    return Stands("wait", "is-wait", _promise(first.promised_on, today), _order(standing, casting))


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
