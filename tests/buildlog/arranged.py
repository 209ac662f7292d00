"""The balloons of a build as its general arrangement shows them."""

from buildlog.arrangement import Balloon, balloons_of, ground_of
from buildlog.models import Build
from buildlog.queries import assembly_tree
from buildlog.waiting.standing import standing_of


def balloons(build: Build, errata: frozenset[int] = frozenset()) -> list[Balloon]:
    standing = standing_of(build)
    branches = [branch for top in assembly_tree(build, standing) for branch in top.walk()]
    return balloons_of(ground_of(build), branches, standing, set(errata))
