"""Entries of errata: what is wrong on a sheet, and what was done about it on a part."""

import re
import uuid
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.actions.errata import OF_A_MADE_PART, Said
from buildlog.errata import Flag
from buildlog.forms.days import DayField
from buildlog.forms.standing import StandsForm
from buildlog.models import Dealing, Drawing, Erratum, Part, SheetIssue
from buildlog.signs import SeenForm

#: How an erratum comes to be known; anything else may be written.
SOURCES = ("own layout", "own measurement", "another builder", "the designer", "a published list of errata")
_PLAIN = {"autocomplete": "off"}
_SHA256 = re.compile(r"[0-9a-f]{64}")


class ErratumForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """One error on a sheet, with its spot where it is pinned."""

    thing = "erratum"

    across = forms.CharField(label="Across, per cent", required=False, max_length=10)
    down = forms.CharField(label="Down, per cent", required=False, max_length=10)
    checked = forms.BooleanField(label="Checked by you", required=False)

    class Meta:
        model = Erratum
        fields = ("where", "as_printed", "should_be", "source", "issue", "found_on", "page", "file")
        field_classes = {"found_on": DayField}
        widgets = {
            "as_printed": forms.TextInput(attrs=_PLAIN),
            "should_be": forms.TextInput(attrs=_PLAIN),
            "source": forms.TextInput(attrs={"list": "erratum-sources"}),
            "issue": forms.TextInput(attrs={**_PLAIN, "autocapitalize": "characters"}),
            "page": forms.TextInput(attrs={**_PLAIN, "inputmode": "numeric"}),
            "file": forms.HiddenInput,
        }
        help_texts = {
            "where": "What it is a size of, as: lifting link centres.",
            "as_printed": "As 2.310; or: not given.",
            "should_be": "As 2.435.",
            "source": "Own layout, another builder, the designer, a published list.",
            "issue": "The letter in the title block; empty if it bears none.",
            "page": "Of the file, where the sheet has several.",
        }

    def __init__(self, *args: Any, drawing: Drawing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.drawing = drawing
        self.fields["found_on"].widget.attrs["max"] = clock.today().isoformat()
        self.fields["page"].required = False
        for name, at in (("across", self.instance.x), ("down", self.instance.y)):
            self.fields[name].widget.attrs |= {**_PLAIN, "inputmode": "decimal"}
            if at is not None:
                self.initial.setdefault(name, f"{at * 100:.1f}".removesuffix(".0"))
        self.initial.setdefault("checked", self.instance.checked_on is not None)

    def clean_issue(self) -> str:
        text = "".join(str(self.cleaned_data["issue"]).split()).upper()
        if text:
            for check in SheetIssue._meta.get_field("issue").validators:
                check(text)
        return text

    def clean_file(self) -> str:
        # It comes with the address of the page that shows the sheet, and is typed by nobody.
        text = str(self.cleaned_data["file"])
        return text if _SHA256.fullmatch(text) else ""

    def clean_across(self) -> float | None:
        return _per_cent(self.cleaned_data["across"], "from the left edge")

    def clean_down(self) -> float | None:
        return _per_cent(self.cleaned_data["down"], "from the top edge")

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("as_printed") and data.get("as_printed") == data.get("should_be"):
            self.add_error("should_be", "That is what is printed. Write what it should be instead.")
        across, down = data.get("across"), data.get("down")
        for name, here, other in (("across", across, down), ("down", down, across)):
            if here is None and other is not None and name not in self.errors:
                self.add_error(name, "A spot is so far across and so far down: write both, or neither.")
        if across is None and down is None and data.get("page") and not {"across", "down"} & set(self.errors):
            self.add_error("page", "A page alone is no spot: write how far across and down, or clear it.")
        return data

    @property
    def said(self) -> dict[str, Any]:
        """What is written down of the erratum, by its columns."""
        data = self.cleaned_data
        names = ("where", "as_printed", "should_be", "source", "issue", "found_on", "file")
        pinned = data["across"] is not None
        checked = (self.initial_checked or clock.today()) if data["checked"] else None
        return {
            **{name: data[name] for name in names},
            "where": " ".join(data["where"].split()),
            "x": data["across"],
            "y": data["down"],
            "page": (data["page"] or 1) if pinned else None,
            "checked_on": checked,
        }

    @property
    def initial_checked(self) -> Any:
        """The day it was checked before."""
        return self.instance.checked_on


class NewErratumForm(ErratumForm):
    """A new erratum, with the parts of the sheet that it reaches."""

    parts = forms.TypedMultipleChoiceField(
        label="Parts it reaches",
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "That part is not on this sheet any more."},
    )
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, parts: Sequence[Part], pinned: dict[str, str], **kwargs: Any) -> None:
        drawing = kwargs["drawing"]
        last = drawing.issues.first()
        kwargs["initial"] = {
            "token": uuid.uuid4(),
            "found_on": clock.today(),
            "issue": last.issue if last else "",
            **pinned,
        }
        super().__init__(*args, **kwargs)
        field = self.fields["parts"]
        assert isinstance(field, forms.TypedMultipleChoiceField)
        self.of_sheet = [part.pk for part in parts]
        field.choices = [(part.pk, f"{part.key} {part.name}") for part in parts]
        field.initial = self.of_sheet

    @property
    def untouched(self) -> list[int]:
        """The parts that were unticked."""
        ticked = set(self.cleaned_data["parts"])
        return [pk for pk in self.of_sheet if pk not in ticked]


def _per_cent(text: str, edge: str) -> float | None:
    """A place on the page, 0 to 1, from the per cent that was typed."""
    text = str(text or "").strip().removesuffix("%").strip()
    if not text:
        return None
    if not re.fullmatch(r"\d{1,3}(\.\d{1,4})?", text, re.ASCII) or float(text) > 100:
        raise ValidationError(f"Write how far it is {edge}: a figure from 0 to 100, as 32.5.")
    return float(text) / 100


class DealingForm(SeenForm, forms.Form):
    """What was done about an erratum on one part."""

    how = forms.ChoiceField(
        label="What was done",
        widget=forms.RadioSelect,
        error_messages={
            "required": "Choose what was done about it.",
            "invalid_choice": "That cannot be said of this part as it stands: choose one of those offered.",
        },
    )
    concession = forms.CharField(
        label="Concession",
        required=False,
        max_length=20,
        help_text="Its number, as C-009, where it is accepted as it is.",
        widget=forms.TextInput(attrs=_PLAIN),
    )
    words = forms.CharField(label="Note", required=False, max_length=200)

    def __init__(self, *args: Any, flag: Flag, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        how = self.fields["how"]
        assert isinstance(how, forms.ChoiceField)
        how.choices = [
            (one.value, "Accepted as it is, by a concession" if one is Dealing.CONCESSION else one.label)
            for one in dealings(is_made=flag.is_made)
        ]

    def clean_words(self) -> str:
        return " ".join(str(self.cleaned_data["words"]).split())

    @property
    def said(self) -> Said:
        data = self.cleaned_data
        return Said(Dealing(data["how"]), data["words"], data["concession"])


def dealings(*, is_made: bool) -> list[Dealing]:
    """What can be said of a part as it stands."""
    if is_made:
        return [*OF_A_MADE_PART, Dealing.NOT_AFFECTED, Dealing.CONCESSION]
    return [Dealing.TO_MAKE, Dealing.NOT_AFFECTED, Dealing.CONCESSION]
