"""What a part, its mates and its other kept sums fill in on the page of a sum, and where each comes from."""

from collections.abc import Callable

from buildlog import offers_kept as kept_sums
from buildlog import offers_made as made
from buildlog import offers_part as said
from buildlog.models import Part
from buildlog.offers_kept import GEARS, KEYWAYS, NOMINALS, Kept, Offers, take
from calc import registry
from calc.forms import Offered

__all__ = ["goes_on_to", "offers_of"]

Giver = Callable[[Part, Kept], Offers]

#: For each calculation, who fills its entries in; the first to give an entry is the one that is shown.
GIVERS: dict[str, tuple[Giver, ...]] = {
    "indexing": (kept_sums.teeth_to_divide, said.teeth_as("divisions")),
    "indexing-schedule": (kept_sums.schedule,),
    "spur-gear": (
        said.teeth_as("teeth"),
        take("teeth", "inputs.divisions", "indexing"),
        said.mate_teeth,
        said.pitch,
    ),
    "helical-gear": (
        said.teeth_as("teeth"),
        take("teeth", "inputs.divisions", "indexing"),
        said.mate_teeth,
        said.pitch,
    ),
    "bevel-pair": (said.teeth_as("teeth"), said.mate_teeth, said.pitch),
    "bevel-cutting": (kept_sums.parallel_bevels, said.teeth_as("teeth"), said.mate_teeth),
    "bevel-differential": (kept_sums.bevels, said.differential, said.pitch),
    "worm-pair": (said.worm_wheel, said.pitch),
    "milling-lead": (
        take("lead", "results.lead_mm", "helical-gear"),
        take("work_diameter", "results.pitch_diameter_mm", "helical-gear"),
    ),
    "keyway": (
        take("shaft_diameter", "inputs.nominal", *NOMINALS),
        take("bore_measured", "inputs.hole_measured", "fit"),
        said.diameter_as("shaft_diameter"),
    ),
    "broaching": (kept_sums.keyway_to_broach,),
    "key-strength": (
        take("shaft", "inputs.shaft_diameter", *KEYWAYS),
        take("key_width", "results.key_width_mm", *KEYWAYS),
        take("key_height", "results.key_height_mm", *KEYWAYS),
        said.shaft_as("shaft"),
    ),
    "fit": (
        take("nominal", "inputs.shaft_diameter", *KEYWAYS),
        take("nominal", "inputs.nominal", "inch-fit", "shop-fit"),
        made.measured,
        take("hole_measured", "inputs.bore_measured", *KEYWAYS),
        said.diameter_as("nominal"),
    ),
    "inch-fit": (
        take("nominal", "inputs.nominal", "fit", "shop-fit"),
        take("nominal", "inputs.shaft_diameter", *KEYWAYS),
        said.diameter_as("nominal"),
    ),
    "shop-fit": (
        take("nominal", "inputs.nominal", "fit", "inch-fit"),
        take("nominal", "inputs.shaft_diameter", *KEYWAYS),
        said.diameter_as("nominal"),
    ),
    "press-fit": (
        take("interface", "inputs.hole_measured", "fit"),
        take("interface", "inputs.bore_measured", *KEYWAYS),
        take("interface", "inputs.nominal", *NOMINALS),
    ),
    "thread": (take("thread", "inputs.thread", "tapping-drill"), said.thread),
    "tapping-drill": (take("thread", "inputs.thread", "thread"), said.thread),
    "bore-sequence": (take("finished_bore", "inputs.nominal", *NOMINALS), said.bore_as("finished_bore")),
    "spindle-speed": (kept_sums.drill_to_turn,),
    "taper": (said.taper,),
    "bolt-circle": (said.bolt_circle,),
    "change-wheels": (kept_sums.pitch_to_cut,),
    "scale": (said.scale,),
    "mass": (said.metal_as("material", said.MASS_METALS),),
    "casting-allowance": (said.metal_as("metal", said.CASTING_METALS), said.finished_size),
}
#: The sums that others take from, and which those are.
_GOES_ON: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(GEARS, ("indexing",)),
    "helical-gear": ("indexing", "milling-lead"),
    "bevel-pair": ("indexing", "bevel-cutting", "bevel-differential"),
    "indexing": ("indexing-schedule",),
    **dict.fromkeys(KEYWAYS, ("broaching", "key-strength", "fit")),
    "fit": ("keyway", "bore-sequence", "press-fit"),
    **dict.fromkeys(("inch-fit", "shop-fit"), ("keyway", "bore-sequence", "press-fit")),
    "thread": ("tapping-drill", "change-wheels"),
    "tapping-drill": ("spindle-speed", "thread"),
}


def offers_of(part: Part, key: str) -> Offers:
    """The entries of the sum `key` that can be filled in for this part."""
    calculation = registry.get(key)
    if calculation is None:
        return {}
    kept: Kept = {}
    for record in part.records.all():
        kept.setdefault(record.key, record)
    found: dict[str, Offered] = {}
    for giver in GIVERS.get(key, ()):
        given = giver(part, kept)
        if not _answers_already(found, given):
            found = given | found
    names = {field.name: field for field in calculation.inputs}
    return {name: one for name, one in found.items() if name in names and _may_be(names[name].choices, one)}


def goes_on_to(key: str) -> list[tuple[str, str]]:
    """The sums that take something from a kept one of this kind: key and title."""
    found = ((other, registry.get(other)) for other in _GOES_ON.get(key, ()))
    return [(other, calculation.title) for other, calculation in found if calculation]


def _answers_already(found: Offers, given: Offers) -> bool:
    """Whether one of a pair of entries that stand for each other is given already: a pitch and a module."""
    pitches = {"diametral_pitch", "module"}
    return bool(pitches & found.keys() and pitches & given.keys())


def _may_be(choices: tuple[tuple[str, str], ...], one: Offered) -> bool:
    return not choices or one.text in {value for value, _ in choices}
