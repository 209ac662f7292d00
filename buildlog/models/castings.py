"""Castings and what a part needs before it can go on: castings, parts made first, mates."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.materials import hatch_of
from buildlog.models.builds import Build
from buildlog.models.parts import Part
from buildlog.numbers import number_key

QUANTITY = (MinValueValidator(1), MaxValueValidator(999))


class Casting(models.Model):
    """One pattern's casting, by the number it is ordered under; a part names its own by that number."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="castings")
    number = models.CharField("number", max_length=20)
    name = models.CharField("name", max_length=120, blank=True)
    material = models.CharField("made of", max_length=80, blank=True)
    note = models.TextField("note", max_length=1000, blank=True)
    number_key = models.CharField(max_length=130, editable=False, default="")

    class Meta:
        ordering = ("number_key",)
        constraints = [
            models.UniqueConstraint(
                fields=("build", "number"),
                name="one_casting_a_number",
                violation_error_message="Another casting of this build has this number.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.name}".strip()

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def derive(self) -> None:
        """Work out the column that lists sort by."""
        self.number_key = number_key(self.number)

    def get_absolute_url(self) -> str:
        return reverse("casting_page", args=[self.pk])

    @property
    def hatch(self) -> str:
        """The hatching of what it is cast in."""
        return hatch_of(self.material)


class CastingNeed(models.Model):
    """A casting that is not the part's own, without which the part cannot go on."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="casting_needs")
    casting = models.ForeignKey(Casting, on_delete=models.PROTECT, related_name="needs")
    quantity = models.PositiveIntegerField(default=1, validators=QUANTITY)
    since = models.DateField()

    class Meta:
        ordering = ("casting__number_key",)
        constraints = [models.UniqueConstraint(fields=("part", "casting"), name="one_need_a_casting")]

    def __str__(self) -> str:
        return f"{self.part.key} needs {self.casting.number}"


class PartFirst(models.Model):
    """A part that must be made before another can go on."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="firsts")
    first = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="seconds")
    since = models.DateField()

    class Meta:
        ordering = ("first__number_key", "first__hand")
        constraints = [
            models.UniqueConstraint(fields=("part", "first"), name="one_first_each"),
            models.CheckConstraint(condition=~models.Q(part=models.F("first")), name="not_before_itself"),
        ]

    def __str__(self) -> str:
        return f"{self.first.key} before {self.part.key}"


class Mate(models.Model):
    """Two parts that run or fit together; kept once, the elder record first, and read both ways."""

    one = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="mated_to")
    other = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="mated_from")

    class Meta:
        ordering = ("pk",)
        constraints = [
            models.UniqueConstraint(fields=("one", "other"), name="one_mating_each"),
            models.CheckConstraint(condition=models.Q(one__lt=models.F("other")), name="mates_in_order"),
        ]

    def __str__(self) -> str:
        return f"{self.one.key} with {self.other.key}"


def casting_key(text: str) -> str:
    """The one way a casting's number is written: `k-040 ` is `K-040`."""
    return " ".join(text.upper().replace("–", "-").split())
