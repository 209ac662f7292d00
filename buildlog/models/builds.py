"""Builds and who may see them."""

from typing import TYPE_CHECKING

from django.conf import settings
from django.db import models
from django.urls import reverse

if TYPE_CHECKING:
    from django.contrib.auth.models import AbstractBaseUser, AnonymousUser


class Units(models.TextChoices):
    """The unit a bare number in this build is read in."""

    INCH = "inch", "inches"
    MM = "mm", "millimetres"


class Currency(models.TextChoices):
    """ISO 4217 codes of the currencies offered."""

    GBP = "GBP", "pounds (GBP)"
    EUR = "EUR", "euros (EUR)"
    USD = "USD", "US dollars (USD)"
    AUD = "AUD", "Australian dollars (AUD)"
    NZD = "NZD", "New Zealand dollars (NZD)"
    CAD = "CAD", "Canadian dollars (CAD)"
    CHF = "CHF", "Swiss francs (CHF)"
    SEK = "SEK", "Swedish kronor (SEK)"


class BuildQuerySet(models.QuerySet["Build"]):
    """Questions put to builds."""

    def seen_by(self, user: "AbstractBaseUser | AnonymousUser") -> "BuildQuerySet":
        """The builds this user is a member of."""
        return self.filter(memberships__user_id=user.pk) if user.pk else self.none()

    def with_picture(self) -> "BuildQuerySet":
        """Each with `picture_pk`: the picture of its own that lies under its balloons, if any."""
        own = models.Q(arrangements__binned_at=None) & ~models.Q(arrangements__sha256="")
        found = self.annotate(own_picture=models.FilteredRelation("arrangements", condition=own))
        return found.annotate(picture_pk=models.F("own_picture__pk"))


class Build(models.Model):
    """One engine being made, with its scale."""

    name = models.CharField("name", max_length=60)
    scale = models.CharField(
        "scale", max_length=40, blank=True, help_text="As it is spoken of: 4 in, or 1:3."
    )
    description = models.CharField(
        "what it is", max_length=200, blank=True, help_text="Single-cylinder, two-speed, general purpose …"
    )
    units = models.CharField("a bare number is in", max_length=4, choices=Units, default=Units.INCH)
    currency = models.CharField("money in", max_length=3, choices=Currency, default=Currency.GBP)
    is_demo = models.BooleanField(default=False, editable=False)
    side_view = models.CharField(max_length=20, blank=True, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)
    members: "models.ManyToManyField[models.Model, Membership]" = models.ManyToManyField(
        settings.AUTH_USER_MODEL, through="Membership", related_name="builds"
    )

    objects = BuildQuerySet.as_manager()

    class Meta:
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("build_page", args=[self.pk])

    @property
    def scale_text(self) -> str:
        """The scale as the title block gives it: `Marlpit, 4 in scale`."""
        return f"{self.name}, {self.scale} scale" if self.scale else self.name


class Role(models.TextChoices):
    """What a member may do: the owner also settles who else is one."""

    OWNER = "owner", "owner"
    BUILDER = "builder", "builder"


class Membership(models.Model):
    """One person's place in one build."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="memberships")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=Role, default=Role.BUILDER)

    class Meta:
        constraints = [models.UniqueConstraint(fields=("build", "user"), name="one_membership_each")]

    def __str__(self) -> str:
        return f"{self.user} in {self.build}"
