"""Entries about what stands already: whoever is second is told, shown both versions, and loses nothing."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from django import forms
from django.db import models
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from buildlog import clock
from buildlog.changes import changes_of
from buildlog.forms.days import DayField, read_day
from buildlog.signs import SeenForm

#: Entries that say nothing of the thing itself.
ASIDE = ("opened_at", "token", "take_back")
DIGITS = 10
EMPTY = "empty"
#: How a name begins that only tells one state of a form from another.
PLATE = "as-of-"


class SealInput(forms.HiddenInput):
    """What stood when the page was opened, out of sight, and a nameplate that changes with it.

    Going back, some browsers ask for the page anew and put what was typed before into it: old words over a
    new seal. They do so where the form has the names it had, so that one name goes by the seal: then what
    was typed comes back only while the thing is still what it was.
    """

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        plate = format_html('<input type="hidden" name="{}{}">', PLATE, _sum(str(value or "")))
        return plate + super().render(name, value, attrs, renderer)


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands beside a form and is written with it: lines of uses, of plates."""

    label: str
    now: str  # as it stands, in whatever words tell it apart
    typed: str  # the same of what was sent
    said: Callable[[str], str] = str  # how either is told


@dataclass(frozen=True, slots=True)
class Differing:
    """One entry that is not what stands now."""

    label: str
    typed: str
    now: str
    differs: bool
    is_theirs: bool  # changed since the page was opened
    is_yours: bool  # typed in this page

    @classmethod
    def of(cls, label: str, typed: str, now: str, stood: str, said: Callable[[str], str]) -> "Differing":
        """Hold what was typed and what stands to the sum of what stood when the page was opened."""
        return cls(
            label[:1].upper() + label[1:],
            (said(typed) or EMPTY) if typed != now else "",
            (said(now) or EMPTY) if typed != now else "",
            differs=typed != now,
            is_theirs=_sum(now) != stood,
            is_yours=_sum(typed) != stood,
        )


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """What happened to a thing between the opening of its page and the sending of it."""

    thing: str
    rows: tuple[Differing, ...]
    by: str  # who was the last to change it, and when; empty where nobody knows
    in_bin: str  # the day it was put in the bin; empty where it is not there

    @property
    def told(self) -> str:
        if self.in_bin:
            return f"This {self.thing} has been put in the bin since you opened the page, on {self.in_bin}."
        return f"This {self.thing} has been changed since you opened the page."

    @property
    def has_taken_over(self) -> bool:
        """Whether an entry that was left alone here now holds what somebody else typed."""
        return any(row.is_theirs and not row.is_yours for row in self.rows)


class StandsForm(SeenForm):
    """A form about a thing that may be changed elsewhere while it is open.

    It carries a short sum of every entry as it stood when the page was opened. Sent after a change by
    somebody else, or from another tab, it is refused once with both versions in `meanwhile`: entries that
    were typed in keep what was typed, the others take what stands now. Sent again from there, it is written.
    """

    #: What it is about, as it is spoken of: this part, this entry.
    thing = "record"
    instance: Any

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.meanwhile: Meanwhile | None = None
        self.beside: list[Beside] = []
        self.taken_over: set[str] = set()
        # First, so that its nameplate is among the names a browser knows a form by.
        self.fields = {"opened_at": forms.CharField(required=False, widget=SealInput)} | self.fields
        self.in_bin = getattr(self.instance, "binned_at", None)
        if self.in_bin:
            words = f"Take this {self.thing} back out of the bin, and write it down"
            self.fields["take_back"] = forms.BooleanField(required=False, label=words)

    def lay_beside(self, beside: Beside) -> None:
        """Watch over something more that this form's page writes; before it is judged or shown."""
        self.beside.append(beside)

    def get_initial_for_field(self, field: forms.Field, field_name: str) -> Any:
        if field_name == "opened_at":
            return self._seal() if self.instance.pk else ""
        return super().get_initial_for_field(field, field_name)

    def clean(self) -> dict[str, Any]:
        data: dict[str, Any] = super().clean() or self.cleaned_data
        if self.instance.pk:
            self._look_at_what_stands(data)
        return data

    def _look_at_what_stands(self, data: dict[str, Any]) -> None:
        binned = bool(self.in_bin and not data.get("take_back"))
        opened, now = data.get("opened_at") or "", self._seal()
        rows = self._differing(opened) if binned or opened not in ("", now) else ()
        if binned or (rows and opened not in ("", now)):
            self._tell(rows, binned=binned)

    def _tell(self, rows: tuple[Differing, ...], *, binned: bool) -> None:
        in_bin = clock.day_in_full(timezone.localdate(self.in_bin)) if binned and self.in_bin else ""
        self.meanwhile = Meanwhile(self.thing, rows, last_change(self.instance), in_bin)
        self.data = self.data.copy()  # type: ignore[attr-defined]
        self.data[self.add_prefix("opened_at")] = self._seal()  # type: ignore[index]
        self.add_error(None, self.meanwhile.told)

    # ---- what stood, what stands, what was typed ---------------------------------------------------------

    def _watched(self) -> list[tuple[str, forms.Field]]:
        return [
            (name, field)
            for name, field in self.fields.items()
            if not (name in ASIDE or field.widget.is_hidden)
        ]

    def _seal(self) -> str:
        """A short sum of every entry as it stands, and of what stands beside."""
        prints = [self._stands(name, field) for name, field in self._watched()]
        return ".".join(_sum(one) for one in (*prints, *(beside.now for beside in self.beside)))

    def _stands(self, name: str, field: forms.Field) -> str:
        return _print(field, self.get_initial_for_field(field, name))

    def _typed(self, name: str, field: forms.Field) -> str:
        return _print(field, field.widget.value_from_datadict(self.data, self.files, self.add_prefix(name)))

    def _differing(self, opened: str) -> tuple[Differing, ...]:
        """The entries that are not what stands now, those changed elsewhere first."""
        watched = self._watched()
        sums = opened.split(".")
        if len(sums) != len(watched) + len(self.beside):
            sums = [""] * (len(watched) + len(self.beside))  # Nobody knows: each is taken as changed by both.
        found = []
        for (name, field), stood in zip(watched, sums, strict=False):
            label, typed, now = str(self[name].label), self._typed(name, field), self._stands(name, field)
            row = Differing.of(label, typed, now, stood, partial(_said, field))
            found.append(row)
            if row.is_theirs and not row.is_yours:
                self._take_over(name, field, now)
        for beside, stood in zip(self.beside, sums[len(watched) :], strict=True):
            row = Differing.of(beside.label, beside.typed, beside.now, stood, beside.said)
            found.append(row)
            if row.is_theirs and not row.is_yours:
                self.taken_over.add(beside.label)
        return tuple(sorted((row for row in found if row.differs), key=lambda row: not row.is_theirs))

    def _take_over(self, name: str, field: forms.Field, now: str) -> None:
        """Let an entry that was left alone hold what stands now, so that sending it again undoes nothing."""
        self.data = self.data.copy()  # type: ignore[attr-defined]
        self.taken_over.add(name)
        if isinstance(field, forms.BooleanField) and not now:
            self.data.pop(self.add_prefix(name), None)  # type: ignore[attr-defined]
        else:
            self.data[self.add_prefix(name)] = now  # type: ignore[index]


def _sum(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:DIGITS]


def _print(field: forms.Field, value: Any) -> str:
    """An entry as a browser sends it back untouched, whichever way it breaks lines."""
    if isinstance(field, forms.BooleanField):
        return "on" if value else ""
    shown = field.widget.format_value(field.prepare_value(value))
    if isinstance(shown, list | tuple):
        shown = ",".join(str(one) for one in shown)
    return "\n".join(str("" if shown is None else shown).splitlines()).strip()


def _said(field: forms.Field, text: str) -> str:
    """An entry as its page words it: a choice by its label, a tick as yes or no, a day in words."""
    if isinstance(field, forms.BooleanField):
        return "yes" if text else "no"
    if isinstance(field, forms.ChoiceField):
        offered: Any = field.choices
        return next((str(label) for value, label in offered if str(value) == text), text)
    if isinstance(field, DayField):
        try:
            return clock.day_in_full(read_day(text)) if text else ""
        except ValueError:
            return text
    return text


def last_change(thing: models.Model) -> str:
    """Who was the last to change a thing, and when: `anna on 14 Mar 2026 at 10:05`; empty if unknown."""
    history = getattr(thing, "history", None)
    line = history.select_related("by").first() if history is not None else None
    row = next(iter(changes_of(thing)), None)
    told = [(one.at, one.by) for one in (line, row and row.change) if one]
    if not told:
        return ""
    at, by = max(told, key=lambda one: one[0])
    local = timezone.localtime(at)
    return f"{f'by {by.get_username()} ' if by else ''}on {clock.day_in_full(local.date())} at {local:%H:%M}"
