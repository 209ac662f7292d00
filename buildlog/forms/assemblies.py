"""Entries about an assembly."""

from typing import Any

from django import forms

from buildlog.forms.standing import StandsForm
from buildlog.models import Assembly, Build


class AssemblyForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """An assembly's letters, name, balloon and what it hangs on."""

    thing = "assembly"

    class Meta:
        model = Assembly
        fields = ("code", "name", "balloon", "parent")
        labels = {"parent": "Part of"}

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.build = build
        parent = self.fields["parent"]
        assert isinstance(parent, forms.ModelChoiceField)
        parent.queryset = build.assemblies.exclude(pk=self.instance.pk)
        parent.empty_label = "the engine itself"
        parent.required = False

    def clean_code(self) -> str:
        return str(self.cleaned_data["code"]).strip().upper()

    def _get_validation_exclusions(self) -> set[str]:
        # The build is set here and not by the form, and is still part of what must be unique.
        exclusions: set[str] = super()._get_validation_exclusions()  # type: ignore[misc]
        return exclusions - {"build"}
