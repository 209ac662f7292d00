"""Entries of what was really made: a characteristic, a column of readings, a decision."""

import uuid
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.actions.made import Read
from buildlog.forms.days import DayField
from buildlog.forms.standing import StandsForm
from buildlog.made import Column
from buildlog.models import DECISIONS, Characteristic, ConcessionMate, Decision, Part
from buildlog.signs import SeenForm
from buildlog.sizes_made import read_limit, read_nominal, read_reading
from calc.measures import EntryError, Measure

MOST_PIECES = 999
_PLAIN = {"autocomplete": "off", "spellcheck": "false"}


class CharacteristicForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """One size that a part is to have, with its limits."""

    thing = "characteristic"

    token = forms.UUIDField(widget=forms.HiddenInput)

    class Meta:
        model = Characteristic
        fields = ("name", "nominal", "upper", "lower", "place")
        widgets = {name: forms.TextInput(attrs=_PLAIN) for name in ("nominal", "upper", "lower")}
        help_texts = {
            "name": "Bore, outside diameter, face width.",
            "nominal": "As 1.1250 in, 1 1/8 or 28.575 mm.",
            "upper": "A deviation, as +0.0008, or the limit of size, as 1.1258. Empty for none.",
            "lower": "A deviation, as -0, or the limit of size. Empty for none.",
            "place": "As C3 in section, or the view. It may be left empty.",
        }

    def __init__(self, *args: Any, part: Part, **kwargs: Any) -> None:
        kwargs["initial"] = {"token": uuid.uuid4()}
        super().__init__(*args, **kwargs)
        self.instance.part = part
        self.measure: Measure | None = None

    def clean_name(self) -> str:
        return " ".join(str(self.cleaned_data["name"]).split())

    def clean_nominal(self) -> str:
        text = str(self.cleaned_data["nominal"]).strip()
        try:
            self.measure = read_nominal(text, inches=self.instance.part.build.units == "inch")
        except EntryError as wrong:
            raise ValidationError(wrong.message) from None
        return text

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.measure is None:
            return data
        self.instance.unit, self.instance.nominal_exact = self.measure.unit, str(self.measure.base)
        limits = {name: self._limit(name, data, self.measure) for name in ("upper", "lower")}
        upper, lower = limits["upper"], limits["lower"]
        if upper is not None and lower is not None and upper < lower:
            self.add_error(
                "upper", "The upper limit is below the lower one. Have they changed places, or their signs?"
            )
        self.instance.upper_exact = "" if upper is None else str(upper)
        self.instance.lower_exact = "" if lower is None else str(lower)
        return data

    def _limit(self, name: str, data: dict[str, Any], nominal: Measure) -> Any:
        text = str(data.get(name) or "").strip()
        if not text:
            return None
        try:
            return read_limit(text, nominal)
        except EntryError as wrong:
            self.add_error(name, wrong.message)
            return None

    def _get_validation_exclusions(self) -> set[str]:
        # The part is set here and not by the form, and is still part of what must be unique.
        exclusions: set[str] = super()._get_validation_exclusions()  # type: ignore[misc]
        return exclusions - {"part"}


class ReadingsForm(SeenForm, forms.Form):
    """A column of readings: a box to each characteristic, and one for what it was measured with."""

    on = DayField(label="Measured on")
    piece = forms.IntegerField(
        label="Which piece", min_value=1, max_value=MOST_PIECES, widget=forms.TextInput(attrs=_PLAIN)
    )
    note = forms.CharField(label="Note", required=False, max_length=200)
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, part: Part, columns: Sequence[Column], **kwargs: Any) -> None:
        kwargs["initial"] = {"on": clock.today(), "piece": 1, "token": uuid.uuid4()}
        super().__init__(*args, **kwargs)
        self.part, self.columns = part, columns
        self.read: dict[int, Read] = {}
        self.fields["on"].widget.attrs["max"] = clock.today().isoformat()
        for column in columns:
            self._add_boxes(column)
        if part.needed <= 1:
            self.fields["piece"].widget = forms.HiddenInput()
            self.fields["piece"].required = False

    def _add_boxes(self, column: Column) -> None:
        size = column.size
        last = (column.counts or column.others)[:1]
        box = {**_PLAIN, "aria-label": f"{size.name}, reading", "class": "in"}
        self.fields[f"value{size.pk}"] = forms.CharField(
            label=size.name, required=False, max_length=40, widget=forms.TextInput(attrs=box)
        )
        self.fields[f"with{size.pk}"] = forms.CharField(
            label=f"{size.name}, measured with",
            required=False,
            max_length=60,
            initial=last[0].instrument if last else "",
            widget=forms.TextInput(attrs={**box, "aria-label": f"{size.name}, measured with"}),
        )

    @property
    def lines(self) -> list[dict[str, Any]]:
        """The column as it is shown: each characteristic with its two boxes."""
        return [
            {
                "size": column.size,
                "column": column,
                "value": self[f"value{column.size.pk}"],
                "instrument": self[f"with{column.size.pk}"],
            }
            for column in self.columns
        ]

    def clean_piece(self) -> int:
        piece: int = self.cleaned_data["piece"] or 1
        made = max(self.part.needed, 1) + self.part.scrap
        if piece > made:
            raise ValidationError(
                f"{made} of {self.part.key} are needed or were made. Write a piece from 1 to {made}."
            )
        return piece

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for column in self.columns:
            self._read(column.size, data)
        if not self.read and not self.errors:
            raise ValidationError("No reading is typed yet. Write at least one; the others may stay empty.")
        return data

    def _read(self, size: Characteristic, data: dict[str, Any]) -> None:
        text = str(data.get(f"value{size.pk}") or "").strip()
        if not text:
            return
        known = (size.nominal_mm, size.upper_mm, size.lower_mm)
        about = max(mm for mm in known if mm is not None)
        try:
            measure = read_reading(text, unit=size.unit, about=about)
        except EntryError as wrong:
            self.add_error(f"value{size.pk}", wrong.message)
            return
        instrument = str(data.get(f"with{size.pk}") or "").strip()
        self.read[size.pk] = Read(measure, instrument)


class DecisionForm(SeenForm, forms.Form):
    """What is done about a departure, and which mates must be told of it."""

    decision = forms.ChoiceField(
        choices=[(one.value, one.label) for one in DECISIONS],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose one of the five: use as is, rework, repair, scrap or return."},
    )
    words = forms.CharField(
        label="What is to be done",
        required=False,
        max_length=300,
        help_text="As: turn shaft to suit.",
    )
    mates = forms.TypedMultipleChoiceField(
        label="Mates that must be told",
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "That part is not among the mates of this concession."},
    )

    def __init__(self, *args: Any, tellings: Sequence[ConcessionMate], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        waiting = [one.mate for one in tellings if one.told_on is None]
        choices = [(mate.pk, f"{mate.key} {mate.name}") for mate in waiting]
        mates = self.fields["mates"]
        assert isinstance(mates, forms.TypedMultipleChoiceField)
        mates.choices, mates.initial = choices, [pk for pk, _ in choices]

    @property
    def decided(self) -> Decision:
        return Decision(self.cleaned_data["decision"])
