"""How the answer of `spindle-speed` is shown: turns a minute, and what both sources have."""

from calc.answers.shapes import Answer, Case, Fact, empty_answer, fact
from calc.catalogue.spindle_speed import subject
from calc.kernel.wording import fixed

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
    shown["beware"] = [{"title": "Tables of speeds differ", "text": one["text"]} for one in case.warnings]
    return shown


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
