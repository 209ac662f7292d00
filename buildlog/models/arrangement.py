"""The general arrangement: the picture under the balloons, and where each balloon was put on it."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q

from buildlog.kept_files import ENDINGS
from buildlog.models.assemblies import Assembly
from buildlog.models.builds import Build
from buildlog.models.photos import Photo, PhotoKind


class ArrangementQuerySet(models.QuerySet["Arrangement"]):
    """Questions put to the grounds of a build."""

    def pictures(self) -> "ArrangementQuerySet":
        """The builder's own, in the bin or not."""
        return self.exclude(sha256="")


class Arrangement(models.Model):
    """What lies under the balloons of a build: a picture of the builder's own, or the drawn side view.

    A picture that was taken away is in the bin: its file and the places of its balloons stay with it.
    """

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="arrangements")
    # Empty for the side view that the site draws: only its balloons are written down here.
    sha256 = models.CharField(max_length=64, blank=True, editable=False, default="")
    kind = models.CharField(max_length=4, choices=PhotoKind, blank=True, editable=False, default="")
    size = models.PositiveBigIntegerField(editable=False, default=0)
    width = models.PositiveIntegerField(editable=False, default=0)
    height = models.PositiveIntegerField(editable=False, default=0)
    file_name = models.CharField(max_length=120, blank=True, editable=False, default="")
    # The photo it was taken from; it has a file of its own, so that it outlives that photo.
    photo = models.ForeignKey(Photo, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(editable=False)
    binned_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = ArrangementQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-pk")
        constraints = [
            models.UniqueConstraint(fields=("build", "sha256"), name="one_arrangement_for_the_bytes"),
            models.UniqueConstraint(
                fields=("build",),
                condition=Q(binned_at=None) & ~Q(sha256=""),
                name="one_picture_under_the_balloons",
            ),
        ]

    def __str__(self) -> str:
        return self.file_name or "the drawn side view"

    @property
    def is_drawn(self) -> bool:
        """Whether it stands for the side view that the site draws."""
        return not self.sha256

    @property
    def file(self) -> str:
        """Where the original lies among the files of the builds."""
        return f"arrangements/{self.build_id}/{self.sha256}.{ENDINGS[self.kind]}"


def _within(name: str) -> Q:
    return Q(**{f"{name}__gte": 0, f"{name}__lte": 1})


class BalloonPlace(models.Model):
    """Where one balloon was put by hand: shares of the picture's width and height, from its top left."""

    arrangement = models.ForeignKey(Arrangement, on_delete=models.CASCADE, related_name="places")
    assembly = models.ForeignKey(Assembly, on_delete=models.CASCADE, related_name="places")
    end_x = models.DecimalField(max_digits=5, decimal_places=4)  # what its leader points at
    end_y = models.DecimalField(max_digits=5, decimal_places=4)
    x = models.DecimalField(max_digits=5, decimal_places=4)  # the middle of the balloon
    y = models.DecimalField(max_digits=5, decimal_places=4)

    class Meta:
        ordering = ("pk",)
        constraints = [
            models.UniqueConstraint(fields=("arrangement", "assembly"), name="one_place_a_balloon"),
            models.CheckConstraint(
                condition=_within("end_x") & _within("end_y") & _within("x") & _within("y"),
                name="balloon_on_the_picture",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.assembly} at {self.x}, {self.y}"

    @property
    def spot(self) -> "Spot":
        """The four figures, to compare with others."""
        return (self.end_x, self.end_y, self.x, self.y)


#: What the leader points at, across and down, and the middle of the balloon, across and down.
Spot = tuple[Decimal, Decimal, Decimal, Decimal]
