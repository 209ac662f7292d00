"""Signs that are unseen on a page, and never meant where they turn up."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

# Marks that turn the direction of writing, and control signs; ends of lines and tabs are none of them.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]"
)


def unseen_sign(text: str) -> str:
    """The first unseen sign by its number, as `U+202E`; empty where there is none."""
    found = _UNSEEN.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def refuse_unseen(entry: object) -> None:
    """A validator for entries of text."""
    sign = unseen_sign(str(entry))
    if sign:
        raise ValidationError(
            f"There is an unseen sign in it ({sign}), which turns or breaks the text. "
            "Clear the entry and type it again."
        )


class SeenForm(forms.BaseForm):
    """A form whose entries of text hold nothing that cannot be seen."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            if isinstance(field, forms.CharField):
                field.validators.append(refuse_unseen)
