"""The workshop log: what was done on a day, where it was left off, and what is next."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.models.parts import Part
from buildlog.searching import fold


class LogEntry(models.Model):
    """One session in the workshop."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="log")
    on = models.DateField("date")
    minutes = models.PositiveIntegerField(
        "minutes", null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1440)]
    )
    part = models.ForeignKey(Part, on_delete=models.SET_NULL, null=True, blank=True, related_name="log")
    done = models.TextField("what was done", max_length=4000, blank=True)
    left_off = models.TextField("left off", max_length=1000, blank=True)
    next = models.TextField("next", max_length=500, blank=True)
    written_at = models.DateTimeField(editable=False)
    changed_at = models.DateTimeField(null=True, blank=True, editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    token = models.UUIDField(null=True, unique=True, editable=False)
    search_text = models.TextField(editable=False, default="")

    class Meta:
        ordering = ("-on", "-written_at", "-pk")
        indexes = [
            models.Index(fields=("build", "-on"), name="log_by_day"),
            models.Index(fields=("part", "-on"), name="log_by_part"),
        ]
        verbose_name_plural = "log entries"

    def __str__(self) -> str:
        return f"log of {self.on}"

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def derive(self) -> None:
        """Work out the column that is searched."""
        self.search_text = fold(f"{self.done} {self.left_off} {self.next}")

    def get_absolute_url(self) -> str:
        return reverse("log_entry", args=[self.pk])
