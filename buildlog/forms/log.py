"""Entries of the workshop log, and what the log is narrowed to."""

import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.forms.days import DayField
from buildlog.forms.part_keys import echo_part, key_input, part_meant
from buildlog.forms.standing import StandsForm
from buildlog.log_links import MOST_LINKS, read_links
from buildlog.log_words import minutes_said, read_minutes
from buildlog.models import Build, LogEntry, Part, TimeKind

SAID = ("done", "left_off", "next")
#: The rounded times that an evening comes to, one touch each; any other is typed.
QUICK = (30, 60, 90, 120, 180)


class LogForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """One session: when, how long, at what, what was done, where it was left off, what is next."""

    thing = "entry"
    on = DayField(label="Date")
    quick = forms.ChoiceField(
        label="Minutes",
        required=False,
        choices=[*((str(minutes), str(minutes)) for minutes in QUICK), ("", "other")],
        widget=forms.RadioSelect,
    )
    minutes = forms.CharField(
        label="How long",
        required=False,
        max_length=20,
        help_text="Any other time, as 75, or 2 h 20. Empty if you do not know.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    part = forms.CharField(
        label="Part",
        required=False,
        max_length=60,
        help_text="Its number, as S-016. Empty for work on no part.",
        widget=key_input(),
    )
    kind = forms.ChoiceField(label="Kind of time", required=False, choices=TimeKind, widget=forms.Select)
    links = forms.CharField(
        label="Links",
        required=False,
        max_length=6000,
        help_text=f"To a video or a page, one a line, {MOST_LINKS} at most. Nothing is fetched.",
        widget=forms.Textarea(
            attrs={"rows": 2, "inputmode": "url", "autocapitalize": "none", "spellcheck": "false"}
        ),
    )
    token = forms.UUIDField(widget=forms.HiddenInput)

    class Meta:
        model = LogEntry
        fields = ("part", *SAID, "quick", "minutes", "on", "kind", "links")
        widgets = {
            "done": forms.Textarea(attrs={"rows": 4}),
            "left_off": forms.Textarea(attrs={"rows": 3}),
            "next": forms.Textarea(attrs={"rows": 2}),
        }
        help_texts = {
            "left_off": "What stands how: cut, pin, depth, what is clamped, what not to move.",
            "next": "The first thing to do when you come back.",
        }

    def __init__(self, *args: Any, build: Build, asked: Part | None = None, **kwargs: Any) -> None:
        entry = kwargs["instance"]
        part = entry.part or asked
        kwargs["initial"] = {
            "on": entry.on or clock.today(),
            **_time_of(entry.minutes),
            "kind": entry.kind,
            "links": entry.links,
            "part": part.key if part else "",
            "token": uuid.uuid4(),
        }
        super().__init__(*args, **kwargs)
        self.instance.build = build
        self.fields["on"].widget.attrs["max"] = clock.today().isoformat()
        echo_part(self.fields["part"], build)

    def clean_minutes(self) -> int | None:
        text = str(self.cleaned_data["minutes"]).strip()
        touched = int(self.cleaned_data.get("quick") or 0) or None
        if not text:
            return touched
        try:
            typed = read_minutes(text)
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None
        if touched and touched != typed:
            raise ValidationError(
                f"Two times stand here: {touched} minutes and “{text}”. Clear this one, or choose “other”."
            )
        return typed

    def clean_kind(self) -> str:
        """An entry that says nothing of it is of time at the bench."""
        return self.cleaned_data["kind"] or TimeKind.BENCH

    def clean_links(self) -> str:
        try:
            return read_links(str(self.cleaned_data["links"]))
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None

    def clean_part(self) -> Part | None:
        # In the bin or not: the entry was written about it.
        return part_meant(self.instance.build, self.cleaned_data["part"], self.instance.part)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if not any(str(data.get(name, "")).strip() for name in SAID) and not any(
            name in self.errors for name in SAID
        ):
            self.add_error(
                "done",
                "Say at least one of the three: what was done, where it was left off, or what is next.",
            )
        return data


def _time_of(minutes: int | None) -> dict[str, str]:
    """How long, as the form shows it: one of the times that are touched, or typed out."""
    if minutes in QUICK:
        return {"quick": str(minutes), "minutes": ""}
    return {"quick": "", "minutes": minutes_said(minutes)}


class LogListForm(forms.Form):
    """What the log is narrowed to."""

    find = forms.CharField(
        required=False, max_length=60, label="Words", widget=forms.TextInput(attrs={"type": "search"})
    )
    part = forms.CharField(required=False, max_length=60, label="Part")
    on = forms.DateField(required=False)  # one day of the year's page
    page = forms.IntegerField(required=False, min_value=1)

    @property
    def asked(self) -> dict[str, Any]:
        """What was asked for and could be read; the rest is as if it had been left open."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value not in (None, "")}
