"""What happened to a part: stages, counts and changes of need, in order."""

from django.conf import settings
from django.db import models

from buildlog.models.changes import Change
from buildlog.models.parts import Part, Stage


class HistoryLine(models.Model):
    """One thing that happened to a part; never changed afterwards."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="history")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    stage = models.CharField(max_length=13, choices=Stage)
    good = models.PositiveIntegerField()
    scrap = models.PositiveIntegerField()
    text = models.CharField(max_length=300)
    token = models.UUIDField(null=True, unique=True, editable=False)
    change = models.ForeignKey(Change, on_delete=models.SET_NULL, null=True, related_name="lines")

    class Meta:
        ordering = ("-at", "-pk")
        indexes = [models.Index(fields=("part", "-at"), name="history_by_part")]

    def __str__(self) -> str:
        return f"{self.part}: {self.text}"
