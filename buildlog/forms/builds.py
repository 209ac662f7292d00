"""Entries about a build and its members."""

from typing import Any

from django import forms

from buildlog.forms.standing import StandsForm
from buildlog.models import Build


class BuildForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """A build's name, scale, units and money."""

    thing = "build"

    class Meta:
        model = Build
        fields = ("name", "scale", "description", "units", "currency")
        widgets = {"units": forms.RadioSelect}


class MemberForm(forms.Form):
    """Somebody to share a build with."""

    name = forms.RegexField(
        r"^[\w.@+-]+$",
        label="Name to sign in with",
        max_length=60,
        help_text="Theirs if they have one here already; else a new one, and you get a link to hand them. "
        "Share it again for a fresh link.",
        error_messages={"invalid": "A sign-in name is letters, figures and . @ + - _ with no spaces."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        # It stands on one page with the build's own name, and each entry needs an address of its own there.
        kwargs["auto_id"] = "id_member_%s"
        super().__init__(*args, **kwargs)
