"""Castings and what a part needs before it can go on: castings, parts made first, mates."""

import re
from collections.abc import Iterable

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.materials import hatch_of
from buildlog.models.builds import Build
from buildlog.models.numbered import Numbered
from buildlog.models.parts import Part

_RUNS = re.compile(r"\d+|[^\d\s-]+")
QUANTITY = (MinValueValidator(1), MaxValueValidator(999))


class Casting(Numbered):
    """One pattern's casting, by the number it is ordered under; a part names its own by that number."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="castings")
    number = models.CharField("number", max_length=20)
    name = models.CharField("name", max_length=120, blank=True)
    material = models.CharField("made of", max_length=80, blank=True)
    note = models.TextField("note", max_length=1000, blank=True)

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


def casting_sense(text: str) -> str:
    """What the writings of a number have in common: `k040` and `K 040` are `K-040`, `112` is not `1-12`."""
    number = casting_key(text)
    return "-".join(_RUNS.findall(number)) or number


class CastingNumbers:
    """The castings' numbers that a build has, each found by whatever way it is typed."""

    def __init__(self, known: Iterable[str]) -> None:
        self._known: set[str] = set()
        self._by_sense: dict[str, set[str]] = {}
        for number in known:
            self._add(number)

    def _add(self, number: str) -> None:
        self._known.add(number)
        self._by_sense.setdefault(casting_sense(number), set()).add(number)

    def find(self, text: str) -> str | None:
        """The number meant; None where there is none like it, or several and none of them to the letter."""
        number = casting_key(text)
        if number in self._known:
            return number
        alike = self._by_sense.get(casting_sense(number), set())
        return next(iter(alike)) if len(alike) == 1 else None

    def name(self, text: str) -> str:
        """The number meant, or the one that is typed; that is one of them from now on."""
        number = self.find(text) or casting_key(text)
        if number:
            self._add(number)
        return number
