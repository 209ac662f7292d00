"""Entries about what came: how many of each, and what was found when they were looked at."""

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog.forms.castings import REASONS, ActForm, casting_typed, reason_of
from buildlog.forms.days import CountField, DayField
from buildlog.forms.orders import not_before
from buildlog.models import Casting, OrderLine
from buildlog.signs import SeenForm

LOOSE = 3
#: What is looked at when a casting comes: the right one, cleaned, whole, metal enough on it, no hard skin.
CHECKS = (
    ("right one", "it is the right one"),
    ("cleaned", "cleaned"),
    ("whole", "no hole or crack to be seen"),
    ("enough to machine", "enough to machine"),
    ("no hard skin", "no hard skin"),
)
VERDICTS = (("accept", "Accept"), ("wrong", "Wrong"), ("later", "Later"))


class DeliveryForm(ActForm):
    """How many came of each line that is owed."""

    on = DayField(label="Came on")
    text = forms.CharField(
        label="Note", required=False, max_length=200, help_text="Carrier, state of the box."
    )
    over = forms.BooleanField(label="More came than is owed, and it is no slip", required=False)

    def __init__(
        self, *args: Any, lines: Sequence[OrderLine], owed: Mapping[int, int], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.lines, self.owed = lines, owed
        for line in lines:
            self.fields[f"came_{line.pk}"] = CountField(
                label=f"How many of {line.casting.number} came", required=False, least=0
            )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for line in self.lines:
            if came := data.get(f"came_{line.pk}"):
                self._check(line, came, data)
        return data

    def _check(self, line: OrderLine, came: int, data: dict[str, Any]) -> None:
        owed = self.owed.get(line.pk, 0)
        if came > owed and not data.get("over"):
            what = f"Only {owed} of {line.casting.number}" if owed else f"Nothing of {line.casting.number}"
            self.add_error(
                f"came_{line.pk}",
                f"{what} is still to come on {line.order.number}. Is it written down already? "
                "If more came than was asked for, tick so at the foot.",
            )
        if data.get("on"):
            try:
                not_before(line.order, data["on"], "received")
            except ValidationError as wrong:
                self.add_error("on", wrong)

    @property
    def asks_over(self) -> bool:
        """Whether more was counted somewhere than is owed, so that the tick for it is wanted."""
        return self.is_bound and any(name.startswith("came_") for name in self.errors)

    @property
    def came(self) -> dict[tuple[Casting, OrderLine | None], int]:
        found: dict[tuple[Casting, OrderLine | None], int] = {}
        for line in self.lines:
            if quantity := self.cleaned_data.get(f"came_{line.pk}"):
                found[line.casting, line] = quantity
        return found


class LooseForm(SeenForm, forms.Form):
    """A casting that came without an order, or was on hand before there was any."""

    number = forms.CharField(
        label="Casting", required=False, max_length=30,
        widget=forms.TextInput(attrs={"maxlength": "30", "list": "castings", "autocomplete": "off"}),
    )  # fmt: skip
    quantity = CountField(label="How many", required=False)

    def __init__(self, *args: Any, castings: Mapping[str, Casting], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.castings = castings

    def clean_number(self) -> str:
        casting = casting_typed(self.castings, str(self.cleaned_data["number"]))
        return casting.number if casting else ""

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("number") and data.get("quantity") is None and "quantity" not in self.errors:
            self.add_error("quantity", f"How many of {data['number']}? Write a whole number from 1 to 999.")
        if data.get("quantity") is not None and not data.get("number") and "number" not in self.errors:
            self.add_error("number", "Which casting is this? Write its number, or empty the line.")
        return data


class BaseLooseFormSet(forms.BaseFormSet):  # type: ignore[type-arg]
    """The castings without an order."""

    @property
    def came(self) -> dict[tuple[Casting, OrderLine | None], int]:
        found: dict[tuple[Casting, OrderLine | None], int] = {}
        for form in self.forms:
            if number := form.cleaned_data.get("number"):
                key = (form.castings[number], None)
                found[key] = found.get(key, 0) + form.cleaned_data["quantity"]
        return found


LooseFormSet = forms.formset_factory(
    LooseForm, formset=BaseLooseFormSet, extra=LOOSE, max_num=40, absolute_max=40, validate_max=True
)


class LookForm(ActForm):
    """When they were looked at; one for the whole page."""

    on = DayField(label="Looked at on")


class VerdictForm(SeenForm, forms.Form):
    """What was found of one casting of one line: accepted, wrong, or left for later."""

    here = forms.IntegerField(min_value=1, max_value=999, widget=forms.HiddenInput)
    verdict = forms.ChoiceField(required=False, choices=VERDICTS, widget=forms.RadioSelect)
    wrong = CountField(label="How many are wrong", required=False)
    good = CountField(label="How many are good", required=False, least=0)
    reason = forms.ChoiceField(
        label="What is wrong", required=False, choices=REASONS, widget=forms.RadioSelect
    )
    words = forms.CharField(
        label="In your own words",
        required=False,
        max_length=200,
        help_text="What came instead, where it is hard.",
    )
    checks = forms.MultipleChoiceField(
        label="Looked at", required=False, choices=CHECKS, widget=forms.CheckboxSelectMultiple
    )
    note = forms.CharField(
        label="Note, kept with it",
        required=False,
        max_length=150,
        help_text="Hard spot by the gate, one hub.",
    )

    def __init__(self, *args: Any, here: int, **kwargs: Any) -> None:
        kwargs["initial"] = {"here": here}
        super().__init__(*args, **kwargs)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        here = data.get("here") or 0
        if data.get("verdict") == "wrong" and here:
            self._check_wrong(data, here)
        return data

    def _check_wrong(self, data: dict[str, Any], here: int) -> None:
        if here == 1:
            data["wrong"], data["good"] = 1, 0
        elif data.get("wrong") is None and "wrong" not in self.errors:
            self.add_error(
                "wrong", f"How many of the {here} are wrong? Write a whole number from 1 to {here}."
            )
        total = (data.get("wrong") or 0) + (data.get("good") or 0)
        if total > here:
            self.add_error(
                "wrong",
                f"{data.get('wrong') or 0} wrong and {data.get('good') or 0} good make {total}; only {here} "
                "are here to be looked at.",
            )
        if not self.told and "words" not in self.errors:
            self.add_error("words", "Say what is wrong with it: it is what the supplier will be told.")

    @property
    def accepted(self) -> int:
        said = self.cleaned_data
        if said.get("verdict") == "accept":
            return int(said["here"])
        return int(said.get("good") or 0) if said.get("verdict") == "wrong" else 0

    @property
    def rejected(self) -> int:
        said = self.cleaned_data
        return int(said.get("wrong") or 0) if said.get("verdict") == "wrong" else 0

    @property
    def told(self) -> str:
        """What is wrong with them, in one line."""
        return reason_of(self.cleaned_data.get("reason", ""), self.cleaned_data.get("words", ""))

    @property
    def seen(self) -> str:
        """What was looked at and noted, for the good ones."""
        return "; ".join(
            said
            for said in (", ".join(self.cleaned_data.get("checks", [])), self.cleaned_data.get("note", ""))
            if said
        )


def token_for(token: uuid.UUID, casting: int, line: int | None) -> uuid.UUID:
    """One entry judges several castings: each has a token of its own, made of the one of the page."""
    return uuid.uuid5(token, f"{casting}-{line}")
