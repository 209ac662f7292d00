"""The command that lists every calculation, prints what one asks for, and works it out; no database."""

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from calc import answers
from calc.answers.shapes import Case
from calc.calculation import Calculation, Input
from calc.entries import EntryErrors, limits_text, plain_json, read_entries, worked_json
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange
from calc.kernel.working import Outcome
from calc.registry import catalogue, get

#: What a bare number of each kind means, for the list of inputs.
KINDS = {
    "count": "a count",
    "angle": "an angle, degrees unless it says otherwise",
    "length": "a length, inches unless --unit or the entry says otherwise",
    "pitch": "a diametral pitch, always to the inch",
    "module": "a module, millimetres",
    "number": "a bare figure",
    "symbol": "a symbol, letters and figures",
    "circles": "circles: commas on one face, a stroke between faces",
    "counts": "counts with commas between",
    "choice": "a choice",
    "thread": "a thread with its series",
    "taper": "a taper by its name",
    "rate": "a rate on the diameter, with what it is on: 1:20, 0.6 in/ft",
    "drill": "a drill by number, letter or size",
    "drills": "drills with commas, and runs of them: #1 to #60",
    "lengths": "lengths with commas; a bare one takes the unit written after it in the list",
    "torque": "a torque, N m unless it says otherwise: lbf ft, lbf in",
    "power": "a power, W unless it says otherwise: kW, hp",
    "stress": "a stress, MPa unless it says otherwise: psi, tonf/in² of 2,240 lb",
    "rpm": "turns a minute",
    "speed": "a cutting speed, m/min unless it says otherwise: ft/min",
    "expansion": "an expansion, per °C unless it says otherwise",
    "scale": "a scale: 1:6, 3 in to the foot",
    "mass": "a mass, kg unless it says otherwise; a ton is of 2,240 lb",
    "density": "a density, kg/m³ unless it says otherwise",
    "contraction": "a contraction, inches to the foot of casting unless it says otherwise",
}
#: Rows shown of one list when there are others beside it; --json gives all.
ROWS_SHOWN = 12
WRONG_ENTRY, NO_SOLUTION = 2, 3


class Command(BaseCommand):
    """``calculate``, ``calculate KEY``, ``calculate KEY name=value …``."""

    help = "List what can be worked out, print what a calculation asks for, or work it out."
    requires_system_checks: Sequence[str] = []  # type: ignore[assignment]  # none: it must run without a database
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        """The key, the entries, the default unit of length, and JSON."""
        parser.add_argument("key", nargs="?", help="which calculation; left out, all are listed")
        parser.add_argument("entries", nargs="*", metavar="name=value", help="what is known; quote spaces")
        parser.add_argument("--unit", choices=["inch", "mm"], default="inch", help="of a bare length")
        parser.add_argument("--json", action="store_true", help="one JSON object in place of text")

    def handle(self, *_args: Any, **options: Any) -> None:
        """Do what the arguments ask; ends the process with 2 or 3 where there is no answer."""
        key, entries, as_json = options["key"], options["entries"], options["json"]
        if key is None:
            self._show(_list_text() if not as_json else _list_json())
            return
        calculation = get(key)
        if calculation is None:
            self._wrong(
                as_json, {"calculation": f"There is no “{key}”. There are: {', '.join(catalogue())}."}
            )
        if not entries:
            self._show(_inputs_json(calculation) if as_json else _inputs_text(calculation))
            return
        self._work_out(calculation, self._entered(calculation, entries, as_json), options["unit"], as_json)

    def _entered(self, calculation: Calculation, entries: Sequence[str], as_json: bool) -> dict[str, str]:
        entered: dict[str, str] = {}
        names = ", ".join(field.name for field in calculation.inputs)
        for entry in entries:
            name, equals, value = entry.partition("=")
            if not equals:
                advice = f"Write name=value, and quote a value with spaces in it. The names are: {names}."
                self._wrong(as_json, {entry: f"There is no = in it. {advice}"})
            if name in entered:
                self._wrong(as_json, {name: "It is entered twice. Leave one out."})
            entered[name] = value
        return entered

    def _work_out(self, calculation: Calculation, entered: dict[str, str], unit: Any, as_json: bool) -> None:
        try:
            read = read_entries(calculation, entered, unit=unit)
            outcome = calculation.function(**read.inputs)
            case = Case(inputs=read.inputs, results=outcome.results, entered=entered, unit=unit)
            outcome = answers.reworked(calculation.key, case, outcome) or outcome
        except EntryErrors as errors:
            self._wrong(as_json, errors.messages)
        except (OutOfRange, NotInTable) as error:
            self._wrong(as_json, {error.field: str(error)})
        except NoSolution as none:
            self._no_solution(as_json, none)
        if as_json:
            self._show(_dumped(worked_json(calculation, entered, read.inputs, outcome)))
        else:
            self._show(_answer_text(calculation, read.inputs, read.readings, outcome))

    def _show(self, text: str) -> None:
        self.stdout.write(text)

    def _wrong(self, as_json: bool, messages: Mapping[str, str]) -> NoReturn:
        """Say what is wrong, and end with 2; JSON names the first, text names them all."""
        if as_json:
            field, message = next(iter(messages.items()))
            self._show(_dumped({"error": {"field": field, "message": f"{field}: {message}"}}))
        for field, message in messages.items() if not as_json else ():
            self.stderr.write(f"{field}: {message}")
        sys.exit(WRONG_ENTRY)

    def _no_solution(self, as_json: bool, none: NoSolution) -> NoReturn:
        """Say that there is no answer and what would make one, and end with 3."""
        if as_json:
            self._show(_dumped({"no_solution": {"message": none.message, "would_do": list(none.would_do)}}))
        else:
            self.stderr.write("\n".join([none.message, *(f"Would do: {offer}" for offer in none.would_do)]))
        sys.exit(NO_SOLUTION)


def _dumped(value: Mapping[str, Any]) -> str:
    return json.dumps(value, ensure_ascii=False, indent=1)


def _list_text() -> str:
    width = max(map(len, catalogue()))
    return "\n".join(f"{key:<{width}}  {calculation.summary}" for key, calculation in catalogue().items())


def _list_json() -> str:
    calculations = [{"key": key, "summary": one.summary} for key, one in catalogue().items()]
    return _dumped({"calculations": calculations})


def _inputs_text(calculation: Calculation) -> str:
    lines = [f"{calculation.key}: {calculation.summary}", ""]
    width = max(len(field.name) for field in calculation.inputs)
    for field in calculation.inputs:
        lines += [
            f"  {field.name:<{width}}  {'; '.join(_facts(field))}",
            f"  {'':<{width}}  {field.help}",
        ]
    return "\n".join(lines)


def _facts(field: Input) -> list[str]:
    """Kind, limits, default and choices of one input, in words."""
    limits = limits_text(field)
    facts = [
        KINDS[field.kind],
        limits,
        f"at most {field.most}" if field.most else "",
        f"at most {field.most_to_a_face} on one face" if field.most_to_a_face else "",
        " or ".join(value for value, _ in field.choices),
        f"{field.default} unless entered" if field.default is not None else "",
        "may be left out" if field.optional else "",
    ]
    return [fact for fact in facts if fact]


def _inputs_json(calculation: Calculation) -> str:
    inputs = [
        {
            "name": field.name,
            "kind": field.kind,
            "low": plain_json(field.low),
            "high": plain_json(field.high),
            "most": field.most,
            "default": field.default,
            "optional": field.optional or field.default is not None,
            "choices": [value for value, _ in field.choices],
            "help": field.help,
        }
        for field in calculation.inputs
    ]
    return _dumped({"calculation": calculation.key, "revision": calculation.revision, "inputs": inputs})


def _answer_text(
    calculation: Calculation, inputs: dict[str, Any], readings: Mapping[str, str], outcome: Outcome
) -> str:
    """The answer as a page of text: heading, cautions, entries, results, working, sources."""
    results = plain_json(outcome.results)
    lists = [name for name, value in results.items() if isinstance(value, list) and value]
    shown = None if len(lists) == 1 else ROWS_SHOWN
    parts = [
        [calculation.title_of(inputs, readings), calculation.headline(inputs, results)],
        [f"! {caution.text}" for caution in outcome.warnings],
        ["Entered", *_pairs(readings)],
        ["Results", *_pairs(_single(results))],
        *([_words(name), *_pairs(value)] for name, value in results.items() if isinstance(value, dict)),
        *([f"{_words(name)}:", *_table(results[name], shown)] for name in lists),
        ["Working", *(line for step in outcome.working for line in _step_lines(step))],
        [f"Not here: {', '.join(empty)}"] if (empty := _empty(results)) else [],
    ]
    return "\n\n".join("\n".join(part) for part in parts if part)


def _single(results: Mapping[str, Any]) -> dict[str, Any]:
    """The results that are one figure or word each."""
    return {name: value for name, value in results.items() if not isinstance(value, list | dict)}


def _empty(results: Mapping[str, Any]) -> list[str]:
    return [_words(name) for name, value in results.items() if value == []]


def _words(name: str) -> str:
    return name.replace("_", " ").capitalize()


def _step_lines(step: Any) -> list[str]:
    value = f"{step.value} {step.unit}".strip()
    return [f"  {step.label}: {value}", f"      {step.formula}:  {step.figures}", f"      {step.source}"]


def _cell(value: Any) -> str:
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return " × ".join(map(str, value))
    return f"{value:.4f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


def _pairs(values: Mapping[str, Any]) -> Iterable[str]:
    width = max(map(len, values))
    return [f"  {_words(name):<{width}}  {_cell(value)}" for name, value in values.items()]


def _table(rows: Sequence[Mapping[str, Any]], shown: int | None) -> Iterable[str]:
    """The rows of a list under their heads, as wide as each column needs."""
    names = [name for name in rows[0] if name != "faces"]
    cells = [
        [_words(name) for name in names],
        *([_cell(row[name]) for name in names] for row in rows[:shown]),
    ]
    widths = [max(len(line[place]) for line in cells) for place in range(len(names))]
    lines = [
        "  " + "  ".join(f"{cell:>{width}}" for cell, width in zip(line, widths, strict=True))
        for line in cells
    ]
    left = len(rows) - len(rows[:shown])
    return [*lines, f"  and {left} more: --json gives all"] if left else lines
