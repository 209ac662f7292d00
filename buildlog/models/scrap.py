"""The scrap book: what was spoilt or made again, why, what it cost, and what the next one is told of it."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog.models.builds import Build
from buildlog.models.cards import WorkCard
from buildlog.models.parts import Part
from buildlog.searching import fold

#: More of one part are not spoilt at one go; a count past it is a slip.
MOST_PIECES = 9_999
#: Longer ones are not read at the machine. [letters]
LESSON_LONGEST = 300


class Spoilt(models.TextChoices):
    """What became of the pieces."""

    SCRAP = "scrap", "Scrap"
    REWORK = "rework", "Rework"


class Cause(models.TextChoices):
    """Why it came about; the drawing and the casting are as often to blame as the hand."""

    DRAWING = "drawing", "Drawing"
    SETTING = "setting", "Setting"
    COUNT = "count", "Count"
    TOOL = "tool", "Tool"
    MATERIAL = "material", "Material"
    HANDLING = "handling", "Handling"
    TIRED = "tired", "Tired or interrupted"


class ShowOn(models.TextChoices):
    """Which cards a lesson is printed on besides those of the part and its other hand."""

    PART = "part", "Same part"
    OPERATION = "operation", "Same operation"


class Told(models.TextChoices):
    """Whose card a lesson was printed on: each of them is told once."""

    PART = "part", "the same part"
    TWIN = "twin", "the other hand"
    OPERATION = "operation", "the same operation"


class ScrapQuerySet(models.QuerySet["Scrap"]):
    """Questions put to the scrap book."""

    def live(self) -> "ScrapQuerySet":
        """Those not in the bin."""
        return self.filter(binned_at=None)


class Scrap(models.Model):
    """One entry: so many pieces of a part, spoilt or worked again."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="scrap_book")
    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="scrap_book")
    on = models.DateField("date")
    count = models.PositiveIntegerField(
        "how many", default=1, validators=[MinValueValidator(1), MaxValueValidator(MOST_PIECES)]
    )
    kind = models.CharField("scrap or rework", max_length=6, choices=Spoilt, default=Spoilt.SCRAP)
    cause = models.CharField("cause", max_length=8, choices=Cause)
    happened = models.TextField("what happened", max_length=1000)
    minutes = models.PositiveIntegerField("hours lost", null=True, blank=True)
    lesson = models.TextField("lesson", max_length=LESSON_LONGEST, blank=True)
    show_on = models.CharField("show the lesson on", max_length=9, choices=ShowOn, default=ShowOn.PART)
    operation = models.CharField("operation", max_length=40, blank=True)
    at = models.DateTimeField(editable=False)
    changed_at = models.DateTimeField(null=True, blank=True, editable=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    token = models.UUIDField(null=True, unique=True, editable=False)
    binned_at = models.DateTimeField(null=True, blank=True, editable=False)
    # Asked for by hand: the next card it belongs to prints the lesson, told of before or not.
    show_again = models.BooleanField(default=False, editable=False)
    search_text = models.TextField(editable=False, default="")

    objects = ScrapQuerySet.as_manager()

    class Meta:
        ordering = ("-on", "-pk")
        indexes = [
            models.Index(fields=("build", "-on"), name="scrap_by_day"),
            models.Index(fields=("part", "-on"), name="scrap_by_part"),
        ]
        verbose_name_plural = "scrap"

    def __str__(self) -> str:
        return f"{self.words} of {self.part.key}"

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def derive(self) -> None:
        """Work out the column that is searched."""
        self.search_text = fold(f"{self.happened} {self.lesson} {self.operation}")

    def get_absolute_url(self) -> str:
        return reverse("scrap_page", args=[self.pk])

    @property
    def words(self) -> str:
        """How many and what became of them: `1 scrap`, `2 for rework`."""
        return f"{self.count} scrap" if self.kind == Spoilt.SCRAP else f"{self.count} for rework"

    @property
    def cause_word(self) -> str:
        return Cause(self.cause).label

    @property
    def shown_on_words(self) -> str:
        """Which cards the lesson is for: `same part`, `same operation: teeth`."""
        label = ShowOn(self.show_on).label.lower()
        return f"{label}: {self.operation}" if self.show_on == ShowOn.OPERATION else label


class LessonShown(models.Model):
    """A lesson printed on a card, so that it is printed once and not on every card after it."""

    scrap = models.ForeignKey(Scrap, on_delete=models.CASCADE, related_name="shown")
    card = models.ForeignKey(WorkCard, on_delete=models.CASCADE, related_name="lessons")
    told = models.CharField(max_length=9, choices=Told)

    class Meta:
        ordering = ("card__number",)
        constraints = [models.UniqueConstraint(fields=("scrap", "card"), name="one_lesson_a_card")]

    def __str__(self) -> str:
        return f"lesson of {self.scrap_id} on card {self.card_id}"
