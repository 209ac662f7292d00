"""What the build has now, fetched once, so that a list of any length is held against it in three queries."""

from collections import defaultdict
from dataclasses import dataclass, field

from buildlog.models import Assembly, Build, Part, PartUse

Key = tuple[str, str]


@dataclass
class Standing:
    """The parts of a build by number and hand, their uses, its assemblies."""

    build: Build
    assemblies: list[Assembly]
    parts: dict[Key, Part] = field(default_factory=dict)
    binned: set[Key] = field(default_factory=set)
    uses: dict[int, dict[int, PartUse]] = field(default_factory=lambda: defaultdict(dict))

    @property
    def code_of(self) -> dict[int, str]:
        return {assembly.pk: assembly.code for assembly in self.assemblies}


def standing_of(build: Build) -> Standing:
    standing = Standing(build, list(build.assemblies.all()))
    for part in build.parts.all():
        key = (part.number, part.hand)
        if part.binned_at:
            standing.binned.add(key)
        else:
            standing.parts[key] = part
    for use in PartUse.objects.filter(part__build=build, part__binned_at=None):
        standing.uses[use.part_id][use.assembly_id] = use
    return standing
