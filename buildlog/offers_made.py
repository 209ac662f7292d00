"""What was measured on a part and its mates, as it is filled in on the page of a fit."""

import re

from buildlog import clock
from buildlog.made import measured_on
from buildlog.models import Part, Reading
from buildlog.offers_kept import Kept, Offers
from calc.forms import Offered

#: What a characteristic is called that is the inside of a fit, or the outside: common practice, no source.
_WORDS = {
    "hole_measured": re.compile(r"\b(?:bore|hole|inside diameter|i\.?d\.?)(?!\w)", re.I),
    "shaft_measured": re.compile(r"\b(?:journal|shaft diameter|shaft dia|seat|spigot)(?!\w)", re.I),
}


def measured(part: Part, _kept: Kept) -> Offers:
    """Hole and shaft as they were measured, of the mates first and of the part itself after them.

    Where two that might be meant were measured, none is filled in: the builder says which.
    """
    readings = measured_on([part, *part.mates])
    names = {mate.pk: f"its mate {mate.key}" for mate in part.mates}
    found: Offers = {}
    for entry, words in _WORDS.items():
        named = {
            pk: [one for one in of if words.search(one.characteristic.name)] for pk, of in readings.items()
        }
        own = named.pop(part.pk, [])
        theirs = [(names[pk], one) for pk, of in named.items() for one in of]
        meant = theirs or [("the part", one) for one in own]
        if len(meant) == 1:
            found[entry] = _offered(*meant[0])
    return found


def _offered(whose: str, one: Reading) -> Offered:
    day = clock.day_words(one.on, clock.today())
    return Offered(one.shown, f"from {whose}: {one.characteristic.name} {one.shown} measured {day}")
