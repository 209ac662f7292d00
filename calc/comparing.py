"""Kept sums against the part, against each other, and against what today's code makes of them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypedDict

from calc import registry
from calc.answers.indexing_words import row_words
from calc.entries import EntryErrors
from calc.kernel.errors import CalculationError, NoSolution
from calc.kernel.wording import plural
from calc.models import CalculationRecord
from calc.runs import as_json, run


class PartFacts(TypedDict):
    """What the part said of itself when the sum was kept."""

    key: str
    name: str
    facts: dict[str, str]  # what the sum may rest on, each under the name it is spoken of by


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is not the same in two sums."""

    kind: Literal["rule", "entry", "result"]
    name: str
    label: str
    before: str
    after: str


def part_facts(part: Any) -> PartFacts:
    """What a sum on this part rests on, as the part, its mates and its sheet say it now."""
    return {"key": str(part.key), "name": str(part.name), "facts": part.facts_for_sums()}


def changed_facts(record: CalculationRecord, now: PartFacts) -> list[str]:
    """What has changed on the part, a mate or the sheet since the sum was kept; empty where nothing has."""
    was = record.context.get("part")
    if was is None:
        return []
    then, facts = _facts_then(was), now["facts"]
    names = dict.fromkeys([*then, *facts]) if "facts" in was else dict.fromkeys(then)
    pairs = ((name, then.get(name) or "not given", facts.get(name) or "not given") for name in names)
    return [
        f"{name} was {before} when this was kept, is now {after}."
        for name, before, after in pairs
        if before != after
    ]


def _facts_then(was: Mapping[str, Any]) -> dict[str, str]:
    """The facts kept with a sum; the first sums were kept with three of them only."""
    if "facts" in was:
        return dict(was["facts"])
    return {
        "The part's number": str(was["key"]),
        "Sheet": str(was["sheet"]),
        "The part's number of teeth": str(was["teeth"] or ""),
    }


def differences(old: CalculationRecord, new: CalculationRecord) -> list[Difference]:
    """What is not the same in the newer of two sums: its rule, its answer, its entries, its results."""
    found: list[Difference] = []
    if old.revision != new.revision:
        before, after = f"revision {old.revision}", f"revision {new.revision}"
        found.append(Difference("rule", "revision", "Rule", before, after))
    if old.headline != new.headline:
        found.append(Difference("result", "headline", "Answer", old.headline, new.headline))
    found += _entry_differences(old, new)
    typed = {one.name for one in found}
    results = result_differences(old.results, new.results, labels_of(new.key))
    return found + [one for one in results if one.name not in typed]


def _entry_differences(old: CalculationRecord, new: CalculationRecord) -> list[Difference]:
    labels = labels_of(new.key)
    names = dict.fromkeys([*old.entered, *new.entered])
    pairs = ((name, old.entered.get(name, ""), new.entered.get(name, "")) for name in names)
    return [
        Difference("entry", name, labels.get(name, name), before or "—", after or "—")
        for name, before, after in pairs
        if before != after
    ]


def result_differences(
    before: Mapping[str, Any], after: Mapping[str, Any], labels: Mapping[str, str]
) -> list[Difference]:
    """The results that are not the same, each in a few words."""
    names = dict.fromkeys([*before, *after])
    pairs = ((name, before.get(name), after.get(name)) for name in names)
    return [
        Difference("result", name, labels.get(name, name), _words(old, new), _words(new, old))
        for name, old, new in pairs
        if old != new
    ]


def labels_of(key: str) -> dict[str, str]:
    """What each entry and each result of a calculation is called."""
    calculation = registry.get(key)
    if calculation is None:
        return {}
    outputs = {output.name: output.help.partition(",")[0].rstrip(".") for output in calculation.outputs}
    return outputs | {field.name: field.label for field in calculation.inputs}


def _words(value: Any, other: Any) -> str:
    """A result in few words: of a list how many rows, and the first that the other has not."""
    if isinstance(value, list):
        theirs = other if isinstance(other, list) else []
        own = [row for row in value if row not in theirs]
        return plural(len(value), "row") + (f", among them {_row_words(own[0])}" if own else "")
    if isinstance(value, float):
        return f"{value:.6g}"
    if value is None:
        return "—"
    return "yes" if value is True else "no" if value is False else str(value)


def _row_words(row: Any) -> str:
    if isinstance(row, Mapping) and ("circle_a" in row or {"holes", "circle"} <= row.keys()):
        return row_words(row)
    if isinstance(row, Mapping):
        return ", ".join(f"{name.replace('_', ' ')} {part}" for name, part in row.items())
    return str(row)


@dataclass(frozen=True, slots=True)
class Recheck:
    """What today's code makes of a kept sum."""

    record: CalculationRecord
    problem: str  # why it cannot be worked out today; empty where it can
    differences: list[Difference]

    @property
    def agrees(self) -> bool:
        return not self.problem and not self.differences


def recheck(record: CalculationRecord) -> Recheck:
    """Work the kept entries out with today's code, and compare; changes nothing."""
    calculation = registry.get(record.key)
    if calculation is None:
        return Recheck(record, f"there is no calculation “{record.key}” now", [])
    try:
        again = as_json(run(calculation, record.entered, unit=record.unit))
    except EntryErrors as error:
        return Recheck(record, f"the entries are refused now: {error}", [])
    except NoSolution as error:
        return Recheck(record, f"there is no solution now: {error.message}", [])
    except CalculationError as error:
        return Recheck(record, f"it cannot be worked out now: {error}", [])
    labels = labels_of(record.key)
    changed = result_differences(record.inputs, again["inputs"], labels)
    return Recheck(record, "", changed + result_differences(record.results, again["results"], labels))


def recheck_all() -> Iterator[Recheck]:
    """Every kept sum in turn, oldest first."""
    for record in CalculationRecord.objects.select_related("part").order_by("pk").iterator(chunk_size=200):
        yield recheck(record)
