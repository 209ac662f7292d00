"""Taking in a list: keeping what was read, then writing it into the build, all or nothing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db import transaction

from buildlog import clock
from buildlog.actions.castings import numbers_of, register_castings
from buildlog.actions.parts import TOLD, name_casting
from buildlog.actions.stages import history_line, needed_changed
from buildlog.changes import recording, tie_lines
from buildlog.lists.comparing import PartPlan, Preview, compare
from buildlog.lists.placing import Place
from buildlog.lists.reading import ReadList
from buildlog.models import Assembly, Build, CastingNumbers, HistoryLine, ListDraft, Part, PartUse
from buildlog.models.parts import DERIVED

KEEP_DRAFTS = timedelta(days=7)
BATCH = 200

Doer = AbstractBaseUser | AnonymousUser


@dataclass(frozen=True)
class Outcome:
    """What came of accepting a list."""

    end: Literal["taken", "already", "wrong", "differs", "nothing"]
    preview: Preview | None = None


def keep_draft(build: Build, by: Doer, file_name: str, read: ReadList) -> ListDraft:
    """Keep the rows of a list until it is accepted; drafts a week old go."""
    assert by.pk is not None
    ListDraft.objects.filter(created_at__lt=clock.now() - KEEP_DRAFTS).delete()
    draft: ListDraft = ListDraft.objects.create(
        build=build,
        by_id=by.pk,
        file_name=file_name[-200:],
        how_read=read.how[:200],
        rows=read.as_json(),
        created_at=clock.now(),
    )
    return draft


def list_in(draft: ListDraft) -> ReadList:
    """The list a draft has kept."""
    return ReadList.from_json(draft.how_read, draft.rows)


@transaction.atomic
def take_in_list(draft_id: int, *, by: Doer, shown: str) -> Outcome:
    """Write an accepted list into the build, if it still does what the builder was shown.

    `shown` is the digest of the preview that was looked at. The list is held against the build as it is now;
    where that comes to something else, nothing is written.
    """
    draft = ListDraft.objects.select_for_update().get(pk=draft_id)
    build = Build.objects.select_for_update().get(pk=draft.build_id)
    if draft.accepted_at:
        return Outcome("already")
    preview = compare(build, list_in(draft))
    if preview.counts["wrong"]:
        return Outcome("wrong", preview)
    if preview.digest != shown:
        return Outcome("differs", preview)
    if not preview.can_accept:
        return Outcome("nothing", preview)
    draft.accepted_at = clock.now()
    with recording(build, f"List taken in: {draft.file_name}", by=by) as change:
        change.watch(build.assemblies.all(), build.parts.all(), PartUse.objects.filter(part__build=build))
        write_list(preview, by=by, told=f"by the list {draft.file_name}"[:120], at=draft.accepted_at)
    draft.save(update_fields=["accepted_at"])
    return Outcome("taken", preview)


def write_list(preview: Preview, *, by: Doer, told: str, at: datetime) -> None:
    """Write a preview with nothing wrong in it; call it inside a transaction."""
    build = preview.standing.build
    ids = _made_assemblies(build, preview.assemblies)
    new = [plan for plan in preview.plans if plan.part is None]
    changed = [plan for plan in preview.plans if plan.part is not None]
    known = numbers_of(build)
    made = Part.objects.bulk_create([_new_part(build, plan, known) for plan in new], batch_size=BATCH)
    for plan, part in zip(new, made, strict=True):
        plan.part = part
    lines = [history_line(part, f"Added {told}", by=by, at=at) for part in made]
    lines += _changed_parts(changed, by, told, at, known)
    tie_lines(*HistoryLine.objects.bulk_create(lines, batch_size=BATCH))
    _write_uses(preview.plans, ids)
    register_castings(build)
    for plan in changed:
        if plan.part is not None and plan.needed_after != plan.needed_before:
            needed_changed(plan.part, plan.needed_before, by)


def _made_assemblies(build: Build, places: Iterable[Place]) -> dict[Place, int]:
    return {
        place: Assembly.objects.create(build=build, code=place.code, name=place.name).pk for place in places
    }


def _new_part(build: Build, plan: PartPlan, known: CastingNumbers) -> Part:
    values: dict[str, Any] = dict(plan.values)
    part = Part(build=build, number=plan.key[0], hand=plan.key[1], **values)
    name_casting(part, None, known)
    part.derive()
    return part


def _changed_parts(
    plans: Iterable[PartPlan], by: Doer, told: str, at: datetime, known: CastingNumbers
) -> list[HistoryLine]:
    parts, lines, fields = [], [], set[str]()
    for plan in plans:
        part = plan.part
        if part is None or not plan.values:
            continue
        said = [
            f"{TOLD[name]} {getattr(part, name) or 'nothing'} to {value or 'nothing'}"
            for name, value in plan.values.items()
            if name in TOLD
        ] or ["notes"]
        before = part.casting_number
        for name, value in plan.values.items():
            setattr(part, name, value)
        name_casting(part, before, known)
        part.derive()
        parts.append(part)
        fields.update(plan.values)
        lines.append(history_line(part, f"Changed {told}: {', '.join(said)}", by=by, at=at))
    if parts:
        Part.objects.bulk_update(
            parts, [*fields, "casting_number", "casting_since", *DERIVED], batch_size=BATCH
        )
    return lines


def _write_uses(plans: Sequence[PartPlan], ids: dict[Place, int]) -> None:
    new = [
        PartUse(part=plan.part, assembly_id=use.place.pk or ids[use.place], quantity=use.quantity)
        for plan in plans
        for use in plan.new_uses
    ]
    changed = []
    for use in (use for plan in plans for use in plan.changed_uses):
        if use.stands is not None:
            use.stands.quantity = use.quantity
            changed.append(use.stands)
    PartUse.objects.bulk_create(new, batch_size=BATCH)
    if changed:
        PartUse.objects.bulk_update(changed, ["quantity"], batch_size=BATCH)
