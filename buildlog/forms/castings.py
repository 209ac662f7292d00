"""Entries about a casting: what it is, to which part it goes, what turned out bad."""

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog.actions.castings import numbers_of
from buildlog.forms.days import CountField, DayField
from buildlog.forms.standing import StandsForm
from buildlog.models import Build, Casting, CastingNumbers, OrderLine, casting_key
from buildlog.signs import SeenForm

#: What is wrong with castings, in the words of the trade; anything else is told in one's own.
REASONS = (
    ("wrong one sent", "wrong one sent"),
    ("blowhole", "blowhole"),
    ("hard", "hard"),
    ("short of metal", "short of metal"),
    ("broken", "broken"),
    ("", "something else"),
)


class CastingForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """What a casting is called and made of; its number is the one that parts and orders name it by."""

    thing = "casting"

    class Meta:
        model = Casting
        fields = ("number", "name", "material", "note")
        widgets = {"note": forms.Textarea(attrs={"rows": 4})}
        help_texts = {
            "number": "As on the casting or in the foundry’s list: K-040.",
            "name": "What it is called on the drawing.",
            "material": "In trade words: cast iron, gunmetal.",
            "note": "What to look for when it comes, where it lies.",
        }

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.build = build
        if self.instance.pk:
            # Parts name it by this number, and what happened to it stands under it.
            del self.fields["number"]

    def clean_number(self) -> str:
        number = casting_key(str(self.cleaned_data["number"]))
        if stands := numbers_of(self.instance.build).find(number):
            raise ValidationError(f"{stands} is in the register already. Give this one another number.")
        return number


class FindCastingForm(forms.Form):
    """What the register is narrowed to."""

    SHOWN = {
        "": "all of them",
        "waited": "waited for",
        "none": "not ordered",
        "owed": "still to come",
        "look": "to be looked at",
        "here": "come and good",
    }
    find = forms.CharField(
        required=False, max_length=60, label="Find", widget=forms.TextInput(attrs={"type": "search"})
    )
    show = forms.ChoiceField(required=False, label="Show", choices=list(SHOWN.items()))

    @property
    def asked(self) -> dict[str, str]:
        """What was asked for and could be read."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value}


class ActForm(SeenForm, forms.Form):
    """An entry about something that happened, sent once however often it is touched."""

    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        initial = {"token": uuid.uuid4()} | (kwargs.pop("initial", None) or {})
        super().__init__(*args, initial=initial, **kwargs)


class AllotForm(ActForm):
    """How many of what is on hand go to one of the parts that claim it."""

    quantity = CountField(label="How many")


class FoundBadForm(ActForm):
    """Castings that had been accepted and turned out bad."""

    way = forms.ChoiceField(label="Which came by", help_text="The supplier of that order owes another.")
    quantity = CountField(label="How many are bad", initial=1)
    part = forms.ChoiceField(label="Whose it was", required=False)
    reason = forms.ChoiceField(
        label="What is wrong", required=False, choices=[("", "say below"), *REASONS[:-1]]
    )
    words = forms.CharField(
        label="In your own words",
        required=False,
        max_length=200,
        help_text="Hard by the gate, bore breaks out.",
    )
    on = DayField(label="Found on")

    def __init__(
        self, *args: Any, ways: Sequence[tuple[str, str]], parts: Sequence[tuple[str, str]], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        for name, choices in (("way", list(ways)), ("part", [("", "nobody’s yet"), *parts])):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = choices

    @property
    def told(self) -> str:
        """What is wrong with them, in one line."""
        return reason_of(self.cleaned_data.get("reason", ""), self.cleaned_data.get("words", ""))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if not self.told and not {"reason", "words"} & set(self.errors):
            self.add_error("reason", "Say what is wrong with it: it is what the supplier will be told.")
        return data


def casting_meant(castings: Mapping[str, Casting], text: str) -> Casting | None:
    """The casting that a number typed means."""
    number = CastingNumbers(castings).find(text)
    return castings[number] if number else None


def casting_typed(castings: Mapping[str, Casting], text: str) -> Casting | None:
    """The casting that a line is for, none where its number is empty; refused where the build has no such."""
    number = casting_key(text)
    casting = casting_meant(castings, number)
    if number and casting is None:
        raise ValidationError(
            f"{number} is not in the register of castings. Write the number as it stands there, or add it to "
            "the register first."
        )
    return casting


def reason_of(kind: str, words: str) -> str:
    """What is wrong, in one line: `wrong one sent: a second chimney saddle`."""
    return ": ".join(said for said in (kind, words.strip()) if said)


def way_key(line: OrderLine | int | None) -> str:
    """How a line of an order is named in an entry; castings without an order have a word for it."""
    return "none" if line is None else str(line if isinstance(line, int) else line.pk)
