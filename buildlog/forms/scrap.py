"""Entries of the scrap book."""

import re
import uuid
from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.forms.days import DayField
from buildlog.forms.part_keys import echo_part, key_input, part_meant
from buildlog.forms.standing import StandsForm
from buildlog.log_words import minutes_said, read_lost
from buildlog.models import Build, Cause, Part, Scrap, ShowOn, Spoilt
from buildlog.models.scrap import MOST_PIECES


@dataclass(frozen=True, slots=True)
class Prefilled:
    """What is known where a new entry is asked for."""

    part: Part | None = None
    count: int = 1
    happened: str = ""
    is_counted: bool = False  # the pieces are in the part's count of scrap already


class ScrapForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """What was spoilt or made again, why, what it cost, and what the next one is told of it."""

    thing = "entry"

    on = DayField(label="Date")
    part = forms.CharField(
        max_length=60,
        label="Part",
        help_text="Its number, as S-013.",
        error_messages={"required": "Which part was it? Write its number, as S-013."},
        widget=key_input(),
    )
    count = forms.CharField(
        max_length=8,
        label="How many",
        error_messages={"required": f"How many? Write a whole number from 1 to {MOST_PIECES}."},
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )
    kind = forms.ChoiceField(
        choices=Spoilt.choices,
        widget=forms.RadioSelect,
        label="It is",
        error_messages={"required": "Say whether it is scrap or rework."},
    )
    cause = forms.ChoiceField(
        choices=Cause.choices,
        widget=forms.RadioSelect,
        help_text="The nearest of these; what happened says the rest.",
        error_messages={"required": "Choose the nearest cause; none of them is a fault of somebody."},
    )
    minutes = forms.CharField(
        required=False,
        max_length=20,
        label="Hours lost",
        help_text="As 3.5, 3 h 30 or 210 min. Empty if you do not know.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    show_on = forms.ChoiceField(
        choices=ShowOn.choices,
        widget=forms.RadioSelect,
        label="Show the lesson on",
        help_text="Printed once on the next card of the part and of its other hand; by its operation, once "
        "on the card of another part as well.",
    )
    count_now = forms.BooleanField(required=False, label="If it is scrap, count it as scrap of the part now")
    token = forms.UUIDField(widget=forms.HiddenInput)

    class Meta:
        model = Scrap
        fields = (
            "on", "part", "count", "kind", "cause", "happened", "minutes", "lesson", "show_on", "operation",
        )  # fmt: skip
        widgets = {
            "happened": forms.Textarea(attrs={"rows": 3}),
            "lesson": forms.Textarea(attrs={"rows": 2}),
            "operation": forms.TextInput(attrs={"list": "operations", "autocomplete": "off"}),
        }
        help_texts = {
            "lesson": "What to do otherwise, in a line or two: it is printed on a work card.",
            "operation": "In one word: teeth, keyway, bore, turning. Wanted only for the same operation.",
        }
        error_messages = {"happened": {"required": "Say what happened, in a few words."}}

    def __init__(self, *args: Any, build: Build, known: Prefilled, **kwargs: Any) -> None:
        scrap = kwargs["instance"]
        part = scrap.part if scrap.pk else known.part
        kwargs["initial"] = {
            "on": scrap.on or clock.today(),
            "part": part.key if part else "",
            "count": scrap.count if scrap.pk else known.count,
            "happened": scrap.happened or known.happened,
            "minutes": minutes_said(scrap.minutes),
            "count_now": known.part is not None and not known.is_counted,
            "token": uuid.uuid4(),
        }
        super().__init__(*args, **kwargs)
        self.instance.build = build
        if scrap.pk:
            del self.fields["count_now"]
        self.fields["on"].widget.attrs["max"] = clock.today().isoformat()
        echo_part(self.fields["part"], build)

    def clean_part(self) -> Part | None:
        stands = self.instance.part if self.instance.pk else None
        return part_meant(self.instance.build, self.cleaned_data["part"], stands)

    def clean_count(self) -> int:
        text = str(self.cleaned_data["count"]).strip()
        if not re.fullmatch(r"\d{1,8}", text, re.ASCII) or not 1 <= int(text) <= MOST_PIECES:
            raise ValidationError(
                f"{text} is no number of pieces: write a whole number from 1 to {MOST_PIECES}."
            )
        return int(text)

    def clean_minutes(self) -> int | None:
        text = str(self.cleaned_data["minutes"]).strip()
        if not text:
            return None
        try:
            return read_lost(text)
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None

    def clean_operation(self) -> str:
        return " ".join(str(self.cleaned_data["operation"]).split())

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        wants_operation = data.get("lesson") and data.get("show_on") == ShowOn.OPERATION
        if wants_operation and "operation" not in self.errors and not data.get("operation"):
            self.add_error(
                "operation", "Which operation? Write it in one word, as teeth, or show it on the same part."
            )
        return data


class ScrapListForm(forms.Form):
    """What the scrap book is narrowed to."""

    cause = forms.ChoiceField(required=False, choices=[("", "any"), *Cause.choices])
    part = forms.CharField(required=False, max_length=60, label="Part")
    page = forms.IntegerField(required=False, min_value=1)

    @property
    def asked(self) -> dict[str, Any]:
        """What was asked for and could be read; the rest is as if it had been left open."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value not in (None, "")}
