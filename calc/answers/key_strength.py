"""How the answer of `key-strength` is shown: the length wanted, the stresses, what was taken."""

from typing import Any

from calc.answers.shapes import Answer, Case, both, empty_answer, fact, rounded
from calc.catalogue.key_strength import key_text, key_unit, subject
from calc.catalogue.keyway import as_exact
from calc.quantities import STRESS, TORQUE
from calc.sheets import SizeLine, SizeTable

UNDER = "The greater of the lengths for shear and for crushing; rounded ends are not counted."
TOO_GREAT = {"shear-too-great": "Too much in shear", "crushing-too-great": "Too much in crushing"}


def answer(case: Case) -> Answer:
    """The box, and every length and stress in both units."""
    results = case.results
    unit = "mm" if key_unit(case.inputs) == 1 else "inch"
    big, small = both(as_exact(results["length_wanted_mm"]), "mm" if unit == "mm" else "inch", 3, 1)
    shown = empty_answer(
        subject(dict(case.inputs)),
        big,
        UNDER,
        [
            fact("Key", key_text(case.inputs)),
            fact("Torque", *_torque(results["torque_nm"])),
            fact("Force at the shaft’s surface", rounded(as_exact(results["force_n"]), 0), "N"),
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
    exact = as_exact(newton_metres)
    return f"{rounded(exact, 1)} N m", f"{rounded(exact / TORQUE.worth['lbf ft'], 1)} lbf ft"


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
        (label, as_exact(results[name]))
        for label, name in (
            ("Shear over the length entered", "shear_mpa"),
            ("Crushing over it", "crushing_mpa"),
        )
        if results[name] is not None
    ] + [
        ("Shear allowed", as_exact(case.inputs["allowable_shear"])),
        ("Crushing allowed", as_exact(case.inputs["allowable_crushing"])),
    ]
    lines = [_line(label, *both(as_exact(results[name]), "mm", 3, 1)) for label, name in lengths]
    lines += [
        _line(label, f"{rounded(mpa, 1)} MPa", f"{rounded(mpa / STRESS.worth['psi'], 0)} psi")
        for label, mpa in stresses
    ]
    return {
        "title": "Lengths and stresses",
        "note": "both ways",
        "columns": ["metric", "inch"],
        "lines": lines,
    }


def _line(label: str, *cells: str) -> SizeLine:
    return {"label": label, "cells": list(cells), "finished": False}
