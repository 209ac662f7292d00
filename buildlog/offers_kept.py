"""What the kept sums of a part fill in on the page of another sum; the kept record remembers the link."""

from collections.abc import Callable

from buildlog.models import Part
from calc.forms import Offered
from calc.models import CalculationRecord
from calc.records import Taken, text_of

#: The newest sum of each kind that is kept on the part, by its key, the newest of all first.
Kept = dict[str, CalculationRecord]
Offers = dict[str, Offered]

GEARS = ("spur-gear", "helical-gear", "bevel-pair", "worm-pair")
KEYWAYS = ("keyway",)
NOMINALS = ("fit", "inch-fit", "shop-fit")
#: The figure of each gear that it is divided by.
_TEETH = {"worm-pair": "inputs.wheel_teeth"}


def take(entry: str, figure: str, *keys: str) -> Callable[[Part, Kept], Offers]:
    """A giver that fills an entry in with a figure of the newest kept sum of one of these kinds."""

    def give(_part: Part, kept: Kept) -> Offers:
        for key, record in kept.items():
            if key in keys and (offered := _from(record, figure)):
                return {entry: offered}
        return {}

    return give


def _from(record: CalculationRecord, figure: str, unit: str = "") -> Offered | None:
    """A figure of a kept sum as it is filled in; None where the sum has none."""
    text = text_of(record, figure)
    if not text:
        return None
    said = f"from kept sum {record.pk}: {text}{f' {unit}' if unit else ''}"
    return Offered(text, said, taken=Taken(record.pk, figure))


def teeth_to_divide(part: Part, kept: Kept) -> Offers:
    """The teeth of the kept gear; none where two kinds of gear are kept that do not agree."""
    found = [
        offered
        for key, record in kept.items()
        if key in GEARS
        and not (key == "worm-pair" and is_worm(part))
        and (offered := _from(record, _TEETH.get(key, "inputs.teeth"), "teeth"))
    ]
    if len({one.text for one in found}) > 1:
        found = [one for one in found if one.text == str(part.teeth)]
    return {"divisions": found[0]} if found else {}


def is_worm(part: Part) -> bool:
    """Whether the part is the worm itself, which is not divided by the teeth of its wheel."""
    words = part.name.casefold()
    return "worm" in words and not any(word in words for word in ("wheel", "segment", "gear"))


def schedule(_part: Part, kept: Kept) -> Offers:
    """The setting in use of the kept indexing, where it is a plain one."""
    divided = kept.get("indexing")
    if divided is None:
        return {}
    names = ("divisions", "ratio", "circle", "turns", "holes")
    found = {name: _from(divided, f"schedule.{name}") for name in names}
    return {name: one for name, one in found.items() if one} if all(found.values()) else {}


def bevels(part: Part, kept: Kept) -> Offers:
    """The counts of a kept bevel pair, its smaller one the pinion's, and its pitch at the large end."""
    pair = kept.get("bevel-pair")
    if pair is None:
        return {}
    teeth, mate = pair.inputs["teeth"], pair.inputs["mate_teeth"]
    is_pinion = "pinion" in part.name.casefold()
    found: dict[str, Offered | None] = {}
    if is_pinion:
        found["pinion_teeth"] = _from(pair, "inputs.teeth", "teeth")
    elif mate < teeth:
        found["left_teeth"] = _from(pair, "inputs.teeth", "teeth")
        found["pinion_teeth"] = _from(pair, "inputs.mate_teeth", "teeth")
    if pair.results.get("pitch_at") == "large":
        for name in ("diametral_pitch", "module"):
            found[name] = _from(pair, f"inputs.{name}")
    return {name: one for name, one in found.items() if one}


def parallel_bevels(_part: Part, kept: Kept) -> Offers:
    """A kept pair of parallel depth, whose pitch is the cutter's."""
    pair = kept.get("bevel-pair")
    if pair is None or pair.inputs.get("tooth_depth") != "parallel":
        return {}
    names = ["teeth", "mate_teeth", "face_width", "shaft_angle", "pressure_angle"]
    if pair.results.get("pitch_at") == "small":
        names += ["diametral_pitch", "module"]
    found = {name: _from(pair, f"inputs.{name}") for name in names}
    return {name: one for name, one in found.items() if one}


def keyway_to_broach(_part: Part, kept: Kept) -> Offers:
    """The bore, the key and the depth of the kept keyway, in the unit of its standard."""
    keyway = next((record for key, record in kept.items() if key in KEYWAYS), None)
    if keyway is None or keyway.results.get("hub_crown_depth_mm") is None:
        return {}
    if keyway.inputs.get("kind") == "taper":
        # The floor of its keyway slopes in the hub, which no broach with parallel shims makes.
        return {}
    bore = "bore_measured" if keyway.entered.get("bore_measured") else "shaft_diameter"
    figures = {
        "bore": f"inputs.{bore}",
        "key_width": "results.key_width_mm",
        "hub_crown_depth": "results.hub_crown_depth_mm",
        "hub_crown_depth_max": "results.hub_crown_depth_max_mm",
    }
    found = {name: _from(keyway, figure) for name, figure in figures.items()}
    return {name: one for name, one in found.items() if one}


def drill_to_turn(_part: Part, kept: Kept) -> Offers:
    """The diameter of the drill of a kept tapping drill: the one in hand, else the nearest."""
    tapped = kept.get("tapping-drill")
    if tapped is None:
        return {}
    figure = "drill_exact_mm" if tapped.entered.get("drill") else "nearest_drill_mm"
    offered = _from(tapped, f"results.{figure}")
    if offered is None:
        return {}
    called = tapped.entered.get("drill") or tapped.results.get("nearest_drill") or offered.text
    return {"diameter": offered._replace(note=f"from kept sum {tapped.pk}: drill {called}")}


def pitch_to_cut(_part: Part, kept: Kept) -> Offers:
    """The pitch of a kept thread, by its threads to the inch where its series goes by them."""
    thread = kept.get("thread")
    if thread is None:
        return {}
    by_count = thread.results.get("threads_per_inch") is not None
    figure = "threads_per_inch" if by_count else "pitch_mm"
    offered = _from(thread, f"results.{figure}", "threads to the inch" if by_count else "")
    return {"threads_per_inch" if by_count else "pitch": offered} if offered else {}
