"""The builder's own tooling: dividing heads, their plates, gear cutters."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from buildlog.numbers import number_key


class DividingHead(models.Model):
    """A dividing head or rotary table with its ratio; kept once, used in every build."""

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="dividing_heads"
    )
    name = models.CharField("name", max_length=40, help_text="What you call it: H1, or big head.")
    ratio = models.PositiveIntegerField(
        "ratio",
        default=40,
        validators=[MinValueValidator(1), MaxValueValidator(360)],
        help_text="Turns of the crank for one turn of the spindle.",
    )
    direct_circles = models.CharField(
        "direct plate",
        max_length=60,
        blank=True,
        help_text="Holes on the plate at the spindle, if it has one: 24.",
    )
    change_gears = models.CharField(
        "change gears",
        max_length=200,
        blank=True,
        help_text="Those that go between spindle and plate; one owned twice is written twice: 24, 24, 28.",
    )
    is_usual = models.BooleanField("the one I usually use", default=False)

    class Meta:
        ordering = ("-is_usual", "name", "pk")

    def __str__(self) -> str:
        return f"{self.name}, {self.ratio} to 1"

    @property
    def circles_text(self) -> str:
        """Every face's circles as the indexing entry takes them: a stroke parts the faces."""
        return " / ".join(circles for _, circles in self.faces)

    @property
    def faces(self) -> list[tuple[str, str]]:
        """Each face in turn: its name, as `plate 4, first face`, and its circles."""
        found = []
        for plate in self.plates.all():
            if plate.second_face:
                found.append((f"plate {plate.name}, first face", plate.first_face))
                found.append((f"plate {plate.name}, second face", plate.second_face))
            else:
                found.append((f"plate {plate.name}", plate.first_face))
        return found


class IndexPlate(models.Model):
    """An index plate of a head: the circles of holes on its one or two faces."""

    head = models.ForeignKey(DividingHead, on_delete=models.CASCADE, related_name="plates")
    name = models.CharField("plate", max_length=20, help_text="1, 2, 3 or what is stamped on it.")
    first_face = models.CharField(
        "circles", max_length=200, help_text="Holes in each circle: 15,16,17,18,19,20"
    )
    second_face = models.CharField("circles on the back", max_length=200, blank=True)

    class Meta:
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return f"plate {self.name} of {self.head}"


class Numbering(models.TextChoices):
    """Which way a set of gear cutters is numbered; the range decides, the number only names."""

    ONE_IS_RACK = "1 cuts the rack", "1 cuts the rack, 8 the fewest teeth"
    ONE_IS_TWELVE = "1 cuts 12 and 13", "1 cuts 12 and 13 teeth, 8 the rack"


class GearCutter(models.Model):
    """A disc form cutter, with the range of teeth marked on it."""

    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="gear_cutters")
    pitch = models.CharField("pitch", max_length=20, help_text="As stamped: 8 DP, or 2 mod.")
    pressure_angle = models.CharField("pressure angle", max_length=20, default="20", help_text="In degrees.")
    number = models.CharField("number", max_length=10, blank=True, help_text="As stamped: 5, or 5 1/2.")
    numbering = models.CharField("numbering", max_length=20, choices=Numbering, default=Numbering.ONE_IS_RACK)
    from_teeth = models.PositiveIntegerField(
        "from",
        validators=[MinValueValidator(6), MaxValueValidator(1000)],
        help_text="Fewest teeth marked on it.",
    )
    to_teeth = models.PositiveIntegerField(
        "to",
        null=True,
        blank=True,
        validators=[MinValueValidator(6), MaxValueValidator(1000)],
        help_text="Most teeth marked on it; left empty for the rack.",
    )
    depth_marked = models.CharField(
        "depth marked", max_length=20, blank=True, help_text="As stamped: 0.270 in."
    )
    note = models.CharField("note", max_length=120, blank=True)
    pitch_key = models.CharField(max_length=60, editable=False, default="")

    class Meta:
        ordering = ("pitch_key", "pressure_angle", "from_teeth", "pk")

    def __str__(self) -> str:
        return f"{self.pitch}, {self.range_text} teeth"

    def save(self, *args: object, **kwargs: object) -> None:
        self.pitch_key = number_key(self.pitch)[:60]
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    @property
    def range_text(self) -> str:
        """The range as it is marked: `55–134`, or `135–rack`."""
        return f"{self.from_teeth}–{self.to_teeth or 'rack'}"
