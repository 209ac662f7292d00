"""How the answer of `key-strength` is shown: the length wanted, the stresses, what was taken."""

from typing import Any

from calc.answers.shapes import Answer, Case, both, empty_answer, fact, size_line
from calc.catalogue.key_strength import key_text, key_unit, subject
from calc.kernel.wording import exact, fixed
from calc.quantities import STRESS, TORQUE
from calc.sheets import SizeTable

UNDER = "The greater of the lengths for shear and for crushing; rounded ends are not counted."
TOO_GREAT = {"shear-too-great": "Too much in shear", "crushing-too-great": "Too much in crushing"}


def answer(case: Case) -> Answer:
    """The box, and every length and stress in both units."""
    results = case.results
    unit = "mm" if key_unit(case.inputs) == 1 else "inch"
    big, small = both(exact(results["length_wanted_mm"]), "mm" if unit == "mm" else "inch", 3, 1)
    shown = empty_answer(
        subject(dict(case.inputs)),
        big,
        UNDER,
        [
            fact("Key", key_text(case.inputs)),
            fact("Torque", *_torque(results["torque_nm"])),
            fact("Force at the shaft’s surface", fixed(exact(results["force_n"]), 0), "N"),
        ],
    )
    shown["big_small"] = small
    shown["beware"] = [
        {"title": TOO_GREAT[one["code"]], "text": one["text"]}
        for one in case.warnings
        if one["code"] in TOO_GREAT
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in TOO_GREAT]
    shown["sizes"] = _sizes(case)
    shown["units"] = "inches" if unit == "inch" else "millimetres"
    return shown


def _torque(newton_metres: Any) -> tuple[str, str]:
    torque = exact(newton_metres)
    return f"{fixed(torque, 1)} N m", f"{fixed(torque / TORQUE.worth['lbf ft'], 1)} lbf ft"


def _sizes(case: Case) -> SizeTable:
    """Lengths in both units, stresses against what is allowed."""
    results = case.results
    lengths = (
        ("Length for shear", "length_for_shear_mm"),
        ("Length for crushing", "length_for_crushing_mm"),
        ("Key and shaft shear together at", "length_as_shaft_mm"),
        ("Shear and crushing alike at height", "equal_height_mm"),
    )
    stresses = [
        (label, exact(results[name]))
        for label, name in (
            ("Shear over the length entered", "shear_mpa"),
            ("Crushing over it", "crushing_mpa"),
        )
        if results[name] is not None
    ] + [
        ("Shear allowed", exact(case.inputs["allowable_shear"])),
        ("Crushing allowed", exact(case.inputs["allowable_crushing"])),
    ]
    lines = [size_line(label, both(exact(results[name]), "mm", 3, 1)) for label, name in lengths]
    lines += [
        size_line(label, [f"{fixed(mpa, 1)} MPa", f"{fixed(mpa / STRESS.worth['psi'], 0)} psi"])
        for label, mpa in stresses
    ]
    return {
        "title": "Lengths and stresses",
        "note": "both ways",
        "columns": ["metric", "inch"],
        "lines": lines,
    }
