"""The register of castings, kept to what the parts name, and what a part needs before it can go on."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Q

from buildlog import changes, clock
from buildlog.actions.stages import Doer, note_history
from buildlog.changes import recording
from buildlog.models import Build, Casting, CastingNeed, CastingNumbers, Mate, Part, PartFirst

BATCH = 200


class NeedRefusedError(ValueError):
    """A need that cannot be; `field` names the entry."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@dataclass(frozen=True)
class Needs:
    """What a part needs, as it is to be."""

    castings: Mapping[Casting, int]  # not its own, and how many have to be here
    firsts: tuple[Part, ...]
    mates: tuple[Part, ...]


def numbers_of(build: Build) -> CastingNumbers:
    """The numbers in the register."""
    return CastingNumbers(build.castings.values_list("number", flat=True))


def register_castings(build: Build) -> None:
    """Give every casting number that a part names a line in the register, called after that part."""
    known = numbers_of(build)
    new: list[Casting] = []
    parts = Part.objects.live().filter(build=build).exclude(casting_number="")
    named = parts.order_by("number_key", "hand").values_list("casting_number", "name", "material")
    for text, name, material in named:
        if known.find(text) is None:
            new.append(Casting(build=build, number=known.name(text), name=name, material=material))
            new[-1].derive()
    changes.came(*Casting.objects.bulk_create(new, batch_size=BATCH))


@transaction.atomic
def set_needs(part: Part, needs: Needs, *, by: Doer) -> None:
    """Make what a part needs what is given and no more; what changed goes into its history.

    Raises
    ------
    NeedRefusedError
        A part would wait for itself, by itself or by way of others.
    """
    _check_order(part, needs.firsts)
    if any(mate.pk == part.pk for mate in needs.mates):
        raise NeedRefusedError("mates", f"{part.key} cannot be its own mate: name another part.")
    with recording(part.build, f"{part.key}: what it needs", by=by) as change:
        change.watch(
            part.casting_needs.all(), part.firsts.all(), Mate.objects.filter(Q(one=part) | Q(other=part))
        )
        told = [
            _told("needs", *_set_castings(part, needs.castings)),
            _told("is made after", *_set_firsts(part, needs.firsts)),
            _told("mates with", *_set_mates(part, needs.mates)),
        ]
        text = "; ".join(words for words in told if words)
        if text:
            note_history(part, text[:1].upper() + text[1:], by=by)


def _check_order(part: Part, firsts: Iterable[Part]) -> None:
    """Nothing may come before itself; told with the part by way of which it would."""
    wanted = {first.pk: first for first in firsts}
    if part.pk in wanted:
        raise NeedRefusedError("firsts", f"{part.key} cannot be made before itself: name another part.")
    pairs = PartFirst.objects.filter(part__build_id=part.build_id).values_list("part_id", "first_id")
    before: dict[int, list[int]] = {}
    for one, first in pairs:
        before.setdefault(one, []).append(first)
    for later in wanted.values():
        if part.pk in _all_before(later.pk, before):
            raise NeedRefusedError(
                "firsts", f"{later.key} itself waits for {part.key}: one of the two has to come first."
            )


def _all_before(start: int, before: Mapping[int, list[int]]) -> set[int]:
    found: set[int] = set()
    todo = [start]
    while todo:
        for pk in before.get(todo.pop(), ()):
            if pk not in found:
                found.add(pk)
                todo.append(pk)
    return found


def _set_castings(part: Part, wanted: Mapping[Casting, int]) -> tuple[list[str], list[str]]:
    standing = {need.casting_id: need for need in part.casting_needs.select_related("casting")}
    keep = {casting.pk for casting in wanted}
    gone = [need for pk, need in standing.items() if pk not in keep]
    new = []
    for casting, quantity in wanted.items():
        need = standing.get(casting.pk)
        if need is None:
            CastingNeed.objects.create(part=part, casting=casting, quantity=quantity, since=clock.today())
            new.append(casting.number)
        elif need.quantity != quantity:
            need.quantity = quantity
            need.save(update_fields=["quantity"])
            new.append(f"{casting.number} × {quantity}")
    CastingNeed.objects.filter(pk__in=[need.pk for need in gone]).delete()
    return new, [need.casting.number for need in gone]


def _set_firsts(part: Part, wanted: Iterable[Part]) -> tuple[list[str], list[str]]:
    standing = {row.first_id: row for row in part.firsts.select_related("first")}
    firsts = {first.pk: first for first in wanted}
    gone = [row for pk, row in standing.items() if pk not in firsts]
    new = [first for pk, first in firsts.items() if pk not in standing]
    for first in new:
        PartFirst.objects.create(part=part, first=first, since=clock.today())
    PartFirst.objects.filter(pk__in=[row.pk for row in gone]).delete()
    return [first.key for first in new], [row.first.key for row in gone]


def _set_mates(part: Part, wanted: Iterable[Part]) -> tuple[list[str], list[str]]:
    standing = {mate.pk: mate for mate in part.mates}
    mates = {mate.pk: mate for mate in wanted}
    gone = [mate for pk, mate in standing.items() if pk not in mates]
    new = [mate for pk, mate in mates.items() if pk not in standing]
    for mate in new:
        one, other = sorted((part, mate), key=lambda each: each.pk)
        Mate.objects.create(one=one, other=other)
    for mate in gone:
        Mate.objects.filter(Q(one=part, other=mate) | Q(one=mate, other=part)).delete()
    return [mate.key for mate in new], [mate.key for mate in gone]


def _told(words: str, new: list[str], gone: list[str]) -> str:
    said = [f"{words} {', '.join(new)}"] if new else []
    said += [f"no longer {words} {', '.join(gone)}"] if gone else []
    return "; ".join(said)
