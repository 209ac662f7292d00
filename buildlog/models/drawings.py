"""Drawings: the register of sheets, each with its issues and where the paper is."""

from django.core.validators import RegexValidator
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.models.numbered import Numbered


class SheetUnits(models.TextChoices):
    """What the sizes on a sheet are written in."""

    INCH = "inch", "inches"
    MM = "mm", "millimetres"
    MIXED = "mixed", "inches and millimetres"


class Projection(models.TextChoices):
    """On which side of a view the neighbouring one is drawn."""

    FIRST = "first", "first angle"
    THIRD = "third", "third angle"


class Drawing(Numbered):
    """One sheet of the set; a part names it by its number, as `12 B` with the issue."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="drawings")
    number = models.CharField(
        "sheet",
        max_length=6,
        validators=[
            RegexValidator(
                r"^[1-9]\d{0,3}$", "A sheet goes by its figures, as 12; the issue has a field of its own."
            )
        ],
    )
    title = models.CharField("title", max_length=120)
    place = models.CharField("where the paper is", max_length=120, blank=True)
    note = models.TextField("note", max_length=1000, blank=True)
    units = models.CharField("units", max_length=5, choices=SheetUnits, blank=True)
    projection = models.CharField("projection", max_length=5, choices=Projection, blank=True)

    class Meta:
        ordering = ("number_key",)
        constraints = [
            models.UniqueConstraint(
                fields=("build", "number"),
                name="one_drawing_a_sheet",
                violation_error_message="Another drawing of this build has this sheet number.",
            )
        ]

    def __str__(self) -> str:
        return f"Sheet {self.number} {self.title}"

    def get_absolute_url(self) -> str:
        return reverse("drawing_page", args=[self.pk])


class SheetIssue(models.Model):
    """One issue of a sheet as it came; the last one recorded is the one worked to."""

    drawing = models.ForeignKey(Drawing, on_delete=models.CASCADE, related_name="issues")
    issue = models.CharField(
        "issue",
        max_length=2,
        validators=[RegexValidator(r"^[A-Z]{1,2}$", "An issue is one or two letters, as B.")],
    )
    dated = models.DateField("date on the sheet", null=True, blank=True)
    got_on = models.DateField("got on")
    note = models.CharField("what changed", max_length=200, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ("-recorded_at", "-pk")
        constraints = [
            models.UniqueConstraint(
                fields=("drawing", "issue"),
                name="one_issue_a_letter",
                violation_error_message="This issue of the sheet is in the register already.",
            )
        ]

    def __str__(self) -> str:
        return f"sheet {self.drawing.number} issue {self.issue}"
