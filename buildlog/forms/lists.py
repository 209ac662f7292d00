"""The entry that a parts list comes in by."""

from django import forms
from django.core.files.uploadedfile import UploadedFile

from buildlog.lists.files import CSV_LIMIT, ENDINGS, MB, XLSX_LIMIT, ListError
from buildlog.lists.reading import ReadList, read_list


class ListForm(forms.Form):
    """A file, read as a parts list."""

    file = forms.FileField(
        label="The list",
        max_length=200,
        help_text=f"CSV to {CSV_LIMIT // MB} MB, or XLSX to {XLSX_LIMIT // MB} MB; its first sheet is read.",
        widget=forms.FileInput(attrs={"accept": ",".join(ENDINGS), "class": "in"}),
        error_messages={
            "required": "No file is chosen yet. Choose the list, then bring it in.",
            "empty": "The file is empty. Save the list again and choose that file.",
            "max_length": "The name of the file is longer than 200 signs. Give it a shorter one.",
        },
    )
    read: ReadList

    def clean_file(self) -> "UploadedFile[bytes]":
        file: UploadedFile[bytes] = self.cleaned_data["file"]
        # One byte past the limit tells that a file is too large; no more of it is wanted in memory.
        content = file.read(max(CSV_LIMIT, XLSX_LIMIT) + 1)
        try:
            self.read = read_list(file.name or "", content)
        except ListError as wrong:
            raise forms.ValidationError(f"{file.name}: {wrong}") from None
        return file
