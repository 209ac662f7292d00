"""Entries about a work card."""

import uuid
from collections.abc import Sequence
from typing import Any, TypedDict

from django import forms

from buildlog.models import Paper
from buildlog.signs import SeenForm
from calc.models import CalculationRecord


class Said(TypedDict):
    """What was asked of a card."""

    record: CalculationRecord | None
    paper: str
    operation: str
    machine: str
    held_on: str
    token: uuid.UUID


class CardForm(SeenForm, forms.Form):
    """Which sum goes on the card, on what paper, and the few words known beforehand."""

    record = forms.ChoiceField(widget=forms.RadioSelect, label="Sum to print on it", required=False)
    paper = forms.ChoiceField(choices=Paper.choices, widget=forms.RadioSelect, initial=Paper.A4)
    operation = forms.CharField(
        required=False,
        max_length=60,
        help_text="Number and what is done: Op 50 Cut 84 teeth. Left empty, there is a rule to write on.",
    )
    machine = forms.CharField(
        required=False, max_length=60, help_text="Mill, lathe, drill; head and plate come from the sum."
    )
    held_on = forms.CharField(
        required=False, max_length=60, label="Held on", help_text="Arbor, fixture, chuck."
    )
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, kept: Sequence[CalculationRecord], asked: str | None, **kwargs: Any
    ) -> None:
        self.kept = {str(record.pk): record for record in kept}
        chosen = asked if asked in self.kept else next(iter(self.kept), "")
        kwargs["initial"] = {"token": uuid.uuid4(), "record": chosen, "paper": Paper.A4}
        super().__init__(*args, **kwargs)
        field = self.fields["record"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [
            *((pk, f"Sum {pk}: {record.title}, {record.headline}") for pk, record in self.kept.items()),
            ("", "None: a card ruled to write on"),
        ]

    @property
    def said(self) -> Said:
        data = self.cleaned_data
        return {
            "record": self.kept.get(data["record"]),
            "paper": data["paper"],
            "operation": data["operation"],
            "machine": data["machine"],
            "held_on": data["held_on"],
            "token": data["token"],
        }
