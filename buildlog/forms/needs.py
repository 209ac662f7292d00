"""What a part needs before it can go on, as a builder types it: numbers with commas."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.functional import cached_property

from buildlog.actions.castings import Needs
from buildlog.forms.castings import casting_meant
from buildlog.models import Build, Casting, Part
from buildlog.numbers import key_of, read_number
from buildlog.signs import SeenForm

MOST = 40
_TIMES = re.compile(r"^(.*?)\s*[×xX*]\s*(\d{1,4})$")


class NeedsForm(SeenForm, forms.Form):
    """Castings besides its own, the parts to be made first, the parts it mates with."""

    casting_number = forms.CharField(
        label="Its own casting",
        required=False,
        max_length=20,
        help_text="As on the casting or its order: K-040. Empty where it is from bar, plate or bought.",
    )
    castings_each = forms.CharField(
        label="Castings to one part",
        required=False,
        max_length=10,
        help_text="One, unless a part is made up of several from one pattern.",
    )
    castings = forms.CharField(
        label="Other castings it cannot go on without",
        required=False,
        max_length=400,
        help_text="With commas: K-022, K-036 × 2. They have to be here; they are not used up by it.",
    )
    firsts = forms.CharField(
        label="Parts to be made first",
        required=False,
        max_length=400,
        help_text="By their numbers, with commas: S-019, H-021-L. Whatever holds those up holds this up too.",
    )
    mates = forms.CharField(
        label="Mates with",
        required=False,
        max_length=400,
        help_text="By their numbers, with commas: S-015. It is told on both parts.",
    )

    def __init__(self, *args: Any, part: Part, **kwargs: Any) -> None:
        self.part = part
        kwargs.setdefault("initial", _standing(part))
        super().__init__(*args, **kwargs)

    def clean_castings_each(self) -> int:
        text = str(self.cleaned_data["castings_each"]).strip() or "1"
        if not re.fullmatch(r"\d{1,4}", text, re.ASCII) or not 1 <= int(text) <= 99:
            raise ValidationError(f"{text} is no number of castings: write a whole number from 1 to 99.")
        return int(text)

    def clean_castings(self) -> dict[Casting, int]:
        known = self._register
        found: dict[Casting, int] = {}
        for word in _words(str(self.cleaned_data["castings"])):
            match = _TIMES.match(word)
            number, times = (match[1], int(match[2])) if match else (word, 1)
            casting = casting_meant(known, number)
            if casting is None:
                raise ValidationError(
                    f"No casting {number} is in the register. Write it in under Stores, Castings, "
                    "or as the own casting of the part that is made of it."
                )
            if not 1 <= times <= 999:
                raise ValidationError(f"{word}: how many have to be here is from 1 to 999.")
            found[casting] = times
        return found

    def clean_firsts(self) -> tuple[Part, ...]:
        return self._parts("firsts")

    def clean_mates(self) -> tuple[Part, ...]:
        return self._parts("mates")

    @property
    def _build(self) -> Build:
        return self.part.build

    @cached_property
    def _register(self) -> dict[str, Casting]:
        return {casting.number: casting for casting in self._build.castings.all()}

    def _parts(self, name: str) -> tuple[Part, ...]:
        wanted = _words(str(self.cleaned_data[name]))
        known = {part.key: part for part in self._build.parts.live()} if wanted else {}
        found: dict[str, Part] = {}
        for word in wanted:
            try:
                key = key_of(*read_number(word))
            except ValueError as wrong:
                raise ValidationError(f"{word}: {wrong}") from None
            if key not in known:
                hands = [hand for hand in (f"{key}-L", f"{key}-R") if hand in known]
                meant = f" Is {' or '.join(hands)} meant?" if hands else ""
                raise ValidationError(f"No part {key} is in this build.{meant}")
            found[key] = known[key]
        return tuple(found.values())

    @property
    def needs(self) -> Needs:
        """What was typed, once it is valid."""
        data = self.cleaned_data
        return Needs(castings=data["castings"], firsts=data["firsts"], mates=data["mates"])


def _words(text: str) -> list[str]:
    words = [word for word in (" ".join(piece.split()) for piece in re.split(r"[,;\n]", text)) if word]
    if len(words) > MOST:
        raise ValidationError(f"{len(words)} are named; {MOST} at most. Name those that matter.")
    return words


def _standing(part: Part) -> dict[str, str]:
    needs = part.casting_needs.select_related("casting")
    firsts = part.firsts.select_related("first").filter(first__binned_at=None)
    return {
        "casting_number": part.casting_number,
        "castings_each": str(part.castings_each),
        "castings": ", ".join(
            need.casting.number + (f" × {need.quantity}" if need.quantity > 1 else "") for need in needs
        ),
        "firsts": ", ".join(row.first.key for row in firsts),
        "mates": ", ".join(mate.key for mate in part.mates),
    }
