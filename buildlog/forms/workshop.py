"""Entries about the builder's own tooling."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog.models import DividingHead, GearCutter, IndexPlate
from buildlog.signs import SeenForm
from calc import registry
from calc.forms import read_one
from calc.measures import EntryError, parse_angle, parse_circles, parse_counts

#: The least and the greatest pressure angle of a form cutter; 14 1/2 and 20 are usual. [degree]
PRESSURE_ANGLES = (10, 45)


def _refuse_as_indexing_would(entry: str, text: str) -> None:
    """Whatever is kept here goes into that sum, so what it would refuse is refused here, in its words."""
    indexing = registry.catalogue()["indexing"]
    field = next(one for one in indexing.inputs if one.name == entry)
    _, wrong = read_one(indexing, field, text, "inch")
    if wrong:
        raise ValidationError(wrong)


def _circles(text: str) -> str:
    """One face's circles, tidied: `15, 16,17` is `15,16,17`."""
    _refuse_as_indexing_would("circles", text)
    faces = parse_circles(text)
    if len(faces) != 1:
        raise ValidationError(
            "A stroke parts two faces; the back has an entry of its own. Write one face here."
        )
    return ",".join(str(circle) for circle in faces[0])


def _counts(entry: str, text: str) -> str:
    _refuse_as_indexing_would(entry, text)
    return ",".join(str(count) for count in parse_counts(text))


class HeadForm(SeenForm, forms.ModelForm):  # type: ignore[type-arg]
    """A dividing head or rotary table."""

    class Meta:
        model = DividingHead
        fields = ("name", "ratio", "direct_circles", "change_gears", "is_usual")

    def clean_direct_circles(self) -> str:
        text = str(self.cleaned_data["direct_circles"]).strip()
        return _counts("direct_circles", text) if text else ""

    def clean_change_gears(self) -> str:
        text = str(self.cleaned_data["change_gears"]).strip()
        return _counts("change_gears", text) if text else ""


class PlateForm(SeenForm, forms.ModelForm):  # type: ignore[type-arg]
    """An index plate: the circles on its face, and on its back if there are any."""

    class Meta:
        model = IndexPlate
        fields = ("name", "first_face", "second_face")
        help_texts = {"name": "", "first_face": ""}  # Said once over the plates, not at each of them.

    def clean_first_face(self) -> str:
        return _circles(str(self.cleaned_data["first_face"]))

    def clean_second_face(self) -> str:
        text = str(self.cleaned_data["second_face"]).strip()
        return _circles(text) if text else ""


class BasePlateFormSet(forms.BaseInlineFormSet):  # type: ignore[type-arg]
    """All the plates of a head; a line left empty is no plate."""

    def add_fields(self, form: forms.ModelForm, index: int | None) -> None:  # type: ignore[type-arg]
        super().add_fields(form, index)
        if "DELETE" in form.fields:
            form.fields["DELETE"].label = "Take this plate off the list"


PlateFormSet = forms.inlineformset_factory(
    DividingHead,
    IndexPlate,
    form=PlateForm,
    formset=BasePlateFormSet,
    extra=2,
    max_num=20,
    validate_max=True,
    can_delete_extra=False,
)


class CutterForm(SeenForm, forms.ModelForm):  # type: ignore[type-arg]
    """A gear cutter with the range marked on it."""

    class Meta:
        model = GearCutter
        fields = (
            "pitch", "pressure_angle", "number", "numbering",
            "from_teeth", "to_teeth", "depth_marked", "note",
        )  # fmt: skip
        widgets = {"numbering": forms.RadioSelect}

    def clean_pressure_angle(self) -> str:
        try:
            angle = parse_angle(str(self.cleaned_data["pressure_angle"]))
        except EntryError as wrong:
            raise ValidationError(wrong.message) from None
        low, high = PRESSURE_ANGLES
        if not low <= angle.base <= high:
            raise ValidationError(
                f"{angle.typed()} is no pressure angle: write {low} to {high} degrees, as 14 1/2 or 20."
            )
        return angle.typed().removesuffix("°")

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        low, high = data.get("from_teeth"), data.get("to_teeth")
        if low and high and high < low:
            self.add_error(
                "to_teeth",
                f"The range ends at {high}, below its start at {low}. Write the fewest teeth first.",
            )
        return data
