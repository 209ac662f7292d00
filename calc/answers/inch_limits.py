"""How a fit of limits in thousandths of an inch is shown: the shaft's limits, the play, sizes, zones."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from calc.answers.shapes import (
    WHY,
    Answer,
    Case,
    Fact,
    empty_answer,
    fact,
    other_unit,
    shown_unit,
    size_line,
    unit_word,
    units_word,
)
from calc.kernel.inch_limits import MIL
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact, fixed
from calc.sheets import Picture, SizeTable

MM_PLACES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What differs from one table of fits to another."""

    over: str  # "RC4 on 1 in"
    under: str  # whose limits they are
    hole: str  # over the column of the hole
    shaft: str
    is_hole_given: bool  # whether the hole has limits of its own


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """The case with its unit and the places of an inch that tell every limit."""

    case: Case
    unit: Unit
    places: int

    def size(self, mm: Any, unit: Unit) -> str:
        return in_or_mm(exact(mm), unit, self.places if unit == "inch" else MM_PLACES)

    def span(self, low: Any, high: Any, unit: Unit) -> str:
        return f"{self.size(low, unit)} to {self.size(high, unit)}"

    def limits(self, side: str, unit: Unit) -> str:
        return self.span(self.case.results[f"{side}_lower_mm"], self.case.results[f"{side}_upper_mm"], unit)


def thou(um: Any) -> Fraction:
    """A deviation of the results in thousandths of an inch again."""
    return (exact(um) / MIL).limit_denominator(10**4)


def nominal_text(case: Case) -> str:
    """The nominal size as it was typed, with its unit."""
    typed = case.readings.get("nominal", "").partition(" = ")[0]
    return typed or f"{in_or_mm(exact(case.inputs['nominal']), 'inch', 4)} in"


def answer_of(case: Case, words: Words) -> Answer:
    """The box, the picture and the sizes of one fit."""
    shown = _shown(case)
    unit, other = shown.unit, other_unit(shown.unit)
    box = empty_answer(
        f"{words.over}: shaft to be turned between",
        f"Shaft {shown.limits('shaft', unit)} {unit_word(unit)}",
        words.under,
        _facts(shown, words),
    )
    box["big_small"] = f"{shown.limits('shaft', other)} {unit_word(other)}"
    box["notes"] = [one["text"] for one in case.warnings]
    box["pictures"] = [_picture(case, words)]
    box["sizes"] = _sizes(shown, words)
    box["units"] = units_word(unit)
    box["why"] = WHY
    return box


def _shown(case: Case) -> _Shown:
    ends = [thou(case.results[f"{side}_{end}_um"]) for side in ("hole", "shaft") for end in ("es", "ei")]
    is_whole = all((end * 10).denominator == 1 for end in ends)
    return _Shown(case=case, unit=shown_unit(case, "nominal"), places=4 if is_whole else 5)


def _facts(shown: _Shown, words: Words) -> list[Fact]:
    results, unit, short = shown.case.results, shown.unit, unit_word(shown.unit)
    most, least = (exact(results[f"clearance_{which}_mm"]) for which in ("max", "min"))
    hole = shown.limits("hole", unit) if words.is_hole_given else shown.size(results["hole_lower_mm"], unit)
    facts = [fact(f"Hole, {words.hole}", hole, short)]
    if least >= 0:
        facts.append(fact("Clearance", shown.span(least, most, unit), short))
    elif most <= 0:
        facts.append(fact("Interference", shown.span(-most, -least, unit), short))
    else:
        facts.append(fact("Greatest clearance", shown.size(most, unit), short))
        facts.append(fact("Greatest interference", shown.size(-least, unit), short))
    return [*facts, fact("Kind", str(results["kind"]), "fit")]


def _sizes(shown: _Shown, words: Words) -> SizeTable:
    """Limits in the unit typed, the same converted, then the thousandths of the table."""
    units: tuple[Unit, Unit] = (shown.unit, other_unit(shown.unit))
    lines = [
        size_line(
            f"{end.capitalize()} limit, {unit_word(unit)}",
            [shown.size(shown.case.results[f"{side}_{end}_mm"], unit) for side in ("hole", "shaft")],
            finished=unit == shown.unit,
        )
        for unit in units
        for end in ("upper", "lower")
    ]
    lines += [
        size_line(
            f"{label}, thou",
            [_thou_text(shown.case.results[f"{side}_{end}_um"]) for side in ("hole", "shaft")],
        )
        for label, end in (("Upper, from nominal", "es"), ("Lower, from nominal", "ei"))
    ]
    return {
        "title": "Sizes",
        "note": " and ".join(units_word(unit) for unit in units),
        "columns": [f"Hole {words.hole}", f"Shaft {words.shaft}"],
        "lines": lines,
    }


def _thou_text(um: Any) -> str:
    value = thou(um)
    return fixed(value, 1 if (value * 10).denominator == 1 else 2)


def _picture(case: Case, words: Words) -> Picture:
    """The zones to scale, from the nominal size, in thousandths of an inch."""
    figures: dict[str, Any] = {"nominal": nominal_text(case), "unit": "thou"}
    for side, named in (("hole", words.hole), ("shaft", words.shaft)):
        figures[side] = named
        figures[f"{side}_um"] = [float(thou(case.results[f"{side}_{end}_um"])) for end in ("es", "ei")]
    return {
        "kind": "fit-zones",
        "figures": figures,
        "strong": f"Tolerance zones of {words.hole} and {words.shaft}"
        if words.hole != words.shaft
        else f"Tolerance zones of {words.shaft}",
        "text": "from the nominal size; drawn to scale",
        "wide": True,
    }
