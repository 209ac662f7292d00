"""Entries of the general arrangement: the picture under the balloons, and where each balloon stands."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog.arrangement import Ground, label_of
from buildlog.forms.photos import ACCEPTED
from buildlog.models import Assembly, Spot
from buildlog.picture_files import BYTES_LIMIT, MB, PIXELS_LIMIT
from buildlog.signs import SeenForm

#: What is asked of each balloon: the name of the entry, what it is of, and which way it counts.
ASKED = (
    ("end_x", "points at", "across"),
    ("end_y", "points at", "down"),
    ("x", "balloon", "across"),
    ("y", "balloon", "down"),
)
END, BALLOON = "end", "balloon"
TENTH = Decimal("0.1")
#: A click without a script puts the balloon so far above what it points at. [per cent]
BESIDE = Decimal(12)


class PictureForm(forms.Form):
    """A file to put under the balloons."""

    picture = forms.FileField(
        label="Picture",
        allow_empty_file=True,
        help_text=(
            f"A scanned drawing or a photograph: JPEG, PNG or WebP, to {BYTES_LIMIT // MB} MB and "
            f"{PIXELS_LIMIT // 1_000_000} million pixels."
        ),
        error_messages={"required": "No picture is chosen yet. Choose one, then put it under the balloons."},
        widget=forms.FileInput(attrs={"accept": ACCEPTED, "class": "in"}),
    )


class PercentField(forms.CharField):
    """A place on the picture as typed: 0 to 100 per cent, a tenth at the finest; empty for none."""

    def __init__(self, **kwargs: Any) -> None:
        entry = {"inputmode": "decimal", "autocomplete": "off", "size": "5", "class": "pc"}
        super().__init__(required=False, max_length=12, widget=forms.TextInput(attrs=entry), **kwargs)

    def clean(self, value: Any) -> Decimal | None:
        text = super().clean(value).replace("%", "").replace(",", ".").strip()
        if not text:
            return None
        try:
            found = Decimal(text)
        except InvalidOperation:
            found = Decimal("NaN")
        if not found.is_finite():
            raise ValidationError(f"{str(value).strip()[:12]} is no number. Write 0 to 100 per cent.")
        if not 0 <= found <= 100:
            raise ValidationError(
                f"{str(value).strip()[:12]} is off the picture. It goes from 0 to 100 per cent."
            )
        return found.quantize(TENTH)


@dataclass(frozen=True)
class Row:
    """One assembly in the table of places."""

    assembly: Assembly
    label: str
    fields: list[forms.BoundField]
    errors: list[str]
    drawn: str  # the four figures as drawn, for the script; empty where the drawing has none of it

    @property
    def is_placed(self) -> bool:
        return all(field.value() for field in self.fields)

    @property
    def figures(self) -> list[float]:
        """The four figures as they are typed [per cent]; empty where they make no place."""
        if self.errors or not self.is_placed:
            return []
        return [float(field.field.clean(field.value())) for field in self.fields]


class PlacesForm(SeenForm, forms.Form):
    """Where every balloon of a build stands; all of them are written together."""

    chosen = forms.ChoiceField(label="Assembly", required=False)
    turn = forms.ChoiceField(
        label="The next click sets",
        choices=[(END, "what it points at"), (BALLOON, "its balloon")],
        required=False,
        widget=forms.RadioSelect,
    )
    #: Where everything stood when the page was opened, so that another page's work is not undone unseen.
    opened_at = forms.CharField(required=False, max_length=16, widget=forms.HiddenInput)

    def __init__(self, *args: Any, ground: Ground, assemblies: Sequence[Assembly], **kwargs: Any) -> None:
        self.ground, self.assemblies = ground, assemblies
        self.state = state_of(ground)
        kwargs["initial"] = self._stands() | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        chosen = self.fields["chosen"]
        assert isinstance(chosen, forms.ChoiceField)
        chosen.choices = [(str(one.pk), f"{label_of(one)} {one.name}") for one in assemblies]
        for one in assemblies:
            for name, of, way in ASKED:
                self.fields[f"{name}_{one.pk}"] = PercentField(
                    label=f"{label_of(one)} {one.name}, {of}, {way}"
                )

    def _stands(self) -> dict[str, Any]:
        found: dict[str, Any] = {"opened_at": self.state, "turn": END}
        for one in self.assemblies:
            spot = self.ground.spot_of(one)
            if spot:
                found |= {
                    f"{ask[0]}_{one.pk}": percent(share) for ask, share in zip(ASKED, spot, strict=True)
                }
        # On a drawn view all that matters stands already; on a picture the next without a place is wanted.
        wanted = [one for one in self.assemblies if self.ground.drawn or f"x_{one.pk}" not in found]
        start = next(iter(wanted or self.assemblies), None)
        return found | ({"chosen": str(start.pk)} if start else {})

    @property
    def rows(self) -> Iterator[Row]:
        for one in self.assemblies:
            fields = [self[f"{name}_{one.pk}"] for name, _, _ in ASKED]
            place = self.ground.drawn.get(one.balloon)
            drawn = " ".join(percent(share) for share in self.ground.drawn_spot(place)) if place else ""
            errors = [str(error) for field in fields for error in field.errors]
            yield Row(one, label_of(one), fields, errors, drawn)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for one in self.assemblies:
            figures = [data.get(f"{name}_{one.pk}") for name, _, _ in ASKED]
            wrong = any(f"{name}_{one.pk}" in self.errors for name, _, _ in ASKED)
            if (
                not wrong
                and any(figure is None for figure in figures)
                and any(f is not None for f in figures)
            ):
                place = next(n for n, figure in enumerate(figures) if figure is None)
                self.add_error(
                    f"{ASKED[place][0]}_{one.pk}",
                    "A balloon takes four figures: what it points at and where it stands, each across and "
                    "down. Write this one too, or clear all four.",
                )
        if data.get("opened_at") not in ("", self.state):
            self._tell_of_other_page()
        return data

    @property
    def spots(self) -> dict[int, Spot]:
        """The places that were asked for, those as drawn left out; when the form is valid."""
        found = {}
        for one in self.assemblies:
            end_x, end_y, x, y = (self.cleaned_data[f"{name}_{one.pk}"] for name, _, _ in ASKED)
            if end_x is None:
                continue
            spot = (end_x / 100, end_y / 100, x / 100, y / 100)
            place = self.ground.drawn.get(one.balloon)
            if not place or spot != self.ground.drawn_spot(place):
                found[one.pk] = spot
        return found

    def _tell_of_other_page(self) -> None:
        """Refuse once, and say what stands there now; sent again from this page, it is written."""
        self.data = self.data.copy()  # type: ignore[attr-defined]
        self.data["opened_at"] = self.state  # type: ignore[index]
        moved = [
            f"{row.label} {row.assembly.name} {self._stood(row)}"
            for row in self.rows
            if [field.value() or "" for field in row.fields] != [field.initial or "" for field in row.fields]
        ]
        says = f" What differs from this page: {'; '.join(moved)}." if moved else ""
        self.add_error(
            None,
            "The picture or the balloons have been changed since you opened this page."
            f"{says} Look it over; written down from here, it becomes what you see here.",
        )

    def _stood(self, row: Row) -> str:
        spot = self.ground.spot_of(row.assembly)
        if spot is None:
            return "has no place there"
        end_x, end_y, x, y = (percent(share) for share in spot)
        return f"stands at {x} across, {y} down, and points at {end_x} across, {end_y} down"

    def clicked(self, across: Decimal, down: Decimal) -> None:
        """Take a click on the picture where there is no script [per cent]; nothing is written yet."""
        self.data = self.data.copy()  # type: ignore[attr-defined]
        chosen = str(self.data.get("chosen", ""))
        if chosen not in {str(one.pk) for one in self.assemblies}:
            return
        names = [f"{ask[0]}_{chosen}" for ask in ASKED]
        is_end = self.data.get("turn") != BALLOON
        filled = dict(zip(names[:2] if is_end else names[2:], (across, down), strict=True))
        if is_end and not (self.data.get(names[2]) and self.data.get(names[3])):
            filled |= {names[2]: across, names[3]: down - BESIDE if down >= BESIDE else down + BESIDE}
        if not is_end and not (self.data.get(names[0]) and self.data.get(names[1])):
            filled |= {names[0]: across, names[1]: down}
        for name, value in filled.items():
            self.data[name] = percent(value / 100)  # type: ignore[index]
        self.data["turn"] = BALLOON if is_end else END  # type: ignore[index]


def percent(share: Decimal) -> str:
    """A share of the picture as it is typed: 12.5, or 40."""
    return f"{(share * 100).quantize(TENTH).normalize():f}"


def state_of(ground: Ground) -> str:
    """One figure for the picture and every place on it."""
    said = (ground.picture.pk if ground.picture else ground.template, sorted(ground.spots.items()))
    return hashlib.sha256(repr(said).encode()).hexdigest()[:16]
