"""What a trial cut by a kept plan measured."""

import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from calc import trials
from calc.measures import EntryError
from calc.models import CalculationRecord


class TrialForm(forms.Form):
    """A tooth across at both ends, one of which is enough, and a note."""

    small = forms.CharField(required=False, max_length=40, label="Small end")
    large = forms.CharField(required=False, max_length=40, label="Large end")
    note = forms.CharField(
        required=False,
        max_length=400,
        label="Note",
        help_text="What you saw, and what you mean to change.",
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, record: CalculationRecord, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["token"] = uuid.uuid4()
        self.record = record
        for end in trials.ENDS:
            self.fields[end].help_text = f"By the plan {trials.wanted_text(record, end)}."
            self.fields[end].widget.attrs["autocomplete"] = "off"

    def clean_small(self) -> str:
        return self._read("small")

    def clean_large(self) -> str:
        return self._read("large")

    def _read(self, end: trials.End) -> str:
        text = str(self.cleaned_data[end]).strip()
        if text:
            try:
                trials.read_tooth(self.record, end, text)
            except EntryError as wrong:
                raise ValidationError(str(wrong)) from None
        return text

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if not any(data.get(end) or end in self.errors for end in trials.ENDS):
            self.add_error("small", "Write down at least one end of the tooth.")
        return data
