"""Files of drawings: brought in one by one, put in the bin and taken back."""

import logging
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.core.files.base import File
from django.core.files.storage import storages
from django.db import transaction

from buildlog import clock
from buildlog.actions.photos import digest_of, short_name
from buildlog.changes import Doer, recording, row_of
from buildlog.models import Drawing, SheetFile, SheetIssue
from buildlog.sheet_limits import SheetError
from buildlog.sheet_pages import Sheet, read_sheet
from buildlog.sheet_previews import keep_small
from buildlog.storage import ORIGINALS

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class BroughtFile:
    """What became of one file: new, here already, out of the bin, or why it is not kept."""

    file_name: str
    file: SheetFile | None = None
    state: str = "new"  # or "here", "back", "wrong"
    why: str = ""

    @property
    def words(self) -> str:
        said = {
            "new": "is in",
            "here": "is here already: the same file, byte for byte. It is kept once",
            "back": "was in the bin; it is taken back out",
            "wrong": self.why.rstrip("."),
        }
        return f"{self.file_name}: {said[self.state]}."


def bring_in_sheet(issue: SheetIssue, file: "File[Any]", *, by: Doer, token: UUID) -> BroughtFile:
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
        _store(file, kept)
    except SheetError as wrong:
        return BroughtFile(name, state="wrong", why=str(wrong))
    except OSError:
        log.exception("A drawing could not be written")
        why = "it could not be written. Is the disk full? Make room on it, and choose the file again."
        return BroughtFile(name, state="wrong", why=why)
    if sheet.small:
        keep_small(kept, sheet.small)
    return _enter(kept, by=by, token=token)


def _described(issue: SheetIssue, sheet: Sheet, name: str, sha256: str, size: int) -> SheetFile:
    return SheetFile(
        issue=issue, sha256=sha256, kind=sheet.kind, size=size, file_name=name, pages=sheet.pages,
        width=sheet.width, height=sheet.height,
    )  # fmt: skip


def _store(file: "File[Any]", kept: SheetFile) -> None:
    originals = storages[ORIGINALS]
    if not (originals.exists(kept.file) and originals.size(kept.file) == kept.size):
        originals.save(kept.file, File(file, name=kept.file))


@transaction.atomic
def _enter(kept: SheetFile, *, by: Doer, token: UUID) -> BroughtFile:
    """Write the row; whoever sends the same bytes in the same moment finds it."""
    SheetIssue.objects.select_for_update().get(pk=kept.issue_id)
    known = SheetFile.objects.filter(issue=kept.issue, sha256=kept.sha256).first()
    if known:
        return _known(kept.file_name, known, by=by, token=token)
    kept.at, kept.by_id, kept.batch = clock.now(), by.pk if by else None, token
    kept.save()
    return BroughtFile(kept.file_name, kept)


def _known(name: str, file: SheetFile, *, by: Doer, token: UUID) -> BroughtFile:
    if file.binned_at:
        restore_sheet_file(file, by=by)
        return BroughtFile(name, file, "back")
    return BroughtFile(name, file, "new" if file.batch == token else "here")


def file_named(drawing: Drawing, sha256: str) -> SheetFile | None:
    """The file of a sheet with these bytes, where it is not in the bin."""
    found = SheetFile.objects.live().filter(issue__drawing=drawing, sha256=sha256)
    return found.first() if sha256 else None


def has_original(file: SheetFile) -> bool:
    """Whether the file is still in its folder."""
    return storages[ORIGINALS].exists(file.file)


def original_sheet(file: SheetFile) -> Iterator[bytes]:
    """The file as it came, piece by piece; it is opened when the first is asked for."""
    with storages[ORIGINALS].open(file.file) as original:
        yield from original.chunks()


@transaction.atomic
def bin_sheet_file(file: SheetFile, *, by: Doer) -> None:
    """Put a file in the bin: its bytes stay where they are."""
    if not file.binned_at:
        with recording(file.issue.drawing.build_id, f"{file} put in the bin", by=by) as change:
            change.watch(row_of(file))
            file.binned_at = clock.now()
            file.save(update_fields=["binned_at"])


@transaction.atomic
def restore_sheet_file(file: SheetFile, *, by: Doer) -> None:
    """Take a file out of the bin."""
    if file.binned_at:
        with recording(file.issue.drawing.build_id, f"{file} taken back out of the bin", by=by) as change:
            change.watch(row_of(file))
            file.binned_at = None
            file.save(update_fields=["binned_at"])
