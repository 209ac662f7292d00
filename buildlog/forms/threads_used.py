"""Entries of threads: one of a part, and one that is changed to another at many places."""

import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog.actions.thread_changes import Asked
from buildlog.forms.standing import StandsForm
from buildlog.models import Assembly, Build, ThreadUse
from buildlog.signs import SeenForm
from buildlog.threads_used import thread_names
from calc.measures import EntryError
from calc.threads_named import LONGEST_TYPED, Named, named, shown

_PLAIN = {"autocomplete": "off", "spellcheck": "false"}
EXAMPLES = "With its series: 1/4 BSF, 2 BA, M6, 1/4 x 40 ME."


def read_thread(text: str) -> Named:
    """The thread that was typed; refused with what may be meant."""
    try:
        return named(text)
    except EntryError as wrong:
        raise ValidationError(str(wrong)) from None


class ThreadUseForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """A thread of a part."""

    thing = "thread"

    token = forms.UUIDField(widget=forms.HiddenInput)

    class Meta:
        model = ThreadUse
        fields = ("as_typed", "where", "count", "side")
        widgets = {
            "as_typed": forms.TextInput(attrs=_PLAIN),
            "count": forms.TextInput(attrs=_PLAIN | {"inputmode": "numeric"}),
        }
        help_texts = {
            "as_typed": EXAMPLES,
            "where": "As gland studs, or four in the flange. It may be left empty.",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["initial"] = {"token": uuid.uuid4()}
        super().__init__(*args, **kwargs)

    def clean_as_typed(self) -> str:
        text = " ".join(str(self.cleaned_data["as_typed"]).split())
        self.instance.thread = read_thread(text).name
        return text

    def clean_where(self) -> str:
        return " ".join(str(self.cleaned_data["where"]).split())

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if "as_typed" not in data or "where" not in data:
            return data
        same = ThreadUse.objects.filter(
            part=self.instance.part,
            thread=self.instance.thread,
            where__iexact=data["where"],
            side=data.get("side", ""),
        )
        # The same entry sent twice is no second one.
        if same.exclude(pk=self.instance.pk).exclude(token=data.get("token")).exists():
            place = f", {data['where']}" if data["where"] else ""
            self.add_error(
                "where",
                f"{shown(self.instance.thread)}{place} is on its list already. Change the number there, or "
                "say another place.",
            )
        return data


class ThreadChangeForm(SeenForm, forms.Form):
    """Which thread is to be changed, where, and to what."""

    thread = forms.ChoiceField(
        label="Change",
        error_messages={"invalid_choice": "No part of this build has that thread. Choose one of the list."},
    )
    assembly = forms.ModelChoiceField(
        label="In",
        queryset=Assembly.objects.none(),
        required=False,
        empty_label="the whole build",
        help_text="With all that hangs on it.",
        error_messages={"invalid_choice": "That is no assembly of this build. Choose one of the list."},
    )
    to = forms.CharField(
        label="To", max_length=LONGEST_TYPED, help_text=EXAMPLES, widget=forms.TextInput(attrs=_PLAIN)
    )

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        thread, assembly = self.fields["thread"], self.fields["assembly"]
        assert isinstance(thread, forms.ChoiceField)
        assert isinstance(assembly, forms.ModelChoiceField)
        thread.choices = [(name, shown(name)) for name in thread_names(build)]
        assembly.queryset = build.assemblies.all()

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if "to" not in data:
            return data
        try:
            data["named"] = read_thread(data["to"])
        except ValidationError as wrong:
            self.add_error("to", wrong)
            return data
        if data["named"].name == data.get("thread"):
            self.add_error("to", f"It is {data['named'].shown} already. Type the thread it is to become.")
        return data

    @property
    def asked(self) -> Asked:
        said = self.cleaned_data
        return Asked(
            thread=said["thread"],
            assembly=said["assembly"],
            to=said["named"],
            to_typed=" ".join(said["to"].split()),
        )
