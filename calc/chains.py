"""Kept sums that rest on others: which entry was taken from which sum, and whether that still stands."""

import math
import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypedDict

from calc import registry
from calc.comparing import PartFacts, changed_facts, labels_of, part_facts
from calc.models import CalculationRecord, RecordLink

#: No chain is followed further than this: each step is one kept sum that rests on another.
DEEPEST = 12
LONGEST_LABEL = 36
_BARE = re.compile(r"[\d\s./]+")
_FRACTION = re.compile(r"[\d\s/]+")


class Taken(NamedTuple):
    """Where an entry was taken from: a kept sum, and the figure of it as `inputs.teeth`."""

    head: int
    figure: str


# ---- figures of a kept sum ---------------------------------------------------------------------------------


def value_of(record: CalculationRecord, figure: str) -> Any:
    """A figure of a kept sum, named `inputs.teeth`, `results.lead_mm` or `schedule.circle`; None without."""
    room, _, name = figure.partition(".")
    if room == "inputs":
        return record.inputs.get(name)
    if room == "results":
        return record.results.get(name)
    if room == "schedule":
        return record.context.get("answer", {}).get("schedule", {}).get(name)
    return None


def text_of(record: CalculationRecord, figure: str) -> str:
    """The same as a builder would type it, with its unit; empty where there is none."""
    value = value_of(record, figure)
    if value is None or isinstance(value, list | dict):
        return ""
    room, _, name = figure.partition(".")
    if room == "inputs":
        return _typed(record, name, value)
    if name.endswith("_mm"):
        return _by_name(record, name) or _length(float(value), is_metric=_is_metric(record))
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def _typed(record: CalculationRecord, name: str, value: Any) -> str:
    """What was typed there, a bare length with the unit it was read in; else a count or an angle."""
    text, kind = str(record.entered.get(name, "")).strip(), _kind_of(record.key, name)
    if not text:
        return str(value) if kind in ("count", "angle") and isinstance(value, int) else ""
    if kind == "length" and _BARE.fullmatch(text):
        return f"{text} {'in' if record.unit == 'inch' else 'mm'}"
    return text


def _kind_of(key: str, name: str) -> str:
    calculation = registry.get(key)
    inputs = calculation.inputs if calculation else ()
    return next((field.kind for field in inputs if field.name == name), "")


def _by_name(record: CalculationRecord, name: str) -> str:
    """The size of a drill as it is called, where that is a size: `5.1 mm`, `7/32 in`."""
    called = str(record.results.get(name.removesuffix("_mm")) or "")
    if _FRACTION.fullmatch(called) and "/" in called:
        return f"{called} in"
    return called if called.endswith(" mm") else ""


def _is_metric(record: CalculationRecord) -> bool:
    """Whether the sum was shown in millimetres: as its title block says, else by its bare lengths."""
    units = str(record.context.get("answer", {}).get("units", ""))
    return units == "millimetres" if units in ("inches", "millimetres") else record.unit == "mm"


def _length(mm: float, *, is_metric: bool) -> str:
    return f"{round(mm, 4):.7g} mm" if is_metric else f"{round(mm / 25.4, 6):.6g} in"


def label_of(key: str, figure: str) -> str:
    """What a figure is called in a sentence: `bore as measured`; by its own name where that is a long one."""
    name = figure.partition(".")[2]
    label = labels_of(key).get(name, "").removeprefix("Its ").removeprefix("The ")
    if not label or len(label) > LONGEST_LABEL or ":" in label:
        label = name.removesuffix("_mm").replace("_", " ")
    return label[:1].lower() + label[1:]


# ---- keeping the links -------------------------------------------------------------------------------------


class Link(TypedDict):
    """One entry as it was taken from another sum, kept word for word with the record."""

    entry: str
    head: int  # the number of the sum
    key: str  # what kind of sum that is
    figure: str  # `results.hub_crown_depth_mm`
    text: str
    value: Any  # the same in base units


def links_of(record: CalculationRecord) -> list[Link]:
    """What a kept sum rests on, as it was kept."""
    kept: list[Link] = record.context.get("rests_on", [])
    return kept


def links_to_keep(part: Any, entered: Mapping[str, str], taken: Mapping[str, Taken]) -> list[Link]:
    """Those entries whose text is still as another sum of the same part gives it; others were typed over."""
    if part is None or not taken:
        return []
    heads = CalculationRecord.objects.filter(part=part).in_bulk({one.head for one in taken.values()})
    return [
        {
            "entry": entry,
            "head": one.head,
            "key": heads[one.head].key,
            "figure": one.figure,
            "text": entered[entry].strip(),
            "value": value_of(heads[one.head], one.figure),
        }
        for entry, one in taken.items()
        if one.head in heads and _is_unchanged(entered.get(entry, ""), heads[one.head], one.figure)
    ]


def _is_unchanged(typed: str, head: CalculationRecord, figure: str) -> bool:
    text = text_of(head, figure)
    return bool(text) and typed.strip() == text


def write_links(record: CalculationRecord) -> None:
    """The links of a record as rows, so that a sum can be asked what rests on it."""
    RecordLink.objects.bulk_create(
        RecordLink(record=record, entry=link["entry"], head_id=link["head"]) for link in links_of(record)
    )


# ---- whether it still stands -------------------------------------------------------------------------------


def stale_reasons(record: CalculationRecord, now: PartFacts | None = None) -> list[str]:
    """Why a kept sum no longer stands: its part has changed, or a sum that it rests on; empty where it does.

    `now` is what the part says today, for whoever has asked already.
    """
    return stale_of([record], now)[record.pk]


def stale_of(
    kept: Sequence[CalculationRecord],
    now: PartFacts | None = None,
    *,
    among: Sequence[CalculationRecord] | None = None,
) -> dict[int, list[str]]:
    """The same for several sums of one part, by their numbers.

    `among` are all the sums of the part, the newest first; without them the database is asked once for
    those that stand, and only where one of these rests on another.
    """
    part = kept[0].part if kept else None
    if part is None:
        return {record.pk: [] for record in kept}
    if among is None:
        among = _standing_on(part) if any(map(links_of, kept)) else []
    standing = _Standing(among, now or part_facts(part))
    return {record.pk: standing.reasons(record) for record in kept}


def _standing_on(part: Any) -> Sequence[CalculationRecord]:
    """The sums of a part that no newer one of their kind has replaced."""
    found = CalculationRecord.objects.filter(part=part, replaced_by=None)
    return list(found.defer("working", "warnings", "sources"))


class _Standing:
    """The newest sum of each kind that others rest on, and which of them are stale.

    Whatever rests on a stale sum is stale, spread out from those that are so by themselves; a ring of sums
    that rest on one another stands as long as nothing in it has changed.
    """

    def __init__(self, among: Sequence[CalculationRecord], now: PartFacts) -> None:
        self.now = now
        self.newest = _newest_of(among)
        self.stale: dict[int, list[str]] = {}
        self._spread()

    def _spread(self) -> None:
        """Find which of the newest are stale, a step of every chain at a time."""
        for _ in range(min(DEEPEST, len(self.newest) + 1)):
            asked = [record for record in self.newest.values() if record.pk not in self.stale]
            more = {record.pk: found for record in asked if (found := self.reasons(record))}
            if not more:
                return
            self.stale |= more

    def reasons(self, record: CalculationRecord) -> list[str]:
        """What has changed on the part, what was worked out again, and what it rests on that is stale."""
        if record.pk in self.stale:
            return self.stale[record.pk]
        own, links = changed_facts(record, self.now), links_of(record)
        again = [text for link in links if (text := self._worked_again(link))]
        below = [text for link in links if (text := self._below(link, own))]
        return list(dict.fromkeys([*own, *again, *below]))

    def _worked_again(self, link: Link) -> str:
        newest = self.newest.get(link["key"])
        if newest is None or newest.pk == link["head"]:
            return ""
        return "" if _same(value_of(newest, link["figure"]), link["value"]) else _replaced(link, newest)

    def _below(self, link: Link, own: list[str]) -> str:
        """Why the sum it rests on is stale, or the newer one that gives the same figure.

        What the part has changed for both is said once.
        """
        newest = self.newest.get(link["key"])
        if newest is None or self._worked_again(link):
            return ""
        new = [reason for reason in self.stale.get(newest.pk, ()) if reason not in own]
        called_so = _called(newest.pk, newest.key)
        return f"It rests on {_lower(called_so)}, which is stale: {' '.join(new)}" if new else ""


def _newest_of(among: Sequence[CalculationRecord]) -> dict[str, CalculationRecord]:
    """The newest of each kind; they come the newest first."""
    replaced = {record.replaces_id for record in among}
    newest: dict[str, CalculationRecord] = {}
    for record in among:
        if record.pk not in replaced:
            newest.setdefault(record.key, record)
    return newest


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)
    return bool(one == other)


def _replaced(link: Link, newest: CalculationRecord) -> str:
    label, text = label_of(link["key"], link["figure"]), text_of(newest, link["figure"])
    again = f"{_called(link['head'], link['key'])}, was worked out again as sum {newest.pk}"
    if not text:
        return f"{again}, which gives no {label}; it was {link['text']}."
    return f"{again}: its {label} is now {text}, was {link['text']}."


def _called(number: int, key: str) -> str:
    """`Sum 12, keyway`: the number and what kind of sum it is."""
    calculation = registry.get(key)
    return f"Sum {number}, {_lower(calculation.title if calculation else key)}"


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
