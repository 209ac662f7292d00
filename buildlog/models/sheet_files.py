"""The files of a sheet: the drawing as it came, issue by issue, kept byte for byte."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from buildlog.kept_files import ENDINGS
from buildlog.models.drawings import SheetIssue


class SheetKind(models.TextChoices):
    """The kinds of file that are kept of a drawing."""

    PDF = "pdf", "PDF"
    JPEG = "jpeg", "JPEG"
    PNG = "png", "PNG"
    WEBP = "webp", "WebP"


class SheetFileQuerySet(models.QuerySet["SheetFile"]):
    """Questions put to the files of sheets."""

    def live(self) -> "SheetFileQuerySet":
        """Those not in the bin."""
        return self.filter(binned_at=None)


class SheetFile(models.Model):
    """One file of an issue; the same bytes are there once, however often they are brought in."""

    issue = models.ForeignKey(SheetIssue, on_delete=models.CASCADE, related_name="files")
    sha256 = models.CharField(max_length=64, editable=False)
    kind = models.CharField(max_length=4, choices=SheetKind, editable=False)
    size = models.PositiveBigIntegerField(editable=False)
    file_name = models.CharField(max_length=120, editable=False)
    pages = models.PositiveIntegerField(editable=False, default=1)
    # Of the first page: pixels of a picture, points of a PDF.
    width = models.PositiveIntegerField(editable=False)
    height = models.PositiveIntegerField(editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(editable=False)
    batch = models.UUIDField(null=True, editable=False)  # those sent together, to know them if sent again
    binned_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = SheetFileQuerySet.as_manager()

    class Meta:
        ordering = ("at", "pk")
        constraints = [
            models.UniqueConstraint(fields=("issue", "sha256"), name="one_sheet_file_for_the_bytes")
        ]

    def __str__(self) -> str:
        return self.file_name

    def get_absolute_url(self) -> str:
        return reverse("sheet_page", args=[self.pk, 1])

    @property
    def file(self) -> str:
        """Where the original lies among the files of the builds: a plain folder for each build."""
        return f"drawings/{self.issue.drawing.build_id}/{self.sha256}.{ENDINGS[self.kind]}"

    @property
    def is_pdf(self) -> bool:
        return self.kind == SheetKind.PDF
