"""Making and changing parts: numbers, uses, hands, the bin."""

from collections.abc import Mapping

from django.db import transaction

from buildlog import changes, clock
from buildlog.actions.bins import put_in_bin, take_from_bin
from buildlog.actions.castings import numbers_of, register_castings
from buildlog.actions.stages import Doer, needed_changed, note_history
from buildlog.changes import recording, row_of
from buildlog.models import Assembly, Build, CastingNumbers, Hand, Part, PartUse
from buildlog.models.parts import DERIVED

#: What a change of a record is told by in its history.
TOLD = {
    "number": "number",
    "hand": "hand",
    "name": "name",
    "kind": "kind",
    "material": "made of",
    "leading_size": "leading size",
    "sheet": "sheet",
    "casting_number": "casting number",
    "weight": "weight",
}
BATCH = 200
#: What an entry about a part writes: counts and stage are never among it, so that none is lost meanwhile.
TYPED = (*TOLD, "castings_each", "casting_since", "notes", "lesson", "waits_for", "waits_since")


@transaction.atomic
def save_part(part: Part, uses: Mapping[Assembly, int], *, by: Doer) -> Part:
    """Write a part and where it is used; what changed goes into its history."""
    old = Part.objects.filter(pk=part.pk).first() if part.pk else None
    before = old.needed if old else 0
    if not part.waits_for:
        part.waits_since = None
    elif part.waits_since is None or (old and old.waits_for != part.waits_for):
        part.waits_since = clock.today()
    with recording(part.build, f"{part.key} {'changed' if old else 'added'}", by=by) as change:
        if old:
            change.watch(row_of(part))
        name_casting(part, old.casting_number if old else None, numbers_of(part.build))
        part.save(update_fields=[*TYPED, *DERIVED] if old else None)
        if not old:
            change.came(part)
        set_uses(part, uses)
        register_castings(part.build)
        if old is None:
            note_history(part, "Added", by=by)
            return part
        changed = [
            f"{words} {_said(old, name)} to {_said(part, name)}"
            for name, words in TOLD.items()
            if _differs(old, part, name)
        ]
        if changed:
            note_history(part, "Changed: " + ", ".join(changed), by=by)
        needed_changed(part, before, by)
        return part


def name_casting(part: Part, before: str | None, known: CastingNumbers) -> None:
    """Write the casting's number as the register has it, and the day the part came to need it."""
    part.casting_number = known.name(part.casting_number)
    if not part.casting_number:
        part.casting_since = None
    elif part.casting_since is None or part.casting_number != before:
        part.casting_since = clock.today()


@transaction.atomic
def name_own_casting(part: Part, number: str, each: int, *, by: Doer) -> None:
    """Say which casting a part is made of, and how many castings go to one part."""
    before, before_each = part.casting_number, part.castings_each
    part.casting_number, part.castings_each = number, each
    name_casting(part, before, numbers_of(part.build))
    if (part.casting_number, each) == (before, before_each):
        return
    with recording(part.build, f"{part.key}: casting number", by=by) as change:
        change.watch(row_of(part))
        part.save(update_fields=["casting_number", "castings_each", "casting_since", *DERIVED])
        register_castings(part.build)
        many = f", {each} to one part" if each > 1 else ""
        said = f"{before or 'nothing'} to {part.casting_number or 'nothing'}{many}"
        note_history(part, f"Changed: casting number {said}", by=by)


@transaction.atomic
def change_quantity(use: PartUse, quantity: int, *, by: Doer) -> None:
    """Change how many are used in one assembly; the needed number follows at once."""
    with recording(use.part.build, f"{use.part.key}: {quantity} used in {use.assembly}", by=by) as change:
        change.watch(row_of(use))
        before = use.part.needed
        use.quantity = quantity
        use.save(update_fields=["quantity"])
        needed_changed(use.part, before, by)


def set_uses(part: Part, uses: Mapping[Assembly, int]) -> None:
    """Make the uses of a part those given, and no others."""
    changes.watch(part.uses.all())
    part.uses.exclude(assembly__in=list(uses)).delete()
    for assembly, quantity in uses.items():
        PartUse.objects.update_or_create(part=part, assembly=assembly, defaults={"quantity": quantity})
    part.forget_needed()


@transaction.atomic
def split_hands(
    part: Part, quantities: Mapping[str, int], assembly: Assembly, *, by: Doer
) -> tuple[Part, Part]:
    """Make a part without a hand into twin records, left and right, with a quantity each.

    The record itself becomes the left one and keeps its history; counts stay with it.
    """
    right = Part(
        build=part.build, number=part.number, hand=Hand.RIGHT, name=part.name, kind=part.kind,
        material=part.material, leading_size=part.leading_size, sheet=part.sheet,
        casting_number=part.casting_number, castings_each=part.castings_each, weight=part.weight,
        notes=part.notes, lesson=part.lesson,
    )  # fmt: skip
    part.hand = Hand.LEFT
    with recording(part.build, f"{part.number} made left and right", by=by) as change:
        change.watch(row_of(part))
        save_part(part, {assembly: quantities["L"]}, by=by)
        save_part(right, {assembly: quantities["R"]}, by=by)
        return part, right


def bin_part(part: Part, *, by: Doer) -> None:
    """Put a part in the bin: nothing of it is lost, and its key is free again."""
    put_in_bin(part, part.build, part.key, by=by, part=part)


@transaction.atomic
def restore_part(part: Part, *, by: Doer) -> None:
    """Take a part out of the bin.

    Raises
    ------
    ValueError
        Its number and hand have been given to another part meanwhile.
    """
    if not part.binned_at:
        return
    taken = Part.objects.live().filter(build=part.build, number=part.number, hand=part.hand)
    if taken.exists():
        raise ValueError(
            f"{part.key} has been given to another part. Renumber that one first, then take this one back."
        )
    take_from_bin(part, part.build, part.key, by=by, part=part)


def read_sizes_again(build: Build) -> None:
    """Follow a change of what a bare number is in: the same words are now another size."""
    sized = build.parts.exclude(leading_size="")
    changes.watch(sized)
    parts = list(sized)
    for part in parts:
        part.derive()
    Part.objects.bulk_update(parts, ["size_nm"], batch_size=BATCH)


def _differs(old: Part, new: Part, name: str) -> bool:
    return bool(getattr(old, name) != getattr(new, name))


def _said(part: Part, name: str) -> str:
    return str(getattr(part, name)) or "nothing"
