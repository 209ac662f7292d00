"""Stores: who was asked for castings, what was ordered, and everything that happened to it since."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.models.castings import QUANTITY, Casting
from buildlog.models.numbered import Numbered
from buildlog.models.parts import Part


class Supplier(models.Model):
    """A foundry or a dealer."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="suppliers")
    name = models.CharField("name", max_length=80)
    note = models.TextField("address, telephone, how to order", max_length=1000, blank=True)

    class Meta:
        ordering = ("name", "pk")
        constraints = [
            models.UniqueConstraint(
                fields=("build", "name"),
                name="one_supplier_a_name",
                violation_error_message="Another supplier of this build has this name.",
            )
        ]

    def __str__(self) -> str:
        return self.name


class Order(Numbered):
    """One order to one supplier."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="orders")
    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="orders")
    number = models.CharField("number", max_length=20)
    ordered_on = models.DateField("ordered on")
    note = models.TextField("note", max_length=1000, blank=True)

    class Meta:
        ordering = ("-ordered_on", "-number_key")
        constraints = [
            models.UniqueConstraint(
                fields=("build", "number"),
                name="one_order_a_number",
                violation_error_message="Another order of this build has this number.",
            )
        ]

    def __str__(self) -> str:
        return f"order {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("order_page", args=[self.pk])


class OrderLine(models.Model):
    """One casting of an order; how many and for when is told by what happened."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="lines")
    casting = models.ForeignKey(Casting, on_delete=models.PROTECT, related_name="lines")
    price = models.DecimalField(
        "price each", max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )

    class Meta:
        ordering = ("pk",)
        constraints = [
            models.UniqueConstraint(
                fields=("order", "casting"),
                name="one_line_a_casting",
                violation_error_message="This casting is on the order already: add to the quantity there.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.casting.number} of {self.order}"


class Happening(models.TextChoices):
    """What can happen to castings."""

    ORDERED = "ordered", "ordered"
    CHASED = "chased", "asked after"
    CANCELLED = "cancelled", "not coming"
    RECEIVED = "received", "received"
    ACCEPTED = "accepted", "accepted"
    REJECTED = "rejected", "rejected"
    FOUND_BAD = "found bad", "found bad after it was accepted"
    ALLOTTED = "allotted", "allotted"


class StoresEventQuerySet(models.QuerySet["StoresEvent"]):
    """Questions put to what happened."""

    def standing(self) -> "StoresEventQuerySet":
        """Those that were not undone, in the order in which they happened."""
        return self.filter(undone_at=None).order_by("on", "pk")


class StoresEvent(models.Model):
    """One thing that happened to castings on a day; never changed, at most undone.

    Everything said about castings - ordered, owed, on hand, waited for - is worked out from these.
    """

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="stores_events")
    kind = models.CharField(max_length=9, choices=Happening)
    casting = models.ForeignKey(Casting, on_delete=models.PROTECT, related_name="events")
    line = models.ForeignKey(
        OrderLine, on_delete=models.CASCADE, null=True, blank=True, related_name="events"
    )
    part = models.ForeignKey(Part, on_delete=models.CASCADE, null=True, blank=True, related_name="allotments")
    quantity = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(999)])
    on = models.DateField()
    promised_on = models.DateField(null=True, blank=True)
    text = models.CharField(max_length=300, blank=True)  # the reason of a rejection, what was said when asked
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    token = models.UUIDField(null=True, editable=False)
    undone_at = models.DateTimeField(null=True, blank=True, editable=False)
    undone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )

    objects = StoresEventQuerySet.as_manager()

    class Meta:
        ordering = ("on", "pk")
        indexes = [
            models.Index(fields=("build", "on"), name="stores_by_day"),
            models.Index(fields=("token",), name="stores_by_token"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} × {self.casting.number} {self.kind}"


__all__ = ["QUANTITY", "Happening", "Order", "OrderLine", "StoresEvent", "Supplier"]
