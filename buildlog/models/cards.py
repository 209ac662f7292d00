"""Work cards: what was printed to be taken to the machine."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.models.parts import Part


class Paper(models.TextChoices):
    """The sizes a card is printed in."""

    A4 = "A4", "A4"
    A5 = "A5", "A5"


class WorkCard(models.Model):
    """One printed card; what it said is kept word for word, so that it prints the same again."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="cards")
    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="cards")
    records = models.ManyToManyField("calc.CalculationRecord", blank=True, related_name="cards")
    number = models.PositiveIntegerField()
    paper = models.CharField(max_length=2, choices=Paper, default=Paper.A4)
    title = models.CharField(max_length=200)
    sheet = models.JSONField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    token = models.UUIDField(null=True, unique=True, editable=False)

    class Meta:
        ordering = ("-number",)
        constraints = [models.UniqueConstraint(fields=("build", "number"), name="one_card_a_number")]

    def __str__(self) -> str:
        return f"card {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("card_page", args=[self.pk])
