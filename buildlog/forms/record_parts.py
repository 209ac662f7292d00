"""Entries about putting a kept sum to a part: what to look for, and which part."""

from django import forms


class FindPartForm(forms.Form):
    """Words or a number to look for among the parts of one's own builds."""

    find = forms.CharField(required=False, max_length=60, label="Number, words or size")


class PutForm(forms.Form):
    """The part that was chosen."""

    part = forms.IntegerField(min_value=1, max_value=2**31 - 1, widget=forms.HiddenInput)
    token = forms.UUIDField(widget=forms.HiddenInput)
