"""Making a backup and writing down that it was made."""

from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import IntegrityError, transaction

from buildlog import clock
from buildlog.backup.making import Proof, make_backup
from buildlog.models import Backup

#: Days after which the last good backup is called old.
OLD_DAYS = 30


def default_folder() -> Path:
    """Where backups go unless another folder is named: beside the data, on the same disk."""
    return Path(settings.DATA_FOLDER) / "backups"


def back_up(
    *, folder: Path | None = None, user: Any = None, token: UUID | None = None
) -> tuple[Backup, Proof | None]:
    """Make a backup, prove it, write it down; the same token again gives the one already made, unproved.

    Raises ArchiveError, OtherDatabaseError or OSError; nothing is then written down.
    """
    earlier = Backup.objects.filter(token=token).first() if token else None
    if earlier:
        return earlier, None
    now = clock.now()
    path, proof = make_backup(folder or default_folder(), now=now)
    try:
        with transaction.atomic():
            made = Backup.objects.create(
                made_at=now, made_by=user, path=str(path), size=proof.size, files=proof.files,
                counts=proof.counts, token=token,
            )  # fmt: skip
            return made, proof
    except IntegrityError:
        # The other of two clicks was quicker; this archive is as good and is not needed.
        path.unlink(missing_ok=True)
        return Backup.objects.get(token=token), None


def last_good() -> Backup | None:
    """The newest backup that still lies where it was written."""
    return next((one for one in Backup.objects.all() if one.is_there), None)


def is_due(last: Backup | None) -> bool:
    """Whether the last good backup is thirty days old, or there is none."""
    return last is None or (clock.today() - last.made_at.date()).days >= OLD_DAYS
