"""How the answer of `fit` is shown: the limits of what is to be made, the play, the sizes, the zones."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from string import ascii_letters
from typing import Any

from calc import measures
from calc.answers.shapes import (
    WHY,
    Answer,
    Beware,
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
from calc.kernel.fit_jobs import symbols
from calc.kernel.fit_suit import OTHER
from calc.kernel.fit_words import figure_text, micrometres, size_text
from calc.kernel.tables import read_table
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact
from calc.kernel.working import Outcome, Step
from calc.sheets import Picture, SizeLine, SizeTable

SIDES = ("hole", "shaft")
VERBS = {"hole": "to be bored", "shaft": "to be turned"}
BY_INCHES = "the inch is 25.4 mm exactly, by definition"
#: The entries that are lengths, as a line of working names them.
LENGTHS = {"nominal": "Nominal", "hole_measured": "Hole as measured", "shaft_measured": "Shaft as measured"}
TABLES = "ISO 286-1, tables of standard tolerance grades and of fundamental deviations"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """The case with its unit and the places its sizes are shown to."""

    case: Case
    unit: Unit
    inch_places: int
    mm_places: int

    @property
    def results(self) -> Mapping[str, Any]:
        return self.case.results

    def size(self, mm: Fraction | float, unit: Unit) -> str:
        """A bare figure in a unit, to the places of the case."""
        return in_or_mm(exact(mm), unit, self.inch_places if unit == "inch" else self.mm_places)

    def span(self, low: Fraction | float, high: Fraction | float, unit: Unit) -> str:
        """Two bare figures: ``40.026 to 40.042``."""
        return f"{self.size(low, unit)} to {self.size(high, unit)}"

    def limits(self, side: str, unit: Unit) -> str:
        """The limits of a side."""
        return self.span(self.results[f"{side}_lower_mm"], self.results[f"{side}_upper_mm"], unit)

    def symbol(self, side: str) -> str:
        """The symbol as entered; empty for a side that was not."""
        return _symbols(self.case)[side]

    @property
    def named(self) -> str:
        """``H7/p6`` or one of them."""
        return "/".join(self.symbol(side) for side in SIDES if self.symbol(side))

    @property
    def sides(self) -> list[str]:
        """The sides that were asked for."""
        return [side for side in SIDES if self.symbol(side)]


def _symbols(case: Case) -> dict[str, str]:
    """The symbols by side, as entered or those of the job."""
    found = symbols(*(case.inputs.get(name) for name in ("job", *SIDES)))
    return dict(zip(SIDES, found, strict=True))


def answer(case: Case) -> Answer:
    """The box, the picture and the sizes of one fit."""
    shown = _shown(case)
    side, other = made_side(case), other_unit(shown.unit)
    box = empty_answer(
        _over(shown, side),
        f"{side.capitalize()} {shown.limits(side, shown.unit)} {unit_word(shown.unit)}",
        _under(shown),
        _facts(shown, side),
    )
    box["big_small"] = f"{shown.limits(side, other)} {unit_word(other)}"
    box["beware"] = _beware(case)
    box["notes"] = [one["text"] for one in case.warnings if not _is_of_measured(one)]
    box["pictures"] = [_picture(shown)]
    box["sizes"] = _sizes(shown)
    box["units"] = units_word(shown.unit)
    box["why"] = WHY
    return box


def made_side(case: Case) -> str:
    """The side that is to be worked to size: the shaft as a rule, the hole where the shaft is stock."""
    if case.results["to_suit"]:
        return str(case.results["to_suit"])
    hole, shaft = _symbols(case).values()
    if not shaft or (hole and shaft.startswith("h") and not hole.startswith("H")):
        return "hole"
    return "shaft"


def _shown(case: Case) -> _Shown:
    """The unit the nominal was typed in, and as few places as tell every limit and the play apart."""
    results = case.results
    pairs = [
        [exact(results[f"{side}_{which}_mm"]) for which in ("lower", "upper")]
        for side in SIDES
        if results[f"{side}_upper_mm"] is not None
    ]
    plays = [exact(results[f"clearance_{which}_mm"]) for which in ("max", "min") if results["kind"]]
    every = [size for pair in pairs for size in pair] + plays
    return _Shown(
        case=case,
        unit=shown_unit(case, "nominal"),
        inch_places=next((places for places in (4, 5) if _told_apart(pairs, plays, places)), 6),
        mm_places=3 if all((one * 1000).denominator == 1 for one in every) else 4,
    )


def _told_apart(pairs: list[list[Fraction]], plays: list[Fraction], places: int) -> bool:
    """Whether so many places of an inch tell two limits apart, and any play from none at all."""

    def shown(mm: Fraction) -> str:
        return in_or_mm(mm, "inch", places)

    none = shown(Fraction(0))
    return all(shown(low) != shown(high) for low, high in pairs) and all(
        shown(abs(play)) != none for play in plays if play
    )


def _nominal(shown: _Shown) -> str:
    """The nominal size as it was typed, with its unit."""
    typed = shown.case.readings.get("nominal", "").partition(" = ")[0]
    return typed or f"{shown.size(shown.case.inputs['nominal'], shown.unit)} {unit_word(shown.unit)}"


def _over(shown: _Shown, side: str) -> str:
    """What is to be made, and of which fit."""
    case = shown.case
    fit = f"{shown.named} on {_nominal(shown)}"
    if case.results["to_suit"]:
        return f"{fit}: {side} {VERBS[side]} to suit the {OTHER[side]} as measured, between"
    return f"{fit}: {side} {VERBS[side]} between"


def _under(shown: _Shown) -> str:
    """What kind of fit it is, and whose limits they are."""
    hole, shaft = (shown.symbol(side) for side in SIDES)
    words = next(
        (row["words"] for row in read_table("iso286", "preferred").rows
         if (row["hole"], row["shaft"]) == (hole, shaft)), "",
    )  # fmt: skip
    said = f"A preferred fit: {words}. " if words else ""
    return f"{said}Limits by {TABLES}."


def _facts(shown: _Shown, side: str) -> list[Fact]:
    """The other side, the play between them, the kind of fit; of one side alone its tolerance."""
    results, unit, short = shown.results, shown.unit, unit_word(shown.unit)
    other = OTHER[side]
    if not shown.symbol(other):
        grade = shown.symbol(side).lstrip(ascii_letters + " ")
        return [fact("Tolerance", micrometres(exact(results[f"{side}_tolerance_um"])), f"µm, IT{grade}")]
    facts = [fact(f"{other.capitalize()}, {shown.symbol(other)}", shown.limits(other, unit), short)]
    if results["to_suit"]:
        measured = shown.case.inputs[f"{other}_measured"]
        facts.insert(0, fact(f"{other.capitalize()} as measured", shown.size(measured, unit), short))
    return [*facts, *_play_facts(shown), fact("Kind", str(results["kind"]), "fit")]


def _play_facts(shown: _Shown) -> list[Fact]:
    """Clearance, interference, or the most of each; never a figure below nought."""
    most, least = (exact(shown.results[f"clearance_{which}_mm"]) for which in ("max", "min"))
    unit, short = shown.unit, unit_word(shown.unit)
    if least >= 0:
        return [fact("Clearance", shown.span(least, most, unit), short)]
    if most <= 0:
        return [fact("Interference", shown.span(-most, -least, unit), short)]
    return [
        fact("Greatest clearance", shown.size(most, unit), short),
        fact("Greatest interference", shown.size(-least, unit), short),
    ]


def _is_of_measured(warning: Mapping[str, str]) -> bool:
    return warning["code"] in {f"{side}-{end}" for side in SIDES for end in ("over", "under")}


def _beware(case: Case) -> list[Beware]:
    """The side already made is not what its symbol says."""
    return [
        {
            "title": f"The {one['code'].partition('-')[0]} as measured is outside its limits",
            "text": one["text"],
        }
        for one in case.warnings
        if _is_of_measured(one)
    ]


# ---- the table of sizes ------------------------------------------------------------------------------------


def _sizes(shown: _Shown) -> SizeTable:
    """Limits in the unit typed, the same converted, then tolerance and deviations."""
    units: list[Unit] = [shown.unit, other_unit(shown.unit)]
    lines = [line for unit in units for line in _limit_lines(shown, unit, is_first=unit == shown.unit)]
    for label, name in (
        ("Tolerance, µm", "tolerance_um"),
        ("Upper deviation, µm", "es_um"),
        ("Lower deviation, µm", "ei_um"),
    ):
        cells = [micrometres(exact(shown.results[f"{side}_{name}"])) for side in shown.sides]
        lines.append(size_line(label, cells))
    return {
        "title": "Sizes",
        "note": " and ".join(units_word(unit) for unit in units),
        "columns": [f"{side.capitalize()} {shown.symbol(side)}" for side in shown.sides],
        "lines": lines,
    }


def _limit_lines(shown: _Shown, unit: Unit, *, is_first: bool) -> list[SizeLine]:
    """Upper and lower limit in one unit; beside a measured side, what suits it and what the symbols say."""
    short, to_suit = unit_word(unit), shown.results["to_suit"]
    if not to_suit:
        return [
            size_line(
                f"{which.capitalize()} limit, {short}",
                [shown.size(shown.results[f"{side}_{which}_mm"], unit) for side in shown.sides],
                finished=is_first,
            )
            for which in ("upper", "lower")
        ]
    measured = shown.size(shown.case.inputs[f"{OTHER[to_suit]}_measured"], unit)
    lines = [size_line(f"As measured, {short}", ["" if side == to_suit else measured for side in SIDES])]
    lines += [
        size_line(
            f"To suit, {which} limit, {short}",
            [
                shown.size(shown.results[f"{side}_{which}_mm"], unit) if side == to_suit else ""
                for side in SIDES
            ],
            finished=is_first,
        )
        for which in ("upper", "lower")
    ]
    if not is_first:
        return lines
    return lines + [
        size_line(
            f"By symbol, {which}, {short}",
            [shown.size(_standard(shown, side, which), unit) for side in SIDES],
        )
        for which in ("upper", "lower")
    ]


def _standard(shown: _Shown, side: str, which: str) -> Fraction:
    """A limit as the symbol has it, from the nominal."""
    deviation = "es" if which == "upper" else "ei"
    return exact(shown.case.inputs["nominal"]) + exact(shown.results[f"{side}_{deviation}_um"]) / 1000


# ---- the picture -------------------------------------------------------------------------------------------


def _picture(shown: _Shown) -> Picture:
    """The zones to scale, from the nominal size."""
    case, nominal = shown.case, exact(shown.case.inputs["nominal"])
    figures: dict[str, Any] = {"nominal": _nominal(shown)}
    for side in shown.sides:
        ends = (exact(case.results[f"{side}_{which}_mm"]) for which in ("upper", "lower"))
        figures[side] = shown.symbol(side)
        figures[f"{side}_um"] = [_um(end - nominal) for end in ends]
    if case.results["to_suit"]:
        measured = OTHER[case.results["to_suit"]]
        size = exact(case.inputs[f"{measured}_measured"])
        figures |= {"measured": measured, "measured_um": _um(size - nominal)}
    many = len(shown.sides) > 1
    moved = case.results["to_suit"]
    return {
        "kind": "fit-zones",
        "figures": figures,
        "strong": f"Tolerance zone{'s' if many else ''} of {' and '.join(map(shown.symbol, shown.sides))}",
        "text": f"{moved} moved to suit; drawn to scale"
        if moved
        else "from the nominal size; drawn to scale",
        "wide": True,
    }


def _um(mm: Fraction) -> float:
    return round(float(mm * 1000), 4)


# ---- the lines for what was typed in inches ----------------------------------------------------------------


def reworked(case: Case, outcome: Outcome) -> Outcome | None:
    """The working with a first line for each size typed in inches; None where none was."""
    steps = [
        _inch_step(label, exact(case.inputs[name]))
        for name, label in LENGTHS.items()
        if case.entered.get(name, "").strip() and shown_unit(case, name) == "inch"
    ]
    return replace(outcome, working=(*steps, *outcome.working)) if steps else None


def _inch_step(label: str, mm: Fraction) -> Step:
    return Step(
        label=f"{label}, in millimetres",
        formula="inches × 25.4",
        figures=f"{figure_text(mm / measures.MILLIMETRES['in'])} × 25.4",
        value=size_text(mm),
        unit="mm",
        source=BY_INCHES,
    )
