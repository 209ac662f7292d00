"""Entries about the builder's own tooling."""

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog.forms.standing import Beside, StandsForm
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


class HeadForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """A dividing head or rotary table."""

    thing = "dividing head"

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


PLATES = "Index plates"
SPARE = 2
_OF_PLATE = ("name", "first_face", "second_face")
_OF_ROW = (*_OF_PLATE, "id", "DELETE")


class BasePlateFormSet(forms.BaseInlineFormSet):  # type: ignore[type-arg]
    """All the plates of a head; a line left empty is no plate."""

    def add_fields(self, form: forms.ModelForm, index: int | None) -> None:  # type: ignore[type-arg]
        super().add_fields(form, index)
        if "DELETE" in form.fields:
            form.fields["DELETE"].label = "Take this plate off the list"

    def beside(self) -> Beside:
        """The plates as they stand and as they were typed, to be watched over with their head."""
        stand = [[getattr(plate, name) for name in _OF_PLATE] for plate in self.get_queryset()]
        typed = [row for row in self._typed() if not row["DELETE"]]
        rows = [[row[name] for name in _OF_PLATE] for row in typed]
        return Beside(PLATES, now=_plates_said(stand), typed=_plates_said(rows))

    def _typed(self) -> list[dict[str, str]]:
        """The lines that were sent, those left empty aside."""
        if not self.is_bound:
            return []
        found = []
        for number in range(self.total_form_count()):
            prefix = self.add_prefix(number)
            row = {name: str(self.data.get(f"{prefix}-{name}") or "").strip() for name in _OF_ROW}
            if any(row[name] for name in _OF_PLATE):
                found.append(row)
        return found

    def again(self, taken_over: Collection[str]) -> "BasePlateFormSet":
        """The lines for a page that tells of a change: as they stand where nobody typed in them here, else
        as typed, a plate gone meanwhile as a new one, and one added meanwhile among them.
        """
        data = None
        if PLATES not in taken_over:
            stand = {str(plate.pk): plate for plate in self.get_queryset()}
            typed = self._typed()
            known = [row for row in typed if row["id"] in stand]
            fresh = [row | {"id": "", "DELETE": ""} for row in typed if row["id"] not in stand]
            seen = {row["id"] for row in known}
            added = [
                {name: str(getattr(plate, name)) for name in _OF_PLATE} | {"id": pk, "DELETE": ""}
                for pk, plate in stand.items()
                if pk not in seen
            ]
            data = self._as_sent([*known, *added], fresh)
        return plate_forms(data, self.instance)

    def _as_sent(self, known: list[dict[str, str]], fresh: list[dict[str, str]]) -> dict[str, str]:
        rows = [*known, *fresh]
        data = {
            f"{self.prefix}-TOTAL_FORMS": str(len(rows) + SPARE),
            f"{self.prefix}-INITIAL_FORMS": str(len(known)),
        }
        for number, row in enumerate(rows):
            data |= {f"{self.add_prefix(number)}-{name}": text for name, text in row.items() if text}
        return data


def _plates_said(rows: Iterable[Iterable[str]]) -> str:
    """`1: 15,16,17 / 21,23`, a plate to a line."""
    told = []
    for name, first, second in rows:
        told.append(f"{name}: {first}" + (f" / {second}" if second else ""))
    return "\n".join(told)


PlateFormSet = forms.inlineformset_factory(
    DividingHead,
    IndexPlate,
    form=PlateForm,
    formset=BasePlateFormSet,
    extra=SPARE,
    max_num=20,
    validate_max=True,
    can_delete_extra=False,
)


def plate_forms(data: Mapping[str, Any] | None, head: DividingHead) -> BasePlateFormSet:
    """The plates of a head, as they stand or as they were sent."""
    plates = PlateFormSet(data, instance=head, prefix="plate")
    assert isinstance(plates, BasePlateFormSet)
    return plates


class CutterForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """A gear cutter with the range marked on it."""

    thing = "gear cutter"

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
