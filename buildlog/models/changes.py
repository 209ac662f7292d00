"""What was changed in the records: who, when, and every row as it stood before and after."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build


class Change(models.Model):
    """One thing that somebody did to the records, however many rows it touched; never changed afterwards."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, null=True, related_name="changes")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    words = models.CharField(max_length=300)
    undone_at = models.DateTimeField(null=True)
    # Of the page it was made from: of two clicks the second finds what the first did.
    token = models.UUIDField(null=True, unique=True, editable=False)
    undoes = models.OneToOneField("self", on_delete=models.CASCADE, null=True, related_name="undone_by")

    class Meta:
        ordering = ("-pk",)
        indexes = [models.Index(fields=("build", "-id"), name="change_by_build")]

    def __str__(self) -> str:
        return self.words

    def get_absolute_url(self) -> str:
        return reverse("change_page", args=[self.pk])

    @property
    def can_be_undone(self) -> bool:
        """Whether it still stands; whether a later change is in its way shows when it is tried."""
        return self.undone_at is None


class ChangedRow(models.Model):
    """One row of a change: only what differs where it was changed, all of it where it came or went."""

    change = models.ForeignKey(Change, on_delete=models.CASCADE, related_name="rows")
    table = models.CharField(max_length=40)
    row = models.BigIntegerField()
    name = models.CharField(max_length=160)
    said = models.TextField(blank=True)
    before = models.JSONField(null=True)  # none where the row came with the change
    after = models.JSONField(null=True)  # none where the row went with it

    class Meta:
        ordering = ("pk",)
        indexes = [models.Index(fields=("table", "row", "-change"), name="change_by_row")]

    def __str__(self) -> str:
        return f"{self.name}: {self.said}"

    @property
    def what(self) -> str:
        """`added`, `taken away`, or what differs."""
        if self.before is None:
            return "added"
        return "taken away" if self.after is None else self.said
