"""Entries about a part: what it is, where it is used, what was counted."""

import re
import uuid
from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.functional import cached_property

from buildlog.forms.standing import Beside, StandsForm
from buildlog.models import Assembly, Build, Kind, Part, PartUse, Stage
from buildlog.numbers import key_of, read_number, read_split
from buildlog.signs import SeenForm
from calc.measures import EntryError, parse_size

USED_IN = "Used in"
_WEIGHT = re.compile(r"^\d{1,5}(?:\.\d{1,3})?\s*(?:lb|kg|oz|g|cwt)$", re.I)


class PartForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """Everything typed about a part but where it is used and how far it has come."""

    thing = "part"

    class Meta:
        model = Part
        fields = (
            "number", "hand", "name", "kind", "material", "leading_size", "sheet", "casting_number", "weight",
            "waits_for", "notes", "lesson",
        )  # fmt: skip
        widgets = {
            "hand": forms.RadioSelect,
            "kind": forms.RadioSelect,
            "notes": forms.Textarea(attrs={"rows": 3}),
            "lesson": forms.Textarea(attrs={"rows": 2}),
        }
        help_texts = {
            "number": "Letters and figures, as S-016; H-021-L names the hand as well.",
            "name": "What it is called on the drawing.",
            "material": "In trade words: cast iron, bright mild steel, gunmetal.",
            "leading_size": "With its unit and what it is of: 1 1/4 in dia, 45 mm bore, 36 T, 8 DP.",
            "sheet": "Number and issue: 12 B.",
            "casting_number": "As on the casting or its order: K-040.",
            "weight": "If it is known: 39 lb, 17.5 kg. Heavy parts carry it on their cards.",
            "waits_for": "In a few words, if it stands still: cutter 26–34 on loan.",
            "lesson": "Copied to the other hand, when this one is made and that is still to do.",
        }

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.build = build
        self.fields["kind"].initial = self.instance.kind or Kind.STOCK
        self.fields["leading_size"].widget.attrs |= {
            "hx-get": reverse("size_echo", args=[build.pk]),
            "hx-trigger": "input changed delay:300ms, change",
            "hx-target": "next .echo",
            "hx-swap": "outerHTML",
        }

    def clean_number(self) -> str:
        try:
            number, hand = read_number(self.cleaned_data["number"])
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None
        self.hand_in_number = hand
        return number

    def clean_hand(self) -> str:
        chosen = str(self.cleaned_data["hand"] or "")
        named = getattr(self, "hand_in_number", "")
        if chosen and named and chosen != named:
            raise ValidationError(
                "The number names the other hand. Take it out there, or choose the same here."
            )
        return chosen or named

    def clean_leading_size(self) -> str:
        text = str(self.cleaned_data["leading_size"]).strip()
        if text:
            try:
                parse_size(text, "inch" if self.instance.build.units == "inch" else "mm")
            except EntryError as wrong:
                raise ValidationError(wrong.message) from None
        return text

    def clean_weight(self) -> str:
        text = " ".join(str(self.cleaned_data["weight"]).split())
        if text and not _WEIGHT.match(text):
            raise ValidationError("A weight is a number and lb, oz, cwt, kg or g: 39 lb, or 17.5 kg.")
        return text

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        number, hand = data.get("number"), data.get("hand", "")
        if number:
            taken = Part.objects.live().filter(build=self.instance.build, number=number, hand=hand)
            if taken.exclude(pk=self.instance.pk).exists():
                self.add_error(
                    "number", f"{key_of(number, hand)} is in the build already. Give this one another number."
                )
        return data


class UseForm(SeenForm, forms.Form):
    """One place where a part is used."""

    assembly = forms.ModelChoiceField(
        Assembly.objects.none(), required=False, label="Used in", empty_label="choose an assembly"
    )
    quantity = forms.CharField(
        required=False, label="How many there", widget=forms.TextInput(attrs={"maxlength": "20"})
    )

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["assembly"]
        assert isinstance(field, forms.ModelChoiceField)
        field.queryset = build.assemblies.all()
        self.split: dict[str, int] | None = None

    def clean_quantity(self) -> int | None:
        text = str(self.cleaned_data["quantity"]).strip()
        if not text:
            return None
        try:
            self.split = read_split(text)
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None
        if self.split:
            return sum(self.split.values())
        if not re.fullmatch(r"\d{1,6}", text, re.ASCII) or not 1 <= int(text) <= 9_999:
            raise ValidationError(f"{text[:20]} is no number of pieces: write a whole number from 1 to 9999.")
        return int(text)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("assembly") and data.get("quantity") is None and "quantity" not in self.errors:
            self.add_error(
                "quantity", f"How many are used in {data['assembly']}? Write a whole number from 1 to 9999."
            )
        if data.get("quantity") and not data.get("assembly") and "assembly" not in self.errors:
            self.add_error(
                "assembly", "Choose the assembly that these are used in, or leave the number empty."
            )
        return data


class BaseUseFormSet(forms.BaseFormSet):  # type: ignore[type-arg]
    """All the places where a part is used."""

    @cached_property
    def choices(self) -> list[tuple[int | str, str]]:
        """The assemblies to choose from, asked for once and not line by line."""
        found = self.form_kwargs["build"].assemblies.all()
        return [("", "nowhere else"), *((assembly.pk, str(assembly)) for assembly in found)]

    def add_fields(self, form: forms.Form, index: int | None) -> None:
        super().add_fields(form, index)
        field = form.fields["assembly"]
        assert isinstance(field, forms.ModelChoiceField)
        field.choices = self.choices

    def clean(self) -> None:
        if any(self.errors):
            return
        seen: set[Assembly] = set()
        for form in self.forms:
            assembly = form.cleaned_data.get("assembly")
            if assembly in seen:
                form.add_error("assembly", f"{assembly} is named twice. Put both numbers in one line.")
            if assembly:
                seen.add(assembly)
        if any(form.errors for form in self.forms):
            raise ValidationError("One place where it is used is named twice.")

    def beside(self, stands: Iterable[PartUse]) -> Beside:
        """Where the part is used, as it stands and as it was typed, to be watched over with its entries."""
        names = {str(pk): str(label) for pk, label in self.choices}
        now = {str(use.assembly_id): str(use.quantity) for use in stands}
        typed: dict[str, str] = {}
        for form in self.forms if self.is_bound else ():
            place, many = (str(form[name].value() or "").strip() for name in ("assembly", "quantity"))
            if place or many:
                typed[place] = many
        return Beside(
            USED_IN,
            now=_lines(now),
            typed=_lines(typed),
            said=lambda text: _lines_said(text, names),
        )

    @property
    def uses(self) -> dict[Assembly, int]:
        """What was typed: how many in which assembly."""
        return {
            form.cleaned_data["assembly"]: form.cleaned_data["quantity"]
            for form in self.forms
            if form.cleaned_data.get("assembly")
        }

    @property
    def split(self) -> tuple[Assembly, dict[str, int]] | None:
        """The first place whose number names both hands, as `2 (1L 1R)`."""
        for form in self.forms:
            if form.split and form.cleaned_data.get("assembly"):
                return form.cleaned_data["assembly"], form.split
        return None

    def refuse_split(self, why: str) -> None:
        """Say at the number that names both hands why it cannot be."""
        for form in self.forms:
            if form.split:
                form.add_error("quantity", why)


def _lines(uses: dict[str, str]) -> str:
    return "\n".join(f"{place} {many}" for place, many in sorted(uses.items()))


def _lines_said(text: str, names: dict[str, str]) -> str:
    """`4 in FW Front axle`, a place to a line."""
    uses = [line.partition(" ") for line in text.splitlines()]
    return "\n".join(f"{many or 'none'} in {names.get(place) or 'no assembly'}" for place, _, many in uses)


UseFormSet = forms.formset_factory(UseForm, formset=BaseUseFormSet, extra=2, max_num=40, validate_max=True)


class CountForm(SeenForm, forms.Form):
    """What was counted at the end of an evening."""

    good = forms.IntegerField(
        label="Good",
        required=False,
        min_value=-99_999,
        max_value=99_999,
        help_text="more than before; −1 takes one back",
    )
    scrap = forms.IntegerField(label="Scrap", required=False, min_value=-99_999, max_value=99_999)
    note = forms.CharField(label="Why, or how", required=False, max_length=150)
    call_machined = forms.BooleanField(label="When all are good, call it machined", required=False)
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("initial", {}).setdefault("token", uuid.uuid4())
        kwargs["initial"].setdefault("call_machined", True)
        super().__init__(*args, **kwargs)


class QuantityForm(UseForm):
    """How many are used in one assembly."""

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, build=build, **kwargs)
        del self.fields["assembly"]

    def clean(self) -> dict[str, Any]:
        if self.cleaned_data.get("quantity") is None and "quantity" not in self.errors:
            self.add_error("quantity", "How many are used there? Write a whole number from 1 to 9999.")
        return self.cleaned_data


class PartListForm(forms.Form):
    """What the parts list is narrowed to and sorted by."""

    SORTS = {
        "number": "number",
        "assembly": "assembly",
        "name": "name",
        "size": "leading size",
        "made": "still to make",
        "stage": "state",
        "kind": "kind",
        "material": "made of",
        "waiting": "waiting since",
    }
    find = forms.CharField(
        required=False, max_length=60, label="Find", widget=forms.TextInput(attrs={"type": "search"})
    )
    assembly = forms.ModelChoiceField(Assembly.objects.none(), required=False, empty_label="any")
    stage = forms.ChoiceField(
        required=False, label="State", choices=[("", "any"), ("made", "Made, in any state"), *Stage.choices]
    )
    kind = forms.ChoiceField(required=False)
    material = forms.ChoiceField(required=False, label="Made of")
    waiting = forms.ChoiceField(
        required=False, choices=[("", "either"), ("yes", "waits"), ("no", "does not wait")]
    )
    sort = forms.ChoiceField(required=False, label="Sorted by", choices=list(SORTS.items()))
    down = forms.BooleanField(required=False, label="downwards")
    page = forms.IntegerField(required=False, min_value=1)

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        assembly, kind, material = (self.fields[name] for name in ("assembly", "kind", "material"))
        assert isinstance(assembly, forms.ModelChoiceField)
        assert isinstance(kind, forms.ChoiceField)
        assert isinstance(material, forms.ChoiceField)
        assembly.queryset = build.assemblies.all()
        kind.choices = [("", "any"), *Kind.choices]
        written = (
            build.parts.live().exclude(material="").order_by("material").values_list("material", flat=True)
        )
        material.choices = [("", "any"), *((text, text) for text in written.distinct())]

    @property
    def asked(self) -> dict[str, Any]:
        """What was asked for and could be read; the rest is as if it had been left open."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value not in (None, "", False)}
