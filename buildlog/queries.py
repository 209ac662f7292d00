"""Questions put to the whole build."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db import models

from buildlog.models import (
    Assembly,
    Build,
    LogEntry,
    Part,
    PartQuerySet,
    PartUse,
    SheetIssue,
    Stage,
)
from buildlog.searching import sought
from buildlog.waiting.standing import Standing
from calc.measures import EntryError, parse_size

BAR_WIDTH = 160


@dataclass(frozen=True)
class Tally:
    """How far a number of part records has come."""

    total: int = 0
    made: int = 0
    in_hand: int = 0
    waiting: int = 0
    finished: int = 0  # painted, or on the engine

    @property
    def not_started(self) -> int:
        return self.total - self.made - self.in_hand

    @property
    def all_finished(self) -> bool:
        """Every one painted, or on the engine."""
        return bool(self.total) and self.finished == self.total

    @property
    def all_made(self) -> bool:
        return bool(self.total) and self.made == self.total

    @property
    def made_width(self) -> str:
        return self._width(self.made)

    @property
    def in_hand_width(self) -> str:
        return self._width(self.in_hand)

    @property
    def waiting_width(self) -> str:
        return self._width(min(self.waiting, self.total - self.made - self.in_hand))

    @property
    def wait_at(self) -> str:
        return self._width(self.made + self.in_hand)

    @property
    def arc(self) -> str:
        """The share made as a dash of a ring of 100 units."""
        return f"{100 * self.made / self.total:.1f}" if self.total else "0"

    def _width(self, count: int) -> str:
        return f"{BAR_WIDTH * count / self.total:.1f}" if self.total else "0"


@dataclass
class Branch:
    """An assembly with its place in the tree and the tally of all that hangs on it."""

    assembly: Assembly
    depth: int
    tally: Tally = field(default_factory=Tally)
    children: "list[Branch]" = field(default_factory=list)
    parts: frozenset[int] = frozenset()

    def walk(self) -> "Iterable[Branch]":
        """This branch and all below it, in order."""
        yield self
        for child in self.children:
            yield from child.walk()


def assembly_tree(build: Build, standing: Standing) -> list[Branch]:
    """The tree of a build's assemblies, each with the tally of its branch, in two queries."""
    below = _by_parent(build)
    parts = _stages(standing)
    used: dict[int, set[int]] = defaultdict(set)
    for assembly_id, part_id in PartUse.objects.filter(assembly__build=build).values_list(
        "assembly_id", "part_id"
    ):
        if part_id in parts:
            used[assembly_id].add(part_id)

    def grow(assembly: Assembly, depth: int) -> tuple[Branch, set[int]]:
        grown = [grow(child, depth + 1) for child in below[assembly.pk]]
        ids = used[assembly.pk].union(*(found for _, found in grown))
        tally = _tally(parts[pk] for pk in ids)
        return Branch(assembly, depth, tally, [child for child, _ in grown], frozenset(ids)), ids

    return [grow(top, 0)[0] for top in below[None]]


def whole_engine(standing: Standing) -> Tally:
    """The tally of every part record of a build, each counted once."""
    return _tally(_stages(standing).values())


def _stages(standing: Standing) -> dict[int, tuple[Stage, bool]]:
    """The stage of every part, and whether it waits."""
    waiting = standing.waiting
    return {pk: (Stage(part.stage), pk in waiting) for pk, part in standing.parts.items()}


def branch_ids(build: Build, assembly: Assembly) -> list[int]:
    """The assembly and all that hang on it."""
    below = _by_parent(build)
    ids = [assembly.pk]
    for pk in ids:  # The list grows while it is walked.
        ids += [child.pk for child in below[pk]]
    return ids


def _by_parent(build: Build) -> dict[int | None, list[Assembly]]:
    below: dict[int | None, list[Assembly]] = defaultdict(list)
    for assembly in build.assemblies.all():
        below[assembly.parent_id].append(assembly)
    return below


def parts_of(build: Build, assembly: Assembly) -> PartQuerySet:
    """The parts used anywhere in an assembly's branch, each once."""
    used = PartUse.objects.filter(part=models.OuterRef("pk"), assembly_id__in=branch_ids(build, assembly))
    return Part.objects.live().with_needed().filter(models.Exists(used), build=build)


def find_parts(parts: PartQuerySet, text: str, units: str) -> PartQuerySet:
    """Those that hold every word looked for, or whose leading size is the size looked for."""
    wanted = models.Q()
    for piece in sought(text):
        wanted &= models.Q(search_text__contains=piece)
    try:
        size = parse_size(text, "inch" if units == "inch" else "mm")
    except EntryError:
        size = None
    if size and size.measure:
        wanted |= models.Q(size_nm=round(size.measure.base * 1_000_000))
    return parts.filter(wanted)


def last_entries(part: Part, count: int) -> "models.QuerySet[LogEntry]":
    """The latest that was written in the log about a part."""
    return part.log.select_related("by")[:count]


def issue_now(build: Build) -> dict[str, str]:
    """The issue that each sheet of the register is worked to, by the number of the sheet: {"12": "B"}."""
    found = SheetIssue.objects.filter(drawing__build=build).order_by("recorded_at", "pk")
    return dict(found.values_list("drawing__number", "issue"))


def _tally(found: Iterable[tuple[Stage, bool]]) -> Tally:
    total = made = in_hand = waiting = finished = 0
    for stage, waits in found:
        total += 1
        made += stage.is_made
        in_hand += stage is Stage.IN_HAND
        waiting += waits and not stage.is_made
        finished += stage in (Stage.PAINTED, Stage.ON_ENGINE)
    return Tally(total, made, in_hand, waiting, finished)
