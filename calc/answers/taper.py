"""How the answer of `taper` is shown: what the compound slide is set to, and the other settings beside it."""

from calc.answers.shapes import (
    Answer,
    Case,
    Fact,
    both,
    empty_answer,
    fact,
    shown_unit,
    size_line,
    units_word,
)
from calc.catalogue.taper import angle_text, headline, is_key
from calc.kernel.units import Unit
from calc.kernel.wording import fixed
from calc.sheets import Picture, SizeTable

BEWARE = {
    "one-face": "A key slopes on one face",
    "rule-of-thumb": "Brown & Sharpe differs by number",
    "work-is-taper": "The whole work counts",
}
LENGTHS = ("large_diameter", "small_diameter", "length", "work_length", "sine_bar")
ROUND_UNDER = (
    "To the axis, for the compound slide; the angle between the two sides is {included}. "
    "The rate is on the diameter: {foot} in to the foot, 1:{one_in}."
)
KEY_UNDER = "The whole rate is on one face: {foot} in to the foot, 1:{one_in}. Round work: {half}."


def answer(case: Case) -> Answer:
    """The box, the picture and the sizes."""
    results, unit = case.results, unit_of(case)
    face, half, included = (angle_text(results[f"{one}_angle_deg"]) for one in ("face", "half", "included"))
    foot, one_in = fixed(results["taper_per_foot"], 5), fixed(1 / results["rate"], 3)
    is_face = is_key(dict(case.inputs))
    shown = empty_answer(
        "Set to the sloping face" if is_face else "Set the compound slide to",
        face if is_face else half,
        (KEY_UNDER if is_face else ROUND_UNDER).format(
            foot=foot, one_in=one_in, half=half, included=included
        ),
        _facts(case, unit),
    )
    shown["beware"] = [
        {"title": BEWARE[one["code"]], "text": one["text"]} for one in case.warnings if one["code"] in BEWARE
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in BEWARE]
    if not is_face:
        shown["pictures"] = [_picture(case, unit)]
    shown["sizes"] = _sizes(case, unit)
    shown["units"] = units_word(unit)
    return shown


def unit_of(case: Case) -> Unit:
    """The unit the first length was typed in; tapers of the table are in inches."""
    for name in LENGTHS:
        if case.entered.get(name, "").strip():
            return shown_unit(case, name)
    return "inch" if case.inputs.get("name") else case.unit


def _facts(case: Case, unit: Unit) -> list[Fact]:
    results = case.results
    facts = []
    for label, name in (
        ("Set over the tailstock", "tailstock_set_over_mm"),
        ("Under one roller of the sine bar", "sine_bar_height_mm"),
    ):
        if results[name] is not None:
            main, other = both(results[name], unit, 4, 3)
            figure, word = main.split(" ")
            facts.append(fact(label, figure, f"{word}, {other}"))
    near = f"{fixed(results['nearest_taper_per_foot'], 5)} in to the foot"
    return [*facts, fact("Nearest by name", results["nearest_named"], near)]


def _sizes(case: Case, unit: Unit) -> SizeTable:
    """Every reading of the taper, so that none is taken for another."""
    results = case.results
    lines = [
        size_line("To the foot, on the diameter", [fixed(results["taper_per_foot"], 5)]),
        size_line("One in, on the diameter", [fixed(1 / results["rate"], 3)]),
        size_line("Half angle, compound slide", [angle_text(results["half_angle_deg"])]),
        size_line("Included angle", [angle_text(results["included_angle_deg"])]),
        size_line("A face with the whole rate, keys", [angle_text(results["face_angle_deg"])]),
    ]
    for label, name in (
        ("Large diameter", "large_diameter_mm"), ("Small diameter", "small_diameter_mm"),
        ("Length", "length_mm"),
    ):  # fmt: skip
        if results[name] is not None:
            lines.append(size_line(label, [" = ".join(both(results[name], unit, 4, 3))]))
    return {"title": "The taper", "note": units_word(unit), "columns": ["Taper"], "lines": lines}


def _picture(case: Case, unit: Unit) -> Picture:
    results = case.results
    sizes = {
        one: None if results[f"{name}_mm"] is None else float(results[f"{name}_mm"])
        for one, name in (("large", "large_diameter"), ("small", "small_diameter"), ("length", "length"))
    }
    return {
        "kind": "taper",
        "figures": {"half_angle": float(results["half_angle_deg"]), "unit": unit, **sizes},
        "strong": headline(dict(case.inputs), dict(results)),
        "text": "drawn to scale" if None not in sizes.values() else "a piece of it, its angle drawn true",
        "wide": False,
    }
