"""How the answer of `spindle-speed` is shown: turns a minute, and what both sources have."""

from calc.answers.shapes import Answer, Case, Fact, empty_answer, fact, size_line
from calc.catalogue.spindle_speed import subject
from calc.kernel.wording import fixed
from calc.sheets import SizeTable

FOOT = 0.3048
EXACT = "For {speed} ft/min ({metric} m/min) at the edge: {turns} turns a minute."
STEP = (
    "The highest of the machine that is not above {turns}, which {speed} ft/min ({metric} m/min) would want."
)


def answer(case: Case) -> Answer:
    """The box, with both sources where a material was taken."""
    results = case.results
    turns, step = fixed(results["spindle_speed_rpm"], 1), results["nearest_rpm"]
    feet, metric = _both(results["cutting_speed_m_min"])
    shown = empty_answer(
        subject(dict(case.inputs)),
        f"{fixed(results['spindle_speed_rpm'], 0) if step is None else step} turns a minute",
        (EXACT if step is None else STEP).format(speed=feet, metric=metric, turns=turns),
        _facts(case),
    )
    shown["sizes"] = _speeds(case)
    shown["beware"] = [{"title": "Tables of speeds differ", "text": one["text"]} for one in case.warnings]
    return shown


def _speeds(case: Case) -> SizeTable:
    """The speeds side by side: as the table or the builder has it, as run, and what the other source has."""
    results = case.results
    rows = [("Wanted", "cutting_speed_m_min", results["spindle_speed_rpm"])]
    if results["nearest_rpm"] is not None:
        rows.append(("As run", "speed_run_m_min", results["nearest_rpm"]))
    rows += [("The other source, lowest", "other_low_m_min", None)]
    rows += [("The other source, highest", "other_high_m_min", None)]
    return {
        "title": "Speed at the edge",
        "note": "",
        "columns": ["ft/min", "m/min", "turns a minute"],
        "lines": [
            size_line(label, [*_both(results[name]), "" if turns is None else fixed(turns, 0)])
            for label, name, turns in rows
            if results[name] is not None
        ],
    }


def _both(m_min: float) -> tuple[str, str]:
    """A cutting speed in feet and in metres a minute."""
    return fixed(m_min / FOOT, 0), fixed(m_min, 1)


def _facts(case: Case) -> list[Fact]:
    results = case.results
    feet, metric = _both(results["speed_run_m_min"])
    facts = [fact("At the edge, as run", feet, f"ft/min, {metric} m/min")]
    if results["time_min"] is not None:
        facts.append(fact("One cut", fixed(results["time_min"], 2), "minutes"))
    if results["other_low_m_min"] is not None:
        low, high = (_both(results[f"other_{end}_m_min"])[0] for end in ("low", "high"))
        facts.append(fact("The other source", f"{low}–{high}", "ft/min, by the operation"))
    return facts
