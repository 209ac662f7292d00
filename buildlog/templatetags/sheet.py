"""Small pieces of a sheet: marks, hatches, sizes as typed, the made bar."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from buildlog.log_words import minutes_said
from buildlog.materials import hatch_name
from buildlog.models import Part, Stage
from calc.measures import Size

register = template.Library()
register.filter("spent", minutes_said)

STAGE_INKS = {
    Stage.NOT_STARTED: "is-open",
    Stage.IN_HAND: "",
    Stage.MACHINED: "is-done",
    Stage.FITTED: "is-done",
    Stage.PAINTED: "is-done",
    Stage.ON_ENGINE: "is-done",
}


@register.simple_tag
def mark(symbol: str) -> SafeString:
    """One of the sprite's marks; its word stands beside it."""
    return format_html('<svg class="m" aria-hidden="true"><use href="#{}"/></svg>', symbol)


@register.simple_tag
def hatch(code: str, words: str = "") -> SafeString:
    """A cut piece of the material, with its name for those who cannot see it."""
    if not code:
        return SafeString("")
    return format_html(
        '<svg class="hs" viewBox="0 0 28 17" aria-hidden="true">'
        '<rect width="28" height="17" fill="url(#h-{})"/></svg>{}',
        code,
        format_html('<span class="vh">{}</span>', words) if words else "",
    )


@register.simple_tag
def material_hatch(part: Part) -> SafeString:
    """The hatch of what a part is made of, named."""
    return hatch(part.hatch, hatch_name(part.hatch)) if part.hatch else SafeString("")


@register.simple_tag
def stage(part: Part) -> SafeString:
    """The stage of a part: its mark and its word."""
    at = part.stage_mark
    return format_html('<span class="st {}">{}{}</span>', STAGE_INKS[at], mark(f"st{at.place}"), at.label)


@register.simple_tag
def typed_size(size: Size | None, as_typed: str = "") -> SafeString:
    """A size as it was typed, its conversion after it in grey."""
    if size is None or size.measure is None:
        text = size.as_entered if size else as_typed
        return format_html('<span class="q"><b>{}</b></span>', text) if text else SafeString("")
    measure = size.measure
    figure, _, unit = measure.typed().rpartition(" ")
    return format_html(
        '<span class="q"><b>{}</b><i>{}{}</i> <span class="cv">{}</span></span>',
        _figure(figure),
        unit,
        f" {size.words}" if size.words else "",
        measure.converted(),
    )


def _figure(text: str) -> SafeString:
    """A figure with its fraction set as one: the whole number before it stays as tall as it is."""
    whole, _, fraction = text.rpartition(" ")
    if "/" not in fraction:
        return format_html("{}", text)
    return format_html('{}<span class="fr">{}</span>', f"{whole} " if whole else "", fraction)


@register.inclusion_tag("includes/_made_bar.html")
def made_bar(tally: object) -> dict[str, object]:
    """The bar of an assembly: made solid, in hand hatched."""
    return {"tally": tally}
