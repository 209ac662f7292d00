"""Photographs of the build: the file as it came, when it was taken, and what it belongs to."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from buildlog.kept_files import ENDINGS
from buildlog.models.builds import Build
from buildlog.models.castings import Casting
from buildlog.models.log import LogEntry
from buildlog.models.made import Concession
from buildlog.models.parts import Part
from buildlog.picture_files import LARGE
from buildlog.searching import fold


class PhotoKind(models.TextChoices):
    """The kinds of file that are kept."""

    JPEG = "jpeg", "JPEG"
    PNG = "png", "PNG"
    WEBP = "webp", "WebP"


class DatedBy(models.TextChoices):
    """What says on which day a photo was taken."""

    FILE = "file", "by the camera"
    HAND = "hand", "by hand"
    ARRIVAL = "arrival", "the day it was brought in"


class PhotoQuerySet(models.QuerySet["Photo"]):
    """Questions put to photos."""

    def live(self) -> "PhotoQuerySet":
        """Those not in the bin."""
        return self.filter(binned_at=None)

    def latest_first(self) -> "PhotoQuerySet":
        return self.order_by("-taken_on", "-taken_time", "-pk")

    def earliest_first(self) -> "PhotoQuerySet":
        return self.order_by("taken_on", "taken_time", "pk")

    def before(self, photo: "Photo") -> "PhotoQuerySet":
        """Those taken earlier than this one, the nearest first."""
        on, time = photo.taken_on, photo.taken_time
        same_moment = Q(taken_on=on, taken_time=time, pk__lt=photo.pk)
        earlier = Q(taken_on__lt=on) | Q(taken_on=on, taken_time__lt=time) | same_moment
        # The last condition says nothing new: it is where the database begins to read its index.
        return self.filter(earlier, taken_on__lte=on).latest_first()

    def after(self, photo: "Photo") -> "PhotoQuerySet":
        """Those taken later than this one, the nearest first."""
        on, time = photo.taken_on, photo.taken_time
        same_moment = Q(taken_on=on, taken_time=time, pk__gt=photo.pk)
        later = Q(taken_on__gt=on) | Q(taken_on=on, taken_time__gt=time) | same_moment
        return self.filter(later, taken_on__gte=on).earliest_first()


class Photo(models.Model):
    """One picture; the same bytes are one photo of a build, however often they are brought in."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="photos")
    sha256 = models.CharField(max_length=64, editable=False)
    kind = models.CharField(max_length=4, choices=PhotoKind, editable=False)
    size = models.PositiveBigIntegerField(editable=False)
    width = models.PositiveIntegerField(editable=False)
    height = models.PositiveIntegerField(editable=False)
    file_name = models.CharField(max_length=120, editable=False)
    taken_on = models.DateField("day")
    # By the camera's own clock, as 14:03:22; empty where no file said. It puts the photos of a day in order.
    taken_time = models.CharField(max_length=8, blank=True, editable=False, default="")
    dated_by = models.CharField(max_length=7, choices=DatedBy, editable=False)
    caption = models.TextField("caption", max_length=500, blank=True)
    before_closing_up = models.BooleanField("before closing up", default=False)
    part = models.ForeignKey(Part, on_delete=models.SET_NULL, null=True, blank=True, related_name="photos")
    entry = models.ForeignKey(
        LogEntry, on_delete=models.SET_NULL, null=True, blank=True, related_name="photos"
    )
    casting = models.ForeignKey(
        Casting, on_delete=models.SET_NULL, null=True, blank=True, related_name="photos"
    )
    concession = models.ForeignKey(
        Concession, on_delete=models.SET_NULL, null=True, blank=True, related_name="photos"
    )
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(editable=False)
    batch = models.UUIDField(null=True, editable=False)  # those sent together, to know them if sent again
    binned_at = models.DateTimeField(null=True, blank=True, editable=False)
    search_text = models.TextField(editable=False, default="")

    objects = PhotoQuerySet.as_manager()

    class Meta:
        ordering = ("-taken_on", "-taken_time", "-pk")
        indexes = [
            # Searched and counted without a look at the rows, which are long; what the condition names stands
            # in the index too, since SQLite looks it up in the row otherwise.
            models.Index(
                fields=("build", "-taken_on", "-taken_time", "-id", "search_text", "part", "binned_at"),
                condition=Q(binned_at=None),
                name="photo_by_day",
            ),
            models.Index(
                fields=("build", "-taken_on", "-taken_time", "-id", "before_closing_up", "binned_at"),
                condition=Q(binned_at=None, before_closing_up=True),
                name="photo_before_closing_up",
            ),
            models.Index(fields=("part", "-taken_on", "-taken_time", "-id"), name="photo_by_part"),
        ]
        constraints = [models.UniqueConstraint(fields=("build", "sha256"), name="one_photo_for_the_bytes")]

    def __str__(self) -> str:
        return f"photo of {self.taken_on}"

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def derive(self) -> None:
        """Work out the column that is searched."""
        self.search_text = fold(self.caption)

    def get_absolute_url(self) -> str:
        return reverse("photo_page", args=[self.pk])

    @property
    def file(self) -> str:
        """Where the original lies among the files of the builds: a plain folder for each build."""
        return f"photos/{self.build_id}/{self.sha256}.{ENDINGS[self.kind]}"

    @property
    def large_width(self) -> int:
        """How wide the large copy is, so that the page keeps the room for it."""
        return round(self.width * min(1, LARGE / max(self.width, self.height)))

    @property
    def large_height(self) -> int:
        return round(self.height * min(1, LARGE / max(self.width, self.height)))

    @property
    def said(self) -> str:
        """What is on it, for those who cannot see it."""
        return self.caption or f"Photo {self.file_name}"
