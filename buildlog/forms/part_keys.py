"""Parts named by their key in an entry: how it is typed, and which part is meant."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from buildlog.actions.log import part_named
from buildlog.models import Build, Part

#: A number is typed as it stands on the drawing: no keyboard is to mend it.
NUMBER = {"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}


def key_input() -> forms.TextInput:
    """An entry of a key, offered those of the build that begin like it."""
    return forms.TextInput(attrs={"list": "keys", **NUMBER})


def echo_part(field: forms.Field, build: Build) -> None:
    """Say below the entry which part is meant while its key is typed."""
    field.widget.attrs |= {
        "hx-get": reverse("part_echo", args=[build.pk]),
        "hx-trigger": "input changed delay:300ms, change",
        "hx-target": "next .echo",
        "hx-swap": "outerHTML",
    }


def part_meant(build: Build, typed: Any, stands: Part | None = None) -> Part | None:
    """The part that a key names; none for an empty entry. The one that stands there may be in the bin.

    Raises
    ------
    ValidationError
        No live part of the build has this key.
    """
    text = str(typed).strip()
    if not text:
        return None
    if stands and stands.key == text.upper():
        return stands
    try:
        return part_named(build, text)
    except ValueError as wrong:
        raise ValidationError(str(wrong)) from None
