"""Pictures of a sum: which drawing belongs to which kind, made from the figures that were kept."""

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from django.utils.safestring import SafeString

from calc import (
    figures_bevel,
    figures_bevel_cutting,
    figures_bolt_circle,
    figures_broaching,
    figures_fit,
    figures_gear,
    figures_keyway,
    figures_press_fit,
    figures_stock,
    figures_taper,
    figures_thread,
    figures_train,
    figures_worm,
)
from calc.figures import Drawing, to_svg
from calc.sheets import Picture

#: The drawings by the kind of a picture; a kept sum names one of these for ever.
_DRAWINGS: Mapping[str, Callable[..., Drawing]] = {
    "gear-blank": figures_gear.blank,
    "gear-tooth": figures_gear.tooth,
    "bevel-pair": figures_bevel.pair,
    "bevel-rounds": figures_bevel_cutting.rounds,
    "bevel-spaces": figures_bevel_cutting.spaces,
    "bevel-mesh": figures_bevel_cutting.mesh,
    "bevel-differential": figures_bevel.differential,
    "worm-pair": figures_worm.pair,
    "keyway-shaft": figures_keyway.shaft,
    "keyway-hub": figures_keyway.hub,
    "keyway-seat": figures_keyway.seat,
    "broach-passes": figures_broaching.passes,
    "fit-zones": figures_fit.zones,
    "press-fit": figures_press_fit.section,
    "thread-form": figures_thread.form,
    "taper": figures_taper.taper,
    "bolt-circle": figures_bolt_circle.bolt_circle,
    "gear-train": figures_train.train,
    "stock-size": figures_stock.stock_size,
    "bar-section": figures_stock.bar_section,
    "casting-sizes": figures_stock.casting_sizes,
}
#: How the unit of a drawing's sizes is spoken of; zones say their own on the drawing.
_UNITS = {"inch": "inches", "mm": "millimetres"}


#: Of more pictures than stand beside each other, one so many times as wide as high goes across the page.
BESIDE, BAND = 2, 1.9


class Shown(NamedTuple):
    """A picture as the page shows it: drawn, with its caption and the columns it takes."""

    svg: SafeString
    strong: str
    text: str
    column: str  # a class of the style sheet


def drawing(picture: Picture) -> Drawing:
    """The drawing of a picture, from its figures alone."""
    return _DRAWINGS[picture["kind"]](**picture["figures"])


def shown(pictures: Sequence[Picture]) -> list[Shown]:
    """The pictures drawn for the page, side by side: the wide one takes the wider column."""
    drawn = [drawing(picture) for picture in pictures]
    bands = [is_band(one, len(pictures)) for one in drawn]
    is_even = len({picture["wide"] for picture in pictures}) == 1
    is_left_alone = any(bands) and bands.count(False) == 1
    return [
        Shown(
            to_svg(one),
            picture["strong"],
            caption_of(picture),
            "c12" if is_across or is_left_alone else _column(picture, len(pictures), is_even),
        )
        for picture, one, is_across in zip(pictures, drawn, bands, strict=True)
    ]


def is_band(one: Drawing, number: int) -> bool:
    """Whether a drawing, one of so many, is so much wider than high that it wants the whole width."""
    return number > BESIDE and one.width > BAND * one.height


def caption_of(picture: Picture) -> str:
    """What stands after the bold words of a caption: the picture's own text, and the unit of its sizes."""
    unit = _UNITS.get(picture["figures"].get("unit", ""))
    return f"{picture['text']}; sizes in {unit}" if unit else picture["text"]


def _column(picture: Picture, number: int, is_even: bool) -> str:
    """One alone leaves room for the sizes beside it."""
    if number == 1:
        return "c7"
    if is_even:
        return "c6"
    return "c7" if picture["wide"] else "c5"


def scale_of(pictures: Sequence[Picture]) -> str:
    """What the title block says of the scale: a picture that is drawn to scale says so in its caption."""
    return "to scale" if any("drawn to scale" in picture["text"] for picture in pictures) else "—"


def hatches_of(pictures: Sequence[Picture]) -> list[str]:
    """The materials that are cut in the pictures, each once, for the legend."""
    return list(dict.fromkeys(kind for picture in pictures for kind in picture.get("hatches", [])))
