"""What goes by a number and is listed in the order a person puts numbers in."""

from typing import Any

from django.db import models

from buildlog.numbers import number_key


class Numbered(models.Model):
    """A record with a `number`, and the column its lists are sorted by worked out whenever it is saved."""

    number: "models.CharField[Any, Any]"
    number_key = models.CharField(max_length=130, editable=False, default="")

    class Meta:
        abstract = True

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def derive(self) -> None:
        """Work out the column that lists sort by; what is written in bulk asks for it itself."""
        self.number_key = number_key(self.number)
