"""Entries of the files of a sheet: several at once, of one issue."""

import uuid
from collections.abc import Sequence
from typing import Any

from django import forms

from buildlog.forms.photos import ManyFilesInput
from buildlog.models import SheetIssue
from buildlog.picture_files import BYTES_LIMIT, MB, PIXELS_LIMIT
from buildlog.sheet_limits import PDF_BYTES

ACCEPTED = "application/pdf,image/jpeg,image/png,image/webp"


class SheetFilesForm(forms.Form):
    """Several files at once, and the issue they are of."""

    sheets = forms.Field(
        label="Files",
        required=False,
        help_text=(
            f"PDF to {PDF_BYTES // MB} MB; JPEG, PNG or WebP to {BYTES_LIMIT // MB} MB and "
            f"{PIXELS_LIMIT // 1_000_000} million pixels. Several at once; each is looked at by itself."
        ),
        widget=ManyFilesInput(attrs={"accept": ACCEPTED, "class": "in", "multiple": True}),
    )
    issue = forms.ChoiceField(
        help_text="The one in their title blocks.",
        error_messages={
            "required": "Of which issue are they? Choose it.",
            "invalid_choice": "That issue is no longer in the register. Choose another.",
        },
    )
    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, issues: Sequence[SheetIssue], **kwargs: Any) -> None:
        kwargs |= {"auto_id": "sheet_files_%s", "initial": {"token": uuid.uuid4()}}
        super().__init__(*args, **kwargs)
        self.issues = {issue.issue: issue for issue in issues}
        field = self.fields["issue"]
        assert isinstance(field, forms.ChoiceField)
        # The latest stands first, and is what is chosen unless somebody says otherwise.
        field.choices = [(letter, letter) for letter in self.issues]

    @property
    def issue_chosen(self) -> SheetIssue:
        """The issue the files are of; asked for when the form is valid."""
        return self.issues[self.cleaned_data["issue"]]
