"""Kept sums: one frozen run of a calculation each, never changed afterwards."""

from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse


class CalculationRecord(models.Model):
    """One kept run of a calculation: what was typed, what came out, by which rule and source."""

    key = models.CharField(max_length=40)
    revision = models.PositiveIntegerField()
    title = models.CharField(max_length=120)  # "Indexing, 84 divisions"
    headline = models.CharField(max_length=200)  # "20 spaces in the 42 circle"
    entered = models.JSONField()  # the text as typed, by entry
    unit = models.CharField(max_length=4, default="inch")  # the unit a bare length was read in
    readings = models.JSONField(default=dict)  # how each entry was read, by entry
    inputs = models.JSONField()  # in base units
    results = models.JSONField()
    working = models.JSONField()  # list of {label, formula, figures, value, unit, source}
    warnings = models.JSONField(default=list)  # list of {code, text}
    sources = models.JSONField(default=list)  # list of {key, title, edition, digest}
    context = models.JSONField(default=dict)  # names of head and plates, the part when kept, the answer
    part = models.ForeignKey(
        "buildlog.Part", on_delete=models.CASCADE, null=True, blank=True, related_name="records"
    )
    replaces = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="replaced_by"
    )
    #: The sum that was kept for no part and put to this one.
    brought_from = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="brought_to"
    )
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField()
    token = models.UUIDField(null=True, unique=True, editable=False)

    class Meta:
        ordering = ("-made_at", "-pk")
        indexes = [models.Index(fields=("part", "key", "-made_at"), name="record_by_part")]

    def __str__(self) -> str:
        return f"sum {self.pk}: {self.title}"

    def get_absolute_url(self) -> str:
        return reverse("record_page", args=[self.pk])

    def save(self, *args: Any, **kwargs: Any) -> None:
        """A record is written once."""
        if (
            self.pk
            and not kwargs.get("force_insert")
            and type(self)._default_manager.filter(pk=self.pk).exists()
        ):
            raise TypeError("A kept sum is never changed; work it out again and keep the new one beside it.")
        super().save(*args, **kwargs)


class RecordLink(models.Model):
    """One entry of a kept sum that was taken as another one offered it.

    What was offered, and which figure of the other it was, stands in the record itself, under `rests_on`
    of its context; these rows are for asking what rests on a sum.
    """

    record = models.ForeignKey(CalculationRecord, on_delete=models.CASCADE, related_name="rests_on")
    entry = models.CharField(max_length=40)
    head = models.ForeignKey(CalculationRecord, on_delete=models.CASCADE, related_name="held_up")

    class Meta:
        ordering = ("pk",)
        constraints = [models.UniqueConstraint(fields=("record", "entry"), name="one_head_an_entry")]

    def __str__(self) -> str:
        return f"{self.entry} of sum {self.record_id} from sum {self.head_id}"


class TrialCut(models.Model):
    """What a trial cut by a kept plan measured, beside the plan; the plan stays as it was kept."""

    record = models.ForeignKey(CalculationRecord, on_delete=models.CASCADE, related_name="trials")
    number = models.PositiveSmallIntegerField()  # 1 for the first trial
    small = models.CharField(max_length=40, blank=True)  # across a tooth at its small end, as typed
    small_mm = models.FloatField(null=True)
    large = models.CharField(max_length=40, blank=True)  # the same at its large end
    large_mm = models.FloatField(null=True)
    note = models.CharField(max_length=400, blank=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField()
    token = models.UUIDField(unique=True, editable=False)

    class Meta:
        ordering = ("number",)
        constraints = [models.UniqueConstraint(fields=("record", "number"), name="one_trial_a_number")]

    def __str__(self) -> str:
        return f"trial {self.number} of sum {self.record_id}"
