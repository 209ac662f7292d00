"""What the templates of sums need and Django lacks."""

from collections.abc import Iterable
from typing import Any

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from calc.sheets import EntryLine

register = template.Library()


@register.filter
def beside(heads: Iterable[Any], cells: Iterable[Any]) -> list[tuple[Any, Any]]:
    """Each column of a table with the cell under it."""
    return list(zip(heads, cells, strict=True))


@register.filter
def typed_and_read(entry: EntryLine) -> SafeString:
    """An entry in one line: as typed, then as read; the reading alone where it begins with what was typed."""
    typed, read = entry["typed"].strip(), entry["read"]
    if not typed or read.startswith(typed):
        return format_html("{}", read or typed)
    return format_html('{} <small class="echo">{}</small>' if read else "{}", may_break(typed), read)


@register.filter
def may_break(text: str) -> SafeString:
    """A list as it was typed, which may break after a comma where it is long."""
    return format_html_join(SafeString(",<wbr>"), "{}", ((piece,) for piece in text.split(",")))


@register.filter
def lower_first(text: str) -> str:
    """A title within a sentence; its other letters stay."""
    return text[:1].lower() + text[1:]
