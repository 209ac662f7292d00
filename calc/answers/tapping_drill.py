"""How the answer of `tapping-drill` is shown: the drill nearest to the hole, or what one leaves."""

from calc.answers.shapes import Answer, Case, Fact, Table, both, empty_answer, fact
from calc.answers.thread import BEWARE, beware
from calc.answers.thread_words import (
    base_words,
    drill_table,
    drill_words,
    over_words,
    picture,
    size_fact,
    sizes,
    thread_of,
    unit_of,
)
from calc.catalogue.thread import percent_text
from calc.kernel.threads import Thread
from calc.kernel.wording import exact


def answer(case: Case) -> Answer:
    """The box, the picture and the sizes."""
    thread = thread_of(case.inputs)
    shown = _of_drill(thread, case) if case.inputs.get("drill") else _of_hole(thread, case)
    shown["beware"] = beware(case)
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] not in BEWARE]
    shown["sizes"] = sizes(thread)
    shown["units"] = "inches" if unit_of(thread) == "inch" else "millimetres"
    return shown


def _of_drill(thread: Thread, case: Case) -> Answer:
    """What the drill in hand leaves."""
    name, results = case.inputs["drill"], case.results
    shown = empty_answer(
        f"{over_words(thread)}: the drill in hand",
        f"Drill {name} leaves {percent_text(results['engagement_percent'])}",
        f"It leaves {base_words(results)}.",
        _facts(thread, case),
    )
    shown["big_small"] = drill_words(name, results["drill_exact_mm"])[1]
    shown["pictures"] = [picture(thread, name, results["drill_exact_mm"], results["engagement_percent"])]
    return shown


def _of_hole(thread: Thread, case: Case) -> Answer:
    """The drill nearest to the hole wanted."""
    results = case.results
    rows = [*results["smaller_drills"], *results["larger_drills"]]
    near = next(row for row in rows if row["drill"] == results["nearest_drill"])
    name, size = drill_words(near["drill"], near["drill_mm"])
    exactly, other = both(exact(results["drill_exact_mm"]), unit_of(thread), 4, 3)
    shown = empty_answer(
        f"{over_words(thread)}: drill nearest to the hole",
        f"Drill {name}",
        f"The hole for {base_words(results)}, is {exactly} ({other}).",
        _facts(thread, case),
    )
    shown["big_small"] = f"{size}; leaves {percent_text(near['engagement_percent'])}"
    shown["pictures"] = [picture(thread, name, near["drill_mm"], near["engagement_percent"])]
    return shown


def _facts(thread: Thread, case: Case) -> list[Fact]:
    unit = unit_of(thread)
    results = case.results
    facts = [
        size_fact("Exact hole", results["drill_exact_mm"], unit),
        size_fact("Core, never below", results["minor_diameter_mm"], unit),
    ]
    # The box names one drill already, the one in hand or the nearest; its neighbours stand beside it.
    named = case.inputs.get("drill") or results["nearest_drill"]
    for label, side in (("Next smaller", "smaller_drills"), ("Next larger", "larger_drills")):
        other = [row for row in results[side] if row["drill"] != named]
        if other:
            facts.append(
                fact(label, other[0]["drill"], f"leaves {percent_text(other[0]['engagement_percent'])}")
            )
    listed = results["listed_drills"][:1]
    return facts + [
        fact("A table gives", row["drill"], f"leaves {percent_text(row['engagement_percent'])}")
        for row in listed
    ]


def tables(case: Case) -> list[Table]:
    """The drills beside the hole, and what tables give."""
    results = case.results
    rows = [*reversed(results["smaller_drills"]), *results["larger_drills"]]
    note = f"On {results['engagement_base']} pitches. None below the core is offered."
    found = [drill_table("beside", "Drills beside the hole", note, rows)]
    if results["listed_drills"]:
        note = "On the form’s own base, whatever base is asked for."
        found.append(drill_table("listed", "What tables give", note, results["listed_drills"]))
    return found
