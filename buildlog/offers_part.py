"""What a part and its mates say of themselves, as it is filled in on the page of a sum."""

import re
from collections.abc import Callable, Mapping

from buildlog.models import Kind, Part
from buildlog.offers_kept import Kept, Offers, is_worm
from calc.forms import Offered

_PITCH = re.compile(r"\b(\d{1,3}(?:\.\d{1,3})?)\s*DP\b", re.I)
_MODULE = re.compile(r"\b(?:(\d{1,2}(?:\.\d{1,3})?)\s*MOD(?:ULE)?|m\s?(\d{1,2}(?:\.\d{1,3})?))\b", re.I)
_BORE = re.compile(r"\bbore\b", re.I)
_DIAMETER = re.compile(r"\b(?:dia|diameter)\b", re.I)
_ROUND = re.compile(r"\b(?:bore|dia|diameter)\b", re.I)
_PITCH_CIRCLE = re.compile(r"\b(?:PCD|P\.C\.D\.?|pitch circle)(?!\w)", re.I)
_HOLES = re.compile(r"\b(\d{1,3})\s*(?:holes|studs|bolts)\b", re.I)
_THREAD = re.compile(
    r"(?<![\w/])(?:\d+/\d+(?:\s*[x×]\s*\d+)?\s*(?:BSW|BSF|BSB|BSP|ME|UNC|UNF)|\d{1,2}\s*BA"
    r"|M\d+(?:\.\d+)?(?:\s*[x×]\s*\d(?:\.\d+)?)?)(?!\w)"
)
_NAMED_TAPER = re.compile(r"\b(MT\s?\d|JT\s?\d{1,2}|Jarno\s\d{1,2}|B&S\s\d{1,2})\b", re.I)
_RATE = re.compile(r"\btaper(?:ed|s)?\D{0,12}\b(1\s?(?::|in)\s?\d{1,3})\b(?!/)", re.I)
#: What a part is made of, by the words of its material, as the table of densities and the book of pattern
#: allowances call it; the first whose words all stand in it.
MASS_METALS = {
    "cast iron": "grey-iron",
    "stainless": "stainless",
    "steel": "steel",
    "brass": "brass",
    "bronze": "bronze",
    "gunmetal": "gunmetal",
    "copper": "copper",
    "aluminium": "aluminium",
}
CASTING_METALS = {
    "cast iron": "cast-iron",
    "gunmetal": "gunmetal",
    "aluminium": "aluminium",
}
_BY_THE_FOOT = re.compile(r"\d+(?:\s+\d+/\d+|/\d+|\.\d+)?\s*(?:in|inch|inches|\")", re.I)
_BY_RATIO = re.compile(r"\d+\s*:\s*\d+")

Giver = Callable[[Part, Kept], Offers]


# ---- gears -------------------------------------------------------------------------------------------------


def teeth_as(entry: str) -> Giver:
    """The teeth the part's name or size gives."""
    return lambda part, _kept: {entry: _teeth(part)} if part.teeth else {}


def _teeth(part: Part) -> Offered:
    return Offered(str(part.teeth), f"from the part: {part.teeth} teeth")


def _of_mate(mate: Part) -> Offered:
    return Offered(str(mate.teeth), f"from its mate {mate.key}: {mate.teeth} teeth")


def mate_teeth(part: Part, _kept: Kept) -> Offers:
    mate = _toothed_mate(part)
    return {"mate_teeth": _of_mate(mate)} if mate else {}


def _toothed_mate(part: Part) -> Part | None:
    return next((mate for mate in part.mates if mate.teeth), None)


def pitch(part: Part, _kept: Kept) -> Offers:
    """The pitch that the part's name or size gives, or its mate's."""
    for one, whose in ((part, "the part"), (_toothed_mate(part), "its mate")):
        if one is None:
            continue
        text = f"{one.leading_size} {one.name}"
        by_inch, by_module = _PITCH.search(text), _MODULE.search(text)
        if by_inch:
            return {"diametral_pitch": Offered(f"{by_inch[1]} DP", f"from {whose}: {by_inch[1]} DP")}
        if by_module:
            figure = by_module[1] or by_module[2]
            return {"module": Offered(f"{figure} MOD", f"from {whose}: module {figure}")}
    return {}


def differential(part: Part, _kept: Kept) -> Offers:
    """Side gears and pinions, as far as the part and its mates tell them apart.

    The right side gear is filled in where there are two like ones, and the pinions where the build needs
    as many as may go round.
    """
    toothed = [one for one in (part, *part.mates) if one.teeth]
    pinions = [one for one in toothed if "pinion" in one.name.casefold()]
    sides = [one for one in toothed if one not in pinions]
    found: Offers = {}
    if len({one.teeth for one in pinions}) == 1:
        found["pinion_teeth"] = _said_by(part, pinions[0])
        if 2 <= (count := sum(one.needed for one in pinions)) <= 6:
            found["pinions"] = Offered(str(count), f"{count} of {pinions[0].key} are needed")
    if sides and pinions and len({one.teeth for one in sides}) == 1:
        found["left_teeth"] = _said_by(part, sides[0])
        if sum(one.needed for one in sides) == 2:
            found["right_teeth"] = found["left_teeth"]
    return found


def _said_by(part: Part, one: Part) -> Offered:
    return _teeth(part) if one == part else _of_mate(one)


def worm_wheel(part: Part, _kept: Kept) -> Offers:
    """The teeth of the wheel, whether the part is the wheel or the worm that drives it."""
    if not is_worm(part):
        return {"wheel_teeth": _teeth(part)} if part.teeth else {}
    mate = _toothed_mate(part)
    return {"wheel_teeth": _of_mate(mate)} if mate else {}


# ---- sizes -------------------------------------------------------------------------------------------------


def _sized(part: Part, words: re.Pattern[str]) -> Offered | None:
    """The leading size, where its words say what it is a size of."""
    size = part.size
    if size and size.measure and words.search(size.words):
        return Offered(size.measure.typed(), f"from the part: {size.as_entered}")
    return None


def _size_as(entry: str, words: re.Pattern[str]) -> Giver:
    def give(part: Part, _kept: Kept) -> Offers:
        found = _sized(part, words)
        return {entry: found} if found else {}

    return give


def diameter_as(entry: str) -> Giver:
    """The leading size where it is a bore or a diameter."""
    return _size_as(entry, _ROUND)


def bore_as(entry: str) -> Giver:
    """The leading size where it is a bore."""
    return _size_as(entry, _BORE)


def shaft_as(entry: str) -> Giver:
    """The leading size where it is the diameter of something, of a shaft by its name."""

    def give(part: Part, _kept: Kept) -> Offers:
        is_shaft = re.search(r"shaft\b|\baxle\b", part.name, re.I)
        found = _sized(part, _DIAMETER) if is_shaft else None
        return {entry: found} if found else {}

    return give


def finished_size(part: Part, _kept: Kept) -> Offers:
    """The leading size of a casting, and that it is a bore where it says so."""
    size = part.size
    if part.kind != Kind.CASTING or not (size and size.measure):
        return {}
    note = f"from the part: {size.as_entered}"
    found = {"finished_size": Offered(size.measure.typed(), note)}
    return found | ({"surface": Offered("bore", note)} if _BORE.search(size.words) else {})


def metal_as(entry: str, metals: Mapping[str, str]) -> Giver:
    """What the part is made of, where that is one of the metals of the table and no other is named."""

    def give(part: Part, _kept: Kept) -> Offers:
        words = part.material.casefold()
        found = list(dict.fromkeys(metal for name, metal in metals.items() if name in words))
        if "stainless" in found:
            found.remove("steel")
        return {entry: Offered(found[0], f"from the part: {part.material}")} if len(found) == 1 else {}

    return give


def scale(part: Part, _kept: Kept) -> Offers:
    """The scale of the build, where it is written as inches to the foot or as a ratio."""
    text = part.build.scale.strip()
    if _BY_THE_FOOT.fullmatch(text):
        return {"scale": Offered(f"{text} to the foot", f"from the build: {text} scale")}
    return {"scale": Offered(text, f"from the build: {text}")} if _BY_RATIO.fullmatch(text) else {}


# ---- threads, tapers, holes --------------------------------------------------------------------------------


def _one_in(part: Part, pattern: re.Pattern[str]) -> str:
    """The one text of this form in the part's size and name; empty where there is none, or several."""
    found = {match.strip() for match in pattern.findall(f"{part.leading_size} {part.name}")}
    return found.pop() if len(found) == 1 else ""


def thread(part: Part, _kept: Kept) -> Offers:
    """A thread with its series, where the part names one and no other."""
    text = _one_in(part, _THREAD)
    return {"thread": Offered(text, f"from the part: {text}")} if text else {}


def taper(part: Part, _kept: Kept) -> Offers:
    """A taper by its name or its rate, where the part gives one."""
    named, rate = _one_in(part, _NAMED_TAPER), _one_in(part, _RATE)
    if named:
        return {"name": Offered(named, f"from the part: {named}")}
    return {"rate": Offered(rate, f"from the part: taper {rate}")} if rate else {}


def bolt_circle(part: Part, _kept: Kept) -> Offers:
    """The circle and the holes on it, where the leading size names a pitch circle."""
    circle, holes = _sized(part, _PITCH_CIRCLE), _one_in(part, _HOLES)
    found = {"diameter": circle} if circle else {}
    if holes:
        found["holes"] = Offered(holes, f"from the part: {holes} holes")
    return found
