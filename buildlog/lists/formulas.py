"""Cells that a spreadsheet would run as a formula: made harmless going out, put right coming in."""

import re

# A spreadsheet runs a cell that begins with one of these; some trim spaces first, some read the wide forms.
_RUNS = re.compile(r"'*\s*[=+\-@\t\r\n＝＋－＠]")
_AS_TEXT = re.compile(r'="([^"]*)"')


def disarmed(text: str) -> str:
    """The text with an apostrophe before it where a spreadsheet would run it."""
    return f"'{text}" if _RUNS.match(text) else text


def disarm_undone(text: str) -> str:
    """The text as it was before it was made harmless; `="007"`, as some programs write a text, is 007."""
    wrapped = _AS_TEXT.fullmatch(text)
    if wrapped:
        return wrapped[1]
    return text[1:] if text.startswith("'") and _RUNS.match(text[1:]) else text
