"""How the answer of `milling-lead` is shown: the train, the lead and the angle it gives, the other trains."""

from calc.answers.change_wheels import put_cautions, train_picture, trains_table
from calc.answers.shapes import Answer, Case, Fact, Table, both, empty_answer, fact, shown_unit, units_word
from calc.catalogue.milling_lead import headline, subject
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import dms_text, exact_float, fixed

BEWARE = {
    "no-exact": "No train is exact",
    "lead-out": "The lead is out",
    "hand": "Try the hand first",
    "table-angle": "Swivel to the helix angle",
}
UNDER = "The first of the drivers on the table’s screw, the last of the driven on the {last}."


def answer(case: Case) -> Answer:
    """The box and the picture."""
    results, unit = case.results, shown_unit(case, "lead")
    best = (results["exact_trains"] or results["nearest_trains"])[0]
    last = str(case.inputs["drive"])
    shown = empty_answer(
        subject(dict(case.inputs)), headline(dict(case.inputs), dict(results)), UNDER.format(last=last)
    )
    shown["facts"] = _facts(case, unit)
    put_cautions(shown, case, BEWARE)
    shown["pictures"] = [train_picture(best, "table’s screw", last)]
    shown["units"] = units_word(unit)
    return shown


def _facts(case: Case, unit: Unit) -> list[Fact]:
    results = case.results
    best = (results["exact_trains"] or results["nearest_trains"])[0]
    facts = []
    for label, mm in (("Lead it gives", best["lead_mm"]), ("Gears one to one", results["machine_lead_mm"])):
        main, other = both(mm, unit, 4, 3)
        figure, word = main.split(" ")
        facts.append(fact(label, figure, f"{word}, {other}"))
    if best["helix_angle_deg"] is not None:
        out = f"; the train’s is {fixed(best['helix_error_arcsec'], 1)}″ out" if best["lead_error_mm"] else ""
        angle = exact_float(results["helix_angle_deg"])
        facts.append(fact("Swivel the table to", dms_text(angle, 0), f"the helix angle{out}"))
    return facts


def tables(case: Case) -> list[Table]:
    """The trains, exact or nearest."""
    unit = shown_unit(case, "lead")
    places = 4 if unit == "inch" else 3
    word = "in" if unit == "inch" else "mm"
    heads = ("Train", f"#Lead, {word}", f"#Out, {word}", "#Out, %", "#Angle out, ″", "Clears")
    return [
        trains_table(
            case.results, heads,
            lambda row: [
                in_or_mm(row["lead_mm"], unit, places), in_or_mm(row["lead_error_mm"], unit, places),
                fixed(row["error_percent"], 4),
                "—" if row["helix_error_arcsec"] is None else fixed(row["helix_error_arcsec"], 1),
            ],
        )
    ]  # fmt: skip
