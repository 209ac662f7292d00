"""Entries of the register of drawings: a sheet, and an issue of it."""

from typing import Any

from django import forms

from buildlog import clock
from buildlog.forms.days import DayField
from buildlog.forms.part_keys import NUMBER
from buildlog.forms.standing import StandsForm
from buildlog.models import Build, Drawing, SheetIssue
from buildlog.signs import SeenForm


class DrawingForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """A sheet of the set: number, title, where the paper is."""

    thing = "sheet"

    class Meta:
        model = Drawing
        fields = ("number", "title", "place", "units", "projection", "note")
        widgets = {"note": forms.Textarea(attrs={"rows": 2})}
        help_texts = {
            "number": "Its figures alone, as 12.",
            "title": "As in its title block.",
            "place": "Plan chest, third drawer; or the folder, if it is a file.",
            "projection": "As its title block says, or its symbol shows.",
        }

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.build = build
        self.fields["number"].widget.attrs |= {"inputmode": "numeric", "autocomplete": "off"}

    def clean_number(self) -> str:
        return str(self.cleaned_data["number"]).strip().lstrip("0")

    def _get_validation_exclusions(self) -> set[str]:
        # The build is set here and not by the form, and is still part of what must be unique.
        exclusions: set[str] = super()._get_validation_exclusions()  # type: ignore[misc]
        return exclusions - {"build"}


class IssueForm(SeenForm, forms.Form):
    """An issue of a sheet as it came."""

    issue = forms.CharField(
        max_length=10,
        help_text="One or two letters, as C.",
        widget=forms.TextInput(attrs=NUMBER),
    )
    dated = DayField(label="Date on the sheet", required=False)
    got_on = DayField(label="Got on")
    note = forms.CharField(
        label="What changed", required=False, max_length=200, help_text="As the sheet or its letter says."
    )

    def __init__(self, *args: Any, offered: str = "", **kwargs: Any) -> None:
        kwargs["initial"] = {"issue": offered, "got_on": clock.today()}
        super().__init__(*args, **kwargs)
        for name in ("dated", "got_on"):
            self.fields[name].widget.attrs["max"] = clock.today().isoformat()

    def clean_issue(self) -> str:
        text = "".join(str(self.cleaned_data["issue"]).split()).upper()
        for check in SheetIssue._meta.get_field("issue").validators:
            check(text)
        return text

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        dated, got = data.get("dated"), data.get("got_on")
        if dated and got and dated > got:
            self.add_error("dated", "It is dated after the day you got it: one of the two days is a slip.")
        return data


class FirstIssueForm(IssueForm):
    """The issue a sheet has when it comes into the register; it may be left out."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # A sheet that is written down today came when it came: nothing is offered that may not be so.
        self.initial = {}
        del self.fields["note"]
        self.fields["issue"].required = False
        self.fields["got_on"].required = False
        self.fields["issue"].help_text = "The letter in its title block; empty if it bears none."
        self.fields["got_on"].help_text = "As near as you know."

    def clean_issue(self) -> str:
        return super().clean_issue() if str(self.cleaned_data["issue"]).strip() else ""

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        issue, dated, got = data.get("issue"), data.get("dated"), data.get("got_on")
        if issue and not got and "got_on" not in self.errors:
            self.add_error("got_on", f"When did issue {issue} come to you? The month will do, as 1 Mar 2021.")
        if (dated or got) and not issue and "issue" not in self.errors:
            self.add_error("issue", "Which issue is it that came then? Write its letter, or clear the days.")
        return data


def next_issue(issue: str) -> str:
    """The letter that follows: C after B, AA after Z; empty where there is none before it."""
    if not issue:
        return ""
    last = issue[-1]
    if last != "Z":
        return issue[:-1] + chr(ord(last) + 1)
    return "AA" if issue == "Z" else ""
