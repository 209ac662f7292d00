"""What a kept sum of a keyway puts on a work card: the width, over the work, the depth from the crown."""

from typing import Literal

from calc.answers.card_shapes import (
    BROACH_CAUTION,
    CUTTER_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
)
from calc.answers.card_shapes import share as empty_share
from calc.answers.keyway import LETTERS
from calc.catalogue.keyway import key_text
from calc.kernel.keyway_entries import INCH_STANDARDS, NAMES
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say, SizeWanted

KIND = "keyway"
WORDS = "a keyway"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset({"side"})
Place = Literal["shaft", "hub"]
PLACES: tuple[Place, ...] = ("shaft", "hub")
#: What is measured over the work, after the letter that the standard's drawings have for it.
OVER: dict[Place, str] = {"shaft": "over the shaft", "hub": "across the bore"}


def unit_of(record: CalculationRecord) -> Unit:
    """Each standard is worked in its own unit."""
    return "inch" if record.inputs["standard"] in INCH_STANDARDS else "mm"


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept keyway, for the half that the part is, or for both."""
    shown, places = Shown(unit_of(record), typed.is_mixed), places_of(typed)
    key = key_text(record.inputs["standard"], record.results)
    made = empty_share("keyway", "keyway", f"Cut the keyway for a key {key}")
    pictures = {one["kind"]: one for one in record.context["answer"].get("pictures") or ()}
    has_depths = record.results["shaft_over_work_mm"] is not None
    made |= {
        "figures": _figures(record, shown, places) if has_depths else [],
        "notes": _of_kind(record, places) if has_depths else [_without_depths(record)],
        "picture": next(
            (pictures[one] for one in (f"keyway-{place}" for place in places) if one in pictures), None
        ),
        "stops": "end of a pass",
        "sizes": [size for place in places for size in _sizes(record, shown, place)] if has_depths else [],
        "units": shown.word,
        "cautions": [{"shaft": CUTTER_CAUTION, "hub": BROACH_CAUTION}[place] for place in places],
    }
    return made


def places_of(typed: Typed) -> tuple[Place, ...]:
    return PLACES if typed.side == "both" else (typed.side,)


def over(record: CalculationRecord, place: Place) -> str:
    """What is measured over the work: "S over the shaft", "d + t2 across the bore"."""
    letter = LETTERS[record.inputs["standard"]][PLACES.index(place)]
    deep = ", deep end" if place == "hub" and record.results.get("taper_one_in") else ""
    return f"{letter} {OVER[place]}{deep}"


def _figures(record: CalculationRecord, shown: Shown, places: tuple[Place, ...]) -> list[BigFigure]:
    results = record.results
    standard = record.inputs["standard"]
    figures: list[BigFigure] = [
        {
            "label": f"Keyway width, {'B17.2' if results.get('key_number') else NAMES[standard]}",
            "value": shown.size(results["key_width_mm"]),
            "unit": shown.beside(f"key {key_text(standard, results)}"),
            "rank": 80,
        }
    ]
    for place in places:
        figures += [
            {
                "label": f"Keyway, {over(record, place)}",
                "value": shown.size(results[f"{place}_over_work_mm"]),
                "unit": shown.beside(),
                "rank": 81,
            },
            {
                "label": f"Keyway depth from the crown, {place}",
                "value": shown.size(results[f"{place}_crown_depth_mm"]),
                "unit": shown.beside(),
                "rank": 82,
            },
        ]
    return figures


def _sizes(record: CalculationRecord, shown: Shown, place: Place) -> list[SizeWanted]:
    """The width to its limits, and over the work; its limits are thous wide, so it is rounded as ever."""
    results = record.results
    low, high = (results[f"{place}_width_{end}_mm"] for end in ("min", "max"))
    width = shown.limits(low, high) if low is not None else shown.size(results["key_width_mm"])
    least, most = (results[f"{place}_over_work_{end}_mm"] for end in ("min", "max"))
    limits = dict.fromkeys((shown.size(least), shown.size(most)))
    return [
        {"wanted": shown.wanted(width), "note": f"keyway width, {place}"},
        {"wanted": shown.wanted("–".join(limits)), "note": over(record, place)},
    ]


def _of_kind(record: CalculationRecord, places: tuple[Place, ...]) -> list[Say]:
    """What is cut in another way than for a parallel key."""
    results = record.results
    if results.get("key_number") and "shaft" in places:
        across = in_or_mm(exact(results["key_diameter_mm"]), "inch", 3)
        text = f"A keyseat cutter of {across} in diameter, sunk straight in. Try it on scrap with the key."
        return [{"strong": f"Woodruff key {results['key_number']}.", "text": text}]
    if results.get("taper_one_in") and "hub" in places:
        text = f"1 in {results['taper_one_in']}, the whole of it on the floor of the hub’s keyway."
        return [{"strong": "Taper key.", "text": text}]
    return []


def _without_depths(record: CalculationRecord) -> Say:
    name = NAMES[record.inputs["standard"]]
    return {"strong": f"Depth of this keyway: not read in {name}.", "text": "Measure the key and its seat."}
