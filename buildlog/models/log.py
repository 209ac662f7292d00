"""The workshop log: what was done on a day, where it was left off, and what is next."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.models.parts import Part
from buildlog.searching import fold


class TimeKind(models.TextChoices):
    """What the time went into; hours of one kind are not hours of another."""

    BENCH = "bench", "Bench or machine"
    DRAWING = "drawing", "Drawing or thinking"
    TOOLING = "tooling", "Tooling"
    BUYING = "buying", "Buying or travel"
    TIDYING = "tidying", "Tidying"


class Wording(models.Model):
    """What a builder types of one session."""

    on = models.DateField("date")
    minutes = models.PositiveIntegerField(
        "minutes", null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1440)]
    )
    kind = models.CharField("kind of time", max_length=7, choices=TimeKind, default=TimeKind.BENCH)
    done = models.TextField("what was done", max_length=4000, blank=True)
    left_off = models.TextField("left off", max_length=1000, blank=True)
    next = models.TextField("next", max_length=500, blank=True)
    links = models.TextField("links", blank=True)  # one address a line, as log_links.read_links gives them

    class Meta:
        abstract = True


class LogEntry(Wording):
    """One session in the workshop."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="log")
    part = models.ForeignKey(Part, on_delete=models.SET_NULL, null=True, blank=True, related_name="log")
    written_at = models.DateTimeField(editable=False)
    changed_at = models.DateTimeField(null=True, blank=True, editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    token = models.UUIDField(null=True, unique=True, editable=False)
    search_text = models.TextField(editable=False, default="")

    class Meta:
        ordering = ("-on", "-written_at", "-pk")
        indexes = [
            # In the order of the log itself, with what is counted and summed of it.
            models.Index(fields=("build", "-on", "-written_at", "-id", "minutes"), name="log_by_day"),
            models.Index(fields=("part", "-on", "-written_at", "-id"), name="log_by_part"),
            models.Index(fields=("build", "-written_at", "-id"), name="log_as_written"),
        ]
        verbose_name_plural = "log entries"

    def __str__(self) -> str:
        return f"log of {self.on}"

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def derive(self) -> None:
        """Work out the column that is searched."""
        self.search_text = fold(f"{self.done} {self.left_off} {self.next} {self.links}".rstrip())

    def get_absolute_url(self) -> str:
        return reverse("log_entry", args=[self.pk])


class LogVersion(Wording):
    """An entry as it stood until it was changed; written once, never changed."""

    entry = models.ForeignKey(LogEntry, on_delete=models.CASCADE, related_name="versions")
    part = models.ForeignKey(Part, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    at = models.DateTimeField(editable=False)  # when it was changed into what came after it
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"earlier wording of the {self.entry}"
