"""The threads a part has, and changes made to many of them at once."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.models.parts import Part
from calc.threads_named import LONGEST_NAME, LONGEST_TYPED, shown

MOST_ON_ONE = 9_999


class Side(models.TextChoices):
    """Whether a thread is cut on the outside, as a screw's, or inside a hole."""

    UNSAID = "", "not said"
    OUTSIDE = "outside", "outside, as a screw"
    INSIDE = "inside", "inside, as a nut"


class ThreadUse(models.Model):
    """One thread of a part: which, where on it, how many."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="thread_uses")
    thread = models.CharField(max_length=LONGEST_NAME, editable=False)
    as_typed = models.CharField("thread", max_length=LONGEST_TYPED)
    where = models.CharField("where on the part", max_length=60, blank=True)
    count = models.PositiveSmallIntegerField(
        "how many on one part",
        default=1,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_ON_ONE)],
    )
    side = models.CharField("which side", max_length=7, choices=Side, blank=True, default=Side.UNSAID)
    token = models.UUIDField(null=True, unique=True, editable=False)

    class Meta:
        ordering = ("pk",)
        indexes = [models.Index(fields=("thread",), name="thread_by_name")]

    def __str__(self) -> str:
        return ", ".join(filter(None, (f"{self.part.key}: {self.shown}", self.where)))

    def get_absolute_url(self) -> str:
        return reverse("thread_edit", args=[self.pk])

    @property
    def shown(self) -> str:
        """The thread as it is read on a page: `M6 × 1`."""
        return shown(self.thread)

    @property
    def said(self) -> str:
        """All of it in words, for a line of history: `4 of M6 × 1, inside, cover`."""
        words = [f"{self.count} of {self.shown}" if self.count > 1 else self.shown, self.side, self.where]
        return ", ".join(word for word in words if word)
