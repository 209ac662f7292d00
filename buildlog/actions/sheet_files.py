"""Files of drawings: brought in one by one, put in the bin and taken back."""

import logging
from typing import Any
from uuid import UUID

from django.core.files.base import File
from django.db import transaction

from buildlog import clock
from buildlog.actions.bins import put_in_bin, take_from_bin
from buildlog.changes import Doer, recording
from buildlog.kept_files import FULL_DISK, Brought, digest_of, has_original, short_name, store_original
from buildlog.models import Drawing, SheetFile, SheetIssue
from buildlog.sheet_limits import SheetError
from buildlog.sheet_pages import Sheet, read_sheet
from buildlog.sheet_previews import keep_small

log = logging.getLogger(__name__)


def bring_in_sheet(issue: SheetIssue, file: "File[Any]", *, by: Doer, token: UUID) -> Brought[SheetFile]:
    """Keep one file of an issue, or say why not; nothing of it is stored by half.

    The same bytes are one file of an issue. The same token and bytes are one bringing in, told twice.
    """
    name, sha256 = short_name(file.name or ""), digest_of(file)
    known = issue.files.filter(sha256=sha256).select_related("issue__drawing").first()
    if known and has_original(known):
        return _known(name, known, by=by, token=token)
    try:
        sheet = read_sheet(file)
        kept = _described(issue, sheet, name, sha256, file.size or 0)
        store_original(file, kept)
    except SheetError as wrong:
        return Brought(name, state="wrong", why=str(wrong))
    except OSError:
        log.exception("A drawing could not be written")
        return Brought(name, state="wrong", why=FULL_DISK)
    if sheet.small:
        keep_small(kept, sheet.small)
    return _enter(kept, by=by, token=token)


def _described(issue: SheetIssue, sheet: Sheet, name: str, sha256: str, size: int) -> SheetFile:
    return SheetFile(
        issue=issue, sha256=sha256, kind=sheet.kind, size=size, file_name=name, pages=sheet.pages,
        width=sheet.width, height=sheet.height,
    )  # fmt: skip


@transaction.atomic
def _enter(kept: SheetFile, *, by: Doer, token: UUID) -> Brought[SheetFile]:
    """Write the row; whoever sends the same bytes in the same moment finds it."""
    SheetIssue.objects.select_for_update().get(pk=kept.issue_id)
    known = SheetFile.objects.filter(issue=kept.issue, sha256=kept.sha256).first()
    if known:
        return _known(kept.file_name, known, by=by, token=token)
    kept.at, kept.by_id, kept.batch = clock.now(), by.pk if by else None, token
    with recording(kept.issue.drawing.build_id, f"{kept} brought in", by=by) as change:
        kept.save()
        change.came(kept)
    return Brought(kept.file_name, kept)


def _known(name: str, file: SheetFile, *, by: Doer, token: UUID) -> Brought[SheetFile]:
    if file.binned_at:
        restore_sheet_file(file, by=by)
        return Brought(name, file, "back")
    return Brought(name, file, "new" if file.batch == token else "here")


def file_named(drawing: Drawing, sha256: str) -> SheetFile | None:
    """The file of a sheet with these bytes, where it is not in the bin; any of it where none are named."""
    found = SheetFile.objects.live().filter(issue__drawing=drawing)
    return (found.filter(sha256=sha256) if sha256 else found).first()


def bin_sheet_file(file: SheetFile, *, by: Doer) -> None:
    """Put a file in the bin: its bytes stay where they are."""
    put_in_bin(file, file.issue.drawing.build_id, str(file), by=by)


def restore_sheet_file(file: SheetFile, *, by: Doer) -> None:
    """Take a file out of the bin."""
    take_from_bin(file, file.issue.drawing.build_id, str(file), by=by)
