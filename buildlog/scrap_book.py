"""Questions put to the scrap book: its totals by cause, what it says of a part, where a lesson stands."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet, Sum

from buildlog.models import Cause, Part, Scrap, ShowOn, Spoilt, Told

PART_LINES = 6


@dataclass
class Total:
    """What a cause has cost; of all causes together, it has none."""

    cause: str
    label: str
    entries: int = 0
    scrap: int = 0
    rework: int = 0
    minutes: int = 0


def totals(found: "QuerySet[Scrap]") -> tuple[list[Total], Total]:
    """Pieces and hours by cause, in the order of the causes, and in all; in one query."""
    by_cause = {cause.value: Total(cause.value, cause.label) for cause in Cause}
    in_all = Total("", "In all")
    rows = found.order_by().values("cause", "kind")
    for row in rows.annotate(entries=Count("pk"), pieces=Sum("count"), lost=Sum("minutes")):
        for total in (by_cause[row["cause"]], in_all):
            total.entries += row["entries"]
            total.minutes += row["lost"] or 0
            if row["kind"] == Spoilt.SCRAP:
                total.scrap += row["pieces"]
            else:
                total.rework += row["pieces"]
    return [total for total in by_cause.values() if total.entries], in_all


@dataclass(frozen=True, slots=True)
class PartScrap:
    """What the scrap book says of a part: its own entries, and the lessons of its other hand."""

    own: list[tuple[Scrap, str]]  # each with its lesson, where the note of the part does not say it already
    of_twin: list[Scrap]
    more: bool


def scrap_of(part: Part) -> PartScrap:
    """The newest entries about a part; in one query."""
    asked = Q(part=part)
    if part.hand:
        twin = Q(part__number=part.number) & ~Q(part__hand__in=("", part.hand))
        asked |= twin & ~Q(lesson="")
    found = list(
        Scrap.objects.live().filter(asked, build=part.build_id).select_related("part")[: PART_LINES + 1]
    )
    shown, note = found[:PART_LINES], part.lesson.casefold()
    unsaid = {one.pk: one.lesson for one in shown if one.lesson.casefold() not in note}
    return PartScrap(
        [(one, unsaid.get(one.pk, "")) for one in shown if one.part_id == part.pk],
        [one for one in shown if one.part_id != part.pk and one.pk in unsaid],
        len(found) > PART_LINES,
    )


def still_to_tell(scrap: Scrap, told: Iterable[str]) -> list[str]:
    """Whose next card the lesson will be printed on, in words."""
    if not scrap.lesson or scrap.binned_at:
        return []
    wanted = [Told.PART]
    if scrap.part.hand:
        wanted.append(Told.TWIN)
    if scrap.show_on == ShowOn.OPERATION:
        wanted.append(Told.OPERATION)
    done = set(told)
    return [
        f"{one.label}, {scrap.operation}" if one is Told.OPERATION else one.label
        for one in wanted
        if one not in done
    ]
