"""Parts: what is made or bought, how many, and how far each has come."""

import re

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils.functional import cached_property

from buildlog.materials import hatch_of
from buildlog.models.assemblies import Assembly
from buildlog.models.builds import Build
from buildlog.models.drawings import SheetIssue
from buildlog.numbers import key_of, number_key
from buildlog.searching import fold
from calc.measures import EntryError, Size, parse_size

_TEETH = re.compile(r"\b(\d{1,4})\s*-?\s*(?:T|teeth|tooth)\b", re.I)
#: Columns worked out from the others whenever a part is saved.
DERIVED = ("number_key", "hatch", "size_nm", "search_text", "sheet_number")
SHEET = re.compile(r"^(?:sh(?:eet)?\.?\s*)?(\d+)\s*(?:iss(?:ue)?\.?\s*)?([A-Z]{1,2})?$", re.I)


class Hand(models.TextChoices):
    """Left and right are separate records."""

    NONE = "", "no hand"
    LEFT = "L", "left"
    RIGHT = "R", "right"


class Kind(models.TextChoices):
    """Where a part comes from."""

    CASTING = "casting", "casting"
    STOCK = "from stock", "from stock"
    BOUGHT = "bought", "bought"
    MADE_UP = "made up", "made up"


class Stage(models.TextChoices):
    """How far a record has come; one of these at a time."""

    NOT_STARTED = "not started", "Not started"
    IN_HAND = "in hand", "In hand"
    MACHINED = "machined", "Machined"
    FITTED = "fitted", "Fitted"
    PAINTED = "painted", "Painted"
    ON_ENGINE = "on the engine", "On the engine"

    @property
    def place(self) -> int:
        """0 for not started to 5 for on the engine: also the number of its mark."""
        return list(Stage).index(self)

    @property
    def is_made(self) -> bool:
        """Machined or further: every one that is needed has been made."""
        return self.place >= Stage.MACHINED.place


MADE_STAGES = [stage for stage in Stage if stage.is_made]


def stage_places() -> models.Case:
    """An expression that sorts parts by how far they have come."""
    return models.Case(
        *(models.When(stage=stage, then=models.Value(stage.place)) for stage in Stage),
        output_field=models.IntegerField(),
    )


class PartQuerySet(models.QuerySet["Part"]):
    """Questions put to parts."""

    def live(self) -> "PartQuerySet":
        """Those not in the bin."""
        return self.filter(binned_at=None)

    def with_needed(self) -> "PartQuerySet":
        """Each with how many the build needs, summed over where it is used."""
        total = (
            PartUse.objects.filter(part=models.OuterRef("pk"))
            .order_by()
            .values("part")
            .annotate(total=models.Sum("quantity"))
            .values("total")
        )
        return self.annotate(needed_sum=Coalesce(models.Subquery(total), 0))

    def with_asked(self) -> "PartQuerySet":
        """Each with how many characteristics are asked of it."""
        of_part = self.model.objects.filter(pk=models.OuterRef("pk")).order_by()
        total = of_part.annotate(total=models.Count("characteristics")).values("total")
        return self.annotate(asked_count=models.Subquery(total))

    def with_issue(self) -> "PartQuerySet":
        """Each with the issue of its sheet that came last, as the register of drawings has it."""
        issues = SheetIssue.objects.filter(
            drawing__build=models.OuterRef("build"), drawing__number=models.OuterRef("sheet_number")
        )
        return self.annotate(issue_that_came_last=models.Subquery(issues.values("issue")[:1]))


class Part(models.Model):
    """One thing to be made or bought; its key is number and hand."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="parts")
    number = models.CharField("number", max_length=20)
    hand = models.CharField("hand", max_length=1, choices=Hand, blank=True, default=Hand.NONE)
    name = models.CharField("name", max_length=120)
    kind = models.CharField("kind", max_length=10, choices=Kind, default=Kind.STOCK)
    material = models.CharField("made of", max_length=80, blank=True)
    leading_size = models.CharField("leading size", max_length=40, blank=True)
    sheet = models.CharField("sheet", max_length=30, blank=True)
    casting_number = models.CharField("casting number", max_length=20, blank=True)
    castings_each = models.PositiveSmallIntegerField(
        "castings to one part", default=1, validators=[MinValueValidator(1), MaxValueValidator(99)]
    )
    casting_since = models.DateField(null=True, blank=True, editable=False)  # the day it came to need it
    weight = models.CharField("weight", max_length=20, blank=True)
    notes = models.TextField("notes", max_length=2000, blank=True)
    lesson = models.TextField("lesson for the next like part", max_length=1000, blank=True)
    stage = models.CharField(max_length=13, choices=Stage, default=Stage.NOT_STARTED)
    good = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(99_999)])
    scrap = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(99_999)])
    # What no fact in the build tells: a tool on loan, a dry day. Castings and parts are worked out.
    waits_for = models.CharField("waits for", max_length=120, blank=True)
    waits_since = models.DateField(null=True, blank=True, editable=False)
    stage_at = models.DateTimeField(null=True, blank=True, editable=False)
    binned_at = models.DateTimeField(null=True, blank=True, editable=False)
    # Worked out from the above whenever it is saved, so that lists sort and search in the database.
    number_key = models.CharField(max_length=130, editable=False, default="")
    size_nm = models.BigIntegerField(null=True, editable=False)
    hatch = models.CharField(max_length=2, editable=False, default="")
    search_text = models.TextField(editable=False, default="")
    sheet_number = models.CharField(max_length=6, editable=False, default="")

    objects = PartQuerySet.as_manager()

    class Meta:
        ordering = ("number_key", "hand")
        indexes = [
            models.Index(fields=("build", "number_key", "hand"), name="part_by_number"),
            models.Index(fields=("build", "stage"), name="part_by_stage"),
            models.Index(fields=("build", "sheet_number"), name="part_by_sheet"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=("build", "number", "hand"),
                condition=models.Q(binned_at=None),
                name="one_live_part_a_key",
                violation_error_message="Another part of this build has this number and hand.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.key} {self.name}"

    def save(self, *args: object, **kwargs: object) -> None:
        self.derive()
        super().save(*args, **kwargs)  # type: ignore[arg-type]

    def get_absolute_url(self) -> str:
        return reverse("part_page", args=[self.pk])

    def derive(self) -> None:
        """Work out the columns that lists sort and search by."""
        self.number_key = number_key(self.number)
        self.hatch = hatch_of(self.material)
        named = SHEET.match(self.sheet)
        self.sheet_number = named[1].lstrip("0")[:6] if named else ""
        size = self.size
        self.size_nm = round(size.measure.base * 1_000_000) if size and size.measure else None
        found = (self.key, self.name, self.material, self.leading_size, self.casting_number, self.notes)
        self.search_text = fold(" ".join(found))

    @property
    def key(self) -> str:
        """Number and hand, the one way it is written everywhere: `H-021-L`."""
        return key_of(self.number, self.hand)

    @property
    def needed(self) -> int:
        """How many the build needs; from the list's annotation where there is one."""
        if "needed_sum" not in self.__dict__:
            self.__dict__["needed_sum"] = self.uses.aggregate(total=models.Sum("quantity"))["total"] or 0
        return int(self.__dict__["needed_sum"])

    def forget_needed(self) -> None:
        """Work the needed number out again when it is next asked for."""
        self.__dict__.pop("needed_sum", None)

    @property
    def to_make(self) -> int:
        return max(self.needed - self.good, 0)

    @property
    def is_short(self) -> bool:
        """Begun, and still short: worth saying how many are to make."""
        return bool(self.to_make and (self.good or self.scrap))

    @property
    def is_complete(self) -> bool:
        """As many good ones as are needed, and at least one."""
        return self.good >= max(self.needed, 1)

    @property
    def stage_mark(self) -> Stage:
        return Stage(self.stage)

    @property
    def size(self) -> Size | None:
        """The leading size as read; None where it is empty or was never readable."""
        if not self.leading_size:
            return None
        try:
            return parse_size(self.leading_size, "inch" if self.build.units == "inch" else "mm")
        except EntryError:
            return None

    @property
    def teeth(self) -> int | None:
        """The number of teeth its name or leading size gives."""
        match = _TEETH.search(self.name) or _TEETH.search(self.leading_size)
        return int(match[1]) if match else None

    @property
    def sheet_text(self) -> str:
        """`Sheet 12 issue B` from what was typed as `12 B`."""
        match = SHEET.match(self.sheet)
        if not match:
            return self.sheet
        return f"Sheet {match[1]} issue {match[2].upper()}" if match[2] else f"Sheet {match[1]}"

    @cached_property
    def mates(self) -> "list[Part]":
        """The parts it runs or fits with, whichever of the two names the other; asked for once."""
        mine = models.Q(mated_to__other=self) | models.Q(mated_from__one=self)
        return list(Part.objects.live().filter(mine).select_related("build").distinct())

    def facts_for_sums(self) -> dict[str, str]:
        """What a kept sum on this part may rest on, each under the name it is spoken of by.

        A sum goes stale when one of these is no longer what it was: the part itself, a mate, the issue of
        its sheet.
        """
        facts = {
            "The part's number": self.key,
            "Sheet": self.sheet,
            "The part's number of teeth": str(self.teeth or ""),
            "Leading size": self.leading_size,
        }
        if self.sheet_number:
            facts[f"Sheet {self.sheet_number} in the register"] = self._issue_in_register()
        for mate in self.mates:
            said = [f"{mate.teeth} T" if mate.teeth else "", mate.leading_size, mate.sheet_text]
            facts[f"Mate {mate.key}"] = ", ".join(word for word in said if word) or mate.name
        return {name: value for name, value in facts.items() if value}

    def _issue_in_register(self) -> str:
        """The issue of its sheet that came last, from the query's annotation where it has one."""
        if "issue_that_came_last" in self.__dict__:
            last = self.__dict__["issue_that_came_last"]
            return f"issue {last}" if last else ""
        issues = SheetIssue.objects.filter(drawing__build=self.build_id, drawing__number=self.sheet_number)
        found = issues.values_list("issue").first()
        return f"issue {found[0]}" if found else ""

    @property
    def hand_word(self) -> str:
        return self.get_hand_display() if self.hand else ""


class PartUse(models.Model):
    """Where a part is used, and how many there."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="uses")
    assembly = models.ForeignKey(Assembly, on_delete=models.PROTECT, related_name="uses")
    quantity = models.PositiveIntegerField(
        default=1, validators=[MinValueValidator(1), MaxValueValidator(9_999)]
    )

    class Meta:
        ordering = ("pk",)
        constraints = [
            models.UniqueConstraint(
                fields=("part", "assembly"),
                name="one_use_an_assembly",
                violation_error_message="It is already used in this assembly: change the quantity there.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.quantity} in {self.assembly}"
