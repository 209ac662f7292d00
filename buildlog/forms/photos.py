"""Entries of photos: brought in together, one mended, and what a contact sheet is narrowed to."""

import uuid
from datetime import timedelta
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.actions.castings import numbers_of
from buildlog.actions.photos import POINTING, TYPED, About
from buildlog.forms.days import DayField
from buildlog.forms.part_keys import NUMBER, part_meant
from buildlog.forms.standing import StandsForm
from buildlog.made import concession_named
from buildlog.models import Build, Casting, Concession, LogEntry, Part, Photo
from buildlog.picture_files import BYTES_LIMIT, MB, PIXELS_LIMIT
from buildlog.signs import SeenForm

ACCEPTED = "image/jpeg,image/png,image/webp"
#: Log entries offered for a photo: those of the days round it.
DAYS_ROUND, ENTRIES_OFFERED = 21, 40


class ManyFilesInput(forms.FileInput):
    """The browser's own choice of files, several at once."""

    allow_multiple_selected = True


class OfBuildForm(SeenForm, forms.BaseForm):
    """A form that names a part, a log entry, a casting or a concession of one build."""

    build: Build

    #: The part that an entry is filled with already; it may stay, in the bin or not.
    part_before: Part | None = None

    def clean_part(self) -> Part | None:
        return part_meant(self.build, self.cleaned_data["part"], self.part_before)

    def clean_casting(self) -> Casting | None:
        text = str(self.cleaned_data["casting"]).strip()
        if not text:
            return None
        number = numbers_of(self.build).find(text)
        found = self.build.castings.filter(number=number).first() if number else None
        if found is None:
            raise ValidationError(
                f"No casting {text[:20]} is in this build. Write its number as in the stores, or leave this "
                "empty."
            )
        return found

    def clean_concession(self) -> Concession | None:
        text = str(self.cleaned_data["concession"]).strip()
        try:
            return concession_named(self.build.pk, text) if text else None
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None

    def clean_entry(self) -> LogEntry | None:
        text = str(self.cleaned_data["entry"])
        if not text:
            return None
        found = self.build.log.filter(pk=int(text)).first() if text.isdecimal() and len(text) < 18 else None
        if found is None:
            raise ValidationError(
                "That entry is no longer in the log of this build. Choose another, or none."
            )
        return found


class PhotosForm(OfBuildForm, forms.Form):
    """Several files at once, and what they have in common."""

    photos = forms.Field(
        label="Pictures",
        required=False,
        help_text=(
            f"JPEG, PNG or WebP, each to {BYTES_LIMIT // MB} MB and {PIXELS_LIMIT // 1_000_000} million "
            "pixels, up to 100 at once. Each is looked at by itself."
        ),
        widget=ManyFilesInput(attrs={"accept": ACCEPTED, "class": "in", "multiple": True}),
    )
    caption = forms.CharField(
        label="What is on them",
        required=False,
        max_length=500,
        help_text="For all of them; each may be given its own later. May be left empty.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    part = forms.CharField(
        label="Part",
        required=False,
        max_length=60,
        help_text="Its number, as B-002. Empty for none.",
        widget=forms.TextInput(attrs=NUMBER),
    )
    before_closing_up = forms.BooleanField(
        label="Before closing up: what will not be seen again", required=False
    )
    casting = forms.CharField(required=False, max_length=20, widget=forms.HiddenInput)
    entry = forms.CharField(required=False, max_length=18, widget=forms.HiddenInput)
    concession = forms.CharField(required=False, max_length=20, widget=forms.HiddenInput)
    came_from = forms.CharField(required=False, max_length=10, widget=forms.HiddenInput)
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, build: Build, about: About | None = None, came_from: str = "", **kwargs: Any
    ) -> None:
        # It stands on pages beside other entries: its names there are to be no one else's.
        kwargs |= {"auto_id": "photos_%s", "initial": _initial(about or About(), came_from)}
        super().__init__(*args, **kwargs)
        self.build = build

    @property
    def about(self) -> About:
        """What was said of all of them; asked for when the form is valid."""
        names = (*POINTING, "caption", "before_closing_up")
        return About(**{name: self.cleaned_data[name] for name in names})


def _initial(about: About, came_from: str) -> dict[str, Any]:
    return {
        "part": about.part.key if about.part else "",
        "casting": about.casting.number if about.casting else "",
        "entry": str(about.entry.pk) if about.entry else "",
        "concession": about.concession.key if about.concession else "",
        "came_from": came_from,
        "token": uuid.uuid4(),
    }


class PhotoForm(StandsForm, OfBuildForm, forms.ModelForm):  # type: ignore[type-arg]
    """One photo: what is on it, when it was taken, what it belongs to."""

    thing = "photo"
    taken_on = DayField(label="Day")
    part = forms.CharField(
        label="Part",
        required=False,
        max_length=60,
        help_text="Its number, as S-016. Empty for none.",
        widget=forms.TextInput(attrs=NUMBER),
    )
    casting = forms.CharField(
        label="Casting",
        required=False,
        max_length=20,
        help_text="Its number in the stores. Empty for none.",
        widget=forms.TextInput(attrs=NUMBER),
    )
    concession = forms.CharField(
        label="Concession",
        required=False,
        max_length=20,
        help_text="Its number, as C-009. Empty for none.",
        widget=forms.TextInput(attrs=NUMBER),
    )
    entry = forms.ChoiceField(label="Entry in the log", required=False)

    class Meta:
        model = Photo
        fields = TYPED
        widgets = {"caption": forms.Textarea(attrs={"rows": 2})}
        labels = {"before_closing_up": "Before closing up: what will not be seen again"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        photo: Photo = kwargs["instance"]
        kwargs["initial"] = {
            "part": photo.part.key if photo.part else "",
            "casting": photo.casting.number if photo.casting else "",
            "concession": photo.concession.key if photo.concession else "",
            "entry": str(photo.entry_id or ""),
        }
        super().__init__(*args, **kwargs)
        self.build = photo.build
        self.part_before = photo.part
        entry = self.fields["entry"]
        assert isinstance(entry, forms.ChoiceField)
        entry.choices = [("", "none"), *_entries_round(photo)]
        self.fields["taken_on"].widget.attrs["max"] = clock.today().isoformat()


def _entries_round(photo: Photo) -> list[tuple[str, str]]:
    """The entries of the days round the photo, the latest first, and its own where that is of another day."""
    near = timedelta(days=DAYS_ROUND)
    found = photo.build.log.filter(on__gte=photo.taken_on - near, on__lte=photo.taken_on + near)
    entries = list(found.select_related("part")[:ENTRIES_OFFERED])
    if photo.entry and photo.entry_id not in {entry.pk for entry in entries}:
        entries.insert(0, photo.entry)
    return [(str(entry.pk), _entry_said(entry)) for entry in entries]


def _entry_said(entry: LogEntry) -> str:
    said = entry.done or entry.left_off or entry.next
    of = f" {entry.part.key}" if entry.part_id and entry.part else ""
    return f"{clock.day_in_full(entry.on)}{of}: {' '.join(said.split())[:60]}"


class PhotoListForm(forms.Form):
    """What the contact sheet, and the photos before and after one, are narrowed to."""

    find = forms.CharField(
        required=False, max_length=60, label="Words", widget=forms.TextInput(attrs={"type": "search"})
    )
    part = forms.CharField(required=False, max_length=60, label="Part")
    closing = forms.BooleanField(required=False, label="only before closing up")
    page = forms.IntegerField(required=False, min_value=1)

    @property
    def asked(self) -> dict[str, Any]:
        """What was asked for and could be read; the rest is as if it had been left open."""
        self.is_valid()
        found = {name: value for name, value in self.cleaned_data.items() if value not in (None, "", False)}
        return found | ({"closing": "on"} if "closing" in found else {})
