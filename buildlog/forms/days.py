"""Entries of days and of counts, read as a builder writes them."""

import re
from datetime import date, datetime
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.signs import refuse_unseen

#: Before this nothing of a build can have happened: castings of the fifties still turn up in sheds.
FIRST_DAY = date(1950, 1, 1)
#: Nobody promises a casting for later than so many years from today.
YEARS_AHEAD = 10
MOST = 999
_SHAPES = ("%Y-%m-%d", "%d/%m/%Y", "%d.%m.%Y", "%d-%m-%Y", "%d %b %Y", "%d %B %Y", "%d/%m/%y")
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}")
_ORDINAL = re.compile(r"^(\d{1,2})(?:st|nd|rd|th)\b", re.I)


def read_day(text: str) -> date:
    """The day meant: `20 Nov 2025`, `20/11/2025` and `2025-11-20` are one.

    Raises
    ------
    ValueError
        The text is no day; the message says how to write one.
    """
    tidy = _ORDINAL.sub(r"\1", " ".join(text.replace(",", " ").split()))
    if tidy.isascii():
        for shape in _SHAPES:
            try:
                return datetime.strptime(tidy, shape).date()  # noqa: DTZ007  A day has no zone.
            except ValueError:
                continue
    raise ValueError(f"“{text[:20]}” is no day. Write it as 20 Nov 2025, or 20/11/2025.")


class DayInput(forms.DateInput):
    """The browser's own entry of a day; what no browser would show there comes back as text."""

    input_type = "date"

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__(attrs, format="%Y-%m-%d")

    def get_context(self, name: str, value: Any, attrs: dict[str, Any] | None) -> dict[str, Any]:
        context = super().get_context(name, value, attrs)
        typed = context["widget"]["value"]
        if typed and not _ISO.fullmatch(str(typed)):
            context["widget"]["type"] = "text"
        return context


class DayField(forms.Field):
    """A day on which something happened: not before 1950, and not still to come."""

    widget = DayInput

    def to_python(self, value: Any) -> date | None:
        if value in self.empty_values or not str(value).strip():
            return None
        if isinstance(value, date):
            return value
        refuse_unseen(value)
        try:
            return read_day(str(value))
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None

    def validate(self, value: Any) -> None:
        if value is None and self.required:
            raise ValidationError("Which day was it? Write it as 20 Nov 2025, or 20/11/2025.")
        if value is not None:
            self.check(value)

    def check(self, day: date) -> None:
        """Refuse a day that cannot be meant."""
        if day > clock.today():
            raise ValidationError(
                f"{clock.day_in_full(day)} is still to come. Write the day it happened: today, "
                f"{clock.day_in_full(clock.today())}, at the latest."
            )
        _refuse_old(day)


class PromiseField(DayField):
    """A day promised: within ten years from today."""

    def check(self, day: date) -> None:
        if day.year > clock.today().year + YEARS_AHEAD:
            raise ValidationError(
                f"{clock.day_in_full(day)} is more than {YEARS_AHEAD} years off. Is the year a slip? "
                f"Write {clock.today().year + YEARS_AHEAD} at the latest."
            )
        _refuse_old(day)


class CountField(forms.Field):
    """A whole number of castings, as it is typed."""

    def __init__(self, *, least: int = 1, **kwargs: Any) -> None:
        attrs = {"inputmode": "numeric", "maxlength": "8", "autocomplete": "off"}
        kwargs.setdefault("widget", forms.TextInput(attrs=attrs))
        super().__init__(**kwargs)
        self.least = least

    def to_python(self, value: Any) -> int | None:
        text = str(value if value is not None else "").strip()
        if not text:
            return None
        limits = f"write a whole number from {self.least} to {MOST}."
        if not re.fullmatch(r"[+-]?\d{1,12}", text, re.ASCII):
            refuse_unseen(text)
            raise ValidationError(f"“{text[:12]}” is no number of castings: {limits}")
        if not self.least <= int(text) <= MOST:
            raise ValidationError(f"{text} cannot be: {limits}")
        return int(text)

    def validate(self, value: Any) -> None:
        if value is None and self.required:
            raise ValidationError(f"How many? Write a whole number from {self.least} to {MOST}.")


def _refuse_old(day: date) -> None:
    if day < FIRST_DAY:
        raise ValidationError(
            f"{clock.day_in_full(day)} is before {FIRST_DAY.year}. Is the year a slip? "
            "Write it in full, as 20 Nov 2025."
        )
