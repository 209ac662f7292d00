"""How the answer of `press-fit` is shown: the pressure, the stress it makes, what it holds, the heat."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.answers.shapes import Answer, Beware, Case, Fact, both, empty_answer, fact, shown_unit, units_word
from calc.kernel.press_fit_cautions import PSI_IN_MPA
from calc.kernel.wording import exact, fixed
from calc.sheets import Picture

#: Newtons in a pound of force, and newton metres in a pound of force at a foot, exactly.
POUND = Fraction("4.4482216152605")
POUND_FOOT = POUND * Fraction("0.3048")
HATCHES = {
    "grey iron": "ci",
    "steel": "st",
    "bronze": "gm",
    "gunmetal": "gm",
    "brass": "gm",
    "aluminium": "gm",
}
TITLES = {"hub-strength": "The hub may split", "heat": "Heat and force"}


def answer(case: Case) -> Answer:
    """The box and the picture of one press fit."""
    results = case.results
    given, unit = case.readings, shown_unit(case, "interface")
    size = (
        given.get("interface", "").partition(" = ")[0] or both(exact(case.inputs["interface"]), unit, 4, 3)[0]
    )
    box = empty_answer(
        f"{case.inputs['shaft_material'].capitalize()} of {size} in {case.inputs['hub_material']}: pressure",
        f"{fixed(results['pressure_mpa'], 1)} MPa",
        "By Lamé’s formula for thick cylinders, within the elastic limit, ends and keyways left out.",
        _facts(results),
    )
    box["big_small"] = f"{fixed(Fraction(results['pressure_mpa']) / PSI_IN_MPA, 0)} psi"
    box["beware"] = _beware(case)
    box["notes"] = [one["text"] for one in case.warnings if one["code"] not in TITLES]
    box["pictures"] = [_picture(case)]
    box["units"] = units_word(unit)
    return box


def _facts(results: Mapping[str, Any]) -> list[Fact]:
    hoop = Fraction(results["hub_hoop_mpa"])
    rise = Fraction(results["temperature_rise_c"])
    facts = [
        fact(
            "Hoop stress at the hub’s bore",
            fixed(hoop, 1),
            f"MPa, {fixed(hoop / PSI_IN_MPA / 1000, 2)} ksi",
        ),
        fact("Hub warmer than the shaft by", fixed(rise, 0), f"°C, {fixed(rise * Fraction(9, 5), 0)} °F"),
    ]
    if results["axial_force_n"] is not None:
        force, torque = Fraction(results["axial_force_n"]), Fraction(results["torque_nm"])
        facts += [
            fact("Axial force it holds", fixed(force / 1000, 2), f"kN, {fixed(force / POUND, 0)} lbf"),
            fact("Torque it holds", fixed(torque, 1), f"N m, {fixed(torque / POUND_FOOT, 1)} lbf ft"),
        ]
    return facts


def _beware(case: Case) -> list[Beware]:
    return [
        {"title": TITLES[one["code"]], "text": one["text"]} for one in case.warnings if one["code"] in TITLES
    ]


def _picture(case: Case) -> Picture:
    inputs, unit = case.inputs, shown_unit(case, "interface")
    bore = inputs["shaft_bore"]
    hub, shaft = (HATCHES[inputs[f"{side}_material"]] for side in ("hub", "shaft"))
    sizes = {
        name: case.readings.get(name, "").partition(" = ")[0] or both(exact(inputs[name]), unit, 4, 3)[0]
        for name in ("interface", "hub_outside", "shaft_bore")
        if inputs[name] is not None
    }
    return {
        "kind": "press-fit",
        "figures": {
            "interface": float(inputs["interface"]),
            "outside": float(inputs["hub_outside"]),
            "bore": float(bore) if bore is not None else 0.0,
            "hub": hub,
            "shaft": shaft,
            "words": [sizes["hub_outside"], sizes["interface"], sizes.get("shaft_bore", "")],
            "pressure": f"{fixed(case.results['pressure_mpa'], 1)} MPa",
        },
        "strong": "Hub and shaft in section",
        "text": "with the pressure where they meet; drawn to scale, the interference too small to show",
        "wide": False,
        "hatches": list(dict.fromkeys((hub, shaft))),
    }
