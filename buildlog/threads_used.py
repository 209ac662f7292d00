"""The threads of a build: where each is used, what looks alike, what the words of parts say besides."""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from django.db.models import F, Prefetch, QuerySet, Value

from buildlog.models import Assembly, Build, Part, PartUse, Side, ThreadUse
from buildlog.queries import branch_ids
from calc.threads_named import Found, Named, Near, found_in, named, near_among, shown

#: What a part says in words that may name a thread, and what each is called on its page.
WORDS = (("name", "name"), ("leading_size", "leading size"), ("notes", "notes"), ("lesson", "lesson"))
#: The first word of a part's name that tells on which side its thread is.
OUTSIDE = {"bolt", "stud", "screw", "set", "setscrew", "grub", "plug"}
INSIDE = {"nut", "nuts"}


@dataclass
class Used:
    """One thread of a build: what is known of it, its look-alikes there, and all places it is used at."""

    known: Named
    near: tuple[Near, ...] = ()
    uses: list[ThreadUse] = field(default_factory=list)

    @property
    def parts(self) -> int:
        return len({use.part_id for use in self.uses})

    @property
    def pieces(self) -> int:
        """How many of the thread are on the whole engine."""
        return sum(use.count * place.quantity for use in self.uses for place in use.part.uses.all())

    @property
    def by_assembly(self) -> list[tuple[Assembly | None, list[ThreadUse]]]:
        """The places by assembly, in the order of the balloons; those used nowhere yet at the end."""
        found: dict[Assembly | None, list[ThreadUse]] = defaultdict(list)
        for use in self.uses:
            places: list[Assembly | None] = [*_assemblies(use.part)]
            for place in places or [None]:
                found[place].append(use)
        return sorted(
            found.items(), key=lambda pair: (pair[0] is None, pair[0].balloon_key if pair[0] else "")
        )


def threads_of(build: Build) -> list[Used]:
    """Every thread that a part in use of the build has, by its diameter over the thread; in two queries."""
    found: dict[str, Used] = {}
    for use in _live_uses(build):
        if use.thread not in found:
            found[use.thread] = Used(named(use.thread))
        found[use.thread].uses.append(use)
    for name, others in near_among(found).items():
        found[name].near = others
    return sorted(found.values(), key=lambda used: (used.known.over_mm, used.known.name))


def _live_uses(build: Build) -> QuerySet[ThreadUse]:
    places = Prefetch("part__uses", PartUse.objects.select_related("assembly"))
    live = ThreadUse.objects.filter(part__build=build, part__binned_at=None)
    return (
        live.select_related("part").prefetch_related(places).order_by("part__number_key", "part__hand", "pk")
    )


def _assemblies(part: Part) -> list[Assembly]:
    return [use.assembly for use in part.uses.all()]


def thread_names(build: Build) -> list[str]:
    """The threads used in a build by name, the smallest first."""
    live = ThreadUse.objects.filter(part__build=build, part__binned_at=None).order_by()
    names = live.values_list("thread", flat=True).distinct()
    return sorted(names, key=lambda name: (named(name).over_mm, name))


# ---- on the page of one part -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class OfPart:
    """The threads of one part, and those of them that have a look-alike on the same engine."""

    uses: list[ThreadUse]
    alike: list[tuple[str, Near]]  # the thread of the part as it is shown, the other one


def of_part(part: Part) -> OfPart:
    """The part's threads, held to those of all the build; in one query."""
    mine = ThreadUse.objects.filter(part=part).order_by()
    build = ThreadUse.objects.filter(part__build_id=part.build_id, part__binned_at=None).order_by()
    # The names of the build come in the same query, as rows of no number.
    rows = mine.values_list("pk", "thread", "where", "count", "side").union(
        build.values_list(Value(0), F("thread"), Value(""), Value(0), Value(""))
    )
    found = sorted(rows)
    uses = [
        ThreadUse(pk=pk, part=part, thread=thread, where=where, count=count, side=side)
        for pk, thread, where, count, side in found
        if pk
    ]
    near = near_among(row[1] for row in found)
    names = dict.fromkeys(use.thread for use in uses)
    return OfPart(uses, [(shown(name), other) for name in names for other in near.get(name, ())])


# ---- named in words ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Offer:
    """A thread that the words of a part name and its list of threads does not."""

    part: Part
    found: Found
    label: str  # what the words are: name, leading size, notes
    text: str
    side: Side
    has_others: bool  # the part says other threads already

    @property
    def pick(self) -> str:
        """How it is ticked on a page."""
        return f"{self.part.pk}:{self.found.name}"

    @property
    def shown(self) -> str:
        return shown(self.found.name)


def offers_of(build: Build) -> list[Offer]:
    """What the words of the parts name and no thread of theirs says yet; in two queries."""
    said: dict[int, set[str]] = defaultdict(set)
    live = ThreadUse.objects.filter(part__build=build, part__binned_at=None)
    for part_id, name in live.order_by().values_list("part_id", "thread"):
        said[part_id].add(name)
    columns = ("build_id", "number", "hand", "number_key", *(name for name, _ in WORDS[:3]))
    offers: list[Offer] = []
    for part in Part.objects.live().filter(build=build).only(*columns):
        offers += _offers(part, said[part.pk])
    return offers


def _offers(part: Part, said: set[str]) -> list[Offer]:
    found: dict[str, Offer] = {}
    for name, label in WORDS[:3]:
        text = getattr(part, name)
        for one in found_in(text):
            key = one.name or one.as_written
            if one.name not in said and key not in found:
                found[key] = Offer(part, one, label, text, side_of(part.name), bool(said))
    return list(found.values())


def side_of(name: str) -> Side:
    """On which side the thread of a part of this name is, where its first words tell."""
    words = {word.strip(",.").casefold() for word in name.split()[:2]}
    if words & INSIDE:
        return Side.INSIDE
    return Side.OUTSIDE if words & OUTSIDE else Side.UNSAID


# ---- where a change of many would reach --------------------------------------------------------------------


@dataclass
class Place:
    """A place that has the thread to be changed: what reaches beyond, and what else speaks of it."""

    use: ThreadUse
    inside: list[Assembly]
    outside: list[Assembly]  # assemblies that were not asked for, in which the part is used too
    also: list[tuple[str, str]]  # what the words are, the words
    is_ticked: bool = True

    @property
    def is_made(self) -> bool:
        return self.use.part.stage_mark.is_made

    @property
    def is_doubted(self) -> bool:
        """Whether there is something to think of before it is changed."""
        return self.is_made or bool(self.outside)


def places_of(build: Build, thread: str, assembly: Assembly | None) -> list[Place]:
    """Every place of a thread in an assembly with its branch, or in the whole build; in three queries.

    A part that is used outside the assembly too is listed unticked: the change would reach there as well.
    """
    branch = set(branch_ids(build, assembly)) if assembly else None
    places = [_place(use, branch) for use in _live_uses(build).filter(thread=thread)]
    return [place for place in places if branch is None or place.inside]


def _place(use: ThreadUse, branch: set[int] | None) -> Place:
    used = _assemblies(use.part)
    inside = [one for one in used if branch is None or one.pk in branch]
    outside = [one for one in used if one not in inside]
    texts = ((label, getattr(use.part, name)) for name, label in WORDS)
    also = [(label, text) for label, text in texts if any(one.name == use.thread for one in found_in(text))]
    return Place(use, inside, outside, also, is_ticked=not outside)


def digest_of(places: Iterable[Place]) -> str:
    """What a preview showed, so that it is not done to something else."""
    rows: Sequence[tuple[object, ...]] = sorted(
        (place.use.pk, place.use.thread, place.use.where, place.use.count, place.use.part_id)
        for place in places
    )
    return hashlib.sha256(repr(rows).encode()).hexdigest()
