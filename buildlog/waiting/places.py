"""Where parts are: the top assemblies of a build, each with every part used anywhere in its branch."""

from collections import defaultdict
from dataclasses import dataclass

from buildlog.models import Build, PartUse


@dataclass(frozen=True, slots=True)
class Place:
    """A top assembly, or the parts that are used nowhere yet."""

    assembly: int | None
    name: str
    balloon: str
    parts: frozenset[int]


def places_of(build: Build) -> tuple[Place, ...]:
    """The top assemblies in the order of their balloons, in two queries."""
    assemblies = list(build.assemblies.all())
    parent = {one.pk: one.parent_id for one in assemblies}
    parts: dict[int, set[int]] = defaultdict(set)
    uses = PartUse.objects.filter(assembly__build=build, part__binned_at=None)
    for assembly, part in uses.values_list("assembly_id", "part_id"):
        parts[_top(assembly, parent)].add(part)
    return tuple(
        Place(one.pk, one.name, one.balloon, frozenset(parts[one.pk]))
        for one in assemblies
        if one.parent_id is None
    )


def _top(assembly: int, parent: dict[int, int | None]) -> int:
    while (above := parent[assembly]) is not None:
        assembly = above
    return assembly
