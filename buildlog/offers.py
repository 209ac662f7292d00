"""What a part, its mates and its other kept sums fill in on the page of a sum, and where each comes from."""

import re

from buildlog.models import Part
from calc.forms import Offered
from calc.models import CalculationRecord

_PITCH = re.compile(r"\b(\d{1,3}(?:\.\d{1,3})?)\s*DP\b", re.I)
_MODULE = re.compile(r"\b(?:(\d{1,2}(?:\.\d{1,3})?)\s*MOD(?:ULE)?|m\s?(\d{1,2}(?:\.\d{1,3})?))\b", re.I)
_ROUND = re.compile(r"\b(?:bore|dia|diameter)\b", re.I)


def offers_of(part: Part, key: str) -> dict[str, Offered]:
    """The entries of the sum `key` that can be filled in for this part."""
    kept: dict[str, CalculationRecord] = {}
    for record in part.records.all():
        kept.setdefault(record.key, record)
    found = {
        "indexing": _indexing,
        "spur-gear": _spur_gear,
        "keyway": _keyway,
        "broaching": _broaching,
        "fit": _fit,
    }
    return found[key](part, kept) if key in found else {}


def _indexing(part: Part, kept: dict[str, CalculationRecord]) -> dict[str, Offered]:
    gear = kept.get("spur-gear")
    if gear is not None:
        teeth = str(gear.inputs["teeth"])
        return {"divisions": Offered(teeth, f"from kept sum {gear.pk}: {teeth} teeth")}
    return {"divisions": _teeth(part)} if part.teeth else {}


def _spur_gear(part: Part, kept: dict[str, CalculationRecord]) -> dict[str, Offered]:
    divided = kept.get("indexing")
    found: dict[str, Offered] = {}
    if part.teeth:
        found["teeth"] = _teeth(part)
    elif divided is not None and divided.inputs.get("divisions"):
        count = str(divided.inputs["divisions"])
        found["teeth"] = Offered(count, f"from kept sum {divided.pk}: {count} divisions")
    mate = next((mate for mate in part.mates if mate.teeth), None)
    if mate is not None:
        found["mate_teeth"] = Offered(str(mate.teeth), f"from its mate {mate.key}: {mate.teeth} teeth")
    return found | _pitch(part, mate)


def _pitch(part: Part, mate: Part | None) -> dict[str, Offered]:
    """The pitch that the part's name or size gives, or its mate's."""
    for one, whose in ((part, "the part"), (mate, "its mate")):
        if one is None:
            continue
        text = f"{one.leading_size} {one.name}"
        pitch, module = _PITCH.search(text), _MODULE.search(text)
        if pitch:
            return {"diametral_pitch": Offered(f"{pitch[1]} DP", f"from {whose}: {pitch[1]} DP")}
        if module:
            figure = module[1] or module[2]
            return {"module": Offered(f"{figure} MOD", f"from {whose}: module {figure}")}
    return {}


def _keyway(part: Part, kept: dict[str, CalculationRecord]) -> dict[str, Offered]:
    return _diameter(part, kept.get("fit"), "nominal", "shaft_diameter")


def _broaching(_part: Part, kept: dict[str, CalculationRecord]) -> dict[str, Offered]:
    """The bore, the key and the depth of the kept keyway, in the unit of its standard."""
    keyway = kept.get("keyway")
    if keyway is None or keyway.results["hub_crown_depth_mm"] is None:
        return {}
    bore = _with_unit(keyway, "bore_measured" if keyway.entered.get("bore_measured") else "shaft_diameter")
    texts = {"bore": bore}
    for ours, theirs in (
        ("key_width", "key_width_mm"),
        ("hub_crown_depth", "hub_crown_depth_mm"),
        ("hub_crown_depth_max", "hub_crown_depth_max_mm"),
    ):
        mm = keyway.results[theirs]
        is_metric = keyway.inputs["standard"] == "iso773"
        texts[ours] = f"{round(mm, 4):g} mm" if is_metric else f"{round(mm / 25.4, 6):g} in"
    return {name: Offered(text, f"from kept sum {keyway.pk}: {text}") for name, text in texts.items()}


def _fit(part: Part, kept: dict[str, CalculationRecord]) -> dict[str, Offered]:
    return _diameter(part, kept.get("keyway"), "shaft_diameter", "nominal")


def _diameter(part: Part, other: CalculationRecord | None, theirs: str, ours: str) -> dict[str, Offered]:
    """A diameter from the other sum that has one, else from the part's leading size."""
    if other is not None:
        text = _with_unit(other, theirs)
        return {ours: Offered(text, f"from kept sum {other.pk}: {text}")}
    size = part.size
    if size and size.measure and _ROUND.search(size.words):
        return {ours: Offered(size.measure.typed(), f"from the part: {size.as_entered}")}
    return {}


def _with_unit(record: CalculationRecord, name: str) -> str:
    """What was typed there; a bare number with the unit it was read in."""
    text = str(record.entered[name])
    bare = re.fullmatch(r"[\d\s./]+", text)
    return f"{text} {'in' if record.unit == 'inch' else 'mm'}" if bare else text


def _teeth(part: Part) -> Offered:
    return Offered(str(part.teeth), f"from the part: {part.teeth} teeth")
