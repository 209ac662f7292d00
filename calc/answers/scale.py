"""How the answer of `scale` is shown: the model size, and what each way of rounding it to stock costs."""

from fractions import Fraction

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
from calc.catalogue.scale import SCALE
from calc.kernel.units import INCH, in_or_mm
from calc.kernel.wording import exact, fixed
from calc.quantities import POUND
from calc.scale_entries import foot_text, ratio_text
from calc.sheets import Picture, SizeTable

BEWARE = {
    "gauge": "Which gauge",
    "beyond-list": "No stock so large",
    "does-not-scale": "What does not scale",
}
ON_RULE = "On a rule {fraction} in, the nearest 64th: {error} thou {way}."
EXACTLY = "On a rule {fraction} in, exactly."
TONS = (
    "A ton here is of 2,240 lb: the model has {tons} of one, {pounds} lb. Were tons of 2,000 lb meant, it "
    "would come to {short} lb: write short ton."
)


def answer(case: Case) -> Answer:
    """The box, the stock either way, the picture."""
    results, unit = case.results, shown_unit(case, "full_size")
    main, other = both(exact(results["model_size_mm"]), unit, 4, 3)
    shown = empty_answer(SCALE.title_of(dict(case.inputs), case.readings), main, _under(case), _facts(case))
    shown["big_small"] = other
    shown["beware"] = [
        {"title": BEWARE[one["code"]], "text": one["text"]} for one in case.warnings if one["code"] in BEWARE
    ]
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in BEWARE]
    if " of 2,240 lb" in case.readings.get("full_mass", ""):
        shown["beware"].append({"title": "Which ton", "text": _tons(results["model_mass_kg"])})
    if results["stock"] or results["nearest_stock"]:
        shown["sizes"] = _sizes(case)
        shown["pictures"] = [_picture(case)]
    shown["units"] = units_word(unit)
    return shown


def _under(case: Case) -> str:
    """The size as it stands on a rule, and how far off that is."""
    thou = exact(case.results["fraction_error_mm"]) / INCH * 1000
    if not thou:
        return EXACTLY.format(fraction=case.results["fraction"])
    return ON_RULE.format(
        fraction=case.results["fraction"], error=fixed(abs(thou), 1), way="over" if thou > 0 else "under"
    )


def _facts(case: Case) -> list[Fact]:
    results, scale = case.results, exact(case.inputs["scale"])
    facts = [fact("Scale", ratio_text(scale), f"{foot_text(scale)} in to the foot")]
    if results["stock"]:
        facts.append(fact("Stock not below", results["stock"], _cost(case, "stock")))
    if results["nearest_stock"]:
        facts.append(fact("Nearest either way", results["nearest_stock"], _cost(case, "nearest_stock")))
    if results["model_mass_kg"] is not None:
        pounds = Fraction(results["model_mass_kg"]) / POUND
        small = f"lb, {fixed(results['model_mass_kg'], 2)} kg"
        facts.append(fact("Mass of the model", fixed(pounds, 2), small))
    return facts


def _cost(case: Case, name: str) -> str:
    """What a stock is off by: ``+20.8 thou``; the per cent stands in the table."""
    return f"{_thou(case, name)} thou"


def _thou(case: Case, name: str) -> str:
    return _signed(exact(case.results[f"{name}_error_mm"]) / INCH * 1000, 1)


def _signed(value: Fraction | float, places: int) -> str:
    text = fixed(value, places)
    return text if text.startswith("−") or not Fraction(text) else f"+{text}"


def _tons(model_kg: float) -> str:
    pounds = Fraction(model_kg) / POUND
    return TONS.format(
        tons=fixed(pounds / 2240, 4), pounds=fixed(pounds, 2), short=fixed(pounds * 2000 / 2240, 2)
    )


def _sizes(case: Case) -> SizeTable:
    """Both ways of rounding side by side: size, error, the full size it stands for."""
    results = case.results
    names = [name for name in ("stock", "nearest_stock") if results[name]]
    words = {"stock": "Not below", "nearest_stock": "Nearest"}
    wanted = exact(results["size_with_allowance_mm"])
    lines = [
        size_line("Stock", [results[name] for name in names]),
        size_line("Its size, in", [in_or_mm(exact(results[f"{name}_mm"]), "inch", 4) for name in names]),
        size_line("Its size, mm", [in_or_mm(exact(results[f"{name}_mm"]), "mm", 3) for name in names]),
        size_line("Less the model size, thou", [_thou(case, name) for name in names]),
        size_line("In per cent", [_signed(results[f"{name}_error_percent"], 2) for name in names]),
        size_line("Stands for full size, in", [
            in_or_mm(exact(results[f"{name}_full_size_mm"]), "inch", 3) for name in names
        ]),
    ]  # fmt: skip
    if case.inputs["allowance"] and results["stock"]:
        rest = [""] * (len(names) - 1)
        lines += [
            size_line("Wanted with the allowance, in", [in_or_mm(wanted, "inch", 4), *rest]),
            size_line("Wanted with the allowance, mm", [in_or_mm(wanted, "mm", 3), *rest]),
        ]
    return {"title": "Stock", "note": "", "columns": [words[name] for name in names], "lines": lines}


def _picture(case: Case) -> Picture:
    results = case.results
    name = "stock" if results["stock"] else "nearest_stock"
    return {
        "kind": "stock-size",
        "figures": {
            "model": float(results["model_size_mm"]),
            "stock": float(results[f"{name}_mm"]),
            "form": case.inputs["form"],
            "unit": shown_unit(case, "full_size"),
        },
        "strong": f"{results[name]} about the size at its scale" if name == "stock" else results[name],
        "text": "drawn to scale",
        "wide": False,
    }
