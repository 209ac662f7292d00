"""How the answer of `keyway` is shown: over the work first, the depths by every datum beside it."""

from typing import Any

from calc.answers.shapes import WHY, Answer, Case, Fact, empty_answer, fact, size_line, unit_word, units_word
from calc.catalogue.keyway import key_text, shaft_text
from calc.kernel.keyway_entries import INCH_STANDARDS, NAMES
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact
from calc.sheets import Picture, SizeTable

PLACES = ("shaft", "hub")
#: What is measured over the work, as each standard's drawings have it.
LETTERS = {"bs46": ("S", "T"), "b17.1": ("S", "T"), "iso773": ("d − t1", "d + t2")}
UNDER = (
    "{0} over the shaft, from the bottom of the keyway to the side opposite; "
    "{1} across the bore, from the bottom of the keyway to the side opposite."
)


def answer(case: Case) -> Answer:
    """The box, the sections of shaft and hub, and the sizes of both."""
    shown = _box(case) if _has_depths(case) else _box_without_depths(case)
    shown["notes"] = [warning["text"] for warning in case.warnings]
    shown["units"] = units_word(unit_of(case))
    return shown


def unit_of(case: Case) -> Unit:
    """Each standard is worked and drawn in its own unit."""
    return "inch" if case.inputs["standard"] in INCH_STANDARDS else "mm"


def _has_depths(case: Case) -> bool:
    return case.results["shaft_over_work_mm"] is not None


def _over(case: Case) -> str:
    return f"Keyway over the work, {NAMES[case.inputs['standard']]}, shaft {shaft_text(dict(case.inputs))}"


def _key(case: Case) -> str:
    return key_text(case.inputs["standard"], dict(case.results))


def _box(case: Case) -> Answer:
    unit = unit_of(case)
    other: Unit = "mm" if unit == "inch" else "inch"
    letters = LETTERS[case.inputs["standard"]]
    big = ", ".join(
        f"{letter} {_size(case, f'{place}_over_work', unit)}"
        for letter, place in zip(letters, PLACES, strict=True)
    )
    shown = empty_answer(_over(case), f"{big} {unit_word(unit)}", UNDER.format(*letters), _facts(case, unit))
    small = ", ".join(_size(case, f"{place}_over_work", other) for place in PLACES)
    shown["big_small"] = f"{small} {unit_word(other)}"
    shown["pictures"] = [_picture(case, place, unit) for place in PLACES]
    if case.results.get("key_number"):
        shown["pictures"].append(_seat(case, unit))
    shown["sizes"] = _sizes(case, unit)
    shown["why"] = WHY
    return shown


def _box_without_depths(case: Case) -> Answer:
    """The key alone, where the depths of its keyway were not read."""
    unit = unit_of(case)
    half = in_or_mm(exact(case.results["key_height_mm"]) / 2, unit, 3)
    return empty_answer(
        _over(case),
        f"{_key(case)} key",
        "The depths of its keyway were not read: take them from the drawing or the standard.",
        [
            fact("Half its height", half, unit_word(unit)),
            fact("Chord rise", _rise(case, unit), unit_word(unit)),
        ],
    )


def _facts(case: Case, unit: Unit) -> list[Fact]:
    word = unit_word(unit)
    facts = [
        fact("Key", _key(case), case.results["section"] or ""),
        *_kind_facts(case, unit),
        fact("Shaft, depth at the wall", _size(case, "shaft_side_depth", unit), word),
        fact("Hub, depth at the wall", _size(case, "hub_side_depth", unit), word),
        fact("Chord rise", _rise(case, unit), word),
    ]
    longest = case.results["length_max_mm"]
    if longest is not None:
        span = f"{_trimmed(case.results['length_min_mm'])} to {_trimmed(longest)}"
        facts.append(fact("Length of the key", span, "mm"))
    return facts


def _kind_facts(case: Case, unit: Unit) -> list[Fact]:
    """What a taper or a Woodruff key has besides; a kept sum of before has none of it."""
    if case.results.get("taper_one_in"):
        return [fact("Slope, on one face", f"1 in {case.results['taper_one_in']}", "hub at its deep end")]
    if not case.results.get("key_number"):
        return []
    heights = "–".join(_size(case, f"key_height_{end}", unit) for end in ("min", "max"))
    return [
        fact("Cutter", _size(case, "key_diameter", unit), f"{unit_word(unit)} diameter"),
        fact("Height of the key", heights, unit_word(unit)),
    ]


def _sizes(case: Case, unit: Unit) -> SizeTable:
    """Every depth with its limits; what is measured at the bench is boxed."""
    return {
        "title": "Sizes",
        "note": units_word(unit),
        "columns": ["Shaft", "Hub"],
        "lines": [
            size_line("Width of the keyway", [_width_limits(case, place, unit) for place in PLACES]),
            size_line("Depth at the wall", _limits(case, "side_depth", unit)),
            size_line("Depth from the crown", _limits(case, "crown_depth", unit)),
            size_line(
                "Over the work",
                [_size(case, f"{place}_over_work", unit) for place in PLACES],
                finished=True,
            ),
            size_line("Over the work, limits", _limits(case, "over_work", unit)),
            size_line("Width of the key", [_width_limits(case, "key", unit), ""]),
        ],
    }


def _limits(case: Case, measure: str, unit: Unit) -> list[str]:
    """Least and most of a depth, in shaft and hub: ``0.971–0.986``."""
    return [
        "–".join(_size(case, f"{place}_{measure}_{end}", unit) for end in ("min", "max")) for place in PLACES
    ]


def _width_limits(case: Case, place: str, unit: Unit) -> str:
    """Least and most of a width, to four places where three would hide some of it."""
    if case.results[f"{place}_width_min_mm"] is None:
        return ""
    ends = [exact(case.results[f"{place}_width_{end}_mm"]) for end in ("min", "max")]
    three = [in_or_mm(end, unit, 3) for end in ends]
    four = [in_or_mm(end, unit, 4) for end in ends]
    return "–".join(three if all(one + "0" == more for one, more in zip(three, four, strict=True)) else four)


def _size(case: Case, name: str, unit: Unit) -> str:
    """A size as it is worked to: three places of an inch, two of a millimetre."""
    return in_or_mm(exact(case.results[f"{name}_mm"]), unit, 3 if unit == "inch" else 2)


def _rise(case: Case, unit: Unit) -> str:
    return in_or_mm(exact(case.results["chord_rise_mm"]), unit, 4 if unit == "inch" else 3)


def _trimmed(mm: Any) -> str:
    return f"{mm:g}"


def _seat(case: Case, unit: Unit) -> Picture:
    """The half-moon of a Woodruff key along the shaft."""
    results = case.results
    return {
        "kind": "keyway-seat",
        "figures": {
            "diameter": float(case.inputs["shaft_diameter"]),
            "key_diameter": float(results["key_diameter_mm"]),
            "crown_depth": float(results["shaft_crown_depth_mm"]),
            "key_height": float(results["key_height_mm"]),
            "unit": unit,
        },
        "strong": "Seat along the shaft",
        "text": f"{_key(case)} key; drawn to scale",
        "wide": False,
    }


def _picture(case: Case, place: str, unit: Unit) -> Picture:
    """The section of shaft or hub; the hub by its bore as measured, where it was."""
    shaft = case.inputs["shaft_diameter"]
    across = shaft if place == "shaft" else case.inputs["bore_measured"] or shaft
    key = f"{_key(case)} key"
    return {
        "kind": f"keyway-{place}",
        "figures": {
            "diameter" if place == "shaft" else "bore": float(across),
            "key_width": float(case.results["key_width_mm"]),
            "side_depth": float(case.results[f"{place}_side_depth_mm"]),
            "crown_depth": float(case.results[f"{place}_crown_depth_mm"]),
            "unit": unit,
        },
        "strong": "Shaft in section" if place == "shaft" else "Hub in section",
        "text": f"{key}; drawn to scale",
        "wide": False,
    }
