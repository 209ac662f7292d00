"""Entries about a work card."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NotRequired, TypedDict, cast

from django import forms
from django.forms.boundfield import BoundWidget

from buildlog.models import Paper, Part
from buildlog.signs import SeenForm
from calc import records as sums
from calc.answers import card
from calc.measures import EntryError
from calc.models import CalculationRecord


class Said(TypedDict):
    """What was asked of a card."""

    records: list[CalculationRecord]
    paper: str
    operation: str
    machine: str
    held_on: str
    passes: NotRequired[tuple[str, ...]]
    blank_limits: NotRequired[str]
    side: NotRequired[card.Side]
    leave_off: NotRequired[bool]  # print it without what it has no room for
    token: uuid.UUID


@dataclass(frozen=True, slots=True)
class Offer:
    """One kept sum that may be ticked, and what there is to say of it."""

    tick: BoundWidget
    record: CalculationRecord
    is_older: bool  # a newer one of its kind is kept
    stale: list[str]  # what has changed since, in words


class CardForm(SeenForm, forms.Form):
    """Which sums go on the card, on what paper, and the few words and figures known beforehand."""

    records = forms.MultipleChoiceField(
        widget=forms.CheckboxSelectMultiple,
        required=False,
        label="Sums to print on it",
        error_messages={"invalid_choice": "Tick sums of this part only; what was sent is none of them."},
    )
    paper = forms.ChoiceField(choices=Paper.choices, widget=forms.RadioSelect, initial=Paper.A4)
    leave_off = forms.BooleanField(required=False, label="Print it without what has no room")
    operation = forms.CharField(
        required=False,
        max_length=60,
        help_text="Number and what is done: Op 50 Cut 84 teeth. Left empty, the sums name it.",
    )
    passes = forms.CharField(required=False, max_length=80, label="Passes, running total from touch-off")
    blank_limits = forms.CharField(
        required=False,
        max_length=30,
        label="Limits of the blank",
        help_text="Upper and lower, on the outside diameter. Left empty, there is a rule to write on.",
    )
    side = forms.ChoiceField(
        required=False,
        widget=forms.RadioSelect,
        label="This part is",
        choices=(("both", "both"), ("shaft", "the shaft"), ("hub", "the hub, bored")),
        help_text="For a keyway or a fit: the half that is printed; both where it is not known.",
    )
    machine = forms.CharField(
        required=False, max_length=60, help_text="Mill, lathe, drill; head and plate come from the sum."
    )
    held_on = forms.CharField(
        required=False, max_length=60, label="Held on", help_text="Arbor, fixture, chuck."
    )
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self,
        *args: Any,
        part: Part,
        asked: str | None,
        part_is: card.Side = "both",
        **kwargs: Any,
    ) -> None:
        every = list(part.records.all())
        self.kept = {str(record.pk): record for record in every if card.kind_of(record)}
        facts = sums.part_facts(part)
        stale = sums.stale_of(list(self.kept.values()), facts, among=every)
        self.stale = {pk: stale[record.pk] for pk, record in self.kept.items()}
        self.newest = _newest(self.kept)
        ticked = self._ticked(asked)
        gear = next((self.kept[pk] for pk in ticked if card.is_gear(self.kept[pk])), None)
        kwargs["initial"] = {
            "token": uuid.uuid4(),
            "records": ticked,
            "paper": Paper.A4,
            "side": part_is,
            "passes": card.proposed_passes(gear) if gear else "",
            "blank_limits": card.proposed_limits(gear) if gear else "",
        }
        super().__init__(*args, **kwargs)
        choices = [(pk, f"Sum {pk}: {one.title}, {one.headline}") for pk, one in self.kept.items()]
        cast(forms.MultipleChoiceField, self.fields["records"]).choices = choices
        self._drop_what_no_sum_asks(gear)

    def _ticked(self, asked: str | None) -> list[str]:
        """The newest of each kind that still stands; the one asked for takes its place."""
        ticked = [pk for pk in self.newest if not self.stale[pk]]
        if asked in self.kept:
            place = card.place_of(self.kept[asked])
            ticked = [asked, *(pk for pk in ticked if card.place_of(self.kept[pk]) != place)]
        if card.clash_of([self.kept[pk] for pk in ticked]):
            # A dividing for another count than the teeth of the gear: one of the two is not meant.
            away = "gear" if asked in self.kept and place == "dividing" else "dividing"
            ticked = [pk for pk in ticked if card.place_of(self.kept[pk]) != away]
        return ticked

    def _drop_what_no_sum_asks(self, gear: CalculationRecord | None) -> None:
        """Take off the entries that no kept sum of this part has a use for."""
        if not any(map(card.is_gear, self.kept.values())):
            del self.fields["passes"], self.fields["blank_limits"]
        else:
            proposed = f" Proposed from sum {gear.pk}: change them to suit." if gear else ""
            self.fields["passes"].help_text = (
                f"With commas between; the last is the full depth.{proposed} "
                "Left empty, there is a rule to write on."
            )
        if not any(map(card.has_side, self.kept.values())):
            del self.fields["side"]

    @property
    def offers(self) -> list[Offer]:
        """The kept sums, each with its box to tick."""
        return [
            Offer(tick, self.kept[pk], pk not in self.newest, self.stale[pk])
            for tick, pk in zip(self["records"], self.kept, strict=True)
        ]

    @property
    def chosen(self) -> list[CalculationRecord]:
        return [self.kept[pk] for pk in self.cleaned_data.get("records", ())]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if clash := card.clash_of(self.chosen):
            self.add_error("records", clash)
            return data
        gear = next(filter(card.is_gear, self.chosen), None)
        for name, read in (("passes", card.read_passes), ("blank_limits", card.read_limits)):
            if gear and name in data:
                try:
                    data[name] = read(gear, data[name])
                except EntryError as wrong:
                    self.add_error(name, wrong.message)
        return data

    def refuse_for_room(self, without: Sequence[str]) -> None:
        """Say what the paper has no room for, before anything is printed without it."""
        larger = "choose A4, " if self.cleaned_data["paper"] == Paper.A5 else ""
        self.add_error(
            "leave_off",
            f"One side of {self.cleaned_data['paper']} has no room for {card.listed(without)}. "
            f"Untick a sum, {larger}or tick this to print the card without; it then says what is not on it.",
        )

    @property
    def said(self) -> Said:
        data = self.cleaned_data
        has_gear = any(map(card.is_gear, self.chosen))
        return {
            "records": self.chosen,
            "paper": data["paper"],
            "operation": data["operation"],
            "machine": data["machine"],
            "held_on": data["held_on"],
            "passes": data["passes"] if has_gear else (),
            "blank_limits": data["blank_limits"] if has_gear else "",
            "side": data.get("side") or "both",
            "leave_off": data["leave_off"],
            "token": data["token"],
        }


def _newest(kept: dict[str, CalculationRecord]) -> list[str]:
    """The newest of each kind, and of all gears one; they come newest first."""
    found: dict[str, str] = {}
    for pk, record in kept.items():
        found.setdefault(str(card.place_of(record)), pk)
    return list(found.values())
