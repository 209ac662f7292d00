"""How the answer of `mass` is shown: the mass, what it may be, and the section."""

from fractions import Fraction

from calc.answers.shapes import Answer, Case, Fact, empty_answer, fact, shown_unit, units_word
from calc.catalogue.mass import MASS, weight_text
from calc.kernel.mass import HOLLOW
from calc.kernel.units import INCH
from calc.kernel.wording import exact, fixed
from calc.quantities import POUND
from calc.sheets import Picture

UNDER = "By {density} kg to the cubic metre. Holes, fillets and spokes are not counted."
#: How each material is hatched.
HATCHES = {
    "grey-iron": "ci", "malleable-iron": "ci", "steel": "st", "stainless": "st", "brass": "gm",
    "bronze": "gm", "gunmetal": "gm", "copper": "cu", "aluminium": "gm", "cast-aluminium": "gm",
    "lead": "wm", "ptfe": "nm",
}  # fmt: skip


def answer(case: Case) -> Answer:
    """The box and the section."""
    results = case.results
    kilograms = Fraction(results["mass_kg"])
    shown = empty_answer(
        MASS.title_of(dict(case.inputs), case.readings),
        f"{weight_text(kilograms)} kg",
        UNDER.format(density=fixed(results["density_kg_m3"], 0)),
        _facts(case),
    )
    shown["big_small"] = f"{weight_text(kilograms / POUND)} lb"
    shown["beware"] = [
        {"title": "Heavy", "text": one["text"]} for one in case.warnings if one["code"] == "heavy"
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] != "heavy"]
    shown["pictures"] = [_picture(case)]
    shown["units"] = units_word(shown_unit(case, "across"))
    return shown


def _facts(case: Case) -> list[Fact]:
    results = case.results
    facts = []
    low, high = results["mass_low_kg"], results["mass_high_kg"]
    if low is not None and low != high:
        pounds = " to ".join(weight_text(Fraction(end) / POUND) for end in (low, high))
        facts.append(fact("It may be", f"{weight_text(low)} to {weight_text(high)}", f"kg, {pounds} lb"))
    if case.inputs["pieces"] > 1:
        each = Fraction(results["mass_each_kg"])
        facts.append(fact("One piece", weight_text(each), f"kg, {weight_text(each / POUND)} lb"))
    cubic = exact(results["volume_cm3"]) * 1000 / INCH**3
    facts.append(fact("Volume of one piece", fixed(results["volume_cm3"], 2), f"cm³, {fixed(cubic, 3)} in³"))
    return facts


def _picture(case: Case) -> Picture:
    inputs, material = case.inputs, case.inputs["material"]
    hatch = HATCHES.get(material, "st")
    thick = None if inputs["form"] in HOLLOW or inputs["thickness"] is None else float(inputs["thickness"])
    return {
        "kind": "bar-section",
        "figures": {
            "form": inputs["form"],
            "across": float(inputs["across"]),
            "thickness": thick,
            "inside": case.results["inside_diameter_mm"],
            "metal": hatch,
            "unit": shown_unit(case, "across"),
        },
        "strong": "The section",
        "text": "drawn to scale",
        "wide": False,
        "hatches": [hatch] if material in HATCHES else [],
    }
