"""A list that has come in and waits to be accepted."""

from django.conf import settings
from django.db import models

from buildlog.models.builds import Build


class ListDraft(models.Model):
    """The rows of an uploaded list as read; nothing of it is in the build until it is accepted."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="list_drafts")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    file_name = models.CharField(max_length=200)
    how_read = models.CharField(max_length=200)
    rows = models.JSONField()
    created_at = models.DateTimeField()
    accepted_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-created_at",)

    def __str__(self) -> str:
        return f"{self.file_name} for {self.build}"
