"""Assemblies: the tree the parts hang on."""

from django.core.exceptions import ValidationError
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.numbers import number_key

#: Sorts after the key of any balloon, whether the database compares signs or goes by a dictionary.
AFTER_ALL = "z" * 7


class Assembly(models.Model):
    """A group of parts with its balloon on the general arrangement; may hold assemblies."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="assemblies")
    parent = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="children"
    )
    code = models.CharField("letters", max_length=12, help_text="Short, as in part numbers: FW, CY, S.")
    name = models.CharField("name", max_length=80)
    balloon = models.CharField(
        "balloon", max_length=6, blank=True, help_text="Its number on the general arrangement: 7, or 4.1."
    )
    balloon_key = models.CharField(max_length=60, editable=False, default="")

    class Meta:
        ordering = ("balloon_key", "code")
        verbose_name_plural = "assemblies"
        constraints = [
            models.UniqueConstraint(
                fields=("build", "code"),
                name="one_assembly_a_code",
                violation_error_message="Another assembly of this build has these letters.",
            ),
            models.UniqueConstraint(
                fields=("build", "balloon"),
                condition=~models.Q(balloon=""),
                name="one_assembly_a_balloon",
                violation_error_message="Another assembly of this build has this balloon.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"

    def save(self, *args: object, **kwargs: object) -> None:
        # An assembly without a balloon comes after those that have one.
        self.balloon_key = number_key(self.balloon) if self.balloon else AFTER_ALL
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def clean(self) -> None:
        """An assembly cannot hang on itself, nor on one of its own branch."""
        above = self.parent
        while above is not None:
            if self.pk and above.pk == self.pk:
                words = f"{self.code} cannot hang on its own branch. Choose an assembly outside it."
                raise ValidationError({"parent": words})
            above = above.parent

    def get_absolute_url(self) -> str:
        return reverse("assembly_page", args=[self.pk])
