"""What was really made: the sizes asked of a part, what was measured, and departures with whom they touch."""

from fractions import Fraction

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog import clock
from buildlog.models.builds import Build
from buildlog.models.cards import WorkCard
from buildlog.models.parts import Part
from buildlog.sizes_made import Judged, judged, shown

#: Figures are kept exactly, as `14287/500`; this is room for any that an entry can make.
EXACT = 120
TYPED = 40


class Characteristic(models.Model):
    """One size that a part is to have: as drawn, never overwritten by what was measured."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="characteristics")
    position = models.PositiveSmallIntegerField()
    name = models.CharField("what is measured", max_length=60)
    place = models.CharField("where on the drawing", max_length=40, blank=True)
    nominal = models.CharField("size as drawn", max_length=TYPED)
    unit = models.CharField(max_length=4, editable=False)
    upper = models.CharField("upper limit", max_length=TYPED, blank=True)
    lower = models.CharField("lower limit", max_length=TYPED, blank=True)
    # Worked out from what was typed, in millimetres, exactly.
    nominal_exact = models.CharField(max_length=EXACT, editable=False)
    upper_exact = models.CharField(max_length=EXACT, editable=False, default="")
    lower_exact = models.CharField(max_length=EXACT, editable=False, default="")
    token = models.UUIDField(null=True, unique=True, editable=False)

    class Meta:
        ordering = ("position", "pk")
        constraints = [
            models.UniqueConstraint(
                fields=("part", "name"),
                name="one_characteristic_a_name",
                violation_error_message="This part has a size of this name already: change that one.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.wanted}"

    def get_absolute_url(self) -> str:
        return reverse("characteristic_edit", args=[self.pk])

    @property
    def nominal_mm(self) -> Fraction:
        return Fraction(self.nominal_exact)

    @property
    def upper_mm(self) -> Fraction | None:
        return Fraction(self.upper_exact) if self.upper_exact else None

    @property
    def lower_mm(self) -> Fraction | None:
        return Fraction(self.lower_exact) if self.lower_exact else None

    @property
    def limits(self) -> str:
        """The limits as they were typed: `+0.0008 / -0`; empty where there is none."""
        if not self.upper and not self.lower:
            return ""
        return f"{self.upper or 'no upper'} / {self.lower or 'no lower'}"

    @property
    def nominal_shown(self) -> str:
        """The size as drawn, with its unit."""
        return shown(self.nominal, self.unit)

    @property
    def wanted(self) -> str:
        """Size, unit and limits in one line: `1.1250 in +0.0008 / -0`."""
        return f"{self.nominal_shown} {self.limits}".strip()


class ReadingQuerySet(models.QuerySet["Reading"]):
    """Questions put to readings."""

    def valid(self) -> "ReadingQuerySet":
        """Those that were not struck out, the one that counts first."""
        return self.filter(struck_at=None).order_by("-on", "-pk")


class Reading(models.Model):
    """One measurement; never changed or deleted, at most struck out with the reason."""

    characteristic = models.ForeignKey(Characteristic, on_delete=models.CASCADE, related_name="readings")
    piece = models.PositiveIntegerField("which piece", default=1, validators=[MinValueValidator(1)])
    value = models.CharField("reading", max_length=TYPED)
    unit = models.CharField(max_length=4)
    value_exact = models.CharField(max_length=EXACT)
    instrument = models.CharField("measured with", max_length=60, blank=True)
    on = models.DateField("measured on")
    note = models.CharField("note", max_length=200, blank=True)
    card = models.ForeignKey(
        WorkCard, on_delete=models.SET_NULL, null=True, blank=True, related_name="readings"
    )
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    token = models.UUIDField(null=True, editable=False)
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    struck_why = models.CharField(max_length=200, blank=True)

    objects = ReadingQuerySet.as_manager()

    class Meta:
        ordering = ("-on", "-pk")
        indexes = [models.Index(fields=("characteristic", "-on"), name="reading_by_day")]
        constraints = [
            models.UniqueConstraint(fields=("token", "characteristic"), name="one_reading_a_column")
        ]

    def __str__(self) -> str:
        return f"{self.characteristic.name} {self.shown}"

    @property
    def value_mm(self) -> Fraction:
        return Fraction(self.value_exact)

    @property
    def shown(self) -> str:
        """As it was typed, with its unit: `1.1254 in`."""
        return shown(self.value, self.unit)

    @property
    def judged(self) -> Judged:
        """In or out of the limits, worked exactly."""
        size = self.characteristic
        return judged(self.value_mm, lower=size.lower_mm, upper=size.upper_mm, unit=size.unit)

    @property
    def to_suit(self) -> str:
        """What a mate is told: `make to suit 1.2530 measured 3 May`; a unit of its own stays with it."""
        figure = self.value if self.unit == self.characteristic.unit else self.shown
        return f"make to suit {figure} measured {clock.day_words(self.on, clock.today())}"


class Decision(models.TextChoices):
    """What is done about a departure."""

    OPEN = "", "not decided"
    AS_IS = "use as is", "Use as is"
    REWORK = "rework", "Rework"
    REPAIR = "repair", "Repair"
    SCRAP = "scrap", "Scrap"
    RETURN = "return", "Return"
    WITHDRAWN = "withdrawn", "Withdrawn"  # its reading was struck out

    @property
    def keeps_the_part(self) -> bool:
        """Whether the piece goes on to be used, so that its mates have to suit it."""
        return self not in (Decision.SCRAP, Decision.RETURN, Decision.WITHDRAWN)


#: Those that a builder chooses among.
DECISIONS = (Decision.AS_IS, Decision.REWORK, Decision.REPAIR, Decision.SCRAP, Decision.RETURN)


class Concession(models.Model):
    """A departure from the drawing, by its number: open until it is decided."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="concessions")
    number = models.PositiveIntegerField()
    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="concessions")
    reading = models.OneToOneField(Reading, on_delete=models.CASCADE, related_name="concession")
    wrong = models.CharField("what is wrong", max_length=300)
    opened_at = models.DateTimeField()
    opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    decision = models.CharField("decision", max_length=9, choices=Decision, blank=True, default=Decision.OPEN)
    words = models.CharField("what is to be done", max_length=300, blank=True)
    decided_on = models.DateField(null=True, blank=True)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )

    class Meta:
        ordering = ("-number",)
        constraints = [models.UniqueConstraint(fields=("build", "number"), name="one_concession_a_number")]

    def __str__(self) -> str:
        return f"{self.key} on {self.part.key}"

    def get_absolute_url(self) -> str:
        return reverse("concession_page", args=[self.pk])

    @property
    def key(self) -> str:
        """As it is written on the part and on papers: `C-009`."""
        return f"C-{self.number:03}"

    @property
    def decided(self) -> Decision:
        return Decision(self.decision)

    @property
    def is_open(self) -> bool:
        return self.decided is Decision.OPEN

    @property
    def decided_words(self) -> str:
        """The decision with what is to be done: `Use as is, turn shaft to suit`."""
        if self.is_open:
            return "not decided"
        return ", ".join(filter(None, (self.decided.label, self.words)))


class ConcessionMate(models.Model):
    """A mate that must be told of a departure, and when somebody said that it was."""

    concession = models.ForeignKey(Concession, on_delete=models.CASCADE, related_name="mates")
    mate = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="to_suit")
    told_on = models.DateField(null=True, blank=True)
    told_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )

    class Meta:
        ordering = ("mate__number_key", "mate__hand")
        constraints = [models.UniqueConstraint(fields=("concession", "mate"), name="one_telling_a_mate")]

    def __str__(self) -> str:
        return f"{self.mate.key} of {self.concession.key}"
