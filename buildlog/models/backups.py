"""Backups that were made: when, where to, and what was in them."""

from pathlib import Path

from django.conf import settings
from django.db import models


class Backup(models.Model):
    """One backup, proved by restoring it beside when it was made."""

    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )  # nobody where a command made it
    path = models.TextField()  # of the archive, on this machine
    size = models.BigIntegerField()  # bytes
    files = models.PositiveIntegerField()
    counts = models.JSONField()  # {"parts": 420, ...}
    token = models.UUIDField(null=True, unique=True, editable=False)

    class Meta:
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        return self.name

    @property
    def name(self) -> str:
        return Path(self.path).name

    @property
    def is_there(self) -> bool:
        """Whether the archive still lies where it was written."""
        return Path(self.path).is_file()
