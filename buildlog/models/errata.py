"""Errata: what is wrong on a sheet, which parts that reaches, and what became of it in each issue."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from buildlog import clock
from buildlog.models.builds import Build
from buildlog.models.drawings import Drawing, SheetIssue
from buildlog.models.made import Concession
from buildlog.models.parts import Part

#: Sheets with more pages than this are no drawings.
MOST_PAGES = 500


class Erratum(models.Model):
    """One error on a sheet: as printed, and as it should be; it flags every part of that sheet."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="errata")
    drawing = models.ForeignKey(Drawing, on_delete=models.CASCADE, related_name="errata")
    number = models.PositiveIntegerField()
    issue = models.CharField("found on issue", max_length=2, blank=True)
    where = models.CharField("where", max_length=80)
    as_printed = models.CharField("as printed", max_length=40)
    should_be = models.CharField("should be", max_length=40)
    source = models.CharField("how it is known", max_length=80, blank=True)
    found_on = models.DateField("found on")
    checked_on = models.DateField("checked by you on", null=True, blank=True)
    checked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    # The spot on the sheet: of the page, from its top left corner, 0 to 1 each way; and the file it is in.
    page = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(MOST_PAGES)]
    )
    x = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0), MaxValueValidator(1)])
    y = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0), MaxValueValidator(1)])
    file = models.CharField(max_length=64, blank=True)  # SHA-256 of its bytes; empty for any file
    written_at = models.DateTimeField()
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    token = models.UUIDField(null=True, unique=True, editable=False)
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    struck_why = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("-number",)
        verbose_name_plural = "errata"
        constraints = [models.UniqueConstraint(fields=("build", "number"), name="one_erratum_a_number")]

    def __str__(self) -> str:
        return f"{self.key} {self.words}"

    def get_absolute_url(self) -> str:
        return reverse("erratum_page", args=[self.pk])

    @property
    def key(self) -> str:
        """As it is written on the part, on cards and on the sheet itself: `E-001`."""
        return f"E-{self.number:03}"

    @property
    def words(self) -> str:
        """`lifting link centres 2.310 should read 2.435`."""
        return f"{self.where} {self.as_printed} should read {self.should_be}"

    @property
    def known(self) -> str:
        """How it is known, and since when: `own layout, 14 Mar`."""
        return ", ".join(filter(None, (self.source, clock.day_words(self.found_on, clock.today()))))

    @property
    def told(self) -> str:
        """All of it in one line."""
        return f"{self.words} ({self.known})"


class Dealing(models.TextChoices):
    """How an erratum was dealt with on one part; empty while it has to be looked at whatever comes."""

    OPEN = "", "Not dealt with"
    REMADE = "remade", "Remade"
    MADE_RIGHT = "made right", "Made to what it should be"
    NOT_AFFECTED = "not affected", "Not affected"
    CONCESSION = "concession", "Accepted as it is"
    TO_MAKE = "to make", "Will be made right"


class ErratumPart(models.Model):
    """What was done about an erratum on one part; a part without one is flagged by every erratum."""

    erratum = models.ForeignKey(Erratum, on_delete=models.CASCADE, related_name="parts")
    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="errata")
    how = models.CharField(max_length=12, choices=Dealing, blank=True, default=Dealing.OPEN)
    concession = models.ForeignKey(
        Concession, on_delete=models.SET_NULL, null=True, blank=True, related_name="errata"
    )
    words = models.CharField("note", max_length=200, blank=True)
    on = models.DateField(null=True, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ("part__number_key", "part__hand")
        constraints = [models.UniqueConstraint(fields=("erratum", "part"), name="one_dealing_a_part")]

    def __str__(self) -> str:
        return f"{self.erratum.key} on {self.part.key}: {Dealing(self.how).label.lower()}"


class InIssue(models.TextChoices):
    """Whether a later issue still has the error."""

    STILL = "still", "Still in it"
    RIGHT = "right", "Put right in it"


class ErratumIssue(models.Model):
    """What a look at a later issue showed of an erratum."""

    erratum = models.ForeignKey(Erratum, on_delete=models.CASCADE, related_name="looks")
    issue = models.ForeignKey(SheetIssue, on_delete=models.CASCADE, related_name="errata")
    state = models.CharField(max_length=5, choices=InIssue)
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ("-issue__recorded_at", "-issue__pk")
        constraints = [models.UniqueConstraint(fields=("erratum", "issue"), name="one_look_an_issue")]

    def __str__(self) -> str:
        return f"{self.erratum.key} {InIssue(self.state).label.lower()}: issue {self.issue.issue}"
